/* sign_text.c - see sign_text.h. */
#include "report/sign_text.h"

#include <ctype.h>
#include <string.h>

/* What may stand before a number: nothing, a blank, or a mark that opens one. */
static int begins(char before)
{
    return before == '\0' || strchr(" (,:;=<>|", before) != NULL;
}

static int is_number(const char *text)
{
    return isdigit((unsigned char)text[0]) || (text[0] == '.' && isdigit((unsigned char)text[1]));
}

void sign_text(struct buffer *out, const char *text)
{
    char before = '\0';

    for (const char *at = text; *at != '\0'; at++) {
        int is_first = begins(before);
        before = *at;
        if (is_first && at[0] == '+' && at[1] == '-' && (at[2] == ' ' || is_number(at + 2))) {
            buffer_text(out, "\xC2\xB1");
            at++;
        } else if (is_first && at[0] == '-' && is_number(at + 1)) {
            buffer_text(out, "\xE2\x88\x92");
        } else {
            buffer_add(out, at, 1);
        }
    }
}

void sign_text_write(struct html *page, const char *text)
{
    struct buffer signs = {0};

    if (text == NULL || text[0] == '\0')
        return;
    sign_text(&signs, text);
    html_text(page, buffer_string(&signs));
    page->out.failed |= signs.failed;
    buffer_free(&signs);
}
