/* test_label_index.c - every label is found again, and no other. Invented labels. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/label_index.h"
#include "tests/check.h"

enum { MANY = 20000, TEXT = 12 };

static void every_label_is_found_and_no_other(void)
{
    static char texts[MANY][TEXT];
    struct log_point *points = calloc(MANY, sizeof *points);
    struct label_index index = {NULL, 0, 0};
    size_t lost = 0;
    CU_ASSERT_FATAL(points != NULL);
    if (points == NULL) /* which the analyser does not know */
        return;
    CHECK(label_index_find(&index, points, "1", 1) == NULL);
    for (size_t i = 0; i < MANY; i++) {
        (void)snprintf(texts[i], TEXT, "%zu", i);
        points[i].label = texts[i];
        CU_ASSERT_FATAL(label_index_add(&index, points, i));
    }
    for (size_t i = 0; i < MANY; i++)
        lost += label_index_find(&index, points, texts[i], strlen(texts[i])) != &points[i];
    CHECK(lost == 0);
    CHECK(label_index_find(&index, points, "20000", 5) == NULL);
    CHECK(label_index_find(&index, points, "", 0) == NULL);
    CHECK(label_index_find(&index, points, "123456", 5) == &points[12345]);
    CHECK(label_index_find(&index, points, "0123", 4) == NULL);
    label_index_end(&index);
    free(points);
}

static void of_equal_labels_the_first_is_found(void)
{
    /* cppcheck-suppress constVariable; a label is not const */
    char texts[3][2] = {"a", "b", "a"};
    struct log_point points[3] = {{.label = texts[0]}, {.label = texts[1]}, {.label = texts[2]}};
    const struct log_record record = {.points = points, .n_points = 3};
    struct label_index index = {NULL, 0, 0};
    CHECK(label_index_fill(&index, &record) && index.n == 2);
    CHECK(label_index_find(&index, points, "a", 1) == &points[0]);
    CHECK(label_index_find(&index, points, "b", 1) == &points[1]);
    label_index_end(&index);
}

extern CU_TestInfo label_index_tests[];
CU_TestInfo label_index_tests[] = {
    {"every label is found and no other", every_label_is_found_and_no_other},
    {"of equal labels the first is found", of_equal_labels_the_first_is_found},
    CU_TEST_INFO_NULL};
