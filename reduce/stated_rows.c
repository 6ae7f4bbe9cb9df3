/* stated_rows.c - see stated_rows.h. */
#include "reduce/stated_rows.h"
#include "schema/bind_row.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A finding is flagged below this probability of it by chance: one quantity in a hundred by mistake. */
static const double RARE = 0.01;

enum status stated_rows_open(struct store *store, int64_t reduction, struct stated_rows *rows,
                             struct fault *fault)
{
    memset(rows, 0, sizeof *rows);
    rows->reduction = reduction;
    enum status status = statement_prepare(
        store,
        "INSERT INTO repeat_pair_result (reduction, quantity, unit, earlier_run, earlier_point, "
        "later_run, later_point, earlier, later, difference, stated_uncertainty, is_inside) VALUES "
        "(?,?,?,?,?,?,?,?,?,?,?,?)",
        &rows->pair, fault);
    if (status == OK)
        status = statement_prepare(
            store,
            "INSERT INTO repeat_result (reduction, quantity, unit, earlier_run, later_run, pairs, "
            "inside, expected_inside, p_so_few, p_so_many, scatter_ratio, repeat_sd, "
            "repeat_sd_about_shift, shift, shift_u, degrees_of_freedom, shift_p) VALUES "
            "(?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)",
            &rows->agreement, fault);
    if (status == OK)
        status = flagger_open(store, reduction, &rows->flagger, fault);
    if (status != OK)
        stated_rows_end(rows);
    return status;
}

void stated_rows_end(struct stated_rows *rows)
{
    statement_free(rows->pair);
    statement_free(rows->agreement);
    flagger_end(&rows->flagger);
    memset(rows, 0, sizeof *rows);
}

static enum status write_pair(struct stated_rows *rows, const struct stated_points *points,
                              const struct stated_quantity *quantity,
                              const struct stated_pair *pair,
                              const struct repeat_difference *difference, struct fault *fault)
{
    const struct stated_point *a = &points->points[pair->earlier->point];
    const struct stated_point *b = &points->points[pair->later->point];
    const char *const texts[] = {quantity->name, quantity->unit, a->run->run,
                                 a->point,       b->run->run,    b->point};
    const double numbers[] = {pair->earlier->mean, pair->later->mean, difference->difference,
                              difference->stated};
    int is_inside = fabs(difference->difference) <= difference->stated;
    enum status status = statement_bind_integer(rows->pair, 1, rows->reduction, fault);
    if (status == OK)
        status = bind_texts(rows->pair, 2, texts, 6, fault);
    if (status == OK)
        status = bind_reals(rows->pair, 8, numbers, 4, fault);
    if (status == OK)
        status = statement_bind_integer(rows->pair, 12, is_inside, fault);
    return status == OK ? statement_run(rows->pair, fault) : status;
}

/* What is written and flagged together: runs "" are all of them. */
struct finding {
    const struct stated_quantity *quantity;
    const char *earlier, *later;
    struct repeat_agreement agreement;
};

static enum status write_agreement(struct stated_rows *rows, const struct finding *finding,
                                   struct fault *fault)
{
    const struct repeat_agreement *a = &finding->agreement;
    const char *const texts[] = {finding->quantity->name, finding->quantity->unit, finding->earlier,
                                 finding->later};
    const double numbers[] = {
        a->expected,       a->few,   a->many,        a->ratio,         a->sd_about_zero,
        a->sd_about_shift, a->shift, a->shift_error, a->shift_freedom, a->shift_p};
    enum status status = statement_bind_integer(rows->agreement, 1, rows->reduction, fault);
    if (status == OK)
        status = bind_texts(rows->agreement, 2, texts, 4, fault);
    if (status == OK)
        status = statement_bind_integer(rows->agreement, 6, (int64_t)a->pairs, fault);
    if (status == OK)
        status = statement_bind_integer(rows->agreement, 7, (int64_t)a->inside, fault);
    if (status == OK)
        status = bind_reals(rows->agreement, 8, numbers, 10, fault);
    return status == OK ? statement_run(rows->agreement, fault) : status;
}

