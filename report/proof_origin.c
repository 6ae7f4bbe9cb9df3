/* proof_origin.c - what the sheet was made from, and how it is made again; see proof.h. */
#include <string.h>

#include "report/page.h"
#include "report/proof.h"
#include "report/redact.h"
#include "schema/digest.h"
#include "schema/version.h"

struct logs {
    struct digest *digest;
    size_t n;
};

/* Lines as the tool sha256sum writes them, so that the digest can be had without this program. */
static enum status take_log(struct statement *row, void *context, struct fault *fault)
{
    struct logs *logs = context;
    const char *const pieces[] = {statement_text(row, 0), "  ", statement_text(row, 1), "\n"};
    enum status status = OK;

    logs->n++;
    for (size_t i = 0; status == OK && i < 4; i++)
        status = digest_add(logs->digest, pieces[i], strlen(pieces[i]), fault);
    return status;
}

static enum status write_logs(struct html *page, const struct proof *proof, struct fault *fault)
{
    struct logs logs = {NULL, 0};
    char text[DIGEST_TEXT] = "";

    enum status status = digest_begin(&logs.digest, fault);
    if (status == OK)
        status = query_each(proof->store,
                            "SELECT l.sha256, l.file FROM log AS l JOIN page_run AS r ON r.run = "
                            "l.run ORDER BY r.sequence, l.position",
                            NULL, take_log, &logs, fault);
    if (status == OK)
        status = digest_end(logs.digest, text, fault);
    else
        digest_free(logs.digest);
    proof_pair(page, "Logs",
               "%zu of the entry; SHA-256 of their list (hash, two blanks, file, one a "
               "line, in the order of the run sheet): %s",
               logs.n, text);
    return status;
}

static enum status write_keys(struct html *page, const struct proof *proof, struct fault *fault)
{
    struct text_pool pool = {0};
    const char *campaign = "";
    const char *key = "";

    enum status status = query_text(
        proof->store, "SELECT value FROM setting WHERE section = 'season' AND name = 'digest'",
        NULL, &pool, &campaign, fault);
    if (status == OK)
        status = query_text(proof->store,
                            "SELECT d.key FROM reduction AS d, page_scope AS s WHERE d.is_current "
                            "= 1 AND d.stage = 'compare' AND d.subject = s.facility || '/' || "
                            "s.entry || '/' || ?1",
                            (const char *[]){proof->part->baseline, NULL}, &pool, &key, fault);
    proof_pair(page, "Campaign", "campaign.yaml, SHA-256 %s",
               campaign[0] != '\0' ? campaign : "not kept");
    proof_pair(page, "Comparison",
               "key %s: the hash of all it depends on, methods with their "
               "versions included; program lapwing %s",
               key[0] != '\0' ? key : "not kept", version_text());
    text_pool_free(&pool);
    return status;
}

/* A word for the shell, whatever is in it. */
static void add_quoted(struct buffer *out, const char *text)
{
    buffer_text(out, "'");
    for (const char *at = text; *at != '\0'; at++) {
        if (*at == '\'')
            buffer_text(out, "'\\''");
        else
            buffer_add(out, at, 1);
    }
    buffer_text(out, "'");
}

static void write_command(struct html *page, const struct proof *proof)
{
    struct buffer command = {0};
    struct buffer entry = {0};

    buffer_format(&entry, "%s/%s", proof->findings->facility, proof->findings->entry);
    buffer_text(&command, "lapwing report --proof");
    buffer_text(&command, proof->part->name[0] == '-' ? "=" : " ");
    add_quoted(&command, proof->part->name);
    buffer_text(&command, " --entry ");
    add_quoted(&command, buffer_string(&entry));
    html_element(page, "dt", "Again", HTML_END);
    html_open(page, "dd", HTML_END);
    html_element(page, "code", buffer_string(&command), HTML_END);
    html_text(page, " in the campaign folder gives this sheet byte for byte.");
    html_close(page);
    page->out.failed |= command.failed || entry.failed;
    buffer_free(&command);
    buffer_free(&entry);
}

/* Hashes tell a file to who has it, and the command has names in it. */
static void write_redaction(struct html *page)
{
    proof_pair(
        page, "Redacted",
        "names are exchanged for ids; what people wrote, pictures, files and hashes are left "
        "out, and days are counted from 2000-01-01. The sheet with names is its maker's; "
        "program lapwing %s",
        version_text());
}

enum status proof_origin(struct html *page, const struct proof *proof, struct fault *fault)
{
    int is_redacted = 0;

    page_section(page, "origin", "Origin", NULL);
    html_open(page, "dl", "class", "origin-list", HTML_END);
    enum status status = redact_is_on(proof->store, &is_redacted, fault);
    if (status == OK && is_redacted) {
        write_redaction(page);
        html_close(page);
        html_close(page);
        return OK;
    }
    if (status == OK)
        status = write_logs(page, proof, fault);
    if (status == OK)
        status = write_keys(page, proof, fault);
    write_command(page, proof);
    html_close(page);
    html_close(page);
    return status;
}
