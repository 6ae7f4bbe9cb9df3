/* report_files.h - where a report's files go, and writing them whole or not at all. */
#ifndef LAPWING_REPORT_REPORT_FILES_H
#define LAPWING_REPORT_REPORT_FILES_H

#include "report/buffer.h"

enum { REPORT_PATH = 4096 };

/* "folder/name"; BAD_INPUT when it is too long. */
enum status report_path(const char *folder, const char *name, char out[REPORT_PATH],
                        struct fault *fault);

/* "folder/name", made when it is missing. WRITE_FAILED when it cannot be. */
enum status report_folder_named(const char *folder, const char *name, char out[REPORT_PATH],
                                struct fault *fault);

/* "folder/report", made when it is missing. WRITE_FAILED when it cannot be. */
enum status report_folder(const char *folder, char out[REPORT_PATH], struct fault *fault);

/* Writes the text as path. WRITE_FAILED: path is as it was. */
enum status report_save(const char *path, const struct buffer *text, struct fault *fault);

/* The same, for its owner's eyes alone. */
enum status report_save_private(const char *path, const struct buffer *text, struct fault *fault);

/* Takes away what an earlier report left and this one does not write; it need not be there. WRITE_FAILED
 * when it stays. */
enum status report_remove(const char *path, struct fault *fault);

#endif
