/* test_calibrate.c - `lapwing calibrate` from outside: fits, tares, terms, checks, what is missing.
 *
 * Loadings and their fits are those of tests/oracles/balance_sets.py, invented and worked with fractions. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/calibration_card.h"
#include "tests/card_look.h"
#include "tests/check.h"
#include "tests/number_table.h"
#include "tests/program.h"
#include "tests/refusal_folder.h"
#include "tests/scratch.h"

#define SETS "tests/oracles/balance_sets/"
#define UNITS "N,N,N,N m,N m,N m,mV/V,mV/V,mV/V,mV/V,mV/V,mV/V"
#define NAMES "Fx,Fy,Fz,Mx,My,Mz,R1,R2,R3,R4,R5,R6"
#define RATED_ONE                                                                          \
    "--rated 'Fx 1 N' --rated 'Fy 1 N' --rated 'Fz 1 N' --rated 'Mx 1 N m' --rated 'My 1 " \
    "N m' --rated 'Mz 1 N m' "

static const char *const source = "tests/oracles/balance_sets.py";

enum { SHEET = 65536, FIRST_RANDOM = 78 };

/* A row of the set of loadings that takes part. */
typedef int row_filter(const double *load, size_t row);

static int every_row(const double *load, size_t row)
{
    (void)load;
    (void)row;
    return 1;
}

static int without_fx_my_together(const double *load, size_t row)
{
    (void)row;
    return load[0] == 0 || load[4] == 0;
}

static int without_mz(const double *load, size_t row)
{
    (void)row;
    return load[5] == 0;
}

static int fy_in_one_sense(const double *load, size_t row)
{
    (void)row;
    return load[1] >= 0;
}

/* The 90 loadings, scaled by rated; the last twelve, of random loads, checks when checks is 1. */
static void write_calset(const char *folder, const char *name, const double rated[6],
                         row_filter *takes, int checks)
{
    struct number_table table = {0};
    char *text = malloc(SHEET);
    CU_ASSERT_FATAL(text != NULL && number_table_read(SETS "balance27_calset.csv", &table));
    size_t used = (size_t)snprintf(text, SHEET, NAMES ",check\n" UNITS ",\n");
    CHECK(table.rows == 90);
    for (size_t row = 0; row < table.rows; row++) {
        const double *cell = table.cell + row * table.columns + 1;
        if (!takes(cell, row))
            continue;
        for (size_t i = 0; i < 12; i++)
            used += (size_t)snprintf(text + used, SHEET - used, "%.12g,",
                                     i < 6 ? cell[i] * rated[i] : cell[i]);
        used += (size_t)snprintf(text + used, SHEET - used, "%s\n",
                                 checks && row >= FIRST_RANDOM ? "yes" : "");
    }
    number_table_free(&table);
    CHECK(scratch_write(folder, name, text));
    free(text);
}

static const double one[6] = {1, 1, 1, 1, 1, 1};

/* "term Fx*Fy" for the oracle's "F1*F2". */
static void item_of(const char *oracle, char item[64])
{
    size_t used = (size_t)snprintf(item, 64, "term ");
    for (const char *at = oracle; *at != '\0'; at++)
        used += *at == 'F' ? (size_t)snprintf(item + used, 64 - used, "%s",
                                              calibration_load_name((size_t)(*++at - '1')))
                           : (size_t)snprintf(item + used, 64 - used, "%c", *at);
}

