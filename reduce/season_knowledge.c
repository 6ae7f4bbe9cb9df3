/* season_knowledge.c - see season_knowledge.h. */
#include "reduce/season_knowledge.h"

#include <stdlib.h>
#include <string.h>

#include "reduce/repeatability.h"
#include "reduce/rows.h"

static enum status read_repeatability(const struct night *night, const struct family *family,
                                      enum quantity quantity, size_t measure,
                                      struct season_measure *made, struct fault *fault)
{
    const struct run_row *of = family->runs[0].run;
    struct repeatability known;
    enum status status = repeatability_read(
        night->store, of->facility, quantity_row(quantity)->symbol, family->measures[measure],
        repeatability_entry_start(night, of), &known, fault);
    if (status != OK)
        return status;
    made->refitted = known.level[VARIANCE_REFITTED];
    made->entries = known.level_entries[VARIANCE_REFITTED];
    return OK;
}

static enum status add_delta(struct season_measure *made, double delta, double uncertainty,
                             struct fault *fault)
{
    void *deltas = made->deltas;
    void *uncertainties = made->uncertainties;
    enum status status =
        array_reserve(&deltas, &made->deltas_capacity, made->n + 1, sizeof(double), fault);
    made->deltas = deltas;
    if (status == OK)
        status = array_reserve(&uncertainties, &made->uncertainties_capacity, made->n + 1,
                               sizeof(double), fault);
    made->uncertainties = uncertainties;
    if (status != OK)
        return status;
    made->deltas[made->n] = delta;
    made->uncertainties[made->n] = uncertainty;
    made->n++;
    return OK;
}

static enum status take_delta(struct statement *row, const struct family *family,
                              struct season_knowledge *season, struct fault *fault)
{
    enum quantity quantity = quantity_from_symbol(statement_text(row, 0));
    const char *target = statement_text(row, 1);
    size_t measure = target == NULL ? family->n_measures : family_measure(family, target);
    if (quantity == QUANTITY_COUNT || measure == family->n_measures)
        return OK;
    return add_delta(&season->measures[measure * QUANTITY_COUNT + quantity], statement_real(row, 2),
                     statement_real(row, 3), fault);
}

static enum status read_deltas(const struct night *night, const struct family *family,
                               struct season_knowledge *season, struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0;
    enum status status =
        rows_open(night->store,
                  "WITH e AS (SELECT facility, entry, min(start_s) AS started FROM run GROUP BY "
                  "facility, entry) SELECT x.quantity, x.target, x.delta, x.standard_uncertainty "
                  "FROM delta AS x "
                  "JOIN e ON e.facility = x.facility AND e.entry = x.entry "
                  "WHERE e.started < ?1 AND x.delta IS NOT NULL AND x.standard_uncertainty > 0 "
                  "ORDER BY e.started, x.facility, x.entry, x.baseline, x.configuration",
                  NULL, 0, &row, fault);
    if (status == OK)
        status = statement_bind_real(row, 1, repeatability_entry_start(night, family->runs[0].run),
                                     fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more)
        status = take_delta(row, family, season, fault);
    statement_free(row);
    return status;
}

enum status season_knowledge_read(const struct night *night, const struct family *family,
                                  const enum quantity *quantities, size_t n_quantities,
                                  struct season_knowledge *season, struct fault *fault)
{
    void *array = NULL;
    enum status status =
        array_make(&array, family->n_measures * QUANTITY_COUNT, sizeof *season->measures, fault);
    season->measures = array;
    season->n_measures = family->n_measures;
    for (size_t i = 0; i < n_quantities; i++)
        for (size_t k = 0; status == OK && k < family->n_measures; k++)
            status =
                read_repeatability(night, family, quantities[i], k,
                                   &season->measures[k * QUANTITY_COUNT + quantities[i]], fault);
    if (status == OK)
        status = read_deltas(night, family, season, fault);
    if (status != OK)
        season_knowledge_end(season);
    return status;
}

void season_knowledge_end(struct season_knowledge *season)
{
    for (size_t i = 0; season->measures != NULL && i < season->n_measures * QUANTITY_COUNT; i++) {
        free(season->measures[i].deltas);
        free(season->measures[i].uncertainties);
    }
    free(season->measures);
    memset(season, 0, sizeof *season);
}

const struct season_measure *season_measure(const struct season_knowledge *season,
                                            enum quantity quantity, size_t measure)
{
    return &season->measures[measure * QUANTITY_COUNT + quantity];
}

static enum status add_rows(struct statement *row, struct key_text *key, struct fault *fault)
{
    enum status status = OK;
    int more = 0;
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more) {
        const char *name = statement_text(row, 0);
        const char *value = statement_text(row, 1);
        key_text_word(key, name == NULL ? "" : name, value == NULL ? "" : value);
    }
    return status;
}

enum status season_knowledge_key(const struct night *night, const struct run_row *of,
                                 struct key_text *key, struct fault *fault)
{
    struct statement *earlier = NULL;
    struct statement *declared = NULL;
    enum status status =
        rows_open(night->store,
                  "WITH e AS (SELECT facility, entry, min(start_s) AS started FROM run GROUP BY "
                  "facility, entry) SELECT 'earlier ' || d.stage || ' ' || d.subject, d.key FROM "
                  "reduction AS d "
                  "JOIN e ON e.started < ?2 AND substr(d.subject, 1, length(e.facility) + "
                  "length(e.entry) + 2) = e.facility || '/' || e.entry || '/' "
                  "WHERE d.is_current = 1 AND (d.stage = 'compare' OR (d.stage = 'repeatability' "
                  "AND e.facility = ?1)) ORDER BY e.started, d.stage, d.subject",
                  (const char *const[]){of->facility}, 1, &earlier, fault);
    if (status == OK)
        status = statement_bind_real(earlier, 2, repeatability_entry_start(night, of), fault);
    if (status == OK)
        status = add_rows(earlier, key, fault);
    if (status == OK)
        status = rows_open(night->store,
                           "SELECT 'declared ' || quantity || ' ' || target || ' ' || level, "
                           "printf('%.17g %.17g', standard_deviation, degrees_of_freedom) FROM "
                           "repeatability_declared WHERE facility = ?1 ORDER BY 1",
                           (const char *const[]){of->facility}, 1, &declared, fault);
    if (status == OK)
        status = add_rows(declared, key, fault);
    statement_free(earlier);
    statement_free(declared);
    return status;
}
