/* campaign_uncertainties.c - the section uncertainties of campaign.yaml: a list of elemental sources of
 * error for each facility. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "schema/campaign_reader.h"
#include "schema/number.h"

/* A source being read; the size waits until it is known what it is of. */
struct source_reading {
    struct declared_uncertainty made;
    int of, standard, expanded, half_width, relative; /* nodes; 0: not there */
    double coverage;
};

static void keep_of(struct campaign_reader *reader, int node, void *whole)
{
    (void)reader;
    ((struct source_reading *)whole)->of = node;
}

static void keep_standard(struct campaign_reader *reader, int node, void *whole)
{
    (void)reader;
    ((struct source_reading *)whole)->standard = node;
}

static void keep_expanded(struct campaign_reader *reader, int node, void *whole)
{
    (void)reader;
    ((struct source_reading *)whole)->expanded = node;
}

static void keep_half_width(struct campaign_reader *reader, int node, void *whole)
{
    (void)reader;
    ((struct source_reading *)whole)->half_width = node;
}

static void keep_relative(struct campaign_reader *reader, int node, void *whole)
{
    struct source_reading *reading = whole;
    reading->relative = node;
    (void)campaign_word(reader, node, "relative", campaign_yes_no, &reading->made.is_relative);
}

static const struct campaign_word reach_words[] = {{"point", DECLARED_POINT},
                                                   {"run", DECLARED_RUN},
                                                   {"entry", DECLARED_ENTRY},
                                                   {"always", DECLARED_ALWAYS},
                                                   {NULL, 0}};
static const struct campaign_word shape_words[] = {{"normal", DECLARED_NORMAL},
                                                   {"rectangular", DECLARED_RECTANGULAR},
                                                   {"triangular", DECLARED_TRIANGULAR},
                                                   {"arcsine", DECLARED_ARCSINE},
                                                   {NULL, 0}};

static const struct binding source_bindings[] = {
    {.key = "source",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct source_reading, made.source)},
    {.key = "of", .kind = BIND_PART, .required = 1, .read = keep_of},
    {.key = "standard", .kind = BIND_PART, .read = keep_standard},
    {.key = "expanded", .kind = BIND_PART, .read = keep_expanded},
    {.key = "coverage",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct source_reading, coverage),
     .unit = "1",
     .range = RANGE_POSITIVE},
    {.key = "half_width", .kind = BIND_PART, .read = keep_half_width},
    {.key = "relative", .kind = BIND_PART, .read = keep_relative},
    {.key = "degrees_of_freedom",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct source_reading, made.freedom),
     .unit = "1",
     .range = RANGE_POSITIVE},
    {.key = "reaches",
     .kind = BIND_WORD,
     .required = 1,
     .offset = offsetof(struct source_reading, made.reach),
     .words = reach_words},
    {.key = "shape",
     .kind = BIND_WORD,
     .offset = offsetof(struct source_reading, made.shape),
     .words = shape_words},
    {.key = "correlated_with",
     .kind = BIND_TEXT,
     .offset = offsetof(struct source_reading, made.correlated_with)},
    {.key = "correlation",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct source_reading, made.correlation),
     .unit = "1"},
    {.key = "evidence",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct source_reading, made.evidence)},
};

static int read_of(struct campaign_reader *reader, struct source_reading *reading)
{
    const char *word = yaml_tree_text(reader->tree, reading->of);
    reading->made.of = uncertain_input_from_word(word);
    if (reading->made.of != UNCERTAIN_INPUTS)
        return 1;
    if (reading->of != 0)
        campaign_trouble(reader, reading->of,
                         "of: '%.60s' is no input of a point; write the role of a channel, or one "
                         "of pressure_drop, reference_area, wheelbase, balance_origin_x, _y, _z, "
                         "balance_roll, balance_pitch, balance_yaw, blockage, pressure_gradient, "
                         "volume",
                         word);
    return 0;
}

/* The one of three that is given; 0 and a trouble for none or several. */
static int find_size(struct campaign_reader *reader, int node, const struct source_reading *reading)
{
    int given = (reading->standard != 0) + (reading->expanded != 0) + (reading->half_width != 0);
    if (given != 1) {
        campaign_trouble(reader, node,
                         "an uncertainty needs one of standard, expanded (with coverage) and "
                         "half_width (with a shape that is not normal), not %s",
                         given == 0 ? "none" : "several");
        return 0;
    }
    if (reading->expanded != 0 && !(reading->coverage > 0)) {
        campaign_trouble(reader, reading->expanded,
                         "expanded needs its coverage factor; write coverage: 2");
        return 0;
    }
    if (reading->expanded == 0 && reading->coverage > 0) {
        campaign_trouble(reader, node, "coverage goes with expanded; remove it");
        return 0;
    }
    if (reading->half_width != 0 && reading->made.shape == DECLARED_NORMAL) {
        campaign_trouble(reader, reading->half_width,
                         "half_width needs a shape with ends: rectangular, triangular or arcsine");
        return 0;
    }
    return reading->standard != 0   ? reading->standard
           : reading->expanded != 0 ? reading->expanded
                                    : reading->half_width;
}