/* Fitted coefficients of all 27 terms against the exact fit; 1e-12 is the rounding of 90 rows. */
static void all_terms_are_the_exact_fit(void)
{
    char out[PROGRAM_OUTPUT], folder[SCRATCH_PATH];
    struct number_table fit;
    CU_ASSERT_FATAL(scratch_make(folder));
    write_calset(folder, "set.csv", one, every_row, 0);
    CHECK(card_make(out, folder, "set", RATED_ONE "--keep-all") == 0);
    CHECK_CONTAINS(out, "90 loadings fitted, 0 held out; iterative form, 27 terms kept");
    CHECK_CONTAINS(out, "No loading was held out");
    CU_ASSERT_FATAL(number_table_read(SETS "balance27_calfit.csv", &fit));
    for (size_t i = 0; i < 6; i++) {
        const char *load = calibration_load_name(i);
        const double *cell = fit.cell + i * fit.columns;
        CHECK_NEAR(card_number(folder, "set", load, "term 1", CARD_VALUE), cell[1], 1e-15, source);
        for (size_t c = 2; c < 29; c++) {
            char item[64];
            item_of(fit.name[c], item);
            CHECK_NEAR(card_number(folder, "set", load, item, CARD_VALUE), cell[c], 2e-15, source);
        }
        CHECK_RELATIVE(card_number(folder, "set", load, "fit sd", CARD_VALUE), cell[29], 1e-12,
                       source);
    }
    number_table_free(&fit);
    scratch_remove(folder);
}

/* Chosen terms: each kept one of higher order has |t| above 4; none is farther than five standard errors
 * from the truth; checks of all six loads are read within 0.15 %, the noise of an output being 0.02 %. */
static void chosen_terms_and_checks(void)
{
    char out[PROGRAM_OUTPUT], folder[SCRATCH_PATH];
    struct number_table truth;
    size_t kept = 0, dropped = 0;
    CU_ASSERT_FATAL(scratch_make(folder));
    write_calset(folder, "set.csv", one, every_row, 1);
    CHECK(card_make(out, folder, "set", RATED_ONE) == 0);
    CHECK_CONTAINS(out, "78 loadings fitted, 12 held out");
    CU_ASSERT_FATAL(number_table_read(SETS "balance27_coeffs.csv", &truth));
    for (size_t i = 0; i < 6; i++) {
        const char *load = calibration_load_name(i);
        CHECK(card_number(folder, "set", load, "checks", CARD_VALUE) == 12);
        CHECK(fabs(card_number(folder, "set", load, "largest check error", CARD_VALUE)) < 0.15);
        CHECK(card_number(folder, "set", load, "check rms", CARD_VALUE) > 0.001);
        for (size_t c = 1; c < 28; c++) {
            char item[64];
            item_of(truth.name[c], item);
            double value = card_number(folder, "set", load, item, CARD_VALUE);
            double error = card_number(folder, "set", load, item, CARD_ERROR);
            if (error == 0) { /* its cells are empty */
                dropped++;
                CHECK(card_number(folder, "set", load, item, CARD_T) < 4);
                continue;
            }
            kept++;
            CHECK(c < 7 || fabs(value) > 4 * error);
            CHECK_NEAR(value, truth.cell[i * truth.columns + c], 5 * error, source);
            CHECK(card_number(folder, "set", load, item, CARD_INFLATION) < 10);
        }
    }
    CHECK(dropped > 5 && kept > 90);
    number_table_free(&truth);
    scratch_remove(folder);
}

