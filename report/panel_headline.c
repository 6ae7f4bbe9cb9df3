/* panel_headline.c - the top of the page: whose night it is, what was found, and how sure that is. */
#include <math.h>
#include <string.h>

#include "report/panel.h"
#include "report/time_text.h"

struct span {
    double first, last;
    double offset; /* s, of the first run's clock */
};

static enum status take_span(struct statement *row, void *context, struct fault *fault)
{
    struct span *span = context;
    const char *start = statement_text(row, 2);

    (void)fault;
    span->first = statement_real(row, 0);
    span->last = statement_real(row, 1);
    span->offset = start != NULL ? time_zone_offset(start) : 0;
    return OK;
}

static enum status write_origin(struct html *page, const struct night_page *night,
                                struct fault *fault)
{
    const struct findings *findings = night->findings;
    struct span span = {0};

    enum status status =
        query_each(night->store,
                   "SELECT min(start_s), max(start_s), "
                   "(SELECT start_text FROM page_run ORDER BY start_s LIMIT 1) FROM page_run",
                   NULL, take_span, &span, fault);
    html_open(page, "p", "class", "origin", HTML_END);
    html_text(page, findings->car);
    html_raw(page, findings->car[0] != '\0' ? " \xC2\xB7 " : "");
    if (findings->entries.n > 0)
        html_format(page, "%s, entry %s", findings->facility, findings->entry);
    if (isfinite(span.first))
        html_format(page, " \xC2\xB7 runs started %s %s to %s %s, %s",
                    time_date(span.first, span.offset).text,
                    time_clock(span.first, span.offset).text,
                    time_date(span.last, span.offset).text, time_clock(span.last, span.offset).text,
                    time_zone(span.offset).text);
    html_close(page);
    return status;
}

enum status panel_headline(struct html *page, const struct night_page *night, struct fault *fault)
{
    enum status status = write_origin(page, night, fault);

    html_element(page, "h1", buffer_string(&night->headline->sentence), HTML_END);
    html_element(page, "p", buffer_string(&night->headline->real), "class", "proof", HTML_END);
    html_element(page, "p", buffer_string(&night->headline->undecided), "class", "proof", HTML_END);
    if (night->headline->also.length > 0)
        html_element(page, "p", buffer_string(&night->headline->also), "class", "proof", HTML_END);
    return status;
}
