/* sniff_map.c - the guesses as a channel map; see sniff_print.h. */
#include <string.h>

#include "ingest/sniff_others.h"
#include "ingest/sniff_points.h"
#include "ingest/sniff_print.h"
#include "schema/utf8.h"

static int is_plain(char c)
{
    return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || c == '_';
}

/* Words that some readers of YAML take for something else than text. */
static int is_reserved(const char *text)
{
    static const char *const words[] = {"y",   "n",    "yes",  "no",    "on",
                                        "off", "true", "null", "false", "NaN"};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        if (strcmp(words[i], text) == 0)
            return 1;
    return 0;
}

/* Text that needs no quotes begins with a letter and has no mark that YAML knows. */
static int needs_quotes(const char *text)
{
    if (!is_plain(text[0]) || (text[0] >= '0' && text[0] <= '9') || is_reserved(text))
        return 1;
    for (const char *c = text; *c != '\0'; c++)
        if (!is_plain(*c) && strchr("-./", *c) == NULL)
            return 1;
    return 0;
}

static void print_escaped(const char *text, FILE *out)
{
    size_t length = strlen(text);
    for (size_t i = 0; i < length;) {
        unsigned point = 0;
        size_t n = utf8_character(text + i, length - i, &point);
        if (n == 0 || (utf8_is_control(point) && point < 0x100))
            (void)fprintf(out, "\\x%02x", point);
        else if (utf8_is_control(point))
            (void)fprintf(out, "\\u%04x", point);
        else
            (void)fprintf(out, "%s%.*s", point == '"' || point == '\\' ? "\\" : "", (int)n,
                          text + i);
        i += n > 0 ? n : 1;
    }
}

void sniff_print_yaml(const char *text, FILE *out)
{
    if (!needs_quotes(text)) {
        (void)fputs(text, out);
        return;
    }
    (void)fputc('"', out);
    print_escaped(text, out);
    (void)fputc('"', out);
}

/* The file's name without folders and ending, as a map's name. */
static void print_map_name(const char *file, FILE *out)
{
    const char *slash = strrchr(file, '/');
    const char *base = slash != NULL ? slash + 1 : file;
    const char *dot = strrchr(base, '.');
    size_t length = dot != NULL && dot != base ? (size_t)(dot - base) : strlen(base);
    (void)fputs(is_plain(base[0]) && base[0] > '9' ? "" : "map_", out);
    for (size_t i = 0; i < length && i < 60; i++)
        (void)fputc(is_plain(base[i]) ? base[i] : '_', out);
}

/* What the strict reader takes only where it is declared. */
static void print_leave(const struct sniff *sniff, FILE *out)
{
    const struct sniff_text *text = &sniff->text;
    if (text->encoding == SNIFF_WINDOWS_1252)
        (void)fprintf(out, "    encoding: windows-1252   # guess: high bytes that are not UTF-8\n");
    else if (text->encoding > SNIFF_UTF8)
        (void)fprintf(out, "    encoding: utf-16   # sure: %s\n",
                      text->has_mark ? "its byte-order mark" : "every second byte is NUL");
    if (sniff->shape.trailing)
        (void)fprintf(out, "    trailing_cells: ignore   # sure: rows end in more delimiters\n");
    if (sniff->rows.n_wraps > 0)
        (void)fprintf(out, "    clock_wraps: yes   # likely: the clock goes back by half a day\n");
}

/* Words for "no value", but for the empty ones that a hold explains. */
static void print_missing(const struct sniff *sniff, FILE *out)
{
    size_t n = 0;
    for (size_t i = 0; i < sniff->n_words; i++) {
        if (sniff->words[i][0] == '\0' && !sniff_empty_is_missing(sniff))
            continue;
        (void)fprintf(out, "%s\"", n++ > 0 ? ", " : "    missing: [");
        print_escaped(sniff->words[i], out);
        (void)fputc('"', out);
    }
    (void)fputs(
        n > 0 ? "]\n" : "    # missing: [\"\", \"NaN\"]   # this log has none; others may\n", out);
}

static void print_names(const struct sniff *sniff, FILE *out)
{
    const struct sniff_shape *shape = &sniff->shape;
    if (sniff->titles.names == NULL) {
        (void)fprintf(out, "    name_rows: %u\n    unit_row: %s\n", shape->name_rows,
                      shape->unit_row ? "yes" : "no");
        return;
    }
    (void)fprintf(out, "    names: [");
    for (size_t i = 0; i < sniff->titles.n_names; i++) {
        (void)fputs(i > 0 ? ", " : "", out);
        sniff_print_yaml(sniff->titles.names[i], out);
    }
    (void)fprintf(out, "]   # %s\n", sniff->titles.names_why);
}

static void print_titles(const struct sniff_titles *titles, FILE *out)
{
    if (titles->n_comments > 0) {
        (void)fprintf(out, "    comment: \"");
        print_escaped(titles->comment, out);
        (void)fprintf(out, "\"   # sure: %zu line%s so\n", titles->n_comments,
                      titles->n_comments == 1 ? " begins" : "s begin");
    }
    if (titles->n_blocks > 0)
        (void)fprintf(out, "    blocks: %s   # likely: %zu, each below a line that begins so\n",
                      titles->blocks, titles->n_blocks);
}

