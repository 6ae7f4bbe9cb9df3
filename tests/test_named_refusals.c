/* test_named_refusals.c - one row for each refusal and warning that a person meets: what provokes it, what
 * is said, what it does to the numbers, the exit status.
 *
 * The list of refusals and warnings is common practice, no source. The night is invented.          */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/store.h"
#include "tests/check.h"
#include "tests/program.h"
#include "tests/refusal_folder.h"
#include "tests/season_look.h"

/* In the folder, before the batch. EDIT of a file is sed's. */
#define EDIT(file, how) "sed -i '" how "' " file

static const struct refusal {
    const char *name;
    const char *edit;  /* shell commands; NULL: none */
    int status;        /* exit status of batch */
    const char *words; /* that batch prints; NULL: not asked */
    const char *code;  /* of the flag it leaves; NULL: none */
    const char *state; /* of that flag */
    const char *where; /* "run|point|subject" of the first such flag, any part of it */
    const char *count; /* SQL that must give 1: what it does to the numbers; NULL: not asked */
} refusals[] = {
    {"nothing is wrong", NULL, 0, NULL, NULL, NULL, NULL,
     "SELECT count(*) = 10 FROM point_coefficient WHERE state = 'ok' OR state = 'flagged'"},
    /* refused: no number */
    {"unit undeclared", EDIT("w1.csv", "2s/Pa,Pa/,Pa/"), 1, "w1.csv:1:24", "run-quarantined",
     "refused", "W1", "SELECT count(*) = 0 FROM point_coefficient WHERE run = 'W1'"},
    {"units contradict",
     EDIT("campaign.yaml", "s/q: {role: dynamic_pressure}/q: {role: "
                           "dynamic_pressure, unit: psf}/"),
     1, "w1.csv:2", "run-quarantined", "refused", "B1", NULL},
    {"sense of the balance undeclared", EDIT("campaign.yaml", "/axes:/d"), 2, "axes", NULL, NULL,
     NULL, NULL},
    {"sense of yaw undeclared", EDIT("campaign.yaml", "/yaw_positive/d"), 2, "yaw_positive", NULL,
     NULL, NULL, NULL},
    {"corrections status undeclared", EDIT("campaign.yaml", "/already_corrected/d"), 2,
     "already_corrected", NULL, NULL, NULL, NULL},
    {"corrections status unknown",
     EDIT("campaign.yaml",
          "s/already_corrected: no/already_corrected: unknown/;s/quarter rule/none/"),
     0, NULL, "corrections-unknown", "flagged", "B1",
     "SELECT count(*) = 0 FROM ledger WHERE step = 'blockage' AND abs(change) > 0"},
    {"already corrected, and to be corrected again",
     EDIT("campaign.yaml", "s/already_corrected: no/already_corrected: yes/"), 2, "already", NULL,
     NULL, NULL, NULL},
    {"no zero", EDIT("runs.csv", "/^Z/d"), 1, NULL, "zero-missing", "refused", "B1",
     "SELECT count(drag_coefficient) = 0 FROM point_coefficient"},
    {"a zero that is no zero", EDIT("runs.csv", "s/points=w1.csv,,/points=w1.csv,B1,/"), 2,
     "runs.csv:4:66", NULL, NULL, NULL, NULL},
    {"calibration of another balance",
     "sed -i 's/unit,/unit,balance,/;s/^\\(F.\\),N,/\\1,N,roof,/;s/^\\(M.\\),N m,/\\1,N m,roof,/' "
     "floor.csv",
     2, "floor.csv:2:6", NULL, NULL, NULL, NULL},
    {"calibration that gives five loads", EDIT("floor.csv", "s/^Mz.*/Mz,N m,0,0,0,0,50,0/"), 2,
     "singular", NULL, NULL, NULL, NULL},
    {"parent never measured", EDIT("runs.csv", "s/,base,wind_on/,wing,wind_on/"), 0, NULL, NULL,
     NULL, NULL, "SELECT count(*) = 0 FROM delta WHERE delta IS NOT NULL"},
    {"no baseline after the configuration", EDIT("runs.csv", "/^B[23]/d"), 0, NULL, "unbracketed",
     "refused", "wing", "SELECT count(*) = 0 FROM delta WHERE is_main AND delta IS NOT NULL"},
    {"a weighted target is not measured", EDIT("w1.csv", "4d"), 0, NULL, "attitude-not-measured",
     "flagged", "W1", NULL},
    {"an attitude is not logged", EDIT("campaign.yaml", "/role: front_ride_height}$/d"), 0, NULL,
     "attitude-not-measured", "flagged", "B1",
     "SELECT count(*) = 0 FROM delta WHERE is_main AND delta IS NOT NULL"},
    {"weights that do not make one",
     EDIT("campaign.yaml", "0,/weight: 0.5/s/weight: 0.5/weight: 0.4/"), 2, "weight", NULL, NULL,
     NULL, NULL},
    {"a log that no longer matches its map", EDIT("w1.csv", "1s/Fx/FX/"), 1, "w1.csv:1",
     "run-quarantined", "refused", "W1",
     "SELECT count(*) = 0 FROM point_coefficient WHERE run = 'W1'"},
    {"time goes back", EDIT("w1.csv", "s/^2,20,/2,5,/"), 1, "w1.csv:4:3", "run-quarantined",
     "refused", "W1", NULL},
    {"one run twice", "sed -i '3p' runs.csv", 2, "runs.csv:4:1", NULL, NULL, NULL, NULL},
    {"no wind", EDIT("w1.csv", "s/,1500,/,0,/"), 1, NULL, "no-freestream", "refused", "W1",
     "SELECT count(drag_coefficient) = 0 FROM point_coefficient WHERE run = 'W1'"},
    {"correction without its geometry",
     EDIT("campaign.yaml", "s/, volume: 4 m3//;s/quarter rule/image "
                           "sum/"),
     2, "volume", NULL, NULL, NULL, NULL},
    /* warned: a number with a flag */
    {"the zero drifts", EDIT("z2.csv", "s/0.110,0,0.110/0.110,0,60.0/"), 0, NULL, "zero-drift",
     "flagged", "B1", NULL},
    {"zero on one side only", EDIT("runs.csv", "/^Z2/d"), 0, NULL, "zero-after-missing", "flagged",
     "B1", NULL},
    {"load beyond the rating", EDIT("campaign.yaml", "s/Fz: 9000 N/Fz: 4000 N/"), 0, NULL,
     "load-box", "flagged", "B1|1|Fz", NULL},
    {"attitude off target", EDIT("w1.csv", "s/,20,50,0$/,23,50,0/"), 0, NULL, "off-target",
     "failed", "W1|1", NULL},
    {"far from every target", EDIT("w1.csv", "s/,20,50,0$/,40,50,0/"), 0, NULL, "no-target", "info",
     "W1|1", NULL},
    {"blockage beyond the evidence", EDIT("campaign.yaml", "s/width: 6 m/width: 2.8 m/"), 0, NULL,
     "blockage-evidence", "flagged", "B1", NULL},
    {"blockage beyond all sense", EDIT("campaign.yaml", "s/width: 6 m/width: 0.8 m/"), 1, NULL,
     "blockage-refused", "refused", "B1", NULL},
    {"mounted once", EDIT("runs.csv", "/^W2/d"), 0, NULL, "not-refitted", "flagged", "wing",
     "SELECT count(*) = 0 FROM delta WHERE is_main AND verdict IS NOT NULL"},
    {"the same bytes under two names", "cp w1.csv w2.csv", 0, NULL, "duplicate-log", "flagged", "W",
     NULL},
    {"sign of the load",
     EDIT("campaign.yaml", "s/Fz: {role: force_z}/Fz: {role: force_z, sign: -1}/"), 0, NULL,
     "implausible", "flagged", "B1", NULL},
    {"no time", EDIT("campaign.yaml", "/role: time/d"), 0, NULL, "time-missing", "flagged", "B1",
     NULL},
    {"an averaged point without its scatter", NULL, 0, NULL, "not-estimable", "flagged", "B1|1",
     NULL},
};

