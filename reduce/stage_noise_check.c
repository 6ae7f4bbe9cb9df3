/* stage_noise_check.c - tonight's scatter beside the season's; see stage_noise_check.h. */
#include "reduce/stage_noise_check.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/flagging.h"
#include "reduce/reductions.h"
#include "reduce/repeatability.h"
#include "reduce/rows.h"
#include "reduce/statistics/variance_ratio.h"

static const char method_version[] = "F test of each level, both ways v1";
static const double CHANCE = 0.005; /* beyond the limit, on either side */
static const double LEAST_FREEDOM = 3;

struct noise_check {
    const struct night *night;
    const struct run_group *group;
    const char *quantity, *target; /* NULL: the campaign declares none */
    struct variance_estimate tonight[VARIANCE_LEVELS];
    struct repeatability season;
};

static void choose_measure(const struct campaign *campaign, struct noise_check *check)
{
    const struct metric *metric =
        campaign->main_metric == NULL ? NULL : campaign_metric(campaign, campaign->main_metric);
    check->quantity = NULL;
    check->target = NULL;
    if (metric != NULL && campaign->main_attitude != NULL) {
        check->quantity = metric->quantity;
        check->target = campaign->main_attitude;
    } else if (campaign->n_metrics > 0 && campaign->attitudes.n_targets > 0) {
        check->quantity = campaign->metrics[0].quantity;
        check->target = campaign->attitudes.targets[0].name;
    }
}

static enum status read_tonight(struct noise_check *check, struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    enum status status = rows_open(
        check->night->store,
        "SELECT r.level, r.variance, r.degrees_of_freedom FROM reduction AS d JOIN repeatability "
        "AS r ON r.reduction = d.reduction AND r.quantity = ?2 AND r.target = ?3 "
        "WHERE d.stage = 'repeatability' AND d.subject = ?1 AND d.is_current = 1",
        (const char *const[]){check->group->subject, check->quantity, check->target}, 3, &statement,
        fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        const char *words = statement_text(statement, 0);
        for (unsigned i = 0; words != NULL && i < VARIANCE_LEVELS; i++)
            if (strcmp(words, variance_level_words((enum variance_level)i)) == 0)
                check->tonight[i] = (struct variance_estimate){statement_real(statement, 1),
                                                               statement_real(statement, 2)};
    }
    statement_free(statement);
    return status;
}

static enum status read_both(struct noise_check *check, struct fault *fault)
{
    const struct run_row *run = check->group->runs[0];
    if (check->quantity == NULL)
        return OK;
    enum status status = read_tonight(check, fault);
    if (status == OK)
        status =
            repeatability_read(check->night->store, run->facility, check->quantity, check->target,
                               repeatability_entry_start(check->night, run), &check->season, fault);
    return status;
}

static enum status make_key(const struct noise_check *check, struct key_text *key,
                            struct fault *fault)
{
    memset(key, 0, sizeof *key);
    key_text_word(key, "quantity", check->quantity == NULL ? "" : check->quantity);
    key_text_word(key, "target", check->target == NULL ? "" : check->target);
    enum status status =
        reduction_key_add(check->night->store, "repeatability", check->group->subject, key, fault);
    for (unsigned i = 0; check->quantity != NULL && i < VARIANCE_NEW_ENTRY; i++) {
        const double values[] = {check->season.level[i].variance, check->season.level[i].freedom,
                                 (double)check->season.level_entries[i],
                                 (double)check->season.declared[i]};
        key_text_word(key, "season's", variance_level_words((enum variance_level)i));
        key_text_numbers(key, "  variance, degrees of freedom, entries, declared", values, 4);
    }
    key_text_word(key, "method noise check", method_version);
    return status == OK ? key_text_status(key, fault) : status;
}

/* "3 earlier entries and a declared figure" */
static void say_source(const struct repeatability *season, unsigned level, char *text, size_t size)
{
    size_t entries = season->level_entries[level];
    char earlier[48] = "";
    if (entries > 0)
        (void)snprintf(earlier, sizeof earlier, "%zu earlier entr%s", entries,
                       entries == 1 ? "y" : "ies");
    (void)snprintf(text, size, "%s%s%s", earlier,
                   entries > 0 && season->declared[level] ? " and " : "",
                   season->declared[level] ? "a declared figure" : "");
}

static enum status flag_level(const struct noise_check *check, struct flagger *flagger,
                              unsigned level, struct fault *fault)
{
    struct variance_estimate tonight = check->tonight[level];
    struct variance_estimate season = check->season.level[level];
    char source[100];
    if (!(tonight.freedom >= LEAST_FREEDOM && season.freedom >= LEAST_FREEDOM))
        return OK;
    struct variance_ratio test = variance_ratio(tonight, season, CHANCE);
    if (!test.is_unlike)
        return OK;
    struct flag_note note = flag_note_make(FLAG_NOISE_UNLIKE_SEASON, "", "", check->group->name);
    note.value = sqrt(test.ratio);
    note.limit = sqrt(test.ratio > test.upper ? test.upper : test.lower);
    note.unit = "1";
    say_source(&check->season, level, source, sizeof source);
    (void)snprintf(
        note.detail, sizeof note.detail,
        "%s at %.80s, %s: tonight's scatter %.3g (%.1f degrees of freedom) is %.2g times "
        "the season's %.3g (%.1f degrees, %s); of equal ones it is beyond %.2g in %g %% of "
        "nights",
        check->quantity, check->target, variance_level_words((enum variance_level)level),
        sqrt(tonight.variance), tonight.freedom, note.value, sqrt(season.variance), season.freedom,
        source, note.limit, 100 * CHANCE);
    return flagger_write(flagger, &note, fault);
}

static enum status flag_levels(const struct noise_check *check, int64_t reduction,
                               struct fault *fault)
{
    struct flagger flagger;
    enum status status = flagger_open(check->night->store, reduction, &flagger, fault);
    if (status != OK)
        return status;
    for (unsigned i = 0; status == OK && i < VARIANCE_NEW_ENTRY; i++)
        status = flag_level(check, &flagger, i, fault);
    flagger_end(&flagger);
    return status;
}

enum status stage_noise_check(const struct night *night, const struct run_group *group, int *fresh,
                              struct fault *fault)
{
    struct key_text key;
    int64_t reduction = 0;
    struct noise_check check;
    memset(&check, 0, sizeof check);
    check.night = night;
    check.group = group;
    *fresh = 0;
    choose_measure(night->campaign, &check);
    enum status status = read_both(&check, fault);
    if (status != OK)
        return status;
    status = make_key(&check, &key, fault);
    if (status == OK)
        status = store_reduction(night->store, "noise_check", group->subject, key.text, &reduction,
                                 fresh, fault);
    key_text_end(&key);
    if (status != OK || !*fresh)
        return status;
    return flag_levels(&check, reduction, fault);
}
