/* point_checks.c - flags of a point; see point_checks.h. */
#include "reduce/point_checks.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/physics/tunnel_freestream.h"
#include "reduce/point_spread.h"

enum { BALANCE_UNCERTAINTIES = 5, AXLE_UNCERTAINTIES = 3 };

static const double missing_share_limit = 0.01;
static const double pressure_share_limit = 0.01;
static const double axle_share_limit = 0.002; /* of the downforce */

static void say(struct flag_note *note, double value, double limit, const char *unit)
{
    note->value = value;
    note->limit = limit;
    note->unit = unit;
}

static struct flag_note begin(enum flag_rule rule, const struct run_work *work,
                              const struct reduced_point *made, const char *subject)
{
    return flag_note_make(rule, work->run->run, made->point->point, subject);
}

/* The channel that misses most; taps have a flag of their own. */
static int check_samples(const struct run_work *work, const struct reduced_point *made,
                         struct flag_note *note)
{
    double worst = 0;
    size_t channel = 0;
    for (size_t i = 0; i < work->data.n_channels; i++) {
        const struct channel_statistics *s = &made->point->channels[i];
        double share = s->n_missing / (s->n + s->n_missing);
        if (work->data.channels[i].role == ROLE_TAP || !(share > worst))
            continue;
        worst = share;
        channel = i;
    }
    if (!(worst > missing_share_limit))
        return 0;
    const struct channel_statistics *s = &made->point->channels[channel];
    *note = begin(FLAG_SAMPLES_MISSING, work, made, work->data.channels[channel].column);
    say(note, worst, missing_share_limit, "1");
    (void)snprintf(note->detail, sizeof note->detail,
                   "%.0f of %.0f samples of '%.80s' are missing, limit %g %%", s->n_missing,
                   s->n + s->n_missing, work->data.channels[channel].column,
                   100 * missing_share_limit);
    return 1;
}

static int check_wind(const struct run_work *work, const struct reduced_point *made,
                      struct flag_note *note)
{
    double limit = work->night->campaign->limits.q_unsteady;
    double deviation = point_wind_spread(work, made->point).deviation;
    if (!(deviation > limit) || !(limit > 0))
        return 0;
    *note = begin(FLAG_Q_UNSTEADY, work, made, "q");
    say(note, deviation, limit, "1");
    (void)snprintf(note->detail, sizeof note->detail,
                   "the wind's pressure has a standard deviation of %.2f %% within the point, "
                   "limit %.2f %%",
                   100 * deviation, 100 * limit);
    return 1;
}

static int check_air(const struct run_work *work, const struct reduced_point *made,
                     struct flag_note *note)
{
    const struct tunnel_freestream *wind = &made->result.freestream;
    if (wind->air_in_range || isnan(wind->density))
        return 0;
    *note = begin(FLAG_AIR_OUT_OF_RANGE, work, made, "rho");
    (void)snprintf(note->detail, sizeof note->detail,
                   "static pressure %.0f Pa at %.2f K is outside 60000 .. 110000 Pa and "
                   "288.15 .. 300.15 K",
                   wind->static_pressure, wind->static_temperature);
    return 1;
}

static enum flag_rule refusal_rule(enum outcome outcome)
{
    static const enum flag_rule rules[OUTCOME_COUNT] = {
        [OUTCOME_OK] = FLAG_NO_FREESTREAM,
        [OUTCOME_NOT_FINITE] = FLAG_NO_FREESTREAM,
        [OUTCOME_AIR_RANGE] = FLAG_AIR_OUT_OF_RANGE,
        [OUTCOME_NO_WIND] = FLAG_NO_FREESTREAM,
        [OUTCOME_TOO_FAST] = FLAG_NO_FREESTREAM,
        [OUTCOME_GEOMETRY] = FLAG_BLOCKAGE_REFUSED,
        [OUTCOME_BLOCKAGE_RANGE] = FLAG_BLOCKAGE_REFUSED,
        [OUTCOME_UNKNOWN_FAMILY] = FLAG_BLOCKAGE_REFUSED,
        [OUTCOME_SINGULAR] = FLAG_NO_FREESTREAM,
        [OUTCOME_TOO_FEW] = FLAG_NO_FREESTREAM,
        [OUTCOME_OUTSIDE] = FLAG_NO_FREESTREAM,
        [OUTCOME_NO_CONVERGENCE] = FLAG_BALANCE_NO_LOADS,
        [OUTCOME_NO_LOADS] = FLAG_BALANCE_NO_LOADS,
        [OUTCOME_NO_MEMORY] = FLAG_NO_FREESTREAM,
        [OUTCOME_NO_ROOT] = FLAG_BLOCKAGE_REFUSED,
        [OUTCOME_UNMEASURED] = FLAG_BLOCKAGE_REFUSED,
    };
    return rules[outcome];
}

