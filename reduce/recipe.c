/* recipe.c - the recipe of a run; see recipe.h. */
#include "reduce/recipe.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/boundary_made.h"
#include "reduce/calibration_read.h"

enum { SOURCES = 3, LOADS = 6 };

static const struct {
    enum role first;
    int roles;
    const char *words;
} sources[SOURCES] = {
    [LOADS_FROM_OUTPUTS] = {ROLE_BALANCE_OUTPUT_1, 6, "balance outputs"},
    [LOADS_READY] = {ROLE_FORCE_X, 6, "ready-made loads"},
    [LOADS_AS_COEFFICIENTS] = {ROLE_DRAG_COEFFICIENT, 8, "coefficients of the facility"},
};

enum role recipe_first_role(enum load_source source)
{
    return sources[source].first;
}

static int has_source(const struct run_data *data, int source)
{
    for (int i = 0; i < sources[source].roles; i++)
        if (run_data_channel(data, (enum role)((int)sources[source].first + i)) >= 0)
            return 1;
    return 0;
}

static enum status choose_source(const struct run_data *data, enum load_source *source,
                                 struct fault *fault)
{
    int chosen = -1;
    for (int i = 0; i < SOURCES; i++) {
        if (!has_source(data, i))
            continue;
        if (chosen >= 0)
            return FAIL(fault, NO_RESULT,
                        "the logs hold both %s and %s; map only one of them in channel_maps",
                        sources[chosen].words, sources[i].words);
        chosen = i;
    }
    if (chosen < 0 && run_data_channel(data, ROLE_TAP) < 0)
        return FAIL(fault, NO_RESULT,
                    "the logs hold no balance outputs, loads, coefficients or taps; map them in "
                    "channel_maps");
    *source = chosen < 0 ? LOADS_NONE : (enum load_source)chosen;
    return OK;
}

static int has(const struct run_data *data, enum role role)
{
    return run_data_channel(data, role) >= 0;
}

/* Loads and coefficients that have no channel. Two of CLF, CLR and CPM decide CL. */
static void set_absent(const struct run_data *data, struct tunnel_recipe *recipe)
{
    int axles = has(data, ROLE_DOWNFORCE_FRONT_COEFFICIENT) +
                has(data, ROLE_DOWNFORCE_REAR_COEFFICIENT) + has(data, ROLE_PITCH_COEFFICIENT);
    recipe->drag_not_given = !has(data, ROLE_DRAG_COEFFICIENT);
    recipe->downforce_not_given = !has(data, ROLE_DOWNFORCE_COEFFICIENT) && axles < 2;
    recipe->taps_are_coefficients = 1;
    for (size_t i = 0; i < data->n_channels; i++)
        if (data->channels[i].role == ROLE_TAP && data->channels[i].measured != TAPS_AS_COEFFICIENT)
            recipe->taps_are_coefficients = 0;
    for (int i = 0; recipe->source == LOADS_READY && i < LOADS; i++)
        if (!has(data, (enum role)((int)ROLE_FORCE_X + i)))
            recipe->not_measured |= 1U << i;
}

int recipe_needs_zero(const struct tunnel_recipe *recipe)
{
    if (recipe->source == LOADS_NONE)
        return !recipe->taps_are_coefficients;
    return recipe->source != LOADS_AS_COEFFICIENTS;
}

int recipe_absent_words(const struct tunnel_recipe *recipe, char *out, size_t size)
{
    static const char *const loads[LOADS] = {"Fx", "Fy", "Fz", "Mx", "My", "Mz"};
    int is_given = recipe->source == LOADS_AS_COEFFICIENTS;
    size_t used = (size_t)snprintf(out, size, "%s", is_given ? "not given:" : "not measured:");
    size_t head = used;
    for (int i = 0; i < LOADS && used < size; i++)
        if (recipe->not_measured >> i & 1U)
            used += (size_t)snprintf(out + used, size - used, " %s", loads[i]);
    if (is_given && recipe->drag_not_given)
        used += (size_t)snprintf(out + used, size - used, " CD");
    if (is_given && recipe->downforce_not_given)
        used += (size_t)snprintf(out + used, size - used, " CL");
    if (recipe->source == LOADS_NONE)
        used += (size_t)snprintf(out + used, size - used, " any load; the run has taps only");
    if (used > head)
        return 1;
    out[0] = '\0';
    return 0;
}

