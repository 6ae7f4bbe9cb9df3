/* plan_json.h - a planned night as JSON (RFC 8259): times in s, coefficients as they are. */
#ifndef LAPWING_PLAN_JSON_H
#define LAPWING_PLAN_JSON_H

#include "reduce/key_text.h"
#include "reduce/plan_sheet.h"

enum status plan_json_print(const struct planned_night *night, const struct plan_sheet *sheet,
                            struct key_text *text, struct fault *fault);

#endif
