/* sign_text.h - true signs in a sentence that was written with the ASCII ones.
 *
 * Flags and reasons are kept in plain ASCII, as the command line prints them; on a page "-3.2" reads
 * as a dash. A hyphen before a digit at the beginning of a word becomes U+2212, and "+-" becomes ±.
 * Dates, names and exponents keep theirs: there a letter or a digit stands before it.               */
#ifndef LAPWING_REPORT_SIGN_TEXT_H
#define LAPWING_REPORT_SIGN_TEXT_H

#include "report/html.h"

void sign_text(struct buffer *out, const char *text);

/* The same, escaped, into a page; NULL and "" write nothing. */
void sign_text_write(struct html *page, const char *text);

#endif
