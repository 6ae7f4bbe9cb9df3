/* explain_tap.c - the pressure coefficient of one tap; see explain.h. */
#include "reduce/explain.h"

#include <math.h>

#include "reduce/rows.h"

static void say_reading(struct key_text *text, const char *side, double pressure)
{
    key_text_say(text, "  the zero %s reads ", side);
    explain_say_number(text, pressure, 9, "Pa");
    key_text_say(text, "\n");
}

static void say_zero(const struct explanation *explanation, const char *side,
                     const struct zero_reading *reading)
{
    if (reading->point == NULL)
        return;
    int channel = run_data_tap(&reading->data, explanation->tap);
    if (channel < 0)
        key_text_say(explanation->text, "  the zero %s did not log this tap\n", side);
    else if (!isfinite(reading->point->channels[channel].mean))
        key_text_say(explanation->text, "  the zero %s holds no value of this tap\n", side);
    else
        say_reading(explanation->text, side, reading->point->channels[channel].mean);
}

static void say_cp(struct key_text *text, struct statement *row, int column)
{
    if (statement_is_null(row, column)) {
        key_text_say(text, ": no number");
        return;
    }
    key_text_say(text, " = ");
    explain_say_number(text, statement_real(row, column), 10, "");
}

static void say_result(const struct explanation *explanation, struct statement *row)
{
    struct key_text *text = explanation->text;
    key_text_say(text, "  raw Cp = (p - zero - p_static)/q");
    say_cp(text, row, 0);
    key_text_say(text, "\n  corrected Cp = Cp0 - (Cp0 - Cp)/(q_c/q), q_c/q %.8g",
                 statement_real(row, 4));
    say_cp(text, row, 1);
    if (!statement_is_null(row, 2))
        key_text_say(text, ", standard uncertainty within the point %.2g", statement_real(row, 2));
    key_text_say(text, "; state %s\n", statement_text(row, 3));
}

/* Without a row the point was refused before its taps, or nothing of the wind is known. */
static enum status say_none(const struct explanation *explanation, struct fault *fault)
{
    key_text_say(explanation->text, "  no pressure coefficient; ");
    return explain_refusal(explanation, fault);
}

enum status explain_tap(const struct explanation *explanation, struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0;
    key_text_say(explanation->text, "\nTap %s\n", explanation->tap);
    say_zero(explanation, "before", &explanation->work.zeros.before);
    say_zero(explanation, "after", &explanation->work.zeros.after);
    enum status status = statement_prepare(
        explanation->work.night->store,
        "SELECT c.cp_raw, c.cp, c.cp_u, c.state, p.q_ratio FROM tap_result AS c JOIN point_result "
        "AS p ON p.reduction = c.reduction AND p.point = c.point WHERE c.reduction = ?1 AND "
        "c.point = ?2 AND c.tap = ?3",
        &row, fault);
    if (status == OK)
        status = statement_bind_integer(row, 1, explanation->reduction, fault);
    if (status == OK)
        status = statement_bind_text(row, 2, explanation->point->point, fault);
    if (status == OK)
        status = statement_bind_text(row, 3, explanation->tap, fault);
    if (status == OK)
        status = statement_step(row, &more, fault);
    if (status == OK && more)
        say_result(explanation, row);
    else if (status == OK)
        status = say_none(explanation, fault);
    statement_free(row);
    return status;
}
