/* height_plane.c - see height_plane.h. */
#include "reduce/physics/height_plane.h"

#include <gsl/gsl_matrix.h>
#include <gsl/gsl_multifit.h>
#include <math.h>

#include "reduce/physics/finite.h"

enum { COEFFICIENTS_MAX = 3 };

static const double one_place = 1e-3; /* m */

static struct height_place centre_of(const struct height_place *place, size_t n)
{
    struct height_place centre = {0, 0};
    for (size_t i = 0; i < n; i++) {
        centre.x += place[i].x / (double)n;
        centre.y += place[i].y / (double)n;
    }
    return centre;
}

/* Spread of the places along their two principal directions: sums of products, of which the direction
 * of the smaller one is (-sin, cos) of the larger one's angle. */
static void spreads(const struct height_place *place, size_t n, double spread[2], double *angle)
{
    struct height_place centre = centre_of(place, n);
    double xx = 0, yy = 0, xy = 0;
    for (size_t i = 0; i < n; i++) {
        double x = place[i].x - centre.x, y = place[i].y - centre.y;
        xx += x * x;
        yy += y * y;
        xy += x * y;
    }
    *angle = 0.5 * atan2(2 * xy, xx - yy);
    spread[0] = spread[1] = 0;
    for (size_t i = 0; i < n; i++) {
        double x = place[i].x - centre.x, y = place[i].y - centre.y;
        double along = x * cos(*angle) + y * sin(*angle);
        double across = y * cos(*angle) - x * sin(*angle);
        spread[0] = hypot(spread[0], along);
        spread[1] = hypot(spread[1], across);
    }
}

static int line_rank(const struct height_place *place, size_t n, struct height_place *missing)
{
    struct height_place centre = centre_of(place, n);
    double spread = 0;
    for (size_t i = 0; i < n; i++)
        spread = hypot(spread, place[i].x - centre.x);
    if (spread > one_place)
        return 2;
    *missing = (struct height_place){1, 0};
    return 1;
}

int height_rank(enum height_model model, const struct height_place *place, size_t n,
                struct height_place *missing)
{
    struct height_place unused;
    double spread[2], angle = 0;
    if (missing == NULL)
        missing = &unused;
    *missing = (struct height_place){0, 0};
    if (n == 0)
        return 0;
    if (model == HEIGHT_LINE)
        return line_rank(place, n, missing);
    spreads(place, n, spread, &angle);
    if (spread[0] <= one_place)
        return 1;
    if (spread[1] > one_place)
        return 3;
    *missing = (struct height_place){-sin(angle), cos(angle)};
    return 2;
}

/* What GSL works in; the design is about the places' centre, so that its columns are well scaled. */
struct work {
    gsl_matrix *design, *covariance;
    gsl_vector *unit, *coefficient;
    gsl_multifit_linear_workspace *fit;
};

static void end(struct work *work)
{
    gsl_matrix_free(work->design);
    gsl_matrix_free(work->covariance);
    gsl_vector_free(work->unit);
    gsl_vector_free(work->coefficient);
    gsl_multifit_linear_free(work->fit);
}

static int begin(struct work *work, const struct height_place *place, size_t n, size_t p)
{
    struct height_place centre = centre_of(place, n);
    *work = (struct work){gsl_matrix_alloc(n, p), gsl_matrix_alloc(p, p), gsl_vector_alloc(n),
                          gsl_vector_alloc(p), gsl_multifit_linear_alloc(n, p)};
    if (work->design == NULL || work->covariance == NULL || work->unit == NULL ||
        work->coefficient == NULL || work->fit == NULL) {
        end(work);
        return 0;
    }
    for (size_t i = 0; i < n; i++) {
        gsl_matrix_set(work->design, i, 0, 1);
        gsl_matrix_set(work->design, i, 1, place[i].x - centre.x);
        if (p > 2)
            gsl_matrix_set(work->design, i, 2, place[i].y - centre.y);
    }
    return 1;
}

