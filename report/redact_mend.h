/* redact_mend.h - what is made of a redacted copy once its rows are there; see redact.h. */
#ifndef LAPWING_REPORT_REDACT_MEND_H
#define LAPWING_REPORT_REDACT_MEND_H

#include "report/report_options.h"
#include "schema/store.h"

enum status redact_mend(struct store *redacted, enum redaction redaction, struct fault *fault);

#endif
