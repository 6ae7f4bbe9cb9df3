/* season.c - see season.h. */
#include "report/season.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/number_text.h"
#include "report/time_text.h"

static enum status keep(struct season *season, const char *text, const char **kept,
                        struct fault *fault)
{
    return text_pool_keep(&season->texts, text, kept, fault);
}

/* Keeps what was built, and ends it. */
static enum status keep_built(struct season *season, struct buffer *text, const char **kept,
                              struct fault *fault)
{
    enum status status = buffer_status(text, "the index", fault);

    if (status == OK)
        status = keep(season, buffer_string(text), kept, fault);
    buffer_free(text);
    return status;
}

/* ---- nights -------------------------------------------------------------------------------------- */

struct running {
    double usable, all, first;
    double offset;
};

static enum status take_running(struct statement *row, void *context, struct fault *fault)
{
    struct running *running = context;
    const char *start = statement_text(row, 3);

    (void)fault;
    *running =
        (struct running){statement_real(row, 0), statement_real(row, 1), statement_real(row, 2),
                         start != NULL ? time_zone_offset(start) : 0};
    return OK;
}

static enum status read_running(struct season *season, struct season_night *night,
                                struct fault *fault)
{
    struct running running = {NAN, NAN, NAN, 0};
    struct buffer runs = {0};

    enum status status = query_each(
        season->store,
        "SELECT total(kind = 'wind_on' AND state = 'ok'), total(kind = 'wind_on'), min(start_s), "
        "(SELECT start_text FROM page_run ORDER BY start_s LIMIT 1) FROM page_run",
        NULL, take_running, &running, fault);
    if (status == OK && isfinite(running.first))
        status = keep(season, time_date(running.first, running.offset).text, &night->date, fault);
    buffer_format(&runs, "%.0f of %.0f", running.usable, running.all);
    enum status kept = keep_built(season, &runs, &night->runs, fault);
    return status != OK ? status : kept;
}

static enum status take_flag(struct statement *row, void *context, struct fault *fault)
{
    struct buffer *out = context;

    (void)fault;
    buffer_format(out, "%s%s, %lld", out->length > 0 ? "; " : "", statement_text(row, 0),
                  (long long)statement_integer(row, 1));
    return OK;
}

/* The flags that took something out: those that failed or refused what they are about. */
static enum status read_flags(struct season *season, struct season_night *night,
                              struct fault *fault)
{
    struct buffer flags = {0};

    enum status status =
        query_each(season->store,
                   "SELECT rule, count(*) AS n FROM page_flag WHERE state IN ('failed', 'refused') "
                   "GROUP BY rule ORDER BY n DESC, rule LIMIT 4",
                   NULL, take_flag, &flags, fault);
    if (status == OK && flags.length == 0)
        buffer_text(&flags, "none");
    enum status kept = keep_built(season, &flags, &night->flags, fault);
    return status != OK ? status : kept;
}

/* The widest interval that a verdict of the night was read from. */
static enum status read_width(struct season *season, const struct findings *findings,
                              struct season_night *night, struct fault *fault)
{
    struct buffer width = {0};
    double widest = NAN;

    for (size_t i = 0; i < findings->n_leading; i++)
        widest = fmax(widest, findings->configurations[i].deltas[0].half_width);
    if (findings->n_metrics > 0 && isfinite(widest)) {
        const struct display *display = &findings->metrics[0].display;
        buffer_format(&width, "%s %s",
                      number_text_width(display->factor * widest, display->decimals).text,
                      display_named(display, findings->metrics[0].name).text);
    } else {
        buffer_text(&width, "none");
    }
    return keep_built(season, &width, &night->width, fault);
}

static enum status add_night(struct season *season, const struct findings *findings,
                             const struct headline *headline, const struct page_name *file,
                             struct fault *fault)
{
    struct season_night *night = query_append(&season->nights, &season->n_nights,
                                              &season->nights_capacity, sizeof *night, fault);
    if (night == NULL)
        return NO_MEMORY;
    *night = (struct season_night){"", "", "", "", "", "", "", *file};
    enum status status = keep(season, findings->facility, &night->facility, fault);
    if (status == OK)
        status = keep(season, findings->entry, &night->entry, fault);
    if (status == OK)
        status = keep(season, buffer_string(&headline->sentence), &night->headline, fault);
    if (status == OK)
        status = read_running(season, night, fault);
    if (status == OK)
        status = read_width(season, findings, night, fault);
    return status == OK ? read_flags(season, night, fault) : status;
}

/* ---- configurations ------------------------------------------------------------------------------ */

static struct season_part *find_part(struct season *season, const char *name)
{
    struct season_part *parts = season->parts;

