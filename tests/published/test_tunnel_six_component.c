/* test_tunnel_six_component.c - measured steps of a real balance to the loads its tunnel printed.
 *
 * The folder tests/published/tunnel_six_component (README there: origin, licence, choice of zero) goes
 * through the program's own ingest and reduce, on a copy. The printed loads are those of the file
 * unc_rudder0.txt of the same source: forces to 0.01 N, moments to 0.01 N m, q to 0.1 Pa.            */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>

#include "ingest/ingest_command.h"
#include "reduce/reduce_command.h"
#include "schema/campaign.h"
#include "schema/store.h"
#include "tests/check.h"
#include "tests/program.h"

enum { POINTS = 46, LOADS = 6 };

#define SOURCE "skilkis/experimental_simulations (MIT), data/BAL/unc_rudder0.txt, 2021"

static const char *const loads[LOADS] = {"Fx", "Fy", "Fz", "Mx", "My", "Mz"};

/* Fx Fy Fz Mx My Mz at the six points with alpha 5 degrees, whose zero is in the files. */
static const struct {
    const char *point;
    double load[LOADS];
} printed[] = {
    {"13", {10.29, -36.36, 168.74, -4.91, -5.67, -14.47}},
    {"16", {10.62, 39.06, 171.74, 3.96, -7.24, 13.17}},
    {"27", {10.58, -35.94, 165.56, -4.48, -4.46, -12.81}},
    {"30", {10.21, 39.43, 167.96, 4.01, -5.80, 14.91}},
    {"35", {6.33, -36.19, 167.56, -4.98, -5.57, -13.68}},
    {"38", {6.40, 38.72, 169.81, 3.58, -6.59, 13.85}},
};

/* q, Pa, of points 1 .. 46. */
static const double printed_q[POINTS] = {
    250.3, 250.1, 248.6, 248.0, 248.9, 249.5, 248.2, 248.8, 250.3, 249.5, 250.0, 249.8,
    994.0, 996.0, 992.9, 992.8, 992.2, 992.4, 990.0, 992.0, 991.8, 993.6, 992.1, 989.7,
    989.8, 993.4, 990.8, 991.2, 989.2, 990.4, 989.7, 988.7, 991.1, 992.0, 988.4, 989.6,
    991.7, 991.7, 992.5, 991.1, 990.0, 991.1, 557.1, 558.1, 557.6, 557.3};

static int run_command(const struct command *command, const char *folder, struct fault *fault)
{
    struct common_options common = {.folder = folder, .quiet = 1, .threads = 1};
    char name[32];
    char *arguments[] = {name, NULL};

    (void)snprintf(name, sizeof name, "%s", command->name);
    return command->run(&common, 1, arguments, fault);
}

/* Copies the folder, edits the copy by a shell's words, reads and reduces it, and opens its database;
 * NULL when a step fails. */
static struct store *reduced_edit(char path[64], const char *edit)
{
    char out[PROGRAM_OUTPUT], file[128];
    struct fault fault = {OK, "", "", ""};
    struct store *store = NULL;

    CHECK(program_scratch(path));
    CHECK(program_shell(out, "cp -R tests/published/tunnel_six_component/. %s", path) == 0);
    CHECK(program_shell(out, "cd %s && %s", path, edit) == 0);
    CHECK_OK(run_command(&ingest_command, path, &fault), &fault);
    CHECK_OK(run_command(&reduce_command, path, &fault), &fault);
    (void)snprintf(file, sizeof file, "%s/season.sqlite", path);
    CHECK_OK(store_open(file, STORE_READ_ONLY, &store, &fault), &fault);
    return store;
}

static struct store *reduced_copy(char path[64])
{
    return reduced_edit(path, "true");
}

/* The one number that a query with two text parameters gives; NAN when there is none. */
static double number(struct store *store, const char *sql, const char *first, const char *second)
{
    struct statement *statement = NULL;
    struct fault fault = {OK, "", "", ""};
    double value = NAN;
    int row = 0;

    CHECK_OK(statement_prepare(store, sql, &statement, &fault), &fault);
    if (statement == NULL)
        return NAN;
    CHECK_OK(statement_bind_text(statement, 1, first, &fault), &fault);
    if (second != NULL)
        CHECK_OK(statement_bind_text(statement, 2, second, &fault), &fault);
    CHECK_OK(statement_step(statement, &row, &fault), &fault);
    if (row)
        value = statement_real(statement, 0);
    statement_free(statement);
    return value;
}

