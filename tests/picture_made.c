/* picture_made.c - see picture_made.h. */
#include "tests/picture_made.h"

#include <stdio.h>
#include <string.h>
#include <zlib.h>

static size_t put_number(unsigned char *out, unsigned long value)
{
    for (int i = 0; i < 4; i++)
        out[i] = (unsigned char)(value >> (24 - 8 * i));
    return 4;
}

static size_t put_chunk(unsigned char *out, const char *kind, const unsigned char *data, size_t n)
{
    size_t at = put_number(out, n);

    memcpy(out + at, kind, 4);
    if (n > 0)
        memcpy(out + at + 4, data, n);
    unsigned long sum = crc32(0, out + at, (unsigned)(4 + n));
    at += 4 + n;
    return at + put_number(out + at, sum);
}

size_t picture_made_png(const struct made_png *made, unsigned char out[PICTURE_MADE])
{
    static const unsigned char signature[8] = {0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n'};
    static unsigned char data[PICTURE_MADE / 2];
    unsigned char head[13] = {0};
    uLongf n_data = sizeof data;
    size_t at = 8;

    memcpy(out, signature, sizeof signature);
    (void)put_number(head, made->width);
    (void)put_number(head + 4, made->height);
    head[8] = (unsigned char)made->depth;
    head[9] = (unsigned char)made->colour;
    head[12] = (unsigned char)made->interlace;
    at += put_chunk(out + at, "IHDR", head, sizeof head);
    if (made->comment != NULL) {
        unsigned char text[200] = "Comment";
        size_t length = strlen(made->comment);
        memcpy(text + 8, made->comment, length);
        at += put_chunk(out + at, "tEXt", text, 8 + length);
    }
    if (compress(data, &n_data, made->rows, made->n_rows) != Z_OK)
        return 0;
    at += put_chunk(out + at, "IDAT", data, n_data);
    return at + put_chunk(out + at, "IEND", NULL, 0);
}

size_t picture_made_ramp(unsigned width, unsigned height, const char *comment,
                         unsigned char out[PICTURE_MADE])
{
    static unsigned char rows[PICTURE_MADE / 2];
    struct made_png made = {width, height, 8, 0, 0, rows, ((size_t)width + 1) * height, comment};

    for (unsigned y = 0; y < height; y++) {
        unsigned char *row = rows + y * ((size_t)width + 1);
        row[0] = 0;
        for (unsigned x = 0; x < width; x++)
            row[1 + x] = (unsigned char)(255 * x / width);
    }
    return picture_made_png(&made, out);
}

int picture_made_file(const char *folder, const char *name, const char *comment)
{
    static unsigned char bytes[PICTURE_MADE];
    char path[200];

    size_t n = picture_made_ramp(60, 40, comment, bytes);
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "wb");
    if (file == NULL)
        return 0;
    int fine = fwrite(bytes, 1, n, file) == n;
    return fclose(file) == 0 && fine;
}
