/* plan_choice.c - see plan_choice.h. */
#include "reduce/plan_choice.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/plan_place.h"
#include "reduce/rows.h"

/* Names on their way to numbers of configurations.csv. */
struct name_list {
    const struct plan_input *input;
    size_t *item; /* owned */
    size_t n, capacity;
};

static enum status add_name(struct name_list *list, const char *text, size_t length,
                            struct fault *fault)
{
    const struct plan_input *input = list->input;
    size_t i = 0;
    while (i < input->n_configurations &&
           (strlen(input->configurations[i].name) != length ||
            memcmp(input->configurations[i].name, text, length) != 0))
        i++;
    if (i == input->n_configurations)
        return FAIL(fault, BAD_INPUT,
                    "configuration '%.*s' is not in configurations.csv; correct the name or add it",
                    (int)(length < 80 ? length : 80), text);
    void *array = list->item;
    enum status status =
        array_reserve(&array, &list->capacity, list->n + 1, sizeof *list->item, fault);
    list->item = array;
    if (status == OK)
        list->item[list->n++] = i;
    return status;
}

static enum status add_text(struct name_list *list, const char *text, struct fault *fault)
{
    enum status status = OK;
    for (const char *name = text; status == OK && name != NULL;) {
        size_t length = strcspn(name, ",");
        status = add_name(list, name, length, fault);
        name = name[length] == ',' ? name + length + 1 : NULL;
    }
    return status;
}

static enum status add_list(struct name_list *list, const struct text_list *texts,
                            struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; status == OK && i < texts->n; i++)
        status = add_name(list, texts->text[i], strlen(texts->text[i]), fault);
    return status;
}

/* Every configuration that was made from another. */
static enum status add_all(struct name_list *list, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; status == OK && i < list->input->n_configurations; i++) {
        const struct plan_configuration *c = &list->input->configurations[i];
        if (c->parent != PLAN_NO_PARENT)
            status = add_name(list, c->name, strlen(c->name), fault);
    }
    return status;
}

static int is_given_order(const struct plan_input *input)
{
    const struct plan_options *options = &input->options;
    return options->order != NULL ||
           (options->scheme < 0 && options->repeats == 0 && options->configurations == NULL &&
            input->campaign->plan.order.n > 0);
}

static enum status read_names(struct name_list *list, struct fault *fault)
{
    const struct plan_input *input = list->input;
    const struct plan_section *plan = &input->campaign->plan;
    if (input->options.order != NULL)
        return add_text(list, input->options.order, fault);
    if (is_given_order(input))
        return add_list(list, &plan->order, fault);
    if (input->options.configurations != NULL)
        return add_text(list, input->options.configurations, fault);
    return plan->configurations.n > 0 ? add_list(list, &plan->configurations, fault)
                                      : add_all(list, fault);
}

static int contains(const size_t *items, size_t n, size_t item)
{
    for (size_t i = 0; i < n; i++)
        if (items[i] == item)
            return 1;
    return 0;
}

/* One family, and something to compare with its baseline. */
static enum status check_family(const struct name_list *list, int is_order, struct fault *fault)
{
    const struct plan_configuration *all = list->input->configurations;
    for (size_t i = 0; i < list->n; i++) {
        const struct plan_configuration *c = &all[list->item[i]];
        if (c->parent == PLAN_NO_PARENT && !is_order)
            return FAIL(fault, BAD_INPUT,
                        "'%.80s' has no parent, so it is a baseline: it is run anyway, and has "
                        "nothing to be compared with; leave it out",
                        c->name);
        if (c->baseline != all[list->item[0]].baseline)
            return FAIL(fault, BAD_INPUT,
                        "'%.80s' is compared with '%.80s' and '%.80s' with '%.80s'; limit: one "
                        "baseline a plan; name those of one with --configurations",
                        all[list->item[0]].name, all[all[list->item[0]].baseline].name, c->name,
                        all[c->baseline].name);
        if (!is_order && contains(list->item, i, list->item[i]))
            return FAIL(fault, BAD_INPUT, "configuration '%.80s' is named twice; take one out",
                        c->name);
    }
    if (list->n == 0)
        return FAIL(fault, BAD_INPUT,
                    "configurations.csv has no configuration with a parent, so there is nothing to "
                    "compare; add a row for each change");
    return OK;
}

