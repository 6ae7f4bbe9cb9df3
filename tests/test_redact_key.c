/* test_redact_key.c - ids by a key: the same tomorrow, others by another key, and nothing told by them. */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "report/query.h"
#include "report/redact.h"
#include "report/redact_key.h"
#include "report/report_redacted.h"
#include "tests/check.h"
#include "tests/program.h"
#include "tests/scratch.h"
#include "tests/test_report_fixture.h"

enum { ID = 80 };

static const unsigned char secrets[2][REDACT_SECRET] = {"one", "another"};

/* The id of a configuration in the fixture, changed by sql. */
static void id_of(const char *sql, const unsigned char *secret, const char *name, char id[ID])
{
    struct redact_how how = {.redaction = REDACT_NAMES, .secret = secret};
    struct store *season = NULL;
    struct store *copy = NULL;
    struct text_pool pool = {0};
    struct fault fault = {0};
    const char *found = "";
    CHECK_OK(report_fixture_open(":memory:", NULL, &season, &fault), &fault);
    if (season != NULL) {
        CHECK_OK(store_execute(season, "PRAGMA foreign_keys = OFF", &fault), &fault);
        CHECK_OK(store_execute(season, sql, &fault), &fault);
        CHECK_OK(redact_open(season, &how, &copy, &fault), &fault);
    }
    if (copy != NULL)
        CHECK_OK(query_text(copy,
                            "SELECT id FROM redacted_name WHERE kind = 'configuration' AND "
                            "name = ?1",
                            (const char *[]){name, NULL}, &pool, &found, &fault),
                 &fault);
    (void)snprintf(id, ID, "%s", found);
    text_pool_free(&pool);
    CHECK_OK(store_close(copy, &fault), &fault);
    CHECK_OK(store_close(season, &fault), &fault);
}

/* Another night: other order, more configurations, one gone. */
static const char other_night[] =
    "UPDATE configuration SET sequence = 100 - sequence; UPDATE run SET sequence = 500 - sequence;"
    "INSERT INTO configuration SELECT 'new one', -1, 'C0', 'C0', '', '', NULL;"
    "DELETE FROM configuration WHERE configuration = 'W1'";

static void a_name_keeps_its_id(void)
{
    char ids[5][ID];
    id_of("SELECT 1", secrets[0], "W2", ids[0]);
    id_of(other_night, secrets[0], "W2", ids[1]);
    id_of("SELECT 1", secrets[1], "W2", ids[2]);
    CHECK_TEXT(ids[1], ids[0]);
    CHECK(strcmp(ids[2], ids[0]) != 0);
    /* without a key: a number in the order of the sheets, of this season only */
    id_of("SELECT 1", NULL, "W2", ids[3]);
    id_of(other_night, NULL, "W2", ids[4]);
    CHECK_TEXT(ids[3], "C3");
    CHECK(strcmp(ids[4], ids[3]) != 0);
}

/* 200 names A, B, AA ... : ids of one length, in no order, none a beginning or hash of the name. */
static void an_id_tells_nothing_of_its_name(void)
{
    char token[REDACT_TOKEN];
    char before[REDACT_TOKEN] = "";
    char name[64] = "";
    size_t up = 0;
    size_t first[32] = {0};
    struct fault fault = {0};
    for (size_t i = 0; i < 200; i++) {
        (void)snprintf(name, sizeof name, "%.*s%zu", (int)(i % 40),
                       "AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA", i);
        CHECK_OK(redact_token(secrets[0], "configuration", name, token, &fault), &fault);
        CHECK(strlen(token) == REDACT_TOKEN - 1);
        CHECK(strspn(token, "0123456789abcdefghjkmnpqrstvwxyz") == REDACT_TOKEN - 1);
        up += strcmp(token, before) > 0;
        first[(size_t)(strchr("0123456789abcdefghjkmnpqrstvwxyz", token[0]) -
                       "0123456789abcdefghjkmnpqrstvwxyz")]++;
        memcpy(before, token, sizeof before);
    }
    /* 200 fair coins: 65 to 135 in all but one of a million (binomial); a first character by chance of 6.25
     * on average: above 25 in less than one of a million */
    CHECK(up > 65 && up < 135);
    for (size_t i = 0; i < 32; i++)
        CHECK(first[i] < 26);
}

static void kinds_and_names_do_not_run_together(void)
{
    char tokens[2][REDACT_TOKEN];
    struct fault fault = {0};
    CHECK_OK(redact_token(secrets[0], "run", "1", tokens[0], &fault), &fault);
    CHECK_OK(redact_token(secrets[0], "ru", "n1", tokens[1], &fault), &fault);
    CHECK(strcmp(tokens[0], tokens[1]) != 0);
    CHECK_OK(redact_token(secrets[0], "tap", "1", tokens[1], &fault), &fault);
    CHECK(strcmp(tokens[0], tokens[1]) != 0);
}

