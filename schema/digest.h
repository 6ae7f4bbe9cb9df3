/* digest.h - SHA-256 of bytes, texts and files, as 64 lower-case hexadecimal characters. */
#ifndef LAPWING_DIGEST_H
#define LAPWING_DIGEST_H

#include <stddef.h>

#include "schema/fault.h"

enum { DIGEST_TEXT = 65 }; /* 64 characters and the end */

/* A digest in the making; digest_begin() allocates, digest_end() writes the text and frees. */
struct digest;
enum status digest_begin(struct digest **digest, struct fault *fault);
enum status digest_add(struct digest *digest, const void *bytes, size_t size, struct fault *fault);
enum status digest_end(struct digest *digest, char out[DIGEST_TEXT], struct fault *fault);
void digest_free(struct digest *digest); /* NULL is fine; after digest_end() not needed */

/* All in one: of a text, of a whole plain file (statuses of file_open_plain()). */
enum status digest_text(const char *text, char out[DIGEST_TEXT], struct fault *fault);
enum status digest_file(const char *path, char out[DIGEST_TEXT], struct fault *fault);

#endif
