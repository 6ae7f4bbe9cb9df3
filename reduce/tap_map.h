/* tap_map.h - the mean Cp of every tap and run of a family at one target. */
#ifndef LAPWING_TAP_MAP_H
#define LAPWING_TAP_MAP_H

#include <stddef.h>

#include "reduce/groups.h"

/* One tap of taps.csv. */
struct map_tap {
    char *tap, *surface;
    double x, y; /* m, plan view */
};

struct tap_map {
    struct map_tap *taps; /* in file order */
    size_t n_taps;
    double *cp; /* runs of the group x taps, row-major; NAN where dead or not measured */
    size_t n_runs;
};

/* Reads taps and, for every run of the group, each tap's mean corrected Cp over the run's used points
 * at the target; taps that failed at a point do not count there. On OK the caller ends *map with
 * tap_map_end(). */
enum status tap_map_read(const struct night *night, const struct run_group *group,
                         const char *target, struct tap_map *map, struct fault *fault);
void tap_map_end(struct tap_map *map);

/* Mean over the runs of one configuration and their number. Mean NAN for a dead tap. What changed
 * from the baseline is no difference of these means, which hold the drift: see tap_change.h. */
struct tap_mean {
    double mean;
    size_t runs;
};
struct tap_mean tap_map_mean(const struct tap_map *map, const struct run_group *group,
                             const char *configuration, size_t tap);

#endif
