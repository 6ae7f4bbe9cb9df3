/* check.h - assertions that say what was got, what was wanted, and whose number that is. */
#ifndef LAPWING_CHECK_H
#define LAPWING_CHECK_H

#include <stddef.h>

/* got within tolerance of want (absolute); NAN never is. source: author, title, year, table - or
 * "identity", "common practice", "from memory", "invented". */
void check_near(double got, double want, double tolerance, const char *source, const char *text,
                const char *file, int line);
void check_true(int ok, const char *text, const char *file, int line);
void check_text(const char *got, const char *want, const char *text, const char *file, int line);
/* haystack contains needle; both are printed when not */
void check_contains(const char *haystack, const char *needle, const char *text, const char *file,
                    int line);
/* status OK, else prints the fault */
struct fault;
void check_ok(int status, const struct fault *fault, const char *text, const char *file, int line);

#define CHECK_NEAR(got, want, tolerance, source) \
    check_near((got), (want), (tolerance), (source), #got, __FILE__, __LINE__)
#define CHECK_RELATIVE(got, want, relative, source)                                         \
    check_near((got), (want), (relative) * ((want) < 0 ? -(want) : (want)), (source), #got, \
               __FILE__, __LINE__)
#define CHECK(ok) check_true((ok), #ok, __FILE__, __LINE__)
#define CHECK_TEXT(got, want) check_text((got), (want), #got, __FILE__, __LINE__)
#define CHECK_CONTAINS(haystack, needle) \
    check_contains((haystack), (needle), #haystack, __FILE__, __LINE__)
#define CHECK_OK(status, fault) check_ok((int)(status), (fault), #status, __FILE__, __LINE__)

#endif
