/* verdict.h - the one rule that turns a drawn interval into words.
 *
 * Interval wholly inside the strip of what does not matter: "no change that matters" (with "real,
 * but small" when zero is outside it); else zero outside: "gain" or "loss" by the metric's declared
 * direction, "changed" without one; else "can't tell yet". Inclusion in the strip is a conservative
 * equivalence test (Schuirmann 1987, two one-sided tests). */
#ifndef LAPWING_VERDICT_H
#define LAPWING_VERDICT_H

enum direction { DIRECTION_NONE, DIRECTION_HIGHER, DIRECTION_LOWER, DIRECTION_TOWARD };

enum verdict {
    VERDICT_NO_CHANGE, /* that matters */
    VERDICT_GAIN,
    VERDICT_LOSS,
    VERDICT_CHANGED,
    VERDICT_CANNOT_TELL
};

struct verdict_reading {
    enum verdict verdict;
    int real_but_small;
};

/* Reads the interval lower .. upper of a delta, worthwhile > 0, all in the metric's unit. Bounds
 * that touch the strip's edge are inside it; a bound that touches zero leaves zero inside.
 * baseline and toward are used with DIRECTION_TOWARD only: a gain is a step nearer to the goal,
 * judged at both ends of the interval; an interval whose ends disagree, or whose end is neither
 * nearer nor farther, reads "changed".
 * VERDICT_CANNOT_TELL also when no honest reading is possible: a bound that is not finite, bounds
 * in the wrong order, a strip that is not wider than zero. A baseline or goal that is NAN reads
 * "changed". */
struct verdict_reading verdict_read(double lower, double upper, double worthwhile,
                                    enum direction direction, double baseline, double toward);

/* "gain", "loss", "no change that matters", "changed", "can't tell yet" */
const char *verdict_words(enum verdict verdict);

#endif
