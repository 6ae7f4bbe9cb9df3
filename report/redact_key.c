/* redact_key.c - see redact_key.h. */
#include "report/redact_key.h"

#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "report/csv_out.h"
#include "report/query.h"
#include "report/report_files.h"
#include "schema/file_read.h"
#include "schema/keyed_digest.h"

static const char head[] = "kind,name,id\n\"\",\"in the season\",\"in the redacted report\"\n"
                           "\"secret\",\"";
static const char after_secret[] = "\",\"\"\n";

static const char hexadecimal[] = "0123456789abcdef";

enum { HEX = 2 * REDACT_SECRET };

static int read_secret(const char *text, unsigned char secret[REDACT_SECRET])
{
    if (strspn(text, hexadecimal) != HEX)
        return 0;
    for (size_t i = 0; i < REDACT_SECRET; i++)
        secret[i] = (unsigned char)((strchr(hexadecimal, text[2 * i]) - hexadecimal) * 16 +
                                    (strchr(hexadecimal, text[2 * i + 1]) - hexadecimal));
    return strncmp(text + HEX, after_secret, sizeof after_secret - 1) == 0;
}

static enum status read_file(const char *path, struct buffer *text, struct redact_key *key,
                             struct fault *fault)
{
    struct stat found;
    char some[4096];
    size_t got = 0;
    int descriptor = -1;

    enum status status = file_open_plain(path, path, &descriptor, NULL, fault);
    if (status != OK)
        return status;
    key->was_open = fstat(descriptor, &found) == 0 && (found.st_mode & (S_IRWXG | S_IRWXO)) != 0;
    do {
        status = file_read_some(descriptor, path, some, sizeof some, &got, fault);
        buffer_add(text, some, status == OK ? got : 0);
    } while (status == OK && got > 0);
    (void)close(descriptor);
    return status == OK ? buffer_status(text, path, fault) : status;
}

static enum status take_file(const char *path, const struct buffer *text, struct redact_key *key,
                             struct fault *fault)
{
    const char *at = buffer_string(text);

    if (strncmp(at, head, sizeof head - 1) != 0 || !read_secret(at + sizeof head - 1, key->secret))
        return FAIL(fault, BAD_INPUT,
                    "%s is no key of redacted reports, and is left as it is; name another file, or "
                    "one that is not there yet",
                    path);
    buffer_text(&key->listed, at + sizeof head - 1 + HEX + sizeof after_secret - 1);
    return buffer_status(&key->listed, path, fault);
}

enum status redact_key_read(const char *path, struct redact_key *key, struct fault *fault)
{
    struct buffer text = {0};
    struct stat found;

    *key = (struct redact_key){.was_open = 0};
    if (stat(path, &found) != 0) /* nothing there; a folder that is not is told when writing */
        return secret_make(key->secret, sizeof key->secret, fault);
    enum status status = read_file(path, &text, key, fault);
    if (status == OK)
        status = take_file(path, &text, key, fault);
    buffer_free(&text);
    return status;
}

void redact_key_end(struct redact_key *key)
{
    buffer_free(&key->listed);
    *key = (struct redact_key){.was_open = 0};
}

struct listing {
    const struct redact_key *key;
    struct buffer *out;
    struct buffer row;
};

/* 1 when the row, with its end, stands in the list at the beginning of a line. */
static int is_listed(const char *list, const char *row)
{
    for (const char *at = strstr(list, row); at != NULL; at = strstr(at + 1, row))
        if (at == list || at[-1] == '\n')
            return 1;
    return 0;
}

static enum status take_name(struct statement *row, void *context, struct fault *fault)
{
    struct listing *listing = context;

    buffer_clear(&listing->row);
    for (int i = 0; i < 3; i++) {
        csv_text(&listing->row, statement_text(row, i));
        buffer_text(&listing->row, i < 2 ? "," : "\n");
    }
    if (!is_listed(buffer_string(&listing->key->listed), buffer_string(&listing->row)))
        buffer_text(listing->out, buffer_string(&listing->row));
    return buffer_status(&listing->row, "a row of the key", fault);
}

enum status redact_key_write(const struct redact_key *key, struct store *redacted, const char *path,
                             struct fault *fault)
{
    struct buffer text = {0};
    struct listing listing = {.key = key, .out = &text};

    buffer_text(&text, head);
    for (size_t i = 0; i < REDACT_SECRET; i++) {
        buffer_add(&text, &hexadecimal[key->secret[i] >> 4], 1);
        buffer_add(&text, &hexadecimal[key->secret[i] & 15], 1);
    }
    buffer_text(&text, after_secret);
    buffer_text(&text, buffer_string(&key->listed));
    enum status status =
        query_each(redacted, "SELECT kind, name, id FROM redacted_name ORDER BY number", NULL,
                   take_name, &listing, fault);
    if (status == OK)
        status = buffer_status(&text, "the key", fault);
    if (status == OK)
        status = report_save_private(path, &text, fault);
    buffer_free(&listing.row);
    buffer_free(&text);
    return status;
}

enum status redact_token(const unsigned char secret[REDACT_SECRET], const char *kind,
                         const char *name, char out[REDACT_TOKEN], struct fault *fault)
{
    static const char digits[] = "0123456789abcdefghjkmnpqrstvwxyz"; /* no i, l, o, u */
    unsigned char digest[KEYED_DIGEST + 1] = {0};
    struct buffer text = {0};

    buffer_add(&text, kind, strlen(kind) + 1); /* its end, so that no two pairs give one text */
    buffer_text(&text, name);
    enum status status = buffer_status(&text, "a name", fault);
    if (status == OK)
        status =
            keyed_digest(secret, REDACT_SECRET, buffer_string(&text), text.length, digest, fault);
    buffer_free(&text);
    for (size_t i = 0; i + 1 < REDACT_TOKEN; i++) {
        size_t bit = 5 * i;
        unsigned pair = ((unsigned)digest[bit / 8] << 8) | digest[bit / 8 + 1];
        out[i] = digits[(pair >> (11 - bit % 8)) & 31U];
    }
    out[REDACT_TOKEN - 1] = '\0';
    return status;
}
