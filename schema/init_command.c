/* init_command.c - writing the scaffold; see init_command.h. */
#include "schema/init_command.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "schema/file_write.h"
#include "schema/init_scaffold.h"

static const char *const folders[] = {"", "balance", "logs"};

static char *join(const char *folder, const char *name, struct fault *fault)
{
    size_t size = strlen(folder) + strlen(name) + 2;
    char *path = malloc(size);
    if (path == NULL) {
        (void)FAIL(fault, NO_MEMORY, "no memory for a file name in %s", folder);
        return NULL;
    }
    (void)snprintf(path, size, "%s%s%s", folder, name[0] != '\0' ? "/" : "", name);
    return path;
}

static enum status check_absent(const char *folder, const char *name, struct fault *fault)
{
    struct stat found;
    char *path = join(folder, name, fault);
    if (path == NULL)
        return NO_MEMORY;
    enum status status = OK;
    if (lstat(path, &found) == 0)
        status = FAIL(fault, BAD_INPUT,
                      "%s is there already and is not overwritten; choose another folder, or move "
                      "it away",
                      path);
    free(path);
    return status;
}

static enum status make_folder(const char *folder, const char *name, struct fault *fault)
{
    struct stat found;
    char *path = join(folder, name, fault);
    if (path == NULL)
        return NO_MEMORY;
    enum status status = OK;
    if (mkdir(path, 0777) != 0 && errno != EEXIST)
        status = FAIL(fault, WRITE_FAILED, "cannot make the folder %s: %s", path, strerror(errno));
    else if (stat(path, &found) != 0 || !S_ISDIR(found.st_mode))
        status = FAIL(fault, BAD_INPUT, "%s is not a folder; choose another name", path);
    free(path);
    return status;
}

static enum status write_lines(struct file_writer *writer, const char *const *lines,
                               struct fault *fault)
{
    enum status status = OK;
    for (; status == OK && *lines != NULL; lines++) {
        status = file_writer_write(writer, *lines, strlen(*lines), fault);
        if (status == OK)
            status = file_writer_write(writer, "\n", 1, fault);
    }
    return status;
}

static enum status write_file(const char *folder, const struct scaffold_file *file,
                              struct fault *fault)
{
    struct file_writer *writer = NULL;
    char *path = join(folder, file->name, fault);
    if (path == NULL)
        return NO_MEMORY;
    enum status status = file_writer_open(path, &writer, fault);
    free(path);
    if (status != OK)
        return status;
    status = write_lines(writer, file->lines, fault);
    if (status != OK) {
        file_writer_abandon(writer);
        return status;
    }
    return file_writer_commit(writer, fault);
}

enum status init_folder(const char *folder, struct fault *fault)
{
    size_t n = 0;
    const struct scaffold_file *files = init_scaffold(&n);
    enum status status = OK;
    for (size_t i = 0; status == OK && i < n; i++)
        status = check_absent(folder, files[i].name, fault);
    for (size_t i = 0; status == OK && i < sizeof folders / sizeof folders[0]; i++)
        status = make_folder(folder, folders[i], fault);
    for (size_t i = 0; status == OK && i < n; i++)
        status = write_file(folder, &files[i], fault);
    return status;
}

static void print_next_steps(const char *folder)
{
    size_t n = 0;
    const struct scaffold_file *files = init_scaffold(&n);
    (void)printf("%s now holds\n", folder);
    for (size_t i = 0; i < n; i++)
        (void)printf("  %s\n", files[i].name);
    (void)printf("  logs/\n\nNext:\n"
                 "  1. Declare car, facility, balance and channels in campaign.yaml; its comments\n"
                 "     say what each value means.\n"
                 "  2. Put the logs into logs/ and a line for each run into runs.csv.\n"
                 "  3. lapwing -C %s check     reads everything, reports every problem\n"
                 "  4. lapwing -C %s batch     ingest, reduce, report\n",
                 folder, folder);
}

static int run_init(const struct common_options *common, int argc, char **argv, struct fault *fault)
{
    const char *folder = argc > 1 ? argv[1] : common->folder;
    if (argc > 2)
        return fault_exit_code(FAIL(fault, BAD_INPUT,
                                    "init takes one folder, %d were given; write "
                                    "`lapwing init DIR`",
                                    argc - 1));
    if (folder[0] == '-' || folder[0] == '\0')
        return fault_exit_code(
            FAIL(fault, BAD_INPUT, "init has no option '%s'; write `lapwing init DIR`", folder));
    enum status status = init_folder(folder, fault);
    if (status == OK && !common->quiet)
        print_next_steps(folder);
    return fault_exit_code(status);
}

const struct command init_command = {
    .name = "init",
    .summary = "write a commented campaign folder to begin with",
    .usage = "usage: lapwing [-C DIR] init [DIR]\n"
             "\n"
             "Writes campaign.yaml, configurations.csv, runs.csv, taps.csv, decisions.csv,\n"
             "balance/example.csv and an empty logs/ into DIR (by default the campaign folder, "
             "here). DIR is made when it\n"
             "is missing. Nothing that exists is overwritten.\n",
    .run = run_init,
};
