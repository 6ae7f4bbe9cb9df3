/* compare_json.h - a comparison as JSON, by the JSON functions of SQLite. */
#ifndef LAPWING_COMPARE_JSON_H
#define LAPWING_COMPARE_JSON_H

#include "reduce/key_text.h"
#include "schema/store.h"

/* One object and a line end, UTF-8, from the tables of schema/asked.h; rows and keys in a fixed order.
 * Numbers are SI or dimensionless as the member `unit` beside them says, with 15 significant digits; null
 * is what is not known. */
enum status compare_json(struct store *store, struct key_text *text, struct fault *fault);

#endif