int recipe_has_loads(const struct tunnel_recipe *recipe)
{
    return recipe->source == LOADS_FROM_OUTPUTS || recipe->source == LOADS_READY;
}

enum role recipe_drop_role(const struct facility *facility)
{
    const struct drop_method *method = campaign_drop_method(facility->freestream);
    return method == NULL ? ROLE_CONTRACTION_DROP : method->role;
}

static void set_car(const struct car *car, struct tunnel_recipe *recipe)
{
    recipe->reference_area = car->reference_area;
    recipe->wheelbase = car->wheelbase;
    recipe->length = car->length;
    recipe->volume = car->volume;
}

static enum q_source q_source_of(enum freestream_method method)
{
    static const enum q_source table[] = {
        [FREESTREAM_TOTAL_AND_STATIC] = Q_FROM_TOTAL_AND_STATIC,
        [FREESTREAM_CONTRACTION] = Q_FROM_DROP,
        [FREESTREAM_NOZZLE] = Q_FROM_DROP,
        [FREESTREAM_PLENUM] = Q_FROM_DROP,
        [FREESTREAM_GIVEN] = Q_GIVEN,
        [FREESTREAM_SPEED] = Q_FROM_SPEED,
    };
    return table[method];
}

/* Corrections are applied only where it is declared that the log does not hold them yet: a second
 * one on top would be worse than none. */
static enum status set_corrections(const struct facility *facility, struct run_recipe *run,
                                   struct fault *fault)
{
    struct tunnel_recipe *recipe = &run->tunnel;
    struct boundary_made made;
    const char *what = "";
    int apply = facility->corrected == CORRECTED_NO;
    enum outcome outcome = boundary_make(facility, &made, &what);
    if (outcome != OUTCOME_OK)
        return FAIL(fault, NO_RESULT, "%s: %s; correct it in campaign.yaml", what,
                    outcome_sentence(outcome));
    recipe->buoyancy = apply && facility->buoyancy == BUOYANCY_HORIZONTAL;
    recipe->pressure_gradient = facility->pressure_gradient;
    recipe->buoyancy_volume_factor = facility->buoyancy_volume_factor;
    recipe->blockage = apply && facility->blockage != NULL ? facility->blockage : "none";
    recipe->blockage_shape = facility->blockage_shape;
    recipe->floor_image = facility->floor_image;
    recipe->section_is_open = facility->section == SECTION_OPEN_JET;
    if (recipe->section_width > 0 && recipe->section_height > 0) /* a sum worth making once */
        recipe->image_factor = blockage_image_factor(recipe->section_width, recipe->section_height,
                                                     recipe->floor_image, recipe->section_is_open);
    recipe->constants = made.constants;
    recipe->two_gradients = apply && facility->buoyancy == BUOYANCY_TWO_GRADIENTS;
    memcpy(recipe->gradient_part, made.gradient_part, sizeof recipe->gradient_part);
    run->gradient_beyond = recipe->two_gradients && made.gradient_beyond;
    if (!apply)
        return OK;
    recipe->reynolds = made.reynolds;
    run->yaw_turn = made.yaw_turn;
    return OK;
}

int recipe_balance_follows(const struct facility *facility, const char *axis)
{
    const char *word = facility->balance_follows == NULL ? "" : facility->balance_follows;
    size_t wanted = strlen(axis);
    while (*word != '\0') {
        size_t length = strcspn(word, ", ");
        if (length == wanted && strncmp(word, axis, length) == 0)
            return 1;
        word += length;
        word += strspn(word, ", ");
    }
    return 0;
}

int recipe_targets_name_yaw(const struct campaign *campaign)
{
    for (size_t i = 0; i < campaign->attitudes.n_targets; i++) {
        const struct target *target = &campaign->attitudes.targets[i];
        if (target->given[ATTITUDE_YAW] && target->coordinate[ATTITUDE_YAW] != 0)
            return 1;
    }
    return 0;
}

