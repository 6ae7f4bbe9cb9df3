/* picture_jpeg.c - JPEG by libjpeg-turbo's own interface, which needs no jumps; see picture.h. A warning of
 * the library, such as a file that ends too early, is a refusal here. */
#include <stdlib.h>
#include <string.h>
#include <turbojpeg.h>

#include "schema/picture.h"

enum { QUALITY = 85, FLAGS = TJFLAG_ACCURATEDCT | TJFLAG_STOPONWARNING | TJFLAG_LIMITSCANS };

static enum status refused(tjhandle handle, struct fault *fault)
{
    return FAIL(fault, BAD_INPUT, "the JPEG is broken (%.60s); save it again",
                tjGetErrorStr2(handle));
}

/* Four inks, written as what is left of the light, as the one program that makes such files does (common
 * practice, no source). Rows of four become rows of three in the same place, front to back. */
static void inks_to_rgb(const unsigned char *inks, unsigned char *rgb, size_t pixels)
{
    for (size_t i = 0; i < pixels; i++)
        for (size_t c = 0; c < 3; c++)
            rgb[3 * i + c] = (unsigned char)((inks[4 * i + c] * inks[4 * i + 3] + 127) / 255);
}

static enum status decode_inks(tjhandle handle, const unsigned char *bytes, size_t n,
                               struct picture *picture, struct fault *fault)
{
    size_t pixels = picture->width * picture->height;
    unsigned char *inks = malloc(4 * pixels);
    enum status status = OK;

    if (inks == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for a picture of %zu pixels", pixels);
    if (tjDecompress2(handle, bytes, n, inks, (int)picture->width, 0, (int)picture->height,
                      TJPF_CMYK, FLAGS) != 0)
        status = refused(handle, fault);
    else
        inks_to_rgb(inks, picture->rgb, pixels);
    free(inks);
    return status;
}

static enum status decode(tjhandle handle, const unsigned char *bytes, size_t n,
                          struct picture *picture, struct fault *fault)
{
    int width = 0, height = 0, sampling = 0, colours = 0;

    if (tjDecompressHeader3(handle, bytes, n, &width, &height, &sampling, &colours) != 0)
        return refused(handle, fault);
    enum status status = picture_room(picture, (size_t)width, (size_t)height, fault);
    if (status != OK)
        return status;
    if (colours == TJCS_CMYK || colours == TJCS_YCCK)
        return decode_inks(handle, bytes, n, picture, fault);
    if (tjDecompress2(handle, bytes, n, picture->rgb, width, 0, height, TJPF_RGB, FLAGS) != 0)
        return refused(handle, fault);
    return OK;
}

enum status picture_decode_jpeg(const unsigned char *bytes, size_t n, struct picture *picture,
                                struct fault *fault)
{
    tjhandle handle = tjInitDecompress();

    if (handle == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to decode a JPEG");
    picture->kind = PICTURE_JPEG;
    enum status status = decode(handle, bytes, n, picture, fault);
    (void)tjDestroy(handle);
    return status;
}

static enum status copy_of(const unsigned char *from, size_t n, unsigned char **bytes,
                           struct fault *fault)
{
    *bytes = malloc(n);
    if (*bytes == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for a picture of %zu bytes", n);
    memcpy(*bytes, from, n);
    return OK;
}

enum status picture_encode_jpeg(const struct picture *picture, unsigned char **bytes, size_t *n,
                                struct fault *fault)
{
    unsigned char *made = NULL;
    unsigned long size = 0;
    tjhandle handle = tjInitCompress();
    enum status status = OK;

    if (handle == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to encode a JPEG");
    if (tjCompress2(handle, picture->rgb, (int)picture->width, 0, (int)picture->height, TJPF_RGB,
                    &made, &size, TJSAMP_420, QUALITY, TJFLAG_ACCURATEDCT) != 0)
        status =
            FAIL(fault, NO_RESULT, "a picture cannot be encoded: %.60s", tjGetErrorStr2(handle));
    *n = size;
    if (status == OK)
        status = copy_of(made, size, bytes, fault);
    tjFree(made);
    (void)tjDestroy(handle);
    return status;
}
