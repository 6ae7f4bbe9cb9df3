/* keyed_digest.c - HMAC-SHA-256 through OpenSSL; see keyed_digest.h. */
#include "schema/keyed_digest.h"

#include <limits.h>
#include <openssl/evp.h>
#include <openssl/hmac.h>
#include <openssl/rand.h>

enum status keyed_digest(const unsigned char *key, size_t key_size, const void *bytes, size_t size,
                         unsigned char out[KEYED_DIGEST], struct fault *fault)
{
    unsigned int length = 0;

    if (key_size > INT_MAX ||
        HMAC(EVP_sha256(), key, (int)key_size, bytes, size, out, &length) == NULL ||
        length != KEYED_DIGEST)
        return FAIL(fault, NO_MEMORY, "OpenSSL could not make an HMAC-SHA-256 of %zu bytes", size);
    return OK;
}

enum status secret_make(unsigned char *out, size_t size, struct fault *fault)
{
    if (size > INT_MAX || RAND_bytes(out, (int)size) != 1)
        return FAIL(fault, NO_MEMORY, "the system gives no random bytes for a secret of %zu", size);
    return OK;
}
