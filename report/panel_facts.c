/* panel_facts.c - five facts that say how far the night can be trusted, each with a chip. */
#include <math.h>
#include <stdio.h>

#include "report/cut_text.h"
#include "report/fact.h"
#include "report/number_text.h"
#include "schema/flag.h"

static const char celsius[] = "\xC2\xB0"
                              "C";

static void write_fact(struct html *page, const struct fact *fact)
{
    html_open(page, "div", HTML_END);
    html_element(page, "h3", fact->name, HTML_END);
    html_open(page, "p", "class", "value", HTML_END);
    html_text(page, fact->value);
    html_text(page, " ");
    if (fact->unit[0] != '\0')
        html_element(page, "small", fact->unit, HTML_END);
    html_close(page);
    html_open(page, "p", HTML_END);
    page_chip(page, fact->chip, fact->symbol, fact->word);
    html_text(page, " ");
    html_text(page, fact->note);
    html_close(page);
    html_close(page);
}

/* "2 excluded by a person; 3 of 336 points refused", with the first number where the chip has another. */
static void note_losses(double excluded, int is_said, const struct finding_points *points,
                        struct fact *fact)
{
    char people[40] = "", refused[80] = "";

    if (excluded > 0 && is_said)
        (void)snprintf(people, sizeof people, "by a person");
    else if (excluded > 0)
        (void)snprintf(people, sizeof people, "%.0f excluded by a person", excluded);
    if (points->refused > 0)
        (void)snprintf(refused, sizeof refused, "%lld of %lld points refused", points->refused,
                       points->all);
    (void)snprintf(fact->note, FACT_TEXT, "%s%s%s", people,
                   people[0] != '\0' && refused[0] != '\0' ? "; " : "", refused);
}

static enum status runs_usable(const struct night_page *night, struct fact *fact,
                               struct fault *fault)
{
    const struct findings *findings = night->findings;
    double all = NAN;
    double usable = NAN;
    double excluded = NAN;
    char word[FACT_TEXT];

    enum status status = query_real(
        night->store, "SELECT count(*) FROM page_run WHERE kind = 'wind_on'", NULL, &all, fault);
    if (status == OK)
        status = query_real(night->store,
                            "SELECT count(*) FROM page_run WHERE kind = 'wind_on' AND state = 'ok'",
                            NULL, &usable, fault);
    if (status == OK)
        status = query_real(night->store,
                            "SELECT count(*) FROM page_run WHERE kind = 'wind_on' AND state = 'ok' "
                            "AND run IN (SELECT run FROM decision WHERE point = '' AND decision = "
                            "'exclude')",
                            NULL, &excluded, fault);
    if (status != OK)
        return status;
    (void)snprintf(fact->value, FACT_TEXT, "%.0f", usable - excluded);
    (void)snprintf(fact->unit, FACT_TEXT, "of %.0f wind-on run%s", all,
                   all >= 2 || all < 1 ? "s" : "");
    struct finding_points points = findings_points(findings);
    note_losses(excluded, usable >= all, &points, fact);
    if (usable < all)
        (void)snprintf(word, sizeof word, "%.0f quarantined", all - usable);
    else
        (void)snprintf(word, sizeof word, "%.0f excluded", excluded);
    if (!(all > 0))
        fact_plain(fact, "none made");
    else if (usable < all || excluded > 0)
        fact_look(fact, word);
    else if (points.refused > 0)
        fact_look(fact, "refusals");
    else
        fact_good(fact, "all read");
    return OK;
}

/* A tap is alive when it was measured and no run failed it. */
static enum status taps_alive(struct store *store, struct fact *fact, struct fault *fault)
{
    const char *rules[] = {flag_row(FLAG_TAP_FROZEN)->code, flag_row(FLAG_TAP_IMPOSSIBLE)->code,
                           flag_row(FLAG_TAP_ZERO_SILENT)->code, NULL};
    double measured = NAN;
    struct text_pool texts = {0};
    const char *names = "";
    double all = NAN;
    double dead = NAN;

