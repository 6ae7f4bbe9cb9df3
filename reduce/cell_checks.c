/* cell_checks.c - wheel loads against the balance they are part of; see point_checks.h. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/point_checks.h"
#include "reduce/point_spread.h"

enum { WHEELS = 4, SUM_UNCERTAINTIES = 3 };

static const double wheel_share_limit = 0.002; /* of the downforce */

/* Downforces of the wheels at the point, N; 0 when one of them is not known. */
static int read_wheels(const struct run_work *work, const struct reduced_point *made,
                       double load[WHEELS], int channel[WHEELS])
{
    const struct zeros *zeros = &work->zeros;
    for (int i = 0; i < WHEELS; i++) {
        enum role role = (enum role)((int)ROLE_WHEEL_LOAD_FRONT_LEFT + i);
        double zero = 0;
        channel[i] = run_data_channel(&work->data, role);
        if (channel[i] < 0)
            return 0;
        if (zeros->choice.kind >= ZERO_KIND_CONSTANT)
            zero = run_data_mean(&zeros->before.data, zeros->before.point, role);
        if (zeros->choice.kind == ZERO_KIND_LINEAR)
            zero += zeros_fraction(zeros, made->point->time) *
                    (run_data_mean(&zeros->after.data, zeros->after.point, role) - zero);
        load[i] = made->point->channels[channel[i]].mean - zero;
        if (!isfinite(load[i]))
            return 0;
    }
    return 1;
}

/* Loads that are inside the balance's: what all of a car on its wheels weighs on the air. With a weight
 * tare the two are tared at different places, so they are not compared. */
static int is_comparable(const struct run_work *work)
{
    const struct facility *facility = work->recipe.facility;
    return facility->stands_on_wheels && !(facility->added_cells & (unsigned)CELLS_WHEEL_LOADS) &&
           work->recipe.tunnel.source != LOADS_AS_COEFFICIENTS &&
           work->tare.choice.kind == TARE_KIND_NONE;
}

/* The whole downforce, then the front axle's: of the wheels, of the balance, its uncertainty. */
struct wheel_sum {
    const char *words;
    double wheels, balance, u;
};

static int disagrees(const struct run_work *work, const struct reduced_point *made,
                     const struct wheel_sum *sum, double downforce, const int *channel, size_t n,
                     struct flag_note *note)
{
    static const double ones[WHEELS] = {1, 1, 1, 1};
    double error = hypot(point_sum_error(work, made->point, channel, ones, n), sum->u);
    double limit = fmax(wheel_share_limit * fabs(downforce),
                        SUM_UNCERTAINTIES * (isfinite(error) ? error : 0));
    if (!(fabs(sum->balance - sum->wheels) > limit))
        return 0;
    *note = flag_note_make(FLAG_AXLE_SUM, work->run->run, made->point->point, "wheel_load");
    note->value = sum->balance - sum->wheels;
    note->limit = limit;
    note->unit = "N";
    (void)snprintf(note->detail, sizeof note->detail,
                   "the balance has %.2f N of %s, the wheels' load cells add up to %.2f N: %+.2f N "
                   "between them, limit %.2f N",
                   sum->balance, sum->words, sum->wheels, note->value, limit);
    return 1;
}

int check_wheel_sum(const struct run_work *work, const struct reduced_point *made,
                    struct flag_note *note)
{
    double load[WHEELS];
    int channel[WHEELS];
    const struct tunnel_result *result = &made->result;
    const double *u = made->spread.coefficient;
    double force = result->freestream.dynamic_pressure * work->recipe.tunnel.reference_area;
    if (!is_comparable(work) || !read_wheels(work, made, load, channel))
        return 0;
    double downforce = -result->transferred[2];
    const struct wheel_sum whole = {"downforce", load[0] + load[1] + load[2] + load[3], downforce,
                                    u[COEFFICIENT_CL] * force};
    const struct wheel_sum front = {"downforce on the front axle", load[0] + load[1],
                                    downforce / 2 -
                                        result->transferred[4] / work->recipe.tunnel.wheelbase,
                                    u[COEFFICIENT_CLF] * force};
    return disagrees(work, made, &whole, downforce, channel, WHEELS, note) ||
           disagrees(work, made, &front, downforce, channel, WHEELS / 2, note);
}

int cell_refusal(const struct run_work *work, const struct reduced_point *made,
                 struct flag_note *note)
{
    const struct tunnel_result *result = &made->result;
    int any = 0;
    int missing = -1;
    for (int i = 0; i < 6; i++)
        any = any || isfinite(result->transferred[i]);
    for (int i = 0; any && i < WHEEL_CELLS; i++)
        if (missing < 0 && work->recipe.tunnel.cell_added[i] && !isfinite(result->cell[i]))
            missing = i;
    if (missing < 0)
        return 0;
    const char *cell = role_name(recipe_cell_role((enum wheel_cell)missing));
    *note = flag_note_make(FLAG_SAMPLES_MISSING, work->run->run, made->point->point, cell);
    note->state = FLAG_REFUSED;
    (void)snprintf(note->detail, sizeof note->detail,
                   "%s is added to the loads, and at the point, its zero or its weight tare it has "
                   "no samples",
                   cell);
    return 1;
}
