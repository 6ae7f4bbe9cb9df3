/* title_lines.c - see title_lines.h. */
#include "ingest/title_lines.h"

#include <stdio.h>
#include <string.h>

struct title_lines title_lines_for(const char *comment, const char *blocks, const char *block)
{
    return (struct title_lines){
        .comment = comment, .blocks = blocks, .block = block, .in_block = blocks == NULL};
}

/* Length of the mark with the blanks before it; 0 when the line does not begin with it. */
static size_t begins_with(const struct text_line *line, const char *mark)
{
    size_t length = mark != NULL ? strlen(mark) : 0;
    size_t at = 0;
    while (at < line->length && (line->text[at] == ' ' || line->text[at] == '\t'))
        at++;
    if (length == 0 || line->length - at < length || memcmp(line->text + at, mark, length) != 0)
        return 0;
    return at + length;
}

const char *title_of_line(const char *text, size_t length, size_t mark, size_t *title_length)
{
    const char *from = text + mark;
    const char *end = text + length;
    const char *open = memchr(from, '"', (size_t)(end - from));
    const char *close = open == NULL ? NULL : memchr(open + 1, '"', (size_t)(end - open - 1));
    if (close != NULL) {
        *title_length = (size_t)(close - open - 1);
        return open + 1;
    }
    while (from < end && strchr(" \t,:=", *from) != NULL && *from != '\0')
        from++;
    while (end > from && (end[-1] == ' ' || end[-1] == '\t'))
        end--;
    *title_length = (size_t)(end - from);
    return from;
}

static void remember(struct title_lines *titles, const char *title, size_t length)
{
    size_t used = strlen(titles->titles);
    size_t room = sizeof titles->titles - used;
    if (room > length + 8)
        (void)snprintf(titles->titles + used, room, "%s'%.*s'", used > 0 ? ", " : "", (int)length,
                       title);
    else if (room > 5 && strcmp(titles->titles + used - 3, "...") != 0)
        (void)snprintf(titles->titles + used, room, " ...");
}

static enum status second_block(const struct title_lines *titles, size_t line, struct fault *fault)
{
    if (titles->block != NULL)
        return FAIL(
            fault, BAD_INPUT,
            "lines %zu and %zu are both titled '%.80s'; limit: one block of a title; rename "
            "one",
            titles->found_line, line, titles->block);
    return FAIL(fault, BAD_INPUT,
                "the file holds more than one block: %s; limit: one a log; name it in the run "
                "sheet, map=file#title",
                titles->titles);
}

static enum status take_title(struct title_lines *titles, const struct text_line *line, size_t mark,
                              struct fault *fault)
{
    size_t length = 0;
    const char *title = title_of_line(line->text, line->length, mark, &length);
    int is_wanted = titles->block == NULL ||
                    (strlen(titles->block) == length && memcmp(titles->block, title, length) == 0);
    remember(titles, title, length);
    titles->in_block = is_wanted;
    if (!is_wanted)
        return OK;
    if (titles->found_line > 0)
        return second_block(titles, line->number, fault);
    titles->found_line = line->number;
    return OK;
}

enum status title_lines_take(struct title_lines *titles, const struct text_line *line, int *is_row,
                             struct fault *fault)
{
    size_t mark = begins_with(line, titles->blocks);
    *is_row = 0;
    if (mark > 0)
        return take_title(titles, line, mark, fault);
    *is_row = titles->in_block && begins_with(line, titles->comment) == 0;
    return OK;
}

enum status title_lines_finish(struct title_lines *titles, struct fault *fault)
{
    if (titles->blocks == NULL || titles->found_line > 0)
        return OK;
    titles->found_line = 1; /* told */
    if (titles->titles[0] == '\0')
        return FAIL(
            fault, BAD_INPUT,
            "no line begins with '%.40s', which marks the title of a block; correct blocks in "
            "the channel map",
            titles->blocks);
    return FAIL(fault, BAD_INPUT,
                "no block is titled '%.80s'; the file has %s; correct the title in the run sheet",
                titles->block, titles->titles);
}
