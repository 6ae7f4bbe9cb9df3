/* sniff_questions.c - what a log alone cannot tell; see sniff_print.h. */
#include <math.h>
#include <stdint.h>

#include "ingest/sniff_patterns.h"
#include "ingest/sniff_points.h"
#include "ingest/sniff_print.h"
#include "ingest/sniff_units.h"

static int has(const struct sniff *sniff, enum role first, enum role last)
{
    for (size_t i = 0; i < sniff->shape.n; i++)
        if (sniff->columns[i].role >= first && sniff->columns[i].role <= last)
            return 1;
    return 0;
}

static int has_hold(const struct sniff *sniff)
{
    for (size_t i = 0; i < sniff->shape.n; i++)
        if (sniff->columns[i].hold != HOLD_NONE)
            return 1;
    return 0;
}

static int has_loads(const struct sniff *sniff)
{
    return has(sniff, ROLE_FORCE_X, ROLE_MOMENT_Z);
}

static int loads_come_twice(const struct sniff *sniff)
{
    return has(sniff, ROLE_BALANCE_OUTPUT_1, ROLE_BALANCE_OUTPUT_6) + has_loads(sniff) +
               has(sniff, ROLE_DRAG_COEFFICIENT, ROLE_YAW_COEFFICIENT) >
           1;
}

/* Questions that hang on one role being there. */
static const struct {
    enum role first, last;
    const char *text;
} of_roles[] = {
    {ROLE_DOWNFORCE_COEFFICIENT, ROLE_DOWNFORCE_REAR_COEFFICIENT,
     "lift sign: ask the facility; sign: -1 if lift is positive in this file"},
    {ROLE_FORCE_X, ROLE_MOMENT_Z,
     "sense of the loads and the point they refer to: ask the facility; they go into balances: "
     "(axes, origin)"},
    {ROLE_BALANCE_OUTPUT_1, ROLE_BALANCE_OUTPUT_6,
     "outputs: the unit must be, letter for letter, that of outputs: in balances:"},
    {ROLE_TOTAL_MINUS_STATIC, ROLE_TOTAL_MINUS_STATIC,
     "p0-p is not q: the two differ by 0.6 % at 50 m/s; make sure which one the column holds"},
    {ROLE_DYNAMIC_PRESSURE, ROLE_DYNAMIC_PRESSURE,
     "q: made by the facility, with freestream: given; if it is p0-p, map total_minus_static"},
    {ROLE_CONTRACTION_DROP, ROLE_CONTRACTION_DROP,
     "contraction drop: needs freestream: contraction and the facility's polynomial"},
    {ROLE_NOZZLE_DROP, ROLE_PLENUM_DROP,
     "drop to nozzle or plenum: needs freestream: nozzle or plenum and the facility's polynomial; "
     "it is not q"},
    {ROLE_TOTAL_PRESSURE, ROLE_STATIC_PRESSURE,
     "pressures: absolute, or against the room? total or static? the roles are absolute ones"},
    {ROLE_STATIC_TEMPERATURE, ROLE_STATIC_TEMPERATURE,
     "temperature: of the settling chamber (total_temperature) or of the test section?"},
    {ROLE_FRONT_RIDE_HEIGHT, ROLE_REAR_RIDE_HEIGHT,
     "ride heights: of the model as tested, at which points of the car? say the same in the "
     "targets"},
    {ROLE_YAW, ROLE_YAW, "yaw sense: air from right or from left positive? yaw_positive: says it"},
    {ROLE_ROLL, ROLE_ROLL, "roll: right side down is positive here; sign: -1 if the file differs"},
    {ROLE_PITCH, ROLE_PITCH,
     "pitch: nose down is positive here; sign: -1 if the file counts nose up"},
    {ROLE_STEER, ROLE_STEER, "steer: to the right is positive here; sign: -1 if the file differs"},
    {ROLE_TAP, ROLE_TAP, "taps: relative to which pressure? taps.csv must name and place each"},
};

static int lacks_channels(const struct sniff *sniff)
{
    return !has(sniff, ROLE_BALANCE_OUTPUT_1, ROLE_TAP);
}

int sniff_map_is_complete(const struct sniff *sniff)
{
    size_t n = 0;
    return !sniff_lacks_points(sniff) && !lacks_channels(sniff) &&
           sniff_lacks_unit(sniff, &n) == SIZE_MAX;
}

