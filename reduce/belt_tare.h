/* belt_tare.h - what the running belt alone does to the loads, looked up at its speed and attitude.
 *
 * A belt tare is a run with the belt on and the wind off, one point an attitude and a speed. Its loads
 * less the weight tare at its attitude are rolling resistance and whatever else the belt drags along.
 * A point takes the belt point within belt_tolerance of its belt speed and tare_tolerance of its
 * attitude, the nearest in distance scaled by both; a belt slower than the tolerance stands, and has no
 * tare. Wind off the wheels carry no downforce, so the resistance is too small by its share: said once
 * a run. Common practice, no source.                                                                 */
#ifndef LAPWING_BELT_TARE_H
#define LAPWING_BELT_TARE_H

#include "reduce/tare_fit.h"

struct belt_point {
    const char *point; /* belongs to the table's data */
    double attitude[ATTITUDE_COUNT];
    double speed;   /* m/s; NAN when not logged */
    double load[6]; /* N, N m, balance axes, weight taken off; NAN when it has none */
};

struct belt_table {
    enum tare_kind kind;       /* TARE_KIND_NONE where none is declared */
    const struct run_row *run; /* with TARE_KIND_LOOKUP */
    char missing[240];         /* with TARE_KIND_MISSING */
    struct tare_table read;
    struct belt_point *points;
    size_t n_points;
};

/* The usable belt_tare run of the same facility, entry and balance that is nearest in time; NULL when
 * none is declared or there is none. */
const struct run_row *belt_tare_choose(const struct night *night, const struct run_row *run);

/* Chooses, reads and reduces, the weight taken off by the run's own weight tare. On OK the caller ends
 * *table with belt_table_end(). */
enum status belt_table_read(const struct night *night, const struct run_row *run,
                            const struct run_recipe *recipe, const struct tare_table *weight,
                            struct belt_table *table, struct fault *fault);
void belt_table_end(struct belt_table *table);

/* Nearest belt point within the facility's tolerances; NULL when there is none. */
const struct belt_point *belt_tare_at(const struct belt_table *table,
                                      const struct facility *facility,
                                      const double attitude[ATTITUDE_COUNT], double speed);

#endif
