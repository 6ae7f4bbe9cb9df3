/* derive_night.c - see derive_night.h. */
#include "tests/derive_night.h"

#include <stdio.h>
#include <string.h>

#include "reduce/pipeline.h"
#include "tests/check.h"

void derive_night_open(struct derive_night *night)
{
    memset(night, 0, sizeof *night);
    fixture_open(&night->fixture);
    fixture_execute(&night->fixture,
                    "INSERT INTO configuration (configuration, sequence, parent, baseline, change, "
                    "note) VALUES ('flap', 4, 'base', 'base', 'flap', ''), "
                    "('both', 5, 'base', 'base', 'wing and floor', '');"
                    "INSERT INTO configuration_part VALUES ('both', 0, 'wing'), ('both', 1, "
                    "'floor')");
    night->flap = (struct trim_device){.from = 2, .to = 4, .least = 0, .most = 8};
    night->flap.name = "front flap";
    night->flap.configuration = "flap";
    night->flap.unit = "hole";
    night->fixture.campaign.trims = &night->flap;
    night->fixture.campaign.n_trims = 1;
    fixture_add_zero(&night->fixture, "z1", 0, 0);
}

void derive_night_close(struct derive_night *night)
{
    fixture_close(&night->fixture);
}

void derive_night_add(struct derive_night *night, const char *configuration, double drag,
                      double downforce, double front)
{
    struct fixture_point values = {.rise = 3000, .front = 0.02, .rear = 0.04};
    char run[16];
    double start = 1000.0 * ++night->runs;
    (void)snprintf(run, sizeof run, "r%d", night->runs);
    fixture_outputs(drag, downforce, front, values.output);
    fixture_add_run(&night->fixture, &(struct fixture_run){.run = run,
                                                           .kind = "wind_on",
                                                           .configuration = configuration,
                                                           .start = start});
    fixture_add_point(&night->fixture, run, "P1", start, &values);
}

void derive_night_reduce(struct derive_night *night)
{
    struct reduce_summary summary;
    struct fault fault;
    CHECK_OK(reduce_night(night->fixture.store, &night->fixture.campaign, &summary, &fault),
             &fault);
}

static void ask(const char *view, const char *configuration, const char *column, char sql[300])
{
    (void)snprintf(sql, 300, "SELECT %s FROM %s WHERE configuration = '%s' AND target = 'low'%s",
                   column, view, configuration,
                   strcmp(view, "ratio") == 0 ? "" : " AND quantity = 'CL'");
}

double derive_number(struct derive_night *night, const char *view, const char *configuration,
                     const char *column)
{
    char sql[300];
    ask(view, configuration, column, sql);
    return fixture_number(&night->fixture, sql);
}

const char *derive_text(struct derive_night *night, const char *view, const char *configuration,
                        const char *column)
{
    char sql[300];
    ask(view, configuration, column, sql);
    return fixture_text(&night->fixture, sql);
}
