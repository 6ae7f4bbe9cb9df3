/* panel_method.c - how it was made: signs, corrections in force, inputs with their hashes, cautions.
 *
 * Last on the page and always printed, except for long lists, which the season database also holds. */
#include <stdio.h>
#include <string.h>

#include "report/number_text.h"
#include "report/page.h"
#include "report/panel.h"
#include "report/redact.h"
#include "report/setting_text.h"
#include "report/sign_text.h"

enum { HASH_SHOWN = 12 };

static const char signs[] =
    "Downforce is positive everywhere. Inside: x aft, y to the car's right, z up, right-handed, "
    "origin "
    "on the ground at mid-wheelbase, on the centreline; moments right-handed about these axes. Yaw "
    "is "
    "positive when the air comes from the car's right, pitch positive nose down, roll positive "
    "right "
    "side down. Balance is the front axle's share of the downforce, with the drag couple about the "
    "ground in it (contact patch); its changes are percentage points, pp.";

static const char references[] = "Coefficients are on dynamic pressure and the reference area of "
                                 "the car as tested; moments also on "
                                 "the wheelbase; Reynolds number on the wheelbase.";

static const char rules[] =
    "A delta is by one model of the whole night (configuration, drift, refit) where the night "
    "bears "
    "it, else against the baseline as interpolated in time between the returns before and after; "
    "the note below the deltas says which. One mounting is one observation. Interval inside the "
    "grey strip: no change that "
    "matters. Else zero outside: gain or loss, by the declared direction. Else: can't tell yet. A "
    "point outside its attitude cap, a dead tap and a run that could not be read take no part, and "
    "are listed above.";

static const char beside[] =
    "deltas.csv, points.csv, taps.csv, loads.csv and the other CSV tables hold the numbers of "
    "every "
    "entry, with units in the second row; night.xlsx holds this entry as a workbook. The season's "
    "database is "
    "season.sqlite in the campaign folder: views point_coefficient, tap_coefficient, delta, ledger "
    "and flag.";

static const char beside_redacted[] = "deltas.csv, points.csv, taps.csv, loads.csv and the other "
                                      "CSV tables hold the numbers of every "
                                      "entry, with units in the second row; night.xlsx holds this "
                                      "entry as a workbook. Their ids are those of this page.";

static const char *const cautions[] = {
    "These results support engineering judgement. They are no sign-off of a car, a part, a set-up "
    "or "
    "a test, and no substitute for a licensed engineer where the law asks for one.",
    "Follow the facility's own rules and the local codes first. Before wind-on, check the model's "
    "and "
    "the balance's restraint for the loads in sight, stay clear of a moving belt and of rotating "
    "wheels, and go to low ride heights step by step: ground contact at speed can wreck belt, "
    "model and "
    "balance. A ride height that was good here may still strike the ground on a track."};

static void write_pair(struct html *page, const char *name, const char *text)
{
    html_element(page, "dt", name, HTML_END);
    html_element(page, "dd", text, HTML_END);
}

struct setting_list {
    struct html *page;
    size_t n; /* written */
};

/* Row: name, value, unit; "reference area: 0.4 m²; ...". A name that has its own colon needs no second. */
static enum status take_setting(struct statement *row, void *context, struct fault *fault)
{
    struct setting_list *list = context;
    const char *name = statement_text(row, 0);
    struct setting_text words = setting_name(name);
    struct setting_text room;

    (void)fault;
    html_text(list->page, list->n++ > 0 ? "; " : "");
    html_text(list->page, words.text);
    html_text(list->page, strstr(words.text, ": ") != NULL ? " " : ": ");
    html_element(list->page, "b",
                 setting_value(name, statement_text(row, 1), statement_text(row, 2), &room),
                 HTML_END);
    return OK;
}

struct section_list {
    struct html *page;
    struct store *store;
};

static enum status take_section(struct statement *row, void *context, struct fault *fault)
{
    struct section_list *list = context;
    struct text_pool pool = {0};
    const char *texts[] = {"", NULL};
    struct setting_list settings = {list->page, 0};

    enum status status = text_pool_keep(&pool, statement_text(row, 0), &texts[0], fault);
    if (status != OK)
        return status;
    html_element(list->page, "dt", texts[0], HTML_END);
    html_open(list->page, "dd", HTML_END);
    status = query_each(list->store,
                        "SELECT name, value, unit FROM setting WHERE section = ?1 ORDER BY name",
                        texts, take_setting, &settings, fault);
    html_close(list->page);
    text_pool_free(&pool);
    return status;
}

/* Settings of the sections that the condition names. */
static enum status write_settings(struct html *page, const struct night_page *night,
                                  const char *sql, struct fault *fault)
{
    struct section_list list = {page, night->store};

    return query_each(night->store, sql, NULL, take_section, &list, fault);
}

