/* family_contents.c - see family_contents.h. */
#include "reduce/family_contents.h"

#include <math.h>

#include "reduce/run_contents.h"

static int has_values(const struct family *family, const struct family_run *run)
{
    for (size_t i = 0; i < family->n_measures * QUANTITY_COUNT; i++)
        if (isfinite(run->value[i]))
            return 1;
    return 0;
}

static void forget_values(const struct family *family, struct family_run *run)
{
    for (size_t i = 0; i < family->n_measures * QUANTITY_COUNT; i++)
        run->value[i] = (double)NAN;
    for (size_t k = 0; k < family->n_measures; k++)
        run->time[k] = (double)NAN;
}

/* The run whose content decides: the baseline's first that has values, without one the family's. */
static const struct family_run *find_reference(const struct family *family)
{
    const struct family_run *first = NULL;
    for (size_t i = 0; i < family->n_runs; i++) {
        const struct family_run *run = &family->runs[i];
        if (!has_values(family, run))
            continue;
        if (run->configuration == 0)
            return run;
        first = first == NULL ? run : first;
    }
    return first;
}

enum status family_keep_one_content(const struct night *night, struct family *family,
                                    struct flagger *flagger, struct fault *fault)
{
    const struct family_run *first = find_reference(family);
    struct load_contents reference;
    int found = 0;
    if (first == NULL)
        return OK;
    enum status status = run_contents_read(night, first->run, &reference, &found, fault);
    for (size_t i = 0; found && status == OK && i < family->n_runs; i++) {
        struct family_run *run = &family->runs[i];
        struct load_contents contents;
        int has = 0;
        if (!has_values(family, run))
            continue;
        status = run_contents_read(night, run->run, &contents, &has, fault);
        if (status != OK || !has || contents_same(&contents, &reference))
            continue;
        struct flag_note note = run_contents_note(run->run, &contents, first->run, &reference);
        forget_values(family, run);
        if (flagger != NULL)
            status = flagger_write(flagger, &note, fault);
    }
    return status;
}
