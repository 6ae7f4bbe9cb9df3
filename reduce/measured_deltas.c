/* measured_deltas.c - see measured_deltas.h. */
#include "reduce/measured_deltas.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/rows.h"
#include "reduce/statistics/polarisation.h"

int measured_delta_is_known(const struct measured_deltas *deltas, size_t configuration)
{
    return isfinite(deltas->readings[configuration].delta) &&
           isfinite(deltas->readings[configuration].standard_uncertainty);
}

void measured_deltas_end(struct measured_deltas *deltas)
{
    free(deltas->readings);
    free(deltas->covariance);
    memset(deltas, 0, sizeof *deltas);
}

static void fill_covariance(const struct evidence *evidence, struct measured_deltas *deltas)
{
    size_t n = deltas->n;
    for (size_t i = 1; i < n; i++)
        for (size_t j = 1; j < n; j++)
            deltas->covariance[i * n + j] = evidence->correlation[i * n + j] *
                                            deltas->readings[i].standard_uncertainty *
                                            deltas->readings[j].standard_uncertainty;
}

static enum status make(const struct family *family, enum quantity quantity, size_t measure,
                        double confidence, const struct variance_estimate *refitted,
                        struct measured_deltas *deltas, struct fault *fault)
{
    struct evidence evidence;
    struct delta_rule rule = {.confidence = confidence};
    void *readings = NULL;
    void *covariance = NULL;
    size_t n = family->n_configurations;
    memset(deltas, 0, sizeof *deltas);
    enum status status = evidence_make(family, quantity, measure, refitted, &evidence, fault);
    if (status != OK)
        return status;
    status = array_make(&readings, n, sizeof *deltas->readings, fault);
    if (status == OK)
        status = array_make(&covariance, n * n, sizeof *deltas->covariance, fault);
    *deltas = (struct measured_deltas){n, readings, covariance};
    if (status == OK) {
        delta_read_all(&evidence, n, &rule, deltas->readings);
        fill_covariance(&evidence, deltas);
    } else {
        measured_deltas_end(deltas);
    }
    evidence_end(&evidence);
    return status;
}

static const struct variance_estimate not_known = {(double)NAN, 0};

enum status measured_deltas_make(const struct measuring *measuring, enum quantity quantity,
                                 struct measured_deltas *deltas, struct fault *fault)
{
    const struct variance_estimate *refitted = &not_known;
    if (measuring->season != NULL)
        refitted = &season_measure(measuring->season, quantity, measuring->measure)->refitted;
    return make(measuring->family, quantity, measuring->measure, measuring->confidence, refitted,
                deltas, fault);
}

/* A quantity that is no ratio, so that evidence takes a run's value as it is. */
static const enum quantity carrier = QUANTITY_CL;

/* What the sum and the difference are of; a and b divided by their scales. */
struct pairing {
    const struct measuring *measuring;
    enum quantity a, b;
    double scale_a, scale_b;
};

/* Writes a/scale_a + sign b/scale_b where the copy's runs keep the carrier. The steps to the target are
 * taken as independent, so that they are alike in sum and difference. */
static void combine_run(const struct pairing *pairing, size_t run, double sign,
                        struct family_run *copy)
{
    const struct family *family = pairing->measuring->family;
    size_t measure = pairing->measuring->measure;
    size_t at = measure * QUANTITY_COUNT + carrier;
    double a = family_value(family, run, measure, pairing->a) / pairing->scale_a;
    double b = family_value(family, run, measure, pairing->b) / pairing->scale_b;
    copy->value[at] = a + sign * b;
    copy->added[at] = hypot(family_added(family, run, measure, pairing->a) / pairing->scale_a,
                            family_added(family, run, measure, pairing->b) / pairing->scale_b);
}

/* The family again with room of its own for values; all else belongs to the family. */
static enum status copy_runs(const struct family *family, struct family *copy, struct fault *fault)
{
    size_t n = family->n_measures * QUANTITY_COUNT;
    void *runs = NULL;
    *copy = *family;
    copy->runs = NULL;
    enum status status = array_make(&runs, family->n_runs, sizeof *copy->runs, fault);
    copy->runs = runs;
    for (size_t i = 0; status == OK && i < family->n_runs; i++) {
        void *value = NULL;
        void *added = NULL;
        copy->runs[i] = family->runs[i];
        status = array_make(&value, n, sizeof(double), fault);
        if (status == OK)
            status = array_make(&added, n, sizeof(double), fault);
        copy->runs[i].value = value;
        copy->runs[i].added = added;
    }
    return status;
}