static void write_found(struct html *page, const char *found)
{
    html_text(page, " Found: ");
    sign_text_write(page, found);
    html_text(page, ".");
}

/* Row: step, method, equation, evidence, source, not verified, found. */
static enum status take_method(struct statement *row, void *context, struct fault *fault)
{
    struct html *page = context;
    char title[120];

    (void)fault;
    (void)snprintf(title, sizeof title, "%s: %s", statement_text(row, 0), statement_text(row, 1));
    html_element(page, "dt", title, HTML_END);
    html_open(page, "dd", HTML_END);
    html_format(page, "%s. Known to hold for: %s. Source: %s.", statement_text(row, 2),
                statement_text(row, 3), statement_text(row, 4));
    if (statement_text(row, 6)[0] != '\0')
        write_found(page, statement_text(row, 6));
    if (statement_text(row, 5)[0] != '\0') {
        html_text(page, " ");
        html_element(page, "b", "Not verified against the paper:", HTML_END);
        html_format(page, " %s.", statement_text(row, 5));
    }
    html_close(page);
    return OK;
}

/* Of a redacted season hash and key are NULL: no cell for what is not told. */
static void write_hash(struct html *page, const char *hash)
{
    char shown[HASH_SHOWN + 1];

    if (hash == NULL)
        return;
    (void)snprintf(shown, sizeof shown, "%s", hash);
    html_open(page, "td", "class", "left", HTML_END);
    html_element(page, "code", shown, HTML_END);
    html_close(page);
}

static enum status take_log(struct statement *row, void *context, struct fault *fault)
{
    struct html *page = context;

    (void)fault;
    html_open(page, "tr", HTML_END);
    html_element(page, "th", statement_text(row, 0), "scope", "row", HTML_END);
    html_element(page, "td", statement_text(row, 1), "class", "left", HTML_END);
    write_hash(page, statement_text(row, 2));
    html_element(page, "td", number_text_whole(statement_integer(row, 3)).text, HTML_END);
    html_close(page);
    return OK;
}

static enum status take_reduction(struct statement *row, void *context, struct fault *fault)
{
    struct html *page = context;

    (void)fault;
    html_open(page, "tr", HTML_END);
    html_element(page, "th", statement_text(row, 0), "scope", "row", HTML_END);
    html_element(page, "td", statement_text(row, 1), "class", "left", HTML_END);
    write_hash(page, statement_text(row, 2));
    html_close(page);
    return OK;
}

struct list_head {
    const char *const *texts; /* ended by NULL */
    size_t left;              /* columns of words; numbers follow */
};

/* A folded table: title, head row, one row a row of sql. */
static enum status write_list(struct html *page, struct store *store, const char *title,
                              const struct list_head *head, const char *sql, query_row *take,
                              struct fault *fault)
{
    html_open(page, "details", HTML_END);
    html_element(page, "summary", title, HTML_END);
    page_scroller(page, "scroll", title);
    html_open(page, "table", HTML_END);
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    for (size_t i = 0; head->texts[i] != NULL; i++)
        html_element(page, "th", head->texts[i], "class", i < head->left ? "left" : NULL, "scope",
                     "col", HTML_END);
    html_close(page);
    html_close(page);
    html_open(page, "tbody", HTML_END);
    enum status status = query_each(store, sql, NULL, take, page, fault);
    for (int k = 0; k < 4; k++)
        html_close(page);
    return status;
}

static enum status write_inputs(struct html *page, const struct night_page *night, int is_redacted,
                                struct fault *fault)
{
    double logs = 0, bytes = 0, reductions = 0;

    enum status status =
        query_real(night->store, "SELECT count(*) FROM log WHERE run IN (SELECT run FROM page_run)",
                   NULL, &logs, fault);
    if (status == OK)
        status = query_real(night->store,
                            "SELECT total(bytes) FROM log WHERE run IN (SELECT run FROM page_run)",
                            NULL, &bytes, fault);
    if (status == OK)
        status = query_real(night->store, "SELECT count(*) FROM page_reduction", NULL, &reductions,
                            fault);
    html_element(page, "dt", "Inputs", HTML_END);
    html_open(page, "dd", HTML_END);
    if (is_redacted)
        html_format(page,
                    "Log files: %.0f. Reductions: %.0f. What they are known by, files, lengths and "
                    "hashes, stays with whoever made them.",
                    logs, reductions);
    else
        html_format(page,
                    "Log files: %.0f, %s together, each known by its SHA-256. Reductions: %.0f, "
                    "each known by "
                    "the hash of all it depends on. Both are listed below.",
                    logs, number_text_size(bytes).text, reductions);
    html_close(page);
    return status;
}

