/* glance_words.c - see glance_words.h. */
#include "reduce/glance_words.h"

#include <string.h>

enum { NAMED_SHORT = 2, NAMED = 4 };

static const char *target_of(const struct glance *glance, const struct glance_point *point)
{
    return point->target == GLANCE_NO_TARGET ? NULL : glance->targets[point->target].name;
}

void glance_say_short(const struct glance *glance, const struct glance_places *places,
                      struct key_text *text)
{
    if (places->n > NAMED_SHORT) {
        key_text_say(text, "%zu points", places->n);
        return;
    }
    for (size_t i = 0; i < places->n; i++) {
        const struct glance_point *point = &glance->points[places->points[i]];
        const char *target = target_of(glance, point);
        key_text_say(text, "%s%s%s", i > 0 ? " and " : "", target != NULL ? "" : "point ",
                     target != NULL ? target : point->label);
    }
}

void glance_say_points(const struct glance *glance, const struct glance_places *places,
                       struct key_text *text)
{
    size_t named = places->n > NAMED + 1 ? NAMED : places->n;
    key_text_say(text, places->n == 1 ? "point " : "points ");
    for (size_t i = 0; i < named; i++) {
        const struct glance_point *point = &glance->points[places->points[i]];
        const char *target = target_of(glance, point);
        key_text_say(text, "%s%s", i > 0 ? ", " : "", point->label);
        if (target != NULL && strcmp(target, point->label) != 0)
            key_text_say(text, " (%s)", target);
    }
    if (places->n > named)
        key_text_say(text, " and %zu more", places->n - named);
}

void glance_say_amount(const struct glance *glance, double amount, int with_sign,
                       struct key_text *text)
{
    const struct glance_metric *metric = &glance->metrics[0];
    int counted = strcmp(metric->unit, "counts") == 0;
    int decimals = counted ? 1 : metric->quantity == QUANTITY_BALANCE ? 2 : 4;
    key_text_say(text, with_sign ? "%+.*f" : "%.*f", decimals, amount / metric->unit_size);
    key_text_say(text, "%s%s", metric->unit[0] == '\0' ? "" : " ", metric->unit);
}
