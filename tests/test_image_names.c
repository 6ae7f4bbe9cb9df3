/* test_image_names.c - the column image of configurations.csv: names, files, what the store keeps. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include "ingest/image_names.h"
#include "tests/check.h"
#include "tests/picture_made.h"
#include "tests/program.h"
#include "tests/scratch.h"

struct told {
    char text[4000];
};

static void tell(void *context, const struct fault *problem)
{
    struct told *told = context;
    char line[1024];
    size_t used = strlen(told->text);

    fault_line(problem, line, sizeof line);
    (void)snprintf(told->text + used, sizeof told->text - used, "%s\n", line);
}

/* Reads a sheet whose second line has this cell; files are looked at where folder has them. */
static size_t problems_of(const char *folder, const char *cell, struct told *told)
{
    struct problems problems = problems_to(tell, told);
    struct configuration_sheet *sheet = NULL;
    struct fault fault = {0};
    char text[1200], path[SCRATCH_PATH + 32];

    told->text[0] = '\0';
    (void)snprintf(text, sizeof text,
                   "configuration,parent,change,image\nbase,,,\nW1,base,vane,%s\n", cell);
    CHECK(scratch_write(folder, "configurations.csv", text));
    (void)snprintf(path, sizeof path, "%s/configurations.csv", folder);
    CHECK_OK(configuration_sheet_read(path, &problems, &sheet, &fault), &fault);
    if (sheet != NULL)
        CHECK_OK(image_files_check(folder, sheet, 4, &problems, &fault), &fault);
    configuration_sheet_free(sheet);
    return problems.n;
}

static void names_are_told_apart(void)
{
    const char *rest = " a b.png ;c.jpg;";
    char name[IMAGE_NAME];

    CHECK(image_names_next(&rest, name));
    CHECK_TEXT(name, "a b.png");
    CHECK(image_names_next(&rest, name));
    CHECK_TEXT(name, "c.jpg");
    CHECK(image_names_next(&rest, name));
    CHECK_TEXT(name, "");
    CHECK(!image_names_next(&rest, name));
    rest = "";
    CHECK(!image_names_next(&rest, name));
}

static void wrong_names_are_told_where_they_are(void)
{
    char folder[SCRATCH_PATH];
    struct told told;

    CHECK(scratch_make(folder));
    CHECK(problems_of(folder, "../../secret.png", &told) == 1);
    CHECK_CONTAINS(told.text, "configurations.csv:3:14: picture '../../secret.png' of 'W1' leaves");
    CHECK(problems_of(folder, "/etc/passwd", &told) == 1);
    CHECK_CONTAINS(told.text, "is absolute");
    CHECK(problems_of(folder, "a;b;c;d;e", &told) == 6); /* five that are missing, and too many */
    CHECK_CONTAINS(told.text, "names 5 pictures; limit: 4");
    scratch_remove(folder);
}

static void files_are_looked_into(void)
{
    char folder[SCRATCH_PATH];
    struct told told;

    CHECK(scratch_make(folder));
    CHECK(picture_made_file(folder, "a.png", NULL));
    CHECK(problems_of(folder, "a.png", &told) == 0);
    CHECK_TEXT(told.text, "");
    CHECK(problems_of(folder, "", &told) == 0);
    CHECK(scratch_write(folder, "b.png", "no picture"));
    CHECK(problems_of(folder, "a.png; b.png", &told) == 1);
    CHECK_CONTAINS(told.text,
                   "picture 'b.png' of 'W1' cannot be shown: it is neither PNG nor JPEG");
    scratch_remove(folder);
}

CU_TestInfo image_names_tests[] = {
    {"names are told apart", names_are_told_apart},
    {"wrong names are told where they are", wrong_names_are_told_where_they_are},
    {"files are looked into", files_are_looked_into},
    CU_TEST_INFO_NULL};