static void loads_equal_those_that_the_tunnel_printed(void)
{
    static const char *const sql = "SELECT value FROM ledger WHERE run = 'rudder0' AND "
                                   "step = 'balance' AND point = ?1 AND quantity = ?2";
    char path[64];
    struct store *store = reduced_copy(path);

    for (size_t i = 0; store != NULL && i < sizeof printed / sizeof printed[0]; i++)
        for (size_t j = 0; j < LOADS; j++)
            CHECK_NEAR(number(store, sql, printed[i].point, loads[j]), printed[i].load[j], 0.010,
                       SOURCE);
    CHECK(store != NULL);
    CHECK_OK(store_close(store, NULL), NULL);
    program_remove(path);
}

/* The balance stands still while the model yaws; its reference point is the model's origin. */
static void loads_are_turned_into_the_axes_of_the_model(void)
{
    static const char *const balance = "SELECT value FROM ledger WHERE run = 'rudder0' AND "
                                       "step = 'balance' AND point = ?1 AND quantity = ?2";
    static const char *const model = "SELECT value FROM ledger WHERE run = 'rudder0' AND "
                                     "step = 'transfer' AND point = ?1 AND quantity = ?2";
    static const char *const angle = "SELECT yaw_rad FROM point_coefficient WHERE point = ?1";
    char path[64];
    struct store *store = reduced_copy(path);

    for (size_t i = 0; store != NULL && i < sizeof printed / sizeof printed[0]; i++) {
        const char *point = printed[i].point;
        double yaw = number(store, angle, point, NULL);
        CHECK(fabs(yaw) > 0.1);
        for (int j = 0; j < LOADS; j += 3) {
            double x = number(store, balance, point, loads[j]);
            double y = number(store, balance, point, loads[j + 1]);
            CHECK_NEAR(number(store, model, point, loads[j]), x * cos(yaw) + y * sin(yaw), 1e-10,
                       "rotation about z, worked by hand");
            CHECK_NEAR(number(store, model, point, loads[j + 1]), y * cos(yaw) - x * sin(yaw),
                       1e-10, "rotation about z, worked by hand");
        }
    }
    CHECK(store != NULL);
    CHECK_OK(store_close(store, NULL), NULL);
    program_remove(path);
}

static void dynamic_pressure_equals_the_printed_one(void)
{
    static const char *const sql = "SELECT dynamic_pressure_pa FROM point_coefficient "
                                   "WHERE run = 'rudder0' AND point = ?1";
    char path[64], point[16];
    struct store *store = reduced_copy(path);
    double sum = 0.0;

    for (int i = 0; store != NULL && i < POINTS; i++) {
        (void)snprintf(point, sizeof point, "%d", i + 1);
        double miss = number(store, sql, point, NULL) - printed_q[i];
        sum += miss * miss;
    }
    CHECK(store != NULL);
    CHECK_NEAR(sqrt(sum / POINTS), 0.0, 0.035, SOURCE); /* printed to 0.1 Pa: 0.029 by rounding */
    CHECK_OK(store_close(store, NULL), NULL);
    program_remove(path);
}

/* The flag's sentence; "" when there is none, or more than one. */
static void yaw_flag(struct store *store, char *out, size_t size)
{
    static const char *const sql = "SELECT group_concat(state || ': ' || detail, ' / ') FROM flag "
                                   "WHERE run = 'rudder0' AND rule = 'zero-depends-on-yaw'";
    struct statement *statement = NULL;
    struct fault fault = {OK, "", "", ""};
    int row = 0;

    CHECK_OK(statement_prepare(store, sql, &statement, &fault), &fault);
    CHECK_OK(statement_step(statement, &row, &fault), &fault);
    (void)snprintf(out, size, "%s",
                   row && statement_text(statement, 0) != NULL ? statement_text(statement, 0) : "");
    statement_free(statement);
}

