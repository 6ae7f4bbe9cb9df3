/* cut_text.h - a name that must fit: whole, or cut between characters and marked as cut. */
#ifndef LAPWING_REPORT_CUT_TEXT_H
#define LAPWING_REPORT_CUT_TEXT_H

#include <stddef.h>

enum { CUT_TEXT_MOST = 60 };

struct cut_text {
    char text[4 * CUT_TEXT_MOST + 4];
};

/* At most `most` characters of a UTF-8 text, CUT_TEXT_MOST at most, the last of them an ellipsis where
 * there were more. A byte that is not UTF-8 counts as a character and stays as it is; html_escape()
 * shows it. */
struct cut_text cut_text(const char *text, size_t most);

#endif
