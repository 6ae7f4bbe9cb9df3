/* number.h - decimal text to double by a closed grammar, without the locale.
 *
 *   [+-] digits [ . digits ] [ (e|E) [+-] digits ]      at least one digit in the mantissa
 *
 * Correctly rounded. No hexadecimal, no "nan" or "inf", no thousands separators, no blanks; all of
 * these are the caller's to handle or refuse by name. strtod() obeys LC_NUMERIC and takes all of
 * them, which is why it is not used on outside text.                                               */
#ifndef LAPWING_NUMBER_H
#define LAPWING_NUMBER_H

#include <stddef.h>

enum number_outcome {
    NUMBER_OK,
    NUMBER_EMPTY,     /* no characters */
    NUMBER_MALFORMED, /* not the grammar above; *stop tells where */
    NUMBER_OVERFLOW   /* beyond the largest double */
};

/* Reads exactly the length characters at text, with decimal_mark '.' or ','. On NUMBER_MALFORMED
 * *stop (may be NULL) is the offset of the first character that does not fit. */
enum number_outcome number_parse(const char *text, size_t length, char decimal_mark, double *value,
                                 size_t *stop);

/* Shortest text that reads back as the same double, '.' as mark, at least 25 bytes in out;
 * "-0" prints as "0". Gives the length. Never called with NAN or infinities: those print "n/a". */
int number_print(double value, char *out, size_t size);

/* Fixed decimals, '.' as mark whatever the locale; U+2212 and signs are the page's business. */
int number_print_fixed(double value, int decimals, char *out, size_t size);

#endif
