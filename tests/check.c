/* check.c - see check.h; reports through CUnit's public assertion. */
#include "tests/check.h"

#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "schema/fault.h"

/* CUnit keeps no copy of a long condition text of its own, so it is formatted here each time. */
static void assert_with(int ok, const char *message, const char *file, int line)
{
    (void)CU_assertImplementation(ok ? CU_TRUE : CU_FALSE, (unsigned)line, message, file, "",
                                  CU_FALSE);
}

void check_near(double got, double want, double tolerance, const char *source, const char *text,
                const char *file, int line)
{
    char message[512];
    (void)snprintf(message, sizeof message, "%s = %.17g, want %.17g +- %.3g [%s]", text, got, want,
                   tolerance, source);
    assert_with(isfinite(got) && fabs(got - want) <= tolerance, message, file, line);
}

void check_true(int ok, const char *text, const char *file, int line)
{
    assert_with(ok, text, file, line);
}

void check_text(const char *got, const char *want, const char *text, const char *file, int line)
{
    char message[1024];
    int same = got != NULL && want != NULL && strcmp(got, want) == 0;
    (void)snprintf(message, sizeof message, "%s = \"%s\", want \"%s\"", text,
                   got != NULL ? got : "(null)", want != NULL ? want : "(null)");
    assert_with(same, message, file, line);
}

void check_contains(const char *haystack, const char *needle, const char *text, const char *file,
                    int line)
{
    char message[1024];
    int found = haystack != NULL && strstr(haystack, needle) != NULL;
    (void)snprintf(message, sizeof message, "%s does not contain \"%s\": \"%.700s\"", text, needle,
                   haystack != NULL ? haystack : "(null)");
    assert_with(found, message, file, line);
}

void check_ok(int status, const struct fault *fault, const char *text, const char *file, int line)
{
    char message[1200];
    char said[900] = "";
    if (status != OK && fault != NULL)
        fault_line(fault, said, sizeof said);
    (void)snprintf(message, sizeof message, "%s = %d: %s", text, status, said);
    assert_with(status == OK, message, file, line);
}
