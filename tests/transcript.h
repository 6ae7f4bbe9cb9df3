/* transcript.h - the commands of a page of the manual, run again, and their output held to the page. */
#ifndef LAPWING_TEST_TRANSCRIPT_H
#define LAPWING_TEST_TRANSCRIPT_H

/* Runs every command of the page (lines indented by four blanks that begin with "$ ", and go on after a
 * backslash at the end) with sh in folder, where `lapwing` is the program under test. The indented lines
 * after it are its whole output, in order; a line "..." stands for any number of lines, even none. Blanks
 * at the ends of lines do not count. What differs is a failed check. Gives the commands that were run. */
int transcript_replay(const char *page, const char *folder);

#endif
