/* panel_repeat.c - which runs to repeat first, and why; see repeat_first.h. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "report/number_text.h"
#include "report/page.h"
#include "report/panel.h"
#include "report/repeat_first.h"
#include "report/sign_text.h"

enum { ROWS_MAX = 8 };

/* What the run sheet knows of each configuration, by the findings' order. */
struct sheet {
    const struct findings *findings;
    double *minutes;
    const char **last, **lost; /* "" for none */
    struct text_pool texts;
};

static enum status take_sheet(struct statement *row, void *context, struct fault *fault)
{
    struct sheet *sheet = context;
    const struct finding_configuration *at =
        findings_configuration(sheet->findings, statement_text(row, 0));

    if (at == NULL)
        return OK;
    size_t i = (size_t)(at - sheet->findings->configurations);
    sheet->minutes[i] = statement_real(row, 1);
    enum status status =
        text_pool_keep(&sheet->texts, statement_text(row, 2), &sheet->last[i], fault);
    if (status == OK)
        status = text_pool_keep(&sheet->texts, statement_text(row, 3), &sheet->lost[i], fault);
    return status;
}

/* A run lasts from its start to that of the next wind-on run, zeros and work on the car included; the
 * shortest of a configuration, since a pause is none of it. */
static const char sheet_sql[] =
    "WITH timed AS (SELECT run, sequence, configuration, state, "
    "       lead(start_s) OVER (ORDER BY start_s, sequence) - start_s AS lasts "
    "       FROM page_run WHERE kind = 'wind_on') "
    "SELECT t.configuration, min(CASE WHEN t.lasts > 0 THEN t.lasts END) / 60, "
    "(SELECT run FROM timed AS l WHERE l.configuration = t.configuration AND l.state = 'ok' "
    " ORDER BY l.sequence DESC LIMIT 1), "
    "(SELECT group_concat(run, ', ') FROM (SELECT run FROM timed AS q WHERE q.configuration = "
    " t.configuration AND q.state <> 'ok' ORDER BY q.sequence)) "
    "FROM timed AS t GROUP BY t.configuration ORDER BY t.configuration";

static enum status sheet_read(const struct night_page *night, struct sheet *sheet,
                              struct fault *fault)
{
    size_t n = night->findings->n_configurations;

