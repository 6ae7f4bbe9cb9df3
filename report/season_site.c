/* season_site.c - see season_site.h. */
#include "report/season_site.h"

#include <stdint.h>
#include <stdlib.h>

#include "report/page_night.h"
#include "report/proof.h"
#include "report/season.h"
#include "report/site_files.h"

struct site {
    struct store *store;
    const char *report, *campaign;
    struct buffer *headline;
    struct season season;
    struct page_name *night_files; /* by number of the entry, the latest first */
    size_t n_entries;
    void *kept; /* struct page_name, written this time */
    size_t n_kept, kept_capacity;
};

static enum status keep_name(struct site *site, const struct page_name *file, struct fault *fault)
{
    struct page_name *added =
        query_append(&site->kept, &site->n_kept, &site->kept_capacity, sizeof *added, fault);

    if (added == NULL)
        return NO_MEMORY;
    *added = *file;
    return OK;
}

static enum status save(struct site *site, const struct page_name *file, const struct buffer *text,
                        struct fault *fault)
{
    enum status status = keep_name(site, file, fault);

    return status == OK ? site_save(site->report, file->text, text, fault) : status;
}

/* ---- nights -------------------------------------------------------------------------------------- */

static enum status save_night(struct site *site, size_t at, const struct findings *findings,
                              const struct headline *headline, const struct html *page,
                              struct fault *fault)
{
    enum status status = OK;

    if (site->n_entries > 0)
        status = save(site, &site->night_files[at], &page->out, fault);
    if (status == OK && at == 0)
        status = site_save(site->report, "night.html", &page->out, fault);
    if (status == OK && at == 0 && site->headline != NULL)
        buffer_text(site->headline, buffer_string(&headline->sentence));
    if (status == OK && site->n_entries > 0)
        status = season_add(&site->season, findings, headline, &site->night_files[at], fault);
    return status;
}

static enum status write_night(struct site *site, size_t at, struct fault *fault)
{
    struct findings findings;
    struct headline headline;
    struct html page = {0};

    enum status status = findings_read_entry(site->store, at, &findings, fault);
    if (status != OK)
        return status;
    headline_make(&findings, &headline);
    struct night_page night = {site->store, &findings, &headline};
    status = headline_status(&headline, fault);
    if (status == OK)
        status = page_night(&page, &night, fault);
    if (status == OK)
        status = save_night(site, at, &findings, &headline, &page, fault);
    html_free(&page);
    headline_end(&headline);
    findings_end(&findings);
    return status;
}

static enum status write_nights(struct site *site, struct fault *fault)
{
    struct season_entries entries;

    enum status status = entries_read(site->store, &entries, fault);
    if (status != OK)
        return status;
    site->n_entries = entries.n;
    site->night_files = calloc(entries.n + 1, sizeof *site->night_files);
    if (site->night_files == NULL)
        status = FAIL(fault, NO_MEMORY, "no memory for the names of %zu pages", entries.n);
    else
        status = page_names_nights(&entries, site->night_files, fault);
    entries_end(&entries);
    if (status == OK && site->n_entries == 0)
        return write_night(site, 0, fault);
    for (size_t at = site->n_entries; status == OK && at-- > 0;)
        status = write_night(site, at, fault);
    return status;
}

/* ---- proof sheets -------------------------------------------------------------------------------- */

static enum status write_proof(struct site *site, const struct findings *findings,
                               const struct season_part *part, struct fault *fault)
{
    struct proof proof = {site->store, findings, findings_configuration(findings, part->name),
                          site->campaign};
    struct html page = {0};

    enum status status = page_proof(&page, &proof, fault);
    if (status == OK)
        status = save(site, &part->file, &page.out, fault);
    html_free(&page);
    return status;
}

/* Those of the parts that the night compared last. Nights of the season count from the oldest. */
static enum status write_proofs_of(struct site *site, size_t night, struct fault *fault)
{
    const struct season_part *parts = site->season.parts;
    struct findings findings;
    int is_read = 0;
    enum status status = OK;

    for (size_t i = 0; status == OK && i < site->season.n_parts; i++) {
        if (parts[i].latest != night)
            continue;
        if (!is_read)
            status =
                findings_read_entry(site->store, site->n_entries - 1 - night, &findings, fault);
        is_read = is_read || status == OK;
        if (status == OK)
            status = write_proof(site, &findings, &parts[i], fault);
    }
    if (is_read)
        findings_end(&findings);
    return status;
}

/* ---- all ----------------------------------------------------------------------------------------- */

static enum status write_index(struct site *site, struct fault *fault)
{
    struct html page = {0};

    enum status status = page_season(&page, &site->season, fault);
    if (status == OK)
        status = site_save(site->report, "index.html", &page.out, fault);
    html_free(&page);
    return status;
}

enum status season_site_write(struct store *store, const char *report, const char *campaign,
                              struct buffer *headline, struct fault *fault)
{
    struct site site = {.store = store,
                        .report = report,
                        .campaign = campaign,
                        .headline = headline,
                        .season = {.store = store}};

    enum status status = write_nights(&site, fault);
    for (size_t night = 0; status == OK && night < site.season.n_nights; night++)
        status = write_proofs_of(&site, night, fault);
    if (status == OK)
        status = site_sweep(report, site.kept, site.n_kept, fault);
    if (status == OK)
        status = write_index(&site, fault);
    if (status == OK && headline != NULL)
        status = buffer_status(headline, "the headline", fault);
    season_end(&site.season);
    free(site.night_files);
    free(site.kept);
    return status;
}
