/* boundary_taps.c - see boundary_taps.h. */
#include "reduce/boundary_taps.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "reduce/inputs.h"
#include "reduce/physics/tunnel_freestream.h"
#include "reduce/rows.h"
#include "reduce/run_work.h"
#include "reduce/tap_zero.h"

static const char surface_sql[] =
    "SELECT tap, x_m, y_m, z_m, area_m2 FROM tap WHERE surface = ?1 ORDER BY sequence";

/* The taps of a surface, of this run. */
struct surface {
    struct boundary_tap *tap;
    struct duct_place *place;
    char **name;
    double *area; /* NAN where not given */
    size_t n, capacity;
};

static void end_surface(struct surface *surface)
{
    for (size_t i = 0; i < surface->n; i++)
        free(surface->name[i]);
    free(surface->name);
    free(surface->place);
    free(surface->area);
    free(surface->tap);
    memset(surface, 0, sizeof *surface);
}

/* Grows all four lists alike. */
static enum status reserve(struct surface *surface, struct fault *fault)
{
    size_t needed = surface->n + 1, capacity = surface->capacity;
    void *lists[] = {surface->tap, surface->place, surface->name, surface->area};
    const size_t sizes[] = {sizeof *surface->tap, sizeof *surface->place, sizeof *surface->name,
                            sizeof *surface->area};
    enum status status = OK;
    for (int i = 0; status == OK && i < 4; i++) {
        capacity = surface->capacity;
        status = array_reserve(&lists[i], &capacity, needed, sizes[i], fault);
    }
    surface->tap = lists[0];
    surface->place = lists[1];
    surface->name = lists[2];
    surface->area = lists[3];
    if (status == OK)
        surface->capacity = capacity;
    return status;
}

static enum status take_tap(const struct run_work *work, struct statement *row,
                            struct surface *surface, struct fault *fault)
{
    enum status status = reserve(surface, fault);
    if (status != OK)
        return status;
    status = rows_text(row, 0, &surface->name[surface->n], fault);
    if (status != OK)
        return status;
    size_t i = surface->n++;
    const char *name = surface->name[i];
    surface->place[i] =
        (struct duct_place){statement_real(row, 1), statement_real(row, 2), statement_real(row, 3)};
    surface->area[i] = statement_is_null(row, 4) ? (double)NAN : statement_real(row, 4);
    surface->tap[i] = (struct boundary_tap){.here = run_data_tap(&work->data, name),
                                            .before = run_data_tap(&work->zeros.before.data, name),
                                            .after = run_data_tap(&work->zeros.after.data, name)};
    return OK;
}

static enum status check_surface(const struct run_work *work, const char *name,
                                 const struct surface *surface, struct fault *fault)
{
    if (surface->n == 0)
        return FAIL(fault, NO_RESULT,
                    "%s reads taps of the surface '%s', and taps.csv has none of it; name its taps "
                    "there",
                    work->recipe.tunnel.blockage, name);
    for (size_t i = 0; i < surface->n; i++)
        if (surface->tap[i].here < 0)
            return FAIL(
                fault, NO_RESULT,
                "%s reads the surface '%s', and its tap %s is not in the logs of run %s; log "
                "it, or take it off the surface",
                work->recipe.tunnel.blockage, name, surface->name[i], work->run->run);
    for (size_t i = 1; i < surface->n; i++)
        if (work->data.channels[surface->tap[i].here].measured !=
            work->data.channels[surface->tap[0].here].measured)
            return FAIL(
                fault, NO_RESULT,
                "taps %s and %s of the surface '%s' are not measured alike; let one channel "
                "map's taps be of one kind",
                surface->name[0], surface->name[i], name);
    return OK;
}

static enum status read_surface(const struct run_work *work, const char *name,
                                struct surface *surface, struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0;
    memset(surface, 0, sizeof *surface);
    enum status status = rows_open(work->night->store, surface_sql, &name, 1, &row, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more)
        status = take_tap(work, row, surface, fault);
    statement_free(row);
    return status == OK ? check_surface(work, name, surface, fault) : status;
}

/* By area where every tap has one, else all alike. */
static void set_weights(struct surface *surface)
{
    double sum = 0.0;
    for (size_t i = 0; i < surface->n; i++)
        sum += surface->area[i];
    for (size_t i = 0; i < surface->n; i++)
        surface->tap[i].weight =
            sum > 0.0 ? surface->area[i] / sum : 1.0 / (double)surface->n; /* NAN is not */
}

static int are_coefficients(const struct run_work *work, const struct boundary_tap *tap)
{
    return tap != NULL && work->data.channels[tap->here].measured == TAPS_AS_COEFFICIENT;
}

static enum status read_base(const struct run_work *work, const char *name,
                             struct boundary_taps *taps, struct fault *fault)
{
    struct surface surface;
    enum status status = read_surface(work, name, &surface, fault);
    if (status == OK) {
        set_weights(&surface);
        taps->base = surface.tap;
        taps->n_base = surface.n;
        taps->are_coefficients = are_coefficients(work, surface.tap);
        surface.tap = NULL;
    }
    end_surface(&surface);
    return status;
}

