/* night_fixture.c - see night_fixture.h. */
#include "tests/night_fixture.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "schema/point_statistics.h"
#include "schema/role.h"
#include "tests/check.h"

static const enum role channel_roles[] = {ROLE_BALANCE_OUTPUT_1,
                                          ROLE_BALANCE_OUTPUT_2,
                                          ROLE_BALANCE_OUTPUT_3,
                                          ROLE_BALANCE_OUTPUT_4,
                                          ROLE_BALANCE_OUTPUT_5,
                                          ROLE_BALANCE_OUTPUT_6,
                                          ROLE_TOTAL_MINUS_STATIC,
                                          ROLE_STATIC_PRESSURE,
                                          ROLE_TOTAL_TEMPERATURE,
                                          ROLE_RELATIVE_HUMIDITY,
                                          ROLE_FRONT_RIDE_HEIGHT,
                                          ROLE_REAR_RIDE_HEIGHT,
                                          ROLE_YAW,
                                          ROLE_TAP,
                                          ROLE_TAP};

enum { COVARIANCES = 7 };

void fixture_execute(struct night_fixture *fixture, const char *sql)
{
    struct fault fault;
    CHECK_OK(store_execute(fixture->store, sql, &fault), &fault);
}

static void set_campaign(struct night_fixture *fixture)
{
    struct campaign *campaign = &fixture->campaign;
    fixture->facility = (struct facility){.name = "tunnel",
                                          .width = 5,
                                          .height = 4,
                                          .yaw_sign = 1,
                                          .buoyancy_volume_factor = 1,
                                          .blockage = "none",
                                          .to_target = TARGET_LOCAL_FIT};
    fixture->balance = (struct balance){.name = "under",
                                        .output_unit = "mV/V",
                                        .axis_sign = {1, 1, 1},
                                        .moment_sign = {1, 1, 1},
                                        .rated = {1e5, 1e5, 1e5, 1e5, 1e5, 1e5}};
    fixture->targets[0] = (struct target){
        .name = "low", .coordinate = {0.02, 0.04, 0}, .given = {1, 1, 1}, .weight = 0.75};
    fixture->targets[1] = (struct target){
        .name = "high", .coordinate = {0.03, 0.05, 0}, .given = {1, 1, 1}, .weight = 0.25};
    fixture->metrics[0] = (struct metric){"downforce", "CL", BETTER_HIGHER, 0, 0.010};
    fixture->metrics[1] = (struct metric){"drag", "CD", BETTER_LOWER, 0, 0.003};
    fixture->metrics[2] = (struct metric){"balance", "balance", BETTER_TOWARD, 45, 0.3};
    *campaign = (struct campaign){
        .count = 0.001,
        .car = {.reference_area = 2, .wheelbase = 2.5},
        .facilities = &fixture->facility,
        .n_facilities = 1,
        .balances = &fixture->balance,
        .n_balances = 1,
        .metrics = fixture->metrics,
        .n_metrics = 3,
        .main_metric = "downforce",
        .main_attitude = "low",
        .limits = {.zero_drift = 0.5, .q_unsteady = 0.002, .trend = 0.5, .confidence = 0.95}};
    campaign->attitudes = (struct attitudes){.tolerance = {2e-5, 2e-5, 2e-4},
                                             .cap = {5e-4, 5e-4, 2e-3},
                                             .capture = {1.5e-3, 1.5e-3, 1e-2},
                                             .targets = fixture->targets,
                                             .n_targets = 2};
}

static void add_calibration(struct night_fixture *fixture)
{
    static const char *const loads[] = {"Fx", "Fy", "Fz", "Mx", "My", "Mz"};
    char sql[256];
    fixture_execute(fixture, "INSERT INTO calibration_file VALUES ('under','balance/under.csv',"
                             "'c0ffee','mV/V','direct',0,NULL,NULL,0,NULL,NULL,NULL)");
    for (int i = 0; i < 6; i++) {
        for (int j = 0; j < 6; j++) {
            (void)snprintf(sql, sizeof sql,
                           "INSERT INTO calibration VALUES ('under','%s','R%d',%d.0,'%s')",
                           loads[i], j + 1, i == j ? 1000 : 0, i < 3 ? "N" : "N m");
            fixture_execute(fixture, sql);
        }
    }
}

void fixture_open(struct night_fixture *fixture)
{
    struct fault fault;
    memset(fixture, 0, sizeof *fixture);
    CHECK_OK(store_open(":memory:", STORE_CREATE, &fixture->store, &fault), &fault);
    set_campaign(fixture);
    add_calibration(fixture);
    fixture_execute(fixture, "INSERT INTO configuration (configuration, sequence, parent, "
                             "baseline, change, note) VALUES ('base',1,NULL,'base','',''),"
                             "('wing',2,'base','base','wing',''),"
                             "('floor',3,'base','base','floor','')");
    fixture_execute(fixture, "INSERT INTO tap VALUES ('T1',1,'T1',0.1,0,0,0,0,1,NULL,'floor',NULL),"
                             "('T2',2,'T2',0.2,0,0,0,0,1,NULL,'floor',NULL)");
}