/* Every id again by Python's own hmac and base64. */
static const char oracle[] =
    "python3 -c 'import sys,csv,hmac,hashlib,base64\n"
    "rows=list(csv.reader(open(sys.argv[1],newline=\"\")))\n"
    "assert rows[2][0]==\"secret\" and len(rows[2][1])==64\n"
    "key=bytes.fromhex(rows[2][1]); n=0\n"
    "turn=str.maketrans(\"ABCDEFGHIJKLMNOPQRSTUVWXYZ234567\",\"0123456789abcdefghjkmnpqrstvwxyz\")"
    "\n"
    "for kind,name,i in rows[3:]:\n"
    "    if i==name: continue\n"
    "    t=hmac.new(key,kind.encode()+bytes(1)+name.encode(),hashlib.sha256).digest()\n"
    "    t=base64.b32encode(t).decode().translate(turn)[:6]\n"
    "    assert t in i,(kind,name,i,t)\n"
    "    n+=1\n"
    "print(\"ids\",n)' %s/%s";

static void write_with(const char *folder, const char *key, enum status want)
{
    char path[SCRATCH_PATH + 32];
    struct report_options options = {.redaction = REDACT_NAMES, .key_file = path};
    struct store *store = NULL;
    struct fault fault = {0};
    (void)snprintf(path, sizeof path, "%s/%s", folder, key);
    CHECK_OK(report_fixture_open(":memory:", NULL, &store, &fault), &fault);
    if (store != NULL)
        CHECK(report_redacted(store, folder, &options, NULL, &fault) == want);
    CHECK_OK(store_close(store, NULL), NULL);
}

static void ids_are_keyed(void)
{
    char folder[SCRATCH_PATH];
    char *out = calloc(PROGRAM_OUTPUT, 1);
    CHECK(scratch_make(folder) && out != NULL);
    write_with(folder, "key.csv", OK);
    char *before = scratch_read(folder, "key.csv");
    CHECK(out != NULL && program_shell(out, oracle, folder, "key.csv") == 0);
    CHECK_CONTAINS(out, "ids ");
    write_with(folder, "key.csv", OK);
    char *after = scratch_read(folder, "key.csv");
    CHECK(before != NULL && after != NULL && strcmp(before, after) == 0);
    write_with(folder, "other.csv", OK);
    char *other = scratch_read(folder, "other.csv");
    CHECK(before != NULL && other != NULL && strcmp(before, other) != 0);
    free(before);
    free(after);
    free(other);
    free(out);
    scratch_remove(folder);
}

static unsigned mode_of(const char *folder, const char *name)
{
    char path[SCRATCH_PATH + 32];
    struct stat found = {0};
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    CHECK(stat(path, &found) == 0);
    return (unsigned)found.st_mode & 0777U;
}

/* Names of earlier reports stay explained; the file is its owner's alone. */
static void the_key_keeps_what_it_explained(void)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 32];
    CHECK(scratch_make(folder));
    write_with(folder, "key.csv", OK);
    CHECK(mode_of(folder, "key.csv") == 0600);
    char *text = scratch_read(folder, "key.csv");
    char longer[20000] = "";
    if (text != NULL)
        (void)snprintf(longer, sizeof longer, "%s\"run\",\"gone,\n one\",\"R-000000\"\n", text);
    CHECK(scratch_write(folder, "key.csv", longer));
    (void)snprintf(path, sizeof path, "%s/key.csv", folder);
    CHECK(chmod(path, 0644) == 0);
    write_with(folder, "key.csv", OK);
    CHECK(mode_of(folder, "key.csv") == 0600);
    char *again = scratch_read(folder, "key.csv");
    CHECK_TEXT(again, longer);
    free(again);
    free(text);
    scratch_remove(folder);
}

static const char not_hexadecimal[] =
    "kind,name,id\n\"\",\"in the season\",\"in the redacted report\"\n"
    "\"secret\",\"G000000000000000000000000000000000000000000000000000000000000000\",\"\"\n";

static void what_is_no_key_is_left_alone(void)
{
    static const char *const texts[] = {
        "", "run,facility\nR1,here\n",
        "kind,name,id\n\"\",\"in the season\",\"in the redacted report\"\n",
        "kind,name,id\n\"\",\"in the season\",\"in the redacted report\"\n\"secret\",\"00\",\"\"\n",
        not_hexadecimal};
    char folder[SCRATCH_PATH];
    CHECK(scratch_make(folder));
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        CHECK(scratch_write(folder, "runs.csv", texts[i]));
        write_with(folder, "runs.csv", BAD_INPUT);
        char *text = scratch_read(folder, "runs.csv");
        CHECK_TEXT(text, texts[i]);
        free(text);
    }
    scratch_remove(folder);
}

CU_TestInfo redact_key_tests[] = {
    {"a name keeps its id", a_name_keeps_its_id},
    {"an id tells nothing of its name", an_id_tells_nothing_of_its_name},
    {"kinds and names do not run together", kinds_and_names_do_not_run_together},
    {"ids are keyed", ids_are_keyed},
    {"the key keeps what it explained", the_key_keeps_what_it_explained},
    {"what is no key is left alone", what_is_no_key_is_left_alone},
    CU_TEST_INFO_NULL};
