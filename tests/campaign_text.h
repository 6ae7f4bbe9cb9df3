/* campaign_text.h - a small campaign.yaml without a fault, for tests that read or spoil it. */
#ifndef LAPWING_CAMPAIGN_TEXT_H
#define LAPWING_CAMPAIGN_TEXT_H

#include <stddef.h>

#include "schema/campaign.h"

extern const char good_campaign[];

/* The problems that were told while a campaign was read. */
struct heard {
    size_t n;
    size_t last_line;
    int in_order;
    char all[8192];
};

/* Writes text as a campaign.yaml of its own and reads that. */
enum status campaign_read_text(const char *text, struct campaign **campaign, struct heard *heard,
                               struct fault *fault);

/* "campaign.yaml:line:column: " of the first place where mark stands in text. */
void campaign_place(const char *text, const char *mark, char *out, size_t size);

#endif
