/* picture_orientation.c - how the camera was held: the one word of the metadata that the picture needs.
 *
 * CIPA DC-008 (Exif 2.3), 4.5: segment APP1 begins "Exif\0\0", then a TIFF header ("II" or "MM", 42, place of
 * the first directory); entries of 12 bytes: tag, type, count, value. Tag 274, type 3 (short). */
#include <string.h>

#include "schema/picture.h"

enum { TAG_ORIENTATION = 274, TYPE_SHORT = 3, ENTRY = 12 };

struct tiff {
    const unsigned char *bytes;
    size_t n;
    int is_little;
};

/* 16 or 32 bits; 0 beyond the end, which is no place of a directory. */
static unsigned long read(const struct tiff *tiff, size_t at, size_t width)
{
    unsigned long value = 0;

    if (at > tiff->n || width > tiff->n - at)
        return 0;
    for (size_t i = 0; i < width; i++)
        value = value << 8 | tiff->bytes[tiff->is_little ? at + width - 1 - i : at + i];
    return value;
}

static int orientation_of(const struct tiff *tiff)
{
    size_t directory = read(tiff, 4, 4);
    unsigned long entries = directory >= 8 ? read(tiff, directory, 2) : 0;

    for (unsigned long i = 0; i < entries; i++) {
        size_t at = directory + 2 + ENTRY * i;
        if (at + ENTRY > tiff->n)
            break;
        if (read(tiff, at, 2) != TAG_ORIENTATION || read(tiff, at + 2, 2) != TYPE_SHORT)
            continue;
        unsigned long value = read(tiff, at + 8, 2);
        return value >= 1 && value <= 8 ? (int)value : 1;
    }
    return 1;
}

static int read_segment(const unsigned char *bytes, size_t n)
{
    if (n < 14 || memcmp(bytes, "Exif\0\0", 6) != 0)
        return 1;
    struct tiff tiff = {bytes + 6, n - 6, 0};
    tiff.is_little = memcmp(tiff.bytes, "II", 2) == 0;
    if (!tiff.is_little && memcmp(tiff.bytes, "MM", 2) != 0)
        return 1;
    return read(&tiff, 2, 2) == 42 ? orientation_of(&tiff) : 1;
}

int picture_orientation(const unsigned char *bytes, size_t n)
{
    enum { APP1 = 0xE1, START_OF_SCAN = 0xDA };

    for (size_t at = 2; at + 4 <= n && bytes[at] == 0xFF && bytes[at + 1] != START_OF_SCAN;) {
        size_t length = (size_t)bytes[at + 2] << 8 | bytes[at + 3];
        if (length < 2 || length > n - at - 2)
            return 1;
        if (bytes[at + 1] == APP1 && length > 8 && memcmp(bytes + at + 4, "Exif", 4) == 0)
            return read_segment(bytes + at + 4, length - 2);
        at += 2 + length;
    }
    return 1;
}
