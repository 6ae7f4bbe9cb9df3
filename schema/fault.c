/* fault.c - filling and printing a fault; see fault.h. */
#include "schema/fault.h"

#include <stdarg.h>
#include <stdio.h>

void fault_set(struct fault *fault, enum status status, const char *file, int line,
               const char *format, ...)
{
    if (fault == NULL)
        return;
    fault->status = status;
    fault->where[0] = '\0';
    (void)snprintf(fault->source, sizeof fault->source, "%s:%d", file, line);
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(fault->text, sizeof fault->text, format, arguments);
    va_end(arguments);
}

void fault_where(struct fault *fault, const char *format, ...)
{
    if (fault == NULL || fault->where[0] != '\0')
        return;
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(fault->where, sizeof fault->where, format, arguments);
    va_end(arguments);
}

void fault_line(const struct fault *fault, char *out, size_t size)
{
    if (fault->where[0] != '\0')
        (void)snprintf(out, size, "%s: %s", fault->where, fault->text);
    else
        (void)snprintf(out, size, "%s", fault->text);
}

int fault_exit_code(enum status status)
{
    switch (status) {
    case OK:
        return 0;
    case BAD_INPUT:
    case NOT_FOUND:
    case NO_RESULT:
        return 2;
    case NO_MEMORY:
    case STORE_FAILED:
    case WRITE_FAILED:
        break;
    }
    return 3;
}
