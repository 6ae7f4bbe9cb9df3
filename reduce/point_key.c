/* point_key.c - canonical inputs of a run's point reductions; see point_key.h. */
#include "reduce/point_key.h"

#include <stdio.h>
#include <string.h>

#include "reduce/belt_tare.h"
#include "reduce/boundary_key.h"
#include "reduce/boundary_taps.h"
#include "reduce/calibration_read.h"
#include "reduce/recipe.h"
#include "reduce/record_frozen.h"
#include "reduce/rows.h"
#include "reduce/support_table.h"
#include "reduce/tare_choice.h"
#include "reduce/undeclared_change.h"
#include "reduce/zero_choice.h"

/* Raise a method's version when it gives other numbers for the same inputs. */
static const char *const methods[][2] = {
    {"method zero", "linear in time v2"},
    {"method balance", "direct form from outputs v1"},
    {"method weight tare", "lookup within tolerance, or fit and interpolated residual v2"},
    {"method belt tare", "lookup within tolerance v1"},
    {"method tables", "interpolated between rows v1"},
    {"method ride heights", "plane or line by least squares v1"},
    {"method cells", "added on the ground at the wheels v1"},
    {"method transfer", "statics, turned by yaw, any of the loads v3"},
    {"method air", "CIPM-2007 v1"},
    {"method freestream", "compressible, or declared density v2"},
    {"method facility coefficients", "filled within the point, any of them v3"},
    {"method buoyancy", "horizontal, two gradients v2"},
    {"method blockage", "families v2"},
    {"method flow angularity", "reference body v2"},
    {"method Reynolds", "log10 line v1"},
    {"method full size", "by model scale v1"},
    {"method taps", "stagnation value kept, or coefficients v3"},
    {"method uncertainty", "central differences of means v2"},
    {"method point flags", "v8"},
};

/* The run as it was logged: sheet row, then every file with its hash. */
static enum status add_run(const struct night *night, const struct run_row *run, const char *part,
                           struct key_text *key, struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    char name[64];
    key_text_word(key, part, run->run);
    key_text_word(key, "  start", run->start_text);
    key_text_number(key, "  start_s", run->start);
    key_text_word(key, "  ingest key", run->ingest_key);
    enum status status =
        rows_open(night->store, "SELECT map, sha256 FROM log WHERE run = ?1 ORDER BY position",
                  (const char *const[]){run->run}, 1, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        const char *map = statement_text(statement, 0);
        const char *sha256 = statement_text(statement, 1);
        (void)snprintf(name, sizeof name, "  log read as %.40s", map == NULL ? "" : map);
        key_text_word(key, name, sha256 == NULL ? "" : sha256);
        const struct channel_map *declared = campaign_map(night->campaign, map == NULL ? "" : map);
        if (declared != NULL && declared->has_taps)
            key_text_number(key, "  taps measured", (double)declared->taps_measured);
    }
    statement_free(statement);
    return status;
}

static enum status add_zero_end(const struct night *night, const struct zero_end *end,
                                const char *part, struct key_text *key, struct fault *fault)
{
    if (end->run == NULL)
        return OK;
    enum status status = add_run(night, end->run, part, key, fault);
    key_text_word(key, "  point", end->point == NULL ? "the first" : end->point);
    return status;
}

static enum status add_zeros(const struct night *night, const struct run_row *run,
                             struct key_text *key, struct fault *fault)
{
    static const char *const kinds[] = {"none", "missing", "constant", "linear in time"};
    struct zero_choice choice;
    enum status status = zero_choose(night, run, &choice, fault);
    if (status != OK)
        return status;
    key_text_word(key, "zero", kinds[choice.kind]);
    key_text_word(key, "zero missing", choice.missing);
    key_text_number(key, "zero after missing", choice.after_missing);
    status = add_zero_end(night, &choice.before, "zero before", key, fault);
    if (status == OK)
        status = add_zero_end(night, &choice.after, "zero after", key, fault);
    zero_choice_end(&choice);
    return status;
}

static enum status add_tare(const struct night *night, const struct run_row *run,
                            struct key_text *key, struct fault *fault)
{
    static const char *const kinds[] = {"none", "missing", "lookup"};
    struct tare_choice choice;
    tare_choose(night, run, &choice);
    key_text_word(key, "weight tare", kinds[choice.kind]);
    key_text_word(key, "weight tare missing", choice.missing);
    if (choice.run == NULL)
        return OK;
    enum status status = add_run(night, choice.run, "weight tare run", key, fault);
    if (status == OK)
        status = add_zeros(night, choice.run, key, fault);
    return status;
}

