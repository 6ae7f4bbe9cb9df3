/* headline_distrust.c - the top of the page when a check on the night fails; see headline.h. */
#include <ctype.h>

#include "report/headline.h"

void headline_lowered(struct buffer *out, const char *sentence)
{
    char first = (char)tolower((unsigned char)sentence[0]);

    buffer_add(out, &first, first != '\0');
    buffer_text(out, first != '\0' ? sentence + 1 : "");
}

void headline_distrust(const struct findings *findings, const struct trust_check *failed,
                       struct headline *headline)
{
    size_t n = trust_count(&findings->trust, TRUST_FAILS);

    buffer_text(&headline->real, "Measured, but not to be used before that is cleared. ");
    buffer_text(&headline->real, buffer_string(&headline->sentence));
    buffer_clear(&headline->sentence);
    buffer_text(&headline->sentence, "Do not use these deltas yet: ");
    headline_lowered(&headline->sentence, failed->says);
    if (n > 1)
        buffer_format(&headline->undecided,
                      "%zu checks on the night fail; the table of checks has all. ", n);
    buffer_text(&headline->undecided, failed->action);
    headline->winner = NULL;
}