/* The facility's coefficients stand without a wind; what there is none of, and why, is said. */
static int check_unneeded_wind(const struct run_work *work, const struct reduced_point *made,
                               struct flag_note *note)
{
    enum outcome wind = made->result.wind;
    int taps_lose =
        run_data_channel(&work->data, ROLE_TAP) >= 0 && !work->recipe.tunnel.taps_are_coefficients;
    if (work->recipe.tunnel.source != LOADS_AS_COEFFICIENTS || wind == OUTCOME_OK ||
        (wind == OUTCOME_NOT_FINITE && !taps_lose))
        return 0;
    *note = begin(refusal_rule(wind), work, made, "rho");
    note->state = FLAG_FLAGGED;
    (void)snprintf(note->detail, sizeof note->detail,
                   "%s: what follows from it is not given; the facility's coefficients do not need "
                   "it",
                   outcome_sentence(wind));
    return 1;
}

static int check_pressures(const struct run_work *work, const struct reduced_point *made,
                           struct flag_note *note)
{
    const struct tunnel_inputs *inputs = &made->inputs;
    double share = tunnel_pressure_disagreement(inputs);
    if (!(fabs(share) > pressure_share_limit))
        return 0;
    *note = begin(FLAG_PRESSURES_DISAGREE, work, made, "p0-p");
    say(note, share, pressure_share_limit, "1");
    (void)snprintf(
        note->detail, sizeof note->detail,
        "p0 is %.1f Pa, p %.1f Pa: %.1f Pa between them, but %.1f Pa is measured as their "
        "difference, %+.1f %% apart, limit %g %%",
        inputs->total_pressure, inputs->static_pressure,
        inputs->total_pressure - inputs->static_pressure, inputs->total_minus_static, 100 * share,
        100 * pressure_share_limit);
    return 1;
}

/* Three numbers of the facility of which one is the sum of the others. */
static int check_axle_sum(const struct run_work *work, const struct reduced_point *made,
                          struct flag_note *note)
{
    static const double weights[] = {1, -1, -1};
    const int channels[] = {run_data_channel(&work->data, ROLE_DOWNFORCE_COEFFICIENT),
                            run_data_channel(&work->data, ROLE_DOWNFORCE_FRONT_COEFFICIENT),
                            run_data_channel(&work->data, ROLE_DOWNFORCE_REAR_COEFFICIENT)};
    const double *given = made->inputs.facility_coefficient;
    if (work->recipe.tunnel.source != LOADS_AS_COEFFICIENTS || channels[0] < 0 || channels[1] < 0 ||
        channels[2] < 0)
        return 0;
    double front = given[COEFFICIENT_CLF], rear = given[COEFFICIENT_CLR];
    double total = given[COEFFICIENT_CL], miss = total - (front + rear);
    double noise = AXLE_UNCERTAINTIES * point_sum_error(work, made->point, channels, weights, 3);
    double limit = fmax(axle_share_limit * fabs(total), noise);
    if (!(fabs(miss) > limit))
        return 0;
    *note = begin(FLAG_AXLE_SUM, work, made, "CL");
    say(note, miss, limit, "1");
    (void)snprintf(
        note->detail, sizeof note->detail,
        "CL is %.4f, CLF %.4f and CLR %.4f add up to %.4f: %+.4f between them, limit %.4f", total,
        front, rear, front + rear, miss, limit);
    return 1;
}

static int check_blockage(const struct run_work *work, const struct reduced_point *made,
                          struct flag_note *note)
{
    const struct tunnel_recipe *recipe = &work->recipe.tunnel;
    double share = recipe->reference_area / (recipe->section_width * recipe->section_height);
    if (!made->result.blockage_beyond_evidence)
        return 0;
    *note = begin(FLAG_BLOCKAGE_EVIDENCE, work, made, "q_c/q");
    say(note, share, (double)NAN, "1");
    const struct blockage_family *family = blockage_family(recipe->blockage);
    (void)snprintf(
        note->detail, sizeof note->detail,
        "reference area is %.1f %% of the section, q_c/q %.4f by '%s'; it is known to hold "
        "for: %s",
        100 * share, made->result.q_ratio, recipe->blockage,
        family == NULL ? "" : family->evidence);
    return 1;
}

