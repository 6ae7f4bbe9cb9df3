/* file_write.h - files that are there whole or not at all.
 *
 * Bytes go to NAME.part beside the wanted NAME; commit makes them safe on the disk and then gives the
 * file its name in one step, so that a reader, a full disk or a kill never meets half a page. What a
 * kill left is cleared away by the next writer: a page has one writer at a time, and two are told.
 * What is no regular file (a terminal, a pipe, /dev/full) is written to as it is.                  */
#ifndef LAPWING_FILE_WRITE_H
#define LAPWING_FILE_WRITE_H

#include <stddef.h>

#include "schema/fault.h"

struct file_writer;

/* Begins path. On OK the caller owns *writer and ends it with commit or abandon. */
enum status file_writer_open(const char *path, struct file_writer **writer, struct fault *fault);

/* The same, for a file that its owner alone may read, whatever it was before. */
enum status file_writer_open_private(const char *path, struct file_writer **writer,
                                     struct fault *fault);

enum status file_writer_write(struct file_writer *writer, const void *bytes, size_t size,
                              struct fault *fault);

/* Ends the writer, also when it fails: then nothing is left beside and path is as it was. */
enum status file_writer_commit(struct file_writer *writer, struct fault *fault);
void file_writer_abandon(struct file_writer *writer); /* NULL is fine */

#endif
