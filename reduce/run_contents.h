/* run_contents.h - what the loads of a run contain, kept with its reduction; who may be compared. */
#ifndef LAPWING_RUN_CONTENTS_H
#define LAPWING_RUN_CONTENTS_H

#include <stdint.h>

#include "reduce/flagging.h"
#include "reduce/night.h"
#include "schema/contents.h"

/* Keeps the contents with a point reduction. */
enum status run_contents_write(struct store *store, int64_t reduction,
                               const struct load_contents *contents, struct fault *fault);

/* Contents of the current point reduction of a run; *found is 0 when it has none: refused as a whole. */
enum status run_contents_read(const struct night *night, const struct run_row *run,
                              struct load_contents *contents, int *found, struct fault *fault);

/* A note that the run's loads are left out, being unlike those of another run. */
struct flag_note run_contents_note(const struct run_row *run, const struct load_contents *own,
                                   const struct run_row *other, const struct load_contents *others);

#endif
