/* pipeline.h - what happens to a night, stage by stage. Start reading here.
 *
 *   record        every entry: are the raw records of its runs measurements? Flags only
 *   point         every usable wind-on run: point statistics -> corrected coefficients, ledger, Cp
 *   target        every configuration of an entry: points -> values at the declared attitudes
 *   repeatability every family of an entry: points and mountings -> variances at three levels
 *   noise_check   every family of an entry: is that scatter the season's? Flags only
 *   uncertainty   every configuration: what each point is uncertain by, source by source
 *   compare       every family of an entry: runs -> deltas, intervals, verdicts
 *   pressure_map  every family of an entry: Cp -> mean Cp, change of Cp and which is real, triangles
 *   budget        every family of an entry: absolute and delta uncertainty side by side
 *   repeats       every entry: points measured again -> do stated uncertainties cover their differences?
 *
 * A stage reads what the stages before it left in the store, and writes one reduction a subject. Its
 * key is the hash of all it depends on, methods included: an unchanged key is skipped, a changed one
 * is reduced anew and changes the keys of what depends on it. Each reduction is one transaction, so
 * that a kill at any moment loses one run's work at most.                                          */
#ifndef LAPWING_PIPELINE_H
#define LAPWING_PIPELINE_H

#include <stddef.h>

#include "schema/campaign.h"
#include "schema/store.h"

struct reduce_summary {
    size_t entries_judged;   /* whose records were judged anew */
    size_t entries_repeated; /* whose repeats were compared anew */
    size_t runs_reduced;
    size_t runs_up_to_date;
    size_t runs_refused;        /* reduced now, to flags without a number, e.g. no zero */
    size_t runs_without_number; /* of all usable wind-on runs, reduced now or before */
    size_t runs_not_usable;     /* quarantined wind-on runs */
    size_t groups_reduced;      /* target, compare and pressure_map together */
    size_t groups_up_to_date;
};

/* Reduces everything in the store that is not up to date, runs in run-sheet order. Reductions of runs
 * that are no longer in the sheet, or that are quarantined now, are made not current. BAD_INPUT, with
 * nothing reduced, when the declared corrections lack what they need (recipe_check.h). */
enum status reduce_night(struct store *store, const struct campaign *campaign,
                         struct reduce_summary *summary, struct fault *fault);

#endif
