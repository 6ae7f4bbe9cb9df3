/* command.h - what a sub-command is, and the options that all of them share.
 *
 * Each room owns its commands, one file each; lapwing.c lists them in one table. A command parses
 * its own options, does its work, and returns an exit status: 0 all done, 1 done but some runs were
 * quarantined, 2 the request or the campaign is wrong, 3 storage, memory or internal failure.       */
#ifndef LAPWING_COMMAND_H
#define LAPWING_COMMAND_H

#include "schema/fault.h"

struct common_options {
    const char *folder; /* the campaign folder, -C DIR; "." by default */
    int quiet;          /* --quiet: only faults are printed */
    int threads;        /* --threads N; 0 means as many as the machine has, at least two */
    long long now_ns;   /* the clock when the program began, ns since 1970; 0: not known */
};

struct command {
    const char *name;
    const char *summary; /* one line, shown by `lapwing help` */
    const char *usage;   /* full text, shown by `lapwing COMMAND --help` */
    /* argv[0] is the command's name. On failure fills *fault and gives fault_exit_code(). */
    int (*run)(const struct common_options *common, int argc, char **argv, struct fault *fault);
};

#endif
