/* test_calibration_forms.c - an iterative calibration from its file to the loads in the season, and what is
 * refused by name.
 *
 * Coefficients, loads and outputs are those of tests/oracles/balance_sets.py, an invented balance of 96
 * terms worked with fractions; the night around them is invented too.                               */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/calibration.h"
#include "schema/store.h"
#include "tests/check.h"
#include "tests/number_table.h"
#include "tests/program.h"
#include "tests/refusal_folder.h"
#include "tests/scratch.h"
#include "tests/season_look.h"

#define SETS "tests/oracles/balance_sets/"

static const char *const source = "tests/oracles/balance_sets.py";
static const double rated[LOAD_COUNT] = {5000, 5000, 9000, 5000, 5000, 5000};

/* Rows of balance96_points.csv at the night's two targets. */
enum { FIRST_POINT = 5, SECOND_POINT = 7 };

/* Shell: the coefficients under the loads' names, with what the file says of the loads. */
#define MAKE_FILE                                                                                \
    "sed 's/F1/Fx/g;s/F2/Fy/g;s/F3/Fz/g;s/F4/Mx/g;s/F5/My/g;s/F6/Mz/g' " SETS                    \
    "balance96_coeffs.csv > %s/floor.csv && cd %s && commas=$(printf ',%%.0s' $(seq 90)) && "    \
    "echo \"rated,5000 N,5 kN,9000 N,5000 N m,5000 N m,5000 N m$commas\" >> floor.csv && "       \
    "echo \"lowest,-5000 N,-5000 N,-9000 N,-5000 N m,-5000 N m,-5000 N m$commas\" >> floor.csv " \
    "&& "                                                                                        \
    "echo \"highest,5000 N,5000 N,9000 N,5000 N m,5000 N m,5000 N m$commas\" >> floor.csv && "   \
    "echo \"residual_sd,0.05 %%,0.05 %%,0.05 %%,0.05 %%,0.05 %%,0.05 %%$commas\" >> floor.csv"

static void add_point(char *text, size_t size, int label, const double *output, double q)
{
    size_t used = strlen(text);
    used += (size_t)snprintf(text + used, size - used, "%d,%d", label, 10 * label);
    for (int i = 0; i < LOAD_COUNT; i++)
        used += (size_t)snprintf(text + used, size - used, ",%.17g", output[i] + 0.05);
    (void)snprintf(text + used, size - used, ",%g,100000,20,%d,%d,0\n", q, 10 + 10 * label,
                   40 + 10 * label);
}

#define HEAD                                   \
    "pt,t,Fx,Fy,Fz,Mx,My,Mz,q,p,T,hF,hR,yaw\n" \
    ",s,mV/V,mV/V,mV/V,mV/V,mV/V,mV/V,Pa,Pa,degC,mm,mm,deg\n"

static int write_logs(const char *folder)
{
    static const char *const wind[] = {"b1.csv", "w1.csv", "b2.csv", "w2.csv", "b3.csv"};
    static const double nothing[LOAD_COUNT] = {0};
    struct number_table points;
    char zero[1024] = HEAD, log[2048] = HEAD;
    if (!number_table_read(SETS "balance96_points.csv", &points))
        return 0;
    add_point(zero, sizeof zero, 1, nothing, 0);
    add_point(log, sizeof log, 1, points.cell + FIRST_POINT * points.columns + 7, 1500);
    add_point(log, sizeof log, 2, points.cell + SECOND_POINT * points.columns + 7, 1500);
    int ok = scratch_write(folder, "z1.csv", zero) && scratch_write(folder, "z2.csv", zero);
    for (size_t i = 0; i < sizeof wind / sizeof wind[0]; i++)
        ok = ok && scratch_write(folder, wind[i], log);
    number_table_free(&points);
    return ok;
}

/* The night of refusal_folder.h with outputs in place of loads. */
static int make_folder(char folder[64])
{
    char out[PROGRAM_OUTPUT];
    return refusal_folder_make(folder) && write_logs(folder) &&
           program_shell(out, MAKE_FILE, folder, folder) == 0 &&
           program_shell(out,
                         "cd %s && sed -i 's/role: force_x/role: balance_output_1/;"
                         "s/role: force_y/role: balance_output_2/;"
                         "s/role: force_z/role: balance_output_3/;"
                         "s/role: moment_x/role: balance_output_4/;"
                         "s/role: moment_y/role: balance_output_5/;"
                         "s/role: moment_z/role: balance_output_6/' campaign.yaml",
                         folder) == 0;
}

static double load_of(struct store *store, int point, size_t load)
{
    char sql[256];
    (void)snprintf(sql, sizeof sql,
                   "SELECT value FROM ledger WHERE run = 'B1' AND point = '%d' AND step = "
                   "'balance' AND quantity = '%s'",
                   point, calibration_load_name(load));
    char *text = season_query(store, sql, 1);
    double value = text != NULL && text[0] != '\0' ? strtod(text, NULL) : -1e9;
    free(text);
    return value;
}