/* Pa above static, or the coefficient as it stands. */
static double value_of(const struct run_work *work, const struct boundary_tap *tap,
                       const struct point_row *point)
{
    double value = point->channels[tap->here].mean;
    enum map_taps measured = work->data.channels[tap->here].measured;
    if (measured == TAPS_AS_COEFFICIENT)
        return value;
    struct tap_zero zero = tap_zero_at(work, tap->before, tap->after, point);
    if (measured == TAPS_ABSOLUTE) {
        double still = run_data_mean(&work->data, point, ROLE_STATIC_PRESSURE);
        value -= isfinite(still) ? still
                                 : run_data_mean(&work->data, point, ROLE_TOTAL_PRESSURE) -
                                       run_data_mean(&work->data, point, ROLE_TOTAL_MINUS_STATIC);
    }
    return zero.kind == TAP_ZERO_SILENT ? (double)NAN : value - zero.value;
}

/* Adds the coefficients of one point of the empty section. */
static enum status add_empty_point(const struct run_work *empty, const struct surface *surface,
                                   const struct point_row *point, double *sum, struct fault *fault)
{
    struct tunnel_inputs inputs;
    struct tunnel_freestream wind;
    double q = 1.0;
    inputs_fill(&empty->recipe, &empty->data, point, &empty->zeros, &inputs);
    if (!are_coefficients(empty, surface->tap)) {
        enum outcome outcome = tunnel_freestream(&empty->recipe.tunnel, &inputs, &wind);
        if (outcome != OUTCOME_OK)
            return FAIL(fault, NO_RESULT,
                        "the empty section, run %s point %s: %s; correct that run", empty->run->run,
                        point->point, outcome_sentence(outcome));
        q = wind.dynamic_pressure;
    }
    for (size_t i = 0; i < surface->n; i++) {
        double value = value_of(empty, &surface->tap[i], point) / q;
        if (!isfinite(value))
            return FAIL(fault, NO_RESULT,
                        "the empty section, run %s point %s, has no value of tap %s; take the tap "
                        "off the surface, or name another run",
                        empty->run->run, point->point, surface->name[i]);
        sum[i] += value;
    }
    return OK;
}

static enum status average_empty(const struct run_work *empty, const struct surface *surface,
                                 double *mean, struct fault *fault)
{
    enum status status = OK;
    if (empty->data.n_points == 0)
        return FAIL(fault, NO_RESULT, "the empty section's run %s has no points; name another",
                    empty->run->run);
    for (size_t i = 0; status == OK && i < empty->data.n_points; i++)
        status = add_empty_point(empty, surface, &empty->data.points[i], mean, fault);
    for (size_t i = 0; i < surface->n; i++)
        mean[i] /= (double)empty->data.n_points;
    return status;
}

const struct run_row *boundary_empty_run(const struct night *night, const struct facility *facility)
{
    if (!facility->boundary.given[BOUNDARY_WALL_SIGNATURE])
        return NULL;
    return night_run(night, facility->boundary.signature.empty_run);
}

/* Coefficients of the empty section at the wall's taps, in their order. */
static enum status read_empty(const struct run_work *work, double *mean, struct fault *fault)
{
    const struct signature_block *block = &work->recipe.facility->boundary.signature;
    struct run_work empty;
    struct surface surface;
    memset(&empty, 0, sizeof empty);
    memset(&surface, 0, sizeof surface);
    empty.night = work->night;
    empty.run = boundary_empty_run(work->night, work->recipe.facility);
    if (empty.run == NULL || !empty.run->usable ||
        strcmp(empty.run->facility, work->run->facility) != 0)
        return FAIL(
            fault, NO_RESULT,
            "wall_signature: empty_run '%s' is not a usable run of facility %s; name one in "
            "campaign.yaml",
            block->empty_run, work->run->facility);
    enum status status = run_data_read(empty.night, empty.run->run, &empty.data, fault);
    if (status == OK)
        status = recipe_make(empty.night, empty.run, &empty.data, &empty.recipe, fault);
    if (status == OK)
        status = zeros_read(empty.night, empty.run, &empty.zeros, fault);
    if (status == OK)
        status = read_surface(&empty, block->surface, &surface, fault);
    if (status == OK)
        status = average_empty(&empty, &surface, mean, fault);
    end_surface(&surface);
    run_work_end(&empty);
    return status;
}

