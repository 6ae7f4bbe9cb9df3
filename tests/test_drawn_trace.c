/* test_drawn_trace.c - a suspicious point's samples and their spectrum, on the page as in the database. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "tests/check.h"
#include "tests/drawn_night.h"
#include "tests/svg_axis.h"

enum { BINS = 60, PLACES = 2 * BINS };
enum { MINIMUM, MEAN, MAXIMUM, MIDDLE };

/* A channel of the fixture's run R103 at point 4, written in mm: 240 rows 0.05 s apart in bins of four; bin
 * 40 is empty; row 30 stands out, rows 100 to 139 are the same. Invented. */
static const char trace[] =
    "INSERT OR REPLACE INTO channel (run, position, log_position, column_name, role, unit, "
    "written_unit, sign) VALUES ('R103', 2, 0, 'R3', 'balance_output_3', 'm', 'mm', 1);"
    "INSERT INTO trace VALUES ('R103', '4', 2, 'stuck', 9, 0.05, 240, 4, 0.0124, 0.0005, 0.012, "
    "41, 0.0165, 30, 64, 6, 11, 0.5, 2.9);"
    "INSERT INTO trace_bin WITH RECURSIVE b(i) AS (VALUES (0) UNION ALL SELECT i + 1 FROM b WHERE "
    "i < 59), v AS (SELECT i, 0.012 + 0.0001 * ((i * 37) % 23) AS middle FROM b) SELECT 'R103', "
    "'4', 2, i, CASE i WHEN 40 THEN 0 ELSE 4 END, CASE i WHEN 40 THEN NULL ELSE middle - 0.0002 - "
    "0.00001 * (i % 5) END, CASE i WHEN 40 THEN NULL ELSE middle END, CASE i WHEN 40 THEN NULL "
    "WHEN 7 THEN 0.0165 ELSE middle + 0.0003 END FROM v;"
    "INSERT INTO spectrum WITH RECURSIVE b(i) AS (VALUES (0) UNION ALL SELECT i + 1 FROM b WHERE i "
    "< 32) SELECT 'R103', '4', 2, i, i / (64 * 0.05), 1e-9 / (1 + i * i) FROM b;"
    "INSERT INTO trace_mark VALUES ('R103', '4', 2, 0, 30, 30), ('R103', '4', 2, 1, 100, 139);"
    "INSERT INTO flag_row (run, point, subject, rule, state, unit, detail) VALUES ('R103', '4', "
    "'R3', 'stuck', 'failed', 'm', 'it stands still')";

/* Millimetres; a bin's middle is that of its first and last row. */
static const char bins_sql[] =
    "SELECT '', '', '', '', 1000 * b.minimum, 1000 * b.mean, 1000 * b.maximum, t.step_s * (b.bin * "
    "t.rows_a_bin + (t.rows_a_bin - 1) / 2.0), 0, 0 FROM trace_bin AS b JOIN trace AS t ON t.run = "
    "b.run AND t.point = b.point AND t.position = b.position WHERE b.n > 0 ORDER BY b.bin";

static const char densities_sql[] =
    "SELECT '', '', '', '', log10(frequency_hz), log10(1e6 * density), 0, 0, 0, 0 FROM spectrum "
    "WHERE bin BETWEEN 1 AND 31 ORDER BY bin";

/* A tinted band of maxima there and minima back, for one stretch of bins. */
static size_t check_stretch(const char *band, const char *line, const struct svg_axis *up,
                            const struct svg_axis *across, const struct drawn_row *rows, size_t n)
{
    struct svg_place edge[PLACES], mean[BINS];
    size_t corners = svg_path_read(band, edge, PLACES), length = svg_path_read(line, mean, BINS);
    double near = svg_near(up);

    CHECK(length > 0 && length <= n && corners == 2 * length);
    if (length > n || corners != 2 * length)
        return 0;
    for (size_t i = 0; i < length; i++) {
        const double places[] = {mean[i].x, edge[i].x, edge[corners - 1 - i].x};
        for (int k = 0; k < 3; k++)
            CHECK_NEAR(svg_value(across, places[k]), rows[i].number[MIDDLE], svg_near(across),
                       "the database");
        CHECK_NEAR(svg_value(up, mean[i].y), rows[i].number[MEAN], near, "the database");
        CHECK_NEAR(svg_value(up, edge[i].y), rows[i].number[MAXIMUM], near, "the database");
        CHECK_NEAR(svg_value(up, edge[corners - 1 - i].y), rows[i].number[MINIMUM], near,
                   "the database");
    }
    return length;
}

