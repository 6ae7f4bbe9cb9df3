/* package_parts.c - see package_parts.h. */
#include "ingest/package_parts.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

struct reading {
    struct configuration_sheet *sheet;
    size_t column;
    struct problems *problems;
    size_t at;  /* the package */
    int failed; /* 1: one of its parts is a problem */
};

void package_parts_free(struct configuration_sheet *sheet)
{
    for (size_t i = 0; sheet->items != NULL && i < sheet->n; i++) {
        free(sheet->items[i].parts);
        sheet->items[i].parts = NULL;
        sheet->items[i].n_parts = 0;
    }
}

static void drop(struct configuration *item)
{
    free(item->parts);
    item->parts = NULL;
    item->n_parts = 0;
}

static size_t find_part(const struct configuration_sheet *sheet, const char *name, size_t length)
{
    for (size_t i = 0; i < sheet->n; i++)
        if (strlen(sheet->items[i].name) == length &&
            strncmp(sheet->items[i].name, name, length) == 0)
            return i;
    return SIZE_MAX;
}

static int has_part(const struct configuration *item, size_t part)
{
    for (size_t i = 0; i < item->n_parts; i++)
        if (item->parts[i] == part)
            return 1;
    return 0;
}

/* What keeps a configuration from being a part; NULL: nothing. */
static const char *objection(const struct configuration_sheet *sheet, size_t package, size_t part)
{
    const struct configuration *item = &sheet->items[package];
    if (part == SIZE_MAX)
        return "is no configuration; add its row or correct the name";
    if (part == package)
        return "is the package itself; name what it is made of";
    if (has_part(item, part))
        return "is named twice; name it once";
    if (sheet->items[part].baseline_index != item->baseline_index)
        return "is of another family; a package and its parts need one baseline";
    if (part == item->baseline_index)
        return "is the baseline, which changes nothing; leave it out";
    return NULL;
}

static void take_part(struct reading *reading, const char *name, size_t length)
{
    struct configuration *item = &reading->sheet->items[reading->at];
    size_t part = find_part(reading->sheet, name, length);
    const char *wrong = objection(reading->sheet, reading->at, part);
    if (wrong == NULL) {
        item->parts[item->n_parts++] = part;
        return;
    }
    sheet_problem(reading->sheet->sheet, &reading->sheet->sheet->rows[reading->at], reading->column,
                  reading->problems, "part '%.*s' of '%s' %s", (int)(length < 80 ? length : 80),
                  name, item->name, wrong);
    reading->failed = 1;
}

/* Names between semicolons, without the blanks around them; an empty one is no name. */
static void take_cell(struct reading *reading, const char *cell)
{
    const char *at = cell;
    for (;;) {
        const char *name = at + strspn(at, " ");
        size_t whole = strcspn(name, ";");
        size_t length = whole;
        while (length > 0 && name[length - 1] == ' ')
            length--;
        take_part(reading, name, length);
        at = name + whole;
        if (*at == '\0')
            return;
        at++;
    }
}

static enum status read_row(struct reading *reading, struct fault *fault)
{
    const struct sheet_row *row = &reading->sheet->sheet->rows[reading->at];
    struct configuration *item = &reading->sheet->items[reading->at];
    const char *cell = row->cells[reading->column];
    if (cell[0] == '\0')
        return OK;
    item->parts = calloc(reading->sheet->n, sizeof *item->parts);
    if (item->parts == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for configurations.csv");
    reading->failed = 0;
    take_cell(reading, cell);
    if (!reading->failed && item->n_parts < 2) {
        sheet_problem(reading->sheet->sheet, row, reading->column, reading->problems,
                      "'%s' has one part; limit: two at least, with semicolons between",
                      item->name);
        reading->failed = 1;
    }
    if (reading->failed)
        drop(item);
    return OK;
}

/* 1 when the package is reached from one of the parts of at; depth ends what is a circle elsewhere. */
static int reaches(const struct configuration_sheet *sheet, size_t at, size_t package, size_t depth)
{
    const struct configuration *item = &sheet->items[at];
    for (size_t i = 0; depth > 0 && i < item->n_parts; i++)
        if (item->parts[i] == package || reaches(sheet, item->parts[i], package, depth - 1))
            return 1;
    return 0;
}

static void check_circles(const struct reading *reading)
{
    struct configuration_sheet *sheet = reading->sheet;
    enum { DEPTH_MAX = 8 }; /* packages of packages; deeper ones are no circle of these */
    for (size_t i = 0; i < sheet->n; i++) {
        if (sheet->items[i].n_parts == 0 || !reaches(sheet, i, i, DEPTH_MAX))
            continue;
        sheet_problem(sheet->sheet, &sheet->sheet->rows[i], reading->column, reading->problems,
                      "the parts of '%s' hold '%s' itself; limit: no circle; correct one of them",
                      sheet->items[i].name, sheet->items[i].name);
        drop(&sheet->items[i]);
    }
}

enum status package_parts_read(struct configuration_sheet *sheet, size_t column,
                               struct problems *problems, struct fault *fault)
{
    struct reading reading = {.sheet = sheet, .column = column, .problems = problems};
    enum status status = OK;
    for (size_t i = 0; status == OK && i < sheet->n; i++) {
        reading.at = i;
        status = read_row(&reading, fault);
    }
    if (status == OK)
        check_circles(&reading);
    return status;
}
