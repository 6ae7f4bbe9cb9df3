/* rig_folder.c - see rig_folder.h. */
#include "tests/rig_folder.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "ingest/check_command.h"
#include "reduce/pipeline.h"
#include "reduce/recipe_check.h"
#include "tests/campaign_folder.h"
#include "tests/check.h"
#include "tests/season_look.h"

static const char *const names[RIG_COLUMNS] = {
    "Fx", "Fy", "Fz", "Mx", "My", "Mz", "q",  "h1", "h2", "h3", "h4", "h1_sd", "hF",   "hR",
    "ro", "pi", "D1", "D2", "D3", "D4", "L1", "L2", "L3", "L4", "BD", "BL",    "D1_sd"};

static const char campaign[] =
    "season: Rig\ncount: 0.001\npoint: one count\n"
    "car:\n  name: Curlew\n  model_scale: 1\n  reference_area: 1 m2\n"
    "  reference_area_source: drawing 7\n  wheelbase: 2 m\n%s"
    "facilities:\n  saltmarsh:\n    test_section: closed\n    width: 5 m\n    height: 4 m\n"
    "    already_corrected: no\n    yaw_positive: air from right\n    humidity: absent\n"
    "    freestream: given\n"
    "    corrections: {zero: linear in time, weight_tare: none, balance_follows: yaw,\n"
    "                  buoyancy: none, blockage: none, to_target: none}\n%s"
    "%s%schannel_maps:\n  forces:\n    rows: points\n    missing: [\"\"]\n    columns:\n"
    "      Point: {role: point}\n      Fx: {role: force_x, unit: N}\n"
    "      Fy: {role: force_y, unit: N}\n      Fz: {role: force_z, unit: N}\n"
    "      Mx: {role: moment_x, unit: N m}\n      My: {role: moment_y, unit: N m}\n"
    "      Mz: {role: moment_z, unit: N m}\n      q: {role: dynamic_pressure, unit: Pa}\n"
    "      p: {role: static_pressure, unit: hPa}\n      T: {role: static_temperature, unit: "
    "degC}\n%s"
    "attitudes:\n  tolerance: {front_ride_height: 0.1 mm}\n  cap: {front_ride_height: 0.5 mm}\n"
    "  capture: {front_ride_height: 2 mm}\n  targets:\n"
    "    - {name: low, front_ride_height: 20 mm}\n    - {name: high, front_ride_height: 30 mm}\n"
    "metrics:\n  downforce: {quantity: CL, better: higher, worthwhile: 0.01}\n"
    "main_measure: {metric: downforce, attitude: low}\n";

static const char runs[] =
    "run,facility,entry,start,configuration,kind,balance,logs,zero,tare,mounting,note\n"
    "Z1,saltmarsh,E1,2026-02-11T19:50:00Z,,zero,,forces=logs/Z1.csv,,,,\n";

struct rig_point rig_point(void)
{
    return (struct rig_point){
        .value = {[RIG_FX] = 400, [RIG_FZ] = -1200, [RIG_Q] = 1000, [RIG_HF] = 20, [RIG_HR] = 40}};
}

void rig_log(const char *folder, const char *run, const struct rig_point *points, size_t n)
{
    char *text = NULL;
    size_t size = 0;
    char name[40];
    FILE *out = open_memstream(&text, &size);
    CU_ASSERT_FATAL(out != NULL);
    (void)fprintf(out, "Point,p,T");
    for (int i = 0; i < RIG_COLUMNS; i++)
        (void)fprintf(out, ",%s", names[i]);
    for (size_t k = 0; k < n; k++) {
        (void)fprintf(out, "\nP%zu,1013.25,20", k + 1);
        for (int i = 0; i < RIG_COLUMNS; i++)
            if (isnan(points[k].value[i]))
                (void)fprintf(out, ",");
            else
                (void)fprintf(out, ",%.17g", points[k].value[i]);
    }
    (void)fprintf(out, "\n");
    CU_ASSERT_FATAL(fclose(out) == 0);
    (void)snprintf(name, sizeof name, "logs/%s.csv", run);
    CHECK(scratch_write(folder, name, text));
    free(text);
}

void rig_make(char folder[SCRATCH_PATH], const struct rig_night *night)
{
    char text[8192];
    char path[SCRATCH_PATH + 8];
    const struct rig_point zero = {.value = {0}};
    int has_balances = night->balances[0] != '\0';
    CU_ASSERT_FATAL(scratch_make(folder));
    (void)snprintf(path, sizeof path, "%s/logs", folder);
    CHECK(mkdir(path, 0777) == 0);
    (void)snprintf(text, sizeof text, campaign, night->car, night->facility,
                   has_balances ? "balances:\n" : "", night->balances, night->columns);
    CHECK(scratch_write(folder, "campaign.yaml", text));
    (void)snprintf(text, sizeof text, "%s%s", runs, night->runs);
    CHECK(scratch_write(folder, "runs.csv", text));
    CHECK(scratch_write(folder, "configurations.csv",
                        "configuration,parent,change,note\nbase,,,\nwing,base,wing,\n"));
    rig_log(folder, "Z1", &zero, 1);
}

struct store *rig_reduce(const char *folder)
{
    struct fault fault = {.status = OK};
    struct reduce_summary summary;
    struct store *store = memory_season();
    struct night_result result = season_ingest(store, folder, 1, season_later);
    struct campaign *read = ingest_folder_campaign(folder);
    CU_ASSERT_FATAL(read != NULL);
    CHECK(result.runs_quarantined == 0);
    CHECK_OK(reduce_night(store, read, &summary, &fault), &fault);
    campaign_free(read);
    return store;
}

void rig_check(const char *folder, char *lines, size_t size)
{
    char gathered[GATHERED] = "";
    struct check_result result;
    struct fault fault = {.status = OK};
    struct campaign *read = NULL;
    CHECK_OK(check_folder(folder, gather_lines, gathered, &result, &fault), &fault);
    if (campaign_read(folder, &read, NULL, NULL, NULL) == OK)
        (void)recipe_check(read, gather_lines, gathered, NULL);
    campaign_free(read);
    (void)snprintf(lines, size, "%s", gathered);
}

double rig_number(struct store *store, const char *sql)
{
    double value = (double)NAN;
    struct statement *statement = NULL;
    struct fault fault = {.status = OK};
    int row = 0;
    CHECK_OK(statement_prepare(store, sql, &statement, &fault), &fault);
    CHECK_OK(statement_step(statement, &row, &fault), &fault);
    if (row)
        value = statement_real(statement, 0);
    statement_free(statement);
    return value;
}

void check_rig_text(struct store *store, const char *sql, const char *want)
{
    struct statement *statement = NULL;
    struct fault fault = {.status = OK};
    char text[2048] = "";
    int row = 0;
    CHECK_OK(statement_prepare(store, sql, &statement, &fault), &fault);
    while (statement_step(statement, &row, &fault) == OK && row) {
        size_t used = strlen(text);
        const char *value = statement_text(statement, 0);
        (void)snprintf(text + used, sizeof text - used, "%s%s", used > 0 ? ", " : "",
                       value == NULL ? "NULL" : value);
    }
    check_text(text, want, sql, __FILE__, __LINE__);
    statement_free(statement);
}