/* Coefficients at the origin as linear forms of the heights: the fit of a one at each place. */
static enum outcome find_forms(const struct height_place *place, size_t n, size_t p,
                               double form[COEFFICIENTS_MAX][HEIGHT_PLACES_MAX])
{
    struct work work;
    struct height_place centre = centre_of(place, n);
    if (!begin(&work, place, n, p))
        return OUTCOME_NO_MEMORY;
    enum outcome outcome = OUTCOME_OK;
    for (size_t i = 0; i < n && outcome == OUTCOME_OK; i++) {
        double unused = 0;
        gsl_vector_set_basis(work.unit, i);
        if (gsl_multifit_linear(work.design, work.unit, work.coefficient, work.covariance, &unused,
                                work.fit) != 0)
            outcome = OUTCOME_SINGULAR;
        form[1][i] = gsl_vector_get(work.coefficient, 1);
        form[2][i] = p > 2 ? gsl_vector_get(work.coefficient, 2) : 0;
        form[0][i] =
            gsl_vector_get(work.coefficient, 0) - form[1][i] * centre.x - form[2][i] * centre.y;
    }
    end(&work);
    return outcome;
}

static double apply(const double *form, const double *height, size_t n)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += form[i] * height[i];
    return sum;
}

static void set_residuals(const struct height_place *place, const double *height,
                          double form[COEFFICIENTS_MAX][HEIGHT_PLACES_MAX],
                          struct height_plane *plane)
{
    for (size_t i = 0; i < plane->n; i++) {
        plane->residual[i] = height[i] - (plane->a + plane->b * place[i].x + plane->c * place[i].y);
        for (size_t j = 0; j < plane->n; j++)
            plane->residual_of[i][j] =
                (double)(i == j) - form[0][j] - form[1][j] * place[i].x - form[2][j] * place[i].y;
    }
}

/* d pitch = db / cos(pitch); roll = -asin(s), s = c / sqrt(1 - b^2). */
static void set_pose(double form[COEFFICIENTS_MAX][HEIGHT_PLACES_MAX], int is_plane,
                     double wheelbase, struct height_plane *plane)
{
    double level = sqrt(1 - plane->b * plane->b), s = plane->c / level;
    plane->front = plane->a - plane->b * wheelbase / 2;
    plane->rear = plane->a + plane->b * wheelbase / 2;
    plane->pitch = asin(plane->b);
    plane->roll = is_plane ? -asin(s) : (double)NAN;
    for (size_t i = 0; i < plane->n; i++) {
        double ds = form[2][i] / level + s * plane->b * form[1][i] / (level * level);
        plane->front_of[i] = form[0][i] - form[1][i] * wheelbase / 2;
        plane->rear_of[i] = form[0][i] + form[1][i] * wheelbase / 2;
        plane->pitch_of[i] = form[1][i] / level;
        plane->roll_of[i] = is_plane ? -ds / sqrt(1 - s * s) : (double)NAN;
    }
}

static enum outcome check(enum height_model model, const struct height_place *place,
                          const double *height, size_t n, double wheelbase)
{
    size_t coefficients = model == HEIGHT_PLANE ? 3 : 2;
    if (n < coefficients || n > HEIGHT_PLACES_MAX)
        return OUTCOME_TOO_FEW;
    if (!all_finite(height, n) || !isfinite(wheelbase))
        return OUTCOME_NOT_FINITE;
    for (size_t i = 0; i < n; i++)
        if (!isfinite(place[i].x) || !isfinite(place[i].y))
            return OUTCOME_NOT_FINITE;
    if (wheelbase <= 0)
        return OUTCOME_GEOMETRY;
    return height_rank(model, place, n, NULL) < (int)coefficients ? OUTCOME_SINGULAR : OUTCOME_OK;
}

enum outcome height_plane_fit(enum height_model model, const struct height_place *place,
                              const double *height, size_t n, double wheelbase,
                              struct height_plane *plane)
{
    double form[COEFFICIENTS_MAX][HEIGHT_PLACES_MAX] = {{0}};
    size_t coefficients = model == HEIGHT_PLANE ? 3 : 2;
    enum outcome outcome = check(model, place, height, n, wheelbase);
    if (outcome == OUTCOME_OK)
        outcome = find_forms(place, n, coefficients, form);
    if (outcome != OUTCOME_OK)
        return outcome;
    struct height_plane made = {.n = n, .spare = n - coefficients};
    made.a = apply(form[0], height, n);
    made.b = apply(form[1], height, n);
    made.c = apply(form[2], height, n);
    if (!(made.b * made.b + made.c * made.c < 1))
        return OUTCOME_GEOMETRY;
    set_residuals(place, height, form, &made);
    set_pose(form, model == HEIGHT_PLANE, wheelbase, &made);
    *plane = made;
    return OUTCOME_OK;
}
