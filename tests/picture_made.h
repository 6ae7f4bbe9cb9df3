/* picture_made.h - PNG files byte by byte, for tests of what reads them. Invented pictures. */
#ifndef LAPWING_PICTURE_MADE_H
#define LAPWING_PICTURE_MADE_H

#include <stddef.h>

enum { PICTURE_MADE = 65536 };

struct made_png {
    unsigned width, height;    /* declared */
    int depth, colour;         /* 8 or 16; 0 grey, 2 RGB, 6 RGB and alpha */
    int interlace;             /* 0 none, 1 Adam7 */
    const unsigned char *rows; /* filtered rows as the format has them */
    size_t n_rows;             /* bytes */
    const char *comment;       /* of a chunk tEXt; NULL: none */
};

/* ISO/IEC 15948: signature, IHDR, tEXt, IDAT, IEND. Gives the bytes used. */
size_t picture_made_png(const struct made_png *made, unsigned char out[PICTURE_MADE]);

/* A grey picture of width x height, its value rising along the rows; the same into folder/name. */
size_t picture_made_ramp(unsigned width, unsigned height, const char *comment,
                         unsigned char out[PICTURE_MADE]);
int picture_made_file(const char *folder, const char *name, const char *comment);

#endif
