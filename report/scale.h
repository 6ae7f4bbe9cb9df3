/* scale.h - from data to place on the page, and where the ticks go.
 *
 * Linear only. A scale may run either way: start > end draws upwards, from > to reverses the axis
 * (suction up). Ticks sit on multiples of 1, 2 or 5 times a power of ten.                          */
#ifndef LAPWING_REPORT_SCALE_H
#define LAPWING_REPORT_SCALE_H

struct scale {
    double from, to;   /* data at both ends, from != to */
    double start, end; /* the same ends on the page */
};

/* A scale; equal or non-finite data ends are opened by one half each way, so that one measured
 * value can still be drawn. */
/* 1 for what can be drawn and written: finite, and below 1e15 in size as in number_text.h. What is not is
 * passed over by scales as a missing value is. */
int scale_takes(double value);

/* Widens a range, begun as INFINITY and -INFINITY, to hold a value. */
void scale_widen(double value, double *low, double *high);

struct scale scale_make(double from, double to, double start, double end);

/* Page coordinate of a value; NAN for NAN. Not clipped. */
double scale_at(const struct scale *scale, double value);

enum { SCALE_TICKS_MAX = 16 };

struct ticks {
    double value[SCALE_TICKS_MAX];
    int n;
    int decimals; /* that tell neighbours apart */
    double step;
};

/* Ticks within the scale's data range, in increasing value, about wanted of them (2 .. 12). */
struct ticks scale_ticks(const struct scale *scale, int wanted);

/* The smallest 1, 2 or 5 times a power of ten that is not below width; width > 0. */
double scale_nice_step(double width);

/* Widens low .. high to whole steps of about 1/wanted of it, so that data never touch the frame. */
void scale_nice_range(double *low, double *high, int wanted);

#endif