static void print_form(const struct sniff *sniff, FILE *out)
{
    const struct sniff_shape *shape = &sniff->shape;
    (void)fprintf(out, "    delimiter: %s\n", sniff_delimiter_name(shape->delimiter));
    (void)fprintf(out, "    decimal: %s%s\n", shape->decimal_mark == ',' ? "comma" : "point",
                  shape->decimal_doubtful ? "   # guess: see the questions below" : "");
    if (shape->first_name > 0)
        (void)fprintf(out, "    preamble_rows: %zu\n", shape->first_name);
    print_names(sniff, out);
    print_titles(&sniff->titles, out);
    (void)fprintf(out, "    rows: %s   # %s: %s\n",
                  sniff->rows.kind == ROWS_POINTS ? "points" : "samples",
                  sniff_confidence_name(sniff->rows.confidence), sniff->rows.why);
    if (sniff->rows.point_by_row)
        (void)fprintf(out, "    point_by_row: yes   # no column names the point\n");
    print_leave(sniff, out);
    if (sniff_lacks_points(sniff))
        sniff_print_sweep(sniff, out);
    print_missing(sniff, out);
}

static int is_mapped(const struct sniff_column *column)
{
    return column->role != ROLE_COUNT && column->role != ROLE_TAP;
}

static void print_column(const struct sniff_column *column, FILE *out)
{
    (void)fprintf(out, "      ");
    sniff_print_yaml(column->name, out);
    (void)fprintf(out, ": {role: %s", role_name(column->role));
    if (column->of != NULL) {
        (void)fprintf(out, ", of: ");
        sniff_print_yaml(column->of, out);
    }
    if (column->statistic == COLUMN_SD)
        (void)fprintf(out, ", statistic: sd");
    if (column->proposed_unit[0] != '\0') {
        (void)fprintf(out, ", unit: ");
        sniff_print_yaml(column->proposed_unit, out);
    }
    if (column->hold == HOLD_BLANK)
        (void)fprintf(out, ", hold: blank");
    (void)fprintf(out, "}   # %s: ", sniff_confidence_name(column->confidence));
    print_escaped(column->why, out);
    if (column->hold == HOLD_BLANK)
        (void)fprintf(out, "; written in every %zu rows", column->spacing);
    (void)fputc('\n', out);
}

static const char *const measured_words[] = {
    [TAPS_RELATIVE] = "relative to static",
    [TAPS_ABSOLUTE] = "absolute",
    [TAPS_AS_COEFFICIENT] = "as coefficient",
};

/* The unit of the taps when all of them have the same one. */
static void print_taps(const struct sniff *sniff, FILE *out)
{
    const char *unit = NULL;
    int differs = 0;
    size_t slow = 0;
    if (sniff->n_taps == 0)
        return;
    for (size_t i = 0; i < sniff->shape.n; i++) {
        const struct sniff_column *column = &sniff->columns[i];
        if (column->role != ROLE_TAP)
            continue;
        differs =
            differs || column->unit == NULL || (unit != NULL && strcmp(unit, column->unit) != 0);
        unit = column->unit;
        slow += column->hold == HOLD_BLANK;
    }
    (void)fprintf(out, "    taps: {");
    if (sniff->taps_measured == TAPS_AS_COEFFICIENT)
        (void)fprintf(out, "unit: 1, ");
    else if (!differs && unit != NULL) {
        (void)fprintf(out, "unit: ");
        sniff_print_yaml(unit, out);
        (void)fprintf(out, ", ");
    }
    int is_unclear = differs && sniff->taps_measured != TAPS_AS_COEFFICIENT;
    (void)fprintf(out, "measured: %s%s}   # %s: %zu columns that taps.csv must name%s\n",
                  measured_words[sniff->taps_measured],
                  slow == sniff->n_taps ? ", hold: blank" : "",
                  sniff_confidence_name(CONFIDENCE_GUESS), sniff->n_taps,
                  is_unclear ? "; their unit is not the same or not written" : "");
}

void sniff_print_map(const struct sniff *sniff, const char *name, FILE *out)
{
    size_t n_mapped = 0;
    for (size_t i = 0; i < sniff->shape.n; i++)
        n_mapped += (size_t)is_mapped(&sniff->columns[i]);
    (void)fprintf(out, "  # Guessed, to be reviewed line by line; it stands below channel_maps: in "
                       "campaign.yaml.\n  ");
    print_map_name(name, out);
    (void)fprintf(out, ":\n");
    print_form(sniff, out);
    (void)fprintf(out, "    columns:%s\n", n_mapped == 0 ? "   # none yet" : "");
    for (size_t i = 0; i < sniff->shape.n; i++)
        if (is_mapped(&sniff->columns[i]))
            print_column(&sniff->columns[i], out);
    sniff_print_others(sniff, out);
    print_taps(sniff, out);
    (void)fprintf(out, "    # Not decided:\n");
    sniff_print_open_questions(sniff, "    # - ", out);
}

void sniff_print_text(const char *text, FILE *out)
{
    print_escaped(text, out);
}
