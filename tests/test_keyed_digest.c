/* test_keyed_digest.c - schema/keyed_digest.c against RFC 4231 (Nystrom, 2005), test cases 1, 2, 3 and 6. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <string.h>

#include "schema/keyed_digest.h"
#include "tests/check.h"

static void check_case(const unsigned char *key, size_t key_size, const void *data, size_t size,
                       const char *want)
{
    unsigned char digest[KEYED_DIGEST];
    char text[2 * KEYED_DIGEST + 1] = "";
    struct fault fault = {0};
    CHECK_OK(keyed_digest(key, key_size, data, size, digest, &fault), &fault);
    for (size_t i = 0; i < KEYED_DIGEST; i++)
        (void)snprintf(text + 2 * i, 3, "%02x", digest[i]);
    CHECK_TEXT(text, want);
}

static void published_cases_come_out(void)
{
    static const char greeting[] = "Hi There";
    static const char question[] = "what do ya want for nothing?";
    static const char long_key[] = "Test Using Larger Than Block-Size Key - Hash Key First";
    unsigned char key[131];
    unsigned char data[50];
    memset(key, 0x0b, 20);
    check_case(key, 20, greeting, strlen(greeting),
               "b0344c61d8db38535ca8afceaf0bf12b881dc200c9833da726e9376c2e32cff7");
    check_case((const unsigned char *)"Jefe", 4, question, strlen(question),
               "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843");
    memset(key, 0xaa, sizeof key);
    memset(data, 0xdd, sizeof data);
    check_case(key, 20, data, sizeof data,
               "773ea91e36800e46854db8ebd09181a72959098b3ef8c122d9635514ced565fe");
    check_case(key, sizeof key, long_key, strlen(long_key),
               "60e431591ee0b67f0d8a26aacbf5b77f8e0bc6213728c5140546040f0ee37f54");
}

static void secrets_differ(void)
{
    unsigned char secrets[2][32] = {{0}};
    static const unsigned char nothing[32];
    struct fault fault = {0};
    for (int i = 0; i < 2; i++) {
        CHECK_OK(secret_make(secrets[i], sizeof secrets[i], &fault), &fault);
        CHECK(memcmp(secrets[i], nothing, sizeof nothing) != 0);
    }
    CHECK(memcmp(secrets[0], secrets[1], sizeof nothing) != 0);
}

CU_TestInfo keyed_digest_tests[] = {{"published cases come out", published_cases_come_out},
                                    {"secrets differ", secrets_differ},
                                    CU_TEST_INFO_NULL};