static void end_copy(const struct family *family, struct family *copy)
{
    for (size_t i = 0; copy->runs != NULL && i < copy->n_runs; i++) {
        if (copy->runs[i].value != family->runs[i].value)
            free(copy->runs[i].value);
        if (copy->runs[i].added != family->runs[i].added)
            free(copy->runs[i].added);
    }
    free(copy->runs);
}

static enum status make_combined(const struct pairing *pairing, double sign, struct family *copy,
                                 struct measured_deltas *deltas, struct fault *fault)
{
    for (size_t i = 0; i < copy->n_runs; i++)
        combine_run(pairing, i, sign, &copy->runs[i]);
    enum status status = make(copy, carrier, pairing->measuring->measure,
                              pairing->measuring->confidence, &not_known, deltas, fault);
    /* Both come from mountings that repeat, so that an unknown uncertainty here is one of 0: what goes
     * wholly together leaves no scatter in the sum, or in the difference. */
    for (size_t i = 0; status == OK && i < deltas->n * deltas->n; i++)
        if (isnan(deltas->covariance[i]))
            deltas->covariance[i] = 0;
    return status;
}

/* One scale for all configurations: the first uncertainty that is known. */
static double scale_of(const struct measured_deltas *deltas)
{
    for (size_t i = 1; i < deltas->n; i++)
        if (measured_delta_is_known(deltas, i) && deltas->readings[i].standard_uncertainty > 0)
            return deltas->readings[i].standard_uncertainty;
    return (double)NAN;
}

/* What brings sum and difference of a configuration to its two variances; see polarisation.h. */
static double mending(const struct pairing *pairing, const double *of_a, const double *of_b,
                      const double *sum, const double *difference, size_t at)
{
    double own = of_a[at] / (pairing->scale_a * pairing->scale_a) +
                 of_b[at] / (pairing->scale_b * pairing->scale_b);
    return 2 * own / (sum[at] + difference[at]);
}

static void polarise(const struct pairing *pairing, const struct measured_deltas *of_a,
                     const struct measured_deltas *of_b, const struct measured_deltas *sum,
                     const struct measured_deltas *difference, double *crossed)
{
    size_t n = of_a->n;
    double scale = pairing->scale_a * pairing->scale_b;
    for (size_t i = 1; i < n; i++)
        for (size_t j = 1; j < n; j++) {
            size_t at = i * n + j;
            if (i == j) {
                crossed[at] = 2 * scale *
                              polarised_covariance(
                                  of_a->covariance[at] / (pairing->scale_a * pairing->scale_a),
                                  of_b->covariance[at] / (pairing->scale_b * pairing->scale_b),
                                  sum->covariance[at], difference->covariance[at]);
                continue;
            }
            double mend = sqrt(mending(pairing, of_a->covariance, of_b->covariance, sum->covariance,
                                       difference->covariance, i * n + i) *
                               mending(pairing, of_a->covariance, of_b->covariance, sum->covariance,
                                       difference->covariance, j * n + j));
            crossed[at] = scale * mend * (sum->covariance[at] - difference->covariance[at]) / 2;
        }
}

static enum status cross(struct pairing *pairing, const struct measured_deltas *of_a,
                         const struct measured_deltas *of_b, double *crossed, struct fault *fault)
{
    struct family copy;
    struct measured_deltas sum = {0};
    struct measured_deltas difference = {0};
    enum status status = copy_runs(pairing->measuring->family, &copy, fault);
    if (status == OK)
        status = make_combined(pairing, 1, &copy, &sum, fault);
    if (status == OK)
        status = make_combined(pairing, -1, &copy, &difference, fault);
    if (status == OK)
        polarise(pairing, of_a, of_b, &sum, &difference, crossed);
    measured_deltas_end(&sum);
    measured_deltas_end(&difference);
    end_copy(pairing->measuring->family, &copy);
    return status;
}

enum status measured_deltas_cross(const struct measuring *measuring, enum quantity a,
                                  enum quantity b, const struct measured_deltas *of_a,
                                  const struct measured_deltas *of_b, double **crossed,
                                  struct fault *fault)
{
    struct pairing pairing = {measuring, a, b, scale_of(of_a), scale_of(of_b)};
    void *array = NULL;
    size_t n = of_a->n; /* at least 1, the baseline */
    *crossed = NULL;
    enum status status = array_make(&array, n * n, sizeof **crossed, fault);
    if (status != OK)
        return status;
    *crossed = array;
    for (size_t i = 1; i < n; i++)
        for (size_t j = 1; j < n; j++)
            (*crossed)[i * n + j] = (double)NAN;
    if (isnan(pairing.scale_a) || isnan(pairing.scale_b))
        return OK;
    status = cross(&pairing, of_a, of_b, *crossed, fault);
    if (status != OK) {
        free(*crossed);
        *crossed = NULL;
    }
    return status;
}