static void check_flag(const struct refusal *refusal, struct store *store)
{
    char sql[512];
    (void)snprintf(sql, sizeof sql,
                   "SELECT run || '|' || point || '|' || subject, state, detail, sentence, "
                   "consequence, action FROM flag WHERE rule = '%s' AND state = '%s' ORDER BY 1",
                   refusal->code, refusal->state);
    char *text = season_query(store, sql, 6);
    CHECK(text != NULL && text[0] != '\0');
    if (text != NULL && refusal->where != NULL)
        CHECK_CONTAINS(text, refusal->where);
    free(text);
    (void)snprintf(
        sql, sizeof sql,
        "SELECT count(*) FROM flag WHERE rule = '%s' AND (sentence = '' OR consequence = "
        "'' OR action = '' OR detail = '')",
        refusal->code);
    check_season(store, sql, 1, "0\n");
}

static void check_refusal(const struct refusal *refusal)
{
    char folder[64];
    char *out = malloc(PROGRAM_OUTPUT);
    CU_ASSERT_FATAL(out != NULL && refusal_folder_make(folder));
    int edited =
        refusal->edit == NULL ? 0 : program_shell(out, "cd %s && %s", folder, refusal->edit);
    CHECK(edited == 0);
    int status = program_shell(out, "%s -C %s batch", program_lapwing(), folder);
    if (status != refusal->status)
        (void)fprintf(stderr, "%s: exit %d, not %d\n%s", refusal->name, status, refusal->status,
                      out);
    CHECK(status == refusal->status);
    if (refusal->words != NULL)
        CHECK_CONTAINS(out, refusal->words);
    if (refusal->status != 2 && (refusal->code != NULL || refusal->count != NULL)) {
        char path[96];
        struct store *store = NULL;
        struct fault fault;
        (void)snprintf(path, sizeof path, "%s/season.sqlite", folder);
        CHECK_OK(store_open(path, STORE_READ_ONLY, &store, &fault), &fault);
        if (store != NULL && refusal->code != NULL)
            check_flag(refusal, store);
        if (store != NULL && refusal->count != NULL)
            check_season(store, refusal->count, 1, "1\n");
        CHECK_OK(store_close(store, &fault), &fault);
    }
    program_remove(folder);
    free(out);
}

static void every_refusal_is_said_and_counted(void)
{
    for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++)
        check_refusal(&refusals[i]);
}

CU_TestInfo named_refusals_tests[] = {
    {"every refusal is said and counted", every_refusal_is_said_and_counted}, CU_TEST_INFO_NULL};
