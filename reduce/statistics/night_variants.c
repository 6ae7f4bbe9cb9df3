/* night_variants.c - see night_variants.h. */
#include "reduce/statistics/night_variants.h"

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