static enum status write_description(struct html *page, const struct night_page *night,
                                     int is_redacted, struct fault *fault)
{
    html_open(page, "dl", "class", "origin-list", HTML_END);
    write_pair(page, "Signs and axes", signs);
    write_pair(page, "References", references);
    enum status status =
        write_settings(page, night,
                       "SELECT DISTINCT section FROM setting WHERE section = 'car' OR section = "
                       "(SELECT 'facility ' || facility FROM page_scope) OR section IN "
                       "('attitudes', 'limits') ORDER BY section",
                       fault);
    if (status == OK)
        status = query_each(night->store,
                            "SELECT step, method, equation, evidence, source, not_verified, found "
                            "FROM correction_method WHERE facility = (SELECT facility FROM "
                            "page_scope) ORDER BY sequence",
                            NULL, take_method, page, fault);
    write_pair(page, "Rules", rules);
    if (status == OK)
        status = write_inputs(page, night, is_redacted, fault);
    write_pair(page, "Beside this page", is_redacted ? beside_redacted : beside);
    html_close(page);
    return status;
}

static enum status write_lists(struct html *page, const struct night_page *night, int is_redacted,
                               struct fault *fault)
{
    static const char *const log_texts[] = {"Run", "File", "SHA-256, first 12", "Rows", NULL};
    static const char *const key_texts[] = {"Stage", "Of", "Key, first 12", NULL};
    static const char *const log_ids[] = {"Run", "File", "Rows", NULL};
    static const char *const key_ids[] = {"Stage", "Of", NULL};
    const struct list_head log_head = {is_redacted ? log_ids : log_texts, is_redacted ? 2 : 3};
    const struct list_head key_head = {is_redacted ? key_ids : key_texts, is_redacted ? 2 : 3};

    enum status status = write_list(
        page, night->store, "Log files", &log_head,
        "SELECT l.run, l.file, nullif(l.sha256, ''), l.rows FROM log AS l JOIN page_run AS r ON "
        "r.run = l.run ORDER BY r.sequence, l.position",
        take_log, fault);
    if (status == OK)
        status = write_list(page, night->store, "Reductions", &key_head,
                            "SELECT stage, subject, nullif(key, '') FROM page_reduction ORDER BY "
                            "stage, subject",
                            take_reduction, fault);
    if (status != OK)
        return status;
    html_open(page, "details", HTML_END);
    html_element(page, "summary", "All settings in force", HTML_END);
    html_open(page, "dl", "class", "origin-list", HTML_END);
    status = write_settings(
        page, night,
        "SELECT DISTINCT section FROM setting WHERE section NOT LIKE 'facility %' OR "
        "section = (SELECT 'facility ' || facility FROM page_scope) OR instr(section, (SELECT "
        "'facility ' || facility || ', ' FROM page_scope)) = 1 ORDER BY section",
        fault);
    html_close(page);
    html_close(page);
    return status;
}

/* Only when there are others: a page that is about a part of the season says so. */
static void write_scope(struct html *page, const struct findings *findings)
{
    const struct season_entries *entries = &findings->entries;

    if (entries->n < 2)
        return;
    html_open(page, "p", "class", "note", HTML_END);
    html_format(page, "This page is about entry %s at %s; the season also holds: ", findings->entry,
                findings->facility);
    size_t named = 0;
    for (size_t i = 0; i < entries->n && named < ENTRIES_NAMED; i++)
        if (i != findings->at)
            html_format(page, "%s%s at %s", named++ == 0 ? "" : ", ", entries->items[i].entry,
                        entries->items[i].facility);
    if (entries->n > named + 1)
        html_format(page, " and %zu more", entries->n - named - 1);
    html_text(page, ".");
    html_close(page);
}

enum status panel_method(struct html *page, const struct night_page *night, struct fault *fault)
{
    int is_redacted = 0;

    enum status status = redact_is_on(night->store, &is_redacted, fault);
    page_section(page, "method", "How it was made",
                 is_redacted ? "By what rules; inputs and settings in words are left out."
                             : "Enough to make it again, byte for byte.");
    html_open(page, "div", "class", "panel", HTML_END);
    write_scope(page, night->findings);
    if (status == OK)
        status = write_description(page, night, is_redacted, fault);
    if (status == OK)
        status = write_lists(page, night, is_redacted, fault);
    html_close(page);
    html_open(page, "div", "class", "caution", HTML_END);
    html_element(page, "b", "Before acting on this", HTML_END);
    for (size_t i = 0; i < sizeof cautions / sizeof cautions[0]; i++)
        html_element(page, "p", cautions[i], HTML_END);
    html_close(page);
    html_close(page);
    return status;
}
