/* panel_facts.c - five facts that say how far the night can be trusted, each with a chip. */
#include <math.h>
#include <stdio.h>

#include "report/number_text.h"
#include "report/page.h"
#include "report/panel.h"
#include "schema/flag.h"

enum {
    FACT_TEXT = 200
};

static const char celsius[] = "\xC2\xB0"
                              "C";

struct fact {
    const char *name;
    char value[FACT_TEXT];
    char unit[FACT_TEXT]; /* small, after the value */
    enum chip chip;
    const char *symbol;
    char word[FACT_TEXT];
    char note[FACT_TEXT];
};

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

static void set_good(struct fact *fact, const char *word)
{
    fact->chip = CHIP_GOOD;
    fact->symbol = "\xE2\x9C\x93";
    (void)snprintf(fact->word, sizeof fact->word, "%s", word);
}

static void set_look(struct fact *fact, const char *word)
{
    fact->chip = CHIP_LOOK;
    fact->symbol = "!";
    (void)snprintf(fact->word, sizeof fact->word, "%s", word);
}

static void set_plain(struct fact *fact, const char *word)
{
    fact->chip = CHIP_PLAIN;
    fact->symbol = "\xE2\x80\x93";
    (void)snprintf(fact->word, sizeof fact->word, "%s", word);
}

static enum status runs_usable(struct store *store, struct fact *fact, struct fault *fault)
{
    double all = NAN;
    double usable = NAN;

    enum status status = query_real(store, "SELECT count(*) FROM page_run WHERE kind = 'wind_on'",
                                    NULL, &all, fault);
    if (status == OK)
        status = query_real(store,
                            "SELECT count(*) FROM page_run WHERE kind = 'wind_on' AND state = 'ok'",
                            NULL, &usable, fault);
    if (status != OK)
        return status;
    (void)snprintf(fact->value, FACT_TEXT, "%.0f", usable);
    (void)snprintf(fact->unit, FACT_TEXT, "of %.0f wind-on runs", all);
    if (usable < all) {
        char word[FACT_TEXT];
        (void)snprintf(word, sizeof word, "%.0f quarantined", all - usable);
        set_look(fact, word);
    } else {
        set_good(fact, "all read");
    }
    return OK;
}

/* First and last return of the baseline, on the main measure. */
static enum status baseline_moved(const struct night_page *night, struct fact *fact,
                                  struct fault *fault)
{
    const struct findings *findings = night->findings;
    const struct finding_configuration *baseline = findings_baseline(findings);
    double moved = NAN;
    double returns = NAN;

    set_plain(fact, "not returned to");
    (void)snprintf(fact->value, FACT_TEXT, "n/a");
    if (baseline == NULL || findings->n_metrics == 0)
        return OK;
    const struct finding_metric *metric = &findings->metrics[0];
    const char *texts[] = {baseline->name, metric->quantity, findings->target, NULL};
    enum status status = query_real(
        night->store,
        "SELECT (SELECT value FROM observation AS o JOIN page_reduction AS d USING (reduction) "
        "WHERE o.configuration = ?1 AND o.quantity = ?2 AND o.target = ?3 "
        "ORDER BY time_s DESC LIMIT 1) - (SELECT value FROM observation AS o JOIN "
        "page_reduction AS d USING (reduction) WHERE o.configuration = ?1 AND o.quantity = ?2 "
        "AND o.target = ?3 ORDER BY time_s LIMIT 1)",
        texts, &moved, fault);
    if (status == OK)
        status = query_real(night->store,
                            "SELECT count(*) FROM observation AS o JOIN page_reduction AS d "
                            "USING (reduction) WHERE o.configuration = ?1 AND "
                            "o.quantity = ?2 AND o.target = ?3",
                            texts, &returns, fault);
    if (status != OK || !(returns >= 2))
        return status;
    (void)snprintf(
        fact->value, FACT_TEXT, "%s",
        number_text_delta(metric->display.factor * moved, metric->display.decimals).text);
    (void)snprintf(fact->unit, FACT_TEXT, "%s", display_named(&metric->display, metric->name).text);
    (void)snprintf(fact->note, FACT_TEXT, "over %.0f returns; linear drift drops out", returns);
    if (fabs(moved) <= metric->worthwhile)
        set_good(fact, "less than matters");
    else
        set_look(fact, "moved");
    return OK;
}

