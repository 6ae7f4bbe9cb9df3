/* explain.c - finding the number and calling the parts; see explain.h. */
#include "reduce/explain.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/point_key.h"
#include "reduce/reductions.h"
#include "reduce/run_work.h"
#include "schema/digest.h"

static const char tap_prefix[] = "Cp:";

static enum status find_quantity(const char *symbol, struct explanation *explanation,
                                 struct fault *fault)
{
    explanation->quantity = QUANTITY_COUNT;
    if (strncmp(symbol, tap_prefix, sizeof tap_prefix - 1) == 0) {
        explanation->tap = symbol + sizeof tap_prefix - 1;
        if (run_data_tap(&explanation->work.data, explanation->tap) < 0)
            return FAIL(fault, NOT_FOUND, "run %s has no tap '%s'", explanation->work.run->run,
                        explanation->tap);
        return OK;
    }
    explanation->quantity = quantity_from_symbol(symbol);
    if (explanation->quantity == QUANTITY_COUNT)
        return FAIL(fault, NOT_FOUND,
                    "no quantity '%s'; known are CD CY CL CLF CLR CRM CPM CYM balance L/D CDA CLA "
                    "and Cp:TAP",
                    symbol);
    return OK;
}

static enum status find_reduction(struct explanation *explanation, struct fault *fault)
{
    int found = 0;
    const struct run_row *run = explanation->work.run;
    enum status status =
        reduction_current(explanation->work.night->store, "point", run->run,
                          &explanation->reduction, explanation->key, &found, fault);
    if (status == OK && !found)
        return FAIL(fault, NOT_FOUND, "run %s has no current reduction%s", run->run,
                    run->usable ? "; run `lapwing reduce`" : ": it is quarantined");
    return status;
}

/* Recipe, zeros and tare again, from what the campaign says now. */
static enum status gather(struct explanation *explanation, struct fault *fault)
{
    struct run_work *work = &explanation->work;
    struct fault refusal;
    enum status status = run_work_complete(work, &refusal);
    explanation->has_recipe = status == OK;
    if (status == NO_RESULT) {
        key_text_say(explanation->text, "the run is refused as a whole: %s\n", refusal.text);
        return OK;
    }
    if (status != OK && fault != NULL)
        *fault = refusal;
    return status;
}

static enum status warn_when_stale(const struct explanation *explanation, struct fault *fault)
{
    struct key_text key;
    char digest[DIGEST_TEXT];
    enum status status =
        point_key_make(explanation->work.night, explanation->work.run, &key, fault);
    if (status == OK)
        status = digest_text(key.text, digest, fault);
    key_text_end(&key);
    if (status == OK && strcmp(digest, explanation->key) != 0)
        key_text_say(explanation->text, "Something it depends on has changed since this was "
                                        "reduced; run `lapwing reduce` and ask again.\n");
    return status;
}

static enum status explain_parts(struct explanation *explanation, struct fault *fault)
{
    enum status status = warn_when_stale(explanation, fault);
    if (status == OK)
        status = gather(explanation, fault);
    if (status == OK)
        status = explain_sources(explanation, fault);
    if (status == OK)
        status = explain_ledger(explanation, fault);
    if (status == OK && explanation->tap != NULL)
        status = explain_tap(explanation, fault);
    if (status == OK)
        status = explain_ending(explanation, fault);
    return status == OK ? key_text_status(explanation->text, fault) : status;
}

static void say_title(const struct explain_request *request, const struct explanation *explanation)
{
    struct key_text *text = explanation->text;
    key_text_say(text, "%s of run %s point %s\n", request->symbol, request->run,
                 explanation->point->point);
    if (explanation->tap != NULL)
        return;
    const struct quantity_row *row = quantity_row(explanation->quantity);
    key_text_say(text, "  %s Sign: %s", row->meaning, row->sign);
    if (strcmp(row->unit, "1") != 0)
        key_text_say(text, "; unit %s", row->unit);
    key_text_say(text, ".\n");
}

static enum status refuse_wind_off(const struct run_row *run, struct fault *fault)
{
    return FAIL(fault, NOT_FOUND,
                "run %s is a %s run: it is made without wind and has no coefficients; explain a "
                "point of the wind-on run that uses it",
                run->run,
                strcmp(run->kind, "zero") == 0        ? "zero"
                : strcmp(run->kind, "belt_tare") == 0 ? "belt tare"
                                                      : "weight tare");
}

static enum status explain_run(const struct explain_request *request,
                               struct explanation *explanation, struct fault *fault)
{
    struct run_work *work = &explanation->work;
    if (!run_is_wind_on(work->run))
        return refuse_wind_off(work->run, fault);
    enum status status = run_data_read(work->night, work->run->run, &work->data, fault);
    if (status == OK)
        status = explain_find_point(explanation, request->point, fault);
    if (status == OK)
        status = find_quantity(request->symbol, explanation, fault);
    if (status == OK)
        status = find_reduction(explanation, fault);
    if (status != OK)
        return status;
    say_title(request, explanation);
    return explain_parts(explanation, fault);
}

enum status explain_number(struct store *store, const struct campaign *campaign,
                           const struct explain_request *request, struct key_text *text,
                           struct fault *fault)
{
    struct night night;
    struct explanation explanation;
    memset(text, 0, sizeof *text);
    memset(&explanation, 0, sizeof explanation);
    enum status status = night_read(store, campaign, &night, fault);
    if (status != OK)
        return status;
    explanation.text = text;
    explanation.with_inputs = request->with_inputs;
    explanation.work.night = &night;
    explanation.work.run = night_run(&night, request->run);
    if (explanation.work.run == NULL)
        status = FAIL(fault, NOT_FOUND, "no run '%s' in the run sheet", request->run);
    else
        status = explain_run(request, &explanation, fault);
    run_work_end(&explanation.work);
    night_end(&night);
    return status;
}
