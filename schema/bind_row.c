/* bind_row.c - see bind_row.h. */
#include "schema/bind_row.h"

#include <math.h>

enum status bind_texts(struct statement *statement, int position, const char *const *texts,
                       size_t n, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; status == OK && i < n; i++)
        status = statement_bind_text(statement, position + (int)i, texts[i], fault);
    return status;
}

enum status bind_integers(struct statement *statement, int position, const int64_t *values,
                          size_t n, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; status == OK && i < n; i++)
        status = statement_bind_integer(statement, position + (int)i, values[i], fault);
    return status;
}

enum status bind_reals(struct statement *statement, int position, const double *values, size_t n,
                       struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; status == OK && i < n; i++)
        status = statement_bind_real(statement, position + (int)i,
                                     isfinite(values[i]) ? values[i] : (double)NAN, fault);
    return status;
}
