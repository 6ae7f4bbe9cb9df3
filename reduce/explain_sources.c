/* explain_sources.c - logs, means, zeros, calibration and tare of a number; see explain.h. */
#include "reduce/explain.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/rows.h"
#include "reduce/sensed_heights.h"
#include "reduce/tare_fit.h"

/* SQL gives the date and time of day of a time since 1970, so no clock and no zone are asked. */
static enum status say_time(const struct explanation *explanation, double time, struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    enum status status = statement_prepare(explanation->work.night->store,
                                           "SELECT strftime('%Y-%m-%d %H:%M:%f', ?1, 'unixepoch')",
                                           &statement, fault);
    if (status == OK)
        status = statement_bind_real(statement, 1, time, fault);
    if (status == OK)
        status = statement_step(statement, &row, fault);
    if (status == OK && row && statement_text(statement, 0) != NULL)
        key_text_say(explanation->text, "%s UTC", statement_text(statement, 0));
    statement_free(statement);
    return status;
}

static enum status say_logs(const struct explanation *explanation, const char *run,
                            const char *indent, struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    enum status status = rows_open(explanation->work.night->store,
                                   "SELECT file, sha256, map FROM log WHERE run = ?1 "
                                   "ORDER BY position",
                                   &run, 1, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        key_text_say(explanation->text, "%s%s read as %s", indent, statement_text(statement, 0),
                     statement_text(statement, 2));
        key_text_say(explanation->text, "\n%s  sha256 %s\n", indent, statement_text(statement, 1));
    }
    statement_free(statement);
    return status;
}

static void say_lines(const struct explanation *explanation, struct statement *row)
{
    long long first = (long long)statement_integer(row, 0);
    long long last = (long long)statement_integer(row, 1);
    long long rows = (long long)statement_integer(row, 2);
    key_text_say(explanation->text, "  point %s: line%s %lld", explanation->point->point,
                 last > first ? "s" : "", first);
    if (last > first)
        key_text_say(explanation->text, " to %lld", last);
    key_text_say(explanation->text, " of the first log, %lld row%s", rows, rows == 1 ? "" : "s");
}

static enum status say_point(const struct explanation *explanation, struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    const char *const names[] = {explanation->work.run->run, explanation->point->point};
    enum status status = rows_open(explanation->work.night->store,
                                   "SELECT first_line, last_line, rows, duration_s FROM point "
                                   "WHERE run = ?1 AND point = ?2",
                                   names, 2, &statement, fault);
    if (status == OK)
        status = statement_step(statement, &row, fault);
    if (status == OK && row) {
        say_lines(explanation, statement);
        if (!statement_is_null(statement, 3) && statement_real(statement, 3) > 0)
            key_text_say(explanation->text, ", %.3f s", statement_real(statement, 3));
        key_text_say(explanation->text, ", mean time ");
        status = say_time(explanation, explanation->point->time, fault);
        key_text_say(explanation->text, "\n");
    }
    statement_free(statement);
    return status;
}

static void say_channel(struct key_text *text, const struct channel_row *channel,
                        const struct channel_statistics *s)
{
    key_text_say(text, "  %-24s '%s': n %.0f", role_name(channel->role), channel->column, s->n);
    if (s->n > 0) {
        key_text_say(text, ", ");
        explain_say_number(text, s->mean, 9, channel->unit);
        key_text_say(text, isfinite(s->sd) ? ", sd " : ", sd not given");
        if (isfinite(s->sd))
            explain_say_number(text, s->sd, 4, channel->unit);
        key_text_say(text, ", effective ");
        if (isfinite(s->n_effective))
            explain_say_number(text, s->n_effective, 4, "");
        else
            key_text_say(text, "not estimable");
    }
    if (s->n_missing > 0)
        key_text_say(text, ", %.0f missing", s->n_missing);
    key_text_say(text, "\n");
}

/* Every channel but the taps; of the taps only the one that is asked for. */
static void say_channels(const struct explanation *explanation)
{
    const struct run_data *data = &explanation->work.data;
    struct key_text *text = explanation->text;
    key_text_say(text, "\nMeans of the point (n samples, mean, sd, effective samples)\n");
    for (size_t i = 0; i < data->n_channels; i++) {
        const struct channel_row *channel = &data->channels[i];
        int is_tap = channel->role == ROLE_TAP;
        if (is_tap && (explanation->tap == NULL || strcmp(channel->tap, explanation->tap) != 0))
            continue;
        say_channel(text, channel, &explanation->point->channels[i]);
    }
}

static void say_cell_zeros(const struct explanation *explanation,
                           const struct zero_reading *reading)
{
    struct key_text *text = explanation->text;
    for (int i = 0; i < WHEEL_CELLS; i++) {
        enum role role = recipe_cell_role((enum wheel_cell)i);
        if (!explanation->work.recipe.tunnel.cell_added[i])
            continue;
        key_text_say(text, "    %s ", role_name(role));
        explain_say_number(text, run_data_mean(&reading->data, reading->point, role), 9, "N");
        key_text_say(text, "\n");
    }
}

