/* explain_trace.c - see explain_trace.h. */
#include "reduce/explain_trace.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"
#include "schema/kept_trace.h"

enum { LINES = 40, MARKS_LISTED = 12, PEAKS_LISTED = 3 };

/* The point itself, or the only one of the run at a target of that name. */
static const char place_sql[] =
    "SELECT p.point, t.position FROM point AS p JOIN trace AS t ON t.run = p.run AND t.point = "
    "p.point JOIN channel AS c ON c.run = t.run AND c.position = t.position WHERE p.run = ?1 AND "
    "(p.point = ?2 OR p.point IN (SELECT a.point FROM target_result AS a JOIN reduction AS d ON "
    "d.reduction = a.reduction AND d.is_current = 1 WHERE a.run = ?1 AND a.target = ?2)) AND "
    "?3 IN (c.column_name, c.tap, c.role) ORDER BY p.point = ?2 DESC, p.sequence, c.tap IS NULL, "
    "t.position LIMIT 1";

static const char kept_sql[] =
    "SELECT t.point || ' ' || coalesce(c.tap, c.column_name) FROM trace AS t JOIN channel AS c ON "
    "c.run = t.run AND c.position = t.position JOIN point AS p ON p.run = t.run AND p.point = "
    "t.point WHERE t.run = ?1 ORDER BY p.sequence, t.position";

static enum status refuse(struct store *store, const char *run, const char *point,
                          const char *channel, struct fault *fault)
{
    enum { LISTED = 8 };
    char names[400] = "";
    size_t used = 0;
    size_t n = 0;
    int more = 0;
    struct statement *row = NULL;
    enum status status = rows_open(store, kept_sql, &run, 1, &row, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more)
        if (n++ < LISTED && used < sizeof names)
            used += (size_t)snprintf(names + used, sizeof names - used, "%s%.40s",
                                     n > 1 ? ", " : "", statement_text(row, 0));
    statement_free(row);
    if (status != OK)
        return status;
    return FAIL(fault, NOT_FOUND,
                "no samples of '%.80s' are kept at point '%.80s' of run %.80s; kept are those of "
                "%s%s; name channels below keep_samples: in campaign.yaml to keep them at every "
                "point",
                channel, point, run, n == 0 ? "no channel there" : names,
                n > LISTED ? " and others" : "");
}

static void say_marks(const struct kept_trace *trace, struct key_text *text)
{
    double step = trace->step > 0 ? trace->step : 1;
    const char *unit = trace->step > 0 ? "s" : "rows";
    if (trace->n_marks == 0)
        return;
    key_text_say(text, "  marked, %s since the point's first row:", unit);
    for (size_t i = 0; i < trace->n_marks && i < MARKS_LISTED; i++) {
        const struct kept_mark *mark = &trace->marks[i];
        key_text_say(text, "%s %.6g", i > 0 ? "," : "", (double)mark->first * step);
        if (mark->last > mark->first)
            key_text_say(text, " to %.6g", (double)mark->last * step);
    }
    if (trace->n_marks > MARKS_LISTED)
        key_text_say(text, " and %zu more", trace->n_marks - MARKS_LISTED);
    key_text_say(text, "\n");
}

static void say_number(struct key_text *text, double value, int decimals)
{
    if (isfinite(value))
        key_text_say(text, " %14.*f", decimals, value);
    else
        key_text_say(text, " %14s", "n/a");
}

static void say_bins(const struct kept_trace *trace, struct key_text *text)
{
    struct kept_bin lines[LINES];
    size_t rows = 0;
    size_t n = kept_trace_thin(trace, LINES, lines, &rows);
    int decimals = kept_trace_decimals(trace);
    double step = trace->step > 0 ? trace->step : 1;
    key_text_say(text, "  %zu rows a line%s%s\n", rows, trace->unit[0] != '\0' ? "; in " : "",
                 trace->unit);
    key_text_say(text, "  %9s %7s %14s %14s %14s\n", trace->step > 0 ? "from s" : "row", "n",
                 "minimum", "mean", "maximum");
    for (size_t i = 0; i < n; i++) {
        key_text_say(text, "  %9.*f %7.0f", trace->step > 0 ? 3 : 0, (double)(i * rows) * step,
                     lines[i].n);
        say_number(text, lines[i].minimum, decimals);
        say_number(text, lines[i].mean, decimals);
        say_number(text, lines[i].maximum, decimals);
        key_text_say(text, "\n");
    }
}

