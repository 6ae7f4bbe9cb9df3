/* boundary_names.c - see boundary_names.h. */
#include "ingest/boundary_names.h"

#include <string.h>

static int is_in_use(const struct run_sheet *runs, const struct facility *facility)
{
    for (size_t i = 0; i < runs->n; i++)
        if (strcmp(runs->runs[i].facility, facility->name) == 0 &&
            strcmp(runs->runs[i].kind, "wind_on") == 0)
            return 1;
    return 0;
}

static int has_surface(const struct tap_sheet *taps, const char *surface)
{
    for (size_t i = 0; taps != NULL && i < taps->n; i++)
        if (strcmp(taps->taps[i].surface, surface) == 0)
            return 1;
    return 0;
}

static void tell(const struct campaign *campaign, const struct facility *facility,
                 struct fault *problem, struct problems *problems)
{
    fault_where(problem, "%s: facility %s", campaign->path, facility->name);
    problems_add(problems, problem);
}

static void check_surface(const struct campaign *campaign, const struct facility *facility,
                          const char *key, const char *surface, const struct tap_sheet *taps,
                          struct problems *problems)
{
    struct fault problem;
    if (surface == NULL || has_surface(taps, surface))
        return;
    fault_set(
        &problem, BAD_INPUT, __FILE__, __LINE__,
        "%s '%.80s' is on no line of taps.csv; limit: a word of its column 'surface'; correct "
        "the name, or add the taps",
        key, surface);
    tell(campaign, facility, &problem, problems);
}

static void check_empty_run(const struct campaign *campaign, const struct facility *facility,
                            const struct run_sheet *runs, struct problems *problems)
{
    const char *name = facility->boundary.signature.empty_run;
    struct fault problem;
    if (name == NULL)
        return;
    const struct run_entry *run = run_find(runs, name, strlen(name));
    if (run != NULL && strcmp(run->facility, facility->name) == 0)
        return;
    fault_set(
        &problem, BAD_INPUT, __FILE__, __LINE__,
        "wall_signature: empty_run '%.80s' is no run of this facility in runs.csv; limit: the "
        "run of the empty section; correct the name, or add the run",
        name);
    tell(campaign, facility, &problem, problems);
}

void boundary_names_check(const struct campaign *campaign, const struct run_sheet *runs,
                          const struct tap_sheet *taps, struct problems *problems)
{
    for (size_t i = 0; i < campaign->n_facilities; i++) {
        const struct facility *facility = &campaign->facilities[i];
        const struct boundary *boundary = &facility->boundary;
        if (!is_in_use(runs, facility))
            continue;
        check_surface(campaign, facility, "maskell: base_surface", boundary->maskell.base_surface,
                      taps, problems);
        check_surface(campaign, facility, "wall_signature: surface", boundary->signature.surface,
                      taps, problems);
        check_empty_run(campaign, facility, runs, problems);
    }
}
