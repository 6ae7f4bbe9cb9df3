/* csv_cell.c - see csv_cell.h. */
#include "schema/csv_cell.h"

#include <string.h>

/* Blanks that a reader may drop: blank, no-break space, ideographic space, zero-width space, byte order
 * mark. */
static const char *const blanks[] = {" ", "\xC2\xA0", "\xE3\x80\x80", "\xE2\x80\x8B",
                                     "\xEF\xBB\xBF"};

/* Tab and ends of line start a formula by themselves in some readers. */
static const char *const starts[] = {
    "=",
    "+",
    "-",
    "@",
    "\t",
    "\r",
    "\n",
    "\v",
    "\f",
    "\xEF\xBC\x9D",
    "\xEF\xBC\x8B",
    "\xEF\xBC\x8D",
    "\xEF\xBC\xA0",
};

/* Length of the one of n texts that text starts with; 0: none. */
static size_t start_length(const char *text, const char *const *texts, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (text[0] == texts[i][0] && strncmp(text, texts[i], strlen(texts[i])) == 0)
            return strlen(texts[i]);
    return 0;
}

int csv_is_formula(const char *text)
{
    size_t length = 0;
    while ((length = start_length(text, blanks, sizeof blanks / sizeof blanks[0])) > 0)
        text += length;
    return start_length(text, starts, sizeof starts / sizeof starts[0]) > 0;
}