static enum status add_belt(const struct night *night, const struct run_row *run,
                            struct key_text *key, struct fault *fault)
{
    const struct run_row *belt = belt_tare_choose(night, run);
    if (belt == NULL)
        return OK;
    enum status status = add_run(night, belt, "belt tare run", key, fault);
    return status == OK ? add_zeros(night, belt, key, fault) : status;
}

/* The run that this one is held against; its zeros and its tare. */
static enum status add_reference(const struct night *night, const struct run_row *run,
                                 struct key_text *key, struct fault *fault)
{
    const struct run_row *before = undeclared_reference(night, run);
    key_text_word(key, "run before", before == NULL ? "" : before->run);
    if (before == NULL)
        return OK;
    enum status status = add_zeros(night, before, key, fault);
    return status == OK ? add_tare(night, before, key, fault) : status;
}

/* What boundary corrections read beside the run: their taps, and the empty section. */
static enum status add_boundary(const struct night *night, const struct facility *facility,
                                struct key_text *key, struct fault *fault)
{
    const struct run_row *empty = boundary_empty_run(night, facility);
    enum status status = boundary_taps_key(night, facility, key, fault);
    if (status == OK && empty != NULL)
        status = add_run(night, empty, "empty section", key, fault);
    if (status == OK && empty != NULL)
        status = add_zeros(night, empty, key, fault);
    return status;
}

static void add_car(const struct car *car, struct key_text *key)
{
    key_text_number(key, "car reference area [m2]", car->reference_area);
    key_text_number(key, "car wheelbase [m]", car->wheelbase);
    key_text_number(key, "car model scale", car->model_scale);
    key_text_number(key, "car track front [m]", car->track_front);
    key_text_number(key, "car track rear [m]", car->track_rear);
    key_text_number(key, "car length [m]", car->length);
    key_text_number(key, "car volume [m3]", car->volume);
}

/* Which loads are added up, what they contain, and what the heights are made of. */
static void add_rig(const struct facility *facility, struct key_text *key)
{
    key_text_word(key, "facility contains", facility->contains == NULL ? "" : facility->contains);
    key_text_number(key, "facility added cells", facility->added_cells);
    key_text_number(key, "facility belt centre [m]", facility->belt_centre);
    key_text_number(key, "facility car stands on wheels", facility->stands_on_wheels);
    key_text_number(key, "facility ride height", (double)facility->ride_height);
    key_text_number(key, "facility roll is zero", facility->roll_is_zero);
    for (size_t i = 0; i < facility->n_height_sensors; i++) {
        const struct height_sensor *sensor = &facility->height_sensors[i];
        const double place[] = {sensor->x, sensor->y, sensor->offset};
        key_text_word(key, "facility height sensor", role_name(sensor->role));
        key_text_numbers(key, "  x, y, offset [m]", place, 3);
    }
}

static void add_facility(const struct facility *facility, struct key_text *key)
{
    key_text_number(key, "facility section", (double)facility->section);
    key_text_number(key, "facility width [m]", facility->width);
    key_text_number(key, "facility height [m]", facility->height);
    key_text_number(key, "facility already corrected", (double)facility->corrected);
    key_text_number(key, "facility yaw sign", facility->yaw_sign);
    key_text_number(key, "facility humidity absent", facility->humidity_absent);
    key_text_number(key, "facility freestream", (double)facility->freestream);
    key_text_number(key, "facility density [kg/m3]", facility->density);
    key_text_number(key, "facility viscosity [Pa s]", facility->viscosity);
    key_text_numbers(key, "facility contraction", facility->drop_polynomial,
                     facility->n_drop_polynomial);
    key_text_number(key, "facility pressure gradient [1/m]", facility->pressure_gradient);
    key_text_word(key, "facility balance follows",
                  facility->balance_follows == NULL ? "" : facility->balance_follows);
    key_text_numbers(key, "facility tare tolerance [m, rad]", facility->tare_tolerance,
                     ATTITUDE_COUNT);
    key_text_number(key, "facility weight tare", (double)facility->weight_tare);
    key_text_number(key, "facility belt tare", (double)facility->belt_tare);
    key_text_number(key, "facility belt tolerance [m/s]", facility->belt_tolerance);
    for (int i = 0; i < TABLE_KINDS; i++) {
        key_text_number(key, table_kind_name((enum table_kind)i), facility->tables[i].file != NULL);
        key_text_word(key, "  takes out",
                      facility->tables[i].contains == NULL ? "" : facility->tables[i].contains);
    }
    key_text_number(key, "facility scales weight [kg]", facility->scales_weight);
    key_text_number(key, "facility gravity [m/s2]", facility->gravity);
    key_text_number(key, "facility buoyancy", (double)facility->buoyancy);
    key_text_number(key, "facility buoyancy volume factor", facility->buoyancy_volume_factor);
    key_text_word(key, "facility blockage", facility->blockage == NULL ? "" : facility->blockage);
    key_text_number(key, "facility blockage shape", facility->blockage_shape);
    key_text_number(key, "facility floor image", facility->floor_image);
    boundary_key(&facility->boundary, key);
    add_rig(facility, key);
}

