/* report_options.c - see report_options.h. */
#include "report/report_options.h"

#include <string.h>

/* An option that takes a word: of the argument after it. */
static enum status read_csv(const char *word, struct report_options *options, struct fault *fault)
{
    if (word == NULL || (strcmp(word, "semicolon") != 0 && strcmp(word, "comma") != 0))
        return FAIL(fault, BAD_INPUT, "--csv takes comma or semicolon%s%.40s%s",
                    word != NULL ? ", not '" : "", word != NULL ? word : "",
                    word != NULL ? "'" : "");
    options->semicolon = strcmp(word, "semicolon") == 0;
    return OK;
}

enum status report_options_check(const struct report_options *options, struct fault *fault)
{
    if (options->key_file != NULL && options->redaction == REDACT_NOTHING)
        return FAIL(fault, BAD_INPUT,
                    "--redact-key explains ids, and names have none without --redact: give both");
    if (options->notes && options->redaction != REDACT_NOTHING)
        return FAIL(fault, BAD_INPUT,
                    "--notes sends out what people wrote and --redact leaves it out; choose");
    return OK;
}

enum status report_options_redact(int argc, char **argv, int *at, struct report_options *options,
                                  int *is_taken, struct fault *fault)
{
    const char *word = argv[*at];
    const char *next = *at + 1 < argc ? argv[*at + 1] : NULL;

    *is_taken = 1;
    if (strcmp(word, "--redact") == 0) {
        int is_deltas = next != NULL && strcmp(next, "deltas-only") == 0;
        options->redaction = is_deltas ? REDACT_LEVELS : REDACT_NAMES;
        *at += is_deltas;
        return OK;
    }
    *is_taken = strcmp(word, "--redact-key") == 0;
    if (!*is_taken)
        return OK;
    if (next == NULL)
        return FAIL(fault, BAD_INPUT, "--redact-key needs a file; see `lapwing report --help`");
    options->key_file = next;
    ++*at;
    return OK;
}

enum status report_options_read(int argc, char **argv, struct report_options *options,
                                struct fault *fault)
{
    enum status status = OK;

    *options = (struct report_options){.redaction = REDACT_NOTHING};
    for (int i = 1; status == OK && i < argc && argv[i] != NULL; i++) {
        const char *next = i + 1 < argc ? argv[i + 1] : NULL;
        int is_taken = 0;
        status = report_options_redact(argc, argv, &i, options, &is_taken, fault);
        if (status != OK)
            return status;
        if (is_taken)
            continue;
        if (strcmp(argv[i], "--json") == 0) {
            options->json = 1;
        } else if (strcmp(argv[i], "--notes") == 0) {
            options->notes = 1;
        } else if (strcmp(argv[i], "--csv") == 0) {
            status = read_csv(next, options, fault);
            i++;
        } else {
            return FAIL(fault, BAD_INPUT,
                        "report has no option '%.80s'; see `lapwing report "
                        "--help`",
                        argv[i]);
        }
    }
    return status == OK ? report_options_check(options, fault) : status;
}
