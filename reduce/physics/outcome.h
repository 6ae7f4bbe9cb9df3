/* outcome.h - how a step of physics ends: with a number, or with the reason why there is none.
 *
 * Physics never prints and never guesses; the stage that called it turns an outcome into a flag with
 * the run and the point named.                                                                     */
#ifndef LAPWING_OUTCOME_H
#define LAPWING_OUTCOME_H

enum outcome {
    OUTCOME_OK,
    OUTCOME_NOT_FINITE,     /* an input is NAN or infinite */
    OUTCOME_AIR_RANGE,      /* pressure, temperature or humidity is not air's */
    OUTCOME_NO_WIND,        /* total pressure not above static, or q not positive */
    OUTCOME_TOO_FAST,       /* Mach number beyond the method's 0.6 */
    OUTCOME_GEOMETRY,       /* a length, area or volume it needs is missing or not positive */
    OUTCOME_BLOCKAGE_RANGE, /* blockage beyond the family's evidence: no number */
    OUTCOME_UNKNOWN_FAMILY, /* no blockage family of that name */
    OUTCOME_SINGULAR,       /* a fit or inverse has no unique answer */
    OUTCOME_TOO_FEW,        /* fewer data than unknowns */
    OUTCOME_OUTSIDE,        /* a place is outside those that were measured */
    OUTCOME_NO_CONVERGENCE, /* an iteration doesn't settle within its cap, or need not */
    OUTCOME_NO_LOADS,       /* an iteration runs away: nothing near gives what was measured */
    OUTCOME_NO_MEMORY,      /* an allocation failed */
    OUTCOME_NO_ROOT,    /* the equation has no real solution: the inputs contradict the method */
    OUTCOME_UNMEASURED, /* asked for outside the range that was measured */
    OUTCOME_COUNT
};

/* One sentence, without place: "total pressure is not above static pressure". */
const char *outcome_sentence(enum outcome outcome);

#endif
