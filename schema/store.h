/* store.h - the season database: open, transactions, close. The only door to SQLite.
 *
 * One file, DIR/season.sqlite, with application_id, user_version, foreign keys, WAL and STRICT
 * tables. A store belongs to one thread: the writer. Tables and views: schema/schema.sql.          */
#ifndef LAPWING_STORE_H
#define LAPWING_STORE_H

#include <stdint.h>

#include "schema/fault.h"
#include "schema/statement.h"

enum store_mode { STORE_CREATE, STORE_EXISTING, STORE_READ_ONLY };

/* Opens (STORE_CREATE: makes when missing, with all tables) the database at path; ":memory:" is
 * allowed, and "" for one on disk that is private to the process and gone when closed. BAD_INPUT: not a lapwing season, or made by a later version. NOT_FOUND: none, or an empty
 * file, where it is not to be made. STORE_READ_ONLY writes temporary tables only; it also reads a
 * season copied alone into a folder that may not be written, taken as unchanging. The caller owns
 * *store and ends it with store_close(). */
enum status store_open(const char *path, enum store_mode mode, struct store **store,
                       struct fault *fault);
enum status store_close(struct store *store, struct fault *fault); /* NULL is fine */

enum status store_begin(struct store *store, struct fault *fault);
enum status store_commit(struct store *store, struct fault *fault);
void store_rollback(struct store *store); /* after a failure; never fails itself */

/* Runs one or more SQL statements that give no rows. */
enum status store_execute(struct store *store, const char *sql, struct fault *fault);

/* Writes the tables that describe the database itself (data_dictionary) from schema/quantity.h and
 * schema/dictionary.c; done by store_open(STORE_CREATE). */

/* Reductions: results belong to one. Looks for (stage, subject, key): when the current one has this
 * key *fresh is 0 and *reduction its id; when an older one has it, that one is made current again
 * and *fresh is 0; else a new current one is made, the former is kept but no longer current, and
 * *fresh is 1. inputs is the canonical text whose SHA-256 is the key. */
enum status store_reduction(struct store *store, const char *stage, const char *subject,
                            const char *inputs, int64_t *reduction, int *fresh,
                            struct fault *fault);

#endif
