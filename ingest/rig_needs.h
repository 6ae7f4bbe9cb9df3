/* rig_needs.h - do a run's channel maps fit the cells and the height sensors that its facility declares?
 *
 * A cell or a sensor that is mapped and has no place in the campaign would be read and never used; one
 * that is declared and not mapped would be missing from a total that says it holds it.              */
#ifndef LAPWING_RIG_NEEDS_H
#define LAPWING_RIG_NEEDS_H

#include "ingest/run_roles.h"

/* Takes one problem, a sentence. */
typedef void rig_tell(void *context, const char *text);

/* Tells what does not fit, of a wind-on run with these roles. kind: of its loads, LOAD_KINDS for none.
 * The balance may be NULL. */
void rig_needs_ask(const struct facility *facility, const struct balance *balance,
                   const struct run_roles *roles, enum load_kind kind, rig_tell *tell,
                   void *context);

/* First cell that the facility adds, that `wanted` holds and `roles` does not; ROLE_COUNT for none. */
enum role rig_missing_cell(const struct facility *facility, const struct run_roles *wanted,
                           const struct run_roles *roles);

/* 1 when the attitude's coordinate is logged, or told by height sensors where the facility takes it
 * from them. */
int rig_tells_axis(const struct facility *facility, const struct run_roles *roles,
                   enum attitude_axis axis);

#endif
