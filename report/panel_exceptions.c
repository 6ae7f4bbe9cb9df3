/* panel_exceptions.c - only what needs a person: each rule that spoke, where, what it means, what to
 * do. One closing line for all that was fine.                                                      */
#include <stdio.h>
#include <string.h>

#include "report/flag_trace.h"
#include "report/number_text.h"
#include "report/page.h"
#include "report/panel.h"
#include "report/sign_text.h"
#include "schema/number.h"

struct exceptions {
    struct html *page;
    const struct display *display; /* of the main measure's deltas; NULL without one */
    struct store *store;
    size_t n;
};

struct look {
    const char *state;
    enum chip chip;
    const char *symbol;
};

static const struct look looks[] = {
    {"failed", CHIP_BAD, "\xE2\x9C\x97"},
    {"refused", CHIP_BAD, "\xE2\x80\x93"},
    {"flagged", CHIP_LOOK, "!"},
    {"info", CHIP_PLAIN, "i"},
};

static struct look look_of(const char *state)
{
    const size_t n = sizeof looks / sizeof looks[0];

    for (size_t i = 0; i < n; i++)
        if (strcmp(looks[i].state, state) == 0)
            return looks[i];
    return looks[n - 1];
}

static void sentence(struct html *page, const char *text)
{
    if (text == NULL || text[0] == '\0')
        return;
    sign_text_write(page, text);
    html_text(page, " ");
}

enum { PLACES_LISTED = 6 };

/* "Runs R01, R02 and 3 more. " names is what the query listed of n; nothing when there is none. */
static void write_place(struct html *page, const char *one, const char *many, const char *names,
                        long long n)
{
    if (names == NULL || names[0] == '\0')
        return;
    html_format(page, "%s %s", n == 1 ? one : many, names);
    if (n > PLACES_LISTED)
        html_format(page, " and %lld more", n - PLACES_LISTED);
    html_text(page, ". ");
}

/* What stands before the detail: of several rows that with the largest effect is shown, or the first. */
static const char *words_of(long long rows, int without_effect)
{
    if (rows == 1)
        return "Seen: ";
    return without_effect ? "First seen: " : "Largest effect: ";
}

/* Below the chip: what it does to the main measure. An information claims no effect. */
static void write_effect(struct html *page, const struct display *display, const char *state,
                         struct statement *row)
{
    if (display == NULL || (statement_is_null(row, 13) && strcmp(state, "info") == 0))
        return;
    html_open(page, "small", HTML_END);
    if (statement_is_null(row, 13))
        html_text(page, "effect not known");
    else
        html_format(page, "%s%s%s",
                    number_text_plain(statement_real(row, 13), display->decimals).text,
                    display->unit[0] != '\0' ? " " : "", display->unit);
    html_close(page);
}

static enum status take_group(struct statement *row, void *context, struct fault *fault)
{
    struct exceptions *exceptions = context;
    struct html *page = exceptions->page;
    const char *state = statement_text(row, 0);
    struct look look = look_of(state);
    long long rows = statement_integer(row, 9);

    exceptions->n++;
    html_open(page, "li", HTML_END);
    html_open(page, "div", HTML_END);
    page_chip(page, look.chip, look.symbol, state);
    write_effect(page, exceptions->display, state, row);
    html_close(page);
    html_open(page, "div", HTML_END);
    html_open(page, "p", HTML_END);
    html_open(page, "b", HTML_END);
    sentence(page, statement_text(row, 1));
    html_close(page);
    sentence(page, statement_text(row, 2));
    sentence(page, statement_text(row, 3));
    html_close(page);
    html_open(page, "p", "class", "where", HTML_END);
    write_place(page, "Run", "Runs", statement_text(row, 5), statement_integer(row, 6));
    write_place(page, "Point", "Points", statement_text(row, 10), statement_integer(row, 11));
    write_place(page, "Concerns", "Concerns", statement_text(row, 7), statement_integer(row, 12));
    html_text(page, words_of(rows, statement_is_null(row, 13)));
    sentence(page, statement_text(row, 4));
    if (statement_integer(row, 14) != 0)
        html_text(page, "The effect is that of all points of the configuration that were kept out, "
                        "together. ");
    if (rows > 1)
        html_format(page, "(%s in all; ", number_text_whole(rows).text);
    else
        html_text(page, "(");
    html_element(page, "code", statement_text(row, 8), HTML_END);
    html_text(page, ")");
    html_close(page);
    enum status status =
        flag_trace_write(page, exceptions->store, statement_text(row, 8), state, fault);
    html_close(page);
    html_close(page);
    return status;
}

