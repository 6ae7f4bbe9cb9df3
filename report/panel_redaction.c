/* panel_redaction.c - says on a redacted page that it is one; nothing on any other. */
#include "report/page.h"
#include "report/panel.h"

static enum status take_sentence(struct statement *row, void *context, struct fault *fault)
{
    struct html *page = context;

    (void)fault;
    html_element(page, "p", statement_text(row, 0), "class", "note", HTML_END);
    return OK;
}

enum status panel_redaction(struct html *page, const struct night_page *night, struct fault *fault)
{
    return query_each(night->store,
                      "SELECT value FROM setting WHERE section = 'redaction' ORDER BY name DESC",
                      NULL, take_sentence, page, fault);
}