void fixture_close(struct night_fixture *fixture)
{
    struct fault fault;
    CHECK_OK(store_close(fixture->store, &fault), &fault);
}

static void add_channels(struct night_fixture *fixture, const char *run)
{
    char sql[512];
    (void)snprintf(sql, sizeof sql,
                   "INSERT INTO log VALUES ('%s',0,'logs/%s.csv','forces','','sha of %s',1,1,1,0)",
                   run, run, run);
    fixture_execute(fixture, sql);
    for (int i = 0; i < FIXTURE_CHANNELS; i++) {
        char tap[16] = "NULL";
        char position[16] = "NULL";
        if (channel_roles[i] == ROLE_TAP)
            (void)snprintf(tap, sizeof tap, "'T%d'", i - FIXTURE_CHANNELS + FIXTURE_TAPS + 1);
        if (i < COVARIANCES)
            (void)snprintf(position, sizeof position, "%d", i);
        (void)snprintf(sql, sizeof sql,
                       "INSERT INTO channel VALUES "
                       "('%s',%d,0,'c%d','%s',%s,'u','u',1.0,%s,NULL,NULL,NULL,NULL)",
                       run, i, i, role_name(channel_roles[i]), tap, position);
        fixture_execute(fixture, sql);
    }
}

static const char *or_empty(const char *text)
{
    return text == NULL ? "" : text;
}

void fixture_add_run(struct night_fixture *fixture, const struct fixture_run *run)
{
    char sql[1024];
    fixture->sequence++;
    (void)snprintf(sql, sizeof sql,
                   "INSERT INTO run VALUES ('%s',%d,'tunnel','e1','t%.0f',%.17g,'%s','%s','under',"
                   "'%s','%s','%s','','%s','',%d,'key of %s')",
                   run->run, fixture->sequence, run->start, run->start,
                   or_empty(run->configuration), run->kind, or_empty(run->zero),
                   or_empty(run->tare), or_empty(run->mounting),
                   run->is_quarantined ? "quarantined" : "ok", fixture->sequence, run->run);
    fixture_execute(fixture, sql);
    add_channels(fixture, run->run);
}

static void fill_statistics(const struct fixture_point *values, struct channel_statistics *channels)
{
    double means[FIXTURE_CHANNELS] = {0};
    memcpy(means, values->output, sizeof values->output);
    means[6] = values->rise;
    means[7] = values->pressure == 0 ? 101325 : values->pressure;
    means[8] = values->temperature == 0 ? 295 : values->temperature;
    means[9] = values->humidity == 0 ? 0.5 : values->humidity;
    means[10] = values->front;
    means[11] = values->rear;
    means[12] = values->yaw;
    memcpy(means + 13, values->tap, sizeof values->tap);
    for (int i = 0; i < FIXTURE_CHANNELS; i++) {
        double sd = channel_roles[i] == ROLE_TAP ? 5 : fabs(means[i]) * 1e-3;
        channels[i] = (struct channel_statistics){.n = 1000,
                                                  .mean = means[i],
                                                  .sd = sd,
                                                  .n_effective = 100,
                                                  .minimum = means[i] - sd,
                                                  .maximum = means[i] + sd,
                                                  .mean_first_half = means[i],
                                                  .mean_second_half = means[i],
                                                  .stuck = 1,
                                                  .mean_without_spikes = means[i],
                                                  .local_deviation = (double)NAN,
                                                  .resolution = (double)NAN};
    }
    if (values->tap_is_frozen > 0) {
        channels[14].sd = 0;
        channels[14].stuck = values->tap_is_frozen;
    }
}

void fixture_add_point(struct night_fixture *fixture, const char *run, const char *point,
                       double time, const struct fixture_point *values)
{
    struct fault fault;
    struct statement *insert = NULL;
    struct channel_statistics channels[FIXTURE_CHANNELS];
    unsigned char blob[FIXTURE_CHANNELS * STATISTICS_PER_CHANNEL * 8];
    double covariance[COVARIANCES * COVARIANCES] = {0};
    fill_statistics(values, channels);
    for (int i = 0; i < COVARIANCES; i++)
        covariance[i * COVARIANCES + i] = channels[i].sd * channels[i].sd;
    point_statistics_pack(channels, FIXTURE_CHANNELS, blob);
    CHECK_OK(statement_prepare(fixture->store,
                               "INSERT INTO point VALUES (?1,?2,?3,?4,10,1000,2,1001,?5,?6)",
                               &insert, &fault),
             &fault);
    CHECK_OK(statement_bind_text(insert, 1, run, &fault), &fault);
    CHECK_OK(statement_bind_text(insert, 2, point, &fault), &fault);
    CHECK_OK(statement_bind_integer(insert, 3, ++fixture->sequence, &fault), &fault);
    CHECK_OK(statement_bind_real(insert, 4, time, &fault), &fault);
    CHECK_OK(statement_bind_blob(insert, 5, blob, sizeof blob, &fault), &fault);
    CHECK_OK(statement_bind_blob(insert, 6, covariance, sizeof covariance, &fault), &fault);
    CHECK_OK(statement_run(insert, &fault), &fault);
    statement_free(insert);
}

