/* dictionary.c - writing data_dictionary and flag_rule; see dictionary.h. */
#include "schema/dictionary.h"

#include <stdio.h>
#include <string.h>

#include "schema/flag.h"
#include "schema/quantity.h"
#include "schema/statement.h"

static const char quantity_source[] = "schema/quantity.h";

struct explanation {
    char unit[16];
    char sign[64];
    char meaning[320];
    const char *source;
};

static int explain_by_hand(const char *object, const char *name, struct explanation *explanation)
{
    size_t n = 0;
    const struct dictionary_row *rows = dictionary_rows(&n);
    const struct dictionary_row *best = NULL;
    for (size_t i = 0; i < n; i++) {
        if (strcmp(rows[i].name, name) != 0)
            continue;
        if (rows[i].object == NULL && best == NULL)
            best = &rows[i];
        if (rows[i].object != NULL && strcmp(rows[i].object, object) == 0)
            best = &rows[i];
    }
    if (best == NULL)
        return 0;
    (void)snprintf(explanation->unit, sizeof explanation->unit, "%s", best->unit);
    (void)snprintf(explanation->sign, sizeof explanation->sign, "%s", best->sign);
    (void)snprintf(explanation->meaning, sizeof explanation->meaning, "%s", best->meaning);
    explanation->source = best->source;
    return 1;
}

/* Names that are made of a quantity's column: the column, COLUMN_u, target_COLUMN. */
static int explain_by_quantity(const char *name, struct explanation *explanation)
{
    static const struct {
        const char *before;
        const char *after;
        const char *words;
    } forms[] = {
        {"", "", ""},
        {"", "_u", "Standard uncertainty of: "},
        {"target_", "", "Brought to the target attitude: "},
    };
    for (size_t i = 0; i < (size_t)QUANTITY_COUNT * 3; i++) {
        const struct quantity_row *row = quantity_row((enum quantity)(i / 3));
        char made[96];
        (void)snprintf(made, sizeof made, "%s%s%s", forms[i % 3].before, row->column,
                       forms[i % 3].after);
        if (strcmp(made, name) != 0)
            continue;
        int is_uncertainty = forms[i % 3].after[0] != '\0';
        (void)snprintf(explanation->unit, sizeof explanation->unit, "%s", row->unit);
        (void)snprintf(explanation->sign, sizeof explanation->sign, "%s",
                       is_uncertainty ? "not negative" : row->sign);
        (void)snprintf(explanation->meaning, sizeof explanation->meaning, "%s%s",
                       forms[i % 3].words, row->meaning);
        explanation->source = quantity_source;
        return 1;
    }
    return 0;
}

static enum status write_column(struct statement *insert, const char *object, const char *name,
                                struct fault *fault)
{
    struct explanation explanation;
    if (!explain_by_hand(object, name, &explanation) && !explain_by_quantity(name, &explanation))
        return OK; /* the test suite refuses a column without one */
    const char *const values[] = {
        object, name, explanation.unit, explanation.sign, explanation.meaning, explanation.source};
    enum status status = OK;
    for (int i = 0; status == OK && i < 6; i++)
        status = statement_bind_text(insert, i + 1, values[i], fault);
    if (status != OK)
        return status;
    return statement_run(insert, fault);
}

static enum status write_columns(struct store *store, struct fault *fault)
{
    struct statement *columns = NULL;
    struct statement *insert = NULL;
    int row = 1;
    enum status status = statement_prepare(
        store,
        "SELECT s.name, c.name FROM sqlite_schema AS s, pragma_table_info(s.name) AS c "
        "WHERE s.type IN ('table', 'view') AND s.name NOT LIKE 'sqlite_%' ORDER BY s.name, c.cid",
        &columns, fault);
    if (status == OK)
        status = statement_prepare(
            store,
            "INSERT INTO data_dictionary (object, name, unit, sign, meaning, source) "
            "VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT (object, name) DO UPDATE SET "
            "unit = excluded.unit, sign = excluded.sign, meaning = excluded.meaning, "
            "source = excluded.source WHERE (unit, sign, meaning, source) IS NOT "
            "(excluded.unit, excluded.sign, excluded.meaning, excluded.source)",
            &insert, fault);
    while (status == OK && row) {
        status = statement_step(columns, &row, fault);
        if (status == OK && row)
            status =
                write_column(insert, statement_text(columns, 0), statement_text(columns, 1), fault);
    }
    statement_free(insert);
    statement_free(columns);
    return status;
}

static enum status write_flag(struct statement *insert, const struct flag_row *flag,
                              struct fault *fault)
{
    const char *const values[] = {flag->code, flag_state_name(flag->state), flag->sentence,
                                  flag->consequence, flag->action};
    enum status status = OK;
    for (int i = 0; status == OK && i < 5; i++)
        status = statement_bind_text(insert, i + 1, values[i], fault);
    if (status != OK)
        return status;
    return statement_run(insert, fault);
}

static enum status write_flags(struct store *store, struct fault *fault)
{
    struct statement *insert = NULL;
    enum status status = statement_prepare(
        store,
        "INSERT INTO flag_rule (rule, state, sentence, consequence, action) "
        "VALUES (?, ?, ?, ?, ?) ON CONFLICT (rule) DO UPDATE SET state = excluded.state, "
        "sentence = excluded.sentence, consequence = excluded.consequence, "
        "action = excluded.action WHERE (state, sentence, consequence, action) IS NOT "
        "(excluded.state, excluded.sentence, excluded.consequence, excluded.action)",
        &insert, fault);
    for (unsigned i = 0; status == OK && i < FLAG_RULE_COUNT; i++)
        status = write_flag(insert, flag_row((enum flag_rule)i), fault);
    statement_free(insert);
    return status;
}

enum status dictionary_write(struct store *store, struct fault *fault)
{
    enum status status = write_columns(store, fault);
    if (status != OK)
        return status;
    return write_flags(store, fault);
}
