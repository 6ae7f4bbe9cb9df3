/* fault_tally.c - see fault_tally.h. */
#include "tests/faults/fault_tally.h"

#include <gsl/gsl_cdf.h>
#include <stdio.h>
#include <string.h>

static const double detection_least = 0.99;
static const double false_alarms_most = 0.005;
static const double contradiction = 1e-4;

static const char *const column_names[FAULT_COLUMNS] = {"stuck", "spikes", "clipped", "lag",
                                                        "drift", "swap",   "unit",    "noise",
                                                        "level", "trend",  "other"};

/* Spoilt by the demo itself: the zero after R09, and a tap that is off. */
static const char drifting_run[] = "R09";
static const char frozen_tap[] = "T047";

static enum fault_column column_of(enum flag_rule rule)
{
    static const struct {
        enum flag_rule rule;
        enum fault_column column;
    } rules[] = {
        {FLAG_STUCK, COLUMN_STUCK},
        {FLAG_CONSTANT, COLUMN_STUCK},
        {FLAG_TAP_FROZEN, COLUMN_STUCK},
        {FLAG_SPIKES, COLUMN_SPIKES},
        {FLAG_CLIPPED, COLUMN_CLIPPED},
        {FLAG_SLOW_RESPONSE, COLUMN_LAG},
        {FLAG_LATE_CHANNEL, COLUMN_LAG},
        {FLAG_ZERO_DRIFT, COLUMN_DRIFT},
        {FLAG_CHANNELS_SWAPPED, COLUMN_SWAPPED},
        {FLAG_UNIT_SUSPECTED, COLUMN_UNIT},
        {FLAG_NOISE_UNUSUAL, COLUMN_NOISE},
        {FLAG_LEVEL_UNUSUAL, COLUMN_LEVEL},
        {FLAG_RUN_DIFFERS, COLUMN_LEVEL},
        {FLAG_TREND, COLUMN_TREND},
        {FLAG_Q_TREND, COLUMN_TREND},
    };
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++)
        if (rules[i].rule == rule)
            return rules[i].column;
    return COLUMN_OTHER;
}

static int is_same(const struct raised *a, const struct raised *b)
{
    return strcmp(a->run, b->run) == 0 && strcmp(a->subject, b->subject) == 0;
}

static int is_of_demo(const struct raised *flag)
{
    return (flag->rule == FLAG_ZERO_DRIFT && strcmp(flag->run, drifting_run) == 0) ||
           strcmp(flag->subject, frozen_tap) == 0;
}

void tally_clean(struct fault_tally *tally, const struct fault_season *season,
                 const struct raised_list *flags)
{
    const struct raised *last = NULL;
    tally->clean_records += (unsigned)fault_season_number(
        season, "SELECT count(*) FROM channel WHERE tap IS NOT 'T047'");
    tally->clean_runs += FAULT_RUNS - 1;
    for (size_t i = 0; i < flags->n; i++) {
        const struct raised *flag = &flags->flags[i];
        enum fault_column column = column_of(flag->rule);
        if (column == COLUMN_OTHER || is_of_demo(flag))
            continue;
        tally->clean[column]++;
        if (column == COLUMN_DRIFT || column == COLUMN_TREND)
            continue;
        tally->clean_any += last == NULL || !is_same(last, flag);
        last = flag;
    }
}

static int is_known(const struct raised *flag, const struct raised_list *clean)
{
    for (size_t i = 0; i < clean->n; i++)
        if (clean->flags[i].rule == flag->rule && is_same(&clean->flags[i], flag))
            return 1;
    return 0;
}

/* Whether a flag speaks of what was spoilt; both names of a pair stand in the subject of a swap. */
static int is_about(const struct raised *flag, const struct injection *made)
{
    if (made->fault == FAULT_DRIFT)
        return 1;
    if (made->fault != FAULT_SWAPPED)
        return strcmp(flag->subject, made->channels[0]) == 0;
    return strstr(flag->subject, made->channels[0]) != NULL &&
           strstr(flag->subject, made->channels[1]) != NULL;
}

static int is_right_column(enum fault_column column, const struct injection *made)
{
    return (int)column == (int)made->fault ||
           (made->is_held && (column == COLUMN_STUCK || column == COLUMN_NOISE));
}

static void tell_injection(const struct injection *made, const char *how)
{
    (void)fprintf(stderr, "faults: %s, run R%02d, %s %s, %s: %s\n", fault_name(made->fault),
                  made->run + 1, made->channels[0], made->channels[1], made->about,
                  how[0] == '\0' ? "missed" : how);
}