/* The widest interval of the main measure: what a configuration must gain to be told from chance. */
static void smallest_step(const struct findings *findings, struct fact *fact)
{
    double widest = NAN;

    for (size_t i = 0; i < findings->n_leading; i++)
        if (isfinite(findings->configurations[i].deltas[0].half_width))
            widest = fmax(widest, findings->configurations[i].deltas[0].half_width);
    (void)snprintf(fact->value, FACT_TEXT, "n/a");
    if (findings->n_metrics == 0 || !isfinite(widest)) {
        set_plain(fact, "no interval");
        return;
    }
    const struct display *display = &findings->metrics[0].display;
    double width = display->factor * widest;
    double worthwhile = display->factor * findings->metrics[0].worthwhile;
    int decimals = number_text_decimals(width, display->decimals);
    (void)snprintf(fact->value, FACT_TEXT, "\xC2\xB1 %s", number_text_plain(width, decimals).text);
    (void)snprintf(fact->unit, FACT_TEXT, "%s",
                   display_named(display, findings->metrics[0].name).text);
    (void)snprintf(fact->note, FACT_TEXT, "worth having: %s %s",
                   number_text_plain(worthwhile, worthwhile < 10 ? display->decimals : 0).text,
                   display->unit);
    if (widest <= findings->metrics[0].worthwhile)
        set_good(fact, "fine enough");
    else
        set_look(fact, "coarse");
}

/* A tap is alive when no run failed it. */
static enum status taps_alive(struct store *store, struct fact *fact, struct fault *fault)
{
    const char *rules[] = {flag_row(FLAG_TAP_FROZEN)->code, flag_row(FLAG_TAP_IMPOSSIBLE)->code,
                           NULL};
    struct text_pool texts = {0};
    const char *names = "";
    double all = NAN;
    double dead = NAN;

    enum status status = query_real(store, "SELECT count(*) FROM tap", NULL, &all, fault);
    if (status == OK)
        status =
            query_real(store,
                       "SELECT count(DISTINCT subject) FROM page_flag WHERE rule IN (?1, ?2) AND "
                       "subject IN (SELECT tap FROM tap)",
                       rules, &dead, fault);
    if (status == OK)
        status = query_text(store,
                            "SELECT group_concat(subject, ', ') FROM (SELECT DISTINCT subject FROM "
                            "page_flag WHERE rule IN (?1, ?2) ORDER BY subject LIMIT 3)",
                            rules, &texts, &names, fault);
    if (status == OK && all > 0) {
        char word[FACT_TEXT];
        (void)snprintf(fact->value, FACT_TEXT, "%.0f", all - dead);
        (void)snprintf(fact->unit, FACT_TEXT, "of %.0f", all);
        (void)snprintf(word, sizeof word, "%.0f dead", dead);
        (void)snprintf(fact->note, FACT_TEXT, "%.60s%s", names, dead > 3 ? " ..." : "");
        if (dead > 0)
            set_look(fact, word);
        else
            set_good(fact, "all");
    } else if (status == OK) {
        (void)snprintf(fact->value, FACT_TEXT, "none");
        set_plain(fact, "no taps declared");
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

    set_plain(fact, "no points");
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
    (void)snprintf(fact->value, FACT_TEXT, "%s to %s",
                   number_text_plain(air.coldest - zero_celsius, 1).text,
                   number_text_plain(air.warmest - zero_celsius, 1).text);
    (void)snprintf(fact->unit, FACT_TEXT, "%s", celsius);
    (void)snprintf(fact->note, FACT_TEXT, "q %s to %s Pa", number_text_plain(air.least_q, 0).text,
                   number_text_plain(air.most_q, 0).text);
    set_good(fact, "steady");
    if (flags > 0) {
        char word[FACT_TEXT];
        (void)snprintf(word, sizeof word, "%.0f flagged", flags);
        set_look(fact, word);
    }
    return OK;
}

enum status panel_facts(struct html *page, const struct night_page *night, struct fault *fault)
{
    struct fact facts[] = {{.name = "Runs usable"},
                           {.name = "Baseline, first to last"},
                           {.name = "Smallest step we can see"},
                           {.name = "Taps alive"},
                           {.name = "Air, test section"}};

    enum status status = runs_usable(night->store, &facts[0], fault);
    if (status == OK)
        status = baseline_moved(night, &facts[1], fault);
    smallest_step(night->findings, &facts[2]);
    if (status == OK)
        status = taps_alive(night->store, &facts[3], fault);
    if (status == OK)
        status = air_state(night->store, &facts[4], fault);
    if (status != OK)
        return status;
    html_open(page, "div", "class", "facts", HTML_END);
    for (size_t i = 0; i < sizeof facts / sizeof facts[0]; i++)
        write_fact(page, &facts[i]);
    html_close(page);
    return OK;
}
