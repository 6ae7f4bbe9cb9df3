/* target_pass.c - points to targets on one basis; see target_pass.h. */
#include "reduce/target_pass.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"

struct pass_work {
    const struct target_rules *rules;
    enum basis basis;
    struct attained_list part; /* what slopes rest on */
    struct target_fits *fits;  /* one a target, made when first needed */
};

static enum status fits_of(struct pass_work *work, const struct target *target,
                           const struct target_fits **fits, struct fault *fault)
{
    struct target_fits *made = &work->fits[target - work->rules->attitudes->targets];
    *fits = made;
    if (made->target != NULL)
        return OK;
    return target_fits_make(&work->part, work->rules->attitudes, target, made, fault);
}

static enum status carry_point(struct pass_work *work, struct target_row *row, struct fault *fault)
{
    const struct target_fits *fits = NULL;
    struct carried_value carried;
    enum status status = fits_of(work, row->match.target, &fits, fault);
    if (status != OK)
        return status;
    row->outcome = target_carry(fits, row->point, &row->match, &carried);
    row->beyond = target_carry_beyond(fits, row->point, &row->match);
    if (row->outcome != OUTCOME_OK) {
        row->trouble = TROUBLE_NO_SLOPE;
        return OK;
    }
    if (row->beyond.axis >= 0) {
        row->trouble = TROUBLE_BEYOND;
        return OK;
    }
    row->stall = target_carry_stall(fits, row->point, &row->match, work->rules->matters);
    if (row->stall.kind != STALL_NONE && !point_lifts_cap(row->point->decision, work->basis))
        return OK;
    row->method = "local fit";
    row->is_used = 1;
    row->value = carried;
    return OK;
}

static void take_attained(struct target_row *row)
{
    double added = row->match.within_tolerance ? 0 : (double)NAN;
    memcpy(row->value.coefficient, row->point->value, sizeof row->value.coefficient);
    for (int i = 0; i < CARRIED_VALUES; i++)
        row->value.uncertainty[i] = isnan(row->point->value[i]) ? (double)NAN : added;
    row->value.degrees_of_freedom = (double)NAN;
    row->method = row->match.within_tolerance ? "at target" : "left at attained";
    row->is_used = row->match.within_tolerance;
}

/* Method, is_used and value of a point that belongs to a target, whoever decided what. */
static enum status bring_to_target(struct pass_work *work, struct target_row *row,
                                   struct fault *fault)
{
    take_attained(row);
    if (row->match.within_tolerance)
        return OK;
    row->is_off = !work->rules->may_carry || !row->match.within_cap;
    if (!work->rules->may_carry ||
        (row->is_off && !point_lifts_cap(row->point->decision, work->basis)))
        return OK;
    return carry_point(work, row, fault);
}

/* A decision or a rule of the point stage stands before what the target has to say. */
static void set_reason(const struct pass_work *work, struct target_row *row)
{
    const struct attained_point *point = row->point;
    enum point_state state = point->rules;
    if (work->basis == BASIS_STANDS)
        state = point_state_decided(point->rules, point->decision);
    row->reason = "";
    if (!point_takes_part(point->rules, point->decision, work->basis)) {
        row->is_used = 0;
        row->reason = point_state_name(state);
    } else if (!row->is_used) {
        row->reason = row->is_off                     ? "off-target"
                      : row->stall.kind != STALL_NONE ? "near-stall"
                                                      : "target-refused";
    } else if (work->basis == BASIS_STANDS &&
               (target_row_is_held(row) || state == POINT_RESTORED)) {
        row->reason = "restored";
    }
}

static enum status make_row(struct pass_work *work, const struct attained_point *point,
                            struct target_row *row, struct fault *fault)
{
    row->point = point;
    row->match = attitude_match(work->rules->attitudes, point->attitude);
    row->method = "";
    row->reason = "";
    if (row->match.target == NULL)
        return OK;
    enum status status = bring_to_target(work, row, fault);
    if (status == OK)
        set_reason(work, row);
    return status;
}

enum status target_pass_make(const struct attained_list *list, const struct target_rules *rules,
                             enum basis basis, struct target_pass *pass, struct fault *fault)
{
    struct pass_work work = {rules, basis, {NULL, 0}, NULL};
    void *rows = NULL;
    void *fits = NULL;
    memset(pass, 0, sizeof *pass);
    enum status status = array_make(&rows, list->n, sizeof *pass->rows, fault);
    if (status == OK)
        status = array_make(&fits, rules->attitudes->n_targets, sizeof *work.fits, fault);
    if (status == OK)
        status = attained_taking_part(list, basis, &work.part, fault);
    pass->rows = rows;
    pass->n = list->n;
    work.fits = fits;
    for (size_t i = 0; status == OK && i < list->n; i++)
        status = make_row(&work, &list->points[i], &pass->rows[i], fault);
    free(work.part.points);
    free(fits);
    if (status != OK)
        target_pass_end(pass);
    return status;
}

int target_row_is_held(const struct target_row *row)
{
    return row->is_off || row->stall.kind != STALL_NONE;
}

void target_pass_end(struct target_pass *pass)
{
    free(pass->rows);
    memset(pass, 0, sizeof *pass);
}

/* Bit for bit the same, or both missing. */
static int is_same(double a, double b)
{
    return a == b || (isnan(a) && isnan(b));
}

static int are_same(const double *a, const double *b, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (!is_same(a[i], b[i]))
            return 0;
    return 1;
}

static int rows_differ(const struct target_row *a, const struct target_row *b)
{
    if (a->is_used != b->is_used)
        return 1;
    if (!a->is_used)
        return 0;
    return !are_same(a->value.coefficient, b->value.coefficient, COEFFICIENTS) ||
           !are_same(a->value.uncertainty, b->value.uncertainty, CARRIED_VALUES) ||
           !is_same(a->value.degrees_of_freedom, b->value.degrees_of_freedom);
}

int target_passes_differ(const struct target_pass *a, const struct target_pass *b)
{
    for (size_t i = 0; i < a->n; i++)
        if (rows_differ(&a->rows[i], &b->rows[i]))
            return 1;
    return 0;
}
