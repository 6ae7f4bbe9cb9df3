/* picture.c - kinds, room, turning and encoding; see picture.h. */
#include "schema/picture.h"

#include <stdlib.h>
#include <string.h>

void picture_free(struct picture *picture)
{
    free(picture->rgb);
    *picture = (struct picture){0};
}

enum status picture_room(struct picture *picture, size_t width, size_t height, struct fault *fault)
{
    if (width == 0 || height == 0)
        return FAIL(fault, BAD_INPUT, "it declares no pixel at all; save it again");
    if (width > PICTURE_SIDE_MAX || height > PICTURE_SIDE_MAX ||
        width * height > PICTURE_PIXELS_MAX)
        return FAIL(fault, BAD_INPUT,
                    "it declares %zu x %zu pixels; limit: %d a side, %d million in all; save it "
                    "smaller",
                    width, height, PICTURE_SIDE_MAX, PICTURE_PIXELS_MAX / 1000000);
    picture->rgb = malloc(3 * width * height);
    if (picture->rgb == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for a picture of %zu x %zu pixels", width, height);
    picture->width = width;
    picture->height = height;
    return OK;
}

static int begins_with(const unsigned char *bytes, size_t n, const char *with, size_t length)
{
    return n >= length && memcmp(bytes, with, length) == 0;
}

/* Where a pixel of the turned picture comes from: orientations 5 .. 8 exchange rows and columns. */
static size_t source_of(int orientation, const struct picture *from, size_t x, size_t y)
{
    int swaps = orientation >= 5;
    size_t column = swaps ? y : x;
    size_t row = swaps ? x : y;

    if (orientation == 2 || orientation == 3 || orientation == 7 || orientation == 8)
        column = from->width - 1 - column;
    if (orientation == 3 || orientation == 4 || orientation == 6 || orientation == 7)
        row = from->height - 1 - row;
    return row * from->width + column;
}

static enum status turn(struct picture *picture, int orientation, struct fault *fault)
{
    int swaps = orientation >= 5;
    struct picture turned = {.kind = picture->kind};

    if (orientation <= 1)
        return OK;
    enum status status = picture_room(&turned, swaps ? picture->height : picture->width,
                                      swaps ? picture->width : picture->height, fault);
    if (status != OK)
        return status;
    for (size_t y = 0; y < turned.height; y++)
        for (size_t x = 0; x < turned.width; x++)
            memcpy(turned.rgb + 3 * (y * turned.width + x),
                   picture->rgb + 3 * source_of(orientation, picture, x, y), 3);
    picture_free(picture);
    *picture = turned;
    return OK;
}

enum status picture_decode(const unsigned char *bytes, size_t n, struct picture *picture,
                           struct fault *fault)
{
    enum status status = OK;

    *picture = (struct picture){0};
    if (begins_with(bytes, n, "\x89PNG\r\n\x1a\n", 8))
        status = picture_decode_png(bytes, n, picture, fault);
    else if (begins_with(bytes, n, "\xFF\xD8\xFF", 3))
        status = picture_decode_jpeg(bytes, n, picture, fault);
    else
        status = FAIL(fault, BAD_INPUT, "it is neither PNG nor JPEG; save it as one of them");
    if (status == OK && picture->kind == PICTURE_JPEG)
        status = turn(picture, picture_orientation(bytes, n), fault);
    if (status != OK)
        picture_free(picture);
    return status;
}

enum status picture_encode(const struct picture *picture, unsigned char **bytes, size_t *n,
                           const char **type, struct fault *fault)
{
    *bytes = NULL;
    *n = 0;
    *type = "image/png";
    if (picture->kind == PICTURE_PNG) {
        enum status status = picture_encode_png(picture, bytes, n, fault);
        if (status != OK || *n <= PICTURE_PNG_MOST)
            return status;
        free(*bytes);
        *bytes = NULL;
    }
    *type = "image/jpeg";
    return picture_encode_jpeg(picture, bytes, n, fault);
}