/* "by a factor of about 3.2": of the scatter observed over the stated one. */
static void say_factor(const struct repeat_agreement *a, int is_small, char *text, size_t size)
{
    double factor = is_small ? a->ratio : 1 / a->ratio;
    text[0] = '\0';
    if (isfinite(factor) && factor > 1)
        (void)snprintf(text, size, " by a factor of about %.1f", factor);
}

static enum status flag_stated(struct stated_rows *rows, const struct finding *finding,
                               struct fault *fault)
{
    const struct repeat_agreement *a = &finding->agreement;
    char factor[60];
    int is_small = a->few < RARE;
    if (!is_small && !(a->many < RARE))
        return OK;
    struct flag_note note = flag_note_make(is_small ? FLAG_STATED_UNCERTAINTY_TOO_SMALL
                                                    : FLAG_STATED_UNCERTAINTY_TOO_LARGE,
                                           "", "", finding->quantity->name);
    note.value = (double)a->inside;
    note.limit = a->expected;
    say_factor(a, is_small, factor, sizeof factor);
    (void)snprintf(note.detail, sizeof note.detail,
                   "%.80s: %zu of %zu pairs of repeats lie inside the stated 95 %%, %.0f expected: "
                   "the stated uncertainty is too %s%s.",
                   finding->quantity->name, a->inside, a->pairs, round(a->expected),
                   is_small ? "small" : "large", factor);
    return flagger_write(&rows->flagger, &note, fault);
}

static enum status flag_shift(struct stated_rows *rows, const struct finding *finding,
                              struct fault *fault)
{
    const struct repeat_agreement *a = &finding->agreement;
    if (!(a->shift_p < RARE))
        return OK;
    struct flag_note note =
        flag_note_make(FLAG_SERIES_SHIFT, finding->later, "", finding->quantity->name);
    note.value = a->shift;
    note.unit = finding->quantity->unit;
    (void)snprintf(
        note.detail, sizeof note.detail,
        "%.80s of %.80s is %.3g %s than that of %.80s in the mean of %zu pairs, standard "
        "error %.2g: more than chance explains (p %.1g).",
        finding->quantity->name, finding->later, fabs(a->shift), a->shift > 0 ? "higher" : "lower",
        finding->earlier, a->pairs, a->shift_error, a->shift_p);
    return flagger_write(&rows->flagger, &note, fault);
}

static enum status write_group(struct stated_rows *rows, const struct stated_points *points,
                               struct finding *finding, const struct stated_pairs *pairs,
                               size_t from, size_t end, struct fault *fault)
{
    const struct stated_pair *first = &pairs->pairs[from];
    finding->earlier = points->points[first->earlier->point].run->run;
    finding->later = points->points[first->later->point].run->run;
    if (repeat_agreement(pairs->differences + from, end - from, stated_coverage,
                         &finding->agreement) != OUTCOME_OK)
        return OK; /* ingest refuses what could not be compared */
    enum status status = write_agreement(rows, finding, fault);
    return status == OK ? flag_shift(rows, finding, fault) : status;
}

static enum status write_all(struct stated_rows *rows, struct finding *finding,
                             const struct stated_pairs *pairs, struct fault *fault)
{
    finding->earlier = finding->later = "";
    if (repeat_agreement_of_groups(pairs->differences, pairs->end, pairs->n_groups, stated_coverage,
                                   &finding->agreement) != OUTCOME_OK)
        return OK;
    enum status status = write_agreement(rows, finding, fault);
    return status == OK ? flag_stated(rows, finding, fault) : status;
}

enum status stated_rows_write(struct stated_rows *rows, const struct stated_points *points,
                              const struct stated_quantity *quantity,
                              const struct stated_pairs *pairs, struct fault *fault)
{
    struct finding finding = {.quantity = quantity};
    enum status status = OK;
    for (size_t i = 0; status == OK && i < pairs->n; i++)
        status =
            write_pair(rows, points, quantity, &pairs->pairs[i], &pairs->differences[i], fault);
    for (size_t i = 0, from = 0; status == OK && i < pairs->n_groups; from = pairs->end[i++])
        status = write_group(rows, points, &finding, pairs, from, pairs->end[i], fault);
    return status == OK && pairs->n > 0 ? write_all(rows, &finding, pairs, fault) : status;
}
