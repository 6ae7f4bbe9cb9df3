/* scratch.h - a folder under /tmp for one test. */
#ifndef LAPWING_SCRATCH_H
#define LAPWING_SCRATCH_H

#include <stddef.h>

enum { SCRATCH_PATH = 64 };

/* Makes a new folder; its path goes to folder. 0 when it cannot. */
int scratch_make(char folder[SCRATCH_PATH]);

/* Removes the folder and everything in it. */
void scratch_remove(const char *folder);

/* Writes text as folder/name. 0 when it cannot. */
int scratch_write(const char *folder, const char *name, const char *text);

/* Reads folder/name whole; the caller frees. NULL when it cannot. */
char *scratch_read(const char *folder, const char *name);

/* Turns the first (or every) from in folder/name into to. 0 when there is none, or it cannot. */
int scratch_edit(const char *folder, const char *name, const char *from, const char *to);
int scratch_edit_all(const char *folder, const char *name, const char *from, const char *to);

/* Replaces the first `from` of a text file of the folder. 1, or 0 where it is not there. */
int scratch_replace(const char *folder, const char *name, const char *from, const char *to);

#endif