/* The gradient itself, or none, far from both that were measured. */
static int check_gradient(const struct run_work *work, const struct reduced_point *made,
                          struct flag_note *note)
{
    const struct facility *facility = work->recipe.facility;
    if (!work->recipe.gradient_beyond)
        return 0;
    const double *measured = facility->boundary.gradients.gradient.value;
    *note = begin(FLAG_BLOCKAGE_EVIDENCE, work, made, "dCp/dx");
    say(note, facility->pressure_gradient, (double)NAN, "1/m");
    (void)snprintf(note->detail, sizeof note->detail,
                   "two gradients %.4g and %.4g 1/m were measured; from %.4g to 0 1/m is farther "
                   "outside them than they are apart",
                   measured[0], measured[1], facility->pressure_gradient);
    return 1;
}

static int check_reynolds(const struct run_work *work, const struct reduced_point *made,
                          struct flag_note *note)
{
    const struct reynolds_choice *choice = &work->recipe.tunnel.reynolds;
    int i = 0;
    if (!made->result.reynolds_unmeasured)
        return 0;
    while (i < CARRIED - 1 && !choice->has[i])
        i++;
    *note = begin(FLAG_REYNOLDS_UNMEASURED, work, made, "Re");
    say(note, made->result.freestream.reynolds, (double)NAN, "1");
    (void)snprintf(note->detail, sizeof note->detail,
                   "Re is %.4g, the reference %.4g; the sweep reaches from %.4g to %.4g",
                   made->result.freestream.reynolds, choice->to, pow(10.0, choice->fit[i].lowest),
                   pow(10.0, choice->fit[i].highest));
    return 1;
}

int point_balance_undefined(const struct reduced_point *made)
{
    double downforce = fabs(made->result.corrected[COEFFICIENT_CL]);
    double u = made->spread.coefficient[COEFFICIENT_CL];
    return downforce == 0 || downforce < BALANCE_UNCERTAINTIES * u;
}

static int check_balance(const struct run_work *work, const struct reduced_point *made,
                         struct flag_note *note)
{
    if (!made->balance_undefined)
        return 0;
    double u = made->spread.coefficient[COEFFICIENT_CL];
    double downforce = made->result.corrected[COEFFICIENT_CL];
    *note = begin(FLAG_BALANCE_UNDEFINED, work, made, "balance");
    note->state = FLAG_FLAGGED; /* the point has its number, only the ratio has none */
    say(note, downforce, isnan(u) ? 0 : BALANCE_UNCERTAINTIES * u, "1");
    (void)snprintf(note->detail, sizeof note->detail,
                   "CL is %.4f, less than %d standard uncertainties of %.5f", downforce,
                   (int)BALANCE_UNCERTAINTIES, isnan(u) ? 0 : u);
    return 1;
}

static int check_estimable(const struct run_work *work, const struct reduced_point *made,
                           struct flag_note *note)
{
    if (!made->spread_is_guess && !made->spread_unknown)
        return 0;
    *note = begin(FLAG_NOT_ESTIMABLE, work, made, "");
    (void)snprintf(note->detail, sizeof note->detail, "%s",
                   made->spread_unknown
                       ? "a load or the wind's pressure has no standard deviation: no uncertainty"
                       : "effective samples are not estimable: the standard deviation itself is "
                         "given as the uncertainty");
    return 1;
}

point_check *const point_checks[] = {check_samples,
                                     check_wind,
                                     check_air,
                                     check_unneeded_wind,
                                     check_belt_speed,
                                     check_pressures,
                                     check_axle_sum,
                                     check_wheel_sum,
                                     check_heights_missing,
                                     check_height_silent,
                                     check_height_residual,
                                     check_height_log,
                                     check_load_box,
                                     check_calibration_box,
                                     check_calibration_temperature,
                                     check_blockage,
                                     check_gradient,
                                     check_reynolds,
                                     check_correction_size,
                                     check_balance,
                                     check_estimable,
                                     check_standard_error,
                                     NULL};

static int has_finite(const double *value, int n)
{
    for (int i = 0; i < n; i++)
        if (isfinite(value[i]))
            return 1;
    return 0;
}

