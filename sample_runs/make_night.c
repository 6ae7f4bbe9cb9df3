/* make_night.c - makes the logs of one invented night in the tunnel, from a seed.
 *
 * The generator has its own model of car, tunnel and balance and shares no code with the program, so
 * that the program cannot agree with it by sharing a mistake. Same seed and rows, same bytes.       */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "sample_runs/logs.h"
#include "sample_runs/static_files.h"
#include "sample_runs/truth.h"

static const char *const usage =
    "usage: make_night [--seed N] [--rows N] [--tap-rows N] [--out DIR] [--copy] [--from DIR]\n"
    "                  [--static]\n"
    "  --seed N      another night of the same kind (1)\n"
    "  --rows N      force rows of a point, 50 a second, 2 to 2000 (200)\n"
    "  --tap-rows N  tap rows of a point, 10 a second, 2 to 400 (40)\n"
    "  --out DIR     campaign folder to write logs/ and truth/ into (sample_runs/night)\n"
    "  --copy        also copy campaign.yaml and the tables beside it into DIR\n"
    "  --from DIR    where they are copied from (sample_runs/night)\n"
    "  --static      write only runs.csv, taps.csv and balance/underfloor.csv into DIR\n";

struct options {
    uint64_t seed;
    int rows, tap_rows;
    const char *out, *from;
    int copy, only_static;
};

/* A whole number from low to high; gives 0 when text is not one. */
static int read_whole(const char *text, unsigned long long low, unsigned long long high,
                      unsigned long long *value)
{
    char *end = NULL;

    errno = 0;
    *value = strtoull(text, &end, 10);
    return errno == 0 && *text >= '0' && *text <= '9' && *end == '\0' && *value >= low &&
           *value <= high;
}

/* Takes the option with a value; gives 0 when there is none of that name or the value is wrong. */
static int take_value(struct options *options, const char *name, const char *text)
{
    unsigned long long whole = 0;

    if (strcmp(name, "--out") == 0) {
        options->out = text;
        return 1;
    }
    if (strcmp(name, "--from") == 0) {
        options->from = text;
        return 1;
    }
    if (strcmp(name, "--seed") == 0 && read_whole(text, 0, UINT64_MAX, &whole)) {
        options->seed = whole;
        return 1;
    }
    if (strcmp(name, "--rows") == 0 && read_whole(text, 2, 2000, &whole)) {
        options->rows = (int)whole;
        return 1;
    }
    if (strcmp(name, "--tap-rows") == 0 && read_whole(text, 2, 400, &whole)) {
        options->tap_rows = (int)whole;
        return 1;
    }
    return 0;
}

static int read_options(int argc, char **argv, struct options *options)
{
    for (int i = 1; i < argc; i++) {
        if (strcmp(argv[i], "--copy") == 0)
            options->copy = 1;
        else if (strcmp(argv[i], "--static") == 0)
            options->only_static = 1;
        else if (i + 1 < argc && take_value(options, argv[i], argv[i + 1]))
            i++;
        else
            return 0;
    }
    return 1;
}

static int write_night(const struct options *options)
{
    struct model model = model_make(options->seed, options->rows, options->tap_rows);

    if (!static_files_folder(options->out, "logs") || !static_files_folder(options->out, "truth"))
        return 0;
    if (options->copy && !static_files_copy(options->from, options->out))
        return 0;
    for (int run = 0; run < RUNS; run++)
        if (!logs_write_forces(&model, options->out, run) ||
            !logs_write_taps(&model, options->out, run))
            return 0;
    return logs_write_wind_off(&model, options->out) && truth_write(&model, options->out);
}

int main(int argc, char **argv)
{
    struct options options = {1, 200, 40, "sample_runs/night", "sample_runs/night", 0, 0};

    if (!read_options(argc, argv, &options)) {
        (void)fputs(usage, stderr);
        return 2;
    }
    if (mkdir(options.out, 0777) != 0 && errno != EEXIST) {
        (void)fprintf(stderr, "make_night: cannot make %s: %s\n", options.out, strerror(errno));
        return 3;
    }
    int good = options.only_static ? static_files_write(options.out) : write_night(&options);
    return good ? 0 : 3;
}