void tally_injection(struct fault_tally *tally, const struct injection *made,
                     const struct raised_list *clean, const struct raised_list *flags, int tell)
{
    char how[400] = "";
    int seen[FAULT_COLUMNS] = {0};
    int is_right = 0;
    int is_seen = 0;
    char run[16];
    (void)snprintf(run, sizeof run, "R%02d", made->run + 1);
    for (size_t i = 0; i < flags->n; i++) {
        const struct raised *flag = &flags->flags[i];
        enum fault_column column = column_of(flag->rule);
        if (strcmp(flag->run, run) != 0 || is_known(flag, clean))
            continue;
        size_t used = strlen(how);
        (void)snprintf(how + used, sizeof how - used, " %s(%s)", flag_row(flag->rule)->code,
                       flag->subject);
        seen[column] = 1;
        is_seen = 1;
        is_right |= is_right_column(column, made) && is_about(flag, made);
    }
    tally->injected[made->fault]++;
    for (int c = 0; c < FAULT_COLUMNS; c++)
        tally->raised[made->fault][c] += (unsigned)seen[c];
    if (made->fault == FAULT_GUSTS)
        return;
    tally->right[made->fault] += (unsigned)is_right;
    tally->another[made->fault] += (unsigned)(!is_right && is_seen);
    tally->missed[made->fault] += (unsigned)!is_seen;
    if (tell && !is_right)
        tell_injection(made, how);
}

static void print_head(void)
{
    (void)printf("%-10s %8s", "injected", "n");
    for (int c = 0; c < FAULT_COLUMNS; c++)
        (void)printf(" %7s", column_names[c]);
    (void)printf(" | %6s %7s %6s %9s\n", "right", "another", "missed", "detected");
}

static void print_row(const struct fault_tally *tally, int row)
{
    (void)printf("%-10s %8u", fault_name((enum fault_class)row), tally->injected[row]);
    for (int c = 0; c < FAULT_COLUMNS; c++)
        (void)printf(" %7u", tally->raised[row][c]);
    if (row < FAULT_CLASSES && tally->injected[row] > 0)
        (void)printf(" | %6u %7u %6u %7.2f %%", tally->right[row], tally->another[row],
                     tally->missed[row], 100.0 * tally->right[row] / tally->injected[row]);
    (void)printf("\n");
}

void tally_print(const struct fault_tally *tally)
{
    (void)printf("\nFaults put into clean logs, and the flags they raised that the clean log does "
                 "not\n(one injection may raise several; right: the flag of its own column, about "
                 "its own channel)\n\n");
    print_head();
    for (int row = 0; row < FAULT_ROWS; row++)
        print_row(tally, row);
    (void)printf("%-10s %8u", "clean", tally->clean_records);
    for (int c = 0; c < FAULT_COLUMNS; c++)
        (void)printf(" %7u", tally->clean[c]);
    (void)printf(
        "\n\nfalse alarms: %u of %u clean records (a channel in a run), %.3f %%; drift and "
        "trend: %u and %u of %u clean runs\n\n",
        tally->clean_any, tally->clean_records,
        100.0 * tally->clean_any / (tally->clean_records > 0 ? tally->clean_records : 1),
        tally->clean[COLUMN_DRIFT], tally->clean[COLUMN_TREND], tally->clean_runs);
    for (int row = 0; row < FAULT_ROWS; row++)
        (void)printf("%-10s %s\n", fault_name((enum fault_class)row),
                     fault_definition((enum fault_class)row));
}

static int is_contradicted(unsigned alarms, unsigned n)
{
    return alarms > 0 && gsl_cdf_binomial_Q(alarms - 1, false_alarms_most, n) < contradiction;
}

int tally_is_good(const struct fault_tally *tally)
{
    int good = tally->clean_records > 0 &&
               !is_contradicted(tally->clean_any, tally->clean_records) &&
               !is_contradicted(tally->clean[COLUMN_DRIFT], tally->clean_runs) &&
               !is_contradicted(tally->clean[COLUMN_TREND], tally->clean_runs);
    for (int i = 0; i < FAULT_CLASSES; i++)
        good = good && tally->injected[i] > 0 &&
               gsl_cdf_binomial_P(tally->right[i], detection_least, tally->injected[i]) >=
                   contradiction;
    return good;
}
