/* redact_columns.c - see redact_columns.h. */
#include "report/redact_columns.h"

#include <stddef.h>
#include <string.h>

struct column_row {
    const char *table; /* NULL: wherever the column is */
    const char *column;
    struct redact_column column_is;
};

/* The first row that fits; those of one table stand first. */
static const struct column_row columns[] = {
    {"trace", "reason", {REDACT_KEEP, 0}}, /* a rule's code */
    {"correction_method", "method", {REDACT_KEEP, 0}},
    {"correction_method", "equation", {REDACT_KEEP, 0}},
    {"correction_method", "evidence", {REDACT_KEEP, 0}},
    {"correction_method", "source", {REDACT_KEEP, 0}},
    {"correction_method", "not_verified", {REDACT_KEEP, 0}},
    {"repeat_pair_result", "quantity", {REDACT_ANY, 0}}, /* or a column's name */
    {"repeat_result", "quantity", {REDACT_ANY, 0}},
    {"flag_row", "subject", {REDACT_ANY, 0}},
    {"reduction", "subject", {REDACT_SUBJECT, 0}},
    {"setting", "section", {REDACT_KEEP, 0}}, /* which rows: redact.c */
    {"setting", "name", {REDACT_KEEP, 0}},
    {"setting", "value", {REDACT_KEEP, 0}},
    {"run", "reason", {REDACT_EMPTY, 0}}, /* may quote a log */
    {"observation", "runs", {REDACT_LIST, REDACT_RUN}},
    {"run", "mounting", {REDACT_NAME, REDACT_MOUNTING}},
    {"log", "map", {REDACT_NAME, REDACT_MAP}},
    {"log", "file", {REDACT_NAME, REDACT_LOG}},
    {"configuration_image", "file", {REDACT_EMPTY, 0}}, /* and no picture is shown */
    {"point_budget", "untold", {REDACT_LIST, REDACT_SOURCE}},
    {"delta_budget", "source", {REDACT_NAME, REDACT_SOURCE}},
    {"uncertainty_source", "source", {REDACT_NAME, REDACT_SOURCE}},
    {NULL, "configuration", {REDACT_NAME, REDACT_CONFIGURATION}},
    {NULL, "parent", {REDACT_NAME, REDACT_CONFIGURATION}},
    {NULL, "baseline", {REDACT_NAME, REDACT_CONFIGURATION}},
    {NULL, "part", {REDACT_NAME, REDACT_CONFIGURATION}},
    {NULL, "parts", {REDACT_LIST, REDACT_CONFIGURATION}},
    {NULL, "run", {REDACT_NAME, REDACT_RUN}},
    {NULL, "tare_run", {REDACT_NAME, REDACT_RUN}},
    {NULL, "earlier_run", {REDACT_NAME, REDACT_RUN}},
    {NULL, "later_run", {REDACT_NAME, REDACT_RUN}},
    {NULL, "earlier_point", {REDACT_NAME, REDACT_POINT}},
    {NULL, "later_point", {REDACT_NAME, REDACT_POINT}},
    {NULL, "facility", {REDACT_NAME, REDACT_FACILITY}},
    {NULL, "entry", {REDACT_NAME, REDACT_ENTRY}},
    {NULL, "target", {REDACT_NAME, REDACT_TARGET}},
    {NULL, "point", {REDACT_NAME, REDACT_POINT}},
    {NULL, "tap", {REDACT_NAME, REDACT_TAP}},
    {NULL, "tap_a", {REDACT_NAME, REDACT_TAP}},
    {NULL, "tap_b", {REDACT_NAME, REDACT_TAP}},
    {NULL, "tap_c", {REDACT_NAME, REDACT_TAP}},
    {NULL, "surface", {REDACT_NAME, REDACT_SURFACE}},
    {NULL, "balance", {REDACT_NAME, REDACT_BALANCE}},
    {NULL, "metric", {REDACT_NAME, REDACT_METRIC}},
    {NULL, "device", {REDACT_NAME, REDACT_DEVICE}},
    {NULL, "column_name", {REDACT_NAME, REDACT_CHANNEL}},
    {NULL, "who", {REDACT_NAME, REDACT_PERSON}},
    {NULL, "decided_by", {REDACT_LIST, REDACT_PERSON}},
    {NULL, "unit", {REDACT_UNIT, 0}},
    {NULL, "written_unit", {REDACT_UNIT, 0}},
    {NULL, "setting_unit", {REDACT_UNIT, 0}},
    {NULL, "reason", {REDACT_SENTENCE, 0}},
    {NULL, "not_tested", {REDACT_SENTENCE, 0}},
    {NULL, "variant", {REDACT_VARIANT, 0}},
    {NULL, "stability", {REDACT_VARIANT, 0}},
    {NULL, "quantity", {REDACT_KEEP, 0}},
    {NULL, "role", {REDACT_KEEP, 0}},
    {NULL, "state", {REDACT_KEEP, 0}},
    {NULL, "rule_state", {REDACT_KEEP, 0}},
    {NULL, "rule", {REDACT_KEEP, 0}},
    {NULL, "decision", {REDACT_KEEP, 0}},
    {NULL, "kind", {REDACT_KEEP, 0}},
    {NULL, "better", {REDACT_KEEP, 0}},
    {NULL, "stage", {REDACT_KEEP, 0}},
    {NULL, "step", {REDACT_KEEP, 0}},
    {NULL, "method", {REDACT_KEEP, 0}},
    {NULL, "level", {REDACT_KEEP, 0}},
    {NULL, "basis", {REDACT_KEEP, 0}},
    {NULL, "reach", {REDACT_KEEP, 0}},
    {NULL, "shape", {REDACT_KEEP, 0}},
    {NULL, "input", {REDACT_KEEP, 0}},
    {NULL, "noise_source", {REDACT_KEEP, 0}},
    {NULL, "verdict", {REDACT_KEEP, 0}},
    {NULL, "verdict_with", {REDACT_KEEP, 0}},
    {NULL, "verdict_without", {REDACT_KEEP, 0}},
    /* Emptied, and known to be: what people wrote, places of files, fingerprints. */
    {NULL, "change", {REDACT_EMPTY, 0}},
    {NULL, "note", {REDACT_EMPTY, 0}},
    {NULL, "why", {REDACT_EMPTY, 0}},
    {NULL, "decided", {REDACT_EMPTY, 0}},
    {NULL, "detail", {REDACT_EMPTY, 0}},
    {NULL, "found", {REDACT_EMPTY, 0}},
    {NULL, "zero", {REDACT_EMPTY, 0}},
    {NULL, "tare", {REDACT_EMPTY, 0}},
    {NULL, "block", {REDACT_EMPTY, 0}},
    {NULL, "evidence", {REDACT_EMPTY, 0}},
    {NULL, "drag_contains", {REDACT_EMPTY, 0}},
    {NULL, "downforce_contains", {REDACT_EMPTY, 0}},
    {NULL, "sha256", {REDACT_EMPTY, 0}},
    {NULL, "ingest_key", {REDACT_EMPTY, 0}},
    {NULL, "key", {REDACT_EMPTY, 0}},
    {NULL, "inputs", {REDACT_EMPTY, 0}},
    {NULL, "start_text", {REDACT_EMPTY, 0}}, /* made again of the moved time */
};

