/* transcript.c - see transcript.h. */
#include "tests/transcript.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/check.h"
#include "tests/program.h"

enum { LINES_MAX = 2000, COMMAND_MAX = 3000 };

static const char indent[] = "    ";

/* Cuts text into lines, in place, without blanks at their ends; gives how many. */
static size_t cut_lines(char *text, char **lines)
{
    size_t n = 0;
    while (*text != '\0' && n < LINES_MAX) {
        size_t length = strcspn(text, "\n");
        char *next = text + length + (text[length] == '\n');
        lines[n++] = text;
        while (length > 0 && (text[length - 1] == ' ' || text[length - 1] == '\n'))
            length--;
        text[length] = '\0';
        text = next;
    }
    return n;
}

static int is_command(const char *line)
{
    return strncmp(line, "    $ ", 6) == 0;
}

static int is_indented(const char *line)
{
    return strncmp(line, indent, 4) == 0;
}

/* The text of the command that begins at lines[*at]; *at goes to the line after it. */
static void read_command(char *const *lines, size_t n, size_t *at, char command[COMMAND_MAX])
{
    size_t used = 0;
    size_t skip = 6;
    int goes_on = 1;
    while (*at < n && goes_on) {
        const char *line = lines[*at] + skip;
        size_t length = strlen(line);
        goes_on = length > 0 && line[length - 1] == '\\';
        int written =
            snprintf(command + used, COMMAND_MAX - used, "%s%s", used > 0 ? "\n" : "", line);
        CHECK(written > 0 && (size_t)written < COMMAND_MAX - used);
        used = strlen(command);
        skip = 4;
        ++*at;
    }
}

static void tell(const char *command, const char *want, const char *got)
{
    (void)fprintf(stderr, "the page no longer holds at\n%s\nwant: %s\ngot:  %s\n", command, want,
                  got);
    check_text(got, want, "a line of the page", __FILE__, __LINE__);
}

/* Holds got[0..n_got) to want[0..n_want). After "..." the next line may stand anywhere further down. */
static void compare(const char *command, char *const *want, size_t n_want, char *const *got,
                    size_t n_got)
{
    size_t at = 0;
    int is_free = 0;
    for (size_t i = 0; i < n_want; i++) {
        const char *line = want[i] + 4;
        if (strcmp(line, "...") == 0) {
            is_free = 1;
            continue;
        }
        size_t first = at;
        while (is_free && at < n_got && strcmp(got[at], line) != 0)
            at++;
        if (at >= n_got || strcmp(got[at], line) != 0) {
            tell(command, line, first < n_got ? got[first] : "(nothing more)");
            return;
        }
        at++;
        is_free = 0;
    }
    if (!is_free && at < n_got)
        tell(command, "(nothing more)", got[at]);
}

static void replay(const char *command, const char *folder, const char *program, char *const *want,
                   size_t n_want)
{
    static char out[PROGRAM_OUTPUT];
    static char *got[LINES_MAX];
    (void)program_shell(out, "cd %s && lapwing() { %s \"$@\"; }\n%s", folder, program, command);
    compare(command, want, n_want, got, cut_lines(out, got));
}

int transcript_replay(const char *page, const char *folder)
{
    static char *lines[LINES_MAX];
    char command[COMMAND_MAX];
    int commands = 0;
    char *text = strdup(page);
    char program[256];
    CHECK(text != NULL && program_lapwing_anywhere(program));
    size_t n = text != NULL ? cut_lines(text, lines) : 0;
    CHECK(n < LINES_MAX);
    for (size_t i = 0; i < n;) {
        if (!is_command(lines[i])) {
            i++;
            continue;
        }
        read_command(lines, n, &i, command);
        size_t first = i;
        while (i < n && is_indented(lines[i]) && !is_command(lines[i]))
            i++;
        replay(command, folder, program, lines + first, i - first);
        commands++;
    }
    free(text);
    return commands;
}
