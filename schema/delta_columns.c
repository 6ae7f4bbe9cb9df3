/* delta_columns.c - see delta_columns.h. */
#include "schema/delta_columns.h"

const struct csv_column delta_columns[DELTA_COLUMNS] = {
    [DELTA_CONFIGURATION] = {"configuration", "", CSV_TEXT},
    [DELTA_BASELINE] = {"baseline", "", CSV_TEXT},
    [DELTA_FACILITY] = {"facility", "", CSV_TEXT},
    [DELTA_ENTRY] = {"entry", "", CSV_TEXT},
    [DELTA_QUANTITY] = {"quantity", "symbol", CSV_TEXT},
    [DELTA_UNIT] = {"unit", "of delta, half_width, lower, upper and standard_uncertainty",
                    CSV_TEXT},
    [DELTA_TARGET] = {"target", "attitude or weighted", CSV_TEXT},
    [DELTA_IS_MAIN] = {"is_main", "1 judged, 0 exploratory", CSV_NUMBER},
    [DELTA_DELTA] = {"delta", "unit of the quantity, downforce positive", CSV_NUMBER},
    [DELTA_HALF_WIDTH] = {"half_width", "unit of the quantity", CSV_NUMBER},
    [DELTA_LOWER] = {"lower", "unit of the quantity", CSV_NUMBER},
    [DELTA_UPPER] = {"upper", "unit of the quantity", CSV_NUMBER},
    [DELTA_STANDARD_UNCERTAINTY] = {"standard_uncertainty", "unit of the quantity", CSV_NUMBER},
    [DELTA_DEGREES_OF_FREEDOM] = {"degrees_of_freedom", "1", CSV_NUMBER},
    [DELTA_MULTIPLIER] = {"multiplier", "1", CSV_NUMBER},
    [DELTA_MOUNTINGS] = {"mountings", "1", CSV_NUMBER},
    [DELTA_BASELINE_MOUNTINGS] = {"baseline_mountings", "1", CSV_NUMBER},
    [DELTA_VERDICT] = {"verdict", "", CSV_TEXT},
    [DELTA_REAL_BUT_SMALL] = {"real_but_small", "1 yes, 0 no", CSV_NUMBER},
    [DELTA_REASON] = {"reason", "", CSV_TEXT},
};
