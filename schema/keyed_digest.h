/* keyed_digest.h - HMAC-SHA-256 and secrets: what makes a token of a name that nobody can guess back.
 *
 * A plain hash of a name is no secret: who has a list of likely names tries them all. With a secret key the
 * same name gives the same bytes, and without it every name is as likely as any other.
 * Source: Krawczyk, Bellare, Canetti, RFC 2104 (1997).                                              */
#ifndef LAPWING_KEYED_DIGEST_H
#define LAPWING_KEYED_DIGEST_H

#include <stddef.h>

#include "schema/fault.h"

enum { KEYED_DIGEST = 32 }; /* bytes */

/* HMAC-SHA-256 of the bytes under a key of key_size bytes. */
enum status keyed_digest(const unsigned char *key, size_t key_size, const void *bytes, size_t size,
                         unsigned char out[KEYED_DIGEST], struct fault *fault);

/* A new secret of the system's random generator. */
enum status secret_make(unsigned char *out, size_t size, struct fault *fault);

#endif
