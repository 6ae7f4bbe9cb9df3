/* panel_compare_deltas.c - the sentence and the table of a comparison's page. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "report/chart_interval.h"
#include "report/cut_text.h"
#include "report/display.h"
#include "report/interval_text.h"
#include "report/number_text.h"
#include "report/page.h"
#include "report/panel_compare.h"
#include "report/query.h"
#include "schema/quantity.h"

enum { SENTENCES = 4 };

enum {
    CONFIGURATION,
    BASELINE,
    QUANTITY,
    TARGET,
    DELTA,
    HALF,
    LOWER,
    UPPER,
    VERDICT,
    SMALL,
    REASON,
    MOUNTINGS,
    OTHERS,
    IS_MAIN,
    IS_PAIR,
    METHOD,
    NOISE,
    PAIRS,
    SHRUNK,
    WORTHWHILE
};

/* ?1 "headline": a pair that was asked for comes first, of its attitudes that of the main measure, then
 * what is judged; "": all rows. */
static const char rows_sql[] =
    "SELECT configuration, baseline, quantity, target, delta, half_width, lower, upper, "
    "coalesce(verdict, ''), real_but_small, reason, mountings, baseline_mountings, is_main, "
    "is_pair, "
    "coalesce(method, ''), coalesce(noise_source, ''), pairs_needed, shrunk, (SELECT worthwhile "
    "FROM "
    "metric AS m WHERE m.quantity = a.quantity ORDER BY m.sequence LIMIT 1) FROM asked_delta AS a "
    "WHERE ?1 = '' OR is_main OR is_pair ORDER BY CASE ?1 WHEN '' THEN 0 ELSE -is_pair END, "
    "?1 <> '' AND NOT EXISTS (SELECT 1 FROM asked_delta AS m WHERE m.is_main AND m.quantity = "
    "a.quantity AND m.target = a.target), rowid";

static const char *const headline_rows[] = {"headline", NULL};
static const char *const all_rows[] = {"", NULL};

struct work {
    struct html *page;
    double count;
    size_t n;
    struct interval_scale scales[QUANTITY_COUNT + 1];
};

static size_t quantity_of(struct statement *row)
{
    return (size_t)quantity_from_symbol(statement_text(row, QUANTITY));
}

static const char *join_word(struct statement *row)
{
    return statement_integer(row, IS_PAIR) ? "minus" : "against";
}

static struct number_text number_of(struct statement *row, const struct display *display)
{
    double half = display->factor * statement_real(row, HALF);

    return number_text_pair(display->factor * statement_real(row, DELTA), half,
                            number_text_decimals(half, display->decimals));
}

static const char *attitude_words(struct statement *row)
{
    const char *target = statement_text(row, TARGET);

    return strcmp(target, "weighted") == 0 ? "weighted mean of the attitudes" : target;
}

static enum status take_sentence(struct statement *row, void *context, struct fault *fault)
{
    struct work *work = context;
    struct display display = display_delta(statement_text(row, QUANTITY), work->count);
    const char *verdict = statement_text(row, VERDICT);
    const char *first = work->n == 0 ? "h1" : "p";

    (void)fault;
    if (work->n++ >= SENTENCES)
        return OK;
    html_open(work->page, first, "class", work->n == 1 ? NULL : "proof", HTML_END);
    if (statement_is_null(row, DELTA))
        html_format(work->page, "%s %s %s: no delta of %s, %s%s%s",
                    statement_text(row, CONFIGURATION), join_word(row),
                    statement_text(row, BASELINE), statement_text(row, QUANTITY),
                    attitude_words(row), statement_text(row, REASON)[0] != '\0' ? ": " : "",
                    statement_text(row, REASON));
    else
        html_format(work->page, "%s %s %s: %s %s%sof %s, %s%s%s",
                    statement_text(row, CONFIGURATION), join_word(row),
                    statement_text(row, BASELINE), number_of(row, &display).text, display.unit,
                    display.unit[0] != '\0' ? " " : "", statement_text(row, QUANTITY),
                    attitude_words(row), verdict[0] != '\0' ? ": " : "", verdict);
    html_text(work->page, statement_integer(row, IS_PAIR) ? " (exploratory)" : "");
    html_close(work->page);
    return OK;
}

