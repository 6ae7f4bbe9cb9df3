/* campaign_tables.c - tables that are taken off a facility's coefficients, and what tares need. */
#include <string.h>

#include "schema/campaign_reader.h"
#include "schema/contents.h"

static const struct binding table_bindings[] = {
    {.key = "table",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct declared_table, file)},
    {.key = "contains", .kind = BIND_TEXT, .offset = offsetof(struct declared_table, contains)},
};

static void read_table(struct campaign_reader *reader, int node, const char *what,
                       struct declared_table *table)
{
    if (table->file == NULL) /* else the key is there twice, which is reported */
        campaign_bind(reader, node, what, table_bindings,
                      sizeof table_bindings / sizeof table_bindings[0], table);
}

void campaign_read_support(struct campaign_reader *reader, int node, void *whole)
{
    read_table(reader, node, "support_tare", &((struct facility *)whole)->tables[TABLE_SUPPORT]);
}

void campaign_read_interference(struct campaign_reader *reader, int node, void *whole)
{
    read_table(reader, node, "interference",
               &((struct facility *)whole)->tables[TABLE_INTERFERENCE]);
}

static int compares_any(const double tolerance[ATTITUDE_COUNT])
{
    for (int i = 0; i < ATTITUDE_COUNT; i++)
        if (tolerance[i] > 0)
            return 1;
    return 0;
}

void campaign_check_tares(struct campaign_reader *reader, int node, const struct facility *f)
{
    int corrections = yaml_tree_find(reader->tree, node, "corrections");
    int is_looked_up = f->belt_tare == BELT_TARE_LOOKUP;
    if (is_looked_up && (!(f->belt_tolerance > 0) || !compares_any(f->tare_tolerance)))
        campaign_trouble(reader, corrections,
                         "facility %.80s: corrections lack 'belt_tolerance' or 'tare_tolerance', "
                         "which belt_tare: lookup needs: speed and attitude by which it is looked "
                         "up",
                         f->name);
    for (int i = 0; i < TABLE_KINDS; i++) {
        const char *part = f->tables[i].contains;
        if (part != NULL && (f->contains == NULL || !contents_has(f->contains, part)))
            campaign_trouble(
                reader, corrections,
                "facility %.80s: the table of %s takes off '%.60s', which the loads do "
                "not contain by their declaration; name it in contains or "
                "balance_contains, or take it out of the table's contains",
                f->name, table_kind_name((enum table_kind)i), part);
    }
}
