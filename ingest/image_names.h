/* image_names.h - the column image of configurations.csv: photographs and sketches of a configuration.
 *
 * "pictures/w2 left.jpg; pictures/w2.png": files below the campaign folder, with semicolons between. What
 * a name may be is judged with the sheet; whether the file can be shown only by `check` and by the page that
 * shows it, since a night must not wait for a photograph.                                             */
#ifndef LAPWING_IMAGE_NAMES_H
#define LAPWING_IMAGE_NAMES_H

#include "ingest/configuration_sheet.h"

enum { IMAGE_NAME = 240, IMAGES_MAX = 4 };

/* The next name of a cell, without the blanks around it, cut at the room's end; 0 when there is none. *rest
 * begins as the cell. */
int image_names_next(const char **rest, char name[IMAGE_NAME]);

/* Problems: a path that leaves the folder or could (picture_path_objection()), one that is too long, more
 * than IMAGES_MAX. */
void image_names_check(const struct configuration_sheet *sheet, struct problems *problems);

/* Reads and decodes every picture; what cannot be shown is a problem at its cell. OK, or NO_MEMORY. */
enum status image_files_check(const char *folder, const struct configuration_sheet *sheet,
                              double megabytes, struct problems *problems, struct fault *fault);

#endif
