/* plan_place.c - see plan_place.h. */
#include "reduce/plan_place.h"

#include <string.h>

static enum status find_facility(struct planned_night *night, struct fault *fault)
{
    const struct campaign *campaign = night->input->campaign;
    const char *option = night->input->options.facility;
    const char *name = option != NULL ? option : campaign->plan.facility;
    night->facility = campaign_facility(campaign, name);
    if (night->facility == NULL)
        return FAIL(fault, BAD_INPUT,
                    "--facility '%.80s' is not in campaign.yaml; correct the name", name);
    if (night->facility->section == SECTION_BENCH)
        return FAIL(fault, BAD_INPUT,
                    "facility '%.80s' is a bench, at which nothing is compared; name one with wind",
                    name);
    night->entry =
        night->input->options.entry != NULL ? night->input->options.entry : campaign->plan.entry;
    if (strchr(night->entry, '/') != NULL)
        return FAIL(fault, BAD_INPUT,
                    "entry '%.80s' holds a '/', which stands between facility, entry and "
                    "configuration; rename it",
                    night->entry);
    return OK;
}

static enum status find_balance(struct planned_night *night, struct fault *fault)
{
    const struct campaign *campaign = night->input->campaign;
    night->balance = "";
    if (campaign->plan.balance != NULL)
        night->balance = campaign->plan.balance;
    else if (campaign->n_balances == 1)
        night->balance = campaign->balances[0].name;
    else if (campaign->n_balances > 1)
        return FAIL(fault, BAD_INPUT,
                    "campaign.yaml has %zu balances, and plan: balance says none of them; name one",
                    campaign->n_balances);
    return OK;
}

/* Each piece of a logs cell names a map, and RUN is in it somewhere: else all runs would share a log. */
static enum status check_logs(const struct campaign *campaign, const char *key, const char *logs,
                              struct fault *fault)
{
    if (strstr(logs, "RUN") == NULL)
        return FAIL(fault, BAD_INPUT,
                    "plan: %s '%.80s' has no RUN in it, so that all runs would share a log; write "
                    "it where the run's name belongs",
                    key, logs);
    for (const char *piece = logs; piece != NULL;) {
        char name[80] = "";
        size_t length = strcspn(piece, "=;");
        if (length < sizeof name)
            memcpy(name, piece, length);
        if (piece[length] != '=' || campaign_map(campaign, name) == NULL)
            return FAIL(fault, BAD_INPUT,
                        "plan: %s: '%.80s' does not begin with a channel map of campaign.yaml; "
                        "limit: map=file, with ';' between; correct it",
                        key, piece);
        piece = strchr(piece, ';');
        piece = piece != NULL ? piece + 1 : NULL;
    }
    return OK;
}

static enum status check_needed(const struct planned_night *night, const char *key,
                                const char *logs, int is_needed, struct fault *fault)
{
    if (!is_needed)
        return OK;
    if (logs == NULL)
        return FAIL(
            fault, BAD_INPUT,
            "plan: %s lacks; write the logs that such a run will have, like map=logs/RUN.csv; "
            "RUN stands for its name",
            key);
    return check_logs(night->input->campaign, key, logs, fault);
}

static enum status find_logs(struct planned_night *night, struct fault *fault)
{
    const struct plan_section *plan = &night->input->campaign->plan;
    night->logs = plan->logs;
    night->zero_logs = plan->zero_logs;
    night->tare_logs = plan->tare_logs != NULL ? plan->tare_logs : plan->zero_logs;
    night->belt_logs = plan->belt_logs != NULL ? plan->belt_logs : night->tare_logs;
    enum status status = check_needed(night, "logs", night->logs, 1, fault);
    if (status == OK)
        status = check_needed(night, "zero_logs", night->zero_logs, night->clock.zero > 0, fault);
    if (status == OK)
        status = check_needed(night, "tare_logs", night->tare_logs, night->clock.weight_sweep > 0,
                              fault);
    if (status == OK)
        status =
            check_needed(night, "belt_logs", night->belt_logs, night->clock.belt_sweep > 0, fault);
    return status;
}

/* What a facility's corrections need, and what nobody asks for there is not made. */
static enum status find_times(struct planned_night *night, struct fault *fault)
{
    const struct plan_section *plan = &night->input->campaign->plan;
    const struct facility *facility = night->facility;
    const struct {
        const char *key;
        int is_needed;
        double declared;
        double *time;
    } parts[] = {
        {"zero", facility->zero != ZERO_NONE, plan->zero, &night->clock.zero},
        {"weight_sweep", facility->weight_tare != TARE_NONE, plan->weight_sweep,
         &night->clock.weight_sweep},
        {"belt_sweep", facility->belt_tare != BELT_TARE_NONE, plan->belt_sweep,
         &night->clock.belt_sweep},
    };
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        *parts[i].time = parts[i].is_needed ? parts[i].declared : 0;
        if (parts[i].is_needed && !(parts[i].declared > 0))
            return FAIL(fault, BAD_INPUT,
                        "the corrections of facility '%.80s' need it, and plan: %s does not say "
                        "how long one takes; write it",
                        facility->name, parts[i].key);
    }
    night->clock.run =
        plan->run > 0 ? plan->run : plan->settle + plan->per_attitude * (double)night->attitudes.n;
    return OK;
}

enum status plan_place(struct planned_night *night, struct fault *fault)
{
    enum status status = find_facility(night, fault);
    if (status == OK)
        status = find_balance(night, fault);
    if (status == OK)
        status = find_times(night, fault);
    return status == OK ? find_logs(night, fault) : status;
}