/* A calibration that is made can be used: the campaign takes its file, of both forms. */
static void the_file_is_one_the_program_reads(void)
{
    static const double rated[6] = {5000, 5000, 9000, 5000, 5000, 5000};
    static const char *const forms[] = {"iterative", "direct"};
    char out[PROGRAM_OUTPUT], folder[64], options[256];
    for (size_t f = 0; f < 2; f++) {
        CU_ASSERT_FATAL(refusal_folder_make(folder));
        write_calset(folder, "set.csv", rated, every_row, 1);
        (void)snprintf(options, sizeof options,
                       "--balance floor --form %s --valid-from 2026-01-01T00:00Z --valid-until "
                       "2027-01-01T00:00Z",
                       forms[f]);
        CHECK(card_make(out, folder, "set", options) == 0);
        CHECK_CONTAINS(out, "Calibration of balance floor");
        CHECK(card_make(out, folder, "set", options) == 2);
        CHECK_CONTAINS(out, "set_made.csv is there already");
        CHECK(program_shell(out, "cp %s/set_made.csv %s/floor.csv && %s -C %s check", folder,
                            folder, program_lapwing(), folder) == 0);
        CHECK(program_shell(out, "%s -C %s ingest", program_lapwing(), folder) == 0);
        CHECK(program_shell(out,
                            "sqlite3 %s/season.sqlite \"SELECT form, valid_until_s - valid_from_s "
                            "FROM calibration_file; SELECT rated, lowest, highest, residual_sd < "
                            "0.0005 FROM calibration_load WHERE load = 'Fz'; SELECT "
                            "round(coefficient, 2) FROM calibration WHERE term IN ('Fz', 'R3') "
                            "AND load IN ('Fz', 'R3')\"",
                            folder) == 0);
        CHECK_CONTAINS(out, forms[f]);
        CHECK_CONTAINS(out, "|31536000.0\n9000.0|-9000.0|9000.0|1\n");
        CHECK_CONTAINS(out, f == 0 ? "\n1.0\n" : "\n900");
        program_remove(folder);
    }
}

/* r = 2 F + 0.01 F^2, F = applied + 3, rated 40 N: the fourth step moves the tare by 2.6e-6 N, less than
 * 4e-5; step by step the oracle's numbers. */
static void a_tare_is_found_by_iteration(void)
{
    char out[PROGRAM_OUTPUT], folder[SCRATCH_PATH];
    char text[1024] = "series,Fx,R1\n,N,mV/V\n";
    static const double applied[] = {0, 10, 20, 30, 40, -10, -20, -30, 40};
    struct number_table steps;
    CU_ASSERT_FATAL(scratch_make(folder));
    for (size_t i = 0; i < 9; i++) {
        double load = applied[i] + 3;
        size_t used = strlen(text);
        (void)snprintf(text + used, sizeof text - used, "hanger,%g,%.15g\n", applied[i],
                       2 * load + 0.01 * load * load);
    }
    CHECK(scratch_write(folder, "tare.csv", text));
    CHECK(card_make(out, folder, "tare", "--rated 'Fx 40 N' --keep-all") == 0);
    CHECK_CONTAINS(out, "tares, found in 4 steps");
    CU_ASSERT_FATAL(number_table_read(SETS "balance_tare_iteration.csv", &steps));
    const double *fourth = steps.cell + 3 * steps.columns;
    CHECK_NEAR(card_number(folder, "tare", "Fx", "tare of series hanger", CARD_VALUE), fourth[3],
               1e-11, source);
    CHECK_NEAR(card_number(folder, "tare", "Fx", "term Fx", CARD_VALUE), 40 * fourth[1], 1e-11,
               source);
    CHECK_NEAR(card_number(folder, "tare", "Fx", "term Fx*Fx", CARD_VALUE), 1600 * fourth[2], 1e-11,
               source);
    CHECK_NEAR(card_number(folder, "tare", "Fx", "highest", CARD_VALUE), 43, 1e-6, "40 and 3");
    number_table_free(&steps);
    scratch_remove(folder);
}

