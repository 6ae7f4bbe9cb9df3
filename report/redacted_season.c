/* redacted_season.c - see redacted_season.h. */
#include "report/redacted_season.h"

#include <stdio.h>

#include "report/query.h"
#include "report/redact.h"
#include "report/redact_key.h"
#include "report/redacted_folder.h"

static enum status copy(struct store *season, const struct redact_how *how, const char *key_file,
                        const struct redact_key *key, struct redacted_season *made,
                        struct fault *fault)
{
    enum status status = redact_open(season, how, &made->owned, fault);

    made->store = made->owned;
    if (status != OK || key_file == NULL)
        return status;
    status = redact_key_write(key, made->store, key_file, fault);
    if (status == OK && key->was_open)
        (void)fprintf(
            stderr,
            "%s: others on this machine could read this key, and tell names by ids; it is "
            "its owner's alone from now on\n",
            key_file);
    return status;
}

enum status redacted_season_open(struct store *season, const char *campaign,
                                 const struct report_options *options, int with_asked,
                                 struct redacted_season *made, struct fault *fault)
{
    struct redact_key key = {.was_open = 0};
    struct redact_how how = {.redaction = options->redaction, .with_asked = with_asked};
    enum status status = OK;

    *made = (struct redacted_season){season, NULL};
    if (options->redaction == REDACT_NOTHING)
        return OK;
    if (options->key_file != NULL) {
        status = redacted_folder_key(campaign, options->key_file, fault);
        if (status == OK)
            status = redact_key_read(options->key_file, &key, fault);
        how.secret = key.secret;
    }
    if (status == OK)
        status = copy(season, &how, options->key_file, &key, made, fault);
    redact_key_end(&key);
    return status == OK ? OK : redacted_season_end(made, status, fault);
}

enum status redacted_season_end(struct redacted_season *made, enum status status,
                                struct fault *fault)
{
    enum status closed = store_close(made->owned, status == OK ? fault : NULL);

    *made = (struct redacted_season){NULL, NULL};
    return status != OK ? status : closed;
}

enum status redacted_season_id(const struct redacted_season *made, const char *kind,
                               const char *name, char id[REDACTED_ID], struct fault *fault)
{
    struct text_pool pool = {0};
    const char *found = name;
    enum status status = OK;

    if (made->owned != NULL)
        status =
            query_text(made->store, "SELECT id FROM redacted_name WHERE kind = ?1 AND name = ?2",
                       (const char *[]){kind, name, NULL}, &pool, &found, fault);
    if (status == OK && found[0] == '\0')
        status = FAIL(fault, NOT_FOUND, "the season has no %s '%.80s'", kind, name);
    (void)snprintf(id, REDACTED_ID, "%s", found);
    text_pool_free(&pool);
    return status;
}
