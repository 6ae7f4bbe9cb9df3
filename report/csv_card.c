/* csv_card.c - a calibration card as a table, and a calibration as a file; see calibration_report.h. */
#include <math.h>
#include <stdio.h>

#include "report/calibration_report.h"
#include "report/csv_out.h"
#include "schema/number.h"

static void add_number(struct buffer *out, double value)
{
    char text[64];
    if (!isfinite(value))
        return;
    (void)number_print(value, text, sizeof text);
    buffer_text(out, text);
}

/* load, output, item. */
static void begin_row(const struct calibration_card *card, size_t load, const char *item,
                      struct buffer *out)
{
    buffer_format(out, "\"%s\",\"R%zu\",", calibration_load_name(load),
                  card->loadings->output_of[load] + 1);
    csv_text(out, item);
    buffer_text(out, ",");
}

static void add_item(const struct calibration_card *card, size_t load, const char *item,
                     double value, const char *unit, struct buffer *out)
{
    begin_row(card, load, item, out);
    add_number(out, value);
    buffer_text(out, ",,,,,");
    csv_text(out, unit);
    buffer_text(out, "\n");
}

static void add_term(const struct calibration_card *card, size_t load, size_t term,
                     struct buffer *out)
{
    static const char *const states[] = {"not asked", "kept", "t below 4",
                                         "variance inflation above 10", "loading missing"};
    const struct card_term *of = &card->component[load].terms[term];
    char item[48];
    if (of->state == CARD_NOT_ASKED)
        return;
    (void)snprintf(item, sizeof item, "term %s", card_term_name(card->request->form, term).text);
    begin_row(card, load, item, out);
    int is_kept = of->state == CARD_KEPT;
    add_number(out, is_kept ? of->coefficient : (double)NAN);
    buffer_text(out, ",");
    add_number(out, is_kept ? of->error : (double)NAN);
    buffer_text(out, ",");
    add_number(out, of->state == CARD_BLIND ? (double)NAN : of->inflation);
    buffer_text(out, ",");
    add_number(out, is_kept                   ? fabs(of->coefficient) / of->error
                    : of->state == CARD_BLIND ? (double)NAN
                                              : of->t);
    buffer_text(out, ",");
    csv_text(out, states[of->state]);
    buffer_text(out, ",");
    csv_text(out, card->request->form == CALIBRATION_DIRECT ? "per unit of output"
                                                            : card->loadings->output_unit);
    buffer_text(out, "\n");
}

static void add_component(const struct calibration_card *card, size_t load, struct buffer *out)
{
    const struct card_component *of = &card->component[load];
    const char *unit = calibration_load_unit(load);
    int is_direct = card->request->form == CALIBRATION_DIRECT;
    double none = (double)NAN;
    add_item(card, load, "rated", of->rated, unit, out);
    add_item(card, load, "lowest", of->lowest, unit, out);
    add_item(card, load, "highest", of->highest, unit, out);
    add_item(card, load, "loadings fitted", (double)card->n_fit, "1", out);
    add_item(card, load, "degrees of freedom", of->freedom, "1", out);
    add_item(card, load, "fit sd", of->fit_sd, is_direct ? unit : card->loadings->output_unit, out);
    add_item(card, load, "fit sd", 100 * of->fit_share, "% of rated", out);
    add_item(card, load, "PRESS", 100 * of->press_share, "% of rated", out);
    add_item(card, load, "residual sd of loads", 100 * of->residual_sd, "% of rated", out);
    add_item(card, load, "largest residual of loads", 100 * of->residual_largest, "% of rated",
             out);
    add_item(card, load, "checks", (double)of->checks, "1", out);
    add_item(card, load, "check rms", of->checks > 0 ? 100 * of->check_rms : none, "% of rated",
             out);
    add_item(card, load, "largest check error", of->checks > 0 ? 100 * of->check_largest : none,
             "% of rated", out);
    add_item(card, load, "hysteresis", of->has_hysteresis ? 100 * of->hysteresis_largest : none,
             "% of rated", out);
    for (size_t s = 0; card->tare != NULL && s < card->loadings->n_series; s++) {
        char item[96];
        (void)snprintf(item, sizeof item, "tare of series %.60s", card->loadings->series[s]);
        add_item(card, load, item, card->tare[s][load], unit, out);
    }
    for (size_t term = 0; term < CARD_TERMS; term++)
        add_term(card, load, term, out);
}

void csv_card(const struct calibration_card *card, struct buffer *out)
{
    buffer_text(out, "load,output,item,value,standard_error,inflation,t,state,unit\n");
    for (size_t i = 0; i < LOAD_COUNT; i++)
        if (card->component[i].is_present)
            add_component(card, i, out);
}

/* What every row of a calibration file says of the whole: heads, or the values. */
static void add_common(const struct calibration_card *card, int is_head, struct buffer *out)
{
    const struct calibrate_request *request = card->request;
    const struct {
        const char *head, *value;
    } columns[] = {{"balance", request->balance},
                   {"outputs", card->loadings->output_unit},
                   {"valid_from", request->valid_from},
                   {"valid_until", request->valid_until},
                   {"loadings_sha256", card->loadings->sha256}};
    for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++) {
        if (columns[i].value[0] == '\0')
            continue;
        buffer_text(out, ",");
        if (is_head)
            buffer_text(out, columns[i].head);
        else
            csv_text(out, columns[i].value);
    }
}