/* R1 = F + 2e-3 dT + 1e-4 dT^2 exactly, at three temperatures of mean 25 degC. */
static void temperature_has_terms(void)
{
    char out[PROGRAM_OUTPUT], folder[SCRATCH_PATH];
    char text[2048] = "Fx,R1,temperature\nN,V,degC\n", two[2048] = "Fx,R1,temperature\nN,V,degC\n";
    CU_ASSERT_FATAL(scratch_make(folder));
    for (int t = -10; t <= 10; t += 10) {
        for (int f = -4; f <= 4; f++) {
            size_t used = strlen(text);
            int n = snprintf(text + used, sizeof text - used, "%d,%.15g,%d\n", f,
                             f + 2e-3 * t + 1e-4 * t * t + 1e-6 * ((f * f + t) % 3), 25 + t);
            if (t != 0)
                (void)snprintf(two + strlen(two), sizeof two - strlen(two), "%.*s", n, text + used);
        }
    }
    CHECK(scratch_write(folder, "warm.csv", text) && scratch_write(folder, "two.csv", two));
    CHECK(card_make(out, folder, "warm", "--rated 'Fx 4 N' --terms 6") == 0);
    CHECK_NEAR(card_number(folder, "warm", "Fx", "term dT", CARD_VALUE), 2e-3, 1e-6, "identity");
    CHECK_NEAR(card_number(folder, "warm", "Fx", "term dT*dT", CARD_VALUE), 1e-4, 1e-7, "identity");
    CHECK_NEAR(card_number(folder, "warm", "Fx", "term Fx", CARD_VALUE), 4, 4e-6,
               "identity, of a load over its rated 4 N");
    CHECK(card_make(out, folder, "two", "--rated 'Fx 4 N' --terms 6") == 0);
    CHECK_CONTAINS(out, "dT*dT: there are too few temperatures");
    scratch_remove(folder);
}

static void missing_loadings_are_named(void)
{
    static const struct {
        row_filter *takes;
        const char *options, *words;
        int status;
    } cases[] = {
        {without_fx_my_together, "",
         "Fx*My: no loading has Fx and My together; add loadings with both", 0},
        {without_fx_my_together, "--keep-all",
         "the loadings do not bear the term Fx*My: no loading has Fx and My together", 2},
        {without_mz, "", "the loadings do not bear the term Mz: Mz is never loaded", 2},
        {fy_in_one_sense, "--terms 84", "|Fy|: Fy is loaded in one sense only", 0},
    };
    char out[PROGRAM_OUTPUT], folder[SCRATCH_PATH], options[512];
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        CU_ASSERT_FATAL(scratch_make(folder));
        write_calset(folder, "set.csv", one, cases[i].takes, 0);
        (void)snprintf(options, sizeof options, RATED_ONE "%s", cases[i].options);
        CHECK(card_make(out, folder, "set", options) == cases[i].status);
        CHECK_CONTAINS(out, cases[i].words);
        scratch_remove(folder);
    }
}

