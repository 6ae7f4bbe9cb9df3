/* family.c - a family's runs and values; see family.h. */
#include "reduce/family.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/family_values.h"
#include "reduce/mountings.h"
#include "reduce/rows.h"

static int group_has(const struct run_group *group, const char *configuration)
{
    for (size_t i = 0; i < group->n_runs; i++)
        if (strcmp(group->runs[i]->configuration, configuration) == 0)
            return 1;
    return 0;
}

static size_t configuration_index(const struct family *family, const char *configuration)
{
    size_t i = 0;
    while (i < family->n_configurations && strcmp(family->configurations[i], configuration) != 0)
        i++;
    return i;
}

/* File order for the declared ones; a configuration nobody declared is its own family, so the
 * baseline's name is all there is to it. */
static enum status list_configurations(const struct night *night, const struct run_group *group,
                                       struct family *family, struct fault *fault)
{
    void *array = NULL;
    enum status status =
        array_make(&array, night->n_configurations + 1, sizeof *family->configurations, fault);
    if (status != OK)
        return status;
    family->configurations = array;
    family->configurations[family->n_configurations++] = group->name;
    for (size_t i = 0; i < night->n_configurations; i++) {
        const struct configuration_row *row = &night->configurations[i];
        if (strcmp(row->configuration, group->name) != 0 && group_has(group, row->configuration))
            family->configurations[family->n_configurations++] = row->configuration;
    }
    return OK;
}

static enum status list_measures(const struct night *night, struct family *family,
                                 struct fault *fault)
{
    const struct attitudes *attitudes = &night->campaign->attitudes;
    void *array = NULL;
    enum status status =
        array_make(&array, attitudes->n_targets + 1, sizeof *family->measures, fault);
    if (status != OK)
        return status;
    family->measures = array;
    for (size_t i = 0; i < attitudes->n_targets; i++) {
        family->measures[family->n_measures++] = attitudes->targets[i].name;
        family->has_weighted |= attitudes->targets[i].weight > 0;
    }
    if (family->has_weighted)
        family->measures[family->n_measures++] = "weighted";
    return OK;
}

/* All wind-on runs of the entry in time order: also those of other families and the quarantined,
 * because each of them changed the car. */
static enum status list_entry(const struct night *night, const struct run_row *of,
                              const struct run_row ***runs, size_t *n, struct fault *fault)
{
    void *array = NULL;
    enum status status = array_make(&array, night->n_runs, sizeof(void *), fault);
    *runs = array;
    *n = 0;
    for (size_t i = 0; status == OK && i < night->n_runs; i++) {
        const struct run_row *run = &night->runs[i];
        if (!run_is_wind_on(run) || !run_same_entry(run, of))
            continue;
        size_t at = (*n)++;
        for (; at > 0 && (*runs)[at - 1]->start > run->start; at--)
            (*runs)[at] = (*runs)[at - 1];
        (*runs)[at] = run;
    }
    return status;
}

static enum status number_mountings(const struct night *night, struct family *family,
                                    struct fault *fault)
{
    const struct run_row **entry = NULL;
    void *array = NULL;
    size_t n = 0;
    enum status status = list_entry(night, family->runs[0].run, &entry, &n, fault);
    if (status == OK)
        status = array_make(&array, n, sizeof(size_t), fault);
    size_t *mounting = array;
    if (status == OK)
        mountings_number(entry, n, mounting);
    for (size_t i = 0; status == OK && i < n; i++)
        for (size_t k = 0; k < family->n_runs; k++)
            if (family->runs[k].run == entry[i])
                family->runs[k].mounting = mounting[i];
    free((void *)entry);
    free(mounting);
    return status;
}

