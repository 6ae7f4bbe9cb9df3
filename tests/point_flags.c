/* point_flags.c - see point_flags.h. */
#include "tests/point_flags.h"

#include "reduce/pipeline.h"
#include "tests/check.h"

void flags_reduce(struct night_fixture *fixture)
{
    struct fault fault;
    struct reduce_summary summary;
    CHECK_OK(reduce_night(fixture->store, &fixture->campaign, &summary, &fault), &fault);
}

void set_statistic(struct night_fixture *fixture, int channel, size_t field, double value)
{
    fixture_set_statistic(fixture, "r1", channel, field, value);
}

const char *flags_of_run(struct night_fixture *fixture)
{
    return fixture_text(fixture,
                        "SELECT group_concat(rule || ' ' || state, ', ') FROM (SELECT * FROM "
                        "flag WHERE run = 'r1' ORDER BY rule)");
}

const char *state_of_point(struct night_fixture *fixture)
{
    return fixture_text(fixture, "SELECT state FROM point_coefficient");
}
