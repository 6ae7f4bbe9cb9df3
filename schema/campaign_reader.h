/* campaign_reader.h - what the readers of campaign.yaml's sections share.
 *
 * A section is read by a table of bindings (key, kind, unit, place in a struct). Readers do not stop:
 * a problem is noted with its line and column and reading goes on, so that one run of `check` shows
 * them all. Only a failure of memory or of the unit database is final; it is kept in `failed` and
 * told at the end.                                                                                 */
#ifndef LAPWING_CAMPAIGN_READER_H
#define LAPWING_CAMPAIGN_READER_H

#include <stddef.h>

#include "schema/campaign.h"
#include "schema/fault.h"
#include "schema/quantity.h"
#include "schema/units.h"
#include "schema/yaml_tree.h"

struct campaign_trouble {
    struct fault fault;
    size_t line, column;
    size_t sequence; /* keeps the order of two problems at one place */
};

struct campaign_reader {
    const char *path;                  /* of campaign.yaml */
    struct yaml_tree *tree;            /* owned by campaign_read() */
    struct units *units;               /* owned by campaign_read() */
    struct campaign *campaign;         /* being filled */
    struct campaign_trouble *troubles; /* owned */
    size_t n_troubles, capacity;
    enum status failed; /* OK, or why reading cannot go on */
    struct fault failure;
};

