/* reading_key.c - see reading_key.h. */
#include "ingest/reading_key.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ingest/channel_reader.h"

/* A text in the making, in memory. */
struct key_text {
    char *text;
    size_t size;
    FILE *stream;
};

static enum status key_begin(struct key_text *key, struct fault *fault)
{
    *key = (struct key_text){NULL, 0, NULL};
    key->stream = open_memstream(&key->text, &key->size);
    if (key->stream == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the key of a run");
    return OK;
}

static enum status key_end(struct key_text *key, char out[DIGEST_TEXT], struct fault *fault)
{
    enum status status = OK;
    int failed = ferror(key->stream);
    failed = fclose(key->stream) != 0 || failed;
    if (failed)
        status = FAIL(fault, NO_MEMORY, "no memory for the key of a run");
    else
        status = digest_text(key->text, out, fault);
    free(key->text);
    return status;
}

static const char *text_or_none(const char *text)
{
    return text != NULL ? text : "(none)";
}

static void put_map(FILE *out, const struct channel_map *map)
{
    (void)fprintf(out, "delimiter %d decimal %d preamble %u names %u unit row %d rows %d\n",
                  map->delimiter, map->decimal_mark, map->preamble_rows, map->name_rows,
                  map->unit_row, (int)map->rows);
    (void)fprintf(out, "points by row %d rate %.17g\n", map->point_by_row, map->rate);
    (void)fprintf(out, "sweep %d window %.17g settle %.17g least rows %.17g\n", (int)map->sweep.of,
                  map->sweep.window, map->sweep.settle, map->sweep.least_rows);
    for (size_t i = 0; i < map->n_names; i++)
        (void)fprintf(out, "name %s\n", map->names[i]);
    (void)fprintf(out, "comment %s blocks %s\n", text_or_none(map->comment),
                  text_or_none(map->blocks));
    for (size_t i = 0; i < map->n_missing_words; i++)
        (void)fprintf(out, "missing %s\n", map->missing_words[i]);
    for (size_t i = 0; i < map->n_sentinels; i++)
        (void)fprintf(out, "sentinel %.17g\n", map->sentinels[i]);
    (void)fprintf(out, "encoding %d clock wraps %d trailing cells %d\n", (int)map->encoding,
                  map->clock_wraps, map->trailing_cells_ignored);
    for (size_t i = 0; i < map->n_columns; i++) {
        const struct map_column *column = &map->columns[i];
        (void)fprintf(out, "column %s role %s statistic %d of %s unit %s sign %g hold %d\n",
                      column->column, role_name(column->role), (int)column->statistic,
                      text_or_none(column->of), text_or_none(column->unit), column->sign,
                      (int)column->hold);
    }
    (void)fprintf(out, "taps %d unit %s kept %s hold %d\n", map->has_taps,
                  text_or_none(map->tap_unit), campaign_tap_unit(map), (int)map->tap_hold);
}

static void put_taps(FILE *out, const struct tap_sheet *taps)
{
    for (size_t i = 0; taps != NULL && i < taps->n; i++)
        (void)fprintf(out, "tap %s column %s\n", taps->taps[i].name, taps->taps[i].column);
}

enum status reading_key_maps(const struct season_sheets *sheets, char (**out)[DIGEST_TEXT],
                             struct fault *fault)
{
    const struct campaign *campaign = sheets->campaign;
    enum status status = OK;
    char(*digests)[DIGEST_TEXT] = calloc(campaign->n_maps + 1, sizeof *digests);

    *out = NULL;
    if (digests == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for the keys of the channel maps");
    for (size_t i = 0; i < campaign->n_maps && status == OK; i++) {
        struct key_text key;
        status = key_begin(&key, fault);
        if (status != OK)
            break;
        put_map(key.stream, &campaign->maps[i]);
        if (campaign->maps[i].has_taps)
            put_taps(key.stream, sheets->taps);
        status = key_end(&key, digests[i], fault);
    }
    if (status != OK) {
        free(digests);
        return status;
    }
    *out = digests;
    return OK;
}

enum status reading_key_of_run(const struct season_sheets *sheets, const struct run_entry *run,
                               const char (*map_digests)[DIGEST_TEXT],
                               const char *const *log_digests, char out[DIGEST_TEXT],
                               struct fault *fault)
{
    struct key_text key;
    enum status status = key_begin(&key, fault);
    if (status != OK)
        return status;
    (void)fprintf(key.stream, "%s\nstart %s\nrecord only %d\n", CHANNEL_READER_METHOD,
                  run->start_text, run_is_record_only(run));
    for (size_t i = 0; i < sheets->campaign->keep_samples.n; i++)
        (void)fprintf(key.stream, "keep samples %s\n", sheets->campaign->keep_samples.text[i]);
    for (size_t i = 0; i < run->n_logs; i++) {
        struct log_reading reading = season_sheets_reading(sheets, run, i);
        size_t map = (size_t)(reading.map - sheets->campaign->maps);
        const char *log = log_digests[i];
        if (log[0] == '\0') /* the file is missing: its name is all there is of it */
            log = run->logs[i].file;
        (void)fprintf(key.stream, "log %s map %s output unit %s yaw sign %g block %s\n", log,
                      map_digests[map], text_or_none(reading.output_unit), reading.yaw_sign,
                      text_or_none(reading.block));
    }
    return key_end(&key, out, fault);
}
