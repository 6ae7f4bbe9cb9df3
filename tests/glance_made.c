/* glance_made.c - see glance_made.h. */
#include "tests/glance_made.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/glance_verdict.h"
#include "tests/check.h"

static const char *const target_names[MADE_POINTS] = {"F8 R24",  "F8 R30",  "F8 R36",  "F10 R24",
                                                      "F10 R30", "F10 R36", "F12 R24", "F12 R30"};
static const char *const labels[MADE_POINTS] = {"1", "2", "3", "4", "5", "6", "7", "8"};

static void make_point(struct glance_point *point, int i)
{
    double level = 3 + 0.1 * i;
    double apart = 0.001 * (i % 3 - 1); /* -1, 0, +1 counts from the earlier runs */
    point->label = labels[i];
    point->time = 1000 + 30 * i;
    point->attitude[ATTITUDE_FRONT_RIDE_HEIGHT] = i < 3 ? 0.008 : i < 6 ? 0.010 : 0.012;
    point->attitude[ATTITUDE_REAR_RIDE_HEIGHT] = 0.024 + 0.006 * (i % 3);
    point->dynamic_pressure = 1500;
    point->target = i;
    point->reach = REACH_AT;
    point->values = calloc(2, sizeof *point->values);
    CHECK(point->values != NULL);
    if (point->values == NULL)
        return;
    point->values[0] = (struct glance_value){level + apart, 0.001};
    point->values[1] = (struct glance_value){0.9, 0.0005};
    point->half[0] = level + apart - 0.001;
    point->half[1] = level + apart + 0.001;
    point->earlier = (struct glance_earlier){2, level - 0.002, level + 0.002, level};
}

void glance_made(struct glance *glance)
{
    memset(glance, 0, sizeof *glance);
    *glance = (struct glance){.season = "Winter",
                              .car = "C4",
                              .run = "R07",
                              .configuration = "base",
                              .facility = "saltmarsh",
                              .entry = "2026-02",
                              .start_text = "2026-02-11T22:08:00+01:00",
                              .quarantined = "",
                              .refused = "",
                              .main_attitude = "weighted",
                              .is_named = {1, 1},
                              .zero = {"Z07A", "Z07B", 0, "CL", 0.001, 0.005, 0.001, "counts"},
                              .n_earlier = 2};
    glance->metrics = calloc(2, sizeof *glance->metrics);
    glance->targets = calloc(MADE_POINTS, sizeof *glance->targets);
    glance->points = calloc(MADE_POINTS, sizeof *glance->points);
    CHECK(glance->metrics != NULL && glance->targets != NULL && glance->points != NULL);
    if (glance->metrics == NULL || glance->targets == NULL || glance->points == NULL)
        return;
    glance->metrics[glance->n_metrics++] =
        (struct glance_metric){QUANTITY_CL, "downforce", 0.010, 0.001, "counts"};
    glance->metrics[glance->n_metrics++] =
        (struct glance_metric){QUANTITY_CD, "drag", 0.003, 0.001, "counts"};
    for (int i = 0; i < MADE_POINTS; i++) {
        glance->targets[glance->n_targets++] =
            (struct glance_target){target_names[i], i < MADE_NEEDED, 1, 1};
        make_point(&glance->points[glance->n_points++], i);
    }
}

struct glance_flag *glance_made_flag(struct glance *glance, enum flag_rule rule, int point,
                                     const char *subject, double value, double limit)
{
    static struct glance_flag nowhere;
    void *items = glance->flags;
    struct glance_flag *flag =
        glance_add(&items, &glance->n_flags, &glance->flags_capacity, sizeof *flag, NULL);
    glance->flags = items;
    CHECK(flag != NULL);
    if (flag == NULL)
        return &nowhere;
    *flag = (struct glance_flag){
        rule, flag_row(rule)->state,       point, subject, value, limit, "seen.", "",
        0,    glance_rule_is_of_taps(rule)};
    return flag;
}
