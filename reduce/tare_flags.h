/* tare_flags.h - what is worth knowing about the weight tare of a run, once a run.
 *
 * scales-weight: the fitted weight is not that of the scales within 0.2 %, two standard uncertainties
 * of the fit let through. weight-not-told: the sweep does not tell the weight or a coordinate of its
 * centre. tare-residual: what the rigid weight leaves, root mean square, is worth more than 0.3 of the
 * smallest delta worth having. zero-depends-on-yaw: wind-off readings that differ in their yaw alone
 * differ by more than the campaign's zero_drift share of it. Limits are common practice, no source.  */
#ifndef LAPWING_TARE_FLAGS_H
#define LAPWING_TARE_FLAGS_H

#include "reduce/flagging.h"
#include "reduce/load_probe.h"

/* Writes the flags of a run whose zeros and tare are read, undeclared changes among them. */
enum status tare_flags(const struct run_work *work, struct flagger *flagger, struct fault *fault);

/* What the rigid weight's residuals are worth at the probe's point: every load's root mean square
 * taken as independent. metric NULL: there is no fit, no point, or no metric. */
struct metric_share tare_residual_worth(const struct run_work *work,
                                        const struct load_probe *probe);

/* Share by which the fitted weight is above that of the scales; NAN without both. */
double tare_scales_share(const struct tare_model *model);

/* Which of weight and centre the sweep does not tell, and why, as a sentence without a stop; 0 and ""
 * when it tells all, or there is no fit. */
int tare_untold_words(const struct tare_model *model, char *out, size_t size);

#endif
