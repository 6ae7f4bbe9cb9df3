/* proof_claim.c - the sheet's first sentence; see proof.h. */
#include <math.h>
#include <string.h>

#include "report/headline.h"
#include "report/number_text.h"
#include "report/proof.h"

static void add_amount(struct buffer *out, const struct finding_metric *metric,
                       const struct finding_delta *delta)
{
    const struct display *display = &metric->display;

    buffer_text(out, number_text_pair(display->factor * delta->delta,
                                      display->factor * delta->half_width, display->decimals)
                         .text);
    if (display->unit[0] != '\0')
        buffer_format(out, " %s", display->unit);
}

/* "; drag +3.6 ± 2.2 counts; balance −0.19 ± 0.22 pp" */
static void add_others(const struct proof *proof, struct buffer *out)
{
    for (size_t m = 1; m < proof->findings->n_metrics; m++) {
        const struct finding_metric *metric = &proof->findings->metrics[m];
        const struct finding_delta *delta = &proof->part->deltas[m];
        if (!isfinite(delta->delta))
            continue;
        buffer_format(out, "; %s ", metric->name);
        add_amount(out, metric, delta);
    }
    headline_hangs(out, proof->part);
    buffer_text(out, ".");
}

static void say_none(const struct proof *proof, struct buffer *out)
{
    const struct finding_delta *delta = &proof->part->deltas[0];
    size_t length = headline_reason_length(delta->reason);

    buffer_format(out, "No claim is made of %s", proof->part->name);
    buffer_text(out, length > 0 ? ": " : "");
    buffer_add(out, delta->reason, length);
    buffer_text(out, ".");
}

void proof_claim(const struct proof *proof, struct buffer *out)
{
    const struct findings *findings = proof->findings;
    const struct finding_delta *delta = &proof->part->deltas[0];
    const struct finding_metric *metric = &findings->metrics[0];
    const char *part = proof->part->name;
    const char *baseline = proof->part->baseline;

    if (findings->n_metrics == 0 || delta->verdict[0] == '\0') {
        say_none(proof, out);
        return;
    }
    buffer_format(out, "At %s, ", findings_target_words(findings));
    if (strcmp(delta->verdict, "can't tell yet") == 0)
        buffer_format(out, "it is not decided whether %s changes %s against %s: ", part,
                      metric->name, baseline);
    else if (strcmp(delta->verdict, "no change that matters") == 0)
        buffer_format(out, "%s does not change %s by as much as %s%s%s against %s: ", part,
                      metric->name,
                      number_text_declared(metric->display.factor * metric->worthwhile).text,
                      metric->display.unit[0] != '\0' ? " " : "", metric->display.unit, baseline);
    else
        buffer_format(out, "%s changes %s against %s by ", part, metric->name, baseline);
    add_amount(out, metric, delta);
    add_others(proof, out);
}