enum status compare_headline(struct html *page, const struct derived_scope *scope,
                             struct fault *fault)
{
    struct work work = {.page = page, .count = scope->count};

    html_open(page, "section", "id", "result", HTML_END);
    enum status status =
        query_each(scope->store, rows_sql, headline_rows, take_sentence, &work, fault);
    if (work.n == 0)
        html_element(page, "h1", "Comparison: nothing of it is judged", HTML_END);
    return status;
}

static struct interval interval_of(struct statement *row, const struct display *display)
{
    const char *verdict = statement_text(row, VERDICT);
    enum interval_tone tone = TONE_PLAIN;

    if (strcmp(verdict, "gain") == 0)
        tone = TONE_GOOD;
    else if (strcmp(verdict, "loss") == 0)
        tone = TONE_BAD;
    else if (verdict[0] != '\0' && strcmp(verdict, "changed") != 0)
        tone = TONE_MUTED;
    return (struct interval){
        display->factor * statement_real(row, DELTA), display->factor * statement_real(row, LOWER),
        display->factor * statement_real(row, UPPER), tone, !statement_integer(row, IS_MAIN)};
}

static enum status take_scale(struct statement *row, void *context, struct fault *fault)
{
    struct work *work = context;
    struct display display = display_delta(statement_text(row, QUANTITY), work->count);
    struct interval_scale *scale = &work->scales[quantity_of(row)];
    struct interval interval = interval_of(row, &display);
    double worthwhile = statement_real(row, WORTHWHILE);

    (void)fault;
    scale->width = 200;
    scale->strip = isfinite(worthwhile) ? display.factor * worthwhile : 0;
    interval_scale_add(scale, &interval);
    return OK;
}

static void write_reading(struct html *page, struct statement *row)
{
    static const struct {
        const char *verdict, *symbol;
        enum chip chip;
    } chips[] = {{"gain", "\xE2\x9C\x93", CHIP_GOOD},
                 {"loss", "\xE2\x9C\x97", CHIP_BAD},
                 {"no change that matters", "=", CHIP_PLAIN},
                 {"can't tell yet", "?", CHIP_LOOK},
                 {"changed", "\xE2\x97\x86", CHIP_PLAIN}};
    const char *verdict = statement_text(row, VERDICT);

    html_open(page, "td", "class", "reading stays", HTML_END);
    for (size_t i = 0; i < sizeof chips / sizeof chips[0]; i++)
        if (strcmp(chips[i].verdict, verdict) == 0)
            page_chip(page, chips[i].chip, chips[i].symbol, verdict);
    if (verdict[0] == '\0')
        page_chip(page, CHIP_PLAIN, "\xE2\x80\x93",
                  statement_integer(row, IS_MAIN) ? "no verdict" : "exploratory");
    if (statement_integer(row, SMALL))
        html_element(page, "small", "real, but small", HTML_END);
    if (statement_text(row, REASON)[0] != '\0')
        html_element(page, "small", statement_text(row, REASON), HTML_END);
    html_close(page);
}

/* How it was found, in a few words. */
static void write_method(struct html *page, struct statement *row, const struct display *display)
{
    const char *noise = statement_text(row, NOISE);

    html_open(page, "td", "class", "left why-cell", HTML_END);
    html_text(page, statement_text(row, METHOD));
    if (noise[0] != '\0')
        html_format(page, ", noise of %s",
                    strcmp(noise, "season") == 0 ? "the season" : "this entry");
    if (!statement_is_null(row, SHRUNK))
        html_format(
            page, "; expect %s",
            number_text_delta(display->factor * statement_real(row, SHRUNK), display->decimals)
                .text);
    if (!statement_is_null(row, PAIRS))
        html_format(page, "; %lld more pair%s would find a worthwhile change",
                    (long long)statement_integer(row, PAIRS),
                    statement_integer(row, PAIRS) == 1 ? "" : "s");
    html_close(page);
}

