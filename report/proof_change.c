/* proof_change.c - what was changed from what, and what was held; see proof.h. */
#include <string.h>

#include "report/proof.h"

struct words {
    const char *parent, *baseline_change, *parts, *balances, *contents, *methods;
};

static const char parent_sql[] =
    "SELECT coalesce(parent, '') FROM configuration WHERE configuration = ?1";
static const char parts_sql[] =
    "SELECT group_concat(part, '; ') FROM (SELECT part FROM configuration_part WHERE configuration "
    "= ?1 ORDER BY position)";
static const char baseline_sql[] = "SELECT change FROM configuration WHERE configuration = ?2";
static const char balances_sql[] =
    "SELECT group_concat(balance, '; ') FROM (SELECT DISTINCT balance FROM page_run WHERE kind = "
    "'wind_on' AND balance <> '' AND configuration IN (?1, ?2) ORDER BY balance)";
static const char contents_sql[] =
    "SELECT group_concat(contents, '; ') FROM (SELECT DISTINCT c.drag_contains AS contents FROM "
    "load_content AS c JOIN page_reduction AS d ON d.reduction = c.reduction JOIN page_run AS r ON "
    "r.run = d.subject WHERE d.stage = 'point' AND r.configuration IN (?1, ?2) ORDER BY 1)";
static const char methods_sql[] =
    "SELECT group_concat(step || ' (' || method || ')', '; ') FROM (SELECT step, method FROM "
    "correction_method WHERE facility = (SELECT facility FROM page_scope) ORDER BY sequence)";

static enum status read_words(const struct proof *proof, struct text_pool *pool,
                              struct words *words, struct fault *fault)
{
    const struct {
        const char *sql;
        const char **text;
    } wanted[] = {{parent_sql, &words->parent},     {baseline_sql, &words->baseline_change},
                  {parts_sql, &words->parts},       {balances_sql, &words->balances},
                  {contents_sql, &words->contents}, {methods_sql, &words->methods}};
    enum status status = OK;

    for (size_t i = 0; status == OK && i < sizeof wanted / sizeof wanted[0]; i++) {
        int has_one = strstr(wanted[i].sql, "?1") != NULL;
        int has_two = strstr(wanted[i].sql, "?2") != NULL;
        /* A statement takes no more texts than it names, counted from the first. */
        const char *texts[] = {has_one || has_two ? proof->part->name : NULL,
                               has_two ? proof->part->baseline : NULL, NULL};
        status = query_text(proof->store, wanted[i].sql, texts, pool, wanted[i].text, fault);
    }
    return status;
}

static void write_held(struct html *page, const struct proof *proof, const struct words *words)
{
    html_element(page, "dt", "Held", HTML_END);
    html_open(page, "dd", "class", "long", HTML_END);
    html_format(page, "Facility %s", proof->findings->facility);
    if (words->balances[0] != '\0')
        html_format(page, "; balance %s", words->balances);
    if (words->contents[0] != '\0')
        html_format(page, "; loads of %s", words->contents);
    html_text(page, "; the attitudes below; corrections: ");
    html_text(page, words->methods[0] != '\0' ? words->methods : "none");
    html_text(page, ".");
    html_close(page);
}

enum status proof_change(struct html *page, const struct proof *proof, struct fault *fault)
{
    struct text_pool pool = {0};
    struct words words = {"", "", "", "", "", ""};
    const struct finding_configuration *part = proof->part;

    enum status status = read_words(proof, &pool, &words, fault);
    html_open(page, "dl", "class", "origin-list", HTML_END);
    proof_pair(page, "Changed", "%.600s", part->change[0] != '\0' ? part->change : "not said");
    if (words.parts[0] != '\0')
        proof_pair(page, "Made of", "%.400s", words.parts);
    if (strcmp(words.parent, part->baseline) != 0)
        proof_pair(page, "Made from", "%.200s", words.parent);
    proof_pair(page, "Compared with", "%.200s%s%.300s", part->baseline,
               words.baseline_change[0] != '\0' ? ": " : "", words.baseline_change);
    write_held(page, proof, &words);
    html_close(page);
    text_pool_free(&pool);
    return status;
}
