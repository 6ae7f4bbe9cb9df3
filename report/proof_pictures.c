/* proof_pictures.c - photographs and sketches of a part; see proof.h and schema/picture.h. */
#include <stdio.h>
#include <stdlib.h>

#include "report/base64.h"
#include "report/proof.h"
#include "schema/picture.h"

enum { SIZE_TEXT = 24 };

struct pictures {
    struct html *page;
    const struct proof *proof;
    struct buffer not_shown; /* sentences */
    size_t most;             /* bytes */
    size_t n;
};

/* data:image/jpeg;base64,... */
static enum status data_uri(const unsigned char *bytes, size_t n, const char *type, char **uri,
                            struct fault *fault)
{
    size_t room = 4 * ((n + 2) / 3) + 64;
    char *text = malloc(room);

    *uri = text;
    if (text == NULL)
        return FAIL(fault, NO_MEMORY, "no memory for a picture of %zu bytes", n);
    int head = snprintf(text, 64, "data:%s;base64,", type);
    base64_encode(bytes, n, text + (head > 0 ? head : 0));
    return OK;
}

static enum status put_image(struct pictures *pictures, const struct picture *picture,
                             struct fault *fault)
{
    unsigned char *bytes = NULL;
    const char *type = NULL;
    struct buffer alternative = {0};
    char *uri = NULL;
    size_t n = 0;

    enum status status = picture_encode(picture, &bytes, &n, &type, fault);
    if (status == OK)
        status = data_uri(bytes, n, type, &uri, fault);
    free(bytes);
    buffer_format(&alternative, "%s: %s", pictures->proof->part->name,
                  pictures->proof->part->change);
    if (status == OK)
        status = buffer_status(&alternative, "the words of a picture", fault);
    if (status == OK) {
        char width[SIZE_TEXT], height[SIZE_TEXT];
        (void)snprintf(width, sizeof width, "%zu", picture->width);
        (void)snprintf(height, sizeof height, "%zu", picture->height);
        html_empty(pictures->page, "img", "src", uri, "alt", buffer_string(&alternative), "width",
                   width, "height", height, HTML_END);
    }
    buffer_free(&alternative);
    free(uri);
    return status;
}

static enum status put_figure(struct pictures *pictures, const char *file,
                              const struct picture *picture, const char *digest,
                              struct fault *fault)
{
    if (pictures->n++ == 0)
        html_open(pictures->page, "div", "class", "pictures", HTML_END);
    html_open(pictures->page, "figure", HTML_END);
    enum status status = put_image(pictures, picture, fault);
    html_open(pictures->page, "figcaption", HTML_END);
    html_format(pictures->page, "%s, SHA-256 %.12s", file, digest);
    html_close(pictures->page);
    html_close(pictures->page);
    return status;
}

/* A picture that is broken or gone is not worth the page: it is said, and the page goes on. */
static enum status take_picture(struct statement *row, void *context, struct fault *fault)
{
    struct pictures *pictures = context;
    const char *file = statement_text(row, 0);
    struct picture picture = {0};
    struct fault seen = {.status = OK};
    char digest[DIGEST_TEXT];
    unsigned char *bytes = NULL;
    size_t n = 0;

    enum status status =
        picture_bytes(pictures->proof->campaign, file, pictures->most, &bytes, &n, digest, &seen);
    if (status == OK)
        status = picture_decode(bytes, n, &picture, &seen);
    if (status == OK)
        status = picture_shrink(&picture, PICTURE_SHOWN, &seen);
    free(bytes);
    if (status == OK) {
        status = put_figure(pictures, file, &picture, digest, fault);
    } else if (status == NO_MEMORY) {
        status = FAIL(fault, NO_MEMORY, "no memory for a picture");
    } else {
        buffer_format(&pictures->not_shown, "%s is not shown: %s. ", file, seen.text);
        status = OK;
    }
    picture_free(&picture);
    return status;
}

enum status proof_pictures(struct html *page, const struct proof *proof, struct fault *fault)
{
    const double default_megabytes = 4;
    struct pictures pictures = {.page = page, .proof = proof};
    double megabytes = 0;

    if (proof->campaign == NULL)
        return OK;
    enum status status = query_real(proof->store,
                                    "SELECT CAST(value AS REAL) FROM setting WHERE section = "
                                    "'limits' AND name = 'picture_megabytes'",
                                    NULL, &megabytes, fault);
    pictures.most = (size_t)(1e6 * (megabytes > 0 ? megabytes : default_megabytes));
    if (status == OK)
        status =
            query_each(proof->store,
                       "SELECT file FROM configuration_image WHERE configuration = ?1 ORDER "
                       "BY position",
                       (const char *[]){proof->part->name, NULL}, take_picture, &pictures, fault);
    if (pictures.n > 0)
        html_close(page);
    if (pictures.not_shown.length > 0)
        html_element(page, "p", buffer_string(&pictures.not_shown), "class", "note", HTML_END);
    if (status == OK)
        status = buffer_status(&pictures.not_shown, "the pictures", fault);
    buffer_free(&pictures.not_shown);
    return status;
}