/* One row a rule and state, those with the largest effect on the main measure first and those whose effect
 * is not known last. A failed point's effect is what the exclusions of its configuration do together;
 * nothing where they are told and the main measure is not among them. ?1 is what one stored unit of the
 * main measure is on the page. What had the largest effect or was seen first, and the places of each, six
 * at most: runs where the flag is about the whole run, RUN/POINT where it is about a point, and channels or
 * taps. All in run-sheet order: rows stand in the order of reading, which depends on when each log was
 * there. The flags are gathered once, not for each rule anew. */
static const char groups_sql[] =
    "WITH moved AS (SELECT x.configuration, x.baseline, max(CASE WHEN x.is_main = 1 THEN "
    "      abs(x.delta_with - x.delta_without) ELSE 0 END) AS counts FROM exclusion AS x "
    "      JOIN page_scope AS s ON s.facility = x.facility AND s.entry = x.entry "
    "      GROUP BY x.configuration, x.baseline), "
    "seen AS MATERIALIZED (SELECT f.*, r.sequence AS place, p.sequence AS step, f.effect_counts IS "
    "NULL AND "
    "      f.point <> '' AND f.state = 'failed' AS by_exclusion, "
    "      coalesce(abs(f.effect_counts), CASE WHEN f.point <> '' AND f.state = 'failed' THEN "
    "      CAST(?1 AS REAL) * (SELECT max(m.counts) FROM moved AS m WHERE m.configuration = "
    "      r.configuration OR m.baseline = r.configuration) END) AS effect FROM page_flag AS f "
    "      LEFT JOIN run AS r ON r.run = f.run "
    "      LEFT JOIN point AS p ON p.run = f.run AND p.point = f.point) "
    "SELECT g.state, g.sentence, g.consequence, g.action, "
    "(SELECT f.detail FROM seen AS f WHERE f.rule = g.rule AND f.state = g.state "
    " ORDER BY coalesce(f.effect, -1) DESC, f.place, f.step, f.point, f.subject, f.detail LIMIT "
    "1), "
    "(SELECT group_concat(run, ', ') FROM (SELECT DISTINCT f.run FROM seen AS f "
    " WHERE f.rule = g.rule AND f.state = g.state AND "
    " f.run <> '' AND f.point = '' ORDER BY f.place, f.run LIMIT 6)), g.runs, "
    "(SELECT group_concat(subject, ', ') FROM (SELECT DISTINCT f.subject FROM seen AS f "
    " WHERE f.rule = g.rule AND f.state = g.state AND f.subject <> '' AND f.subject <> f.run "
    " ORDER BY f.subject LIMIT 6)), g.rule, g.n, "
    "(SELECT group_concat(place, ', ') FROM (SELECT DISTINCT f.run || '/' || f.point AS place "
    " FROM seen AS f WHERE f.rule = g.rule AND f.state = g.state AND "
    " f.point <> '' ORDER BY f.place, f.step, f.point LIMIT 6)), g.points, g.subjects, "
    "g.effect, g.by_exclusion AND g.effect > 0 FROM (SELECT f.state, f.rule, k.sentence, "
    "      k.consequence, k.action, "
    "      count(DISTINCT CASE WHEN f.point = '' THEN nullif(f.run, '') END) AS runs, "
    "      count(DISTINCT CASE WHEN f.point <> '' THEN f.run || '/' || f.point END) AS points, "
    "      count(DISTINCT CASE WHEN f.subject <> f.run THEN nullif(f.subject, '') END) "
    "      AS subjects, count(*) AS n, max(f.effect) AS effect, max(f.by_exclusion) AS "
    "by_exclusion "
    "      FROM seen AS f JOIN flag_rule AS k ON k.rule = f.rule "
    "      GROUP BY f.state, f.rule) AS g "
    "ORDER BY g.effect IS NULL, g.effect DESC, CASE g.state WHEN 'failed' THEN 0 WHEN 'refused' "
    "THEN 1 WHEN 'flagged' THEN 2 ELSE 3 END, g.rule";

/* A quarantined run that no flag speaks about must still be seen. */
static const char quarantined_sql[] = "SELECT run, reason FROM page_run WHERE state <> 'ok' AND "
                                      "run NOT IN (SELECT run FROM page_flag) "
                                      "ORDER BY sequence";

