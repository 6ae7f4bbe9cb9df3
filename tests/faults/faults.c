/* faults.c - see faults.h. */
#include "tests/faults/faults.h"

#include <stdio.h>
#include <string.h>

#include "tests/faults/fault_draw.h"
#include "tests/faults/fault_spoil.h"

int fault_take_log(struct injection *made, const char *path, const char *kind,
                   struct fault_log *log)
{
    char clean[FAULT_PATH + 8];
    int is_taps = strcmp(kind, "taps") == 0;
    if (!fault_log_read(path, is_taps ? ';' : ',', is_taps ? 1 : 2, log))
        return 0;
    (void)snprintf(clean, sizeof clean, "%s.clean", path);
    if (rename(path, clean) != 0)
        return 0;
    (void)snprintf(made->files[made->n_files++], FAULT_PATH, "%s", path);
    return 1;
}

static const struct {
    const char *name, *definition;
    spoil *spoil;
} classes[] = {
    [FAULT_STUCK] = {"stuck", "one value held for 0.5 s to a whole point, at one point",
                     spoil_stuck},
    [FAULT_SPIKES] = {"spikes",
                      "0.5 % of a point's samples, one at the least, 8 to 12 sd from its mean",
                      spoil_spikes},
    [FAULT_CLIPPING] = {"clipping",
                        "one ceiling or floor through the run that cuts 1 to 5 % of its samples; "
                        "where that leaves "
                        "90 % of a point or more at one value, 'stuck' and 'noise' are right too",
                        spoil_clipping},
    [FAULT_LAG] = {"lag",
                   "half: first-order lag, time constant 0.5 to 2 s, any channel; half: 0.5 to 1.5 "
                   "s late, on channels that the wind moves, in gusts",
                   spoil_lag},
    [FAULT_DRIFT] = {"drift",
                     "the zero after the run is off by 0.5 to 1 smallest worthwhile delta of CD or "
                     "CL, linear in time",
                     spoil_drift},
    [FAULT_SWAPPED] = {"swapped",
                       "two columns of a log in each other's place: outputs, heights, "
                       "taps, or any two of the force log",
                       spoil_swapped},
    [FAULT_UNIT] = {"unit", "a column, or all taps, in another unit of the trade", spoil_unit},
    [FAULT_GUSTS] = {"gusts", "one gust of 2 to 4 % of q in every point, and nothing wrong",
                     spoil_gusts},
};

const char *fault_name(enum fault_class fault)
{
    return classes[fault].name;
}

const char *fault_definition(enum fault_class fault)
{
    return classes[fault].definition;
}

static void draw_channels(enum fault_class fault, struct injection *made, uint64_t *state)
{
    if (fault == FAULT_SWAPPED) {
        draw_pair(made->channels[0], made->channels[1], state);
    } else if (fault == FAULT_LAG && draw_index(2, state)) {
        draw_windy_channel(made->channels[0], state);
        (void)snprintf(made->about, sizeof made->about, "delay");
    } else if (fault == FAULT_DRIFT || fault == FAULT_GUSTS) {
        made->channels[0][0] = '\0';
    } else {
        draw_channel(made->channels[0], state);
    }
}

static int is_taken(const struct injection *made, const struct injection *taken, int n)
{
    for (int i = 0; i < n; i++)
        for (int a = 0; a < 2; a++)
            for (int b = 0; b < 2; b++)
                if (made->channels[a][0] != '\0' &&
                    strcmp(made->channels[a], taken[i].channels[b]) == 0)
                    return 1;
    return 0;
}

int fault_inject(const struct fault_season *season, enum fault_class fault, int run,
                 const struct injection *taken, int n, uint64_t *state, struct injection *made)
{
    char path[FAULT_PATH];
    struct fault_log log = {0};
    do {
        *made = (struct injection){.fault = fault, .run = run};
        draw_channels(fault, made, state);
    } while (is_taken(made, taken, n));
    const char *kind = is_tap_name(made->channels[0]) ? "taps" : "forces";
    struct injecting work = {season, state, &log, made};
    fault_season_log(season, run, kind, path);
    int good = fault_take_log(made, path, kind, &log) && classes[fault].spoil(&work) &&
               fault_log_write(&log, path);
    fault_log_end(&log);
    return good;
}

int fault_undo(const struct injection *made)
{
    char clean[FAULT_PATH + 8];
    int good = 1;
    for (int i = 0; i < made->n_files; i++) {
        (void)snprintf(clean, sizeof clean, "%s.clean", made->files[i]);
        good = rename(clean, made->files[i]) == 0 && good;
    }
    return good;
}
