/* program.h - runs the built program as a user would, for tests from the outside.
 *
 * The paths of lapwing and of the demo's generator come from the environment (LAPWING, MAKE_NIGHT),
 * which `make check` sets; tests run from the top of the tree.                                     */
#ifndef LAPWING_TEST_PROGRAM_H
#define LAPWING_TEST_PROGRAM_H

#include <stddef.h>

enum { PROGRAM_OUTPUT = 65536 };

/* Runs a shell command made by format; its output and errors land in out (PROGRAM_OUTPUT bytes).
 * Gives the exit status, -1 when it could not be run or was killed. */
int program_shell(char *out, const char *format, ...) __attribute__((format(printf, 2, 3)));

const char *program_lapwing(void);
const char *program_make_night(void);

/* The same from any folder, for commands that are run elsewhere; 0 when it does not fit. */
int program_lapwing_anywhere(char path[256]);

/* A new folder below /tmp into path (64 bytes); 0 when it could not be made. */
int program_scratch(char path[64]);
void program_remove(const char *path);

/* A demo night with few rows a point in a new folder, its files old enough for their stamps to be
 * trusted; 0 on failure. */
int program_demo_night(char path[64], unsigned seed);

#endif
