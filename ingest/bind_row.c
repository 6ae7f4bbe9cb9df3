/* bind_row.c - see bind_row.h. */
#include "ingest/bind_row.h"

enum status bind_texts(struct statement *statement, int position, const char *const *texts,
                       size_t n, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; i < n && status == OK; i++)
        status = statement_bind_text(statement, position + (int)i, texts[i], fault);
    return status;
}

enum status bind_integers(struct statement *statement, int position, const int64_t *values,
                          size_t n, struct fault *fault)
{
    enum status status = OK;
    for (size_t i = 0; i < n && status == OK; i++)
        status = statement_bind_integer(statement, position + (int)i, values[i], fault);
    return status;
}