static enum status take_row(struct statement *row, void *context, struct fault *fault)
{
    struct work *work = context;
    struct html *page = work->page;
    struct display display = display_delta(statement_text(row, QUANTITY), work->count);
    struct interval interval = interval_of(row, &display);
    char label[640];
    char name[2 * sizeof(struct cut_text) + 16];

    (void)fault;
    (void)snprintf(name, sizeof name, "%s %s %s",
                   cut_text(statement_text(row, CONFIGURATION), CUT_TEXT_MOST).text, join_word(row),
                   cut_text(statement_text(row, BASELINE), CUT_TEXT_MOST).text);
    interval_words(&interval, statement_text(row, QUANTITY), name, &display, label, sizeof label);
    html_open(page, "tr", HTML_END);
    html_open(page, "th", "class", "name", "scope", "row", HTML_END);
    html_format(page, "%s ", statement_text(row, CONFIGURATION));
    html_open(page, "small", HTML_END);
    html_format(page, "%s %s", join_word(row), statement_text(row, BASELINE));
    html_close(page);
    html_close(page);
    html_element(page, "td", statement_text(row, TARGET), "class", "left spare", HTML_END);
    html_open(page, "td", "class", "left", HTML_END);
    html_format(page, "\xCE\x94%s%s%s", statement_text(row, QUANTITY),
                display.unit[0] != '\0' ? ", " : "", display.unit);
    html_element(page, "small", statement_text(row, TARGET), "class", "narrow", HTML_END);
    html_close(page);
    html_element(page, "td", number_of(row, &display).text, "class", "value", HTML_END);
    html_open(page, "td", "class", "drawn", HTML_END);
    chart_interval(page, &work->scales[quantity_of(row)], &interval, label);
    html_close(page);
    html_open(page, "td", "class", "spare", HTML_END);
    html_format(page, "%lld / %lld", (long long)statement_integer(row, MOUNTINGS),
                (long long)statement_integer(row, OTHERS));
    html_close(page);
    write_reading(page, row);
    write_method(page, row, &display);
    html_close(page);
    return OK;
}

/* On a narrow screen the attitude stands below the quantity, and "spare" columns are not shown. */
static const struct {
    const char *name, *class;
} heads[] = {{"Configuration", "left"}, {"Attitude", "left spare"},  {"Quantity", "left"},
             {"Delta", NULL},           {"Interval", NULL},          {"Mountings of both", "spare"},
             {"Reading", "left"},       {"How it was found", "left"}};

static void write_head(struct html *page)
{
    page_scroller(page, "scroll", "numbers of the deltas");
    html_open(page, "table", "class", "deltas", HTML_END);
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    for (size_t i = 0; i < sizeof heads / sizeof heads[0]; i++)
        html_element(page, "th", heads[i].name, "class", heads[i].class, "scope", "col", HTML_END);
    html_close(page);
    html_close(page);
    html_open(page, "tbody", HTML_END);
}

static void write_note(struct html *page, double count)
{
    html_open(page, "p", "class", "note", HTML_END);
    if (count > 0)
        html_format(page, "1 count = %s of any coefficient. ", number_text_declared(count).text);
    html_text(page,
              "Downforce is positive; intervals of one quantity are drawn on one scale. Grey "
              "strip: changes that do not matter. Filled dot: zero is outside the interval. "
              "The intervals of the judged measure hold for all comparisons with one baseline "
              "together; every other one stands alone and gets no verdict. Expect: what is left of "
              "a delta by how large deltas usually are.");
    html_close(page);
}

enum status compare_deltas(struct html *page, const struct derived_scope *scope,
                           struct fault *fault)
{
    struct work work = {.page = page, .count = scope->count};

    enum status status = query_each(scope->store, rows_sql, all_rows, take_scale, &work, fault);
    for (size_t i = 0; i <= QUANTITY_COUNT; i++)
        interval_scale_finish(&work.scales[i]);
    write_head(page);
    if (status == OK)
        status = query_each(scope->store, rows_sql, all_rows, take_row, &work, fault);
    html_close(page); /* tbody */
    html_close(page);
    html_close(page);
    write_note(page, scope->count);
    html_close(page); /* section */
    return status;
}
