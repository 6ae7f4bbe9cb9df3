/* reading.h - how a verdict looks: its symbol, its chip, the tone of its interval. */
#ifndef LAPWING_REPORT_READING_H
#define LAPWING_REPORT_READING_H

#include "report/chart_interval.h"
#include "report/page.h"

struct reading {
    const char *verdict, *symbol;
    enum chip chip;
    enum interval_tone tone;
};

/* By the store's word; NULL for none. */
const struct reading *reading_of(const char *verdict);

#endif
