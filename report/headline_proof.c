/* headline_proof.c - what is real and what is not decided; see headline.h. */
#include <math.h>
#include <string.h>

#include "report/headline.h"
#include "report/number_text.h"

/* "W2, W1 and W5": the configurations that read this verdict, in the order of the table. */
static void add_names(struct buffer *out, const struct findings *findings, const char *verdict)
{
    size_t n = headline_count(findings, verdict);
    size_t written = 0;

    for (size_t i = 0; i < findings->n_leading; i++) {
        const struct finding_configuration *at = &findings->configurations[i];
        if (at->is_baseline || strcmp(at->deltas[0].verdict, verdict) != 0)
            continue;
        if (written > 0)
            buffer_text(out, written + 1 == n ? " and " : ", ");
        buffer_text(out, at->name);
        written++;
    }
}

static size_t compared(const struct findings *findings)
{
    size_t n = 0;

    for (size_t i = 0; i < findings->n_leading; i++)
        if (!findings->configurations[i].is_baseline &&
            isfinite(findings->configurations[i].deltas[0].half_width))
            n++;
    return n;
}

/* "95 % intervals" or "intervals" */
static void add_interval_words(struct buffer *out, const struct findings *findings)
{
    if (isfinite(findings->confidence))
        buffer_format(out, "%s %% ", number_text_plain(100 * findings->confidence, 0).text);
    buffer_text(out, compared(findings) == 1 ? "interval" : "intervals");
}

static void add_together(struct buffer *out, const struct findings *findings)
{
    size_t n = compared(findings);

    if (n > 1)
        buffer_format(out, ", which hold for all %zu comparisons together", n);
}

static void say_real(const struct findings *findings, struct buffer *out)
{
    static const char *const verdicts[] = {"gain", "loss", "changed"};
    int listed = 0;

    for (size_t i = 0; i < sizeof verdicts / sizeof verdicts[0]; i++) {
        if (headline_count(findings, verdicts[i]) == 0)
            continue;
        buffer_text(out, listed > 0 ? "; " : "Real: ");
        add_names(out, findings, verdicts[i]);
        buffer_format(out, " (%s)", verdicts[i]);
        listed++;
    }
    if (listed > 0) {
        buffer_text(out, ". Zero lies outside the ");
        add_interval_words(out, findings);
    } else if (compared(findings) > 0) {
        buffer_text(out, "Nothing that matters is shown to differ by the ");
        add_interval_words(out, findings);
    } else {
        buffer_text(out, "No interval can be given, so nothing is shown to differ.");
        return;
    }
    add_together(out, findings);
    buffer_text(out, ".");
}

static int overlap(const struct finding_delta *a, const struct finding_delta *b)
{
    return a->lower <= b->upper && b->lower <= a->upper;
}

/* A winner by the most is not a winner over the second: those two were not compared. */
static void say_second(const struct findings *findings, const struct headline *headline,
                       struct buffer *out)
{
    for (size_t i = 0; headline->winner != NULL && i < findings->n_leading; i++) {
        const struct finding_configuration *at = &findings->configurations[i];
        if (at == headline->winner || strcmp(at->deltas[0].verdict, "gain") != 0 ||
            !overlap(&at->deltas[0], &headline->winner->deltas[0]))
            continue;
        buffer_format(out, " Whether %s is better than %s is open: their intervals overlap.",
                      headline->winner->name, at->name);
        return;
    }
}

/* Rows without a verdict, when others have one. */
static void say_missing(const struct findings *findings, struct buffer *out)
{
    for (size_t i = 0; i < findings->n_leading; i++) {
        const struct finding_configuration *at = &findings->configurations[i];
        if (at->is_baseline || at->deltas[0].verdict[0] != '\0')
            continue;
        buffer_format(out, " No verdict on %s", at->name);
        size_t length = headline_reason_length(at->deltas[0].reason);
        buffer_text(out, length > 0 ? ": " : "");
        buffer_add(out, at->deltas[0].reason, length);
        buffer_text(out, ".");
    }
}

void headline_proof(const struct findings *findings, struct headline *headline)
{
    struct buffer *out = &headline->undecided;

    say_real(findings, &headline->real);
    if (headline_no_verdict(findings)) {
        buffer_text(out, "Not decided: everything. Deltas are printed as measured.");
        return;
    }
    if (headline_count(findings, "can't tell yet") > 0) {
        buffer_text(out, "Not decided: ");
        add_names(out, findings, "can't tell yet");
        buffer_text(out, ". Both no change and a change that matters are inside the interval.");
    } else {
        buffer_text(out, "No comparison with the baseline is left open.");
    }
    say_second(findings, headline, out);
    say_missing(findings, out);
}

struct family_count {
    size_t compared, gains;
};

/* Of the family that begins at *at, which is left at the first configuration after it. */
static struct family_count count_family(const struct findings *findings, size_t *at)
{
    size_t family = findings->configurations[*at].family;
    struct family_count count = {0, 0};

    while (*at < findings->n_configurations && findings->configurations[*at].family == family) {
        const struct finding_delta *delta = &findings->configurations[(*at)++].deltas[0];
        count.compared += delta->is_there != 0;
        count.gains += delta->is_there && strcmp(delta->verdict, "gain") == 0;
    }
    return count;
}

void headline_also(const struct findings *findings, struct headline *headline)
{
    struct buffer *out = &headline->also;

    for (size_t at = findings->n_leading; at < findings->n_configurations;) {
        const char *baseline = findings->configurations[at].baseline;
        struct family_count count = count_family(findings, &at);
        if (count.compared == 0)
            continue;
        buffer_text(out, out->length == 0 ? "Also compared: " : "; ");
        buffer_format(out, "%zu configuration%s with %s", count.compared,
                      count.compared == 1 ? "" : "s", baseline);
        if (count.gains > 0)
            buffer_format(out, " (%zu gain%s)", count.gains, count.gains == 1 ? "" : "s");
    }
    if (out->length > 0)
        buffer_text(out, ".");
}
