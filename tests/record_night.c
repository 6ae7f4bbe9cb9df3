/* record_night.c - see record_night.h. */
#include "tests/record_night.h"

#include <math.h>
#include <stdio.h>

#include "tests/check.h"

struct reduce_summary record_night_reduce(struct night_fixture *fixture)
{
    struct fault fault;
    struct reduce_summary summary;
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, &summary, &fault), &fault);
    return summary;
}

void record_night_add_run(struct night_fixture *fixture, const char *run, double start, int n)
{
    struct fixture_run made = {
        .run = run, .kind = "wind_on", .configuration = "base", .start = start};
    struct fixture_point values = {.rise = 3000, .front = 0.02, .rear = 0.04, .tap = {-1500, -600}};
    fixture_outputs(0.9, 3, 0.45 * 3, values.output);
    fixture_add_run(fixture, &made);
    for (int i = 0; i < n; i++) {
        char point[16];
        (void)snprintf(point, sizeof point, "P%d", i + 1);
        fixture_add_point(fixture, run, point, start + i, &values);
    }
}

void record_night_open(struct night_fixture *fixture, int points)
{
    fixture_open(fixture);
    fixture->targets[0].weight = 0;
    fixture->targets[1].weight = 0;
    fixture_add_zero(fixture, "z1", 0, 0);
    record_night_add_run(fixture, "r1", 50, points);
    fixture_add_zero(fixture, "z2", 100, 0);
}

void record_night_set(struct night_fixture *fixture, const char *point, int channel, size_t field,
                      double value)
{
    fixture_set_point_statistic(fixture, "r1", point, channel, field, value);
}

const char *record_night_flags(struct night_fixture *fixture)
{
    return fixture_text(fixture,
                        "SELECT group_concat(subject || ' ' || rule || ' ' || state, ', ') "
                        "FROM (SELECT * FROM flag ORDER BY run, rule, subject)");
}

double record_night_dynamic_pressure(void)
{
    return 0.7 * 101325 * 5 * (pow(1 + 3000.0 / 101325, 2.0 / 7) - 1);
}
