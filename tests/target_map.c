/* target_map.c - see target_map.h. */
#include "tests/target_map.h"

#include <stdio.h>

#include "reduce/pipeline.h"
#include "tests/check.h"

/* CL is a plane in the two heights, so that a local fit must find it exactly. */
double target_map_downforce(double front, double rear)
{
    return 3 - 40 * (front - 0.02) - 20 * (rear - 0.04);
}

void target_map_add(struct night_fixture *fixture, int number, double front, double rear,
                    double level)
{
    char name[16];
    struct fixture_point values = {.rise = 3000, .front = front, .rear = rear};
    double downforce = target_map_downforce(front, rear) + level;
    (void)snprintf(name, sizeof name, "P%d", number);
    fixture_outputs(0.9 + 5 * (rear - 0.04), downforce, 0.45 * downforce, values.output);
    fixture_add_point(fixture, number > 20 ? "r2" : "r1", name, 50 + number, &values);
}

/* Two runs with levels apart by 0.02, each with a grid of points 4 mm wide about the target, and one
 * point of the first at the given offsets. */
void target_map_open(struct night_fixture *fixture, double front, double rear)
{
    fixture_open(fixture);
    fixture_add_zero(fixture, "z1", 0, 0);
    fixture_add_run(fixture,
                    &(struct fixture_run){
                        .run = "r1", .kind = "wind_on", .configuration = "base", .start = 50});
    fixture_add_run(fixture,
                    &(struct fixture_run){
                        .run = "r2", .kind = "wind_on", .configuration = "base", .start = 80});
    int number = 2;
    for (int i = -1; i <= 1; i++)
        for (int k = -1; k <= 1; k++)
            if (i != 0 || k != 0)
                target_map_add(fixture, number++, 0.02 + 0.004 * i, 0.04 + 0.004 * k, 0);
    for (int i = -1; i <= 1; i += 2)
        target_map_add(fixture, number++ + 20, 0.02 + 0.004 * i, 0.04 + 0.004 * i, 0.02);
    target_map_add(fixture, 1, 0.02 + front, 0.04 + rear, 0);
}

void target_map_reduce(struct night_fixture *fixture)
{
    struct fault fault;
    struct reduce_summary summary;
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, &summary, &fault), &fault);
}

double target_map_value(struct night_fixture *fixture, const char *column)
{
    char sql[200];
    (void)snprintf(sql, sizeof sql,
                   "SELECT t.%s FROM target_result AS t JOIN reduction USING (reduction) WHERE "
                   "is_current = 1 AND point = 'P1'",
                   column);
    return fixture_number(fixture, sql);
}

const char *target_map_method(struct night_fixture *fixture)
{
    return fixture_text(fixture,
                        "SELECT method FROM target_result JOIN reduction USING (reduction) "
                        "WHERE is_current = 1 AND point = 'P1'");
}
