/* browser.h - Chromium without a window, driven over its DevTools protocol.
 *
 * The protocol goes through two pipes, so that no port is opened: JSON messages, each ended by a NUL.
 * Source: chromedevtools.github.io/devtools-protocol, domains Target, Page, Runtime, Network, Log,
 * Emulation, Input; the switch --remote-debugging-pipe. One browser with one tab serves all tests.    */
#ifndef LAPWING_BROWSER_H
#define LAPWING_BROWSER_H

#include <stddef.h>

/* 1 when a browser runs and has a tab. Else 0, and why holds one plain line. The program is that of the
 * environment's CHROMIUM, else chromium of the PATH. */
int browser_start(char why[200]);
void browser_stop(void);

/* Calls a method of the tab with params as JSON (NULL: none). Gives the whole answer, which the caller
 * frees; NULL when the browser has gone or does not answer within half a minute. */
char *browser_call(const char *method, const char *params);

/* The same where the answer does not matter but an error does, as a failed check. */
void browser_do(const char *method, const char *params);

/* Reads until the tab has finished loading a page; 0 when it does not. */
int browser_await_load(void);

/* What pages did since browser_forget(). */
struct browser_seen {
    size_t requests; /* for anything but the page itself */
    size_t errors;   /* exceptions, console errors and warnings, violations of the content policy */
    size_t dialogs;  /* alert() and its kin: somebody else's script has run */
    char first[400]; /* the first of them in words */
};
const struct browser_seen *browser_seen(void);
void browser_forget(const char *own_url);

#endif
