/* night_variants.c - see night_variants.h. */
#include "reduce/statistics/night_variants.h"

#include <stdlib.h>
#include <string.h>

enum outcome night_deltas_without(const struct night_observation *observations,
                                  const unsigned char *is_out, size_t n, size_t n_configurations,
                                  struct night_result *result, double *correlation)
{
    struct night_observation *left = calloc(n + 1, sizeof *left);
    size_t kept = 0;

    for (size_t i = 0; i < n && left != NULL; i++)
        if (!is_out[i])
            left[kept++] = observations[i];
    /* Asked for none, night_deltas() clears what it fills. */
    enum outcome outcome = night_deltas(left, kept, n_configurations, result, correlation);
    if (left == NULL)
        outcome = OUTCOME_NO_MEMORY;
    free(left);
    return outcome;
}

/* The time of a mounting of the baseline: that of its earliest point. */
static int begins_mounting(const struct night_observation *observations, size_t n, size_t i)
{
    if (observations[i].configuration != 0)
        return 0;
    for (size_t j = 0; j < n; j++) {
        int is_earlier = observations[j].time < observations[i].time ||
                         (j < i && !(observations[j].time > observations[i].time));
        if (observations[j].mounting == observations[i].mounting && is_earlier)
            return 0;
    }
    return 1;
}

static size_t place_of(const struct night_observation *observations, size_t n, size_t i)
{
    size_t place = 0;

    for (size_t j = 0; j < n; j++) {
        int is_earlier = observations[j].time < observations[i].time ||
                         (j < i && !(observations[j].time > observations[i].time));
        place += is_earlier && begins_mounting(observations, n, j) ? 1U : 0U;
    }
    return place;
}

int night_mark_baseline(const struct night_observation *observations, size_t n, size_t place,
                        unsigned char *is_out)
{
    memset(is_out, 0, n);
    for (size_t i = 0; i < n; i++) {
        if (!begins_mounting(observations, n, i) || place_of(observations, n, i) != place)
            continue;
        for (size_t j = 0; j < n; j++)
            is_out[j] = observations[j].mounting == observations[i].mounting;
        return 1;
    }
    return 0;
}

static int are_opposite(enum verdict one, enum verdict other)
{
    return (one == VERDICT_GAIN && other == VERDICT_LOSS) ||
           (one == VERDICT_LOSS && other == VERDICT_GAIN);
}

enum stability verdict_stability(enum verdict headline, const enum verdict *variants, size_t n)
{
    enum stability stability = n > 0 ? STABILITY_FIRM : STABILITY_NONE;

    for (size_t i = 0; i < n; i++) {
        enum stability one = STABILITY_DEPENDS;
        if (variants[i] == headline)
            one = STABILITY_FIRM;
        else if (are_opposite(variants[i], headline))
            one = STABILITY_REVERSED;
        else if (variants[i] == VERDICT_CANNOT_TELL)
            one = STABILITY_SOFT;
        stability = one > stability ? one : stability;
    }
    return stability;
}

const char *stability_words(enum stability stability)
{
    static const char *const words[] = {"", "firm", "softer without some",
                                        "depends on what is left out",
                                        "reversed by what is left out"};
    return (size_t)stability < sizeof words / sizeof words[0] ? words[stability] : "";
}
