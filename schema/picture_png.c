/* picture_png.c - PNG by libpng's simplified interface, which needs no jumps; see picture.h. */
#include <png.h>
#include <stdlib.h>

#include "schema/picture.h"

static enum status refused(png_image *image, struct fault *fault)
{
    enum status status =
        FAIL(fault, BAD_INPUT, "the PNG is broken (%.60s); save it again", image->message);

    png_image_free(image);
    return status;
}

enum status picture_decode_png(const unsigned char *bytes, size_t n, struct picture *picture,
                               struct fault *fault)
{
    const png_color white = {255, 255, 255};
    png_image image = {.version = PNG_IMAGE_VERSION};

    if (!png_image_begin_read_from_memory(&image, bytes, n))
        return refused(&image, fault);
    enum status status = picture_room(picture, image.width, image.height, fault);
    if (status != OK) {
        png_image_free(&image);
        return status;
    }
    picture->kind = PICTURE_PNG;
    image.format = PNG_FORMAT_RGB;
    if (!png_image_finish_read(&image, &white, picture->rgb, 0, NULL))
        return refused(&image, fault);
    png_image_free(&image);
    return OK;
}

enum status picture_encode_png(const struct picture *picture, unsigned char **bytes, size_t *n,
                               struct fault *fault)
{
    png_image image = {.version = PNG_IMAGE_VERSION,
                       .width = (png_uint_32)picture->width,
                       .height = (png_uint_32)picture->height,
                       .format = PNG_FORMAT_RGB};
    png_alloc_size_t size = 0;

    if (!png_image_write_get_memory_size(image, size, 0, picture->rgb, 0, NULL))
        return refused(&image, fault);
    *bytes = malloc(size);
    if (*bytes == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for a picture of %zu bytes", (size_t)size);
    if (!png_image_write_to_memory(&image, *bytes, &size, 0, picture->rgb, 0, NULL)) {
        free(*bytes);
        *bytes = NULL;
        return refused(&image, fault);
    }
    *n = size;
    return OK;
}
