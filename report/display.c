/* display.c - see display.h. */
#include "report/display.h"

#include <stdio.h>
#include <string.h>

#include "schema/quantity.h"

struct unit_words {
    const char *stored, *value, *delta;
    int value_decimals, delta_decimals;
};

static const struct unit_words words[] = {
    {"%", "%", "pp", 2, 2},
    {"m2", "m\xC2\xB2", "m\xC2\xB2", 4, 4},
    {"1", "", "", 3, 3},
};

static const struct unit_words *unit_words(const char *quantity)
{
    enum quantity row = quantity_from_symbol(quantity);
    const size_t n = sizeof words / sizeof words[0];

    if (row == QUANTITY_COUNT)
        return &words[n - 1];
    for (size_t i = 0; i < n; i++)
        if (strcmp(words[i].stored, quantity_row(row)->unit) == 0)
            return &words[i];
    return &words[n - 1];
}

struct display display_delta(const char *quantity, double count)
{
    const struct unit_words *unit = unit_words(quantity);
    enum quantity row = quantity_from_symbol(quantity);

    if (row != QUANTITY_COUNT && quantity_row(row)->in_counts && count > 0)
        return (struct display){1 / count, "counts", 1};
    return (struct display){1, unit->delta, unit->delta_decimals};
}

struct display display_value(const char *quantity)
{
    const struct unit_words *unit = unit_words(quantity);

    return (struct display){1, unit->value, unit->value_decimals};
}

const char *display_sign(const char *quantity)
{
    enum quantity row = quantity_from_symbol(quantity);

    return row == QUANTITY_COUNT ? "" : quantity_row(row)->sign;
}

struct display_text display_named(const struct display *display, const char *name)
{
    struct display_text out;

    if (display->unit[0] == '\0')
        (void)snprintf(out.text, sizeof out.text, "in %.80s", name);
    else
        (void)snprintf(out.text, sizeof out.text, "%s of %.80s", display->unit, name);
    return out;
}