static enum status make_signature(const struct run_work *work, const struct surface *surface,
                                  struct boundary_taps *taps, struct fault *fault)
{
    const struct signature_block *block = &work->recipe.facility->boundary.signature;
    const struct tunnel_recipe *recipe = &work->recipe.tunnel;
    struct wall_layout layout = {.duct = {recipe->section_width, recipe->section_height},
                                 .tap = surface->place,
                                 .n = surface->n,
                                 .stations = block->stations.n,
                                 .axis_height = block->axis_height,
                                 .floor_image = recipe->floor_image,
                                 .nose = -recipe->length / 2.0,
                                 .tail = recipe->length / 2.0};
    for (size_t i = 0; i < block->stations.n && i < SIGNATURE_STATIONS_MAX; i++)
        layout.station[i] = block->stations.value[i];
    enum outcome outcome = wall_signature_make(&layout, &taps->signature);
    if (outcome == OUTCOME_OK)
        return OK;
    if (outcome == OUTCOME_NO_MEMORY)
        return FAIL(fault, NO_MEMORY, "no memory for %zu wall taps", surface->n);
    return FAIL(
        fault, NO_RESULT,
        "wall_signature: %zu taps and %zu stations: %s; give 1 to %d stations, two taps more "
        "than that, at different x",
        surface->n, block->stations.n, outcome_sentence(outcome), (int)SIGNATURE_STATIONS_MAX);
}

static enum status read_walls(const struct run_work *work, struct boundary_taps *taps,
                              struct fault *fault)
{
    struct surface surface;
    void *array = NULL;
    enum status status =
        read_surface(work, work->recipe.facility->boundary.signature.surface, &surface, fault);
    if (status == OK)
        status = array_make(&array, surface.n, sizeof *taps->empty, fault);
    taps->empty = array;
    if (status == OK)
        status = array_make(&array, surface.n, sizeof *taps->value, fault);
    taps->value = status == OK ? array : NULL;
    if (status == OK)
        status = read_empty(work, taps->empty, fault);
    if (status == OK)
        status = make_signature(work, &surface, taps, fault);
    if (status == OK) {
        taps->wall = surface.tap;
        taps->n_wall = surface.n;
        taps->are_coefficients = are_coefficients(work, surface.tap);
        surface.tap = NULL;
    }
    end_surface(&surface);
    return status;
}

enum status boundary_taps_read(const struct run_work *work, struct boundary_taps *taps,
                               struct fault *fault)
{
    const char *family = work->recipe.tunnel.blockage;
    const char *base = work->recipe.facility->boundary.maskell.base_surface;
    enum status status = OK;
    memset(taps, 0, sizeof *taps);
    if (strncmp(family, "maskell", strlen("maskell")) == 0 && base != NULL)
        status = read_base(work, base, taps, fault);
    else if (strcmp(family, "wall signature") == 0)
        status = read_walls(work, taps, fault);
    if (status != OK)
        boundary_taps_end(taps);
    return status;
}

void boundary_taps_end(struct boundary_taps *taps)
{
    free(taps->base);
    free(taps->wall);
    free(taps->value);
    free(taps->empty);
    wall_signature_end(&taps->signature);
    memset(taps, 0, sizeof *taps);
}

void boundary_taps_fill(const struct run_work *work, const struct point_row *point,
                        struct tunnel_inputs *inputs)
{
    const struct boundary_taps *taps = &work->taps;
    double base = 0.0;
    for (size_t i = 0; i < taps->n_base; i++)
        base += taps->base[i].weight * value_of(work, &taps->base[i], point);
    if (taps->n_base > 0 && taps->are_coefficients)
        inputs->base_cp = base;
    else if (taps->n_base > 0)
        inputs->base_pressure = base;
    if (taps->n_wall == 0)
        return;
    for (size_t i = 0; i < taps->n_wall; i++)
        taps->value[i] = value_of(work, &taps->wall[i], point);
    inputs->wall = (struct wall_reading){&taps->signature, taps->value, taps->empty,
                                         taps->are_coefficients ? 1.0 : 0.0};
}

static enum status add_surface(const struct night *night, const char *name, struct key_text *key,
                               struct fault *fault)
{
    struct statement *row = NULL;
    int more = 0;
    key_text_word(key, "surface", name);
    enum status status = rows_open(night->store, surface_sql, &name, 1, &row, fault);
    while (status == OK && (status = statement_step(row, &more, fault)) == OK && more) {
        const double place[] = {statement_real(row, 1), statement_real(row, 2),
                                statement_real(row, 3),
                                statement_is_null(row, 4) ? (double)NAN : statement_real(row, 4)};
        key_text_word(key, "  tap", statement_text(row, 0));
        key_text_numbers(key, "  x, y, z [m], area [m2]", place, 4);
    }
    statement_free(row);
    return status;
}

enum status boundary_taps_key(const struct night *night, const struct facility *facility,
                              struct key_text *key, struct fault *fault)
{
    const struct boundary *boundary = &facility->boundary;
    enum status status = OK;
    if (boundary->given[BOUNDARY_MASKELL] && boundary->maskell.base_surface != NULL)
        status = add_surface(night, boundary->maskell.base_surface, key, fault);
    if (status == OK && boundary->given[BOUNDARY_WALL_SIGNATURE])
        status = add_surface(night, boundary->signature.surface, key, fault);
    return status;
}
