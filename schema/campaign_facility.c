/* campaign_facility.c - the section facilities of campaign.yaml: the section, what its numbers
 * contain, and the corrections to apply. */
#include <stdio.h>
#include <string.h>

#include "schema/campaign_reader.h"

/* m/s2: standard acceleration of free fall, 3rd CGPM (1901). */
static const double standard_gravity = 9.80665;

/* Targets in campaign.yaml are in the program's own sense, air from the right positive; only the
 * facility's logs may count the other way. */
static void read_yaw_sign(struct campaign_reader *reader, int node, void *facility)
{
    int sign = 1;
    if (campaign_word(reader, node, "yaw_positive", campaign_yaw_words, &sign))
        ((struct facility *)facility)->yaw_sign = sign;
}

static void read_polynomial(struct campaign_reader *reader, int node, const char *key,
                            struct facility *facility)
{
    static const char *const units[POLYNOMIAL_MAX] = {"Pa", "1", "1/Pa", "1/Pa2"};
    size_t n = yaml_tree_count(reader->tree, node);
    if (yaml_tree_kind(reader->tree, node) != YAML_LIST || n == 0 || n > POLYNOMIAL_MAX) {
        campaign_trouble(reader, node,
                         "%s needs a list of 1 to %d numbers, constant first: "
                         "[0.5 Pa, 2.3, 4e-5 1/Pa]",
                         key, POLYNOMIAL_MAX);
        return;
    }
    for (size_t i = 0; i < n; i++)
        (void)campaign_quantity(reader, yaml_tree_item(reader->tree, node, i), key, units[i],
                                &facility->drop_polynomial[i]);
    facility->n_drop_polynomial = n;
}

static void read_contraction(struct campaign_reader *reader, int node, void *facility)
{
    read_polynomial(reader, node, "contraction_polynomial", facility);
}

static void read_nozzle(struct campaign_reader *reader, int node, void *facility)
{
    read_polynomial(reader, node, "nozzle_polynomial", facility);
}

static void read_plenum(struct campaign_reader *reader, int node, void *facility)
{
    read_polynomial(reader, node, "plenum_polynomial", facility);
}

static void read_follows(struct campaign_reader *reader, int node, void *whole)
{
    static const char *const words[] = {"pitch", "roll", "yaw", "nothing"};
    struct facility *facility = whole;
    if (!campaign_text(reader, node, "balance_follows", &facility->balance_follows))
        return;
    for (const char *word = facility->balance_follows; *word != '\0';) {
        size_t length = strcspn(word, ", ");
        int known = length == 0;
        for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
            known = known || (strlen(words[i]) == length && strncmp(words[i], word, length) == 0);
        if (!known)
            campaign_trouble(reader, node,
                             "balance_follows: '%.*s' is not one of its words; write pitch, roll, "
                             "yaw with commas between, or nothing",
                             (int)length, word);
        word += length;
        word += strspn(word, ", ");
    }
}

static void read_tare_tolerance(struct campaign_reader *reader, int node, void *whole)
{
    campaign_axes(reader, node, "tare_tolerance", ((struct facility *)whole)->tare_tolerance);
}

static void read_shape(struct campaign_reader *reader, int node, void *whole)
{
    struct facility *facility = whole;
    if (strcmp(yaml_tree_text(reader->tree, node), "from length") == 0)
        return;
    if (campaign_quantity(reader, node, "blockage_shape", "1", &facility->blockage_shape) &&
        facility->blockage_shape <= 0)
        campaign_trouble(reader, node,
                         "blockage_shape is '%.40s'; it must be more than 0, or 'from length'",
                         yaml_tree_text(reader->tree, node));
}

