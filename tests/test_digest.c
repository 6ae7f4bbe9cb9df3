/* test_digest.c - schema/digest.c against the examples that NIST gives for FIPS 180-4. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "schema/digest.h"
#include "tests/check.h"
#include "tests/scratch.h"

/* NIST, Cryptographic Standards and Guidelines, Examples with Intermediate Values, SHA-256 */
static const char of_abc[] = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
static const char two_blocks[] = "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq";
static const char of_two_blocks[] =
    "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1";
/* NIST CAVP, SHA256ShortMsg.rsp, Len = 0 */
static const char of_nothing[] = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";
/* FIPS 180-2 (2002), B.3: one million letters a */
static const char of_million[] = "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0";

static void texts_have_the_published_digests(void)
{
    struct fault fault;
    char out[DIGEST_TEXT] = "";
    CHECK_OK(digest_text("abc", out, &fault), &fault);
    CHECK_TEXT(out, of_abc);
    CHECK_OK(digest_text(two_blocks, out, &fault), &fault);
    CHECK_TEXT(out, of_two_blocks);
    CHECK_OK(digest_text("", out, &fault), &fault);
    CHECK_TEXT(out, of_nothing);
}

static void pieces_give_the_digest_of_the_whole(void)
{
    for (size_t cut = 0; cut <= strlen(two_blocks); cut++) {
        struct fault fault;
        struct digest *digest = NULL;
        char out[DIGEST_TEXT] = "";
        CHECK_OK(digest_begin(&digest, &fault), &fault);
        CHECK_OK(digest_add(digest, two_blocks, cut, &fault), &fault);
        CHECK_OK(digest_add(digest, two_blocks + cut, strlen(two_blocks) - cut, &fault), &fault);
        CHECK_OK(digest_end(digest, out, &fault), &fault);
        CHECK_TEXT(out, of_two_blocks);
    }
}

static void a_file_has_the_digest_of_its_bytes(void)
{
    enum { MILLION = 1000000 };
    struct fault fault;
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 16];
    char out[DIGEST_TEXT] = "";
    char *letters = malloc(MILLION + 1);
    CHECK(letters != NULL);
    if (letters == NULL)
        return;
    memset(letters, 'a', MILLION);
    letters[MILLION] = '\0';
    CHECK(scratch_make(folder));
    CHECK(scratch_write(folder, "a", letters));
    (void)snprintf(path, sizeof path, "%s/a", folder);
    CHECK_OK(digest_file(path, out, &fault), &fault);
    CHECK_TEXT(out, of_million);
    CHECK(digest_file(folder, out, &fault) == BAD_INPUT); /* a folder cannot be read */
    CHECK_CONTAINS(fault.text, folder);
    scratch_remove(folder);
    CHECK(digest_file(path, out, &fault) == NOT_FOUND);
    CHECK_CONTAINS(fault.text, "there is no file");
    free(letters);
}

static void one_that_is_given_up_is_freed(void)
{
    struct fault fault;
    struct digest *digest = NULL;
    CHECK_OK(digest_begin(&digest, &fault), &fault);
    digest_free(digest);
    digest_free(NULL);
}

static void a_pipe_or_a_folder_is_refused_at_once(void)
{
    struct fault fault = {.status = OK};
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 16];
    char out[DIGEST_TEXT] = "";
    CU_ASSERT_FATAL(scratch_make(folder));
    (void)snprintf(path, sizeof path, "%s/pipe", folder);
    CU_ASSERT_FATAL(mkfifo(path, 0600) == 0);
    CHECK(digest_file(path, out, &fault) == BAD_INPUT); /* without waiting for a writer */
    CHECK_CONTAINS(fault.text, "is not a plain file");
    CHECK(digest_file(folder, out, &fault) == BAD_INPUT);
    CHECK_CONTAINS(fault.text, "is a folder");
    CHECK(digest_file("/dev/zero", out, &fault) == BAD_INPUT);
    CHECK_TEXT(out, "");
    scratch_remove(folder);
}

CU_TestInfo digest_tests[] = {
    {"texts have the published digests", texts_have_the_published_digests},
    {"pieces give the digest of the whole", pieces_give_the_digest_of_the_whole},
    {"a file has the digest of its bytes", a_file_has_the_digest_of_its_bytes},
    {"one that is given up is freed", one_that_is_given_up_is_freed},
    {"a pipe or a folder is refused at once", a_pipe_or_a_folder_is_refused_at_once},
    CU_TEST_INFO_NULL};
