/* wind_off_needs.h - does the run sheet hold the wind-off runs without which a run has no loads?
 *
 * Only what is certain before any log is read: that of all runs which may become the zero or the
 * weight tare of a run, none can. Which of them is taken is decided later, by time and by what can be
 * read.                                                                                            */
#ifndef LAPWING_WIND_OFF_NEEDS_H
#define LAPWING_WIND_OFF_NEEDS_H

#include <stddef.h>

#include "ingest/run_roles.h"

/* What the search is made in. */
struct wind_off_search {
    const struct campaign *campaign;
    const struct run_sheet *runs;
    enum load_kind kind;            /* of the wind-on run: outputs or loads, not coefficients */
    const struct run_roles *wanted; /* the wind-on run's roles */
};

/* 1 when a run (wind-on or weight tare) that needs a zero can't have one; then text (size bytes) says
 * why and what to do. A name that is in no sheet is somebody else's business: 0. */
int zero_cannot_be_found(const struct wind_off_search *search, const struct run_entry *run,
                         char *text, size_t size);

/* The same for the weight tare of a wind-on run, its zero and attitude included. */
int tare_cannot_be_found(const struct wind_off_search *search, const struct run_entry *run,
                         char *text, size_t size);

/* 1 when the facility takes a belt tare off and the run can have none; text says why. */
int belt_tare_cannot_be_found(const struct wind_off_search *search, const struct run_entry *run,
                              char *text, size_t size);

/* 1 when a run of this kind can be the zero ("zero") or the tare ("weight_tare") of another one: of
 * the same facility, entry and balance, and not that run itself. */
int wind_off_may_serve(const struct run_entry *off, const struct run_entry *run, const char *kind);

#endif