static const struct binding correction_bindings[] = {
    {.key = "zero",
     .kind = BIND_WORD,
     .required = 1,
     .offset = offsetof(struct facility, zero),
     .words = campaign_zero_words},
    {.key = "weight_tare",
     .kind = BIND_WORD,
     .required = 1,
     .offset = offsetof(struct facility, weight_tare),
     .words = campaign_tare_words},
    {.key = "balance_follows", .kind = BIND_PART, .required = 1, .read = read_follows},
    {.key = "tare_tolerance", .kind = BIND_PART, .read = read_tare_tolerance},
    {.key = "scales_weight",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct facility, scales_weight),
     .unit = "kg",
     .range = RANGE_POSITIVE},
    {.key = "gravity",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct facility, gravity),
     .unit = "m/s2",
     .range = RANGE_POSITIVE},
    {.key = "belt_tare",
     .kind = BIND_WORD,
     .offset = offsetof(struct facility, belt_tare),
     .words = campaign_belt_words},
    {.key = "belt_tolerance",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct facility, belt_tolerance),
     .unit = "m/s",
     .range = RANGE_POSITIVE},
    {.key = "support_tare", .kind = BIND_PART, .read = campaign_read_support},
    {.key = "interference", .kind = BIND_PART, .read = campaign_read_interference},
    {.key = "buoyancy",
     .kind = BIND_WORD,
     .required = 1,
     .offset = offsetof(struct facility, buoyancy),
     .words = campaign_buoyancy_words},
    {.key = "buoyancy_volume_factor",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct facility, buoyancy_volume_factor),
     .unit = "1",
     .range = RANGE_POSITIVE},
    {.key = "blockage",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct facility, blockage)},
    {.key = "blockage_shape", .kind = BIND_PART, .read = read_shape},
    {.key = "floor_image",
     .kind = BIND_WORD,
     .offset = offsetof(struct facility, floor_image),
     .words = campaign_yes_no},
    {.key = "maskell", .kind = BIND_PART, .read = campaign_read_maskell},
    {.key = "wall_signature", .kind = BIND_PART, .read = campaign_read_wall_signature},
    {.key = "open_jet", .kind = BIND_PART, .read = campaign_read_open_jet},
    {.key = "slotted", .kind = BIND_PART, .read = campaign_read_slotted},
    {.key = "two_gradients", .kind = BIND_PART, .read = campaign_read_two_gradients},
    {.key = "flow_angularity", .kind = BIND_PART, .read = campaign_read_flow_angularity},
    {.key = "reynolds", .kind = BIND_PART, .read = campaign_read_reynolds},
    {.key = "to_target",
     .kind = BIND_WORD,
     .required = 1,
     .offset = offsetof(struct facility, to_target),
     .words = campaign_target_words},
};

const struct binding_table campaign_correction_table = {
    correction_bindings, sizeof correction_bindings / sizeof correction_bindings[0]};

static void read_corrections(struct campaign_reader *reader, int node, void *facility)
{
    campaign_bind(reader, node, "corrections", correction_bindings,
                  sizeof correction_bindings / sizeof correction_bindings[0], facility);
}

