/* version.h - the program's version, for `lapwing --version` and for what says how it was made. */
#ifndef LAPWING_VERSION_H
#define LAPWING_VERSION_H

const char *version_text(void); /* "0.1.0" */

#endif