/* JCGM 100:2008, 4.3.7 and 4.3.9: half-width over the root of 3 and of 6; arcsine: of 2. */
static double divisor(const struct source_reading *reading)
{
    static const double of_shape[] = {[DECLARED_NORMAL] = 1,
                                      [DECLARED_RECTANGULAR] = 1.7320508075688772,
                                      [DECLARED_TRIANGULAR] = 2.4494897427831779,
                                      [DECLARED_ARCSINE] = 1.4142135623730951};
    if (reading->expanded != 0)
        return reading->coverage;
    return reading->half_width != 0 ? of_shape[reading->made.shape] : 1;
}

static int ends_in_percent(const char *text)
{
    size_t length = strlen(text);
    return length > 0 && text[length - 1] == '%';
}

/* "0.002 mV/V": the unit is checked against the balances afterwards. */
static int read_output_size(struct campaign_reader *reader, int node,
                            struct source_reading *reading, double *value)
{
    const char *text = yaml_tree_text(reader->tree, node);
    size_t digits = strcspn(text, " ");
    const char *unit = text + digits + strspn(text + digits, " ");
    if (number_parse(text, digits, '.', value, NULL) == NUMBER_OK && unit[0] != '\0') {
        reading->made.output_unit = campaign_allocate(reader, strlen(unit) + 1, 1);
        if (reading->made.output_unit != NULL)
            memcpy(reading->made.output_unit, unit, strlen(unit) + 1);
        return reading->made.output_unit != NULL;
    }
    campaign_trouble(reader, node,
                     "'%.40s' is no share of the output (0.1 %%), nor a number with the balance's "
                     "unit of output",
                     text);
    return 0;
}

/* A share of the input's value where it is written in percent, unless that is the input's own unit. */
static void choose_relative(struct campaign_reader *reader, int size,
                            struct source_reading *reading)
{
    const char *unit = uncertain_input_row(reading->made.of)->unit;
    if (reading->made.of == UNCERTAIN_BLOCKAGE)
        reading->made.is_relative = 0; /* it is a share already */
    else if (reading->relative == 0)
        reading->made.is_relative =
            ends_in_percent(yaml_tree_text(reader->tree, size)) && strcmp(unit, "1") != 0;
}

static void read_size(struct campaign_reader *reader, int size, struct source_reading *reading)
{
    double value = 0;
    choose_relative(reader, size, reading);
    const char *unit =
        reading->made.is_relative ? "1" : uncertain_input_row(reading->made.of)->unit;
    int is_read = unit[0] != '\0' ? campaign_quantity(reader, size, "uncertainty", unit, &value)
                                  : read_output_size(reader, size, reading, &value);
    if (!is_read)
        return;
    if (!(value > 0) || !isfinite(value)) {
        campaign_trouble(reader, size, "an uncertainty is '%.40s'; it must be more than 0",
                         yaml_tree_text(reader->tree, size));
        return;
    }
    reading->made.standard = value / divisor(reading);
}

static void read_source(struct campaign_reader *reader, int node, struct declared_uncertainty *made)
{
    struct source_reading reading = {.made = {.freedom = (double)INFINITY}};
    campaign_bind(reader, node, "uncertainty", source_bindings,
                  sizeof source_bindings / sizeof source_bindings[0], &reading);
    int size = find_size(reader, node, &reading);
    if (read_of(reader, &reading) && size != 0)
        read_size(reader, size, &reading);
    if ((reading.made.correlated_with == NULL) != (reading.made.correlation == 0))
        campaign_trouble(reader, node, "correlated_with and correlation go together; write both");
    if (fabs(reading.made.correlation) > 1)
        campaign_trouble(reader, yaml_tree_find(reader->tree, node, "correlation"),
                         "correlation is %g; it lies between -1 and 1", reading.made.correlation);
    *made = reading.made;
}

static const struct declared_uncertainty *find_source(const struct facility_uncertainties *list,
                                                      const char *name)
{
    for (size_t i = 0; i < list->n; i++)
        if (list->items[i].source != NULL && strcmp(list->items[i].source, name) == 0)
            return &list->items[i];
    return NULL;
}

