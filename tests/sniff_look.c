/* sniff_look.c - see sniff_look.h. */
#include "tests/sniff_look.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/sniff_print.h"
#include "schema/init_command.h"
#include "tests/check.h"
#include "tests/scratch.h"

struct sniff *look_at(const void *bytes, size_t size)
{
    struct sniff *sniff = NULL;
    struct fault fault = {.status = OK};
    CHECK_OK(sniff_bytes(bytes, size, &sniff, &fault), &fault);
    return sniff;
}

struct sniff *look(const char *text)
{
    return look_at(text, strlen(text));
}

struct sniff *look_in_file(const char *folder, const char *name)
{
    char *text = scratch_read(folder, name);
    CHECK(text != NULL);
    struct sniff *sniff = text != NULL ? look(text) : NULL;
    free(text);
    return sniff;
}

const char *role_of(const struct sniff *sniff, const char *name)
{
    static char text[80];
    for (size_t i = 0; i < sniff->shape.n; i++) {
        const struct sniff_column *column = &sniff->columns[i];
        if (strcmp(column->name, name) != 0)
            continue;
        if (column->role == ROLE_COUNT)
            return "none";
        (void)snprintf(text, sizeof text, "%s%s%s%s", role_name(column->role),
                       column->statistic == COLUMN_SD ? " sd" : "",
                       column->proposed_unit[0] != '\0' ? " in " : "", column->proposed_unit);
        return text;
    }
    return "no column";
}

char *map_of(const struct sniff *sniff, const char *name)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    CHECK(out != NULL);
    if (out == NULL)
        return NULL;
    sniff_print_map(sniff, name, out);
    CHECK(fclose(out) == 0);
    return text;
}

struct campaign *paste(const struct sniff *sniff, const char *name)
{
    static const char mark[] = "channel_maps:\n";
    char folder[SCRATCH_PATH];
    struct campaign *campaign = NULL;
    struct fault fault = {.status = OK};
    CHECK(scratch_make(folder));
    CHECK_OK(init_folder(folder, &fault), &fault);
    char *whole = scratch_read(folder, "campaign.yaml");
    char *map = map_of(sniff, name);
    char *at = whole != NULL ? strstr(whole, mark) : NULL;
    char *pasted = at != NULL && map != NULL ? malloc(strlen(whole) + strlen(map) + 1) : NULL;
    CHECK(pasted != NULL);
    if (pasted != NULL) {
        at += strlen(mark);
        (void)sprintf(pasted, "%.*s%s%s", (int)(at - whole), whole, map, at);
        CHECK(scratch_write(folder, "campaign.yaml", pasted));
        CHECK_OK(campaign_read(folder, &campaign, NULL, NULL, &fault), &fault);
    }
    free(pasted);
    free(map);
    free(whole);
    scratch_remove(folder);
    return campaign;
}
