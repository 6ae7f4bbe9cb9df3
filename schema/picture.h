/* picture.h - photographs and sketches from outside, made safe to show: decoded wholly, shrunk, and
 * encoded anew, so that nothing of the file's own bytes (places, names, comments, profiles) goes on.
 *
 * PNG and JPEG by their first bytes, whatever the file's name says. What a file declares is judged before
 * anything is decoded: a small file may declare a picture that fills the memory. Pixels are 8-bit RGB,
 * rows from the top; what is transparent is laid on white. Formats: ISO/IEC 15948 (PNG), ITU-T T.81
 * (JPEG), decoded by libpng and libjpeg-turbo.                                                       */
#ifndef LAPWING_PICTURE_H
#define LAPWING_PICTURE_H

#include <stddef.h>

#include "schema/digest.h"
#include "schema/fault.h"

enum {
    PICTURE_SIDE_MAX = 20000,      /* pixels, of what is decoded */
    PICTURE_PIXELS_MAX = 40000000, /* the same, width times height */
    PICTURE_SHOWN = 1200,          /* longest side of what is shown */
    PICTURE_PNG_MOST = 600000      /* bytes; a larger one is a photograph and becomes JPEG */
};

enum picture_kind { PICTURE_PNG, PICTURE_JPEG };

struct picture {
    enum picture_kind kind; /* that it came as */
    size_t width, height;
    unsigned char *rgb; /* 3 width height bytes, owned */
};

/* What is wrong with a path that must stay below a folder: absolute, a step up, an empty step, a
 * backslash, a control character. NULL: nothing. Nothing is opened. */
const char *picture_path_objection(const char *file);

/* The bytes of folder/file, no link on the way, at most `most` of them; *bytes is the caller's to free.
 * BAD_INPUT, or NOT_FOUND, says what is wrong without the file's name: the caller knows where it was
 * written. digest is of the bytes as they are. */
enum status picture_bytes(const char *folder, const char *file, size_t most, unsigned char **bytes,
                          size_t *n, char digest[DIGEST_TEXT], struct fault *fault);

/* Decodes the whole of it, turned as the camera says it was held. BAD_INPUT: neither PNG nor JPEG, too
 * large, or broken anywhere. On OK the caller ends *picture with picture_free(). */
enum status picture_decode(const unsigned char *bytes, size_t n, struct picture *picture,
                           struct fault *fault);
void picture_free(struct picture *picture);

/* To a longest side of at most longest pixels, each new one the mean of the area it covers; a smaller
 * picture stays as it is. */
enum status picture_shrink(struct picture *picture, size_t longest, struct fault *fault);

/* PNG, or JPEG for what came as JPEG or is too large as PNG, without any metadata. *bytes is the
 * caller's to free; *type is "image/png" or "image/jpeg". */
enum status picture_encode(const struct picture *picture, unsigned char **bytes, size_t *n,
                           const char **type, struct fault *fault);

/* ---- parts of the above, in files of their own ---- */

/* Orientation 1 .. 8 of a JPEG by its Exif (CIPA DC-008, tag 274); 1 where it says none. */
int picture_orientation(const unsigned char *bytes, size_t n);

enum status picture_decode_png(const unsigned char *bytes, size_t n, struct picture *picture,
                               struct fault *fault);
enum status picture_decode_jpeg(const unsigned char *bytes, size_t n, struct picture *picture,
                                struct fault *fault);
enum status picture_encode_png(const struct picture *picture, unsigned char **bytes, size_t *n,
                               struct fault *fault);
enum status picture_encode_jpeg(const struct picture *picture, unsigned char **bytes, size_t *n,
                                struct fault *fault);

/* BAD_INPUT where a declared size is none or too large; allocates rgb else. */
enum status picture_room(struct picture *picture, size_t width, size_t height, struct fault *fault);

#endif
