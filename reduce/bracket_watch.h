/* bracket_watch.h - is a bracket of baseline returns wider than the drift allows? */
#ifndef LAPWING_BRACKET_WATCH_H
#define LAPWING_BRACKET_WATCH_H

#include "reduce/flagging.h"
#include "reduce/measure_evidence.h"
#include "schema/campaign.h"

/* The mounting of a configuration between whose two baseline returns the quantity moved most: by more
 * than the metric's smallest delta worth having, and than 2 sqrt(2) standard deviations of one mounting
 * (twice the standard deviation of a difference of two), where that is known. Common practice, no source.
 * Gives 1 with the note filled, detail included, 0 when no bracket is too wide. */
int bracket_watch_check(const struct family *family, const struct evidence *evidence,
                        size_t configuration, const struct campaign *campaign,
                        const struct metric *metric, struct flag_note *note);

#endif
