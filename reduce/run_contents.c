/* run_contents.c - see run_contents.h. */
#include "reduce/run_contents.h"

#include <stdio.h>
#include <string.h>

#include "reduce/rows.h"

enum status run_contents_write(struct store *store, int64_t reduction,
                               const struct load_contents *contents, struct fault *fault)
{
    struct statement *insert = NULL;
    enum status status = statement_prepare(store,
                                           "INSERT INTO load_content (reduction, drag_contains, "
                                           "downforce_contains) VALUES (?1, ?2, ?3)",
                                           &insert, fault);
    if (status == OK)
        status = statement_bind_integer(insert, 1, reduction, fault);
    if (status == OK)
        status = statement_bind_text(insert, 2, contents->drag, fault);
    if (status == OK)
        status = statement_bind_text(insert, 3, contents->downforce, fault);
    if (status == OK)
        status = statement_run(insert, fault);
    statement_free(insert);
    return status;
}

enum status run_contents_read(const struct night *night, const struct run_row *run,
                              struct load_contents *contents, int *found, struct fault *fault)
{
    struct statement *row = NULL;
    enum status status = rows_open(
        night->store,
        "SELECT c.drag_contains, c.downforce_contains FROM reduction AS d JOIN load_content AS c "
        "ON c.reduction = d.reduction WHERE d.stage = 'point' AND d.subject = ?1 AND d.is_current "
        "= 1",
        (const char *const[]){run->run}, 1, &row, fault);
    *found = 0;
    memset(contents, 0, sizeof *contents);
    if (status == OK)
        status = statement_step(row, found, fault);
    if (status == OK && *found) {
        (void)snprintf(contents->drag, sizeof contents->drag, "%s", statement_text(row, 0));
        (void)snprintf(contents->downforce, sizeof contents->downforce, "%s",
                       statement_text(row, 1));
    }
    statement_free(row);
    return status;
}

struct flag_note run_contents_note(const struct run_row *run, const struct load_contents *own,
                                   const struct run_row *other, const struct load_contents *others)
{
    char mine[2 * CONTENTS_ROOM + 40];
    char theirs[2 * CONTENTS_ROOM + 40];
    struct flag_note note = flag_note_make(FLAG_CONTENTS_DIFFER, run->run, "", other->run);
    contents_say(own, mine, sizeof mine);
    contents_say(others, theirs, sizeof theirs);
    (void)snprintf(note.detail, sizeof note.detail,
                   "the loads of run %.60s contain %.200s, those of run %.60s %.200s: it takes no "
                   "part in comparisons",
                   run->run, mine, other->run, theirs);
    return note;
}
