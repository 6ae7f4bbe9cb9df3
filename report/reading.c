/* reading.c - see reading.h. */
#include "report/reading.h"

#include <string.h>

static const struct reading readings[] = {
    {"gain", "\xE2\x9C\x93", CHIP_GOOD, TONE_GOOD},
    {"loss", "\xE2\x9C\x97", CHIP_BAD, TONE_BAD},
    {"no change that matters", "=", CHIP_PLAIN, TONE_MUTED},
    {"can't tell yet", "?", CHIP_LOOK, TONE_MUTED},
    {"changed", "\xE2\x97\x86", CHIP_PLAIN, TONE_PLAIN},
};

const struct reading *reading_of(const char *verdict)
{
    for (size_t i = 0; i < sizeof readings / sizeof readings[0]; i++)
        if (strcmp(readings[i].verdict, verdict) == 0)
            return &readings[i];
    return NULL;
}