    enum status status = query_real(store, "SELECT count(*) FROM tap", NULL, &all, fault);
    if (status == OK)
        status = query_real(store,
                            "SELECT count(*) FROM tap_result AS t JOIN page_reduction AS d ON "
                            "d.reduction = t.reduction",
                            NULL, &measured, fault);
    if (status == OK)
        status =
            query_real(store,
                       "SELECT count(DISTINCT subject) FROM page_flag WHERE rule IN (?1, ?2, ?3) "
                       "AND subject IN (SELECT tap FROM tap)",
                       rules, &dead, fault);
    if (status == OK)
        status = query_text(store,
                            "SELECT group_concat(subject, ', ') FROM (SELECT DISTINCT subject FROM "
                            "page_flag WHERE rule IN (?1, ?2, ?3) AND subject IN (SELECT tap FROM "
                            "tap) ORDER BY subject LIMIT 3)",
                            rules, &texts, &names, fault);
    if (status == OK && all > 0 && !(measured > 0)) {
        (void)snprintf(fact->value, FACT_TEXT, "n/a");
        (void)snprintf(fact->unit, FACT_TEXT, "of %.0f", all);
        fact_plain(fact, "none measured");
    } else if (status == OK && all > 0) {
        char word[FACT_TEXT];
        (void)snprintf(fact->value, FACT_TEXT, "%.0f", all - dead);
        (void)snprintf(fact->unit, FACT_TEXT, "of %.0f", all);
        (void)snprintf(word, sizeof word, "%.0f dead", dead);
        (void)snprintf(fact->note, FACT_TEXT, "%s%s", cut_text(names, CUT_TEXT_MOST).text,
                       dead > 3 ? " ..." : "");
        if (dead > 0)
            fact_look(fact, word);
        else
            fact_good(fact, "all");
    } else if (status == OK) {
        (void)snprintf(fact->value, FACT_TEXT, "none");
        fact_plain(fact, "no taps declared");
    }
    text_pool_free(&texts);
    return status;
}

struct air {
    double coldest, warmest, least_q, most_q;
};

static enum status take_air(struct statement *row, void *context, struct fault *fault)
{
    struct air *air = context;

    (void)fault;
    *air = (struct air){statement_real(row, 0), statement_real(row, 1), statement_real(row, 2),
                        statement_real(row, 3)};
    return OK;
}

/* Flags that speak about the wind or its air. */
static enum status air_flags(struct store *store, double *flags, struct fault *fault)
{
    const char *rules[] = {flag_row(FLAG_AIR_OUT_OF_RANGE)->code, flag_row(FLAG_Q_UNSTEADY)->code,
                           flag_row(FLAG_NO_FREESTREAM)->code, NULL};

    return query_real(store, "SELECT count(*) FROM page_flag WHERE rule IN (?1, ?2, ?3)", rules,
                      flags, fault);
}

static enum status air_state(struct store *store, struct fact *fact, struct fault *fault)
{
    const double zero_celsius = 273.15;
    struct air air = {NAN, NAN, NAN, NAN};
    double flags = NAN;

    fact_plain(fact, "no points");
    (void)snprintf(fact->value, FACT_TEXT, "n/a");
    enum status status =
        query_each(store,
                   "SELECT min(static_temperature_k), max(static_temperature_k), "
                   "min(dynamic_pressure_pa), max(dynamic_pressure_pa) FROM point_result AS p "
                   "JOIN page_reduction AS d ON d.reduction = p.reduction",
                   NULL, take_air, &air, fault);
    if (status == OK)
        status = air_flags(store, &flags, fault);
    if (status != OK || !isfinite(air.coldest))
        return status;
    (void)snprintf(
        fact->value, FACT_TEXT, "%s",
        number_text_range(air.coldest - zero_celsius, air.warmest - zero_celsius, 1).text);
    (void)snprintf(fact->unit, FACT_TEXT, "%s", celsius);
    (void)snprintf(fact->note, FACT_TEXT, "q %s Pa",
                   number_text_range(air.least_q, air.most_q, 0).text);
    fact_good(fact, "no flag");
    if (flags > 0) {
        char word[FACT_TEXT];
        (void)snprintf(word, sizeof word, "%.0f flagged", flags);
        fact_look(fact, word);
    }
    return OK;
}

enum status panel_facts(struct html *page, const struct night_page *night, struct fault *fault)
{
    struct fact facts[] = {{.name = "Runs usable"},
                           {.name = "Baseline, first to last"},
                           {.name = "Half-width of a judged interval"},
                           {.name = "Taps alive"},
                           {.name = "Air, static temperature"}};

    enum status status = runs_usable(night, &facts[0], fault);
    if (status == OK)
        status = fact_baseline(night, &facts[1], fault);
    fact_half_width(night->findings, &facts[2]);
    if (status == OK)
        status = taps_alive(night->store, &facts[3], fault);
    if (status == OK)
        status = air_state(night->store, &facts[4], fault);
    if (status != OK)
        return status;
    html_element(page, "h2", "How far the night can be trusted", "class", "unseen", HTML_END);
    html_open(page, "div", "class", "facts", HTML_END);
    for (size_t i = 0; i < sizeof facts / sizeof facts[0]; i++)
        write_fact(page, &facts[i]);
    html_close(page);
    return OK;
}
