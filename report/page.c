/* page.c - see page.h. */
#include "report/page.h"

#include <stdio.h>
#include <string.h>

#include "report/base64.h"
#include "schema/digest.h"

static const char *const style_lines[] = {
#include "page.css.inc"
};
static const char *const script_lines[] = {
#include "page.js.inc"
};

enum { SHA256_BYTES = 32, POLICY_HASH = 64 };

static void join(struct buffer *out, const char *const *lines, size_t n)
{
    for (size_t i = 0; i < n; i++)
        buffer_text(out, lines[i]);
}

/* 'sha256-...' of a text as the policy writes it. */
static enum status policy_hash(const char *text, char out[POLICY_HASH], struct fault *fault)
{
    char hex[DIGEST_TEXT];
    unsigned char bytes[SHA256_BYTES];
    char encoded[4 * ((SHA256_BYTES + 2) / 3) + 1];

    enum status status = digest_text(text, hex, fault);
    if (status != OK)
        return status;
    size_t n = base64_bytes_from_hex(hex, bytes, sizeof bytes);
    base64_encode(bytes, n, encoded);
    (void)snprintf(out, POLICY_HASH, "'sha256-%s'", encoded);
    return OK;
}

static enum status write_policy(struct html *page, const struct buffer *style,
                                const struct buffer *script, struct fault *fault)
{
    char style_hash[POLICY_HASH];
    char script_hash[POLICY_HASH];
    char policy[360];

    enum status status = policy_hash(buffer_string(style), style_hash, fault);
    if (status == OK)
        status = policy_hash(buffer_string(script), script_hash, fault);
    if (status != OK)
        return status;
    (void)snprintf(
        policy, sizeof policy,
        "default-src 'none'; style-src %s; script-src %s; img-src data:; base-uri 'none'; "
        "form-action 'none'",
        style_hash, script_hash);
    html_empty(page, "meta", "http-equiv", "Content-Security-Policy", "content", policy, HTML_END);
    return OK;
}

static void write_head(struct html *page, const char *title, const struct buffer *style)
{
    html_empty(page, "meta", "name", "viewport", "content", "width=device-width", HTML_END);
    html_empty(page, "meta", "name", "color-scheme", "content", "light dark", HTML_END);
    html_empty(page, "meta", "name", "referrer", "content", "no-referrer", HTML_END);
    html_empty(page, "meta", "name", "generator", "content", "lapwing", HTML_END);
    html_element(page, "title", title, HTML_END);
    html_open(page, "style", HTML_END);
    html_raw(page, buffer_string(style));
    html_close(page);
}

static void write_bar(struct html *page, const char *name, const struct page_link *links, size_t n)
{
    html_element(page, "a", "Skip to the result", "class", "skip", "href", "#result", HTML_END);
    html_open(page, "header", "class", "bar", HTML_END);
    html_element(page, "b", name, HTML_END);
    html_open(page, "nav", "aria-label", "Sections", HTML_END);
    for (size_t i = 0; i < n; i++) {
        char target[64];
        int is_file = strchr(links[i].id, '.') != NULL;
        (void)snprintf(target, sizeof target, "%s%s", is_file ? "" : "#", links[i].id);
        html_element(page, "a", links[i].title, "href", target, HTML_END);
        html_raw(page, "\n");
    }
    html_close(page);
    html_element(page, "button", "Light / dark", "id", "theme", "type", "button", "hidden",
                 "hidden", HTML_END);
    html_element(page, "button", "Print", "id", "print", "type", "button", "hidden", "hidden",
                 HTML_END);
    html_close(page);
}

static enum status begin(struct html *page, const char *class, const char *title, const char *name,
                         const struct page_link *links, size_t n, struct fault *fault)
{
    struct buffer style = {0};
    struct buffer script = {0};

    join(&style, style_lines, sizeof style_lines / sizeof style_lines[0]);
    join(&script, script_lines, sizeof script_lines / sizeof script_lines[0]);
    html_raw(page, "<!DOCTYPE html>\n");
    html_open(page, "html", "lang", "en", HTML_END);
    html_open(page, "head", HTML_END);
    html_empty(page, "meta", "charset", "utf-8", HTML_END);
    enum status status = write_policy(page, &style, &script, fault);
    if (status == OK)
        status = buffer_status(&style, "the style sheet", fault);
    write_head(page, title, &style);
    html_close(page);
    html_open(page, "body", HTML_END);
    write_bar(page, name, links, n);
    html_open(page, "main", "class", class, HTML_END);
    buffer_free(&style);
    buffer_free(&script);
    return status;
}

enum status page_begin(struct html *page, const char *title, const char *name,
                       const struct page_link *links, size_t n, struct fault *fault)
{
    return begin(page, NULL, title, name, links, n, fault);
}

enum status page_begin_sheet(struct html *page, const char *title, const char *name,
                             const struct page_link *links, size_t n, struct fault *fault)
{
    return begin(page, "sheet", title, name, links, n, fault);
}

void page_end(struct html *page, const char *foot)
{
    html_element(page, "footer", foot, HTML_END);
    html_close(page); /* main */
    html_element(page, "div", "", "id", "tip", "hidden", "hidden", HTML_END);
    html_element(page, "div", "", "id", "say", "class", "unseen", "aria-live", "polite", HTML_END);
    html_open(page, "script", HTML_END);
    for (size_t i = 0; i < sizeof script_lines / sizeof script_lines[0]; i++)
        html_raw(page, script_lines[i]);
    html_close(page);
    html_close(page); /* body */
    html_close(page); /* html */
}

void page_section(struct html *page, const char *id, const char *title, const char *why)
{
    html_open(page, "section", "id", id, HTML_END);
    html_element(page, "h2", title, HTML_END);
    if (why != NULL)
        html_element(page, "p", why, "class", "why", HTML_END);
}

void page_scroller(struct html *page, const char *class, const char *label)
{
    html_open(page, "div", "class", class, "role", "group", "aria-label", label, "tabindex", "0",
              HTML_END);
}

void page_chip(struct html *page, enum chip chip, const char *symbol, const char *word)
{
    static const char *const classes[] = {"chip good", "chip bad", "chip look", "chip plain"};

    html_open(page, "span", "class", classes[chip], HTML_END);
    html_element(page, "span", symbol, "aria-hidden", "true", HTML_END);
    html_text(page, word);
    html_close(page);
}