static enum status say_zero(const struct explanation *explanation, const char *side,
                            const struct zero_end *end, const struct zero_reading *reading,
                            struct fault *fault)
{
    struct key_text *text = explanation->text;
    enum load_source source = explanation->work.recipe.tunnel.source;
    key_text_say(text, "  %s: run %s point %s at ", side, end->run->run, reading->point->point);
    enum status status = say_time(explanation, reading->point->time, fault);
    key_text_say(text, "\n");
    if (status == OK)
        status = say_logs(explanation, end->run->run, "    ", fault);
    if (!recipe_has_loads(&explanation->work.recipe.tunnel))
        return status;
    key_text_say(text, "    reads");
    for (int i = 0; i < 6; i++) {
        enum role role = (enum role)((int)recipe_first_role(source) + i);
        key_text_say(text, " ");
        explain_say_number(text, run_data_mean(&reading->data, reading->point, role), 9, "");
    }
    key_text_say(text, "\n");
    say_cell_zeros(explanation, reading);
    return status;
}

/* A run refused as a whole has looked for none; coefficients of the facility need none, its taps do. */
static int needs_no_zero(const struct explanation *explanation)
{
    return !explanation->has_recipe ||
           (!recipe_needs_zero(&explanation->work.recipe.tunnel) && explanation->tap == NULL);
}

static enum status say_zeros(const struct explanation *explanation, struct fault *fault)
{
    const struct zeros *zeros = &explanation->work.zeros;
    struct key_text *text = explanation->text;
    enum status status = OK;
    if (needs_no_zero(explanation))
        return OK;
    key_text_say(text, "\nZero\n");
    if (zeros->choice.kind == ZERO_KIND_NONE)
        key_text_say(text, "  declared none: readings are taken as they are\n");
    if (zeros->choice.kind == ZERO_KIND_MISSING)
        key_text_say(text, "  missing: %s\n", zeros->choice.missing);
    if (zeros->choice.kind >= ZERO_KIND_CONSTANT)
        status = say_zero(explanation,
                          zeros->choice.kind == ZERO_KIND_CONSTANT ? "held constant" : "before",
                          &zeros->choice.before, &zeros->before, fault);
    if (status == OK && zeros->choice.kind == ZERO_KIND_LINEAR) {
        status = say_zero(explanation, "after", &zeros->choice.after, &zeros->after, fault);
        key_text_say(text, "  the point is at %.6f of the way between them\n",
                     zeros_fraction(zeros, explanation->point->time));
    }
    return status;
}

/* Of a row with form and second_order in columns 2 and 3. */
static const char *form_words(struct statement *row)
{
    const char *form = statement_text(row, 2);
    if (form != NULL && strcmp(form, "iterative") == 0)
        return "outputs from loads, by iteration";
    return statement_integer(row, 3) ? "6 x 27 second order" : "6 x 6 first order";
}

static enum status say_calibration(const struct explanation *explanation, struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    const char *balance = explanation->work.run->balance;
    if (!explanation->has_recipe || explanation->work.recipe.tunnel.source != LOADS_FROM_OUTPUTS)
        return OK;
    key_text_say(explanation->text, "\nBalance %s\n", balance);
    enum status status = rows_open(explanation->work.night->store,
                                   "SELECT file, sha256, form, second_order FROM calibration_file "
                                   "WHERE balance = ?1",
                                   &balance, 1, &statement, fault);
    if (status == OK)
        status = statement_step(statement, &row, fault);
    if (status == OK && row)
        key_text_say(explanation->text, "  calibration %s, %s\n    sha256 %s\n",
                     statement_text(statement, 0), form_words(statement),
                     statement_text(statement, 1));
    statement_free(statement);
    return status;
}

static enum status say_tare(const struct explanation *explanation, struct fault *fault)
{
    const struct tare_table *tare = &explanation->work.tare;
    struct key_text *text = explanation->text;
    double attitude[ATTITUDE_COUNT];
    if (!explanation->has_recipe || !recipe_has_loads(&explanation->work.recipe.tunnel))
        return OK;
    key_text_say(text, "\nWeight tare\n");
    if (tare->choice.kind == TARE_KIND_NONE)
        key_text_say(text, "  none is taken off\n");
    if (tare->choice.kind == TARE_KIND_MISSING)
        key_text_say(text, "  missing: %s\n", tare->choice.missing);
    if (tare->choice.kind != TARE_KIND_LOOKUP)
        return OK;
    attained_attitude(explanation->work.night->campaign, explanation->work.recipe.facility,
                      &explanation->work.data, explanation->point, attitude);
    struct tare_found found;
    if (tare_at(tare, explanation->work.recipe.facility->tare_tolerance, attitude, &found, NULL,
                NULL) != OUTCOME_OK) {
        key_text_say(text, "  run %s has nothing at this attitude\n", tare->choice.run->run);
        return OK;
    }
    key_text_say(text, "  run %s ", tare->choice.run->run);
    if (found.way == TARE_BY_POINT)
        key_text_say(text, "point %s", found.point);
    else
        key_text_say(text, "between its points");
    key_text_say(text, ", balance axes, N and N m:");
    for (int i = 0; i < 6; i++) {
        key_text_say(text, " ");
        explain_say_number(text, found.load[i], 9, "");
    }
    key_text_say(text, "\n");
    explain_weight(explanation);
    return say_logs(explanation, tare->choice.run->run, "    ", fault);
}

enum status explain_sources(const struct explanation *explanation, struct fault *fault)
{
    key_text_say(explanation->text, "\nLogs\n");
    enum status status = say_logs(explanation, explanation->work.run->run, "  ", fault);
    if (status == OK)
        status = say_point(explanation, fault);
    if (status != OK)
        return status;
    say_channels(explanation);
    status = say_zeros(explanation, fault);
    if (status == OK)
        status = say_calibration(explanation, fault);
    return status == OK ? say_tare(explanation, fault) : status;
}
