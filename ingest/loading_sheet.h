/* loading_sheet.h - raw loadings of a balance, from a CSV sheet.
 *
 * Columns, in any order: the loads that are applied (Fx Fy Fz Mx My Mz, in balance axes) and as many outputs
 * (R1 .. R6); if wanted series (the loadings of one series share an unknown tare, which its reading without load
 * tells; outputs are from the natural zero then), direction (up or down), temperature, check (yes: held out
 * of the fit) and loading (a label). Below the header a row of units; all outputs have the same one.   */
#ifndef LAPWING_LOADING_SHEET_H
#define LAPWING_LOADING_SHEET_H

#include "ingest/problems.h"
#include "schema/loadings.h"
#include "schema/units.h"

/* Reads path. What is wrong becomes problems. Gives OK unless memory or the like fails; then, and on OK, end
 * *loadings with loadings_free(). */
enum status loading_sheet_read(const char *path, struct units *units, struct problems *problems,
                               struct loadings *loadings, struct fault *fault);

#endif