static void loads_of_96_terms_come_out(void)
{
    char folder[64], path[96];
    char out[PROGRAM_OUTPUT];
    struct store *store = NULL;
    struct number_table points;
    CU_ASSERT_FATAL(make_folder(folder));
    CHECK(program_shell(out, "%s -C %s check", program_lapwing(), folder) == 0);
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), folder) == 0);
    (void)snprintf(path, sizeof path, "%s/season.sqlite", folder);
    CHECK_OK(store_open(path, STORE_READ_ONLY, &store, NULL), NULL);
    CHECK(number_table_read(SETS "balance96_points.csv", &points));
    for (size_t load = 0; load < LOAD_COUNT && points.cell != NULL; load++) {
        CHECK_NEAR(load_of(store, 1, load),
                   rated[load] * points.cell[FIRST_POINT * points.columns + 1 + load], 1e-8,
                   source);
        CHECK_NEAR(load_of(store, 2, load),
                   rated[load] * points.cell[SECOND_POINT * points.columns + 1 + load], 1e-8,
                   source);
    }
    check_season(store, "SELECT form, output_unit FROM calibration_file", 2, "iterative|mV/V\n");
    check_season(store, "SELECT count(*) FROM calibration", 1, "576\n");
    check_season(store,
                 "SELECT rated, lowest, highest, unit, residual_sd FROM calibration_load "
                 "WHERE load = 'Fy'",
                 5, "5000.0|-5000.0|5000.0|N|0.0005\n");
    end_season(store);
    number_table_free(&points);
    CHECK(program_shell(out, "%s -C %s explain B1/1 CD", program_lapwing(), folder) == 0);
    CHECK_CONTAINS(out, "outputs from loads, by iteration");
    CHECK_CONTAINS(out, "C1^-1");
    program_remove(folder);
}

#define EDIT(how) "sed -i '" how "' floor.csv"

/* What is done to the folder, and what check (status 2) or batch says. */
static const struct refusal {
    const char *name;
    const char *edit;
    const char *words;
    const char *flag; /* of batch, "rule|state|detail" in part; NULL: check refuses */
} refusals[] = {
    {"an iteration that need not settle", EDIT("s/^R1,1,/R1,0.01,/"),
     "floor.csv: the calibration of balance 'floor' does not contract over its load box", NULL},
    {"no inverse", EDIT("/^R6,/d;s/^R5,\\(.*\\)$/R5,\\1\\nR6,\\1/"),
     "the linear terms do not tell six loads apart", NULL},
    {"a rating of another balance", EDIT("s/^rated,5000 N/rated,5000 lbf/"),
     "floor.csv:8:7: the rated Fx is 22241.1 N here and 5000 N in campaign.yaml", NULL},
    {"a unit of another kind", EDIT("s/^rated,5000 N/rated,5000 mm/"),
     "floor.csv:8:7: unit 'mm' is of another kind", NULL},
    {"no unit", EDIT("s/^rated,5000 N/rated,5000/"), "floor.csv:8:7:", NULL},
    {"outputs in another unit",
     EDIT("s/^output,/output,outputs,/;s/^R\\([1-6]\\),/R\\1,V\\/V,/;"
          "s/^\\([rlh][a-z_]*\\),/\\1,V\\/V,/"),
     "floor.csv:2:4: the calibration is for outputs in 'V/V', and campaign.yaml gives it to 'mV/V'",
     NULL},
    {"outputs from nowhere known",
     EDIT("s/^output,/output,outputs_from,/;s/^R\\([1-6]\\),/R\\1,amplifier,/;"
          "s/^\\([rlh][a-z_]*\\),/\\1,amplifier,/"),
     "floor.csv:2:4: outputs_from 'amplifier'; limit: natural zero or zero", NULL},
    {"another balance's",
     EDIT("s/^output,/output,balance,/;s/^R\\([1-6]\\),/R\\1,roof,/;"
          "s/^\\([rlh][a-z_]*\\),/\\1,roof,/"),
     "floor.csv:2:4: the calibration is of balance 'roof'", NULL},
    {"a row a load, columns of loads", EDIT("s/^output,/load,/"),
     "floor.csv:1: the file has a row a load and the column 'Fx': it is transposed", NULL},
    {"a row an output, columns of outputs",
     "printf 'output,R1,R2,R3,R4,R5,R6\\nR1,1,0,0,0,0,0\\n' > floor.csv",
     "floor.csv:1: the file has a row an output and the column 'R1': it is transposed", NULL},
    {"numbers exchanged below a right header",
     EDIT("s/^R1,1,0.0113[0-9]*,/R1,1,1.5,/;s/^\\(R2,[^,]*\\),1,/\\1,2,/"),
     "floor.csv:1: the linear terms are transposed", NULL},
    {"rated loads missing", EDIT("/^rated/d"), "floor.csv:1: there is no row 'rated'", NULL},
    {"an output missing", EDIT("/^R4,/d"), "floor.csv:1: there is no row 'R4'", NULL},
    {"an output twice", EDIT("s/^R4,/R3,/"), "floor.csv:5:1: R3 is on line 4 already", NULL},
    {"a box upside down", EDIT("s/^lowest,-5000/lowest,6000/"),
     "floor.csv:1: Fx was calibrated from 6000 to 5000 N", NULL},
    {"a rated load of a term", EDIT("/^rated/s/,$/,5000 N/"), "leave it empty", NULL},
    {"a row that is none", EDIT("s/^residual_sd/scatter/"), "floor.csv:11:1: 'scatter' is no row",
     NULL},
    {"a load beyond the calibration", EDIT("s/^highest,5000 N/highest,3600 N/"), NULL,
     "B1|1|beyond-calibration|flagged|Fx is 4000.0 N, calibrated from -5000.0 to 3600.0 N: 8.0 % "
     "beyond"},
    {"outputs no load gives", "sed -i 's/^1,10,[^,]*,/1,10,20.0,/' b1.csv", NULL,
     "B1|1|balance-no-loads|refused|no loads within ten times the rating"},
    {"an expired calibration",
     EDIT("s/^output,/output,valid_until,/;"
          "s/^R\\([1-6]\\),/R\\1,2026-01-01T00:00Z,/;"
          "s/^\\([rlh][a-z_]*\\),/\\1,2026-01-01T00:00Z,/"),
     NULL, "B1||calibration-expired|refused|floor.csv is valid until 2026-01-01"},
};