static void ask_rows(const struct sniff *sniff, const char *begin, FILE *out)
{
    const struct sniff_rows *rows = &sniff->rows;
    const struct {
        int holds;
        const char *text;
    } questions[] = {
        {sniff_lacks_points(sniff),
         "point: NOT COMPLETE: no column says which rows are a point, and the map is refused until "
         "one way is chosen: which is meant? labels (role point), a flag that is on while a point "
         "is taken (role recording), or stretches at one attitude (sweep:, in the map as a "
         "comment)"},
        {lacks_channels(sniff),
         "channels: NOT COMPLETE: no column got a role that is measured; the map is refused until "
         "one has; {role: other, unit: ...} keeps the statistics of any column, and such lines are "
         "in the map as comments"},
        {sniff->titles.names_are_numbers,
         "names: nothing in the log names its columns; give them names that its maker would know"},
        {sniff->titles.n_blocks > 1,
         "blocks: a log is one of them; runs.csv names it: map=file#title"},
        {rows->kind == ROWS_SAMPLES && isnan(rows->rate),
         "rate: no column tells the time; write rate: with its unit, as rate: 100 Hz"},
        {rows->confidence == CONFIDENCE_GUESS,
         "rows: whether a row is a sample or an average is a guess"},
        {rows->n_gaps > 0 && rows->kind == ROWS_SAMPLES,
         "gaps in the time: pauses between points, or lost samples?"},
        {has_hold(sniff),
         "hold: blank: written in some rows only; or is a blank a value that was lost? then take "
         "hold out and declare missing: [\"\"]"},
        {rows->n_back > 0, "time goes back: the log is refused until that is repaired"},
        {rows->n_wrong > 0, "rows with another number of cells: the log is refused with them"},
    };
    for (size_t i = 0; i < sizeof questions / sizeof questions[0]; i++)
        if (questions[i].holds)
            (void)fprintf(out, "%s%s\n", begin, questions[i].text);
}

static void ask_form(const struct sniff *sniff, const char *begin, FILE *out)
{
    const struct sniff_shape *shape = &sniff->shape;
    const struct {
        int holds;
        const char *text;
    } questions[] = {
        {shape->decimal_doubtful && shape->n_point + shape->n_comma == 0,
         "decimal mark: no number has one"},
        {shape->decimal_doubtful && shape->n_point > 0 && shape->n_comma > 0,
         "decimal mark: numbers with a point and with a comma are there"},
        {shape->decimal_doubtful && shape->n_point == 0 && shape->n_comma > 0,
         "decimal mark: every comma has three digits after it: decimals, or thousands?"},
        {shape->second != 0 && shape->second_score > 0.9 * shape->delimiter_score,
         "delimiter: another one cuts the rows almost as well"},
        {sniff->text.encoding > SNIFF_UTF8,
         "encoding: not UTF-8; look at names and units with signs in them"},
    };
    for (size_t i = 0; i < sizeof questions / sizeof questions[0]; i++)
        if (questions[i].holds)
            (void)fprintf(out, "%s%s\n", begin, questions[i].text);
}

static void ask_units(const struct sniff *sniff, const char *begin, FILE *out)
{
    size_t n = 0;
    size_t first = sniff_lacks_unit(sniff, &n);
    if (first == SIZE_MAX)
        return;
    const struct sniff_column *column = &sniff->columns[first];
    (void)fprintf(out, "%sunits: NOT COMPLETE: nothing tells the unit of '", begin);
    sniff_print_text(column->name, out);
    (void)fprintf(out, "'");
    if (column->unit != NULL) {
        (void)fprintf(out, " but '");
        sniff_print_text(column->unit, out);
        (void)fprintf(out, "', which is not understood: correct it in the log");
    }
    if (n > 1)
        (void)fprintf(out, ", and of %zu more", n - 1);
    (void)fprintf(out, "; the map is refused until %s\n",
                  column->unit != NULL ? "then" : "unit: says it");
}

/* Round numbers that loggers write for "no value" may also be values. */
static void ask_sentinels(const struct sniff *sniff, const char *begin, FILE *out)
{
    static const double sentinels[] = {-999, -9999, -99999, 9999, 99999};
    for (size_t i = 0; i < sniff->shape.n; i++) {
        const struct sniff_column *column = &sniff->columns[i];
        for (size_t k = 0; k < sizeof sentinels / sizeof sentinels[0]; k++) {
            if (column->min != sentinels[k] && column->max != sentinels[k])
                continue;
            (void)fprintf(out, "%scolumn '", begin);
            sniff_print_text(column->name, out);
            (void)fprintf(out, "' reaches %.0f: a value, or one for sentinels: ?\n", sentinels[k]);
        }
    }
}

void sniff_print_open_questions(const struct sniff *sniff, const char *begin, FILE *out)
{
    ask_form(sniff, begin, out);
    ask_rows(sniff, begin, out);
    ask_units(sniff, begin, out);
    ask_sentinels(sniff, begin, out);
    for (size_t i = 0; i < sizeof of_roles / sizeof of_roles[0]; i++)
        if (has(sniff, of_roles[i].first, of_roles[i].last))
            (void)fprintf(out, "%s%s\n", begin, of_roles[i].text);
    if (sniff_find_role(sniff, ROLE_FORCE_Z, COLUMN_VALUE) != SIZE_MAX)
        (void)fprintf(out, "%slift sign: ask the facility; z up or down is declared in axes:\n",
                      begin);
    if (loads_come_twice(sniff))
        (void)fprintf(out, "%sloads come in two ways; a run takes one: keep one of them\n", begin);
    (void)fprintf(out, "%scorrections already in the numbers: ask the facility\n", begin);
}
