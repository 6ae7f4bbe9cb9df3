/* repeat_season.c - see repeat_season.h. */
#include "tests/repeat_season.h"

#include <CUnit/CUnit.h>

#include "reduce/pipeline.h"
#include "tests/check.h"

void repeat_reduce(struct night_fixture *fixture)
{
    struct fault fault;
    struct reduce_summary summary;
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, &summary, &fault), &fault);
}

void repeat_add_run(struct night_fixture *fixture, const char *run, const char *configuration,
                    double start)
{
    struct fixture_run made = {
        .run = run, .kind = "wind_on", .configuration = configuration, .start = start};
    fixture_add_run(fixture, &made);
}

void repeat_add_point(struct night_fixture *fixture, const char *run, const char *point,
                      double time, int attitude, double downforce, double wind)
{
    static const double front[] = {0.02, 0.03, 0.06};
    struct fixture_point values = {.rise = 3000 * wind,
                                   .front = front[attitude],
                                   .rear = front[attitude] + 0.02,
                                   .tap = {-1500, -600}};
    fixture_outputs(0.9, downforce, 0.45 * downforce, values.output);
    for (int i = 0; i < 6; i++)
        values.output[i] *= wind;
    fixture_add_point(fixture, run, point, time, &values);
}
