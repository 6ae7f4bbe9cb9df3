/* load_cells.c - calibrations of load cells against the fits their laboratories published.
 *
 * Sources: tests/published/load_cells/README.md, the laboratory's own regressions of load on output, all
 * digits of its files quoted here; NIST/SEMATECH e-Handbook of Statistical Methods, 2.3.6, LOADCELL.DAT. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>

#include "tests/card_look.h"
#include "tests/check.h"
#include "tests/number_table.h"
#include "tests/program.h"
#include "tests/scratch.h"

#define CELLS "tests/published/load_cells/"

static const double newton_rated = 500 * 4.4482216152605; /* 500 lbf, NIST SP 811 */

static const struct cell {
    const char *side;
    double slope, error, intercept; /* both directions */
    double up_slope, up_error, up_intercept;
    double hysteresis; /* N, largest, what the fit of the way up reads too much on the way down */
} cells[] = {
    {"left", 742830.29770549724, 1447.650171449003, 2.3736742279065766, 743526.11665829818,
     803.5192489770867, 5.3471302621121595, 14.6},
    {"right", 742399.89847406675, 516.13938435432317, -17.053370394381091, 742296.11678945378,
     304.163370053292, -15.086585999021281, 5.2},
};

/* Rows of one direction, to text; gives its new length. */
static size_t add_rows(const char *side, const char *direction, char *text, size_t size,
                       size_t used)
{
    struct number_table table;
    char path[96];
    (void)snprintf(path, sizeof path, CELLS "%s_%s.csv", side, direction);
    if (!number_table_read(path, &table))
        return used;
    CHECK(table.rows == 10);
    for (size_t i = 0; i < table.rows; i++)
        used += (size_t)snprintf(text + used, size - used, "%.17g,%.17g,%s\n",
                                 table.cell[2 * i + 1], table.cell[2 * i], direction);
    number_table_free(&table);
    return used;
}

static void write_sheet(const char *folder, const char *name, const char *side, int with_down)
{
    char text[4096] = "Fx,R1,direction\nN,V/V,\n";
    size_t used = add_rows(side, "up", text, sizeof text, 23);
    if (with_down)
        (void)add_rows(side, "down", text, sizeof text, used);
    CHECK(scratch_write(folder, name, text));
}

static void cells_loaded_up_and_down(void)
{
    static const char options[] = "--form direct --terms 6 --rated 'Fx 500 lbf'";
    const char *source = "the laboratory's own fits, README.md beside the data";
    char out[PROGRAM_OUTPUT], folder[SCRATCH_PATH];
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++) {
        const struct cell *cell = &cells[i];
        CU_ASSERT_FATAL(scratch_make(folder));
        write_sheet(folder, "all.csv", cell->side, 1);
        write_sheet(folder, "up.csv", cell->side, 0);
        CHECK(card_make(out, folder, "all", options) == 0);
        CHECK_CONTAINS(out, "Fewer than six components");
        CHECK(card_make(out, folder, "up", options) == 0);
        /* Eleven digits: the laboratory's own arithmetic was in doubles. */
        CHECK_RELATIVE(card_number(folder, "all", "Fx", "term R1", CARD_VALUE), cell->slope, 1e-11,
                       source);
        CHECK_RELATIVE(card_number(folder, "all", "Fx", "term R1", CARD_ERROR), cell->error, 1e-9,
                       source);
        CHECK_RELATIVE(card_number(folder, "all", "Fx", "term 1", CARD_VALUE), cell->intercept,
                       1e-9, source);
        CHECK_RELATIVE(card_number(folder, "up", "Fx", "term R1", CARD_VALUE), cell->up_slope,
                       1e-11, source);
        CHECK_RELATIVE(card_number(folder, "up", "Fx", "term R1", CARD_ERROR), cell->up_error, 1e-9,
                       source);
        CHECK_RELATIVE(card_number(folder, "up", "Fx", "term 1", CARD_VALUE), cell->up_intercept,
                       1e-9, source);
        CHECK_NEAR(card_number(folder, "all", "Fx", "hysteresis", CARD_VALUE) / 100 * newton_rated,
                   cell->hysteresis, 0.05, "printed to 0.1 N");
        CHECK(program_shell(out,
                            "grep -c hysteresis %s/all_made_card.html; test -e "
                            "%s/all_made.csv",
                            folder, folder) == 1);
        scratch_remove(folder);
    }
}

static void a_cell_of_the_handbook(void)
{
    const char *source = "NIST/SEMATECH e-Handbook, 2.3.6, LOADCELL.DAT";
    char out[PROGRAM_OUTPUT], folder[SCRATCH_PATH], text[2048] = "Fz,R3\nN,1\n";
    struct number_table table;
    size_t used = 10;
    CU_ASSERT_FATAL(scratch_make(folder));
    CU_ASSERT_FATAL(number_table_read("tests/published/strd/loadcell.csv", &table));
    for (size_t i = 0; i < table.rows; i++)
        used += (size_t)snprintf(text + used, sizeof text - used, "%.17g,%.17g\n",
                                 table.cell[2 * i], table.cell[2 * i + 1]);
    number_table_free(&table);
    CHECK(scratch_write(folder, "cell.csv", text));
    /* Loaded in one sense, a square is much like its load: as strong as it is, the rule drops it, and says so. */
    CHECK(card_make(out, folder, "cell", "--rated 'Fz 21 N'") == 0);
    CHECK_CONTAINS(out, "strong terms dropped for variance inflation");
    CHECK_CONTAINS(out, "Fz*Fz of Fz: |t| ");
    CHECK(program_shell(out, "rm %s/cell_made*", folder) == 0);
    CHECK(card_make(out, folder, "cell", "--rated 'Fz 21 N' --keep-all") == 0);
    CHECK_RELATIVE(card_number(folder, "cell", "Fz", "term 1", CARD_VALUE), -1.839805e-5, 5e-7,
                   source);
    CHECK_NEAR(card_number(folder, "cell", "Fz", "term Fz", CARD_VALUE) / 21, 0.100102485, 5e-10,
               source);
    CHECK_RELATIVE(card_number(folder, "cell", "Fz", "term Fz*Fz", CARD_VALUE) / 441, 7.031865e-6,
                   5e-7, source);
    CHECK_RELATIVE(card_number(folder, "cell", "Fz", "fit sd", CARD_VALUE), 3.76403e-5, 5e-6,
                   source);
    scratch_remove(folder);
}

CU_TestInfo load_cells_tests[] = {{"two cells loaded up and down", cells_loaded_up_and_down},
                                  {"a cell of the handbook", a_cell_of_the_handbook},
                                  CU_TEST_INFO_NULL};