/* A load channel without samples is told apart from a missing wind: no loads were transferred. */
static int loads_are_missing(const struct run_work *work, const struct reduced_point *made)
{
    if (made->outcome != OUTCOME_NOT_FINITE || work->recipe.tunnel.source == LOADS_NONE)
        return 0;
    if (work->recipe.tunnel.source == LOADS_AS_COEFFICIENTS)
        return !has_finite(made->result.raw, COEFFICIENTS);
    return !has_finite(made->result.transferred, LOAD_COUNT);
}

/* A family of blockage corrections that needs a drag, at a point that has none. */
static int blockage_lacks_drag(const struct reduced_point *made)
{
    int is_past_wind =
        made->result.wind == OUTCOME_OK || has_finite(made->result.raw, COEFFICIENTS);
    return made->outcome == OUTCOME_NOT_FINITE && is_past_wind &&
           isnan(made->result.buoyancy[COEFFICIENT_CD]);
}

/* A tap of the base or the walls without a value. */
static int boundary_tap_is_silent(const struct run_work *work, const struct reduced_point *made)
{
    const struct boundary_taps *taps = &work->taps;
    if (made->outcome != OUTCOME_NOT_FINITE)
        return 0;
    if (taps->n_base > 0)
        return isnan(made->inputs.base_cp) && isnan(made->inputs.base_pressure);
    for (size_t i = 0; i < taps->n_wall; i++)
        if (!isfinite(taps->value[i]))
            return 1;
    return 0;
}

/* Loads that must be turned, at a point without a yaw. */
static int yaw_is_missing(const struct run_work *work, const struct reduced_point *made)
{
    return work->recipe.tunnel.stays_with_tunnel && isnan(made->inputs.yaw) &&
           has_finite(made->result.tared, LOAD_COUNT);
}

static double area_share(const struct tunnel_recipe *recipe)
{
    return recipe->reference_area / (recipe->section_width * recipe->section_height);
}

static int car_is_too_large(const struct run_work *work, const struct reduced_point *made)
{
    return made->outcome == OUTCOME_BLOCKAGE_RANGE &&
           area_share(&work->recipe.tunnel) >= BLOCKAGE_REFUSED_FROM;
}

void point_refusal(const struct run_work *work, const struct reduced_point *made,
                   struct flag_note *note)
{
    if (yaw_is_missing(work, made)) {
        *note = begin(FLAG_SAMPLES_MISSING, work, made, "yaw");
        note->state = FLAG_REFUSED;
        (void)snprintf(
            note->detail, sizeof note->detail,
            "the yaw has no samples, and the balance does not follow it: its loads cannot "
            "be turned into the car's axes");
        return;
    }
    if (cell_refusal(work, made, note))
        return;
    int no_loads = loads_are_missing(work, made);
    if (!no_loads && blockage_lacks_drag(made)) {
        *note = begin(FLAG_BLOCKAGE_REFUSED, work, made, "q_c/q");
        (void)snprintf(note->detail, sizeof note->detail,
                       "'%s' needs the drag, which is not measured; choose another family",
                       work->recipe.tunnel.blockage);
        return;
    }
    if (!no_loads && car_is_too_large(work, made)) {
        *note = begin(FLAG_BLOCKAGE_REFUSED, work, made, "q_c/q");
        (void)snprintf(note->detail, sizeof note->detail,
                       "reference area is %.1f %% of the section, limit %.0f %%: from there on the "
                       "families differ by more than they correct; check reference_area, width and "
                       "height",
                       100.0 * area_share(&work->recipe.tunnel), 100.0 * BLOCKAGE_REFUSED_FROM);
        return;
    }
    if (!no_loads && boundary_tap_is_silent(work, made)) {
        *note = begin(FLAG_BLOCKAGE_REFUSED, work, made, "taps");
        (void)snprintf(note->detail, sizeof note->detail,
                       "a tap that '%s' reads has no value at this point or in its zero",
                       work->recipe.tunnel.blockage);
        return;
    }
    enum flag_rule rule = no_loads ? FLAG_SAMPLES_MISSING : refusal_rule(made->outcome);
    *note = begin(rule, work, made, no_loads ? "loads" : "");
    note->state = FLAG_REFUSED;
    (void)snprintf(note->detail, sizeof note->detail, "%s%s",
                   no_loads ? "a load of the point or of its zero has no samples: " : "",
                   outcome_sentence(made->outcome));
}
