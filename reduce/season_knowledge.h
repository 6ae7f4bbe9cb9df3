/* season_knowledge.h - what the season knew before an entry: how well values repeat, how large deltas are.
 *
 * Only entries that started before this one count, so that an old night keeps its verdicts when later ones
 * arrive. Repeatability is that of the facility (reduce/repeatability.h); past deltas are those of any
 * facility, because how large a part's delta usually is is a matter of the car.                        */
#ifndef LAPWING_SEASON_KNOWLEDGE_H
#define LAPWING_SEASON_KNOWLEDGE_H

#include "reduce/family.h"
#include "reduce/statistics/variance_levels.h"

/* Of one quantity at one measure. */
struct season_measure {
    struct variance_estimate refitted; /* level "part refitted"; freedom 0: not known */
    size_t entries;                    /* that it rests on; 0: declared */
    double *deltas, *uncertainties;    /* n past deltas with an uncertainty, in time */
    size_t n, deltas_capacity, uncertainties_capacity;
};

struct season_knowledge {
    struct season_measure *measures; /* n_measures x QUANTITY_COUNT */
    size_t n_measures;
};

/* Reads it for the quantities asked for at all measures of a family. On OK the caller ends *season with
 * season_knowledge_end(); on any other status nothing is held. */
enum status season_knowledge_read(const struct night *night, const struct family *family,
                                  const enum quantity *quantities, size_t n_quantities,
                                  struct season_knowledge *season, struct fault *fault);
void season_knowledge_end(struct season_knowledge *season);

const struct season_measure *season_measure(const struct season_knowledge *season,
                                            enum quantity quantity, size_t measure);

/* Writes what it depends on into a key: the comparisons and repeatabilities of earlier entries, and what the
 * campaign declares. */
enum status season_knowledge_key(const struct night *night, const struct run_row *of,
                                 struct key_text *key, struct fault *fault);

#endif
