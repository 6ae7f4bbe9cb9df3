/* digest.c - SHA-256 through OpenSSL's EVP, which uses the processor's own instructions. */
#include "schema/digest.h"

#include <openssl/evp.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "schema/file_read.h"

enum { DIGEST_BYTES = 32, FILE_CHUNK = 1 << 16 };

struct digest {
    EVP_MD_CTX *context;
};

void digest_free(struct digest *digest)
{
    if (digest == NULL)
        return;
    EVP_MD_CTX_free(digest->context);
    free(digest);
}

enum status digest_begin(struct digest **digest, struct fault *fault)
{
    *digest = NULL;
    struct digest *made = calloc(1, sizeof *made);
    if (made == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for a SHA-256 digest");
    made->context = EVP_MD_CTX_new();
    if (made->context == NULL || EVP_DigestInit_ex(made->context, EVP_sha256(), NULL) != 1) {
        digest_free(made);
        return FAIL(fault, NO_MEMORY, "OpenSSL could not begin a SHA-256 digest");
    }
    *digest = made;
    return OK;
}

enum status digest_add(struct digest *digest, const void *bytes, size_t size, struct fault *fault)
{
    if (size == 0)
        return OK;
    if (EVP_DigestUpdate(digest->context, bytes, size) != 1)
        return FAIL(fault, NO_MEMORY, "OpenSSL could not add %zu bytes to a SHA-256 digest", size);
    return OK;
}

enum status digest_end(struct digest *digest, char out[DIGEST_TEXT], struct fault *fault)
{
    static const char hexadecimal[] = "0123456789abcdef";
    unsigned char raw[DIGEST_BYTES];
    int ended = EVP_DigestFinal_ex(digest->context, raw, NULL);

    digest_free(digest);
    if (ended != 1)
        return FAIL(fault, NO_MEMORY, "OpenSSL could not end a SHA-256 digest");
    for (size_t i = 0; i < DIGEST_BYTES; i++) {
        out[2 * i] = hexadecimal[raw[i] >> 4];
        out[2 * i + 1] = hexadecimal[raw[i] & 15];
    }
    out[(size_t)2 * DIGEST_BYTES] = '\0';
    return OK;
}

enum status digest_text(const char *text, char out[DIGEST_TEXT], struct fault *fault)
{
    struct digest *digest = NULL;
    enum status status = digest_begin(&digest, fault);
    if (status != OK)
        return status;
    status = digest_add(digest, text, strlen(text), fault);
    if (status != OK) {
        digest_free(digest);
        return status;
    }
    return digest_end(digest, out, fault);
}

static enum status add_file(struct digest *digest, int descriptor, const char *path,
                            struct fault *fault)
{
    unsigned char chunk[FILE_CHUNK];
    size_t got = 0;
    do {
        enum status status = file_read_some(descriptor, path, chunk, sizeof chunk, &got, fault);
        if (status == OK)
            status = digest_add(digest, chunk, got, fault);
        if (status != OK)
            return status;
    } while (got > 0);
    return OK;
}

enum status digest_file(const char *path, char out[DIGEST_TEXT], struct fault *fault)
{
    struct digest *digest = NULL;
    int descriptor = -1;
    enum status status = file_open_plain(path, path, &descriptor, NULL, fault);
    if (status != OK)
        return status;
    status = digest_begin(&digest, fault);
    if (status == OK)
        status = add_file(digest, descriptor, path, fault);
    (void)close(descriptor); /* read only: nothing can be lost */
    if (status != OK) {
        digest_free(digest);
        return status;
    }
    return digest_end(digest, out, fault);
}
