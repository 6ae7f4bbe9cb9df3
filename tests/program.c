/* program.c - see program.h. */
#include "tests/program.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

int program_shell(char *out, const char *format, ...)
{
    char command[4096];
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(command, sizeof command - 16, format, arguments);
    va_end(arguments);
    out[0] = '\0';
    if (length < 0 || (size_t)length >= sizeof command - 16)
        return -1;
    char whole[4200];
    (void)snprintf(whole, sizeof whole, "{ %s; } 2>&1", command);
    FILE *pipe = popen(whole, "r");
    if (pipe == NULL)
        return -1;
    size_t used = fread(out, 1, PROGRAM_OUTPUT - 1, pipe);
    out[used] = '\0';
    char rest[4096];
    while (fread(rest, 1, sizeof rest, pipe) > 0) {
    }
    int status = pclose(pipe);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

static const char *from_environment(const char *name, const char *otherwise)
{
    const char *value = getenv(name);
    return value != NULL && value[0] != '\0' ? value : otherwise;
}

const char *program_lapwing(void)
{
    return from_environment("LAPWING", "build/lapwing");
}

int program_lapwing_anywhere(char path[256])
{
    const char *program = program_lapwing();
    size_t used = 0;
    path[0] = '\0';
    if (program[0] != '/') {
        if (getcwd(path, 256) == NULL)
            return 0;
        used = strlen(path);
    }
    int length = snprintf(path + used, 256 - used, "%s%s", program[0] != '/' ? "/" : "", program);
    return length > 0 && (size_t)length < 256 - used;
}

const char *program_make_night(void)
{
    return from_environment("MAKE_NIGHT", "build/make_night");
}

int program_scratch(char path[64])
{
    (void)snprintf(path, 64, "/tmp/lapwing-test-XXXXXX");
    return mkdtemp(path) != NULL;
}

void program_remove(const char *path)
{
    if (strncmp(path, "/tmp/lapwing-test-", 18) == 0) {
        char out[PROGRAM_OUTPUT];
        (void)program_shell(out, "rm -rf %s", path);
    }
}

int program_demo_night(char path[64], unsigned seed)
{
    char out[PROGRAM_OUTPUT];
    return program_scratch(path) &&
           program_shell(out,
                         "%s --copy --seed %u --rows 40 --tap-rows 12 --out %s && "
                         "find %s -type f -exec touch -d 2026-02-12T08:00:00Z {} +",
                         program_make_night(), seed, path, path) == 0;
}
