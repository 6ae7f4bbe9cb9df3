/* setting_put.h - one value after the other into the table setting.
 *
 * A failed write is kept and the rest are skipped, so that lists of values stay lists.              */
#ifndef LAPWING_SETTING_PUT_H
#define LAPWING_SETTING_PUT_H

#include "schema/campaign.h"
#include "schema/campaign_reader.h"
#include "schema/statement.h"

struct settings {
    struct statement *insert; /* section, name, value, unit */
    char section[160];
    enum status status;
    struct fault *fault;
};

/* What is put next belongs to it: "facility saltmarsh"; name may be NULL. */
void setting_section(struct settings *settings, const char *kind, const char *name);

/* A value that is NULL is an empty one. */
void setting_put(struct settings *settings, const char *name, const char *value, const char *unit);

/* "not given" for NAN. */
void setting_put_number(struct settings *settings, const char *name, double value,
                        const char *unit);

/* "not given" for 0, which is how the campaign keeps it where only more than 0 can be declared. */
void setting_put_if_given(struct settings *settings, const char *name, double value,
                          const char *unit);

/* All that the rows of a table bind, of the struct they are bound to; its parts are the caller's. */
void setting_put_table(struct settings *settings, const struct binding_table *table,
                       const void *whole);

/* The axes that have a value above 0. */
void setting_put_axes(struct settings *settings, const char *what,
                      const double value[ATTITUDE_COUNT]);

/* A row for each text of a list. */
void setting_put_names(struct settings *settings, const char *what, const struct text_list *list);

#endif