/* What the terms in temperature are about: heads, or the values. */
static void add_temperatures(const struct calibration *calibration, int is_head, struct buffer *out)
{
    const double kelvin[] = {calibration->temperature_reference, calibration->temperature_lowest,
                             calibration->temperature_highest};
    if (calibration->has_temperature && is_head)
        buffer_text(out, ",temperature_reference,temperature_lowest,temperature_highest");
    for (size_t i = 0; i < 3 && calibration->has_temperature && !is_head; i++) {
        buffer_text(out, ",");
        add_number(out, kelvin[i]);
        buffer_text(out, " K");
    }
}

/* Heads of the terms in temperature; row LOAD_COUNT: empty cells, else its coefficients. */
static void add_shift_heads(const struct calibration *calibration, struct buffer *out)
{
    for (size_t k = 0; k < CALIBRATION_TEMPERATURE_TERMS && calibration->has_temperature; k++)
        buffer_format(out, ",%s", calibration_temperature_name(calibration->form, k));
}

static void add_shifts(const struct calibration *calibration, size_t row, struct buffer *out)
{
    for (size_t k = 0; k < CALIBRATION_TEMPERATURE_TERMS && calibration->has_temperature; k++) {
        buffer_text(out, ",");
        if (row < LOAD_COUNT)
            add_number(out, calibration->temperature[row][k]);
    }
}

static void direct_file(const struct calibration_card *card, struct buffer *out)
{
    const struct calibration *calibration = &card->calibration;
    size_t terms = calibration->second_order ? CALIBRATION_TERMS : LOAD_COUNT;
    buffer_text(out, "load,unit");
    add_common(card, 1, out);
    add_temperatures(calibration, 1, out);
    buffer_text(out, ",rated,lowest,highest,residual_sd");
    for (size_t term = 0; term < terms; term++)
        buffer_format(out, ",%s", calibration_term_name(term));
    add_shift_heads(calibration, out);
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        const double range[] = {calibration->rated[i], calibration->lowest[i],
                                calibration->highest[i]};
        buffer_format(out, "\n%s,%s", calibration_load_name(i), calibration_load_unit(i));
        add_common(card, 0, out);
        add_temperatures(calibration, 0, out);
        for (size_t k = 0; k < 3; k++) {
            buffer_text(out, ",");
            add_number(out, range[k]);
        }
        buffer_text(out, ",");
        add_number(out, 100 * calibration->residual_sd[i]);
        buffer_text(out, " %");
        for (size_t term = 0; term < terms; term++) {
            buffer_text(out, ",");
            add_number(out, term < LOAD_COUNT ? calibration->linear[i][term]
                                              : calibration->product[i][term - LOAD_COUNT]);
        }
        add_shifts(calibration, i, out);
    }
    buffer_text(out, "\n");
}

/* A term that some output has, or a linear one. */
static int is_used(const struct calibration *calibration, size_t term)
{
    for (size_t i = 0; i < LOAD_COUNT; i++)
        if (calibration->output[i][term] != 0)
            return 1;
    return term < LOAD_COUNT;
}

static void end_row(const struct calibration *calibration, size_t output, struct buffer *out)
{
    for (size_t term = output < LOAD_COUNT ? 0 : LOAD_COUNT; term < CALIBRATION_LOAD_TERMS;
         term++) {
        if (!is_used(calibration, term))
            continue;
        buffer_text(out, ",");
        if (output < LOAD_COUNT)
            add_number(out, calibration->output[output][term]);
    }
    add_shifts(calibration, output, out);
    buffer_text(out, "\n");
}

static void iterative_file(const struct calibration_card *card, struct buffer *out)
{
    const struct calibration *calibration = &card->calibration;
    const struct {
        const char *name;
        const double *values;
        double factor;
    } of_loads[] = {{"rated", calibration->rated, 1},
                    {"lowest", calibration->lowest, 1},
                    {"highest", calibration->highest, 1},
                    {"residual_sd", calibration->residual_sd, 100}};
    buffer_text(out, "output");
    add_common(card, 1, out);
    add_temperatures(calibration, 1, out);
    for (size_t term = 0; term < CALIBRATION_LOAD_TERMS; term++)
        if (is_used(calibration, term))
            buffer_format(out, ",%s", calibration_load_term_name(term));
    add_shift_heads(calibration, out);
    buffer_text(out, "\n");
    for (size_t row = 0; row < sizeof of_loads / sizeof of_loads[0]; row++) {
        buffer_text(out, of_loads[row].name);
        add_common(card, 0, out);
        add_temperatures(calibration, 0, out);
        for (size_t i = 0; i < LOAD_COUNT; i++) {
            buffer_text(out, ",");
            add_number(out, of_loads[row].factor * of_loads[row].values[i]);
            buffer_format(out, " %s", of_loads[row].factor > 1 ? "%" : calibration_load_unit(i));
        }
        end_row(calibration, LOAD_COUNT, out);
    }
    for (size_t i = 0; i < LOAD_COUNT; i++) {
        buffer_format(out, "R%zu", i + 1);
        add_common(card, 0, out);
        add_temperatures(calibration, 0, out);
        end_row(calibration, i, out);
    }
}

void csv_calibration(const struct calibration_card *card, struct buffer *out)
{
    if (card->request->form == CALIBRATION_DIRECT)
        direct_file(card, out);
    else
        iterative_file(card, out);
}
