/* truth.c - true deltas, true noise of one mounting and true tap pressures, as rows of one table:
 *
 *   kind,configuration,target,quantity,value
 *
 * kind delta: free-air value of the configuration less the baseline's, exactly at the target or in
 *             the weighted average (balance and L/D of the average are ratios of sums).
 * kind noise: standard deviation of one mounting of one run: refit effect and sample noise. Zeros,
 *             the attained heights and what a reduction adds are smaller than a tenth of it.
 * kind tap:   free-air pressure coefficient at the attitude whose pressures are drawn.             */
#include "sample_runs/truth.h"

#include <math.h>
#include <stdio.h>

#include "sample_runs/floor.h"
#include "sample_runs/text_file.h"

enum { QUANTITIES = 6, WEIGHTED = TARGETS };

static const char *const symbols[QUANTITIES] = {"CD", "CL", "CLF", "CLR", "balance", "L/D"};

static void write_row(struct text_file *text, const char *kind, const char *configuration,
                      const char *target, const char *quantity, double value)
{
    const char *cells[] = {kind, ",", configuration, ",", target, ",", quantity, ","};

    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++)
        text_string(text, cells[i]);
    text_fixed(text, value, 8);
    text_string(text, "\n");
}

/* True quantities of a configuration at a target, or in the weighted average. */
static struct car_quantities true_quantities(int configuration, int target)
{
    double drag = 0.0, front = 0.0, rear = 0.0;

    for (int k = 0; k < TARGETS; k++) {
        double weight = target == WEIGHTED ? night_target(k)->weight : (double)(k == target);
        struct attitude attitude = night_target_attitude(k);
        struct car_coefficients c = car_free_air(configuration, &attitude);
        drag += weight * c.drag;
        front += weight * c.front;
        rear += weight * c.rear;
    }
    return car_read(drag, front, rear);
}

static void as_array(const struct car_quantities *q, double value[QUANTITIES])
{
    value[0] = q->cd;
    value[1] = q->cl;
    value[2] = q->clf;
    value[3] = q->clr;
    value[4] = q->balance;
    value[5] = q->lift_to_drag;
}

/* Derivatives of each quantity by drag, front and rear coefficient. */
static void slopes(const struct car_quantities *q, double slope[QUANTITIES][3])
{
    static const double plain[4][3] = {{1, 0, 0}, {0, 1, 1}, {0, 1, 0}, {0, 0, 1}};

    for (int i = 0; i < 4; i++)
        for (int j = 0; j < 3; j++)
            slope[i][j] = plain[i][j];
    slope[4][0] = 0.0;
    slope[4][1] = (100.0 - q->balance) / q->cl;
    slope[4][2] = -q->balance / q->cl;
    slope[5][0] = -q->lift_to_drag / q->cd;
    slope[5][1] = slope[5][2] = 1.0 / q->cd;
}

/* samples: sum of squared weights of the points in the measure, 1 at a single target. */
static double noise_sd(const double slope[3], double samples, int rows)
{
    struct car_noise noise = car_noise();
    double drag = random_walker_mean_sd(noise.sample_phi, noise.sample_drag, rows);
    double axle = random_walker_mean_sd(noise.sample_phi, noise.sample_axle, rows);
    double total = 0.5 * (slope[1] + slope[2]) * noise.refit_total;
    double shift = (slope[1] - slope[2]) * noise.refit_shift;
    double variance = slope[0] * slope[0] * noise.refit_drag * noise.refit_drag;

    variance += total * total + shift * shift;
    variance += samples * slope[0] * slope[0] * drag * drag;
    variance += samples * (slope[1] * slope[1] + slope[2] * slope[2]) * axle * axle;
    return sqrt(variance);
}

static double squared_weights(int target)
{
    double sum = 0.0;

    if (target != WEIGHTED)
        return 1.0;
    for (int k = 0; k < TARGETS; k++)
        sum += night_target(k)->weight * night_target(k)->weight;
    return sum;
}

static void write_target(const struct model *model, struct text_file *text, int target)
{
    const char *name = target == WEIGHTED ? "weighted" : night_target(target)->name;
    struct car_quantities baseline = true_quantities(0, target);
    double at_baseline[QUANTITIES], here[QUANTITIES], slope[QUANTITIES][3];

    as_array(&baseline, at_baseline);
    slopes(&baseline, slope);
    for (int c = 1; c < CONFIGURATIONS; c++) {
        struct car_quantities changed = true_quantities(c, target);
        as_array(&changed, here);
        for (int i = 0; i < QUANTITIES; i++)
            write_row(text, "delta", night_configuration(c), name, symbols[i],
                      here[i] - at_baseline[i]);
    }
    for (int i = 0; i < QUANTITIES; i++)
        write_row(text, "noise", "", name, symbols[i],
                  noise_sd(slope[i], squared_weights(target), model->rows));
}

static void write_taps(struct text_file *text)
{
    struct attitude attitude = night_target_attitude(MAP_TARGET);
    char name[16];

    for (int c = 0; c < CONFIGURATIONS; c++)
        for (int tap = 0; tap < TAPS; tap++) {
            (void)snprintf(name, sizeof name, "T%03d", tap + 1);
            write_row(text, "tap", night_configuration(c), night_target(MAP_TARGET)->name, name,
                      floor_pressure(tap, c, &attitude));
        }
}

int truth_write(const struct model *model, const char *folder)
{
    struct text_file text;

    if (!text_open(&text, folder, "truth/truth.csv"))
        return 0;
    text_string(&text, "kind,configuration,target,quantity,value\n");
    for (int target = 0; target <= WEIGHTED; target++)
        write_target(model, &text, target);
    write_taps(&text);
    return text_close(&text);
}
