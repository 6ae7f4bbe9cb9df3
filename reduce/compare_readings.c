/* compare_readings.c - see compare_readings.h. */
#include "reduce/compare_readings.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/compare_print.h"
#include "reduce/rows.h"
#include "schema/number.h"

enum { WORDS = 1200, NUMBER = 64 };

enum {
    CONFIGURATION,
    BASELINE,
    QUANTITY,
    TARGET,
    DELTA,
    LOWER,
    UPPER,
    FREEDOM,
    METHOD,
    NOISE,
    BESIDE,
    BESIDE_STANDARD,
    DISAGREES,
    PAIRS,
    SHRUNK,
    STABILITY,
    SAME,
    VARIANTS
};

static const char readings_sql[] =
    "SELECT a.configuration, a.baseline, a.quantity, a.target, a.delta, a.lower, a.upper, "
    "a.degrees_of_freedom, a.method, a.noise_source, a.beside_delta, "
    "a.beside_standard_uncertainty, a.disagrees, a.pairs_needed, a.shrunk, s.stability, "
    "s.same, s.variants FROM asked_delta AS a LEFT JOIN asked_stability AS s ON "
    "a.is_pair = 0 AND s.configuration = a.configuration AND s.baseline = a.baseline AND "
    "s.facility = a.facility AND s.entry = a.entry AND s.quantity = a.quantity AND s.target = "
    "a.target WHERE a.facility = ?1 AND a.entry = ?2 AND a.lower IS NOT NULL AND a.is_main ORDER "
    "BY a.rowid";

/* Text of a growing sentence; cut where there is no room, which the sizes above keep from happening. */
struct sentence {
    char words[WORDS];
    size_t used;
};

static void add(struct sentence *sentence, const char *text)
{
    size_t room = sizeof sentence->words - sentence->used;
    int length = snprintf(sentence->words + sentence->used, room, "%s", text);
    sentence->used += length > 0 && (size_t)length < room ? (size_t)length : 0;
}

static const char *text_of(struct statement *row, int column)
{
    const char *text = statement_text(row, column);
    return text == NULL ? "" : text;
}

static void add_number(struct sentence *sentence, struct statement *row, int column, int with_sign)
{
    char number[NUMBER];
    compare_print_number(text_of(row, QUANTITY), statement_real(row, column), with_sign, number,
                         sizeof number);
    add(sentence, number);
}

static void add_interval(struct sentence *sentence, struct statement *row)
{
    char freedom[NUMBER];
    add(sentence, "from ");
    add_number(sentence, row, LOWER, 1);
    add(sentence, " to ");
    add_number(sentence, row, UPPER, 1);
    if (text_of(row, METHOD)[0] != '\0') {
        add(sentence, " by ");
        add(sentence, text_of(row, METHOD));
    }
    if (text_of(row, NOISE)[0] != '\0') {
        add(sentence, ", noise of ");
        add(sentence, strcmp(text_of(row, NOISE), "season") == 0 ? "the season" : "this entry");
    }
    (void)number_print_fixed(statement_real(row, FREEDOM), 1, freedom, sizeof freedom);
    add(sentence, isfinite(statement_real(row, FREEDOM)) ? ", " : "");
    add(sentence, isfinite(statement_real(row, FREEDOM)) ? freedom : "");
    add(sentence, isfinite(statement_real(row, FREEDOM)) ? " degrees of freedom" : "");
}

static void add_beside(struct sentence *sentence, struct statement *row)
{
    if (statement_is_null(row, BESIDE))
        return;
    add(sentence, strcmp(text_of(row, METHOD), "whole night") == 0 ? "; by local brackets "
                                                                   : "; by the whole night ");
    add_number(sentence, row, BESIDE, 1);
    if (!statement_is_null(row, BESIDE_STANDARD)) {
        add(sentence, ", standard uncertainty ");
        add_number(sentence, row, BESIDE_STANDARD, 0);
    }
    if (statement_integer(row, DISAGREES))
        add(sentence, ": they DISAGREE by more than two combined standard errors");
}

static void add_rest(struct sentence *sentence, struct statement *row)
{
    char number[NUMBER];
    if (!statement_is_null(row, SHRUNK)) {
        add(sentence, "; expect ");
        add_number(sentence, row, SHRUNK, 1);
        add(sentence, " of these ");
        add_number(sentence, row, DELTA, 1);
    }
    if (!statement_is_null(row, PAIRS)) {
        long long pairs = statement_integer(row, PAIRS);
        (void)snprintf(number, sizeof number, "; %lld more pair%s would find a worthwhile change",
                       pairs, pairs == 1 ? "" : "s");
        add(sentence, number);
    }
    if (text_of(row, STABILITY)[0] != '\0') {
        (void)snprintf(number, sizeof number, " (the same in %lld of %lld variants)",
                       (long long)statement_integer(row, SAME),
                       (long long)statement_integer(row, VARIANTS));
        add(sentence, "; ");
        add(sentence, text_of(row, STABILITY));
        add(sentence, number);
    }
}

static void say_reading(struct statement *row, struct key_text *text)
{
    struct sentence sentence = {"", 0};
    key_text_say(text, "  %s against %s %s, %s\n", text_of(row, CONFIGURATION),
                 text_of(row, BASELINE), text_of(row, QUANTITY), text_of(row, TARGET));
    add_interval(&sentence, row);
    add_beside(&sentence, row);
    add_rest(&sentence, row);
    compare_print_wrapped(text, 4, sentence.words);
}

enum status compare_say_readings(struct store *store, const struct season_entry *entry,
                                 struct key_text *text, struct fault *fault)
{
    const char *const texts[] = {entry->facility, entry->entry};
    struct statement *row = NULL;
    size_t n = 0;
    int more = 0;
    enum status status = rows_open(store, readings_sql, texts, 2, &row, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more) {
        if (n++ == 0)
            key_text_say(text, "\nhow they were found:\n");
        say_reading(row, text);
    }
    statement_free(row);
    return status;
}

static const char count_sql[] =
    "SELECT sum(is_main AND lower IS NOT NULL), sum(NOT is_main AND lower IS NOT NULL), "
    "(SELECT value FROM asked WHERE name = 'confidence') FROM asked_delta";

enum status compare_say_count(struct store *store, struct key_text *text, struct fault *fault)
{
    struct statement *row = NULL;
    char line[400];
    int more = 0;
    enum status status = rows_open(store, count_sql, NULL, 0, &row, fault);
    if (status == OK)
        status = statement_step(row, &more, fault);
    double confidence = status == OK && more ? statement_real(row, 2) : (double)NAN;
    long long judged = isfinite(confidence) ? statement_integer(row, 0) : 0;
    long long looked = isfinite(confidence) ? statement_integer(row, 1) : 0;
    statement_free(row);
    if (judged + looked == 0)
        return status;
    key_text_say(text, "\n");
    if (judged > 0) {
        (void)snprintf(
            line, sizeof line,
            "%lld judged: the intervals of a family hold together, so that where nothing "
            "changed any gain or loss among them comes in %.3g %% of nights at most.",
            judged, 100 * (1 - confidence));
        compare_print_wrapped(text, 0, line);
    }
    if (looked > 0) {
        (void)snprintf(line, sizeof line,
                       "%lld exploratory: each interval stands alone; where nothing changed, about "
                       "%.2g of them (%lld times %.3g %%) would leave out 0 by chance.",
                       looked, (double)looked * (1 - confidence), looked, 100 * (1 - confidence));
        compare_print_wrapped(text, 0, line);
    }
    return status;
}