static void what_is_wrong_is_said(void)
{
    static const struct {
        const char *sheet, *options, *words;
    } cases[] = {
        {"Fx,R1\nN,mV/V\n0,0\n1,1\n2,2\n", "", "nothing says the rated Fx"},
        {"Fx,R1\nN,mV/V\n0,0\n1,1\n2,2\n", "--rated 'Fx 1 Pa'", "--rated 'Fx 1 Pa'"},
        {"Fx,R1\nN,mV/V\n0,0\n1,1\n2,2\n", "--rated 'Q 1 N'", "names no load"},
        {"Fx,R1\nN,mV/V\n0,0\n1,1\n2,2\n", "--rated 'Fx 2 N' --terms 7", "limit: 6, 27, 84 or 96"},
        {"Fx,R1\nN,mV/V\n0,0\n1,1\n2,2\n", "--rated 'Fx 2 N' --form direct --terms 84",
         "6 or 27 terms, not 84"},
        {"Fx,R1\nN,mV/V\n0,0\n1,1\n2,2\n", "--rated 'Fx 2 N' --valid-until 2026", "limit: YYYY"},
        {"Fx,R1\nN,mV/V\n0,0\n1,1\n2,2\n", "--rated 'Fx 2 N' --colour red", "no option '--colour'"},
        {"Fx,R1\nN,mV/V\n0,0\n1,1\n", "--rated 'Fx 2 N' --terms 6", "2 loadings are fitted with 2"},
        {"Fx,R1\nN,mV/V\n1,1\n1,1.1\n1,1.2\n1,1.1\n", "--rated 'Fx 2 N' --terms 6",
         "Fx never changes"},
        {"Fx,R1\nN,mV/V\n0,0\n1,x\n2,2\n", "--rated 'Fx 2 N'", "bad.csv:4:3: 'x' is not a number"},
        {"Fx,R1\nmm,mV/V\n0,0\n1,1\n2,2\n", "--rated 'Fx 2 N'", "bad.csv:2:1: no usable unit"},
        {"Fx,R1\nN,\n0,0\n1,1\n2,2\n", "--rated 'Fx 2 N'", "bad.csv:2:3: the output has no unit"},
        {"Fx,Fy,R1,R2\nN,N,V/V,mV/V\n0,0,0,0\n", "",
         "bad.csv:2:9: the output is in 'mV/V', others "
         "in 'V/V'"},
        {"Fx,Fy,R1\nN,N,V/V\n0,0,0\n", "", "2 of the loads Fx .. Mz and 1 of the outputs"},
        {"Fx,R1,check\nN,mV/V,\n0,0,maybe\n", "", "bad.csv:3:5: 'maybe'; limit: yes, no or empty"},
        {"Fx,R1,check\nN,mV/V,\n0,0,yes\n", "--rated 'Fx 2 N'", "there is no loading to fit"},
        {"Fx,R1\nkN,mV/V\n0,0\n1,1\n2,2\n", "--rated 'Fx 2 N'",
         "Fx is 1000 N on line 4, 500 times its rated 2 N; limit: 2 times"},
        {"Fx,R1\nN,mV/V\n0,0\n1,1\n2,2\n", "--rated 'Fx 2 kN'",
         "Fx reaches 2 N, 0.1 % of its rated 2000 N; limit: 2 %"},
        {"series,Fx,R1\n,N,mV/V\na,1,1\na,2,2\na,3,3.1\na,4,4\n", "--rated 'Fx 2 N' --terms 6",
         "series 'a' has no reading without load"},
    };
    char out[PROGRAM_OUTPUT], folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(scratch_make(folder));
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        CHECK(scratch_write(folder, "bad.csv", cases[i].sheet));
        CHECK(card_make(out, folder, "bad", cases[i].options) == 2);
        CHECK_CONTAINS(out, cases[i].words);
    }
    CHECK(program_shell(out, "test -e %s/bad_made_card.csv", folder) == 1);
    CHECK(program_shell(out, "%s calibrate", program_lapwing()) == 2);
    CHECK_CONTAINS(out, "calibrate needs a sheet");
    scratch_remove(folder);
}

/* Two series at one temperature each, F = applied + 12, r = 0.001 F + 2e-8 F^2 and 0.005 more in the warm
 * one: that is a zero shift or 5 N more of tare, so it is left to the tare, and said. */
static void a_tare_is_not_hidden_by_temperature(void)
{
    char out[PROGRAM_OUTPUT], folder[SCRATCH_PATH];
    char text[2048] = "series,Fx,temperature,R1\n,N,K,mV/V\n";
    CU_ASSERT_FATAL(scratch_make(folder));
    for (int i = 0; i < 22; i++) {
        int is_warm = i >= 11;
        int applied = 200 * (i % 11) - 1000;
        double load = applied + 12;
        size_t used = strlen(text);
        (void)snprintf(text + used, sizeof text - used, "%s,%d,%d,%.12f\n",
                       is_warm ? "warm" : "cold", applied, is_warm ? 303 : 293,
                       1e-3 * load + 2e-8 * load * load + (is_warm ? 0.005 : 0));
    }
    CHECK(scratch_write(folder, "warm.csv", text));
    CHECK(card_make(out, folder, "warm", "--rated 'Fx 1000 N'") == 0);
    CHECK_CONTAINS(out, "dT: too few temperatures within one series");
    CHECK_NEAR(card_number(folder, "warm", "Fx", "tare of series cold", CARD_VALUE), 12, 2e-3,
               "the load that was put on; the warm offset bends the common curve a little");
    scratch_remove(folder);
}

