/* explain.h - one number traced back to the lines of its log, as text for people.
 *
 * In the order of the data: log files with hash and lines, channel means, zeros, calibration, weight
 * tare, every step of the ledger with its formula and its change, the number, its target, what was
 * decided on it, its flags, and the key of the reduction, on request with all that is in it.                 */
#ifndef LAPWING_EXPLAIN_H
#define LAPWING_EXPLAIN_H

#include "reduce/key_text.h"
#include "reduce/reduced_point.h"
#include "schema/campaign.h"
#include "schema/quantity.h"
#include "schema/store.h"

struct explain_request {
    const char *run;
    const char *point;  /* its label, or the name of a target that one point of the run was at */
    const char *symbol; /* CD, CL, CLF, CLR, balance, L/D, CY ... or Cp:TAP */
    int with_inputs;    /* 1: the whole text that the reduction's key is the hash of */
};

/* Writes the explanation into *text. NOT_FOUND: no such run, point, quantity or tap, or the run is not
 * reduced. The caller ends *text with key_text_end(), also after a failure. */
enum status explain_number(struct store *store, const struct campaign *campaign,
                           const struct explain_request *request, struct key_text *text,
                           struct fault *fault);

/* What the parts share. */
struct explanation {
    struct run_work work;
    const struct point_row *point;
    int64_t reduction;
    char key[65];
    enum quantity quantity; /* QUANTITY_COUNT for a tap */
    const char *tap;        /* NULL for a quantity */
    int with_inputs;
    int has_recipe; /* 0: the run is refused as a whole, work.recipe is empty */
    struct key_text *text;
};

/* Finds the point by its label, else by a target's name. NOT_FOUND lists the run's first points. */
enum status explain_find_point(struct explanation *explanation, const char *name,
                               struct fault *fault);

/* Appends a number with its unit: never "-0", no unit for "1" or "", "n/a" when it is not finite. */
void explain_say_number(struct key_text *text, double value, int digits, const char *unit);

/* What a step of the ledger did to this number, "" for a step that is not known. */
void explain_formula(const struct explanation *explanation, const char *step, char *out,
                     size_t size);

/* Appends the rigid weight of the weight tare, where one is fitted: weight, centre, condition, what it
 * leaves, and what that is worth. */
void explain_weight(const struct explanation *explanation);

/* Appends which flag refused the point, with its detail. */
enum status explain_refusal(const struct explanation *explanation, struct fault *fault);

/* The parts, each appending to explanation->text. */
enum status explain_sources(const struct explanation *explanation, struct fault *fault);
enum status explain_ledger(const struct explanation *explanation, struct fault *fault);
enum status explain_tap(const struct explanation *explanation, struct fault *fault);
enum status explain_ending(const struct explanation *explanation, struct fault *fault);

#endif