static enum status make_flags(int **flags, size_t n, struct fault *fault)
{
    void *array = NULL;
    enum status status = array_make(&array, n, sizeof **flags, fault);
    *flags = array;
    return status;
}

static enum status make_arrays(struct planned_night *night, size_t n, struct fault *fault)
{
    void *chosen = NULL, *change = NULL;
    enum status status = array_make(&chosen, n, sizeof *night->chosen, fault);
    night->chosen = chosen;
    if (status == OK)
        status = array_make(&change, n, sizeof *night->change, fault);
    night->change = change;
    if (status == OK)
        status = make_flags(&night->is_hard, n, fault);
    return status == OK ? make_flags(&night->is_heavy, n, fault) : status;
}

/* The baseline, then the chosen ones in the order of the sheet. */
static enum status number_configurations(struct planned_night *night, const struct name_list *list,
                                         struct fault *fault)
{
    const struct plan_input *input = night->input;
    size_t baseline = input->configurations[list->item[0]].baseline;
    enum status status = make_arrays(night, input->n_configurations + 1, fault);
    if (status != OK)
        return status;
    night->chosen[0] = baseline;
    for (size_t i = 0; i < input->n_configurations; i++)
        if (i != baseline && contains(list->item, list->n, i))
            night->chosen[++night->n] = i;
    for (size_t c = 0; c <= night->n; c++) {
        double own = input->configurations[night->chosen[c]].change_time;
        night->change[c] = isnan(own) ? input->campaign->plan.change : own;
    }
    if (night->n > CONTRASTS_MAX)
        return FAIL(fault, BAD_INPUT,
                    "%zu configurations are to be planned; limit: %d a night; name fewer with "
                    "--configurations",
                    night->n, CONTRASTS_MAX);
    return OK;
}

static size_t number_of(const struct planned_night *night, size_t configuration)
{
    size_t c = 0;
    while (c <= night->n && night->chosen[c] != configuration)
        c++;
    return c;
}

static enum status take_order(struct planned_night *night, const struct name_list *list,
                              struct fault *fault)
{
    void *array = NULL;
    enum status status = array_make(&array, list->n, sizeof *night->given, fault);
    if (status != OK)
        return status;
    night->given = array;
    night->n_given = list->n;
    for (size_t i = 0; i < list->n; i++)
        night->given[i] = number_of(night, list->item[i]);
    if (night->n == 0)
        return FAIL(fault, BAD_INPUT,
                    "the order runs nothing but the baseline '%.80s'; name what is compared with "
                    "it, or plan it as a repeat night without lapwing",
                    plan_name(night, 0));
    return OK;
}

/* Names of those that are not in this night say nothing about it. */
static enum status set_flags(const struct planned_night *night, const struct text_list *names,
                             int *flags, struct fault *fault)
{
    struct name_list list = {.input = night->input};
    enum status status = add_list(&list, names, fault);
    for (size_t i = 0; status == OK && i < list.n; i++) {
        size_t c = number_of(night, list.item[i]);
        if (c > 0 && c <= night->n)
            flags[c] = 1;
    }
    free(list.item);
    return status;
}

static enum status choose_configurations(struct planned_night *night, struct fault *fault)
{
    struct name_list list = {.input = night->input};
    int is_order = is_given_order(night->input);
    enum status status = read_names(&list, fault);
    if (status == OK)
        status = check_family(&list, is_order, fault);
    if (status == OK)
        status = number_configurations(night, &list, fault);
    if (status == OK && is_order)
        status = take_order(night, &list, fault);
    free(list.item);
    return status;
}

enum status plan_choose(const struct plan_input *input, struct planned_night *night,
                        struct fault *fault)
{
    const struct plan_section *plan = &input->campaign->plan;
    *night = (struct planned_night){.input = input};
    enum status status = choose_configurations(night, fault);
    if (status == OK)
        status = set_flags(night, &plan->hard_to_change, night->is_hard, fault);
    if (status == OK)
        status = set_flags(night, &plan->mass_changes, night->is_heavy, fault);
    for (size_t c = 1; status == OK && c <= night->n; c++)
        night->has_heavy |= night->is_heavy[c];
    if (status == OK)
        status = plan_attitudes_make(input->campaign, &night->attitudes, fault);
    return status == OK ? plan_place(night, fault) : status;
}