/* NULL: nobody said. */
static const struct column_row *find(const char *table, const char *column)
{
    for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++)
        if (strcmp(columns[i].column, column) == 0 &&
            (columns[i].table == NULL || strcmp(columns[i].table, table) == 0))
            return &columns[i];
    return NULL;
}

struct redact_column redact_column(const char *table, const char *column)
{
    const struct column_row *row = find(table, column);

    return row != NULL ? row->column_is : (struct redact_column){REDACT_EMPTY, 0};
}

int redact_knows(const char *table, const char *column)
{
    return find(table, column) != NULL;
}

static int has(const char *const *names, size_t n, const char *name)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(names[i], name) == 0)
            return 1;
    return 0;
}

int redact_is_time(const char *column)
{
    static const char *const names[] = {"start_s", "time_s", "started_s", "valid_from_s",
                                        "valid_until_s"};

    return has(names, sizeof names / sizeof names[0], column);
}

int redact_is_level(const char *column)
{
    static const char *const names[] = {"drag_coefficient",
                                        "side_coefficient",
                                        "downforce_coefficient",
                                        "downforce_front_coefficient",
                                        "downforce_rear_coefficient",
                                        "roll_coefficient",
                                        "pitch_coefficient",
                                        "yaw_coefficient",
                                        "balance_percent",
                                        "lift_to_drag",
                                        "drag_area_m2",
                                        "downforce_area_m2",
                                        "cp_raw",
                                        "cp",
                                        "q_ratio", /* of a blockage that is made of the drag */
                                        "toward"};

    return has(names, sizeof names / sizeof names[0], column);
}

/* Of measurements and results; what only `explain` and `reduce` read is not among them. */
static const char *const taken[] = {"setting",
                                    "metric",
                                    "target",
                                    "configuration",
                                    "tap",
                                    "run",
                                    "correction_method",
                                    "decision",
                                    "log",
                                    "point",
                                    "reduction",
                                    "point_result",
                                    "tap_result",
                                    "target_result",
                                    "target_other",
                                    "observation",
                                    "delta_result",
                                    "robustness",
                                    "stability_result",
                                    "exclusion_effect",
                                    "delta_ratio",
                                    "trimmed_delta",
                                    "package_delta",
                                    "noise",
                                    "repeatability",
                                    "map_tap",
                                    "map_triangle",
                                    "flag_row",
                                    "configuration_part",
                                    "repeatability_season"};

/* Those that give levels away: loads after every step, means and samples of channels; and budgets, since an
 * uncertainty that is a share of a coefficient tells the coefficient. */
static const char *const levels[] = {"ledger_row",         "load_content",      "channel_statistic",
                                     "entry_mean",         "channel",           "trace",
                                     "trace_bin",          "trace_mark",        "spectrum",
                                     "uncertainty_source", "point_uncertainty", "delta_uncertainty",
                                     "delta_budget"};

int redact_takes(const char *table, enum redaction redaction)
{
    return has(taken, sizeof taken / sizeof taken[0], table) ||
           (redaction != REDACT_LEVELS && has(levels, sizeof levels / sizeof levels[0], table));
}
