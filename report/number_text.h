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

/* The same with its sign always shown; a value that prints as zero has none. */
struct number_text number_text_delta(double value, int decimals);

/* Decimals that give half_width two significant figures as printed (0.0996 is 0.10), 0 from 10 on.
 * fallback when half_width is not a positive number. */
int number_text_decimals(double half_width, int fallback);

/* "+38.2 ± 6.1"; without a half-width "+38.2" at the fallback's decimals. */
struct number_text number_text_pair(double delta, double half_width, int fallback);

/* A count with narrow spaces between its thousands. */
struct number_text number_text_whole(long long value);

#endif