/* The card's page closes what it opens, says what was kept, and the same loadings give the same bytes. */
static void the_card_is_a_page(void)
{
    char out[PROGRAM_OUTPUT], folder[SCRATCH_PATH];
    CU_ASSERT_FATAL(scratch_make(folder));
    write_calset(folder, "set.csv", one, without_fx_my_together, 0);
    CHECK(card_make(out, folder, "set", RATED_ONE) == 0);
    char *page = scratch_read(folder, "set_made_card.html");
    CU_ASSERT_FATAL(page != NULL);
    CHECK_CONTAINS(page, "no loading has Fx and My together");
    CHECK_CONTAINS(page, "</html>");
    CHECK_CONTAINS(page, "SHA-256 of the loadings");
    CHECK_CONTAINS(page, "spectral radius over the load box");
    free(page);
    CHECK(program_shell(out, "cd %s && cat set_made* | sha256sum > a && rm set_made*", folder) ==
          0);
    CHECK(card_make(out, folder, "set", RATED_ONE "--quiet") == 0);
    CHECK_TEXT(out, "");
    CHECK(program_shell(out, "cd %s && cat set_made* | sha256sum | cmp - a", folder) == 0);
    scratch_remove(folder);
}

/* Forty loadings on a line but for a wobble; one is written in the other sense. */
static void a_loading_far_off_is_told_by_its_line(void)
{
    char out[PROGRAM_OUTPUT], folder[SCRATCH_PATH], text[2048] = "Fx,R1\nN,V\n";
    CU_ASSERT_FATAL(scratch_make(folder));
    for (int wrong = 0; wrong < 2; wrong++) {
        size_t used = strlen("Fx,R1\nN,V\n");
        for (int f = -20; f < 20; f++)
            used += (size_t)snprintf(text + used, sizeof text - used, "%d,%g\n", f,
                                     (wrong && f == -15 ? -f : f) + 1e-3 * ((f * f) % 3));
        CHECK(scratch_write(folder, "far.csv", text));
        CHECK(program_shell(out, "%s calibrate %s/far.csv --rated 'Fx 20 N' --terms 6",
                            program_lapwing(), folder) == 0);
        CHECK((strstr(out, "far off the fit") != NULL) == wrong);
    }
    CHECK_CONTAINS(out, "line 8: Fx is off by +1");
    CHECK_CONTAINS(out, "standard deviations of the fit");
    scratch_remove(folder);
}

static void names_of_direct_terms(void)
{
    CHECK_TEXT(card_term_name(CALIBRATION_DIRECT, 0).text, "R1");
    CHECK_TEXT(card_term_name(CALIBRATION_DIRECT, CARD_INTERCEPT).text, "1");
    CHECK_TEXT(card_term_name(CALIBRATION_ITERATIVE, CARD_TEMPERATURE).text, "dT");
    size_t named = 0;
    for (size_t term = 0; term < CALIBRATION_LOAD_TERMS; term++)
        named += card_direct_term(term) < CALIBRATION_TERMS;
    CHECK(named == CALIBRATION_TERMS);
    CHECK(card_direct_term(calibration_load_term("Fx*Fy")) == 7);
    CHECK(card_direct_term(calibration_load_term("|Fx|")) == CALIBRATION_TERMS);
}

CU_TestInfo calibrate_tests[] = {
    {"all terms are the exact fit", all_terms_are_the_exact_fit},
    {"terms are chosen, and checks held out", chosen_terms_and_checks},
    {"the file is one the program reads", the_file_is_one_the_program_reads},
    {"a tare is found by iteration", a_tare_is_found_by_iteration},
    {"a tare is not hidden by temperature", a_tare_is_not_hidden_by_temperature},
    {"temperature has terms", temperature_has_terms},
    {"missing loadings are named", missing_loadings_are_named},
    {"what is wrong is said", what_is_wrong_is_said},
    {"the card is a page", the_card_is_a_page},
    {"a loading far off is told by its line", a_loading_far_off_is_told_by_its_line},
    {"names of direct terms", names_of_direct_terms},
    CU_TEST_INFO_NULL};
