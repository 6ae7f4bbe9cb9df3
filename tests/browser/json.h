/* json.h - single values of JSON texts, read and quoted by SQLite's own functions.
 *
 * What is given as char * is the caller's to free.                                                 */
#ifndef LAPWING_BROWSER_JSON_H
#define LAPWING_BROWSER_JSON_H

/* The value at an SQLite JSON path ("$.result.value"); objects and arrays as JSON. NULL when there is
 * none, when it is null, and when json is NULL. */
char *json_text(const char *json, const char *path);

/* The same as a number; NAN when there is none. */
double json_number(const char *json, const char *path);

/* A text as a JSON string with its quotes. */
char *json_quote(const char *text);

/* A text by a printf format; NULL on failure. */
char *json_format(const char *format, ...) __attribute__((format(printf, 1, 2)));

#endif