/* Loads of a balance that stays with the tunnel are turned by the yaw, so it must be known. */
static enum status set_turning(const struct night *night, const struct run_data *data,
                               struct run_recipe *recipe, struct fault *fault)
{
    recipe->tunnel.stays_with_tunnel = !recipe_balance_follows(recipe->facility, "yaw");
    if (recipe->tunnel.stays_with_tunnel && run_data_channel(data, ROLE_YAW) < 0 &&
        recipe_targets_name_yaw(night->campaign))
        return FAIL(fault, NO_RESULT,
                    "the balance does not follow yaw, the targets name one and the logs hold none: "
                    "loads cannot be turned into the car's axes; log the yaw, or correct "
                    "balance_follows in campaign.yaml");
    return OK;
}

static void set_facility(const struct facility *facility, struct tunnel_recipe *recipe)
{
    recipe->q_source = q_source_of(facility->freestream);
    for (size_t i = 0; i < facility->n_drop_polynomial && i < POLYNOMIAL_MAX; i++)
        recipe->drop_polynomial[i] = facility->drop_polynomial[i];
    recipe->dry_air = facility->humidity_absent;
    recipe->density = facility->density;
    recipe->viscosity = facility->viscosity;
    recipe->section_width = facility->width;
    recipe->section_height = facility->height;
}

/* Ready-made loads may come without a declared balance: then they are about the car's origin, in
 * car axes. */
static enum status set_balance(const struct night *night, const struct run_row *run,
                               const struct run_data *data, struct run_recipe *recipe,
                               struct fault *fault)
{
    struct tunnel_recipe *tunnel = &recipe->tunnel;
    for (int i = 0; i < 3; i++) {
        tunnel->axis_sign[i] = 1;
        tunnel->moment_sign[i] = 1;
    }
    if (!recipe_has_loads(tunnel))
        return OK;
    recipe->balance = campaign_balance(night->campaign, run->balance);
    if (recipe->balance == NULL && run->balance[0] == '\0' && tunnel->source == LOADS_READY)
        return OK;
    if (recipe->balance == NULL)
        return FAIL(fault, NO_RESULT, "balance '%s' is not in campaign.yaml; declare it there",
                    run->balance);
    memcpy(tunnel->origin, recipe->balance->origin, sizeof tunnel->origin);
    memcpy(tunnel->axis_sign, recipe->balance->axis_sign, sizeof tunnel->axis_sign);
    memcpy(tunnel->moment_sign, recipe->balance->moment_sign, sizeof tunnel->moment_sign);
    enum status status = set_turning(night, data, recipe, fault);
    if (status != OK || tunnel->source != LOADS_FROM_OUTPUTS)
        return status;
    status = calibration_read(night->store, run->balance, &tunnel->calibration, fault);
    if (status == OK && tunnel->calibration.temperature.is_given &&
        run_data_channel(data, ROLE_BALANCE_TEMPERATURE) < 0)
        return FAIL(
            fault, NO_RESULT,
            "the calibration of balance '%s' has terms in its temperature and the logs hold "
            "none; map its channel with the role balance_temperature, or calibrate without "
            "temperatures",
            run->balance);
    return status;
}

enum status recipe_make(const struct night *night, const struct run_row *run,
                        const struct run_data *data, struct run_recipe *recipe, struct fault *fault)
{
    memset(recipe, 0, sizeof *recipe);
    recipe->facility = campaign_facility(night->campaign, run->facility);
    if (recipe->facility == NULL)
        return FAIL(fault, NO_RESULT, "facility '%s' is not in campaign.yaml; declare it there",
                    run->facility);
    enum status status = choose_source(data, &recipe->tunnel.source, fault);
    if (status != OK)
        return status;
    set_absent(data, &recipe->tunnel);
    set_car(&night->campaign->car, &recipe->tunnel);
    set_facility(recipe->facility, &recipe->tunnel);
    recipe->drop_role = recipe_drop_role(recipe->facility);
    status = set_corrections(recipe->facility, recipe, fault);
    if (status != OK)
        return status;
    status = set_balance(night, run, data, recipe, fault);
    return status == OK ? recipe_set_cells(&night->campaign->car, data, recipe, fault) : status;
}
