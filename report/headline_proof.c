/* headline_proof.c - what is real and what is not decided; see headline.h. */
#include <math.h>
#include <string.h>

#include "report/headline.h"
#include "report/number_text.h"

/* Of more than NAMES_MOST the first ones are named: the table below has them all, and a sentence that
 * nobody reads to its end would push it out of sight. */
enum { NAMES_MOST = 6, NAMES_FIRST = 4 };

/* "W2, W1 and W5", or "W2, W1, W5, W3 and 5 more": the configurations that read this verdict, in the order
 * of the table. */
static void add_names(struct buffer *out, const struct findings *findings, const char *verdict)
{
    size_t n = headline_count(findings, verdict);
    size_t named = n > NAMES_MOST ? NAMES_FIRST : n;
    size_t written = 0;

    for (size_t i = 0; i < findings->n_leading && written < named; i++) {
        const struct finding_configuration *at = &findings->configurations[i];
        if (at->is_baseline || strcmp(at->deltas[0].verdict, verdict) != 0)
            continue;
        if (written > 0)
            buffer_text(out, written + 1 == n ? " and " : ", ");
        buffer_text(out, at->name);
        written++;
    }
    if (written < n)
        buffer_format(out, " and %zu more", n - written);
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

/* "95 % intervals", "interval": as many as n. */
static void add_interval_words(struct buffer *out, const struct findings *findings, size_t n)
{
    if (isfinite(findings->confidence))
        buffer_format(out, "%s %% ", number_text_declared(100 * findings->confidence).text);
    buffer_text(out, n == 1 ? "interval" : "intervals");
}

/* "Real: W2 and W1 (gain); W5 (loss). Zero lies outside their 95 % intervals." */
static void say_shown(const struct findings *findings, struct buffer *out)
{
    static const char *const verdicts[] = {"gain", "loss", "changed"};
    size_t listed = 0;

    for (size_t i = 0; i < sizeof verdicts / sizeof verdicts[0]; i++) {
        size_t n = headline_count(findings, verdicts[i]);
        if (n == 0)
            continue;
        buffer_text(out, listed > 0 ? "; " : "Real: ");
        add_names(out, findings, verdicts[i]);
        buffer_format(out, " (%s)", verdicts[i]);
        listed += n;
    }
    if (listed > 0)
        buffer_text(out, listed == 1 ? ". Zero lies outside its " : ". Zero lies outside their ");
    else
        buffer_text(out, "Nothing that matters is shown to differ by the ");
    add_interval_words(out, findings, listed > 0 ? listed : compared(findings));
    buffer_text(out, ".");
}

/* "No change that matters: W4, with the whole interval within ±10 counts." Shown as much as a gain
 * is, and easily taken for a failure to see anything. */
static void say_unchanged(const struct findings *findings, struct buffer *out)
{
    static const char verdict[] = "no change that matters";
    const struct finding_metric *metric = &findings->metrics[0];
    double worthwhile = metric->display.factor * metric->worthwhile;

    if (headline_count(findings, verdict) == 0)
        return;
    buffer_text(out, " No change that matters: ");
    add_names(out, findings, verdict);
    buffer_format(out, ", with the whole interval within \xC2\xB1%s%s%s.",
                  number_text_declared(worthwhile).text, metric->display.unit[0] != '\0' ? " " : "",
                  metric->display.unit);
}

static size_t hanging(const struct findings *findings)
{
    size_t n = 0;

    for (size_t i = 0; i < findings->n_leading; i++)
        n += findings_hangs_on(&findings->configurations[i])[0] != '\0';
    return n;
}

/* " Not firm: W2 (hangs on what was left out)." */
static void say_hanging(const struct findings *findings, struct buffer *out)
{
    size_t n = hanging(findings), named = 0, most = n > NAMES_MOST ? NAMES_FIRST : n;

    for (size_t i = 0; i < findings->n_leading && named < most; i++) {
        const struct finding_configuration *at = &findings->configurations[i];
        const char *on = findings_hangs_on(at);
        if (on[0] == '\0')
            continue;
        buffer_format(out, "%s%s (hangs on %s)", named++ == 0 ? " Not firm: " : ", ", at->name, on);
    }
    if (named < n)
        buffer_format(out, " and %zu more", n - named);
    if (n > 0)
        buffer_text(out, ".");
}

static void say_real(const struct findings *findings, struct buffer *out)
{
    size_t n = compared(findings);

    if (n == 0) {
        buffer_text(out, "No interval can be given, so nothing is shown to differ.");
        return;
    }
    say_shown(findings, out);
    say_unchanged(findings, out);
    say_hanging(findings, out);
    if (n > 1)
        buffer_format(out, " The intervals hold for all %zu comparisons together.", n);
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
        buffer_format(out, "%sWhether %s is better than %s is open: their intervals overlap.",
                      out->length > 0 ? " " : "", headline->winner->name, at->name);
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
        buffer_format(out, "%sNo verdict on %s", out->length > 0 ? " " : "", at->name);
        size_t length = headline_reason_length(at->deltas[0].reason);
        buffer_text(out, length > 0 ? ": " : "");
        buffer_add(out, at->deltas[0].reason, length);
        buffer_text(out, ".");
    }
}

static int any_delta(const struct findings *findings)
{
    for (size_t i = 0; i < findings->n_leading; i++)
        if (!findings->configurations[i].is_baseline &&
            isfinite(findings->configurations[i].deltas[0].delta))
            return 1;
    return 0;
}

void headline_proof(const struct findings *findings, struct headline *headline)
{
    struct buffer *out = &headline->undecided;

    say_real(findings, &headline->real);
    if (headline_no_verdict(findings)) {
        buffer_text(out, "Not decided: everything.");
        if (any_delta(findings))
            buffer_text(out, " Deltas are printed as measured.");
        return;
    }
    if (headline_count(findings, "can't tell yet") > 0) {
        buffer_text(out, "Not decided: ");
        add_names(out, findings, "can't tell yet");
        buffer_format(out, ". Both no change and a change that matters are inside %s interval.",
                      headline_count(findings, "can't tell yet") > 1 ? "each" : "the");
    } else if (headline_count(findings, "") == 0 && hanging(findings) == 0) {
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
