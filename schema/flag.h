/* flag.h - every named refusal and warning of the program, one table row each.
 *
 * A flag never deletes: it says what was seen, against which limit, what that means and what to do
 * next. States: flagged (the number stands, look at it), failed (a rule of physics or instruments
 * keeps it out of comparisons), refused (no number could be given), info.                          */
#ifndef LAPWING_FLAG_H
#define LAPWING_FLAG_H

enum flag_state { FLAG_INFO, FLAG_FLAGGED, FLAG_FAILED, FLAG_REFUSED };

enum flag_rule {
    FLAG_RUN_QUARANTINED,
    FLAG_ZERO_AFTER_MISSING,
    FLAG_LOADS_PARTIAL,
    FLAG_ZERO_MISSING,
    FLAG_ZERO_DRIFT,
    FLAG_ZERO_EXTRAPOLATED,
    FLAG_ZERO_FIRST_POINT,
    FLAG_ZERO_WITH_WIND,
    FLAG_TARE_NOT_AT_ATTITUDE,
    FLAG_ZERO_DEPENDS_ON_YAW,
    FLAG_SCALES_WEIGHT,
    FLAG_BELT_TARE_MISSING,
    FLAG_BELT_WHEEL_LOAD,
    FLAG_OUTSIDE_TABLE,
    FLAG_UNDECLARED_CHANGE,
    FLAG_WEIGHT_NOT_TOLD,
    FLAG_TARE_RESIDUAL,
    FLAG_CALIBRATION_EXPIRED,
    FLAG_LOAD_BOX,
    FLAG_Q_UNSTEADY,
    FLAG_SAMPLES_MISSING,
    FLAG_NOT_ESTIMABLE,
    FLAG_AIR_OUT_OF_RANGE,
    FLAG_NO_FREESTREAM,
    FLAG_PRESSURES_DISAGREE,
    FLAG_BELT_SPEED,
    FLAG_AXLE_SUM,
    FLAG_BLOCKAGE_EVIDENCE,
    FLAG_BLOCKAGE_REFUSED,
    FLAG_CORRECTIONS_UNKNOWN,
    FLAG_OFF_TARGET,
    FLAG_TARGET_REFUSED,
    FLAG_NO_TARGET,
    FLAG_TAP_IMPOSSIBLE,
    FLAG_TAP_FROZEN,
    FLAG_TAP_ZERO_MISSING,
    FLAG_TAP_ZERO_SILENT,
    FLAG_TAP_ZERO_HELD,
    FLAG_POINT_IN_ONE_LOG,
    FLAG_BALANCE_UNDEFINED,
    FLAG_UNBRACKETED,
    FLAG_NOT_REFITTED,
    FLAG_ATTITUDE_NOT_MEASURED,
    FLAG_DUPLICATE_LOG,
    FLAG_RUNS_OVERLAP,
    FLAG_LOG_UNTERMINATED,
    FLAG_TIME_MISSING,
    FLAG_SENTINEL_SUSPECTED,
    FLAG_TIME_GAPS,
    FLAG_ROWS_OUTSIDE_POINTS,
    FLAG_IMPLAUSIBLE,
    FLAG_STUCK,
    FLAG_CLIPPED,
    FLAG_SPIKES,
    FLAG_TREND,
    FLAG_Q_TREND,
    FLAG_NOISE_UNUSUAL,
    FLAG_CONSTANT,
    FLAG_SLOW_RESPONSE,
    FLAG_LATE_CHANNEL,
    FLAG_UNIT_SUSPECTED,
    FLAG_CHANNELS_SWAPPED,
    FLAG_LEVEL_UNUSUAL,
    FLAG_RUN_DIFFERS,
    FLAG_BALANCE_TEMPERATURE,
    FLAG_SCANNER_TEMPERATURE,
    FLAG_POINT_EXCLUDED,
    FLAG_POINT_RESTORED,
    FLAG_DECISION_WITHOUT_EFFECT,
    FLAG_VERDICT_RESTS_ON_EXCLUSION,
    FLAG_HEIGHT_SENSOR_SILENT,
    FLAG_RIDE_HEIGHTS_MISSING,
    FLAG_HEIGHTS_DISAGREE,
    FLAG_CONTENTS_DIFFER,
    FLAG_CELLS_WITHOUT_TARE,
    FLAG_TRACK_MISSING,
    FLAG_BALANCE_NO_LOADS,
    FLAG_BEYOND_CALIBRATION,
    FLAG_REYNOLDS_UNMEASURED,
    FLAG_YAW_OFFSET,
    FLAG_STANDARD_ERROR,
    FLAG_CORRECTION_LARGE,
    FLAG_BRACKET_WIDE,
    FLAG_FEW_DEGREES,
    FLAG_ESTIMATES_DISAGREE,
    FLAG_NOISE_BORROWED,
    FLAG_NEAR_STALL,
    FLAG_BEYOND_TEMPERATURE,
    FLAG_STATED_UNCERTAINTY_TOO_SMALL,
    FLAG_STATED_UNCERTAINTY_TOO_LARGE,
    FLAG_SERIES_SHIFT,
    FLAG_NOISE_UNLIKE_SEASON,
    FLAG_BUDGET_UNLIKE_SCATTER,
    FLAG_RULE_COUNT
};

struct flag_row {
    const char *code;        /* "zero-drift": stable, printed, greppable */
    enum flag_state state;   /* the state it sets */
    const char *sentence;    /* what was seen, in words */
    const char *consequence; /* what that does to the numbers */
    const char *action;      /* the one next thing to do */
};

const struct flag_row *flag_row(enum flag_rule rule);
const char *flag_state_name(enum flag_state state);

/* The rule with this code; FLAG_RULE_COUNT when there is none, or for NULL. */
enum flag_rule flag_rule_from_code(const char *code);

#endif
