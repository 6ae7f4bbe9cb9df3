/* height_places_check.c - see height_places_check.h. */
#include "reduce/height_places_check.h"

#include <math.h>
#include <stdio.h>

#include "reduce/sensed_heights.h"

static const double one_place = 1e-3; /* m */

static const struct height_sensor *find_twins(const struct facility *facility, char *text,
                                              size_t size)
{
    const struct height_sensor *sensors = facility->height_sensors;
    for (size_t i = 1; i < facility->n_height_sensors; i++) {
        for (size_t k = 0; k < i; k++) {
            double apart = hypot(sensors[i].x - sensors[k].x, sensors[i].y - sensors[k].y);
            if (apart > one_place)
                continue;
            (void)snprintf(
                text, size,
                "%s and %s stand %.2g mm apart, at one place; limit 1 mm; correct x or y "
                "of one, or take it out",
                role_name(sensors[k].role), role_name(sensors[i].role), 1e3 * apart);
            return &sensors[i];
        }
    }
    return NULL;
}

/* What places on one line leave open: mostly the pitch, mostly the roll, or both together. */
static const char *open_words(enum height_model model, int rank, const struct height_place *missing)
{
    static const double mostly = 0.95; /* within 18 degrees of an axis; a choice of words only */
    if (model == HEIGHT_LINE)
        return "the pitch, and with it both ride heights, is open: they stand at one x; add one at "
               "another x";
    if (rank < 2)
        return "pitch and roll are open: they stand at one place; add two elsewhere";
    if (fabs(missing->y) > mostly)
        return "the roll, and with it the ride heights on the centreline, is open: they stand on "
               "one "
               "line along the car; add one off it, or write roll: zero";
    if (fabs(missing->x) > mostly)
        return "the pitch, and with it both ride heights, is open: they stand on one line across "
               "the "
               "car; add one off it";
    return "the slope across the line that they stand on is open; add one off it, or write roll: "
           "zero";
}

const struct height_sensor *height_places_check(const struct facility *facility, char *text,
                                                size_t size)
{
    struct height_place place[HEIGHT_PLACES_MAX];
    struct height_place missing;
    size_t n = facility->n_height_sensors;
    if (n == 0 || n > HEIGHT_PLACES_MAX)
        return NULL;
    const struct height_sensor *twin = find_twins(facility, text, size);
    if (twin != NULL)
        return twin;
    for (size_t i = 0; i < n; i++)
        place[i] =
            (struct height_place){facility->height_sensors[i].x, facility->height_sensors[i].y};
    enum height_model model = height_model_of(facility);
    int needed = model == HEIGHT_PLANE ? 3 : 2;
    int rank = height_rank(model, place, n, &missing);
    if (rank == needed)
        return NULL;
    (void)snprintf(text, size, "the places of %zu sensor%s fix %d of %d: %s", n, n == 1 ? "" : "s",
                   rank, needed, open_words(model, rank, &missing));
    return &facility->height_sensors[0];
}
