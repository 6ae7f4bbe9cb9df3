/* blockage.c - see blockage.h. */
#include "reduce/physics/blockage.h"

#include <math.h>

static const double evidence_ends = 0.10, refused_from = 0.35; /* S/C */

static const struct blockage_family families[] = {
    {"none", blockage_none, 0, "q_c/q = 1", "definition"},
    {"area ratio", blockage_area_ratio, 1, "q_c/q = (1 - S/C)^-2",
     "continuity; an upper bound for slender cars"},
    {"quarter rule", blockage_quarter_rule, 1, "q_c/q = (1 + S/(4C))^2",
     "Barlow, Rae, Pope, Low-Speed Wind Tunnel Testing, 3rd edition, 1999 (from memory)"},
    {"image sum", blockage_image_sum, 1, "q_c/q = (1 + K tau V/C^1.5 + CD S/(4C))^2",
     "Thom, ARC R&M 2033, 1943; Herriot, NACA Report 995, 1950 (from memory; tau and K computed)"},
};

static int is_same(const char *a, const char *b)
{
    while (*a != '\0' && *a == *b) {
        a++;
        b++;
    }
    return *a == *b;
}

const struct blockage_family *blockage_family_at(size_t i)
{
    return i < sizeof families / sizeof *families ? &families[i] : NULL;
}

const struct blockage_family *blockage_family(const char *name)
{
    if (name == NULL)
        return NULL;
    for (size_t i = 0; i < sizeof families / sizeof *families; i++)
        if (is_same(families[i].name, name))
            return &families[i];
    return NULL;
}

enum outcome blockage_area_share(const struct blockage_input *input, double *share,
                                 int *beyond_evidence)
{
    double width = input->section_width, height = input->section_height;
    if (!isfinite(input->area) || !isfinite(width) || !isfinite(height))
        return OUTCOME_NOT_FINITE;
    if (input->area <= 0.0 || width <= 0.0 || height <= 0.0)
        return OUTCOME_GEOMETRY;
    double found = input->area / (width * height);
    if (found >= refused_from)
        return OUTCOME_BLOCKAGE_RANGE;
    *share = found;
    *beyond_evidence = found > evidence_ends;
    return OUTCOME_OK;
}
