/* record_temperature.c - see record_temperature.h. */
#include "reduce/record_temperature.h"

#include <math.h>
#include <stdio.h>

static const double gradient_limit = 2; /* K */
static const double drift_limit = 1;    /* K */

/* One thing that is held against a limit at every point. */
struct temperature_rule {
    enum flag_rule flag;
    enum role role;
    enum role other; /* ROLE_COUNT: the same role in the zero before */
    const char *words;
};

static const struct temperature_rule rules[] = {
    {FLAG_BALANCE_TEMPERATURE, ROLE_BALANCE_TEMPERATURE_REAR, ROLE_BALANCE_TEMPERATURE,
     "the balance's front"},
    {FLAG_BALANCE_TEMPERATURE, ROLE_BALANCE_TEMPERATURE, ROLE_COUNT, "the zero before"},
    {FLAG_BALANCE_TEMPERATURE, ROLE_BALANCE_TEMPERATURE_REAR, ROLE_COUNT, "the zero before"},
    {FLAG_SCANNER_TEMPERATURE, ROLE_SCANNER_TEMPERATURE, ROLE_COUNT, "the zero before"},
};

static double reference_at(const struct run_work *work, const struct temperature_rule *rule,
                           const struct point_row *point)
{
    const struct zero_reading *zero = &work->zeros.before;
    if (rule->other != ROLE_COUNT)
        return run_data_mean(&work->data, point, rule->other);
    return zero->point == NULL ? (double)NAN : run_data_mean(&zero->data, zero->point, rule->role);
}

/* Marks the points beyond the limit; gives the farthest difference, 0 for none. */
static double farthest(struct record_run *run, const struct temperature_rule *rule, double limit)
{
    const struct run_data *data = &run->work.data;
    double worst = 0;
    for (size_t i = 0; i < data->n_points; i++) {
        double difference = run_data_mean(data, &data->points[i], rule->role) -
                            reference_at(&run->work, rule, &data->points[i]);
        run->hit[i] = fabs(difference) > limit;
        if (run->hit[i] && fabs(difference) > fabs(worst))
            worst = difference;
    }
    return worst;
}

static enum status judge(struct record_run *run, const struct temperature_rule *rule,
                         struct fault *fault)
{
    char points[240];
    double limit = rule->other != ROLE_COUNT ? gradient_limit : drift_limit;
    int channel = run_data_channel(&run->work.data, rule->role);
    double worst = channel < 0 ? 0 : farthest(run, rule, limit);
    if (worst == 0)
        return OK;
    const char *column = run->work.data.channels[channel].column;
    struct flag_note note =
        flag_note_make(rule->flag, run->work.run->run, record_only_point(run), column);
    note.value = worst;
    note.limit = limit;
    note.unit = "K";
    record_say_points(run, points, sizeof points);
    (void)snprintf(note.detail, sizeof note.detail,
                   "%s: '%.40s' is up to %+.2f K from %s, limit %g K", points, column, worst,
                   rule->words, limit);
    return record_flag(run, &note, fault);
}

enum status record_temperature_judge(struct record_run *run, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; status == OK && i < sizeof rules / sizeof rules[0]; i++)
        status = judge(run, &rules[i], fault);
    return status;
}
