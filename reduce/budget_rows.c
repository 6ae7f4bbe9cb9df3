/* budget_rows.c - see budget_rows.h. */
#include "reduce/budget_rows.h"
#include "schema/bind_row.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { ENTRY = 2 + UNCERTAIN_OUTPUTS };

enum status budget_writer_open(struct store *store, int64_t reduction, struct budget_writer *writer,
                               struct fault *fault)
{
    *writer = (struct budget_writer){NULL, NULL, NULL, reduction};
    enum status status =
        statement_prepare(store,
                          "INSERT INTO point_uncertainty (run, point, quantity, method, standard, "
                          "degrees_of_freedom, repeatability, seed, reduction) "
                          "VALUES (?,?,?,?,?,?,?,?,?)",
                          &writer->uncertainty, fault);
    if (status == OK)
        status = statement_prepare(store,
                                   "INSERT INTO point_budget (run, point, untold, contributions, "
                                   "reduction) VALUES (?,?,?,?,?)",
                                   &writer->budget, fault);
    if (status == OK)
        status = statement_prepare(
            store,
            "INSERT INTO uncertainty_source (source, input, unit, reach, shape, evidence, "
            "standard, "
            "degrees_of_freedom, is_relative, position, reduction) VALUES (?,?,?,?,?,?,?,?,?,?,?)",
            &writer->source, fault);
    if (status != OK)
        budget_writer_end(writer);
    return status;
}

void budget_writer_end(struct budget_writer *writer)
{
    statement_free(writer->uncertainty);
    statement_free(writer->budget);
    statement_free(writer->source);
    writer->uncertainty = writer->budget = writer->source = NULL;
}

static double known(double value)
{
    return isfinite(value) ? value : (double)NAN;
}

static enum status write_source(struct budget_writer *writer, const struct budget_source *source,
                                size_t place, struct fault *fault)
{
    static const char *const shapes[] = {[SHAPE_NORMAL] = "normal",
                                         [SHAPE_RECTANGULAR] = "rectangular",
                                         [SHAPE_TRIANGULAR] = "triangular",
                                         [SHAPE_ARCSINE] = "arcsine"};
    int is_input = source->input != UNCERTAIN_INPUTS;
    const char *const texts[] = {source->name,
                                 is_input ? uncertain_input_row(source->input)->word : "",
                                 is_input ? uncertain_input_row(source->input)->unit : "",
                                 budget_reach_word(place, source->reach),
                                 shapes[source->shape],
                                 source->evidence};
    double standard = place >= BUDGET_DECLARED ? source->standard : (double)NAN;
    enum status status = bind_texts(writer->source, 1, texts, 6, fault);
    if (status == OK)
        status = statement_bind_real(writer->source, 7, standard, fault);
    if (status == OK)
        status = statement_bind_real(
            writer->source, 8, place >= BUDGET_DECLARED ? known(source->freedom) : (double)NAN,
            fault);
    if (status == OK)
        status = statement_bind_integer(writer->source, 9, source->is_relative, fault);
    if (status == OK)
        status = statement_bind_integer(writer->source, 10, (int64_t)place, fault);
    if (status == OK)
        status = statement_bind_integer(writer->source, 11, writer->reduction, fault);
    return status == OK ? statement_run(writer->source, fault) : status;
}

enum status budget_write_sources(struct budget_writer *writer, const struct budget_list *list,
                                 struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; status == OK && i < BUDGET_PLACES; i++)
        if (list->source[i].name[0] != '\0')
            status = write_source(writer, &list->source[i], i, fault);
    return status;
}

static enum status write_quantity(struct budget_writer *writer, const char *run, const char *point,
                                  const struct point_budget *budget, size_t output,
                                  struct fault *fault)
{
    int drawn = budget->by_trials[output];
    const char *method = drawn ? "trials" : budget->is_bent[output] ? "steps, bent" : "steps";
    const char *const texts[] = {run, point, quantity_row(uncertain_outputs[output])->symbol,
                                 method};
    const double reals[] = {budget->total[output].standard, known(budget->total[output].freedom),
                            budget->repeatability[output]};
    if (!isfinite(budget->total[output].standard))
        return OK;
    enum status status = bind_texts(writer->uncertainty, 1, texts, 4, fault);
    for (int i = 0; status == OK && i < 3; i++)
        status = statement_bind_real(writer->uncertainty, 5 + i, reals[i], fault);
    if (status == OK && drawn)
        status = statement_bind_integer(writer->uncertainty, 8, (int64_t)budget_seed, fault);
    if (status == OK)
        status = statement_bind_integer(writer->uncertainty, 9, writer->reduction, fault);
    return status == OK ? statement_run(writer->uncertainty, fault) : status;
}

static size_t pack(const struct point_budget *budget, double *blob)
{
    size_t n = 0;
    for (size_t i = 0; i < BUDGET_PLACES; i++) {
        int is_any = 0;
        for (size_t k = 0; k < UNCERTAIN_OUTPUTS; k++)
            is_any = is_any || budget->contribution[i][k] != 0;
        if (!is_any)
            continue;
        blob[n] = (double)i;
        blob[n + 1] = isfinite(budget->freedom[i]) ? budget->freedom[i] : 0;
        memcpy(&blob[n + 2], budget->contribution[i], sizeof budget->contribution[i]);
        n += ENTRY;
    }
    return n;
}

static void list_untold(const struct budget_list *list, const struct point_budget *budget,
                        char *out, size_t size)
{
    size_t used = 0;
    out[0] = '\0';
    for (size_t i = 0; i < BUDGET_PLACES && used < size; i++)
        if (budget->is_untold[i])
            used += (size_t)snprintf(out + used, size - used, "%s%.80s", used > 0 ? ", " : "",
                                     list->source[i].name);
}

enum status budget_write_point(struct budget_writer *writer, const char *run, const char *point,
                               const struct budget_list *list, const struct point_budget *budget,
                               struct fault *fault)
{
    double blob[BUDGET_PLACES * ENTRY];
    char untold[600];
    enum status status = OK;
    for (size_t i = 0; status == OK && i < UNCERTAIN_OUTPUTS; i++)
        status = write_quantity(writer, run, point, budget, i, fault);
    list_untold(list, budget, untold, sizeof untold);
    const char *const texts[] = {run, point, untold};
    if (status == OK)
        status = bind_texts(writer->budget, 1, texts, 3, fault);
    if (status == OK)
        status =
            statement_bind_blob(writer->budget, 4, blob, pack(budget, blob) * sizeof *blob, fault);
    if (status == OK)
        status = statement_bind_integer(writer->budget, 5, writer->reduction, fault);
    return status == OK ? statement_run(writer->budget, fault) : status;
}

enum status budget_blob_read(const void *bytes, size_t size, struct point_budget *budget,
                             struct fault *fault)
{
    double entry[ENTRY];
    if (size % sizeof entry != 0)
        return FAIL(fault, BAD_INPUT, "contributions of a point have %zu bytes, no whole entries",
                    size);
    for (size_t at = 0; at < size; at += sizeof entry) {
        memcpy(entry, (const char *)bytes + at, sizeof entry);
        if (!(entry[0] >= 0 && entry[0] < BUDGET_PLACES))
            return FAIL(fault, BAD_INPUT, "contributions of a point name no source");
        size_t place = (size_t)entry[0];
        budget->freedom[place] = entry[1] > 0 ? entry[1] : (double)INFINITY;
        memcpy(budget->contribution[place], &entry[2], sizeof budget->contribution[place]);
    }
    return OK;
}
