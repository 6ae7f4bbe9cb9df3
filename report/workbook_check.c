/* workbook_check.c - is a workbook whole; see workbook.h. ZIP: PKWARE APPNOTE.TXT 6.3, 4.3.7, 4.3.12 and
 * 4.3.16 (offsets from memory, tested on what the library writes).                                  */
#include <stdlib.h>
#include <string.h>
#include <zlib.h>

#include "report/workbook.h"

enum { END_SIZE = 22, ENTRY_SIZE = 46, LOCAL_SIZE = 30, PART_MOST = 1 << 30 };

static size_t number_at(const unsigned char *bytes, int n)
{
    size_t value = 0;

    for (int i = n - 1; i >= 0; i--)
        value = value << 8 | bytes[i];
    return value;
}

static int has_mark(const unsigned char *bytes, const char mark[5])
{
    return memcmp(bytes, mark, 4) == 0;
}

/* The first element's name and the last end tag's are one. */
static int is_ended(const char *text, size_t size)
{
    const char *root = strstr(text, "?>");

    root = root != NULL ? strchr(root, '<') : NULL;
    while (size > 0 && strchr(" \r\n", text[size - 1]) != NULL)
        size--;
    if (root == NULL || size == 0)
        return 0;
    size_t length = strcspn(root + 1, " />\r\n");
    if (size < length + 3)
        return 0;
    const char *end = text + size - length - 3;
    return strncmp(end, "</", 2) == 0 && strncmp(end + 2, root + 1, length) == 0 &&
           end[length + 2] == '>';
}

struct part {
    const unsigned char *packed;
    size_t packed_size, size, crc;
};

static int unpack(const struct part *part, unsigned char *out)
{
    z_stream stream = {0};

    /* zlib only reads next_in, without saying so in its type. */
    stream.next_in = (unsigned char *)(size_t)part->packed;
    stream.avail_in = (uInt)part->packed_size;
    stream.next_out = out;
    stream.avail_out = (uInt)part->size;
    if (inflateInit2(&stream, -MAX_WBITS) != Z_OK)
        return 0;
    int code = inflate(&stream, Z_FINISH);
    size_t made = stream.total_out;
    (void)inflateEnd(&stream);
    return code == Z_STREAM_END && made == part->size &&
           crc32(0, out, (uInt)part->size) == part->crc;
}

static int is_part_whole(const struct part *part)
{
    if (part->size == 0 || part->size > PART_MOST || part->packed_size > PART_MOST)
        return 0;
    unsigned char *out = calloc(part->size + 1, 1);
    if (out == NULL)
        return 0;
    int is_whole = unpack(part, out) && is_ended((const char *)out, part->size);
    free(out);
    return is_whole;
}

/* Reads an entry of the directory; 0 when it points outside the file. */
static int read_part(const unsigned char *bytes, size_t size, const unsigned char *entry,
                     struct part *part)
{
    size_t local = number_at(entry + 42, 4);

    part->crc = number_at(entry + 16, 4);
    part->packed_size = number_at(entry + 20, 4);
    part->size = number_at(entry + 24, 4);
    if (local + LOCAL_SIZE > size || !has_mark(bytes + local, "PK\3\4"))
        return 0;
    size_t start =
        local + LOCAL_SIZE + number_at(bytes + local + 26, 2) + number_at(bytes + local + 28, 2);
    if (start > size || part->packed_size > size - start)
        return 0;
    part->packed = bytes + start;
    return 1;
}

int workbook_is_whole(const unsigned char *bytes, size_t size)
{
    if (size < END_SIZE || !has_mark(bytes + size - END_SIZE, "PK\5\6"))
        return 0;
    size_t n = number_at(bytes + size - END_SIZE + 10, 2);
    size_t at = number_at(bytes + size - END_SIZE + 16, 4);
    for (size_t i = 0; i < n; i++) {
        struct part part;
        if (at + ENTRY_SIZE > size || !has_mark(bytes + at, "PK\1\2") ||
            !read_part(bytes, size, bytes + at, &part) || !is_part_whole(&part))
            return 0;
        at += ENTRY_SIZE + number_at(bytes + at + 28, 2) + number_at(bytes + at + 30, 2) +
              number_at(bytes + at + 32, 2);
    }
    return n > 0;
}
