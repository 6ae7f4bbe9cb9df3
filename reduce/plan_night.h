/* plan_night.h - the night that comes, as it is planned: what the files of `lapwing plan` share.
 *
 * plan_choice.c says what is run where and when, plan_noise.c how well its numbers repeat, plan_judge.c
 * how often, in which order, and whether that can tell what it should; plan_sheet.c puts it on the clock;
 * plan_text.c, plan_json.c and plan_csv.c write it. Configurations have the numbers of the order: 0 is the
 * baseline, the others follow configurations.csv. */
#ifndef LAPWING_PLAN_NIGHT_H
#define LAPWING_PLAN_NIGHT_H

#include <stddef.h>

#include "reduce/plan_attitudes.h"
#include "reduce/repeatability.h"
#include "reduce/statistics/night_plan.h"
#include "schema/plan_input.h"

struct plan_metric {
    const struct metric *metric;
    struct repeatability known;
    struct variance_estimate before; /* of one mounting, from known; freedom 0: nothing is known */
    int is_main;
};

/* Times of the section plan in s, with what is not made left out. */
struct plan_clock {
    double run, zero, weight_sweep, belt_sweep;
};

struct planned_night {
    const struct plan_input *input;
    const struct facility *facility;
    const char *entry, *balance; /* "" without one */
    const char *logs, *zero_logs, *tare_logs, *belt_logs;
    size_t n;       /* configurations besides the baseline */
    size_t *chosen; /* n + 1, of input->configurations */
    double *change; /* n + 1, s */
    int *is_hard, *is_heavy;
    size_t *given; /* the order that somebody wrote; NULL: one is made */
    size_t n_given;
    int has_heavy;
    struct plan_attitudes attitudes;
    struct plan_clock clock;
    struct plan_metric *metrics;
    size_t n_metrics;
    struct plan_request request;
    struct night_plan plan;
    char mark[200]; /* why it would be refused, where it is planned all the same; else "" */
};

const char *plan_name(const struct planned_night *night, size_t configuration);
const struct plan_metric *plan_main_metric(const struct planned_night *night);
void planned_night_end(struct planned_night *night); /* an empty one is fine */

/* Hours with one decimal, rounded up, so that what is said suffices. */
double plan_hours(double seconds);

#endif
