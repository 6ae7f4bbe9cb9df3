/* number_text.h - numbers as a reader sees them: true minus, sign of a delta, honest digits.
 *
 * Half-widths carry two significant figures and the value the same decimals, so that the printed
 * numbers bear out what is said about them. What is not finite prints "n/a". Texts are returned by
 * value; use them inside the call they are made for.                                               */
#ifndef LAPWING_REPORT_NUMBER_TEXT_H
#define LAPWING_REPORT_NUMBER_TEXT_H

struct number_text {
    char text[64];
};

/* "3.142", "−0.31" with U+2212; decimals 0 .. 9. */
struct number_text number_text_plain(double value, int decimals);

/* A number that somebody declared: as many decimals as it has, at most 6. */
struct number_text number_text_declared(double value);

/* A plain number with its sign always shown; a value that prints as zero has none. */
struct number_text number_text_delta(double value, int decimals);

/* Decimals that give half_width two significant figures as printed (0.0996 is 0.10), 0 from 10 on.
 * fallback when half_width is not a positive number, or prints as zero even with two decimals more
 * than the fallback: such a width is rounding, and digits of it would feign precision. */
int number_text_decimals(double half_width, int fallback);

/* "± 6.1"; "± <0.1" for a width that would print as nothing, since no interval is without width;
 * "" when it is not a number. */
struct number_text number_text_width(double half_width, int fallback);

/* "+38.2 ± 6.1"; without a half-width "+38.2" at the fallback's decimals. */
struct number_text number_text_pair(double delta, double half_width, int fallback);

/* "1495 to 1504", or one number where both print the same. */
struct number_text number_text_range(double low, double high, int decimals);

/* A size of files: "21.5 MB", and below 0.1 MB "38.4 kB". bytes >= 0. */
struct number_text number_text_size(double bytes);

/* A count with narrow spaces between its thousands. */
struct number_text number_text_whole(long long value);

#endif
