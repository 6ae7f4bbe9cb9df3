/* season.h - what the index of a season needs, gathered while its pages are written, the oldest entry first. */
#ifndef LAPWING_REPORT_SEASON_H
#define LAPWING_REPORT_SEASON_H

#include "report/findings.h"
#include "report/headline.h"
#include "report/html.h"
#include "report/page_names.h"

struct season_night {
    const char *facility, *entry, *date, *runs, *headline, *width, *flags; /* words */
    struct page_name file;
};

struct season_part {
    const char *name, *baseline, *change, *amount, *verdict; /* the latest delta's */
    size_t latest; /* night of it; SIZE_MAX: compared nowhere */
    void *nights;  /* size_t, in which it was run */
    size_t n_nights, nights_capacity;
    struct page_name file; /* of its proof sheet; "" for a baseline, or compared nowhere */
};

struct season {
    struct store *store;
    struct text_pool texts;
    const char *name, *car;
    void *nights; /* struct season_night, the oldest first */
    size_t n_nights, nights_capacity;
    void *parts; /* struct season_part, in the order they were first run */
    size_t n_parts, parts_capacity;
    /* What the control chart is of: the baseline and main measure of the latest night. */
    const char *facility, *baseline, *target;
    struct finding_metric metric;
};

/* Adds the night that the findings are of; the store's scope is its entry. Later nights come later. */
enum status season_add(struct season *season, const struct findings *findings,
                       const struct headline *headline, const struct page_name *file,
                       struct fault *fault);
void season_end(struct season *season);

/* The index's page; and the part of it that is the baseline's control chart. */
enum status page_season(struct html *page, const struct season *season, struct fault *fault);
enum status panel_control(struct html *page, const struct season *season, struct fault *fault);

#endif
