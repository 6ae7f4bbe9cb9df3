/* column_binding.h - ties the columns of one log to channels: which cell, which unit, which sign. */
#ifndef LAPWING_COLUMN_BINDING_H
#define LAPWING_COLUMN_BINDING_H

#include <stddef.h>
#include <stdint.h>

#include "ingest/header.h"
#include "ingest/log_channel.h"
#include "ingest/problems.h"
#include "ingest/tap_sheet.h"
#include "schema/campaign.h"
#include "schema/units.h"

/* All that the reading of a log depends on, besides its bytes. */
struct log_reading {
    const struct channel_map *map;
    const struct tap_sheet *taps; /* NULL when the campaign has none */
    const char *output_unit;      /* of the run's balance; NULL when it has none */
    int is_recorded_only;         /* 1: outputs are kept as they are and need no balance */
    double yaw_sign;              /* of the run's facility */
    const char *block; /* title of the block of the file that is the log; NULL: the whole */
    const struct text_list *keep_samples; /* channels whose traces are kept; NULL: none is named */
};

#define NO_CELL SIZE_MAX

struct bound_channel {
    struct log_channel about;
    size_t cell;
    double factor, offset; /* kept = factor * written + offset, sign included */
    size_t sd_cell;        /* of averaged rows; NO_CELL when not given */
    double sd_factor;
    size_t stated_cell;   /* of averaged rows: stated uncertainty; NO_CELL when not given */
    double stated_factor; /* to SI and to an expanded uncertainty of 95 % */
    enum map_hold hold;
};

struct column_binding {
    struct bound_channel *channels; /* in the order of the map, then of taps.csv */
    size_t n;
    size_t point_cell, clock_cell, time_cell, count_cell; /* NO_CELL where the map has none */
    size_t recording_cell;                                /* likewise */
    size_t sweep_channel; /* index of the coordinate of the map's sweep; NO_CELL without one */
    double time_factor, time_offset;
};

/* Finds every column of the map and of the taps in the header. What does not fit (column missing,
 * unit undeclared, of another kind or contradicting, no point column ...) becomes problems; then
 * *binding is NULL. Gives OK unless memory or the like fails. The caller owns *binding and ends it
 * with column_binding_free(). */
enum status column_binding_make(const struct header *header, const struct log_reading *reading,
                                struct units *units, struct problems *problems,
                                struct column_binding **binding, struct fault *fault);
void column_binding_free(struct column_binding *binding); /* NULL is fine */

#endif
