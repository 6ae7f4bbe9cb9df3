/* compare_json.c - see compare_json.h. */
#include "reduce/compare_json.h"

#include <string.h>

#include "reduce/rows.h"

/* The members of the object one after the other: a name, and a query that gives one JSON value. */
static const struct member {
    const char *name, *sql;
} members[] = {
    {"asked",
     "SELECT json_group_object(name, value) FROM (SELECT name, nullif(value, '') AS value "
     "FROM asked WHERE name IN ('first', 'second', 'family', 'metric', 'attitude', 'entry') "
     "ORDER BY name)"},
    {"season",
     "SELECT json_object('name', (SELECT value FROM asked WHERE name = 'season'), "
     "'campaign_sha256', (SELECT value FROM asked WHERE name = 'campaign'), 'one_count', "
     "(SELECT CAST(value AS REAL) FROM asked WHERE name = 'count'), 'confidence', (SELECT "
     "CAST(value AS REAL) FROM asked WHERE name = 'confidence'))"},
    {"signs", "SELECT json_object('delta', 'configuration minus baseline', 'CL, CLF, CLR', "
              "'downforce positive', 'CD', 'aft positive', 'balance', 'percent of the downforce on "
              "the front axle')"},
    {"comparisons",
     "SELECT json_object('judged', judged, 'exploratory', looked, 'expected_by_chance', looked * "
     "(1 "
     "- (SELECT CAST(value AS REAL) FROM asked WHERE name = 'confidence'))) FROM (SELECT "
     "CAST(total(is_main AND lower IS NOT NULL) AS INTEGER) AS judged, CAST(total(NOT is_main AND "
     "lower IS NOT NULL) AS INTEGER) AS looked FROM asked_delta)"},
    {"deltas",
     "SELECT json_group_array(json(row)) FROM (SELECT json_object('configuration', configuration, "
     "'baseline', baseline, 'is_pair', is_pair, 'facility', facility, 'entry', entry, 'quantity', "
     "quantity, 'unit', CASE WHEN quantity = 'balance' THEN '%' WHEN quantity IN ('CDA', 'CLA') "
     "THEN 'm2' ELSE '1' END, 'attitude', target, 'is_main', is_main, 'delta', delta, "
     "'half_width', "
     "half_width, 'lower', lower, 'upper', upper, 'standard_uncertainty', standard_uncertainty, "
     "'degrees_of_freedom', degrees_of_freedom, 'multiplier', multiplier, 'mountings', mountings, "
     "'baseline_mountings', baseline_mountings, 'verdict', verdict, 'real_but_small', "
     "real_but_small, 'reason', reason, 'method', method, 'noise_source', noise_source, "
     "'beside_delta', beside_delta, 'beside_standard_uncertainty', beside_standard_uncertainty, "
     "'beside_degrees_of_freedom', beside_degrees_of_freedom, 'disagrees', disagrees, "
     "'pairs_needed', pairs_needed, 'shrunk', shrunk, 'shrunk_standard_uncertainty', "
     "shrunk_standard_uncertainty) AS row FROM asked_delta ORDER BY rowid)"},
    {"ratios",
     "SELECT json_group_array(json(row)) FROM (SELECT json_object('configuration', configuration, "
     "'baseline', baseline, 'facility', facility, 'entry', entry, 'attitude', target, 'of', 'CL "
     "per "
     "CD', 'ratio', ratio, 'kind', kind, 'lower', lower, 'upper', upper, 'correlation', "
     "correlation, 'degrees_of_freedom', degrees_of_freedom, 'multiplier', multiplier, 'reason', "
     "reason) AS row FROM asked_ratio ORDER BY rowid)"},
    {"at_equal_balance",
     "SELECT json_group_array(json(row)) FROM (SELECT json_object('configuration', configuration, "
     "'baseline', baseline, 'facility', facility, 'entry', entry, 'device', device, 'quantity', "
     "quantity, 'attitude', target, 'delta', delta, 'half_width', half_width, 'lower', lower, "
     "'upper', upper, 'standard_uncertainty', standard_uncertainty, 'degrees_of_freedom', "
     "degrees_of_freedom, 'setting_change', setting_change, 'setting_unit', setting_unit, "
     "'reason', "
     "reason) AS row FROM asked_equal_balance ORDER BY rowid)"},
    {"packages",
     "SELECT json_group_array(json(row)) FROM (SELECT json_object('configuration', configuration, "
     "'baseline', baseline, 'facility', facility, 'entry', entry, 'parts', parts, 'quantity', "
     "quantity, 'attitude', target, 'package', package, 'sum_of_parts', sum_of_parts, "
     "'interaction', interaction, 'half_width', half_width, 'lower', lower, 'upper', upper, "
     "'standard_uncertainty', standard_uncertainty, 'degrees_of_freedom', degrees_of_freedom, "
     "'reason', reason) AS row FROM asked_package ORDER BY rowid)"},
    {"stability",
     "SELECT json_group_array(json(row)) FROM (SELECT json_object('configuration', configuration, "
     "'facility', facility, 'entry', entry, 'quantity', quantity, 'attitude', target, 'stability', "
     "stability, 'variants', variants, 'same', same) AS row FROM asked_stability ORDER BY rowid)"},
    {"left_out",
     "SELECT json_group_array(json(row)) FROM (SELECT json_object('configuration', configuration, "
     "'facility', facility, 'entry', entry, 'quantity', quantity, 'attitude', target, 'basis', "
     "basis, 'delta_with', delta_with, 'half_width_with', half_width_with, 'verdict_with', "
     "verdict_with, 'delta_without', delta_without, 'half_width_without', half_width_without, "
     "'verdict_without', verdict_without, 'decided_by', decided_by) AS row FROM asked_exclusion "
     "ORDER BY rowid)"},
    {"made_by",
     "SELECT json_group_array(json(row)) FROM (SELECT json_object('stage', stage, 'subject', "
     "subject, 'key_sha256', key) AS row FROM asked_reduction ORDER BY rowid)"},
};

/* In pieces, because a piece of text has a limit. */
static void add_value(struct key_text *text, const char *value)
{
    enum { PIECE = 900 };
    for (size_t length = strlen(value), at = 0; at < length; at += PIECE)
        key_text_say(text, "%.*s", PIECE, value + at);
}

static enum status add_member(struct store *store, const struct member *member,
                              struct key_text *text, struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0;
    enum status status = rows_open(store, member->sql, NULL, 0, &row, fault);
    if (status == OK)
        status = statement_step(row, &more, fault);
    if (status == OK && more) {
        const char *value = statement_text(row, 0);
        key_text_say(text, "%s\n\"%s\":", text->length == 0 ? "{" : ",", member->name);
        add_value(text, value == NULL ? "null" : value);
    }
    statement_free(row);
    return status;
}

enum status compare_json(struct store *store, struct key_text *text, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; status == OK && i < sizeof members / sizeof members[0]; i++)
        status = add_member(store, &members[i], text, fault);
    key_text_say(text, "\n}\n");
    return status == OK ? key_text_status(text, fault) : status;
}
