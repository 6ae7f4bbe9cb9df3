/* panel_derived.h - ratio, equal balance and packages as tables, for the night's page and a comparison's.
 *
 * They read the temporary views page_ratio, page_trimmed and page_package, which hold what the page may
 * show: report/scope.h makes them for the night, page_compare.c for a comparison. A view without rows
 * writes nothing. */
#ifndef LAPWING_REPORT_PANEL_DERIVED_H
#define LAPWING_REPORT_PANEL_DERIVED_H

#include "report/html.h"
#include "schema/store.h"

struct derived_scope {
    struct store *store;
    const char *target; /* "": all attitudes */
    double count;       /* size of one count; 0: not declared */
};

enum status derived_ratio(struct html *page, const struct derived_scope *scope,
                          struct fault *fault);
enum status derived_trimmed(struct html *page, const struct derived_scope *scope,
                            struct fault *fault);
enum status derived_package(struct html *page, const struct derived_scope *scope,
                            struct fault *fault);

/* Over words a head stands on the left, over numbers on the right, as they do. */
struct derived_head {
    const char *name; /* NULL ends a list */
    int is_of_words;
};

/* A table in a panel, opened with its first row: the section's id, title, why, and its heads. */
void derived_open(struct html *page, const char *id, const char *title, const char *why,
                  const struct derived_head *heads);
void derived_close(struct html *page, const char *note);

#endif
