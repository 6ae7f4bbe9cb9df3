/* record_frozen.c - see record_frozen.h. */
#include "reduce/record_frozen.h"

#include "reduce/rows.h"
#include "schema/flag.h"

/* Counts; with a key, names each in it. */
static enum status read_frozen(const struct night *night, const struct run_row *run, size_t *n,
                               struct key_text *key, struct fault *fault)
{
    const char *const texts[] = {run->run, flag_row(FLAG_CONSTANT)->code,
                                 flag_state_name(FLAG_FAILED)};
    struct statement *statement = NULL;
    int row = 0;
    *n = 0;
    enum status status = rows_open(night->store,
                                   "SELECT subject FROM flag WHERE run = ?1 AND rule = ?2 AND "
                                   "state = ?3 ORDER BY subject",
                                   texts, 3, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        const char *subject = statement_text(statement, 0);
        if (key != NULL)
            key_text_word(key, "constant, and not in other runs", subject == NULL ? "" : subject);
        (*n)++;
    }
    statement_free(statement);
    return status;
}

enum status record_frozen_count(const struct night *night, const struct run_row *run, size_t *n,
                                struct fault *fault)
{
    return read_frozen(night, run, n, NULL, fault);
}

enum status record_frozen_key(const struct night *night, const struct run_row *run,
                              struct key_text *key, struct fault *fault)
{
    size_t n = 0;
    return read_frozen(night, run, &n, key, fault);
}
