/* repeatability_season.c - the table repeatability_season; see repeatability.h. */
#include <math.h>
#include <stdlib.h>

#include "reduce/repeatability.h"
#include "reduce/rows.h"

struct place {
    char *facility, *quantity, *target;
};

struct place_list {
    struct place *places;
    size_t n, capacity;
};

static void places_end(struct place_list *list)
{
    for (size_t i = 0; i < list->n; i++) {
        free(list->places[i].facility);
        free(list->places[i].quantity);
        free(list->places[i].target);
    }
    free(list->places);
}

/* Where anything was measured. A figure that is only declared stands in repeatability_declared. */
static enum status list_places(struct store *store, struct place_list *list, struct fault *fault)
{
    struct statement *statement = NULL;
    int row = 0;
    enum status status = rows_open(
        store,
        "SELECT DISTINCT m.facility, m.quantity, m.target FROM reduction AS d JOIN entry_mean AS m "
        "ON m.reduction = d.reduction WHERE d.stage = 'repeatability' AND d.is_current = 1 "
        "UNION SELECT r.facility, r.quantity, r.target FROM reduction AS d JOIN repeatability AS r "
        "ON r.reduction = d.reduction WHERE d.stage = 'repeatability' AND d.is_current = 1 "
        "ORDER BY 1, 2, 3",
        NULL, 0, &statement, fault);
    while (status == OK && (status = statement_step(statement, &row, fault)) == OK && row) {
        void *array = list->places;
        status = array_reserve(&array, &list->capacity, list->n + 1, sizeof *list->places, fault);
        list->places = array;
        if (status != OK)
            break;
        struct place *place = &list->places[list->n++];
        *place = (struct place){NULL, NULL, NULL};
        status = rows_text(statement, 0, &place->facility, fault);
        if (status == OK)
            status = rows_text(statement, 1, &place->quantity, fault);
        if (status == OK)
            status = rows_text(statement, 2, &place->target, fault);
    }
    statement_free(statement);
    return status;
}

static enum status write_level(struct statement *insert, const struct place *place,
                               enum variance_level level, const struct repeatability *known,
                               struct fault *fault)
{
    const char *const texts[] = {place->facility, place->quantity, place->target,
                                 variance_level_words(level)};
    enum status status = OK;
    for (int i = 0; status == OK && i < 4; i++)
        status = statement_bind_text(insert, i + 1, texts[i], fault);
    if (status == OK)
        status = statement_bind_real(insert, 5, sqrt(known->level[level].variance), fault);
    if (status == OK)
        status = statement_bind_real(insert, 6, known->level[level].freedom, fault);
    if (status == OK)
        status = statement_bind_integer(insert, 7, (int64_t)known->level_entries[level], fault);
    if (status == OK)
        status = statement_bind_integer(insert, 8, (int64_t)known->declared[level], fault);
    return status == OK ? statement_run(insert, fault) : status;
}

static enum status write_place(struct store *store, struct statement *insert,
                               const struct place *place, struct fault *fault)
{
    struct repeatability known;
    enum status status = repeatability_read(store, place->facility, place->quantity, place->target,
                                            (double)INFINITY, &known, fault);
    for (unsigned i = 0; status == OK && i < VARIANCE_LEVELS; i++)
        if (known.level[i].freedom > 0)
            status = write_level(insert, place, (enum variance_level)i, &known, fault);
    return status;
}

static enum status write_all(struct store *store, struct fault *fault)
{
    struct place_list list = {NULL, 0, 0};
    struct statement *insert = NULL;
    enum status status = list_places(store, &list, fault);
    if (status == OK)
        status = store_execute(store, "DELETE FROM repeatability_season", fault);
    if (status == OK)
        status = statement_prepare(
            store,
            "INSERT INTO repeatability_season (facility, quantity, target, level, "
            "standard_deviation, degrees_of_freedom, entries, declared) VALUES (?,?,?,?,?,?,?,?)",
            &insert, fault);
    for (size_t i = 0; status == OK && i < list.n; i++)
        status = write_place(store, insert, &list.places[i], fault);
    statement_free(insert);
    places_end(&list);
    return status;
}

enum status repeatability_season_write(struct store *store, struct fault *fault)
{
    enum status status = store_begin(store, fault);
    if (status != OK)
        return status;
    status = write_all(store, fault);
    if (status == OK)
        status = store_commit(store, fault);
    if (status != OK)
        store_rollback(store);
    return status;
}
