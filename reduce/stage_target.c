/* stage_target.c - the target stage of one configuration; see stage_target.h. */
#include "reduce/stage_target.h"

#include <math.h>
#include <string.h>

#include "reduce/reductions.h"
#include "reduce/run_contents.h"
#include "reduce/target_flags.h"
#include "reduce/target_rows.h"

static const char method_version[] =
    "local fit about the target, within its points, of one content, not near a stall v5";

struct target_work {
    const struct night *night;
    const struct run_group *group;
    const struct facility *facility;
    struct attained_list list;
    struct target_pass stands;
    int64_t reduction;
};

static void add_attitudes(const struct attitudes *attitudes, struct key_text *key)
{
    key_text_numbers(key, "tolerance [m, rad]", attitudes->tolerance, ATTITUDE_COUNT);
    key_text_numbers(key, "cap [m, rad]", attitudes->cap, ATTITUDE_COUNT);
    key_text_numbers(key, "capture [m, rad]", attitudes->capture, ATTITUDE_COUNT);
    for (size_t i = 0; i < attitudes->n_targets; i++) {
        const struct target *target = &attitudes->targets[i];
        double coordinate[ATTITUDE_COUNT];
        for (int k = 0; k < ATTITUDE_COUNT; k++)
            coordinate[k] = target->given[k] ? target->coordinate[k] : (double)NAN;
        key_text_word(key, "target", target->name);
        key_text_numbers(key, "  coordinates [m, rad]", coordinate, ATTITUDE_COUNT);
    }
}

static enum status make_key(const struct target_work *work, struct key_text *key,
                            struct fault *fault)
{
    enum status status = OK;
    memset(key, 0, sizeof *key);
    key_text_word(key, "configuration", work->group->name);
    for (size_t i = 0; status == OK && i < work->group->n_runs; i++)
        status =
            reduction_key_add(work->night->store, "point", work->group->runs[i]->run, key, fault);
    add_attitudes(&work->night->campaign->attitudes, key);
    key_text_number(key, "reference area [m2]", work->night->campaign->car.reference_area);
    key_text_number(key, "to target", work->facility == NULL ? 0 : work->facility->to_target);
    key_text_number(key, "worthwhile downforce coefficient",
                    target_stall_matters(work->night->campaign));
    key_text_word(key, "method to target", method_version);
    return status == OK ? key_text_status(key, fault) : status;
}

static int may_carry(const struct target_work *work)
{
    return work->facility != NULL && work->facility->to_target == TARGET_LOCAL_FIT;
}

static enum status make_pass(const struct target_work *work, enum basis basis,
                             struct target_pass *pass, struct fault *fault)
{
    struct target_rules rules = {&work->night->campaign->attitudes, may_carry(work),
                                 target_stall_matters(work->night->campaign)};
    return target_pass_make(&work->list, &rules, basis, pass, fault);
}

static enum status write_pass(const struct target_work *work, enum basis basis,
                              const struct target_pass *pass, struct fault *fault)
{
    return target_rows_write(work->night->store, work->reduction, basis,
                             work->night->campaign->car.reference_area, pass, fault);
}

static enum status write_flags(const struct target_work *work, struct fault *fault)
{
    struct target_flagging flagging = {work->night, work->group, may_carry(work), {NULL, 0}};
    enum status status =
        flagger_open(work->night->store, work->reduction, &flagging.flagger, fault);
    if (status == OK)
        status = target_flags_write(&flagging, &work->stands, fault);
    flagger_end(&flagging.flagger);
    return status;
}

/* 1 when a comparison on another basis could differ from the one that stands. */
static int has_exceptions(const struct target_pass *pass)
{
    for (size_t i = 0; i < pass->n; i++) {
        const struct target_row *row = &pass->rows[i];
        if (target_row_is_held(row) || row->point->rules == POINT_FAILED ||
            row->point->decision != DECISION_NONE)
            return 1;
    }
    return 0;
}

/* The other bases are kept only where they differ: most nights leave nothing out. */
static enum status write_other(const struct target_work *work, enum basis basis,
                               struct fault *fault)
{
    struct target_pass other;
    enum status status = make_pass(work, basis, &other, fault);
    if (status != OK)
        return status;
    if (target_passes_differ(&work->stands, &other))
        status = write_pass(work, basis, &other, fault);
    target_pass_end(&other);
    return status;
}

/* Drops the points of runs whose loads contain other parts than those of the first run, and flags them. */
static enum status drop_unlike(struct target_work *work, struct flagger *flagger,
                               struct fault *fault)
{
    const struct run_row *first = NULL;
    struct load_contents reference;
    enum status status = OK;
    for (size_t i = 0; status == OK && i < work->group->n_runs; i++) {
        const struct run_row *run = work->group->runs[i];
        struct load_contents contents;
        int found = 0;
        status = run_contents_read(work->night, run, &contents, &found, fault);
        if (status != OK || !found)
            continue;
        if (first == NULL) {
            first = run;
            reference = contents;
        }
        if (contents_same(&contents, &reference))
            continue;
        struct flag_note note = run_contents_note(run, &contents, first, &reference);
        attained_drop(&work->list, run);
        status = flagger_write(flagger, &note, fault);
    }
    return status;
}

/* A slope over points of which some hold the wheels and some do not would be the wheels'. */
static enum status keep_one_content(struct target_work *work, struct fault *fault)
{
    struct flagger flagger = {NULL, 0};
    enum status status = flagger_open(work->night->store, work->reduction, &flagger, fault);
    if (status == OK)
        status = drop_unlike(work, &flagger, fault);
    flagger_end(&flagger);
    return status;
}

static enum status reduce_points(struct target_work *work, struct fault *fault)
{
    enum status status = attained_read(work->night, work->group, &work->list, fault);
    if (status == OK)
        status = keep_one_content(work, fault);
    if (status == OK)
        status = make_pass(work, BASIS_STANDS, &work->stands, fault);
    if (status == OK)
        status = write_pass(work, BASIS_STANDS, &work->stands, fault);
    if (status == OK)
        status = write_flags(work, fault);
    for (int basis = BASIS_STANDS + 1; basis < BASIS_COUNT; basis++)
        if (status == OK && has_exceptions(&work->stands))
            status = write_other(work, (enum basis)basis, fault);
    target_pass_end(&work->stands);
    attained_end(&work->list);
    return status;
}

enum status stage_target(const struct night *night, const struct run_group *group, int *fresh,
                         struct fault *fault)
{
    struct key_text key;
    struct target_work work;
    memset(&work, 0, sizeof work);
    work.night = night;
    work.group = group;
    work.facility = campaign_facility(night->campaign, group->runs[0]->facility);
    *fresh = 0;
    enum status status = make_key(&work, &key, fault);
    if (status == OK)
        status = store_reduction(night->store, "target", group->subject, key.text, &work.reduction,
                                 fresh, fault);
    key_text_end(&key);
    if (status != OK || !*fresh)
        return status;
    return reduce_points(&work, fault);
}