static enum status list_runs(const struct run_group *group, struct family *family,
                             struct fault *fault)
{
    void *array = NULL;
    enum status status = array_make(&array, group->n_runs, sizeof *family->runs, fault);
    family->runs = array;
    for (size_t i = 0; status == OK && i < group->n_runs; i++) {
        struct family_run *run = &family->runs[family->n_runs++];
        void *value = NULL;
        void *added = NULL;
        void *freedom = NULL;
        void *time = NULL;
        void *left_out = NULL;
        run->run = group->runs[i];
        run->configuration = configuration_index(family, run->run->configuration);
        status = array_make(&value, family->n_measures * QUANTITY_COUNT, sizeof(double), fault);
        run->value = value;
        if (status == OK)
            status = array_make(&added, family->n_measures * QUANTITY_COUNT, sizeof(double), fault);
        run->added = added;
        if (status == OK)
            status = array_make(&freedom, family->n_measures, sizeof(double), fault);
        run->freedom = freedom;
        if (status == OK)
            status = array_make(&time, family->n_measures, sizeof(double), fault);
        run->time = time;
        if (status == OK)
            status = array_make(&left_out, family->n_measures, sizeof(size_t), fault);
        run->left_out = left_out;
    }
    return status;
}

static enum status read_family(const struct night *night, const struct run_group *group,
                               struct points_taken taken, struct family *family,
                               struct fault *fault)
{
    memset(family, 0, sizeof *family);
    enum status status = list_configurations(night, group, family, fault);
    if (status == OK)
        status = list_measures(night, family, fault);
    if (status == OK)
        status = list_runs(group, family, fault);
    if (status == OK)
        status = number_mountings(night, family, fault);
    for (size_t i = 0; status == OK && i < family->n_runs; i++)
        status = family_values_read(night, &family->runs[i], family->has_weighted, taken, fault);
    if (status != OK)
        family_end(family);
    return status;
}

enum status family_read(const struct night *night, const struct run_group *group, enum basis basis,
                        struct family *family, struct fault *fault)
{
    return read_family(night, group, (struct points_taken){basis, 0}, family, fault);
}

enum status family_read_unflagged(const struct night *night, const struct run_group *group,
                                  struct family *family, struct fault *fault)
{
    return read_family(night, group, (struct points_taken){BASIS_STANDS, 1}, family, fault);
}

void family_end(struct family *family)
{
    for (size_t i = 0; i < family->n_runs; i++) {
        free(family->runs[i].value);
        free(family->runs[i].added);
        free(family->runs[i].freedom);
        free(family->runs[i].time);
        free(family->runs[i].left_out);
    }
    free(family->runs);
    free((void *)family->configurations);
    free((void *)family->measures);
    memset(family, 0, sizeof *family);
}

static int are_same(const double *a, const double *b, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (a[i] != b[i] && !(isnan(a[i]) && isnan(b[i])))
            return 0;
    return 1;
}

int family_is_same(const struct family *a, const struct family *b)
{
    size_t n = a->n_measures * QUANTITY_COUNT;
    for (size_t i = 0; i < a->n_runs; i++)
        if (!are_same(a->runs[i].value, b->runs[i].value, n) ||
            !are_same(a->runs[i].added, b->runs[i].added, n) ||
            !are_same(a->runs[i].freedom, b->runs[i].freedom, a->n_measures) ||
            !are_same(a->runs[i].time, b->runs[i].time, a->n_measures))
            return 0;
    return 1;
}

double family_value(const struct family *family, size_t run, size_t measure, enum quantity quantity)
{
    return family->runs[run].value[measure * QUANTITY_COUNT + quantity];
}

double family_added(const struct family *family, size_t run, size_t measure, enum quantity quantity)
{
    return family->runs[run].added[measure * QUANTITY_COUNT + quantity];
}

/* The order of all wind-on runs of the entry decides what is a refit. */
void family_key_order(const struct night *night, const struct run_row *of, struct key_text *key)
{
    for (size_t i = 0; i < night->n_runs; i++) {
        const struct run_row *run = &night->runs[i];
        if (!run_is_wind_on(run) || !run_same_entry(run, of))
            continue;
        key_text_word(key, "wind-on run", run->run);
        key_text_word(key, "  configuration", run->configuration);
        key_text_word(key, "  mounting", run->mounting);
        key_text_number(key, "  start_s", run->start);
    }
}

size_t family_measure(const struct family *family, const char *name)
{
    size_t i = 0;
    while (i < family->n_measures && strcmp(family->measures[i], name) != 0)
        i++;
    return i;
}
