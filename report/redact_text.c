/* redact_text.c - see redact_text.h. */
#include "report/redact_text.h"

#include <string.h>

#include "report/query.h"
#include "schema/quantity.h"
#include "schema/role.h"

/* The parts of a list up to where the next separator stands. */
static enum status redact_list(struct redact_names *names, enum redact_kind kind, const char *list,
                               struct buffer *out, struct fault *fault)
{
    const char *mark = strstr(list, "; ") != NULL ? "; " : ", ";
    struct buffer part = {0};
    enum status status = OK;

    for (const char *at = list; status == OK && at != NULL && *at != '\0';) {
        const char *end = strstr(at, mark);
        buffer_clear(&part);
        buffer_add(&part, at, end != NULL ? (size_t)(end - at) : strlen(at));
        status = redact_name(names, kind, buffer_string(&part), out, fault);
        if (end != NULL)
            buffer_text(out, mark);
        at = end != NULL ? end + strlen(mark) : NULL;
    }
    if (status == OK)
        status = buffer_status(&part, "a list of names", fault);
    buffer_free(&part);
    return status;
}

/* A quantity and a role are words of the program's; what is neither, nor a name, is left out. */
static enum status redact_any(struct redact_names *names, const char *name, struct buffer *out,
                              struct fault *fault)
{
    int found = 0;

    enum status status = redact_known(names, name, out, &found, fault);
    if (status != OK || found)
        return status;
    if (quantity_from_symbol(name) != QUANTITY_COUNT || role_from_name(name) != ROLE_COUNT)
        buffer_text(out, name);
    return OK;
}

struct splitting {
    struct redact_names *names;
    const char *subject;
    struct buffer *out;
    int found;
};

/* Row: facility, entry. Names may hold a stroke, so the pairs that there are are tried. */
static enum status take_pair(struct statement *row, void *context, struct fault *fault)
{
    struct splitting *splitting = context;
    const char *at = splitting->subject;
    const char *names[] = {statement_text(row, 0), statement_text(row, 1)};
    size_t lengths[] = {strlen(names[0]), strlen(names[1])};

    if (splitting->found || strncmp(at, names[0], lengths[0]) != 0 || at[lengths[0]] != '/')
        return OK;
    at += lengths[0] + 1;
    char end = strncmp(at, names[1], lengths[1]) == 0 ? at[lengths[1]] : '?';
    if (end != '/' && end != '\0')
        return OK;
    splitting->found = 1;
    enum status status =
        redact_name(splitting->names, REDACT_FACILITY, names[0], splitting->out, fault);
    buffer_text(splitting->out, "/");
    if (status == OK)
        status = redact_name(splitting->names, REDACT_ENTRY, names[1], splitting->out, fault);
    if (status != OK || end == '\0')
        return status;
    buffer_text(splitting->out, "/");
    return redact_name(splitting->names, REDACT_CONFIGURATION, at + lengths[1] + 1, splitting->out,
                       fault);
}

/* RUN, FACILITY/ENTRY or FACILITY/ENTRY/CONFIGURATION. */
static enum status redact_subject(struct redact_names *names, const char *subject,
                                  struct buffer *out, struct fault *fault)
{
    struct splitting splitting = {names, subject, out, 0};

    enum status status =
        query_each(names->season,
                   "SELECT DISTINCT facility, entry FROM run WHERE run <> ?1 AND NOT EXISTS "
                   "(SELECT 1 FROM run WHERE run = ?1) "
                   "ORDER BY length(facility) DESC, length(entry) DESC",
                   (const char *[]){subject, NULL}, take_pair, &splitting, fault);
    if (status != OK || splitting.found)
        return status;
    return redact_name(names, REDACT_RUN, subject, out, fault);
}