static void check_refusal(const struct refusal *refusal)
{
    char folder[64];
    char *out = malloc(PROGRAM_OUTPUT);
    CU_ASSERT_FATAL(out != NULL && make_folder(folder));
    CHECK(program_shell(out, "cd %s && %s", folder, refusal->edit) == 0);
    int status = program_shell(out, "%s -C %s check", program_lapwing(), folder);
    if (status != (refusal->flag == NULL ? 2 : 0))
        (void)fprintf(stderr, "%s: exit %d\n%s", refusal->name, status, out);
    CHECK(status == (refusal->flag == NULL ? 2 : 0));
    if (refusal->words != NULL)
        CHECK_CONTAINS(out, refusal->words);
    status = program_shell(out, "%s -C %s batch", program_lapwing(), folder);
    CHECK(status == 2 || refusal->flag != NULL);
    if (refusal->flag != NULL) {
        CHECK(program_shell(out,
                            "sqlite3 %s/season.sqlite \"SELECT run, point, rule, state, detail "
                            "FROM flag WHERE run = 'B1'\"",
                            folder) == 0);
        CHECK_CONTAINS(out, refusal->flag);
    }
    program_remove(folder);
    free(out);
}

static void what_is_wrong_is_named(void)
{
    for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++)
        check_refusal(&refusals[i]);
}

/* The oracle's names, its F1 .. F6 put for the loads, are the columns' names in the same order. */
static void names_of_the_terms(void)
{
    struct number_table table;
    CU_ASSERT_FATAL(number_table_read(SETS "balance96_coeffs.csv", &table));
    for (size_t t = 0; t < CALIBRATION_LOAD_TERMS; t++) {
        char name[64] = "";
        for (const char *at = table.name[t + 1]; *at != '\0'; at++) {
            size_t used = strlen(name);
            if (*at == 'F')
                (void)snprintf(name + used, sizeof name - used, "%s",
                               calibration_load_name((size_t)(*++at - '1')));
            else
                (void)snprintf(name + used, sizeof name - used, "%c", *at);
        }
        CHECK_TEXT(calibration_load_term_name(t), name);
        CHECK(calibration_load_term(name) == t);
    }
    CHECK(calibration_load_term("Fy*Fx") == CALIBRATION_LOAD_TERMS);
    number_table_free(&table);
}

/* A direct matrix of loads rated 1 : 100, and what exchanging its rows and columns makes of it. */
static void exchanged_rows_and_columns_of_a_direct_form(void)
{
    const double rated_here[LOAD_COUNT] = {100, 100, 10000, 100, 100, 100};
    struct calibration calibration = calibration_empty();
    for (size_t i = 0; i < LOAD_COUNT; i++)
        for (size_t j = 0; j < LOAD_COUNT; j++)
            calibration.linear[i][j] = rated_here[i] * (i == j ? 1 : 0.02);
    CHECK(!calibration_is_transposed(&calibration, rated_here));
    for (size_t i = 0; i < LOAD_COUNT; i++)
        for (size_t j = 0; j < LOAD_COUNT; j++)
            calibration.linear[i][j] = rated_here[j] * (i == j ? 1 : 0.02);
    CHECK(calibration_is_transposed(&calibration, rated_here));
    const double unknown[LOAD_COUNT] = {0};
    CHECK(!calibration_is_transposed(&calibration, unknown));
}

CU_TestInfo calibration_forms_tests[] = {
    {"loads of a 96-term balance come out of the program", loads_of_96_terms_come_out},
    {"what is wrong with an iterative calibration is named", what_is_wrong_is_named},
    {"terms are named in their order", names_of_the_terms},
    {"exchanged rows and columns of a direct form", exchanged_rows_and_columns_of_a_direct_form},
    CU_TEST_INFO_NULL};