static enum status add_balance(const struct night *night, const char *name, struct key_text *key,
                               struct fault *fault)
{
    const struct balance *balance = campaign_balance(night->campaign, name);
    if (balance == NULL)
        return OK;
    key_text_number(key, "balance declared", 1);
    key_text_numbers(key, "balance origin [m]", balance->origin, 3);
    key_text_numbers(key, "balance axis sign", balance->axis_sign, 3);
    key_text_numbers(key, "balance moment sign", balance->moment_sign, 3);
    key_text_numbers(key, "balance rated [N, N m]", balance->rated, LOAD_COUNT);
    key_text_word(key, "balance contains", balance->contains == NULL ? "" : balance->contains);
    key_text_word(key, "balance output unit",
                  balance->output_unit == NULL ? "" : balance->output_unit);
    return calibration_key(night->store, name, key, fault);
}

/* Only what a flag of the point stage is measured against. */
static void add_limits(const struct campaign *campaign, struct key_text *key)
{
    key_text_number(key, "limit zero drift", campaign->limits.zero_drift);
    key_text_number(key, "count", campaign->count); /* a flag's sentence counts in it */
    key_text_number(key, "limit q unsteady", campaign->limits.q_unsteady);
    key_text_number(key, "limit belt speed", campaign->limits.belt_speed);
    key_text_number(key, "limit height residual [m]", campaign->limits.height_residual);
    for (size_t i = 0; i < campaign->n_metrics; i++) {
        char name[64];
        (void)snprintf(name, sizeof name, "worthwhile %.40s", campaign->metrics[i].quantity);
        key_text_number(key, name, campaign->metrics[i].worthwhile);
    }
}

/* A point whose record of a coordinate is spoilt is failed where a target names that coordinate. */
static void add_named_axes(const struct attitudes *attitudes, struct key_text *key)
{
    double named[ATTITUDE_COUNT] = {0};
    for (int axis = 0; axis < ATTITUDE_COUNT; axis++)
        for (size_t i = 0; i < attitudes->n_targets; i++)
            named[axis] = attitudes->targets[i].given[axis] ? 1 : named[axis];
    key_text_numbers(key, "targets name coordinates", named, ATTITUDE_COUNT);
}

enum status point_key_before_records(const struct night *night, const struct run_row *run,
                                     struct key_text *key, struct fault *fault)
{
    memset(key, 0, sizeof *key);
    enum status status = add_run(night, run, "run", key, fault);
    key_text_word(key, "facility", run->facility);
    key_text_word(key, "entry", run->entry);
    key_text_word(key, "kind", run->kind);
    key_text_word(key, "balance", run->balance);
    if (status == OK)
        status = add_zeros(night, run, key, fault);
    if (status == OK)
        status = add_tare(night, run, key, fault);
    if (status == OK)
        status = add_reference(night, run, key, fault);
    if (status == OK)
        status = add_belt(night, run, key, fault);
    if (status == OK)
        status = support_tables_key(night->store, run->facility, key, fault);
    add_car(&night->campaign->car, key);
    const struct facility *facility = campaign_facility(night->campaign, run->facility);
    if (facility != NULL) {
        add_facility(facility, key);
        if (status == OK)
            status = add_boundary(night, facility, key, fault);
    }
    key_text_number(key, "targets name a yaw", recipe_targets_name_yaw(night->campaign));
    add_named_axes(&night->campaign->attitudes, key);
    if (status == OK)
        status = add_balance(night, run->balance, key, fault);
    add_limits(night->campaign, key);
    decisions_key(&night->decisions, run->run, key);
    for (size_t i = 0; i < sizeof methods / sizeof methods[0]; i++)
        key_text_word(key, methods[i][0], methods[i][1]);
    return status == OK ? key_text_status(key, fault) : status;
}

enum status point_key_make(const struct night *night, const struct run_row *run,
                           struct key_text *key, struct fault *fault)
{
    enum status status = point_key_before_records(night, run, key, fault);
    if (status == OK)
        status = record_frozen_key(night, run, key, fault);
    return status == OK ? key_text_status(key, fault) : status;
}