/* Notes a problem at a node. */
void campaign_trouble(struct campaign_reader *reader, int node, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Notes a fault made elsewhere at a node; memory and store failures become final. */
void campaign_trouble_fault(struct campaign_reader *reader, int node, const struct fault *fault);

/* Zeroed memory for n elements; NULL (and failed set) when there is none. */
void *campaign_allocate(struct campaign_reader *reader, size_t n, size_t size);

/* Each of the following notes a problem when the node is not what it should be, and then leaves the
 * target as it was and gives 0; else 1. what names the value in messages: "car: length". */
int campaign_text(struct campaign_reader *reader, int node, const char *what, char **target);
/* A list of names in brackets, one at the least; what names the key. */
void campaign_texts(struct campaign_reader *reader, int node, const char *what,
                    struct text_list *list);
int campaign_quantity(struct campaign_reader *reader, int node, const char *what, const char *unit,
                      double *target);

/* One of a closed list of words; the list ends with a NULL text. */
struct campaign_word {
    const char *text;
    int value;
};
int campaign_word(struct campaign_reader *reader, int node, const char *what,
                  const struct campaign_word *words, int *target);
/* The word for a value; "" when it has none. */
const char *campaign_word_text(const struct campaign_word *words, int value);

extern const struct campaign_word campaign_yes_no[];
extern const struct campaign_word campaign_section_words[];
extern const struct campaign_word campaign_corrected_words[];
extern const struct campaign_word campaign_yaw_words[];
extern const struct campaign_word campaign_height_words[];
extern const struct campaign_word campaign_humidity_words[];
extern const struct campaign_word campaign_freestream_words[];
extern const struct campaign_word campaign_zero_words[];
extern const struct campaign_word campaign_tare_words[];
extern const struct campaign_word campaign_belt_words[];
extern const struct campaign_word campaign_buoyancy_words[];
extern const struct campaign_word campaign_target_words[];
extern const struct campaign_word campaign_delimiter_words[];
extern const struct campaign_word campaign_decimal_words[];
extern const struct campaign_word campaign_rows_words[];
extern const struct campaign_word campaign_encoding_words[];
extern const struct campaign_word campaign_trailing_words[];
extern const struct campaign_word campaign_statistic_words[];
extern const struct campaign_word campaign_hold_words[];
extern const struct campaign_word campaign_measured_words[];
extern const struct campaign_word campaign_level_words[];

/* ---- bindings: campaign_bind.c ---------------------------------------------------------------- */

enum bind_kind {
    BIND_TEXT,     /* char *, owned by the struct */
    BIND_QUANTITY, /* double, in binding.unit */
    BIND_WORD,     /* int or an enum, one of binding.words */
    BIND_WHOLE,    /* unsigned, 0 .. 1000 */
    BIND_NUMBERS,  /* struct number_list of binding.unit, owned by the struct */
    BIND_PART      /* binding.read() does it */
};

enum bind_range { RANGE_ANY, RANGE_POSITIVE, RANGE_NOT_NEGATIVE, RANGE_SHARE };

struct binding {
    const char *key;
    enum bind_kind kind;
    int required;
    size_t offset; /* of the target in the struct; not for BIND_PART */
    const char *unit;
    enum bind_range range; /* RANGE_SHARE: more than 0, less than 1 */
    const struct campaign_word *words;
    void (*read)(struct campaign_reader *reader, int node, void *whole);
};

/* Tables that also tell which values are in force: campaign_settings.c. */
struct binding_table {
    const struct binding *rows;
    size_t n;
};
extern const struct binding_table campaign_car_table;
extern const struct binding_table campaign_limits_table;
extern const struct binding_table campaign_plan_table;
extern const struct binding_table campaign_facility_table;
extern const struct binding_table campaign_correction_table;
extern const struct binding_table campaign_balance_table;
extern const struct binding_table campaign_map_table;
extern const struct binding_table
    campaign_repeatability_table; /* of struct declared_repeatability */

/* Reads a mapping into the struct at whole by n bindings; reports keys that are unknown, twice there
 * or missing. what names the section: "facility saltmarsh". */
void campaign_bind(struct campaign_reader *reader, int node, const char *what,
                   const struct binding *bindings, size_t n, void *whole);

/* 1 when the node is a mapping; else notes a problem that says so. */
int campaign_is_mapping(struct campaign_reader *reader, int node, const char *what);

/* Notes every key that a mapping has twice. */
void campaign_check_keys(struct campaign_reader *reader, int node, const char *what);

/* A mapping of attitude coordinates to lengths or angles, none of them negative, into value[axis]. */
void campaign_axes(struct campaign_reader *reader, int node, const char *what,
                   double value[ATTITUDE_COUNT]);

/* The quantity whose symbol stands at a node; NULL, and a problem noted, when there is none. Node 0: NULL,
 * and nothing noted. */
const struct quantity_row *campaign_find_quantity(struct campaign_reader *reader, int node);

/* A mapping of names to blocks: how many, and memory for them. Reports keys that are twice there.
 * NULL with *n 0 when the node is no mapping or memory is short. */
void *campaign_named_blocks(struct campaign_reader *reader, int node, const char *what, size_t size,
                            size_t *n);

/* ---- one reader a section --------------------------------------------------------------------- */

void campaign_read_car(struct campaign_reader *reader, int node, void *campaign);
void campaign_read_facilities(struct campaign_reader *reader, int node, void *campaign);
void campaign_read_balances(struct campaign_reader *reader, int node, void *campaign);
void campaign_read_maps(struct campaign_reader *reader, int node, void *campaign);
/* sweep: of a channel map. */
void campaign_read_sweep(struct campaign_reader *reader, int node, void *map);
/* What the map says of which rows are a point, and of hold: contradictions, and what is lacking. node is
 * the map's block, key its name; is_whole 0: a role was not understood, so that nothing may be said to
 * be lacking. */
void campaign_check_points(struct campaign_reader *reader, int key, int node,
                           const struct channel_map *map, int is_whole);
void campaign_read_attitudes(struct campaign_reader *reader, int node, void *campaign);
void campaign_read_metrics(struct campaign_reader *reader, int node, void *campaign);
void campaign_read_main_measure(struct campaign_reader *reader, int node, void *campaign);
/* trade: campaign_trade.c; the check is of the metrics that it names. */
void campaign_read_trade(struct campaign_reader *reader, int node, void *campaign);
void campaign_check_trade(struct campaign_reader *reader, int node);
/* trim: campaign_trim.c. */
void campaign_read_trim(struct campaign_reader *reader, int node, void *campaign);
void campaign_read_limits(struct campaign_reader *reader, int node, void *campaign);
/* campaign_keep_samples.c; the check is of the channel maps, which other sections tell. */
void campaign_read_keep_samples(struct campaign_reader *reader, int node, void *campaign);
void campaign_check_keep_samples(struct campaign_reader *reader, int node);
/* campaign_repeats.c; the check reads the tolerances, whose units other sections tell. */
void campaign_read_repeats(struct campaign_reader *reader, int node, void *campaign);
void campaign_check_repeats(struct campaign_reader *reader, int node);

/* campaign_plan.c; the check is of the names of other sections, after all of them are read. */
void campaign_read_plan(struct campaign_reader *reader, int node, void *campaign);
void campaign_check_plan(struct campaign_reader *reader, int node);
/* repeatability: campaign_repeatability.c. The check: of facilities, attitudes, and figures there twice. */
void campaign_read_repeatability(struct campaign_reader *reader, int node, void *campaign);
void campaign_check_repeatability(struct campaign_reader *reader, int node);
void campaign_read_uncertainties(struct campaign_reader *reader, int node, void *campaign);
/* Facilities and units that the section uncertainties names; node is its own. */
void campaign_check_uncertainties(struct campaign_reader *reader, int node);

/* Parts of a facility or a balance: campaign_cells.c, campaign_heights.c. */
void campaign_read_contains(struct campaign_reader *reader, int node, void *facility);
void campaign_read_balance_contains(struct campaign_reader *reader, int node, void *facility);
void campaign_read_contains_of_balance(struct campaign_reader *reader, int node, void *balance);
void campaign_read_add_cells(struct campaign_reader *reader, int node, void *facility);
void campaign_read_belt_centre(struct campaign_reader *reader, int node, void *facility);
void campaign_read_stands_on(struct campaign_reader *reader, int node, void *facility);
void campaign_read_ride_height(struct campaign_reader *reader, int node, void *facility);
void campaign_read_roll(struct campaign_reader *reader, int node, void *facility);
void campaign_read_height_sensors(struct campaign_reader *reader, int node, void *facility);
/* support_tare and interference: campaign_tables.c. */
void campaign_read_support(struct campaign_reader *reader, int node, void *facility);
void campaign_read_interference(struct campaign_reader *reader, int node, void *facility);
void campaign_check_tares(struct campaign_reader *reader, int node, const struct facility *f);
void campaign_check_cells(struct campaign_reader *reader, int node, const struct facility *f);
void campaign_check_heights(struct campaign_reader *reader, int node, const struct facility *f);

/* Blocks of a facility's corrections: campaign_boundary.c. */
void campaign_read_maskell(struct campaign_reader *reader, int node, void *facility);
void campaign_read_wall_signature(struct campaign_reader *reader, int node, void *facility);
void campaign_read_open_jet(struct campaign_reader *reader, int node, void *facility);
void campaign_read_slotted(struct campaign_reader *reader, int node, void *facility);
void campaign_read_two_gradients(struct campaign_reader *reader, int node, void *facility);
void campaign_read_flow_angularity(struct campaign_reader *reader, int node, void *facility);
void campaign_read_reynolds(struct campaign_reader *reader, int node, void *facility);
void campaign_boundary_defaults(struct boundary *boundary);
void campaign_check_boundary(struct campaign_reader *reader, int node, const struct facility *f);
/* The bindings of a block, of struct boundary, and the key it stands under. */
const struct binding_table *campaign_boundary_table(enum boundary_block block, const char **key);

/* Lists of a channel map, for its table of bindings. */
void campaign_read_names(struct campaign_reader *reader, int node, void *map);
void campaign_read_missing(struct campaign_reader *reader, int node, void *map);
void campaign_read_sentinels(struct campaign_reader *reader, int node, void *map);

/* What one section says about another; after all of them are read. */
void campaign_check_references(struct campaign_reader *reader);

#endif
