/* decoded_source.h - a byte source that hands out UTF-8, whatever of three encodings the file has.
 *
 * UTF-8 passes through untouched. UTF-16 of either byte order and Windows-1252 are transcoded on the
 * way, block by block, so that memory does not grow with the file. UTF-16 is known by its byte-order
 * mark, or without one by its zero bytes; Windows-1252 looks like nothing in particular and is taken
 * only where the channel map declares it. Nothing is replaced: what is not of the encoding is refused
 * with its line and column.                                                                        */
#ifndef LAPWING_DECODED_SOURCE_H
#define LAPWING_DECODED_SOURCE_H

#include "ingest/byte_source.h"
#include "schema/campaign.h"

struct decoded_source;

/* Over source, which must outlive it; name is the file as the user knows it, copied. On OK the caller
 * owns *out and ends it with decoded_source_close(). Reading it gives, besides the statuses of source,
 * BAD_INPUT: the file is UTF-32, is not of the declared encoding, or holds what that encoding does not
 * have. After it there is nothing more to read. */
enum status decoded_source_open(struct byte_source source, enum map_encoding declared,
                                const char *name, struct decoded_source **out, struct fault *fault);
struct byte_source decoded_source_bytes(struct decoded_source *source);
void decoded_source_close(struct decoded_source *source); /* NULL is fine */

#endif