/* One draw of both errors must reach equally far, and trials draw correlated errors as normal ones. */
static void check_partner(struct campaign_reader *reader, int node,
                          const struct facility_uncertainties *list, size_t at)
{
    const struct declared_uncertainty *item = &list->items[at];
    if (item->source != NULL && find_source(list, item->source) != item)
        campaign_trouble(reader, yaml_tree_find(reader->tree, node, "source"),
                         "source '%.60s' is there twice; give each a name of its own",
                         item->source);
    if (item->correlated_with == NULL)
        return;
    const struct declared_uncertainty *other = find_source(list, item->correlated_with);
    int place = yaml_tree_find(reader->tree, node, "correlated_with");
    if (other == NULL || other == item)
        campaign_trouble(reader, place, "'%.60s' is no other source of this facility",
                         item->correlated_with);
    else if (other->reach != item->reach)
        campaign_trouble(reader, place,
                         "'%.60s' reaches another distance, so that both cannot be correlated",
                         item->correlated_with);
    else if (other->shape != DECLARED_NORMAL || item->shape != DECLARED_NORMAL)
        campaign_trouble(reader, place, "correlated sources must both be normal");
}

static void check_list(struct campaign_reader *reader, int node,
                       const struct facility_uncertainties *list)
{
    double correlation[DECLARED_UNCERTAINTIES_MAX * DECLARED_UNCERTAINTIES_MAX];
    for (size_t i = 0; i < list->n; i++)
        check_partner(reader, yaml_tree_item(reader->tree, node, i), list, i);
    if (!declared_correlations(list, correlation))
        campaign_trouble(reader, node,
                         "the correlations contradict each other: no errors can have them");
}

static void read_list(struct campaign_reader *reader, int key, int node,
                      struct facility_uncertainties *list)
{
    size_t n = yaml_tree_count(reader->tree, node);
    if (!campaign_text(reader, key, "the name of a facility", &list->facility))
        return;
    if (yaml_tree_kind(reader->tree, node) != YAML_LIST || n == 0 ||
        n > DECLARED_UNCERTAINTIES_MAX) {
        campaign_trouble(reader, node,
                         "uncertainties of %.60s need a list of 1 to %d: - {source: q calibration, "
                         "of: dynamic_pressure, standard: 0.2 %%, reaches: always, evidence: ...}",
                         list->facility, (int)DECLARED_UNCERTAINTIES_MAX);
        return;
    }
    list->items = campaign_allocate(reader, n, sizeof *list->items);
    list->n = list->items == NULL ? 0 : n;
    for (size_t i = 0; i < list->n && reader->failed == OK; i++)
        read_source(reader, yaml_tree_item(reader->tree, node, i), &list->items[i]);
    if (reader->failed == OK)
        check_list(reader, node, list);
}

void campaign_read_uncertainties(struct campaign_reader *reader, int node, void *whole)
{
    struct campaign *campaign = whole;
    if (campaign->uncertainties != NULL) /* the key is there twice, which is reported */
        return;
    campaign->uncertainties = campaign_named_blocks(
        reader, node, "uncertainties", sizeof *campaign->uncertainties, &campaign->n_uncertainties);
    for (size_t i = 0; i < campaign->n_uncertainties && reader->failed == OK; i++)
        read_list(reader, yaml_tree_key(reader->tree, node, i),
                  yaml_tree_value(reader->tree, node, i), &campaign->uncertainties[i]);
}

static int has_output_unit(const struct campaign *campaign, const char *unit)
{
    for (size_t i = 0; i < campaign->n_balances; i++)
        if (campaign->balances[i].output_unit != NULL &&
            strcmp(campaign->balances[i].output_unit, unit) == 0)
            return 1;
    return 0;
}

void campaign_check_uncertainties(struct campaign_reader *reader, int node)
{
    const struct campaign *campaign = reader->campaign;
    for (size_t i = 0; i < campaign->n_uncertainties; i++) {
        const struct facility_uncertainties *list = &campaign->uncertainties[i];
        int items = yaml_tree_value(reader->tree, node, i);
        if (list->facility != NULL && campaign_facility(campaign, list->facility) == NULL)
            campaign_trouble(reader, yaml_tree_key(reader->tree, node, i),
                             "uncertainties: '%.60s' is none of the facilities", list->facility);
        for (size_t k = 0; k < list->n; k++) {
            const char *unit = list->items[k].output_unit;
            if (unit != NULL && !has_output_unit(campaign, unit))
                campaign_trouble(reader, yaml_tree_item(reader->tree, items, k),
                                 "'%.40s' is no balance's unit of output; write it as under "
                                 "balances: outputs",
                                 unit);
        }
    }
}
