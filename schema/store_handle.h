/* store_handle.h - the inside of a store, shared by store.c and statement.c only. */
#ifndef LAPWING_STORE_HANDLE_H
#define LAPWING_STORE_HANDLE_H

#include "schema/fault.h"

struct sqlite3;

struct store {
    struct sqlite3 *database; /* owned */
};

/* Fills the fault from SQLite's last error on this store: its sentence, the statement (NULL: none)
 * and what to do about it. Gives NO_MEMORY or STORE_FAILED. */
enum status store_refused(struct store *store, const char *sql, struct fault *fault);

#endif
