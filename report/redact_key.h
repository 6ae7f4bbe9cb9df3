/* redact_key.h - the file of --redact-key: a secret that makes ids of names, and which id is which name.
 *
 * An id is the first 30 bits of HMAC-SHA-256 of kind and name under the secret, in base 32: the same name
 * has the same id in every report that is made with the key, whatever else is in the season, and without
 * the key an id tells neither the name nor its length nor its place, however few names come into question.
 * The file is CSV: kind,name,id under a row that holds the secret. Names of earlier reports stay in it.  */
#ifndef LAPWING_REPORT_REDACT_KEY_H
#define LAPWING_REPORT_REDACT_KEY_H

#include "report/buffer.h"
#include "schema/store.h"

enum { REDACT_SECRET = 32 }; /* bytes */

struct redact_key {
    unsigned char secret[REDACT_SECRET];
    struct buffer listed; /* rows of earlier reports, as they stand in the file */
    int was_open;         /* 1: others than the owner could read the file */
};

/* Reads the file, or makes a new secret where there is none. BAD_INPUT: the file is no key, and is left as it
 * is. Ended with redact_key_end(), whatever it gives. */
enum status redact_key_read(const char *path, struct redact_key *key, struct fault *fault);
void redact_key_end(struct redact_key *key);

/* Writes the file, readable by its owner alone: the secret, what was listed, and the names of the redacted
 * store (report/redact.h). */
enum status redact_key_write(const struct redact_key *key, struct store *redacted, const char *path,
                             struct fault *fault);

enum { REDACT_TOKEN = 52 }; /* characters of a whole digest, and the end */

/* The whole token of a name of a kind; an id is its beginning. */
enum status redact_token(const unsigned char secret[REDACT_SECRET], const char *kind,
                         const char *name, char out[REDACT_TOKEN], struct fault *fault);

#endif
