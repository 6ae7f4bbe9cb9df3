/* redact_text.h - one text on its way into the redacted season. */
#ifndef LAPWING_REPORT_REDACT_TEXT_H
#define LAPWING_REPORT_REDACT_TEXT_H

#include "report/redact_names.h"

/* Adds to *out what becomes of the text of a column; nothing where it is left out. */
enum status redact_text(struct redact_names *names, const struct redact_column *column,
                        const char *text, struct buffer *out, struct fault *fault);

#endif