static const struct binding facility_bindings[] = {
    {.key = "test_section",
     .kind = BIND_WORD,
     .required = 1,
     .offset = offsetof(struct facility, section),
     .words = campaign_section_words},
    {.key = "width",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct facility, width),
     .unit = "m",
     .range = RANGE_POSITIVE},
    {.key = "height",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct facility, height),
     .unit = "m",
     .range = RANGE_POSITIVE},
    {.key = "already_corrected",
     .kind = BIND_WORD,
     .required = 1,
     .offset = offsetof(struct facility, corrected),
     .words = campaign_corrected_words},
    {.key = "contains", .kind = BIND_PART, .read = campaign_read_contains},
    {.key = "balance_contains", .kind = BIND_PART, .read = campaign_read_balance_contains},
    {.key = "add_cells", .kind = BIND_PART, .read = campaign_read_add_cells},
    {.key = "belt_centre", .kind = BIND_PART, .read = campaign_read_belt_centre},
    {.key = "car_stands_on", .kind = BIND_PART, .read = campaign_read_stands_on},
    {.key = "ride_height", .kind = BIND_PART, .read = campaign_read_ride_height},
    {.key = "height_sensors", .kind = BIND_PART, .read = campaign_read_height_sensors},
    {.key = "roll", .kind = BIND_PART, .read = campaign_read_roll},
    {.key = "yaw_positive", .kind = BIND_PART, .required = 1, .read = read_yaw_sign},
    {.key = "humidity",
     .kind = BIND_WORD,
     .offset = offsetof(struct facility, humidity_absent),
     .words = campaign_humidity_words},
    {.key = "freestream",
     .kind = BIND_WORD,
     .required = 1,
     .offset = offsetof(struct facility, freestream),
     .words = campaign_freestream_words},
    {.key = "density",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct facility, density),
     .unit = "kg/m3",
     .range = RANGE_POSITIVE},
    {.key = "viscosity",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct facility, viscosity),
     .unit = "Pa s",
     .range = RANGE_POSITIVE},
    {.key = "contraction_polynomial", .kind = BIND_PART, .read = read_contraction},
    {.key = "nozzle_polynomial", .kind = BIND_PART, .read = read_nozzle},
    {.key = "plenum_polynomial", .kind = BIND_PART, .read = read_plenum},
    {.key = "pressure_gradient",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct facility, pressure_gradient),
     .unit = "1/m"},
    {.key = "corrections", .kind = BIND_PART, .required = 1, .read = read_corrections},
};

const struct binding_table campaign_facility_table = {
    facility_bindings, sizeof facility_bindings / sizeof facility_bindings[0]};

/* What one key of a facility needs of another: a row a rule. */
static void check_facility(struct campaign_reader *reader, int node, const struct facility *f)
{
    struct yaml_tree *tree = reader->tree;
    int corrections = yaml_tree_find(tree, node, "corrections");
    int corrects = f->boundary.given[BOUNDARY_FLOW_ANGULARITY] ||
                   f->boundary.given[BOUNDARY_REYNOLDS] || f->buoyancy != BUOYANCY_NONE ||
                   (f->blockage != NULL && strcmp(f->blockage, "none") != 0);
    const struct {
        int is_wrong;
        int node;
        const char *text;
    } rules[] = {
        {f->section != SECTION_TRACK && yaml_tree_find(tree, node, "width") == 0, node,
         "lacks 'width' of its test section or nozzle, which must be declared"},
        {f->section != SECTION_TRACK && yaml_tree_find(tree, node, "height") == 0, node,
         "lacks 'height' of its test section or nozzle, which must be declared"},
        {f->corrected != CORRECTED_NO && corrects, yaml_tree_find(tree, node, "already_corrected"),
         "its numbers are, or may be, corrected for the walls already; they cannot be corrected "
         "twice: set blockage and buoyancy to none and take out flow_angularity and reynolds, or "
         "set "
         "already_corrected to no"},
        {yaml_tree_find(tree, node, "density") == 0 && yaml_tree_find(tree, node, "humidity") == 0,
         node, "lacks 'humidity' of its air, or the 'density' of another fluid"},
        {f->freestream == FREESTREAM_SPEED && yaml_tree_find(tree, node, "density") == 0, node,
         "lacks 'density' of the fluid, which freestream: speed needs: q is density V^2/2"},
        {yaml_tree_find(tree, node, "viscosity") != 0 && yaml_tree_find(tree, node, "density") == 0,
         yaml_tree_find(tree, node, "viscosity"),
         "viscosity is given without density; a declared fluid needs both, air needs neither"},
        {f->buoyancy != BUOYANCY_NONE && yaml_tree_find(tree, node, "pressure_gradient") == 0, node,
         "lacks 'pressure_gradient', which a buoyancy correction needs"},
        {f->weight_tare == TARE_LOOKUP && yaml_tree_find(tree, corrections, "tare_tolerance") == 0,
         corrections, "corrections lack 'tare_tolerance', which weight_tare: lookup needs"},
        {f->weight_tare == TARE_FIT && yaml_tree_find(tree, corrections, "tare_tolerance") == 0,
         corrections,
         "corrections lack 'tare_tolerance', which weight_tare: fit needs: it names "
         "the axes that what the fit leaves is interpolated over"},
        {f->weight_tare != TARE_FIT && yaml_tree_find(tree, corrections, "scales_weight") != 0,
         yaml_tree_find(tree, corrections, "scales_weight"),
         "scales_weight is compared with a fitted weight; write weight_tare: fit, or take it out"},
    };
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++)
        if (rules[i].is_wrong)
            campaign_trouble(reader, rules[i].node, "facility %.80s: %s", f->name, rules[i].text);
}