/* 1 when a unit is made of symbols that everybody uses. */
static int is_known_unit(const char *unit)
{
    static const char *const symbols[] = {"m",   "mm",  "s",   "kg",   "K",  "A",  "Pa",    "hPa",
                                          "kPa", "N",   "kN",  "Nm",   "Hz", "J",  "W",     "V",
                                          "mV",  "rad", "deg", "degC", "m2", "m3", "kg/m3", "m/s"};
    static const char between[] = " /*^.-()0123456789%";

    for (const char *at = unit; *at != '\0';) {
        size_t length = strcspn(at, between);
        int is_known = length == 0;
        for (size_t i = 0; i < sizeof symbols / sizeof symbols[0]; i++)
            is_known |= strlen(symbols[i]) == length && strncmp(symbols[i], at, length) == 0;
        if (!is_known)
            return 0;
        at += length;
        at += strspn(at, between);
    }
    return 1;
}

/* Sentences that name a device or a part, which may be cut or of one letter: said without it. */
static const char *without_name(const char *text)
{
    static const struct {
        const char *mark, *instead;
    } sentences[] = {{" does not move the balance for certain",
                      "the device does not move the balance for certain"},
                     {" would have to stand at ", "the device would have to go beyond its range"},
                     {" has no uncertainty here",
                      "the device has no uncertainty here, so that nothing can be trimmed by it"},
                     {" was not run in this entry", "a part was not run in this entry"}};

    for (size_t i = 0; i < sizeof sentences / sizeof sentences[0]; i++)
        if (strstr(text, sentences[i].mark) != NULL)
            return sentences[i].instead;
    return NULL;
}

static enum status redact_sentence(struct redact_names *names, const char *text, struct buffer *out,
                                   struct fault *fault)
{
    const char *instead = without_name(text);
    int found = 0;

    if (instead != NULL) {
        buffer_text(out, instead);
        return OK;
    }
    enum status status = redact_find_inside(names, text, &found, fault);
    if (status == OK)
        buffer_text(out, found ? "reason withheld" : text);
    return status;
}

/* Fixed words, or words before a list of runs. */
static enum status redact_variant(struct redact_names *names, const char *text, struct buffer *out,
                                  struct fault *fault)
{
    static const char *const fixed[] = {"all in",
                                        "rules alone",
                                        "without flagged points",
                                        "firm",
                                        "softer without some",
                                        "depends on what is left out",
                                        "reversed by all in",
                                        "reversed by rules alone",
                                        "reversed by without flagged points"};
    static const char mark[] = "without return ";

    for (size_t i = 0; i < sizeof fixed / sizeof fixed[0]; i++)
        if (strcmp(fixed[i], text) == 0) {
            buffer_text(out, text);
            return OK;
        }
    const char *runs = strstr(text, mark);
    if (runs == NULL)
        return redact_sentence(names, text, out, fault);
    buffer_text(out, runs != text ? "reversed by " : "");
    buffer_text(out, mark);
    return redact_list(names, REDACT_RUN, runs + strlen(mark), out, fault);
}

enum status redact_text(struct redact_names *names, const struct redact_column *column,
                        const char *text, struct buffer *out, struct fault *fault)
{
    if (text[0] == '\0')
        return OK;
    switch (column->act) {
    case REDACT_KEEP:
        buffer_text(out, text);
        return OK;
    case REDACT_NAME:
        return redact_name(names, column->kind, text, out, fault);
    case REDACT_LIST:
        return redact_list(names, column->kind, text, out, fault);
    case REDACT_SUBJECT:
        return redact_subject(names, text, out, fault);
    case REDACT_ANY:
        return redact_any(names, text, out, fault);
    case REDACT_UNIT:
        buffer_text(out, is_known_unit(text) ? text : "");
        return OK;
    case REDACT_SENTENCE:
        return redact_sentence(names, text, out, fault);
    case REDACT_VARIANT:
        return redact_variant(names, text, out, fault);
    case REDACT_EMPTY:
        break;
    }
    return OK;
}
