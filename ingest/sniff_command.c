/* sniff_command.c - see sniff_command.h. */
#include "ingest/sniff_command.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "ingest/sniff.h"
#include "ingest/sniff_print.h"
#include "schema/file_read.h"
#include "schema/file_write.h"

enum { EXIT_NOT_COMPLETE = 1 };

/* Reads the file, at most SNIFF_BYTES_MAX of it; *cut is 1 when there is more. The caller frees. */
static enum status read_file(const char *path, unsigned char **bytes, size_t *size, int *cut,
                             struct fault *fault)
{
    int descriptor = -1;
    struct file_stamp stamp;
    size_t got = 1;
    *size = 0;
    *bytes = NULL;
    enum status status = file_open_plain(path, path, &descriptor, &stamp, fault);
    if (status != OK)
        return status;
    *cut = stamp.bytes > SNIFF_BYTES_MAX;
    size_t room = *cut ? (size_t)SNIFF_BYTES_MAX : (size_t)stamp.bytes;
    *bytes = malloc(room + 1);
    if (*bytes == NULL)
        status = FAIL(fault, NO_MEMORY, "no memory for %zu bytes of %.200s", room, path);
    while (status == OK && got > 0 && *size < room) {
        status = file_read_some(descriptor, path, *bytes + *size, room - *size, &got, fault);
        *size += got;
    }
    (void)close(descriptor); /* read only: nothing can be lost */
    if (status != OK) {
        free(*bytes);
        *bytes = NULL;
    }
    return status;
}

static enum status look(const char *path, struct sniff **sniff, int *cut, struct fault *fault)
{
    unsigned char *bytes = NULL;
    size_t size = 0;
    *sniff = NULL;
    enum status status = read_file(path, &bytes, &size, cut, fault);
    if (status == OK)
        status = sniff_bytes(bytes, size, sniff, fault);
    free(bytes);
    if (status == BAD_INPUT)
        fault_where(fault, "%s", path);
    return status;
}

static enum status write_text(const char *path, const char *text, size_t size, struct fault *fault)
{
    struct file_writer *writer = NULL;
    struct stat found;
    if (lstat(path, &found) == 0)
        return FAIL(fault, BAD_INPUT,
                    "%.200s is there already and is not overwritten; choose another name, or move "
                    "it away",
                    path);
    enum status status = file_writer_open(path, &writer, fault);
    if (status != OK)
        return status;
    status = file_writer_write(writer, text, size, fault);
    if (status != OK) {
        file_writer_abandon(writer);
        return status;
    }
    return file_writer_commit(writer, fault);
}

static enum status write_map(const struct sniff *sniff, const char *log, const char *path,
                             struct fault *fault)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    if (out == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for a channel map");
    sniff_print_map(sniff, log, out);
    int failed = ferror(out);
    failed = fclose(out) != 0 || failed;
    enum status status = failed ? FAIL(fault, NO_MEMORY, "no memory for a channel map") : OK;
    if (status == OK)
        status = write_text(path, text, size, fault);
    free(text);
    return status;
}

struct request {
    const char *log, *map; /* map NULL: print it */
};

static enum status read_request(int argc, char **argv, struct request *request, struct fault *fault)
{
    *request = (struct request){NULL, NULL};
    for (int i = 1; i < argc; i++) {
        if (strcmp(argv[i], "--write") == 0 && i + 1 < argc)
            request->map = argv[++i];
        else if (argv[i][0] == '-' && argv[i][1] != '\0')
            return FAIL(fault, BAD_INPUT,
                        "sniff has no option '%.100s', or it lacks its value; see "
                        "`lapwing sniff --help`",
                        argv[i]);
        else if (request->log != NULL)
            return FAIL(fault, BAD_INPUT, "sniff looks at one log; '%.100s' is a second one",
                        argv[i]);
        else
            request->log = argv[i];
    }
    if (request->log == NULL)
        return FAIL(fault, BAD_INPUT, "sniff needs a log: `lapwing sniff LOG`");
    return OK;
}

static void print_all(const struct sniff *sniff, const struct request *request, int cut, int quiet)
{
    if (!quiet) {
        sniff_print_guesses(sniff, request->log, stdout);
        if (cut)
            (void)printf("  - the log is longer than %d bytes: the rest was not looked at\n",
                         SNIFF_BYTES_MAX);
        (void)putchar('\n');
    }
    if (request->map == NULL)
        sniff_print_map(sniff, request->log, stdout);
    else if (!quiet)
        (void)printf("the proposed map is in %s\n", request->map);
}

static int run_sniff(const struct common_options *common, int argc, char **argv,
                     struct fault *fault)
{
    struct request request;
    struct sniff *sniff = NULL;
    int cut = 0;
    enum status status = read_request(argc, argv, &request, fault);
    if (status == OK)
        status = look(request.log, &sniff, &cut, fault);
    if (status == OK && request.map != NULL)
        status = write_map(sniff, request.log, request.map, fault);
    if (status == OK)
        print_all(sniff, &request, cut, common->quiet);
    int lacks = status == OK && !sniff_map_is_complete(sniff);
    sniff_free(sniff);
    return lacks ? EXIT_NOT_COMPLETE : fault_exit_code(status);
}

const struct command sniff_command = {
    .name = "sniff",
    .summary = "look at an unknown log, propose a channel map to review",
    .usage =
        "usage: lapwing sniff LOG [--write FILE]\n\n"
        "Looks at a log it knows nothing of: encoding, line ends, delimiter, decimal mark, head,\n"
        "columns, rate and gaps, and what each column may mean. Every guess is shown with its\n"
        "confidence (sure, likely, guess, none) and its reason; what a log cannot tell is asked "
        "in\n"
        "words. Then a channel map for campaign.yaml is printed, to be reviewed line by line and\n"
        "put below channel_maps:. Columns without a role stand in it as comments: without the # "
        "(and\n"
        "with a unit for a ?) their statistics are kept. Nothing is read into the season.\n\n"
        "  --write FILE  write the map to FILE, which must not exist, instead of printing it\n"
        "  --quiet       the map only\n\n"
        "LOG is a path from here, not from the campaign folder. Exit status: 0 a map is proposed;\n"
        "1 one is proposed, but it is NOT COMPLETE: answer the questions that say so, in the map;\n"
        "2 the file cannot be read as a table, or FILE exists; 3 memory or writing failed.\n",
    .run = run_sniff,
};