    *sheet = (struct sheet){.findings = night->findings,
                            .minutes = calloc(n + 1, sizeof(double)),
                            .last = calloc(n + 1, sizeof(char *)),
                            .lost = calloc(n + 1, sizeof(char *))};
    if (sheet->minutes == NULL || sheet->last == NULL || sheet->lost == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the run sheet of %zu configurations", n);
    for (size_t i = 0; i < n; i++) {
        sheet->minutes[i] = (double)NAN;
        sheet->last[i] = sheet->lost[i] = "";
    }
    return query_each(night->store, sheet_sql, NULL, take_sheet, sheet, fault);
}

static void sheet_end(struct sheet *sheet)
{
    text_pool_free(&sheet->texts);
    free(sheet->minutes);
    free(sheet->last);
    free(sheet->lost);
}

static void write_why(struct html *page, const struct findings *findings,
                      const struct repeat_row *row, const char *lost)
{
    const struct display *display = &findings->metrics[0].display;
    const struct finding_delta *delta = &row->configuration->deltas[0];
    double width = display->factor * delta->half_width;
    const char *unit = display->unit;
    const char *blank = unit[0] != '\0' ? " " : "";

    if (!isfinite(row->doubt))
        html_text(page, "No interval");
    else if (strcmp(delta->verdict, "can't tell yet") != 0)
        html_format(page, "%s%s%s",
                    number_text_pair(display->factor * delta->delta, width, display->decimals).text,
                    blank, unit);
    else
        html_format(page, "%s%s%s: a verdict needs %s or less",
                    number_text_pair(display->factor * delta->delta, width, display->decimals).text,
                    blank, unit,
                    number_text_width(display->factor * row->needed, display->decimals).text);
    if (row->configuration->stability[0] != '\0' &&
        strcmp(row->configuration->stability, "firm") != 0)
        html_format(page, "; %s: %lld of %lld variants say the same", row->configuration->stability,
                    row->configuration->variants_same, row->configuration->variants);
    if (delta->reason[0] != '\0') {
        html_text(page, "; ");
        sign_text_write(page, delta->reason);
    }
    html_text(page, ". ");
    if (lost[0] != '\0')
        html_format(page, "%s %s no part.", lost, strchr(lost, ',') != NULL ? "take" : "takes");
}

static void write_row(struct html *page, const struct findings *findings,
                      const struct repeat_row *row, const char *last, const char *lost)
{
    const struct display *display = &findings->metrics[0].display;
    double doubt = display->factor * row->doubt;

    html_open(page, "tr", HTML_END);
    html_element(page, "th", row->configuration->name, "class", "name", "scope", "row", HTML_END);
    html_element(page, "td", last[0] != '\0' ? last : "none", "class", "left", HTML_END);
    html_element(page, "td", number_text_plain(row->minutes, 0).text, HTML_END);
    html_element(page, "td", number_text_plain(doubt, display->decimals).text, HTML_END);
    html_element(page, "td", number_text_plain(doubt / row->minutes, display->decimals + 1).text,
                 HTML_END);
    html_open(page, "td", "class", "left why-cell", HTML_END);
    write_why(page, findings, row, lost);
    html_close(page);
    html_close(page);
}

static void write_head(struct html *page, const struct display *display)
{
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    html_element(page, "th", "Configuration", "class", "left", "scope", "col", HTML_END);
    html_element(page, "th", "Last run", "class", "left", "scope", "col", HTML_END);
    html_element(page, "th", "Minutes a run", "scope", "col", HTML_END);
    html_open(page, "th", "scope", "col", HTML_END);
    html_format(page, "Too wide by%s%s", display->unit[0] != '\0' ? ", " : "", display->unit);
    html_close(page);
    html_element(page, "th", "Per minute", "scope", "col", HTML_END);
    html_element(page, "th", "Why", "class", "left", "scope", "col", HTML_END);
    html_close(page);
    html_close(page);
}

static void write_rows(struct html *page, const struct sheet *sheet, const struct repeat_row *rows,
                       size_t n)
{
    const struct findings *findings = sheet->findings;

    html_open(page, "div", "class", "panel", HTML_END);
    page_scroller(page, "scroll", "runs to repeat first");
    html_open(page, "table", "class", "repeat", HTML_END);
    write_head(page, &findings->metrics[0].display);
    html_open(page, "tbody", HTML_END);
    for (size_t i = 0; i < n && i < ROWS_MAX; i++) {
        size_t at = (size_t)(rows[i].configuration - findings->configurations);
        write_row(page, findings, &rows[i], sheet->last[at], sheet->lost[at]);
    }
    for (int k = 0; k < 3; k++)
        html_close(page);
    if (n > ROWS_MAX) {
        html_open(page, "p", "class", "note", HTML_END);
        html_format(page, "And %zu more that are not decided.", n - ROWS_MAX);
        html_close(page);
    }
    html_close(page);
}

static size_t compared(const struct findings *findings)
{
    size_t n = 0;

    for (size_t i = 0; i < findings->n_configurations; i++)
        n += !findings->configurations[i].is_baseline &&
             findings->configurations[i].deltas[0].is_there;
    return n;
}

static void write_none(struct html *page, const struct findings *findings)
{
    html_open(page, "p", "class", "why", HTML_END);
    if (compared(findings) == 0)
        html_text(page, "Nothing was compared, so nothing can be ranked.");
    else if (trust_failed(&findings->trust) != NULL)
        html_text(page, "Every configuration that was compared has its verdict, but a check on the "
                        "night fails: clear that first.");
    else
        html_text(page, "None: every configuration that was compared has its verdict.");
    html_close(page);
}

enum status panel_repeat(struct html *page, const struct night_page *night, struct fault *fault)
{
    struct sheet sheet;
    struct repeat_row *rows = NULL;
    size_t n = 0;

    enum status status = sheet_read(night, &sheet, fault);
    if (status == OK)
        status = repeat_first(night->findings, sheet.minutes, &rows, &n, fault);
    if (status == OK) {
        page_section(page, "repeat", "Runs to repeat first",
                     n > 0 ? "Where a minute of wind takes away most doubt: how much too wide the "
                             "interval is for a verdict, by the time that a run takes."
                           : NULL);
        if (n > 0)
            write_rows(page, &sheet, rows, n);
        else
            write_none(page, night->findings);
        html_close(page);
    }
    free(rows);
    sheet_end(&sheet);
    return status;
}
