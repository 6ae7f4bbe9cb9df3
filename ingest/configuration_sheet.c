/* configuration_sheet.c - see configuration_sheet.h. */
#include "ingest/configuration_sheet.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/image_names.h"
#include "ingest/package_parts.h"

enum { NAME, PARENT, CHANGE, NOTE, MINUTES, PARTS, IMAGE, COLUMNS };

static const double MINUTES_MAX = 1440; /* a day */

static const struct sheet_column columns[COLUMNS] = {
    {"configuration", 1},  {"parent", 1}, {"change", 1}, {"note", 0},
    {"change_minutes", 0}, {"parts", 0},  {"image", 0}};

void configuration_sheet_free(struct configuration_sheet *sheet)
{
    if (sheet == NULL)
        return;
    package_parts_free(sheet);
    free(sheet->items);
    sheet_free(sheet->sheet);
    free(sheet);
}

static size_t find_index(const struct configuration_sheet *sheet, const char *name, size_t end)
{
    for (size_t i = 0; i < end; i++)
        if (strcmp(sheet->items[i].name, name) == 0)
            return i;
    return SIZE_MAX;
}

const struct configuration *configuration_find(const struct configuration_sheet *sheet,
                                               const char *name)
{
    size_t i = find_index(sheet, name, sheet->n);
    return i == SIZE_MAX ? NULL : &sheet->items[i];
}

static void check_name(const struct configuration_sheet *sheet, size_t i, struct problems *problems)
{
    const struct sheet_row *row = &sheet->sheet->rows[i];
    const char *name = sheet->items[i].name;
    size_t before = find_index(sheet, name, i);
    sheet_check_name(sheet->sheet, row, NAME, "configuration", problems);
    if (name[0] == '\0')
        sheet_problem(sheet->sheet, row, NAME, problems,
                      "the configuration has no name; give it one");
    else if (strchr(name, '/') != NULL)
        sheet_problem(sheet->sheet, row, NAME, problems,
                      "configuration '%s' holds a '/', which stands between facility, entry and "
                      "configuration; rename it",
                      name);
    else if (before != SIZE_MAX)
        sheet_problem(sheet->sheet, row, NAME, problems,
                      "configuration '%s' is on line %zu already; limit: one row each; rename one",
                      name, sheet->items[before].line);
}

static void find_parent(struct configuration_sheet *sheet, size_t i, struct problems *problems)
{
    struct configuration *item = &sheet->items[i];
    item->parent_index = SIZE_MAX;
    item->baseline_index = i;
    if (item->parent[0] == '\0')
        return;
    item->parent_index = find_index(sheet, item->parent, sheet->n);
    if (item->parent_index == SIZE_MAX)
        sheet_problem(sheet->sheet, &sheet->sheet->rows[i], PARENT, problems,
                      "parent '%s' of '%s' is no configuration; add its row or correct the name",
                      item->parent, item->name);
}

/* Climbs to the root; more steps than there are rows means a cycle. */
static void find_baseline(struct configuration_sheet *sheet, size_t i, struct problems *problems)
{
    size_t at = i;
    for (size_t step = 0; step <= sheet->n; step++) {
        sheet->items[i].baseline_index = at;
        if (sheet->items[at].parent_index == SIZE_MAX)
            return;
        at = sheet->items[at].parent_index;
    }
    sheet->items[i].baseline_index = i;
    sheet_problem(sheet->sheet, &sheet->sheet->rows[i], PARENT, problems,
                  "the parents of '%s' form a circle; limit: a tree that begins at a baseline "
                  "(empty parent); correct one parent",
                  sheet->items[i].name);
}

/* Empty: as campaign.yaml says of every change. */
static void read_minutes(struct configuration_sheet *sheet, size_t i, struct problems *problems)
{
    const struct sheet_row *row = &sheet->sheet->rows[i];
    double minutes = 0;
    sheet->items[i].change_time = (double)NAN;
    if (row->cells[MINUTES][0] == '\0' ||
        !sheet_number(sheet->sheet, row, MINUTES, problems, &minutes))
        return;
    if (minutes >= 0 && minutes <= MINUTES_MAX)
        sheet->items[i].change_time = 60 * minutes;
    else
        sheet_problem(sheet->sheet, row, MINUTES, problems,
                      "change_minutes of '%.80s' is '%.40s'; limit: 0 to 1440; correct it",
                      sheet->items[i].name, row->cells[MINUTES]);
}

static void check_tree(struct configuration_sheet *sheet, struct problems *problems)
{
    for (size_t i = 0; i < sheet->n; i++)
        check_name(sheet, i, problems);
    for (size_t i = 0; i < sheet->n; i++)
        find_parent(sheet, i, problems);
    for (size_t i = 0; i < sheet->n; i++)
        find_baseline(sheet, i, problems);
    for (size_t i = 0; i < sheet->n; i++)
        read_minutes(sheet, i, problems);
}

enum status configuration_sheet_read(const char *path, struct problems *problems,
                                     struct configuration_sheet **out, struct fault *fault)
{
    enum status status = OK;
    struct configuration_sheet *sheet = calloc(1, sizeof *sheet);

    *out = NULL;
    if (sheet == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for configurations.csv");
    status =
        sheet_read(path, "configurations.csv", columns, COLUMNS, problems, &sheet->sheet, fault);
    if (status != OK)
        goto done;
    sheet->n = sheet->sheet->n_rows;
    sheet->items = calloc(sheet->n + 1, sizeof *sheet->items);
    if (sheet->items == NULL) {
        status = FAIL(fault, NO_MEMORY, "no memory for configurations.csv");
        goto done;
    }
    for (size_t i = 0; i < sheet->n; i++) {
        const struct sheet_row *row = &sheet->sheet->rows[i];
        sheet->items[i] = (struct configuration){.name = row->cells[NAME],
                                                 .parent = row->cells[PARENT],
                                                 .change = row->cells[CHANGE],
                                                 .note = row->cells[NOTE],
                                                 .images = row->cells[IMAGE],
                                                 .line = row->line};
    }
    check_tree(sheet, problems);
    sheet->image_column = IMAGE;
    image_names_check(sheet, problems);
    status = package_parts_read(sheet, PARTS, problems, fault);
    if (status != OK)
        goto done;
    *out = sheet;
    sheet = NULL; /* handed over */
done:
    configuration_sheet_free(sheet);
    return status;
}
