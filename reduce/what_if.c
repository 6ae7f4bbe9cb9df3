/* what_if.c - see what_if.h. */
#include "reduce/what_if.h"

#include <stdlib.h>
#include <string.h>

#include "reduce/groups.h"
#include "reduce/recipe_check.h"
#include "reduce/rows.h"
#include "reduce/stage_compare.h"
#include "reduce/stage_point.h"
#include "reduce/stage_target.h"
#include "reduce/what_if_steps.h"

struct what_if_work {
    const struct compare_request *request;
    const struct season_entries *entries;
    struct night night;
    struct campaign trial; /* shares all but the facilities with the campaign */
    struct what_if *made;
};

typedef enum status group_stage(const struct night *night, const struct run_group *group,
                                int *fresh, struct fault *fault);

static int is_wanted(const struct what_if_work *work, const struct run_row *run)
{
    for (size_t i = 0; i < work->entries->n; i++) {
        const struct season_entry *entry = &work->entries->items[i];
        if (compare_wants(work->request, work->entries, i) &&
            strcmp(entry->facility, run->facility) == 0 && strcmp(entry->entry, run->entry) == 0)
            return 1;
    }
    return 0;
}

/* 1 when any run of the entries asked for is made at the facility. */
static int is_visited(const struct what_if_work *work, const struct facility *facility)
{
    for (size_t i = 0; i < work->night.n_runs; i++)
        if (is_wanted(work, &work->night.runs[i]) &&
            strcmp(work->night.runs[i].facility, facility->name) == 0)
            return 1;
    return 0;
}

/* A run can name its weight tare itself, whatever the facility's rule is. */
static int names_tare(const struct what_if_work *work, const struct facility *facility)
{
    for (size_t i = 0; i < work->night.n_runs; i++) {
        const struct run_row *run = &work->night.runs[i];
        if (run_is_wind_on(run) && is_wanted(work, run) &&
            strcmp(run->facility, facility->name) == 0 && run->tare[0] != '\0' &&
            strcmp(run->tare, "none") != 0)
            return 1;
    }
    return 0;
}

static int applies(const struct what_if_work *work, enum what_if_step step,
                   const struct facility *facility)
{
    return what_if_step_applies(step, facility) ||
           (step == WHAT_IF_WEIGHT_TARE && names_tare(work, facility));
}

static enum status refuse_contained(enum what_if_step step, const struct facility *facility,
                                    struct fault *fault)
{
    int is_known = facility->corrected == CORRECTED_YES;
    return FAIL(fault, BAD_INPUT,
                "--without '%s': it %s inside the numbers of facility '%.80s' "
                "(already_corrected: %s), out of which it can't be taken; ask the facility for "
                "numbers that are not corrected",
                what_if_step_name(step), is_known ? "is" : "may be", facility->name,
                is_known ? "yes" : "unknown");
}

/* What one facility has of a step: applied, contained, or nothing. */
static enum status look_at(struct what_if_work *work, const struct facility *facility,
                           unsigned without, struct fault *fault)
{
    for (unsigned i = 0; i < WHAT_IF_STEPS; i++) {
        enum what_if_step step = (enum what_if_step)i;
        int is_contained = what_if_step_is_contained(step, facility);
        if (is_contained && without >> i & 1U)
            return refuse_contained(step, facility, fault);
        work->made->contained |= is_contained ? 1U << i : 0U;
        if ((without >> i & 1U || without & WHAT_IF_ALL) && applies(work, step, facility))
            work->made->steps |= 1U << i;
    }
    return OK;
}

/* Attitudes are the campaign's, not a facility's: the step is left out at all facilities or at none. */
static enum status check_to_target(const struct what_if_work *work, struct fault *fault)
{
    const struct campaign *campaign = work->night.campaign;
    for (size_t i = 0; i < campaign->n_facilities; i++) {
        const struct facility *facility = &campaign->facilities[i];
        if (work->made->steps >> WHAT_IF_TO_TARGET & 1U && is_visited(work, facility) &&
            !what_if_step_applies(WHAT_IF_TO_TARGET, facility))
            return FAIL(fault, BAD_INPUT,
                        "--without '%s': facility '%.80s' does not apply it, and others of these "
                        "entries do; ask for one of them with --entry",
                        what_if_step_name(WHAT_IF_TO_TARGET), facility->name);
    }
    return OK;
}

static enum status choose_steps(struct what_if_work *work, unsigned without, struct fault *fault)
{
    const struct campaign *campaign = work->night.campaign;
    enum status status = OK;
    for (size_t i = 0; status == OK && i < campaign->n_facilities; i++)
        if (is_visited(work, &campaign->facilities[i]))
            status = look_at(work, &campaign->facilities[i], without, fault);
    if (status != OK)
        return status;
    for (unsigned i = 0; i < WHAT_IF_STEPS; i++)
        if (without >> i & 1U && !(work->made->steps >> i & 1U))
            return FAIL(fault, BAD_INPUT,
                        "--without '%s': this step is not applied in the entry, so there is "
                        "nothing to leave out; `lapwing explain RUN/POINT` shows those that are",
                        what_if_step_name((enum what_if_step)i));
    if (work->made->steps == 0)
        return FAIL(fault, BAD_INPUT,
                    "--without all: no step that can be left out is applied in the entry");
    return check_to_target(work, fault);
}