/* The polynomial of the facility's own method, and no other. */
static void check_polynomials(struct campaign_reader *reader, int node, const struct facility *f)
{
    static const enum freestream_method methods[] = {FREESTREAM_CONTRACTION, FREESTREAM_NOZZLE,
                                                     FREESTREAM_PLENUM};
    for (size_t i = 0; i < sizeof methods / sizeof methods[0]; i++) {
        const struct drop_method *method = campaign_drop_method(methods[i]);
        int given = yaml_tree_find(reader->tree, node, method->key);
        if (f->freestream == methods[i] && given == 0)
            campaign_trouble(reader, node, "facility %.80s: lacks '%s', which freestream: %s needs",
                             f->name, method->key, method->name);
        else if (f->freestream != methods[i] && given != 0)
            campaign_trouble(reader, given,
                             "facility %.80s: %s is given, but freestream is not %s; remove one "
                             "of them",
                             f->name, method->key, method->name);
    }
}

static void check_all(struct campaign_reader *reader, int node, const struct facility *facility)
{
    check_facility(reader, node, facility);
    check_polynomials(reader, node, facility);
    campaign_check_boundary(reader, node, facility);
    campaign_check_tares(reader, node, facility);
    campaign_check_cells(reader, node, facility);
    campaign_check_heights(reader, node, facility);
}

static const struct binding bench_bindings[] = {
    {.key = "test_section",
     .kind = BIND_WORD,
     .required = 1,
     .offset = offsetof(struct facility, section),
     .words = campaign_section_words},
};

static int is_bench(const struct campaign_reader *reader, int node)
{
    int section = yaml_tree_find(reader->tree, node, "test_section");
    return section != 0 && strcmp(yaml_tree_text(reader->tree, section), "bench") == 0;
}

static void read_facility(struct campaign_reader *reader, int key, int node,
                          struct facility *facility)
{
    char what[120];
    *facility = (struct facility){
        .yaw_sign = 1, .buoyancy_volume_factor = 1, .floor_image = 1, .gravity = standard_gravity};
    campaign_boundary_defaults(&facility->boundary);
    if (!campaign_text(reader, key, "the name of a facility", &facility->name))
        return;
    if (strchr(facility->name, '/') != NULL)
        campaign_trouble(reader, key,
                         "the facility's name '%.80s' holds a '/', which stands between facility, "
                         "entry and configuration; rename it",
                         facility->name);
    (void)snprintf(what, sizeof what, "facility %.80s", facility->name);
    if (is_bench(reader, node)) {
        campaign_bind(reader, node, what, bench_bindings,
                      sizeof bench_bindings / sizeof bench_bindings[0], facility);
        return;
    }
    campaign_bind(reader, node, what, facility_bindings,
                  sizeof facility_bindings / sizeof facility_bindings[0], facility);
    if (yaml_tree_kind(reader->tree, node) == YAML_MAPPING)
        check_all(reader, node, facility);
}

void campaign_read_facilities(struct campaign_reader *reader, int node, void *whole)
{
    struct campaign *campaign = whole;
    if (campaign->facilities != NULL) /* the key is there twice, which is reported */
        return;
    campaign->facilities = campaign_named_blocks(
        reader, node, "facilities", sizeof *campaign->facilities, &campaign->n_facilities);
    for (size_t i = 0; i < campaign->n_facilities && reader->failed == OK; i++)
        read_facility(reader, yaml_tree_key(reader->tree, node, i),
                      yaml_tree_value(reader->tree, node, i), &campaign->facilities[i]);
}
