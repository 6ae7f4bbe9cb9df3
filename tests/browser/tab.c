/* tab.c - see tab.h. */
#include "tests/browser/tab.h"

#include <limits.h>
#include <math.h>
#include <openssl/evp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/browser/browser.h"
#include "tests/browser/json.h"
#include "tests/check.h"
#include "tests/scratch.h"

/* Sends a call with parameters made by json_format(), and frees them. */
static void send_made(const char *method, char *params)
{
    CHECK(params != NULL);
    browser_do(method, params);
    free(params);
}

void tab_view(const struct view *view)
{
    send_made("Emulation.setDeviceMetricsOverride",
              json_format("{\"width\":%d,\"height\":%d,\"deviceScaleFactor\":1,\"mobile\":false}",
                          view->width, view->height));
    send_made("Emulation.setEmulatedMedia",
              json_format("{\"media\":\"%s\",\"features\":[{\"name\":\"prefers-color-scheme\","
                          "\"value\":\"%s\"}]}",
                          view->media, view->scheme));
}

void tab_scripts(int run)
{
    send_made("Emulation.setScriptExecutionDisabled",
              json_format("{\"value\":%s}", run ? "false" : "true"));
}

static char *evaluate(const char *expression)
{
    char *quoted = json_quote(expression);
    char *params =
        json_format("{\"expression\":%s,\"returnByValue\":true,\"awaitPromise\":true}", quoted);
    char *answer = browser_call("Runtime.evaluate", params);
    char *trouble = json_text(answer, "$.result.exceptionDetails");

    CHECK(answer != NULL);
    if (trouble != NULL)
        CHECK_TEXT(trouble, expression);
    char *value = json_text(answer, "$.result.result.value");
    free(trouble);
    free(answer);
    free(params);
    free(quoted);
    return value;
}

static int give_look(void)
{
    char *script = scratch_read("tests/browser", "look.js");

    CHECK(script != NULL);
    if (script == NULL)
        return 0;
    free(evaluate(script));
    free(script);
    return 1;
}

int tab_open(const char *path)
{
    char url[300];

    (void)snprintf(url, sizeof url, "file://%s", path);
    browser_forget(url);
    char *params = json_format("{\"url\":\"%s\"}", url);
    char *answer = browser_call("Page.navigate", params);
    char *trouble = json_text(answer, "$.result.errorText");
    int is_loaded = answer != NULL && trouble == NULL && browser_await_load();
    CHECK(is_loaded);
    free(trouble);
    free(answer);
    free(params);
    return is_loaded && give_look();
}

char *tab_ask(const char *expression)
{
    char *value = evaluate(expression);

    return value != NULL ? value : strdup("");
}

double tab_number(const char *expression)
{
    char *text = tab_ask(expression);
    char *end = text;
    double value = text != NULL ? strtod(text, &end) : (double)NAN;

    if (end == text)
        value = (double)NAN;
    free(text);
    return value;
}

char *tab_look(const char *function, const char *text)
{
    char *quoted = json_quote(text);
    char *expression = json_format("look.%s(%s)", function, quoted);
    char *value = tab_ask(expression);

    free(expression);
    free(quoted);
    return value;
}

void tab_key(const char *key)
{
    static const char *const ways[] = {"rawKeyDown", "keyUp"};
    static const struct {
        const char *key;
        int code;
    } codes[] = {{"ArrowLeft", 37}, {"ArrowUp", 38}, {"ArrowRight", 39},
                 {"ArrowDown", 40}, {"Home", 36},    {"End", 35},
                 {"Escape", 27},    {"Tab", 9},      {"Enter", 13}};
    int code = 0;

    for (size_t i = 0; i < sizeof codes / sizeof codes[0]; i++)
        if (strcmp(codes[i].key, key) == 0)
            code = codes[i].code;
    CHECK(code != 0);
    for (size_t i = 0; i < 2; i++)
        send_made("Input.dispatchKeyEvent",
                  json_format("{\"type\":\"%s\",\"key\":\"%s\",\"code\":\"%s\","
                              "\"windowsVirtualKeyCode\":%d}",
                              ways[i], key, key, code));
}

static void mouse(const char *type, double x, double y, const char *more)
{
    send_made("Input.dispatchMouseEvent",
              json_format("{\"type\":\"%s\",\"x\":%.2f,\"y\":%.2f%s}", type, x, y, more));
}

void tab_point_at(double x, double y)
{
    mouse("mouseMoved", x, y, "");
}

void tab_click(double x, double y)
{
    mouse("mousePressed", x, y, ",\"button\":\"left\",\"clickCount\":1");
    mouse("mouseReleased", x, y, ",\"button\":\"left\",\"clickCount\":1");
}

void tab_check_quiet(const char *what)
{
    const struct browser_seen *seen = browser_seen();
    char got[500];

    /* An answer to a last question means that all events before it have been read. */
    free(tab_ask("1"));
    (void)snprintf(got, sizeof got, "%s%s%s", what, seen->first[0] != '\0' ? ": " : "",
                   seen->first);
    CHECK_TEXT(got, what);
    CHECK(seen->requests == 0 && seen->errors == 0 && seen->dialogs == 0);
}

/* Bytes of the base64 text at $.result.data of an answer; *n of them. The caller frees. */
static unsigned char *decoded(const char *answer, size_t *n)
{
    char *text = json_text(answer, "$.result.data");
    size_t length = text != NULL ? strlen(text) : 0;
    unsigned char *bytes = malloc(length + 1);

    *n = 0;
    if (bytes != NULL && length > 0 && length < INT_MAX) {
        int got = EVP_DecodeBlock(bytes, (const unsigned char *)text, (int)length);
        *n = got > 0 ? (size_t)got : 0;
    }
    free(text);
    return bytes;
}

static void save(const char *folder, const char *name, const char *ending, const char *answer)
{
    char *path = json_format("%s/%s.%s", folder, name, ending);
    size_t n = 0;
    unsigned char *bytes = decoded(answer, &n);
    FILE *file = path != NULL ? fopen(path, "wb") : NULL;

    CHECK(file != NULL && n > 0);
    if (file != NULL) {
        CHECK(fwrite(bytes, 1, n, file) == n);
        CHECK(fclose(file) == 0);
    }
    free(bytes);
    free(path);
}

static const char paper[] = "{\"preferCSSPageSize\":true,\"printBackground\":true}";

void tab_picture(const char *folder, const char *name)
{
    char *picture = browser_call("Page.captureScreenshot",
                                 "{\"format\":\"png\",\"captureBeyondViewport\":true}");

    save(folder, name, "png", picture);
    free(picture);
}

void tab_paper(const char *folder, const char *name)
{
    char *print = browser_call("Page.printToPDF", paper);

    save(folder, name, "pdf", print);
    free(print);
}

/* Page objects of a PDF: "/Type /Page" that is not "/Type /Pages" (ISO 32000-1:2008, table 30). */
size_t tab_paper_pages(void)
{
    static const char mark[] = "/Type /Page";
    char *answer = browser_call("Page.printToPDF", paper);
    size_t n = 0;
    size_t pages = 0;
    unsigned char *bytes = decoded(answer, &n);

    for (size_t i = 0; bytes != NULL && i + sizeof mark <= n; i++)
        pages += memcmp(bytes + i, mark, sizeof mark - 1) == 0 && bytes[i + sizeof mark - 1] != 's';
    free(bytes);
    free(answer);
    return pages;
}
