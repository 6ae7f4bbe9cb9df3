/* trust_work.h - what the checks of trust.c have in common, and the checks themselves. */
#ifndef LAPWING_REPORT_TRUST_WORK_H
#define LAPWING_REPORT_TRUST_WORK_H

#include "report/buffer.h"
#include "report/findings.h"
#include "report/trust.h"

struct trust_work {
    struct store *store;
    struct findings *findings;
    const struct finding_configuration *leader; /* the best gain; NULL */
    struct buffer says;                         /* of the check that is being made */
};

/* Fills state and action of a check, and adds its sentence to work->says. */
typedef enum status trust_make(struct trust_work *work, struct trust_check *check,
                               struct fault *fault);

/* Of what was done that night: trust_night.c. */
trust_make trust_check_baseline, trust_check_brackets, trust_check_change;

/* Of what was made of it: trust_answer.c. */
trust_make trust_check_methods, trust_check_scatter, trust_check_season, trust_check_exclusion;

const struct finding_metric *trust_metric(const struct trust_work *work);

/* "14.2 counts": a size in the page's unit; the smallest one worth having likewise. */
void trust_say_size(struct trust_work *work, double stored);
void trust_say_worthwhile(struct trust_work *work);

#endif