static void check_samples(const struct drawn_night *night)
{
    struct drawn_row rows[BINS];
    struct svg svg = svg_find(night->text, "R3 at R103/4 over time");
    struct svg_axis up = svg_axis_read(svg, SVG_UP, SVG_LINEAR);
    struct svg_axis across = svg_axis_read(svg, SVG_ACROSS, SVG_LINEAR);
    size_t n = drawn_rows(night->store, bins_sql, rows, BINS), seen = 0, stretches = 0;
    for (const char *band = svg_next_class(svg.from, svg.stop, "spread"); band != NULL;
         band = svg_next_class(band, svg.stop, "spread"), stretches++)
        seen += check_stretch(band, svg_next_class(band, svg.stop, "line"), &up, &across,
                              &rows[seen], n - seen);
    CHECK(seen == n && n == BINS - 1 && stretches == 2); /* the empty bin is a gap */
    const char *mean = svg_next_class(svg.from, svg.stop, "zero");
    const char *ring = svg_next_class(svg.from, svg.stop, "ring");
    const char *box = svg_next_class(svg.from, svg.stop, "beyond");
    CHECK(mean != NULL && ring != NULL && box != NULL);
    if (mean != NULL && ring != NULL && box != NULL) {
        double left = svg_attribute(box, "x"), wide = svg_attribute(box, "width");
        CHECK_NEAR(svg_value(&up, svg_attribute(mean, "y1")), 12.4, svg_near(&up), "the database");
        CHECK_NEAR(svg_value(&across, svg_centre(ring).x), 30 * 0.05, svg_near(&across), "row 30");
        CHECK_NEAR(svg_value(&up, svg_centre(ring).y), 16.5, svg_near(&up), "its peak");
        CHECK_NEAR(svg_value(&across, left), 100 * 0.05, svg_near(&across), "from row 100");
        CHECK_NEAR(svg_value(&across, left + wide), 140 * 0.05, svg_near(&across),
                   "to the end of row 139");
    }
}

/* Three short lines across and one upright at the right of the axis: the factors as long as they are there. */
static void check_bar(struct svg svg, const struct svg_axis *up)
{
    int found = 0;

    for (const char *at = svg_next_class(svg.from, svg.stop, "axis"); at != NULL;
         at = svg_next_class(at, svg.stop, "axis")) {
        double low = svg_value(up, svg_attribute(at, "y2")),
               high = svg_value(up, svg_attribute(at, "y1"));
        if (svg_attribute(at, "x1") != svg_attribute(at, "x2"))
            continue;
        CHECK_NEAR(high - low, log10(2.9 / 0.5), 2 * svg_near(up), "the database");
        found++;
    }
    CHECK(found == 1);
}

static void check_spectrum(const struct drawn_night *night)
{
    struct drawn_row rows[BINS];
    struct svg_place line[BINS];
    struct svg svg = svg_find(night->text, "power spectral density of R3");
    struct svg_axis up = svg_axis_read(svg, SVG_UP, SVG_LOG);
    struct svg_axis across = svg_axis_read(svg, SVG_ACROSS, SVG_LOG);
    size_t n = drawn_rows(night->store, densities_sql, rows, BINS);
    const char *path = svg_next_class(svg.from, svg.stop, "line");
    size_t corners = path != NULL ? svg_path_read(path, line, BINS) : 0;
    CHECK(corners == n && n == 31);
    for (size_t i = 0; i < n && i < corners; i++) {
        CHECK_NEAR(svg_value(&across, line[i].x), rows[i].number[0], svg_near(&across),
                   "the database");
        CHECK_NEAR(svg_value(&up, line[i].y), rows[i].number[1], svg_near(&up), "the database");
    }
    check_bar(svg, &up);
}

static void check_night(void (*check_what)(const struct drawn_night *))
{
    struct drawn_night night;

    if (drawn_night_make(&night, 0, trace))
        check_what(&night);
    drawn_night_end(&night);
}

static void samples_are_the_rows(void)
{
    check_night(check_samples);
}

static void the_spectrum_is_the_rows(void)
{
    check_night(check_spectrum);
}

extern CU_TestInfo drawn_trace_tests[];
CU_TestInfo drawn_trace_tests[] = {{"samples are the rows", samples_are_the_rows},
                                   {"the spectrum is the rows", the_spectrum_is_the_rows},
                                   CU_TEST_INFO_NULL};
