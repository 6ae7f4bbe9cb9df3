/* record_silence.c - see record_silence.h. */
#include "reduce/record_silence.h"

#include <math.h>

#include "reduce/record_state.h"

enum { SAMPLES_MIN = 10 };

static int is_needed(const struct record_run *run, size_t channel)
{
    return run->has_recipe && record_is_needed(&run->work, run->work.data.channels[channel].role);
}

/* A position may be held by a brake; a load or a pressure, working, never stands still. */
static int moves_by_nature(const struct record_run *run, size_t channel)
{
    return is_needed(run, channel) && !record_is_position(run->work.data.channels[channel].role);
}

/* The atmosphere may stand still for the length of a run; a load or a q does not. */
static int moves_with_the_wind(const struct record_run *run, size_t channel)
{
    enum role role = run->work.data.channels[channel].role;
    return moves_by_nature(run, channel) && role != ROLE_STATIC_PRESSURE &&
           role != ROLE_TOTAL_PRESSURE;
}

/* Without another run: suspect where other loads of this one move; else the log may repeat means. What
 * is 0 throughout is rather not measured than frozen. */
static int is_still_alone(const struct record_run *run, const struct history_run *own,
                          size_t channel)
{
    const struct channel_signature *signature = &own->channels[channel].signature;
    if (!moves_with_the_wind(run, channel) || !(signature->samples >= SAMPLES_MIN) ||
        !(fabs(signature->level) > 0))
        return 0;
    for (size_t other = 0; other < own->n_channels; other++)
        if (other != channel && moves_with_the_wind(run, other) &&
            own->channels[other].signature.constant == 0)
            return 1;
    return 0;
}

struct history_judgement record_silence_judge(const struct record_run *run,
                                              const struct history_run *own, size_t channel,
                                              const struct channel_signature *others, size_t n)
{
    struct history_judgement judgement = {.value = NAN, .usual = NAN, .limit = NAN};
    if (!moves_by_nature(run, channel))
        return judgement;
    struct history_judgement silence =
        channel_silence_judge(&own->channels[channel].signature, others, n);
    if (silence.finding == HISTORY_USUAL || isfinite(silence.usual) ||
        is_still_alone(run, own, channel))
        return silence;
    return judgement;
}

int record_silence_fails(const struct record_run *run, size_t channel,
                         const struct history_judgement *judgement)
{
    return judgement->finding == HISTORY_CONSTANT && isfinite(judgement->usual) &&
           is_needed(run, channel);
}
