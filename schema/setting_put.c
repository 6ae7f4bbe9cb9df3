/* setting_put.c - see setting_put.h. */
#include "schema/setting_put.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "schema/bind_row.h"
#include "schema/number.h"

void setting_put(struct settings *settings, const char *name, const char *value, const char *unit)
{
    const char *const values[] = {settings->section, name, value != NULL ? value : "", unit};
    if (settings->status == OK)
        settings->status = bind_texts(settings->insert, 1, values, 4, settings->fault);
    if (settings->status == OK)
        settings->status = statement_run(settings->insert, settings->fault);
}

void setting_put_number(struct settings *settings, const char *name, double value, const char *unit)
{
    char text[32];
    if (isnan(value)) {
        setting_put(settings, name, "not given", "");
        return;
    }
    (void)number_print(value, text, sizeof text);
    setting_put(settings, name, text, unit);
}

void setting_put_if_given(struct settings *settings, const char *name, double value,
                          const char *unit)
{
    if (value > 0)
        setting_put_number(settings, name, value, unit);
    else
        setting_put(settings, name, "not given", "");
}

static void put_list(struct settings *settings, const char *name, const struct number_list *list,
                     const char *unit)
{
    char text[512] = "", number[32];
    size_t used = 0;
    for (size_t i = 0; i < list->n && used + sizeof number < sizeof text; i++) {
        (void)number_print(list->value[i], number, sizeof number);
        used +=
            (size_t)snprintf(text + used, sizeof text - used, "%s%s", i > 0 ? ", " : "", number);
    }
    if (list->n > 0)
        setting_put(settings, name, text, unit);
}

static void put_bound(struct settings *settings, const struct binding *binding, const void *whole)
{
    struct number_list list;
    const char *source = (const char *)whole + binding->offset;
    double number = 0;
    int word = 0;
    unsigned count = 0;
    const char *text = NULL;
    switch (binding->kind) {
    case BIND_TEXT:
        memcpy(&text, source, sizeof text);
        setting_put(settings, binding->key, text != NULL ? text : "not given", "");
        return;
    case BIND_QUANTITY:
        memcpy(&number, source, sizeof number);
        if (binding->range == RANGE_POSITIVE)
            setting_put_if_given(settings, binding->key, number, binding->unit);
        else
            setting_put_number(settings, binding->key, number, binding->unit);
        return;
    case BIND_WORD:
        memcpy(&word, source, sizeof word);
        setting_put(settings, binding->key, campaign_word_text(binding->words, word), "");
        return;
    case BIND_WHOLE:
        memcpy(&count, source, sizeof count);
        setting_put_number(settings, binding->key, (double)count, "1");
        return;
    case BIND_NUMBERS:
        memcpy(&list, source, sizeof list);
        put_list(settings, binding->key, &list, binding->unit);
        return;
    case BIND_PART:
        return; /* written by hand below */
    }
}

void setting_put_table(struct settings *settings, const struct binding_table *table,
                       const void *whole)
{
    for (size_t i = 0; i < table->n; i++)
        put_bound(settings, &table->rows[i], whole);
}

void setting_put_axes(struct settings *settings, const char *what,
                      const double value[ATTITUDE_COUNT])
{
    for (size_t axis = 0; axis < ATTITUDE_COUNT; axis++) {
        char name[64];
        (void)snprintf(name, sizeof name, "%s: %s", what,
                       attitude_axis_name((enum attitude_axis)axis));
        if (value[axis] > 0)
            setting_put_number(settings, name, value[axis],
                               attitude_axis_unit((enum attitude_axis)axis));
    }
}

void setting_section(struct settings *settings, const char *kind, const char *name)
{
    (void)snprintf(settings->section, sizeof settings->section, "%s%s%s", kind,
                   name != NULL ? " " : "", name != NULL ? name : "");
}

void setting_put_names(struct settings *settings, const char *what, const struct text_list *list)
{
    for (size_t i = 0; i < list->n; i++) {
        char name[64];
        (void)snprintf(name, sizeof name, "%s: %zu", what, i + 1);
        setting_put(settings, name, list->text[i], "");
    }
}
