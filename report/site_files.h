/* site_files.h - the pages of a season in their folder: what has not changed is not written again, and
 * pages that the season no longer has are taken away, if they are the program's own.                 */
#ifndef LAPWING_REPORT_SITE_FILES_H
#define LAPWING_REPORT_SITE_FILES_H

#include "report/buffer.h"
#include "report/page_names.h"

/* Writes folder/name whole or not at all; not when the same bytes are there. */
enum status site_save(const char *folder, const char *name, const struct buffer *text,
                      struct fault *fault);

/* Removes night-*.html and proof-*.html of the folder that the index.html there leads to, which is the one of
 * the report before, that are not among kept (struct page_name, n of them) and that say in their first 2 kB
 * that the program made them. A copy under a name of a person's own is no page of that index and stays; so
 * does everything where there is no index. Call it before the new index is written. */
enum status site_sweep(const char *folder, const struct page_name *kept, size_t n,
                       struct fault *fault);

/* 1 for night-*.html and proof-*.html; 1 when the folder's file is one that the program made. */
int site_is_page_name(const char *name);
int site_is_page(const char *folder, const char *name);

#endif