    for (size_t i = 0; i < season->n_parts; i++)
        if (strcmp(parts[i].name, name) == 0)
            return &parts[i];
    return NULL;
}

static enum status new_part(struct season *season, const struct finding_configuration *found,
                            struct season_part **part, struct fault *fault)
{
    *part = query_append(&season->parts, &season->n_parts, &season->parts_capacity, sizeof **part,
                         fault);
    if (*part == NULL)
        return NO_MEMORY;
    (*part)->amount = (*part)->verdict = (*part)->baseline = (*part)->change = "";
    (*part)->latest = SIZE_MAX;
    enum status status = keep(season, found->name, &(*part)->name, fault);
    if (status == OK)
        status = keep(season, found->baseline, &(*part)->baseline, fault);
    return status == OK ? keep(season, found->change, &(*part)->change, fault) : status;
}

/* Of a night that a check fails no verdict stands by itself. */
static enum status keep_verdict(struct season *season, const struct findings *findings,
                                const struct finding_configuration *found, struct season_part *part,
                                struct fault *fault)
{
    const char *verdict = found->deltas[0].verdict;
    struct buffer text = {0};

    buffer_text(&text, verdict[0] != '\0' ? verdict : "none");
    const char *on = findings_hangs_on(found);
    if (on[0] != '\0')
        buffer_format(&text, "; hangs on %s", on);
    if (verdict[0] != '\0' && found->family == 0 && trust_failed(&findings->trust) != NULL)
        buffer_text(&text, "; not to be used yet");
    return keep_built(season, &text, &part->verdict, fault);
}

static enum status keep_delta(struct season *season, const struct findings *findings,
                              const struct finding_configuration *found, struct season_part *part,
                              struct fault *fault)
{
    const struct finding_delta *delta = &found->deltas[0];
    const struct display *display = &findings->metrics[0].display;
    struct buffer amount = {0};

    if (found->is_baseline || !delta->is_there)
        return OK;
    part->latest = season->n_nights - 1;
    buffer_format(&amount, "%s %s",
                  number_text_pair(display->factor * delta->delta,
                                   display->factor * delta->half_width, display->decimals)
                      .text,
                  display_named(display, findings->metrics[0].name).text);
    enum status status = keep_built(season, &amount, &part->amount, fault);
    if (status == OK)
        status = keep_verdict(season, findings, found, part, fault);
    return status == OK ? page_names_proof(season->store, found->name, &part->file, fault) : status;
}

static enum status add_part(struct season *season, const struct findings *findings,
                            const struct finding_configuration *found, struct fault *fault)
{
    struct season_part *part = find_part(season, found->name);

    enum status status = part == NULL ? new_part(season, found, &part, fault) : OK;
    if (status != OK)
        return status;
    size_t *night =
        query_append(&part->nights, &part->n_nights, &part->nights_capacity, sizeof *night, fault);
    if (night == NULL)
        return NO_MEMORY;
    *night = season->n_nights - 1;
    return keep_delta(season, findings, found, part, fault);
}

/* ---- both ---------------------------------------------------------------------------------------- */

static enum status keep_season(struct season *season, const struct findings *findings,
                               struct fault *fault)
{
    const struct finding_configuration *baseline = findings_baseline(findings);
    const struct {
        const char *text, **kept;
    } texts[] = {{findings->season, &season->name},
                 {findings->car, &season->car},
                 {findings->facility, &season->facility},
                 {findings->target, &season->target},
                 {baseline != NULL ? baseline->name : "", &season->baseline}};
    enum status status = OK;

    for (size_t i = 0; status == OK && i < sizeof texts / sizeof texts[0]; i++)
        status = keep(season, texts[i].text, texts[i].kept, fault);
    if (findings->n_metrics == 0 || status != OK)
        return status;
    season->metric = findings->metrics[0];
    status = keep(season, findings->metrics[0].name, &season->metric.name, fault);
    if (status == OK)
        status = keep(season, findings->metrics[0].quantity, &season->metric.quantity, fault);
    season->metric.better = "";
    return status;
}

enum status season_add(struct season *season, const struct findings *findings,
                       const struct headline *headline, const struct page_name *file,
                       struct fault *fault)
{
    enum status status = add_night(season, findings, headline, file, fault);

    for (size_t i = 0; status == OK && i < findings->n_configurations; i++)
        status = add_part(season, findings, &findings->configurations[i], fault);
    return status == OK ? keep_season(season, findings, fault) : status;
}

void season_end(struct season *season)
{
    struct season_part *parts = season->parts;

    for (size_t i = 0; i < season->n_parts; i++)
        free(parts[i].nights);
    free(season->parts);
    free(season->nights);
    text_pool_free(&season->texts);
    *season = (struct season){0};
}
