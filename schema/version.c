/* version.c - see version.h. */
#include "schema/version.h"

const char *version_text(void)
{
    return "0.1.0";
}
