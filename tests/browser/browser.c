/* browser.c - see browser.h. */
#include "tests/browser/browser.h"

#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "tests/browser/json.h"
#include "tests/check.h"
#include "tests/program.h"

enum { PATIENCE_MS = 30000, CHUNK = 65536 };

static struct {
    pid_t process;
    int to, from;
    long calls;
    char *text; /* bytes read and not yet used */
    size_t length, capacity;
    char *session;
    char folder[64];
    char own_url[256];
    int has_loaded;
    struct browser_seen seen;
} browser = {.process = -1, .to = -1, .from = -1};

/* ---- messages ------------------------------------------------------------------------------------ */

static int write_whole(const char *bytes, size_t n)
{
    while (n > 0) {
        ssize_t written = write(browser.to, bytes, n);
        if (written < 0 && errno == EINTR)
            continue;
        if (written <= 0)
            return 0;
        bytes += written;
        n -= (size_t)written;
    }
    return 1;
}

static int read_more(void)
{
    struct pollfd ready = {.fd = browser.from, .events = POLLIN};

    if (browser.length + CHUNK > browser.capacity) {
        size_t capacity = 2 * browser.capacity + CHUNK;
        char *text = realloc(browser.text, capacity);
        if (text == NULL)
            return 0;
        browser.text = text;
        browser.capacity = capacity;
    }
    if (poll(&ready, 1, PATIENCE_MS) <= 0)
        return 0;
    ssize_t got = read(browser.from, browser.text + browser.length, CHUNK);
    if (got <= 0)
        return 0;
    browser.length += (size_t)got;
    return 1;
}

/* The next whole message; the caller frees. NULL when none comes. */
static char *next_message(void)
{
    size_t seen = 0;

    for (;;) {
        const char *end =
            browser.length > seen ? memchr(browser.text + seen, '\0', browser.length - seen) : NULL;
        if (end != NULL) {
            size_t size = (size_t)(end - browser.text) + 1;
            char *message = malloc(size);
            if (message == NULL)
                return NULL;
            memcpy(message, browser.text, size);
            browser.length -= size;
            memmove(browser.text, browser.text + size, browser.length);
            return message;
        }
        seen = browser.length;
        if (!read_more())
            return NULL;
    }
}

static long send_call(const char *method, const char *params)
{
    const char *within = params != NULL ? params : "{}";
    char *message =
        browser.session != NULL
            ? json_format("{\"id\":%ld,\"method\":\"%s\",\"params\":%s,\"sessionId\":\"%s\"}",
                          ++browser.calls, method, within, browser.session)
            : json_format("{\"id\":%ld,\"method\":\"%s\",\"params\":%s}", ++browser.calls, method,
                          within);
    int is_sent = message != NULL && write_whole(message, strlen(message) + 1);

    free(message);
    return is_sent ? browser.calls : -1;
}

/* ---- what pages do ------------------------------------------------------------------------------- */

static void note(size_t *count, const char *kind, const char *message, const char *path)
{
    char *what = json_text(message, path);

    if ((*count)++ == 0 && browser.seen.first[0] == '\0')
        (void)snprintf(browser.seen.first, sizeof browser.seen.first, "%s: %.160s", kind,
                       what != NULL ? what : message);
    free(what);
}

static void note_request(const char *message)
{
    char *url = json_text(message, "$.params.request.url");

    /* A picture within the page is asked of nobody. */
    if (url == NULL || (strcmp(url, browser.own_url) != 0 && strncmp(url, "data:", 5) != 0))
        note(&browser.seen.requests, "request", message, "$.params.request.url");
    free(url);
}

static void note_console(const char *message)
{
    char *type = json_text(message, "$.params.type");

    if (type != NULL && (strcmp(type, "error") == 0 || strcmp(type, "warning") == 0))
        note(&browser.seen.errors, "console", message, "$.params.args");
    free(type);
}

static void note_entry(const char *message)
{
    char *level = json_text(message, "$.params.entry.level");

    if (level != NULL && strcmp(level, "error") == 0)
        note(&browser.seen.errors, "log", message, "$.params.entry.text");
    free(level);
}

static void note_exception(const char *message)
{
    note(&browser.seen.errors, "exception", message, "$.params.exceptionDetails");
}

/* A dialog stops the page until it is answered. */
static void note_dialog(const char *message)
{
    note(&browser.seen.dialogs, "dialog", message, "$.params.message");
    (void)send_call("Page.handleJavaScriptDialog", "{\"accept\":false}");
}

static void note_load(const char *message)
{
    (void)message;
    browser.has_loaded = 1;
}

static const struct {
    const char *method;
    void (*take)(const char *message);
} events[] = {
    {"Network.requestWillBeSent", note_request},   {"Runtime.consoleAPICalled", note_console},
    {"Runtime.exceptionThrown", note_exception},   {"Log.entryAdded", note_entry},
    {"Page.javascriptDialogOpening", note_dialog}, {"Page.loadEventFired", note_load}};

static void take_event(const char *message)
{
    char *method = json_text(message, "$.method");

    for (size_t i = 0; method != NULL && i < sizeof events / sizeof events[0]; i++)
        if (strcmp(events[i].method, method) == 0)
            events[i].take(message);
    free(method);
}