/* Of the pair of readings at one alpha whose coefficients differ most, at the q of point 1. */
static const char oracle_change[] =
    "changes CY by +0.00110 and CN (CYM) by -0.01961 at q 250 Pa, CRM most of all by +0.03484: Fy "
    "+0.063 N, Mx +0.332 N m, My +0.157 N m, Mz -0.187 N m in the car's axes";

/* The wind-off readings are in the run sheet as zeros only, and one of them serves all points. */
static void one_zero_for_all_yaw_angles_is_flagged(void)
{
    char path[64], said[1200];
    struct store *store = reduced_copy(path);

    yaw_flag(store, said, sizeof said);
    CHECK_CONTAINS(said, "flagged: from yaw -7.00 to 10.00 deg (points 3 and 7 of run zeros)");
    CHECK_CONTAINS(said, oracle_change); /* tests/oracles/zero_by_yaw.py */
    CHECK_CONTAINS(said, "it is inside the coefficients");
    CHECK_OK(store_close(store, NULL), NULL);
    program_remove(path);
}

/* The same readings declared as the weight tare: found, told, and taken off. */
static void the_wind_off_sweep_tells_that_the_zero_depends_on_yaw(void)
{
    static const char *const as_tare =
        "sed -i 's/weight_tare: none/weight_tare: fit\\n"
        "      tare_tolerance: {pitch: 0.05 deg, yaw: 0.05 deg}/' campaign.yaml && "
        "sed -i 's#zeros/8,none#zeros/8,sweep#' runs.csv && echo 'sweep,low-speed tunnel,2021-03,"
        "2021-03-03T15:39:43+01:00,,weight_tare,external,zeros=logs/zer_20210303-154703.txt,"
        "zeros/8,none,,' >> runs.csv";
    static const char *const sql =
        "SELECT b.value - t.value FROM ledger AS b JOIN ledger AS t USING (run, point, quantity) "
        "WHERE b.step = 'balance' AND t.step = 'weight tare' AND point = ?1 AND quantity = ?2";
    char path[64], said[1200];
    struct store *store = reduced_edit(path, as_tare);

    yaw_flag(store, said, sizeof said);
    CHECK_CONTAINS(said, "info: from yaw -7.00 to 10.00 deg (points 3 and 7 of run sweep)");
    CHECK_CONTAINS(said, oracle_change); /* tests/oracles/zero_by_yaw.py */
    CHECK_CONTAINS(said, "the weight tare takes it off");
    CHECK_NEAR(number(store, sql, "13", "Mz"), -0.006475457 * 27.8 + 0.000030669 * -20.2, 5e-4,
               "by hand: B6 and B2 of rows 9 and 8 of the log of readings, steps times N m/step");
    CHECK_NEAR(number(store, sql, "13", "Fx"), 0.009200961 * -21.5, 5e-4,
               "by hand: B1 of the same rows, steps times N/step");
    CHECK_NEAR(number(store, sql, "16", "Mz"), 0, 0.002, "identity: point 16 is at the zero's yaw");
    CHECK_OK(store_close(store, NULL), NULL);
    program_remove(path);
}

/* The balance file is what the script makes of the published constants. */
static void the_direct_form_is_that_of_the_constants(void)
{
    char out[PROGRAM_OUTPUT];

    CHECK(program_shell(out,
                        "python3 tests/oracles/direct_matrix.py "
                        "tests/published/tunnel_six_component/constants | "
                        "diff - tests/published/tunnel_six_component/balance/external.csv") == 0);
    CHECK_TEXT(out, "");
}

extern CU_TestInfo tunnel_six_component_tests[];
CU_TestInfo tunnel_six_component_tests[] = {
    {"loads equal those that the tunnel printed", loads_equal_those_that_the_tunnel_printed},
    {"loads are turned into the axes of the model", loads_are_turned_into_the_axes_of_the_model},
    {"dynamic pressure equals the printed one", dynamic_pressure_equals_the_printed_one},
    {"one zero for all yaw angles is flagged", one_zero_for_all_yaw_angles_is_flagged},
    {"the wind-off sweep tells that the zero depends on yaw",
     the_wind_off_sweep_tells_that_the_zero_depends_on_yaw},
    {"the direct form is that of the constants", the_direct_form_is_that_of_the_constants},
    CU_TEST_INFO_NULL};