static enum status take_quarantined(struct statement *row, void *context, struct fault *fault)
{
    struct exceptions *exceptions = context;
    struct html *page = exceptions->page;

    (void)fault;
    exceptions->n++;
    html_open(page, "li", HTML_END);
    html_open(page, "div", HTML_END);
    page_chip(page, CHIP_BAD, "\xE2\x9C\x97", "quarantined");
    html_close(page);
    html_open(page, "p", HTML_END);
    html_format(page, "Run %s takes no part: ", statement_text(row, 0));
    sign_text_write(page, statement_text(row, 1));
    html_close(page);
    html_close(page);
    return OK;
}

struct fine {
    double silent;      /* rules */
    double points, all; /* of wind-on runs: without a flag of their own, and together */
};

/* A point is without a flag when no row of its own says more than an information and it has not failed:
 * what fails several points of a run is one row about the run. Other flags on the whole run or on a tap
 * of it are listed above and are not its own. */
static enum status count_fine(struct store *store, struct fine *fine, struct fault *fault)
{
    enum status status = query_real(
        store, "SELECT count(*) FROM flag_rule WHERE rule NOT IN (SELECT rule FROM page_flag)",
        NULL, &fine->silent, fault);

    if (status == OK)
        status = query_real(store,
                            "SELECT count(*) FROM point_result AS p JOIN page_reduction AS d ON "
                            "d.reduction = p.reduction",
                            NULL, &fine->all, fault);
    if (status == OK)
        status =
            query_real(store,
                       "SELECT count(*) FROM point_result AS p JOIN page_reduction AS d ON "
                       "d.reduction = p.reduction WHERE p.state <> 'failed' AND NOT EXISTS (SELECT "
                       "1 FROM page_flag "
                       "AS f WHERE f.run = p.run AND f.point = p.point AND f.state <> 'info')",
                       NULL, &fine->points, fault);
    return status;
}

static enum status write_fine(struct html *page, const struct night_page *night, size_t spoke,
                              struct fault *fault)
{
    struct fine fine = {0, 0, 0};
    enum status status = count_fine(night->store, &fine, fault);

    if (status != OK)
        return status;
    html_open(page, "li", HTML_END);
    html_open(page, "div", HTML_END);
    if (fine.points > 0)
        page_chip(page, CHIP_GOOD, "\xE2\x9C\x93", "fine");
    else
        page_chip(page, CHIP_PLAIN, "\xE2\x80\x93", "the rest");
    html_close(page);
    html_open(page, "p", HTML_END);
    html_format(page, "%s: %.0f rule%s had nothing to say", spoke > 0 ? "All else" : "Everything",
                fine.silent, fine.silent >= 2 || fine.silent < 1 ? "s" : "");
    if (fine.all > 0)
        html_format(page, ", and %s of %s reduced point%s no flag of %s own",
                    number_text_whole((long long)fine.points).text,
                    number_text_whole((long long)fine.all).text, fine.all > 1 ? "s have" : " has",
                    fine.all > 1 ? "their" : "its");
    html_text(page, ".");
    html_close(page);
    html_close(page);
    return OK;
}

static const char *write_why(const struct findings *findings, char *out, size_t size)
{
    (void)snprintf(out, size,
                   "Only exceptions: what was seen, what it does to the numbers, what to do next. "
                   "Ranked by what each does to %.80s; what is not known comes last.",
                   findings->n_metrics > 0 ? findings->metrics[0].name : "the deltas");
    return out;
}

enum status panel_exceptions(struct html *page, const struct night_page *night, struct fault *fault)
{
    const struct findings *findings = night->findings;
    struct exceptions exceptions = {
        page, findings->n_metrics > 0 ? &findings->metrics[0].display : NULL, night->store, 0};
    char factor[40] = "1", why[320];

    if (exceptions.display != NULL)
        (void)number_print(exceptions.display->factor, factor, sizeof factor);
    page_section(page, "eyes", "Needs your eyes", write_why(findings, why, sizeof why));
    html_open(page, "div", "class", "panel", HTML_END);
    html_open(page, "ul", "class", "eyes", HTML_END);
    enum status status =
        query_each(night->store, quarantined_sql, NULL, take_quarantined, &exceptions, fault);
    if (status == OK)
        status = query_each(night->store, groups_sql, (const char *[]){factor, NULL}, take_group,
                            &exceptions, fault);
    if (status == OK)
        status = write_fine(page, night, exceptions.n, fault);
    html_close(page);
    html_close(page);
    html_close(page);
    return status;
}
