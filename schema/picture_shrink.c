/* picture_shrink.c - each new pixel is the mean of the area it covers; see picture.h. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "schema/picture.h"

/* The part of a row of pixels from .. to, in whole and broken pixels, of one colour. */
static double covered(const unsigned char *row, size_t width, double from, double to)
{
    double sum = 0;

    for (size_t i = (size_t)from; i < width && (double)i < to; i++) {
        double share = fmin(to, (double)i + 1) - fmax(from, (double)i);
        sum += share * row[3 * i];
    }
    return sum;
}

/* Adds share times a row of the old picture, shrunk along the row, to a new one. */
static void add_row(const struct picture *from, size_t y, double share, size_t width, double *sums)
{
    double step = (double)from->width / (double)width;

    for (size_t x = 0; x < width; x++)
        for (size_t c = 0; c < 3; c++)
            sums[3 * x + c] += share * covered(from->rgb + 3 * y * from->width + c, from->width,
                                               (double)x * step, (double)(x + 1) * step);
}

static void shrink_into(const struct picture *from, struct picture *to, double *sums)
{
    double step = (double)from->height / (double)to->height;
    double area = step * (double)from->width / (double)to->width;

    for (size_t y = 0; y < to->height; y++) {
        double top = (double)y * step;
        double bottom = (double)(y + 1) * step;
        memset(sums, 0, 3 * to->width * sizeof *sums);
        for (size_t i = (size_t)top; i < from->height && (double)i < bottom; i++)
            add_row(from, i, fmin(bottom, (double)i + 1) - fmax(top, (double)i), to->width, sums);
        for (size_t k = 0; k < 3 * to->width; k++)
            to->rgb[3 * y * to->width + k] = (unsigned char)fmin(255, floor(sums[k] / area + 0.5));
    }
}

enum status picture_shrink(struct picture *picture, size_t longest, struct fault *fault)
{
    size_t side = picture->width > picture->height ? picture->width : picture->height;
    struct picture small = {.kind = picture->kind};

    if (side <= longest || longest == 0)
        return OK;
    double scale = (double)longest / (double)side;
    size_t width = (size_t)fmax(1, floor((double)picture->width * scale + 0.5));
    size_t height = (size_t)fmax(1, floor((double)picture->height * scale + 0.5));
    double *sums = malloc(3 * width * sizeof *sums);
    if (sums == NULL)
        return FAIL(fault, NO_MEMORY, "no memory to shrink a picture");
    enum status status = picture_room(&small, width, height, fault);
    if (status == OK) {
        shrink_into(picture, &small, sums);
        picture_free(picture);
        *picture = small;
    }
    free(sums);
    return status;
}
