/* record_words.c - see record_words.h. */
#include "reduce/record_words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static int is_plain(const char *unit)
{
    return strcmp(unit, "1") == 0;
}

const char *record_unit_gap(const char *unit)
{
    return is_plain(unit) ? "" : " ";
}

const char *record_unit_word(const char *unit)
{
    return is_plain(unit) ? "" : unit;
}

static void say_noise(const struct channel_row *channel, const struct history_judgement *judgement,
                      char *text, size_t size)
{
    (void)snprintf(
        text, size,
        "'%.40s' has a standard deviation of %.3g%s%s within its points, usually %.3g: %.2g "
        "times as much, bound %.2g times",
        channel->column, judgement->value, record_unit_gap(channel->unit),
        record_unit_word(channel->unit), judgement->usual, judgement->value / judgement->usual,
        judgement->limit / judgement->usual);
}

static void say_constant(const struct channel_row *channel,
                         const struct history_judgement *judgement, char *text, size_t size)
{
    if (isnan(judgement->usual)) {
        (void)snprintf(
            text, size,
            "'%.40s' has one value through every point, while others of the run move; no "
            "other run tells whether it does, so that its points are compared",
            channel->column);
        return;
    }
    (void)snprintf(text, size,
                   "'%.40s' has one value through every point; in the other runs its standard "
                   "deviation is %.3g%s%s",
                   channel->column, judgement->usual, record_unit_gap(channel->unit),
                   record_unit_word(channel->unit));
}

static void say_slow(const struct channel_row *channel, const struct history_judgement *judgement,
                     char *text, size_t size)
{
    if (isnan(judgement->value))
        (void)snprintf(
            text, size,
            "'%.40s' is so slow that its independent samples cannot be told; usually one in "
            "%.3g is, and it moves more",
            channel->column, judgement->usual);
    else
        (void)snprintf(
            text, size,
            "of '%.40s' one sample in %.3g is independent, usually one in %.3g, and it moves "
            "less; bound one in %.3g",
            channel->column, judgement->value, judgement->usual, judgement->limit);
}

/* "'hF' has a level of 0.762 m, usually 0.03: as if mm were read as inch (factor 25.4)" */
static void say_unit(const struct channel_row *channel, const struct history_judgement *judgement,
                     char *text, size_t size)
{
    static const char *const evidence[] = {[UNIT_BY_LEVEL] = "level",
                                           [UNIT_BY_RANGE] = "range",
                                           [UNIT_BY_NOISE] = "standard deviation"};
    struct unit_slip slip =
        unit_slip_as_declared(channel->unit, &judgement->slip, channel->written_unit);
    int length =
        snprintf(text, size, "'%.40s' has a %s of %.4g %s, usually %.4g: ", channel->column,
                 evidence[judgement->told_by], judgement->value, channel->unit, judgement->usual);
    if (length < 0 || (size_t)length >= size)
        return;
    text += length;
    size -= (size_t)length;
    if (slip.written == NULL)
        (void)snprintf(text, size, "as if its sign were turned round (factor -1)");
    else if (slip.offset == 0)
        (void)snprintf(text, size, "as if %s were read as %s (factor %.6g)", slip.written,
                       slip.read_as, slip.factor);
    else
        (void)snprintf(text, size, "as if %s were read as %s (factor %.6g and %+.6g %s)",
                       slip.written, slip.read_as, slip.factor, slip.offset, channel->unit);
}

static void say_level(const struct channel_row *channel, const struct history_judgement *judgement,
                      char *text, size_t size)
{
    (void)snprintf(text, size, "'%.40s' is at %.6g %s, usually at %.6g, bound %.6g",
                   channel->column, judgement->value, channel->unit, judgement->usual,
                   judgement->limit);
}

void record_say_history(const struct channel_row *channel,
                        const struct history_judgement *judgement, char *text, size_t size)
{
    static void (*const say[HISTORY_FINDINGS])(const struct channel_row *,
                                               const struct history_judgement *, char *, size_t) = {
        [HISTORY_NOISY] = say_noise, [HISTORY_QUIET] = say_noise, [HISTORY_CONSTANT] = say_constant,
        [HISTORY_SLOW] = say_slow,   [HISTORY_UNIT] = say_unit,   [HISTORY_LEVEL] = say_level,
    };
    text[0] = '\0';
    if (say[judgement->finding] != NULL)
        say[judgement->finding](channel, judgement, text, size);
}
