/* blockage.c - see blockage.h. */
#include "reduce/physics/blockage.h"

#include <math.h>

const double BLOCKAGE_REFUSED_FROM = 0.35;
static const double evidence_ends = 0.10, jet_evidence_ends = 0.15; /* S/C */

enum { ANYWHERE = BLOCKAGE_CLOSED | BLOCKAGE_OPEN | BLOCKAGE_SLOTTED | BLOCKAGE_TRACK };

static const struct blockage_family families[] = {
    {"none",
     blockage_none,
     ANYWHERE,
     {NULL},
     "q_c/q = 1",
     "definition",
     "uncorrected numbers compare within one tunnel and one size of car only",
     ""},
    {"area ratio",
     blockage_area_ratio,
     BLOCKAGE_CLOSED,
     {NULL},
     "q_c/q = (1 - S/C)^-2",
     "continuity; an upper bound for slender cars",
     "S/C to 0.10; within some 5 % for a blunt saloon at 0.20",
     ""},
    {"quarter rule",
     blockage_quarter_rule,
     BLOCKAGE_CLOSED,
     {NULL},
     "q_c/q = (1 + S/(4C))^2",
     "Barlow, Rae, Pope, Low-Speed Wind Tunnel Testing, 3rd edition, 1999 (from memory)",
     "a rule of thumb; S/C to 0.10; under-corrects a bluff car",
     ""},
    {"image sum",
     blockage_image_sum,
     BLOCKAGE_CLOSED | BLOCKAGE_OPEN,
     {"eps_s", "eps_w"},
     "q_c/q = (1 + K tau V/C^1.5 + CD S/(4C))^2; in an open jet tau < 0 and no wake term",
     "Thom, ARC R&M 2033, 1943; Herriot, NACA Report 995, 1950 (from memory; tau and K computed)",
     "S/C to 0.10 (0.15 in a jet), a car no longer than the section is wide, flow not much "
     "separated",
     ""},
    {"maskell",
     blockage_maskell,
     BLOCKAGE_CLOSED,
     {"theta", "k_c^2", "Cpb"},
     "q_c/q = 1 + theta CD S/C, theta = 1/(k_c^2 - 1), k_c^2 the larger root, k^2 = 1 - Cpb",
     "Maskell, ARC R&M 3400, 1963 (abstract read, equations from memory)",
     "S/C to 0.10; separated bodies without lift, aspect ratio 1 to 10; not where the base "
     "pressure's "
     "feedback more than triples the correction",
     "that CD in q_c/q is the measured one (second order)"},
    {"maskell split",
     blockage_maskell_split,
     BLOCKAGE_CLOSED,
     {"eps_s", "eps_w", "theta", "CDi"},
     "q_c/q = (1 + eps_s + CD0 S/(4C) + (theta/2)(S/C)(CD - K CL^2 - CD0))^2",
     "Barlow, Rae, Pope, Low-Speed Wind Tunnel Testing, 3rd edition, 1999 (from memory)",
     "S/C to 0.10; cars with lift whose vortex drag is known from a sweep of CD over CL^2",
     "the factor 5/4 of its printed form"},
    {"wall signature",
     blockage_wall_signature,
     BLOCKAGE_CLOSED,
     {"eps_s", "eps_w", "eps_nose", "eps_tail", "residual"},
     "q_c/q = (1 + eps)^2, eps by sources fitted to the walls' pressures and their images",
     "Hackett, Wilsden, Lilley, NASA CR-152241, 1979 (title from memory; derived here)",
     "S/C to 0.10; residual below a fifth of the largest speed on the walls; increment at nose and "
     "tail "
     "within half of the one at the middle",
     ""},
    {"open jet",
     blockage_open_jet,
     BLOCKAGE_OPEN,
     {"eps_S", "eps_N", "eps_qN", "eps_C"},
     "q_c/q = (1 + w_S eps_S + w_N eps_N + w_q eps_qN + w_C eps_C)^2, weights as declared",
     "Mercker, Wiedemann, SAE 960671, 1996 (abstract read; pieces derived here)",
     "S/C to 0.15, a car no longer than the nozzle is wide",
     "the weights, the collector's constants and the sum of the pieces"},
    {"slotted",
     blockage_slotted,
     BLOCKAGE_SLOTTED,
     {"k"},
     "q_c/q = 1 + k S/C, k the facility's own",
     "common practice, no source",
     "the shapes and the S/C of the series that k was measured with",
     ""},
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
    if (found >= BLOCKAGE_REFUSED_FROM)
        return OUTCOME_BLOCKAGE_RANGE;
    *share = found;
    *beyond_evidence = found > (input->is_open ? jet_evidence_ends : evidence_ends);
    return OUTCOME_OK;
}
