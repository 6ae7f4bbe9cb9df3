/* card_look.c - see card_look.h. */
#include "tests/card_look.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/check.h"
#include "tests/program.h"
#include "tests/scratch.h"

int card_make(char *out, const char *folder, const char *name, const char *options)
{
    return program_shell(out, "%s -C %s calibrate %s/%s.csv --write %s/%s_made %s",
                         program_lapwing(), folder, folder, name, folder, name, options);
}

double card_number(const char *folder, const char *name, const char *load, const char *item,
                   enum card_column column)
{
    char file[128], begin[128];
    double value = -1e99;
    (void)snprintf(file, sizeof file, "%s_made_card.csv", name);
    char *text = scratch_read(folder, file);
    for (int output = 1; text != NULL && output <= 6; output++) {
        (void)snprintf(begin, sizeof begin, "\n\"%s\",\"R%d\",\"%s\",", load, output, item);
        const char *at = strstr(text, begin);
        if (at == NULL)
            continue;
        at += strlen(begin);
        for (int i = CARD_VALUE; i < (int)column; i++)
            at += strcspn(at, ",") + 1;
        value = strtod(at, NULL);
        break;
    }
    if (value == -1e99)
        (void)fprintf(stderr, "%s: no %s of %s\n", file, item, load);
    CHECK(value != -1e99);
    free(text);
    return value;
}
