/* explain_weight.c - the rigid weight behind a weight tare; see explain.h. */
#include <math.h>

#include "reduce/explain.h"
#include "reduce/tare_flags.h"

static void say_scales(struct key_text *text, const struct tare_model *model)
{
    double share = tare_scales_share(model);
    if (isnan(share))
        return;
    key_text_say(text, "; scales ");
    explain_say_number(text, model->setup.scales_weight, 6, "N");
    key_text_say(text, ", %+.2f %% apart", 100 * share);
}

static void say_centre(struct key_text *text, const struct weight_fit *fit)
{
    static const char *const names[] = {"x", "y", "z"};
    for (int i = 0; i < 3; i++) {
        key_text_say(text, "%s%s ", i > 0 ? ", " : "", names[i]);
        explain_say_number(text, fit->position[i], 4, "m");
        if (isfinite(fit->position_u[i]))
            key_text_say(text, " (u %.2g m)", fit->position_u[i]);
    }
}

static void say_residual(const struct explanation *explanation, const struct weight_fit *fit)
{
    struct key_text *text = explanation->text;
    struct load_probe probe;
    load_probe_find(&explanation->work, &probe);
    struct metric_share worth = tare_residual_worth(&explanation->work, &probe);
    key_text_say(text, "    it leaves, rms:");
    for (int i = 0; i < 6; i++) {
        key_text_say(text, " ");
        explain_say_number(text, fit->rms[i], 3, "");
    }
    if (worth.metric != NULL)
        key_text_say(text, "; %.2f of the smallest worthwhile delta of %s", worth.share,
                     quantity_row(worth.quantity)->symbol);
    key_text_say(text, "\n");
}

void explain_weight(const struct explanation *explanation)
{
    const struct tare_model *model = &explanation->work.tare.model;
    struct key_text *text = explanation->text;
    const struct weight_fit *fit = &model->fit;
    char untold[400];
    if (!model->is_wanted)
        return;
    if (model->outcome != OUTCOME_OK) {
        key_text_say(text, "    no weight fitted: %s\n", outcome_sentence(model->outcome));
        return;
    }
    key_text_say(text, "    rigid weight of %zu points: W ", fit->n);
    explain_say_number(text, fit->weight, 6, "N");
    if (isfinite(fit->weight))
        key_text_say(text, " (u %.2g N)", fit->weight_u);
    say_scales(text, model);
    key_text_say(text, "\n    centre of gravity, from the ground at mid-wheelbase: ");
    say_centre(text, fit);
    key_text_say(text, "; condition number ");
    explain_say_number(text, fit->condition, 3, "");
    key_text_say(text, "\n");
    if (tare_untold_words(model, untold, sizeof untold))
        key_text_say(text, "    %s\n", untold);
    say_residual(explanation, fit);
}
