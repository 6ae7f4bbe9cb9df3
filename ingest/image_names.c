/* image_names.c - see image_names.h. */
#include "ingest/image_names.h"

#include <stdlib.h>
#include <string.h>

#include "schema/picture.h"

/* Length of the name at the beginning of text, blanks at both ends left out; *name is where it begins. */
static size_t trimmed(const char *text, const char **name)
{
    *name = text + strspn(text, " ");
    size_t length = strcspn(*name, ";");
    while (length > 0 && (*name)[length - 1] == ' ')
        length--;
    return length;
}

int image_names_next(const char **rest, char name[IMAGE_NAME])
{
    const char *begin = NULL;
    if (*rest == NULL || (*rest)[0] == '\0')
        return 0;
    size_t length = trimmed(*rest, &begin);
    length = length < IMAGE_NAME ? length : IMAGE_NAME - 1;
    memcpy(name, begin, length);
    name[length] = '\0';
    const char *end = strchr(begin, ';');
    *rest = end == NULL ? NULL : end + 1;
    if (*rest != NULL && **rest == '\0') /* "a;" names an empty one after it */
        *rest = " ";
    return 1;
}

static int is_too_long(const char *cell)
{
    for (const char *rest = cell; rest != NULL;) {
        const char *name = NULL;
        if (trimmed(rest, &name) >= IMAGE_NAME)
            return 1;
        rest = strchr(name, ';');
        rest = rest != NULL ? rest + 1 : NULL;
    }
    return 0;
}

void image_names_check(const struct configuration_sheet *sheet, struct problems *problems)
{
    char name[IMAGE_NAME];
    for (size_t i = 0; i < sheet->n; i++) {
        const struct sheet_row *row = &sheet->sheet->rows[i];
        const char *rest = sheet->items[i].images;
        size_t n = 0;
        if (is_too_long(rest))
            sheet_problem(sheet->sheet, row, sheet->image_column, problems,
                          "a picture of '%.80s' has a path of %d bytes or more; rename it",
                          sheet->items[i].name, IMAGE_NAME);
        while (image_names_next(&rest, name)) {
            const char *wrong = picture_path_objection(name);
            n++;
            if (wrong != NULL)
                sheet_problem(sheet->sheet, row, sheet->image_column, problems,
                              "picture '%.120s' of '%.80s' %s", name, sheet->items[i].name, wrong);
        }
        if (n > IMAGES_MAX)
            sheet_problem(sheet->sheet, row, sheet->image_column, problems,
                          "'%.80s' names %zu pictures; limit: %d; leave some out",
                          sheet->items[i].name, n, IMAGES_MAX);
    }
}

static enum status check_file(const char *folder, const char *file, double megabytes,
                              struct fault *fault)
{
    struct picture picture = {0};
    char digest[DIGEST_TEXT];
    unsigned char *bytes = NULL;
    size_t n = 0;
    enum status status =
        picture_bytes(folder, file, (size_t)(megabytes * 1e6), &bytes, &n, digest, fault);
    if (status == OK)
        status = picture_decode(bytes, n, &picture, fault);
    picture_free(&picture);
    free(bytes);
    return status;
}

enum status image_files_check(const char *folder, const struct configuration_sheet *sheet,
                              double megabytes, struct problems *problems, struct fault *fault)
{
    char name[IMAGE_NAME];
    for (size_t i = 0; i < sheet->n; i++) {
        const char *rest = sheet->items[i].images;
        while (image_names_next(&rest, name)) {
            struct fault seen = {.status = OK};
            if (picture_path_objection(name) != NULL)
                continue; /* told with the sheet */
            enum status status = check_file(folder, name, megabytes, &seen);
            if (status == NO_MEMORY)
                return FAIL(fault, NO_MEMORY, "no memory for a picture");
            if (status != OK)
                sheet_problem(sheet->sheet, &sheet->sheet->rows[i], sheet->image_column, problems,
                              "picture '%.120s' of '%.80s' cannot be shown: %.200s", name,
                              sheet->items[i].name, seen.text);
        }
    }
    return OK;
}