const struct browser_seen *browser_seen(void)
{
    return &browser.seen;
}

void browser_forget(const char *own_url)
{
    browser.seen = (struct browser_seen){0};
    browser.has_loaded = 0;
    (void)snprintf(browser.own_url, sizeof browser.own_url, "%s", own_url);
}

/* ---- calls --------------------------------------------------------------------------------------- */

char *browser_call(const char *method, const char *params)
{
    long wanted = send_call(method, params);
    char *message = NULL;

    while (wanted > 0 && (message = next_message()) != NULL) {
        if (json_number(message, "$.id") == (double)wanted)
            return message;
        take_event(message);
        free(message);
    }
    return NULL;
}

void browser_do(const char *method, const char *params)
{
    char *answer = browser_call(method, params);
    char *error = json_text(answer, "$.error.message");

    CHECK(answer != NULL);
    if (error != NULL)
        CHECK_TEXT(error, method);
    free(error);
    free(answer);
}

int browser_await_load(void)
{
    while (!browser.has_loaded) {
        char *message = next_message();
        if (message == NULL)
            return 0;
        take_event(message);
        free(message);
    }
    return 1;
}

/* ---- the process --------------------------------------------------------------------------------- */

/* Descriptors 3 and 4 are the browser's ends of the pipes. */
static void run_browser(const char *program, int in, int out)
{
    char profile[96];
    int nowhere = open("/dev/null", O_RDWR);

    (void)snprintf(profile, sizeof profile, "--user-data-dir=%s/profile", browser.folder);
    if (nowhere < 0 || dup2(nowhere, 0) < 0 || dup2(nowhere, 1) < 0 || dup2(nowhere, 2) < 0 ||
        dup2(in, 3) < 0 || dup2(out, 4) < 0)
        _exit(127);
    (void)execlp(program, program, "--remote-debugging-pipe", "--headless", "--no-sandbox",
                 "--disable-gpu", "--disable-quic", "--no-first-run",
                 "--disable-background-networking", "--disable-component-update", "--disable-sync",
                 "--disable-dev-shm-usage", "--hide-scrollbars", "--force-color-profile=srgb",
                 profile, "about:blank", (char *)NULL);
    _exit(127);
}

/* Two descriptors well above 3 and 4, closed on exec. */
static int make_pipe(int ends[2])
{
    int low[2];

    if (pipe(low) != 0)
        return 0;
    for (int i = 0; i < 2; i++) {
        ends[i] = fcntl(low[i], F_DUPFD_CLOEXEC, 20);
        (void)close(low[i]);
    }
    return ends[0] >= 0 && ends[1] >= 0;
}

static int launch(const char *program)
{
    int down[2], up[2];

    if (!make_pipe(down) || !make_pipe(up))
        return 0;
    browser.process = fork();
    if (browser.process == 0)
        run_browser(program, down[0], up[1]);
    (void)close(down[0]);
    (void)close(up[1]);
    browser.to = down[1];
    browser.from = up[0];
    return browser.process > 0;
}

static int attach(void)
{
    char *made = browser_call("Target.createTarget", "{\"url\":\"about:blank\"}");
    char *target = json_text(made, "$.result.targetId");
    char *params = json_format("{\"targetId\":\"%s\",\"flatten\":true}", target ? target : "");
    char *attached = target != NULL ? browser_call("Target.attachToTarget", params) : NULL;

    browser.session = json_text(attached, "$.result.sessionId");
    free(made);
    free(target);
    free(params);
    free(attached);
    return browser.session != NULL;
}

int browser_start(char why[200])
{
    static const char *const domains[] = {"Page.enable", "Runtime.enable", "Network.enable",
                                          "Log.enable"};
    const char *named = getenv("CHROMIUM");
    const char *program = named != NULL && named[0] != '\0' ? named : "chromium";
    char out[PROGRAM_OUTPUT];

    (void)signal(SIGPIPE, SIG_IGN);
    if (program_shell(out, "command -v '%.200s'", program) != 0) {
        (void)snprintf(why, 200, "there is no program %.120s", program);
        return 0;
    }
    if (!program_scratch(browser.folder) || !launch(program) || !attach()) {
        (void)snprintf(why, 200, "%.120s does not start", program);
        browser_stop();
        return 0;
    }
    for (size_t i = 0; i < sizeof domains / sizeof domains[0]; i++)
        free(browser_call(domains[i], NULL));
    return 1;
}

static int has_ended(void)
{
    const struct timespec moment = {0, 50000000};

    for (int i = 0; i < 100; i++) {
        if (waitpid(browser.process, NULL, WNOHANG) != 0)
            return 1;
        (void)nanosleep(&moment, NULL);
    }
    return 0;
}

void browser_stop(void)
{
    if (browser.process > 0) {
        free(browser.session);
        browser.session = NULL;
        (void)send_call("Browser.close", NULL);
        if (!has_ended()) {
            (void)kill(browser.process, SIGKILL);
            (void)waitpid(browser.process, NULL, 0);
        }
        (void)close(browser.to);
        (void)close(browser.from);
    }
    free(browser.text);
    browser.text = NULL;
    browser.process = -1;
    program_remove(browser.folder);
}