/* The highest densities but for that at 0, where a drift is; 0: none is left. */
static size_t highest(const struct kept_trace *trace, const size_t *taken, size_t n)
{
    size_t best = 0;
    for (size_t k = 1; k < trace->n_densities; k++) {
        int is_taken = 0;
        for (size_t i = 0; i < n; i++)
            is_taken |= k + 1 >= taken[i] && k <= taken[i] + 1; /* its neighbours are its flanks */
        if (!is_taken && (best == 0 || trace->density[k] > trace->density[best]))
            best = k;
    }
    return best;
}

static void say_spectrum(const struct kept_trace *trace, struct key_text *text)
{
    size_t taken[PEAKS_LISTED] = {0};
    if (trace->segments == 0) {
        key_text_say(text, "  no spectrum: too few rows, some without a sample, or no time\n");
        return;
    }
    double width = 1 / ((double)trace->segment_rows * trace->step);
    key_text_say(
        text,
        "  spectrum: %zu segments of %zu rows, Hann, half overlapping; %.4g Hz apart; %.1f "
        "degrees of freedom: the true density is %.2g to %.2g times the one told (95 %%)\n",
        trace->segments, trace->segment_rows, width, trace->degrees_of_freedom, trace->lower_factor,
        trace->upper_factor);
    for (size_t i = 0; i < PEAKS_LISTED; i++) {
        taken[i] = highest(trace, taken, i);
        if (taken[i] == 0)
            break;
        double density = trace->density[taken[i]];
        key_text_say(text,
                     "    %-12s %9.4g Hz, density %.3g (%s)^2/Hz, %.1f %% of the variance a bin\n",
                     i == 0 ? "highest" : "then", (double)taken[i] * width, density,
                     trace->unit[0] != '\0' ? trace->unit : "1",
                     100 * density * width / (trace->sd * trace->sd));
    }
}

static enum status find(struct store *store, const char *const *texts, char **point,
                        long long *position, struct fault *fault)
{
    struct statement *row = NULL;
    int found = 0;
    enum status status = rows_open(store, place_sql, texts, 3, &row, fault);
    if (status == OK)
        status = statement_step(row, &found, fault);
    if (status == OK && found) {
        *position = statement_integer(row, 1);
        status = rows_text(row, 0, point, fault);
    }
    statement_free(row);
    if (status == OK && !found)
        return refuse(store, texts[0], texts[1], texts[2], fault);
    return status;
}

enum status explain_trace(struct store *store, const char *run, const char *point,
                          const char *channel, struct key_text *text, struct fault *fault)
{
    const char *const texts[] = {run, point, channel};
    char sentence[KEPT_SENTENCE];
    struct kept_trace trace = {NULL};
    char *label = NULL;
    long long position = 0;
    memset(text, 0, sizeof *text);
    enum status status = find(store, texts, &label, &position, fault);
    if (status == OK)
        status = kept_trace_read(store, run, label, position, &trace, fault);
    free(label);
    if (status != OK)
        return status;
    kept_trace_say(&trace, sentence);
    key_text_say(text, "%s of run %s point %s\n", trace.channel, run, trace.point);
    key_text_say(text, "  kept because of: %s\n",
                 strcmp(trace.reason, "kept") == 0 ? "keep_samples" : trace.reason);
    key_text_say(text, "  %s\n", sentence);
    say_marks(&trace, text);
    say_spectrum(&trace, text);
    say_bins(&trace, text);
    kept_trace_end(&trace);
    return key_text_status(text, fault);
}
