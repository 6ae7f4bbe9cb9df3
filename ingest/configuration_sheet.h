/* configuration_sheet.h - configurations.csv: what the car was, as a tree of changes.
 *
 * Columns configuration, parent, change, note, change_minutes, parts, image. An empty parent makes a baseline; its
 * descendants are its family. parts, optional: this configuration is those others of its family together,
 * names with semicolons between. image, optional: its pictures (image_names.h). */
#ifndef LAPWING_CONFIGURATION_SHEET_H
#define LAPWING_CONFIGURATION_SHEET_H

#include <stddef.h>

#include "ingest/problems.h"
#include "ingest/sheet.h"

struct configuration {
    const char *name, *parent, *change, *note; /* "" when empty; belong to the sheet */
    size_t parent_index;                       /* SIZE_MAX for a baseline */
    size_t baseline_index;                     /* root of its family, itself for a baseline */
    double change_time; /* s, to mount it whatever was there before; NAN where not given */
    const char *images; /* as written: files with semicolons between; belongs to the sheet */
    size_t line;
    size_t *parts; /* n_parts indices of other configurations; owned; NULL for none */
    size_t n_parts;
};

struct configuration_sheet {
    struct sheet *sheet;
    struct configuration *items;
    size_t n;
    size_t image_column; /* of the sheet */
};

/* Reads path. Doubled or empty names, unknown parents, cycles and parts that
 * make no package become problems; gives OK unless
 * memory or the like fails. On OK the caller owns *sheet; ends with configuration_sheet_free(). */
enum status configuration_sheet_read(const char *path, struct problems *problems,
                                     struct configuration_sheet **sheet, struct fault *fault);
void configuration_sheet_free(struct configuration_sheet *sheet); /* NULL is fine */

/* NULL when there is none. */
const struct configuration *configuration_find(const struct configuration_sheet *sheet,
                                               const char *name);

#endif