/* One point's blob; the caller's statement reads run, point and blob. */
static void set_in_point(struct night_fixture *fixture, struct statement *point, int channel,
                         size_t field, double value)
{
    struct fault fault;
    struct statement *update = NULL;
    struct channel_statistics channels[FIXTURE_CHANNELS];
    unsigned char blob[FIXTURE_CHANNELS * STATISTICS_PER_CHANNEL * 8];
    size_t size = 0;
    const void *bytes = statement_blob(point, 1, &size);
    CHECK_OK(point_statistics_unpack(bytes, size, channels, FIXTURE_CHANNELS, &fault), &fault);
    memcpy((char *)&channels[channel] + field, &value, sizeof value);
    point_statistics_pack(channels, FIXTURE_CHANNELS, blob);
    CHECK_OK(statement_prepare(fixture->store, "UPDATE point SET statistics = ?1 WHERE rowid = ?2",
                               &update, &fault),
             &fault);
    CHECK_OK(statement_bind_blob(update, 1, blob, sizeof blob, &fault), &fault);
    CHECK_OK(statement_bind_integer(update, 2, statement_integer(point, 0), &fault), &fault);
    CHECK_OK(statement_run(update, &fault), &fault);
    statement_free(update);
}

void fixture_set_point_statistic(struct night_fixture *fixture, const char *run, const char *label,
                                 int channel, size_t field, double value)
{
    struct fault fault;
    struct statement *point = NULL;
    int row = 0;
    CHECK_OK(statement_prepare(fixture->store,
                               "SELECT rowid, statistics FROM point WHERE run = ?1 "
                               "AND (?2 = '' OR point = ?2)",
                               &point, &fault),
             &fault);
    CHECK_OK(statement_bind_text(point, 1, run, &fault), &fault);
    CHECK_OK(statement_bind_text(point, 2, label, &fault), &fault);
    while (statement_step(point, &row, &fault) == OK && row)
        set_in_point(fixture, point, channel, field, value);
    statement_free(point);
}

void fixture_set_statistic(struct night_fixture *fixture, const char *run, int channel,
                           size_t field, double value)
{
    fixture_set_point_statistic(fixture, run, "", channel, field, value);
}

void fixture_outputs(double drag, double downforce, double front, double output[6])
{
    double q = 0.7 * 101325 * 5 * (pow(1 + 3000.0 / 101325, 2.0 / 7) - 1);
    memset(output, 0, 6 * sizeof *output);
    output[0] = drag * q * 2 / 1000;
    output[2] = -downforce * q * 2 / 1000;
    output[4] = (downforce / 2 - front) * q * 2 * 2.5 / 1000;
}

void fixture_add_zero(struct night_fixture *fixture, const char *run, double start, double level)
{
    struct fixture_run made = {.run = run, .kind = "zero", .start = start};
    struct fixture_point values = {
        .output = {level, level, level, level, level, level}, .front = 0.02, .rear = 0.04};
    fixture_add_run(fixture, &made);
    fixture_add_point(fixture, run, "Z", start, &values);
}

void fixture_add_wind(struct night_fixture *fixture, const char *run, const char *configuration,
                      double start, double downforce)
{
    struct fixture_run made = {
        .run = run, .kind = "wind_on", .configuration = configuration, .start = start};
    struct fixture_point values = {.rise = 3000, .front = 0.02, .rear = 0.04, .tap = {-1500, -600}};
    fixture_outputs(0.9, downforce, 0.45 * downforce, values.output);
    fixture_add_run(fixture, &made);
    fixture_add_point(fixture, run, "P1", start, &values);
}

void fixture_decide(struct night_fixture *fixture, const char *run, const char *point,
                    const char *decision)
{
    char sql[400];
    (void)snprintf(sql, sizeof sql,
                   "INSERT INTO decision VALUES ('%s','%s','%s','J. Moss','2026-02-12',"
                   "'seen on video',%d)",
                   run, point, decision, ++fixture->sequence);
    fixture_execute(fixture, sql);
}

double fixture_number(struct night_fixture *fixture, const char *sql)
{
    struct fault fault;
    struct statement *statement = NULL;
    int row = 0;
    double value = (double)NAN;
    CHECK_OK(statement_prepare(fixture->store, sql, &statement, &fault), &fault);
    CHECK_OK(statement_step(statement, &row, &fault), &fault);
    if (row)
        value = statement_real(statement, 0);
    statement_free(statement);
    return value;
}

const char *fixture_text(struct night_fixture *fixture, const char *sql)
{
    static char text[4096];
    struct fault fault;
    struct statement *statement = NULL;
    int row = 0;
    text[0] = '\0';
    CHECK_OK(statement_prepare(fixture->store, sql, &statement, &fault), &fault);
    CHECK_OK(statement_step(statement, &row, &fault), &fault);
    if (row && statement_text(statement, 0) != NULL)
        (void)snprintf(text, sizeof text, "%s", statement_text(statement, 0));
    statement_free(statement);
    return text;
}
