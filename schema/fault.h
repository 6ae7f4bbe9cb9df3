/* fault.h - the one way a failure travels: a status, a place, and a sentence.
 *
 * A fault is filled once where the cause is known; callers may add one line of place on the way up;
 * only main() prints it. The struct has fixed size, so reporting a failure cannot itself fail.
 * Refusals that belong to the science (a point left at its attained height, a dead tap) are not
 * faults: they are flags in the store.                                                             */
#ifndef LAPWING_FAULT_H
#define LAPWING_FAULT_H

#include <stddef.h>

enum status {
    OK = 0,
    BAD_INPUT,    /* the user's file or request is wrong; nothing was done with it */
    NOT_FOUND,    /* a file, run, point or name that does not exist */
    NO_RESULT,    /* inputs are fine, but no number can be given */
    NO_MEMORY,    /* an allocation failed */
    STORE_FAILED, /* SQLite refused a step */
    WRITE_FAILED  /* an output could not be written in full */
};

struct fault {
    enum status status;
    char where[256]; /* the user's place: file:line:column, or run/point/channel */
    char text[640];  /* what was seen; the limit; what to do */
    char source[96]; /* our own file:line, for a bug report */
};

/* Fills *fault (NULL is allowed) with a formatted sentence; always ends in a NUL. A character that a
 * precision or the end of the room cut in two is left out, here and in fault_where(). */
void fault_set(struct fault *fault, enum status status, const char *file, int line,
               const char *format, ...) __attribute__((format(printf, 5, 6)));

/* Sets the user's place, when it is still empty: the innermost caller that knows it wins. */
void fault_where(struct fault *fault, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Writes "where: text" into out (size bytes, always ended); just the text when no place is known. What
 * would command a terminal is shown instead: \x1b, \u202e, and \xe9 for a byte that is not UTF-8. */
void fault_line(const struct fault *fault, char *out, size_t size);

/* The exit status of a program that ends with this status: 0 done, 2 request or campaign wrong,
 * 3 storage, memory or internal failure. (1, "some runs quarantined", is not a fault.) */
int fault_exit_code(enum status status);

/* Fills the fault and gives the status. It ends in the constant (s) on purpose: with a function's
 * result instead, clang's analyser cannot see that failure is not OK. */
#define FAIL(f, s, ...) (fault_set((f), (s), __FILE__, __LINE__, __VA_ARGS__), (s))

#endif
