/* exclusion_flag.c - see exclusion_flag.h. */
#include "reduce/exclusion_flag.h"

#include <stdio.h>
#include <string.h>

#include "reduce/decisions.h"

enum { POINTS_NAMED = 4 };

static const char *word(const struct delta_reading *reading)
{
    return reading->verdict == NULL ? "no verdict" : reading->verdict;
}

int exclusion_flips(const struct delta_reading *with, const struct delta_reading *without)
{
    return strcmp(word(with), word(without)) != 0;
}

static void say_point(const struct exclusion_flip *flip, const struct exclusion_point *point,
                      int is_first, char *out, size_t size)
{
    const char *run = flip->family->runs[point->run].run->run;
    const struct decision_row *decision = point->decision;
    if (decision == NULL)
        (void)snprintf(out, size, "%s%.40s/%.24s %s by rule", is_first ? "" : ", ", run,
                       point->point, point->reason);
    else
        (void)snprintf(out, size, "%s%.40s/%.24s by %.40s", is_first ? "" : ", ", run, point->point,
                       decision->who);
}

/* "R05/6 by A. Name, R04/24 off-target by rule and 3 more" of the points that bear on the measure. */
static void say_points(const struct exclusion_flip *flip, const struct campaign *campaign,
                       char *out, size_t size)
{
    size_t n = 0;
    size_t used = 0;
    out[0] = '\0';
    for (size_t i = 0; i < flip->points->n; i++) {
        const struct exclusion_point *point = &flip->points->points[i];
        if (!exclusion_point_bears(point, &campaign->attitudes, flip->measure))
            continue;
        if (n < POINTS_NAMED)
            say_point(flip, point, n == 0, out + used, size - used);
        used = strlen(out);
        n++;
    }
    if (n > POINTS_NAMED)
        (void)snprintf(out + used, size - used, " and %zu more", n - POINTS_NAMED);
    if (n == 0)
        (void)snprintf(out, size, "points that slopes rest on");
}

enum status exclusion_flag_write(struct flagger *flagger, const struct campaign *campaign,
                                 const struct exclusion_flip *flip, struct fault *fault)
{
    char points[480];
    struct flag_note note = flag_note_make(FLAG_VERDICT_RESTS_ON_EXCLUSION, "", "",
                                           flip->family->configurations[flip->configuration]);
    say_points(flip, campaign, points, sizeof points);
    (void)snprintf(note.detail, sizeof note.detail, "as it stands: %s; %s: %s; what differs: %s",
                   word(flip->with),
                   flip->basis == BASIS_ALL_IN ? "with nothing left out" : "without the decisions",
                   word(flip->without), points);
    return flagger_write(flagger, &note, fault);
}