/* *fresh counts what was made anew. */
static enum status make_points(const struct what_if_work *work, size_t *fresh, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; status == OK && i < work->night.n_runs; i++) {
        const struct run_row *run = &work->night.runs[i];
        enum run_ending ending = RUN_UP_TO_DATE;
        if (!run_is_wind_on(run) || !run->usable || !is_wanted(work, run))
            continue;
        status = stage_point(&work->night, run, &ending, fault);
        *fresh += ending != RUN_UP_TO_DATE;
    }
    return status;
}

static enum status make_groups(const struct what_if_work *work, enum grouping grouping,
                               group_stage *stage, size_t *fresh, struct fault *fault)
{
    struct group_list list;
    enum status status = groups_make(&work->night, grouping, &list, fault);
    if (status != OK)
        return status;
    for (size_t i = 0; status == OK && i < list.n_groups; i++) {
        int is_fresh = 0;
        if (!is_wanted(work, list.groups[i].runs[0]))
            continue;
        status = stage(&work->night, &list.groups[i], &is_fresh, fault);
        *fresh += is_fresh != 0;
    }
    groups_end(&list);
    return status;
}

static enum status make_side(const struct what_if_work *work, enum what_if_side side, size_t *fresh,
                             struct fault *fault)
{
    *fresh = 0;
    enum status status = make_points(work, fresh, fault);
    if (status == OK)
        status = make_groups(work, GROUP_BY_CONFIGURATION, stage_target, fresh, fault);
    if (status == OK)
        status = make_groups(work, GROUP_BY_FAMILY, stage_compare, fresh, fault);
    for (size_t i = 0; status == OK && i < work->entries->n; i++)
        if (compare_wants(work->request, work->entries, i))
            status = what_if_deltas_read(work->night.store, work->request, &work->entries->items[i],
                                         side, &work->made->deltas, fault);
    return status;
}

static enum status drop_tares(struct what_if_work *work, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; status == OK && i < work->night.n_runs; i++) {
        char *none = NULL;
        status = text_copy("none", &none, fault);
        if (status != OK)
            return status;
        free(work->night.runs[i].tare);
        work->night.runs[i].tare = none;
    }
    return status;
}

static enum status switch_off(struct what_if_work *work, struct fault *fault)
{
    const struct campaign *campaign = work->night.campaign;
    void *facilities = NULL;
    enum status status =
        array_make(&facilities, campaign->n_facilities, sizeof *campaign->facilities, fault);
    if (status != OK)
        return status;
    work->trial = *campaign;
    work->trial.facilities = facilities;
    for (size_t i = 0; i < campaign->n_facilities; i++) {
        work->trial.facilities[i] = campaign->facilities[i];
        what_if_switch_off(work->made->steps, &work->trial.facilities[i]);
    }
    if (work->made->steps >> WHAT_IF_TO_TARGET & 1U)
        what_if_take_attained(&work->trial.attitudes);
    work->night.campaign = &work->trial;
    return work->made->steps >> WHAT_IF_WEIGHT_TARE & 1U ? drop_tares(work, fault) : OK;
}

static enum status make_sides(struct what_if_work *work, struct fault *fault)
{
    size_t fresh = 0;
    enum status status = make_side(work, WHAT_IF_STANDS, &fresh, fault);
    if (status == OK && fresh > 0)
        return FAIL(fault, BAD_INPUT,
                    "season.sqlite is not up to date: %zu of its results would be others now; run "
                    "`lapwing batch` first, so that only the step makes a difference",
                    fresh);
    if (status == OK && work->made->deltas.n == 0)
        return compare_refuse_empty(work->request, work->entries, fault);
    if (status == OK)
        status = switch_off(work, fault);
    return status == OK ? make_side(work, WHAT_IF_WITHOUT, &fresh, fault) : status;
}

static enum status make_on_trial(struct what_if_work *work, unsigned without, struct fault *fault)
{
    struct store *store = work->night.store;
    enum status status = choose_steps(work, without, fault);
    if (status == OK)
        status = store_begin(store, fault);
    if (status != OK)
        return status;
    status = make_sides(work, fault);
    store_rollback(store);
    return status;
}

static enum status make_entries(struct store *store, const struct campaign *campaign,
                                const struct compare_request *request,
                                const struct season_entries *entries, unsigned without,
                                struct what_if *made, struct fault *fault)
{
    struct what_if_work work = {.request = request, .entries = entries, .made = made};
    size_t wanted = 0;
    for (size_t i = 0; i < entries->n; i++)
        wanted += compare_wants(request, entries, i) != 0;
    if (wanted == 0)
        return request->entry != NULL ? compare_refuse_entry(request, fault)
                                      : compare_refuse_empty(request, entries, fault);
    enum status status = recipe_check(campaign, NULL, NULL, fault);
    if (status == OK)
        status = night_read(store, campaign, &work.night, fault);
    if (status != OK)
        return status;
    status = make_on_trial(&work, without, fault);
    night_end(&work.night);
    free(work.trial.facilities);
    return status;
}

enum status what_if_make(struct store *store, const struct campaign *campaign,
                         const struct compare_request *request, unsigned without,
                         struct what_if *made, struct fault *fault)
{
    struct season_entries entries = {0};
    memset(made, 0, sizeof *made);
    enum status status = compare_check(store, request, fault);
    if (status == OK)
        status = entries_read(store, &entries, fault);
    if (status != OK)
        return status;
    status = make_entries(store, campaign, request, &entries, without, made, fault);
    entries_end(&entries);
    return status;
}

void what_if_end(struct what_if *made)
{
    what_if_deltas_end(&made->deltas);
}
