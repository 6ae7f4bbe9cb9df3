/* test_picture.c - pictures from outside: what is decoded, what is refused, what does not go on. PNG by
 * ISO/IEC 15948 and JPEG by ITU-T T.81, built here byte by byte or by libjpeg-turbo itself.          */
#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <turbojpeg.h>
#include <unistd.h>

#include "schema/picture.h"
#include "tests/check.h"
#include "tests/picture_made.h"
#include "tests/scratch.h"

static unsigned char made[PICTURE_MADE];

/* Decodes; checks the status, and that a refusal says something and holds nothing. */
static enum status decode(const unsigned char *bytes, size_t n, struct picture *picture,
                          struct fault *fault)
{
    *fault = (struct fault){.status = OK};
    enum status status = picture_decode(bytes, n, picture, fault);
    if (status != OK)
        CHECK(picture->rgb == NULL && fault->text[0] != '\0');
    return status;
}

static void a_png_is_decoded(void)
{
    struct picture picture;
    struct fault fault;

    size_t n = picture_made_ramp(60, 40, NULL, made);
    CHECK_OK(decode(made, n, &picture, &fault), &fault);
    CHECK(picture.width == 60 && picture.height == 40 && picture.kind == PICTURE_PNG);
    CHECK(picture.rgb != NULL && picture.rgb[(size_t)3 * (60 * 7 + 30)] == 127); /* 255 * 30 / 60 */
    picture_free(&picture);
}

static void one_pixel_is_enough(void)
{
    const unsigned char row[] = {0, 200, 100, 50};
    struct made_png png = {1, 1, 8, 2, 0, row, sizeof row, NULL};
    struct picture picture;
    struct fault fault;

    CHECK_OK(decode(made, picture_made_png(&png, made), &picture, &fault), &fault);
    CHECK(picture.rgb != NULL && memcmp(picture.rgb, row + 1, 3) == 0);
    picture_free(&picture);
}

/* 65535 * 40 / 255 = 10280 is 0x2828: 40 in eight bits. Adam7 of 2 x 2: passes 1, 6 and 7. */
static void sixteen_bits_and_interlacing(void)
{
    const unsigned char deep[] = {0, 0x28, 0x28, 0xFF, 0xFF, 0, 0};
    const unsigned char woven[] = {0, 10, 0, 20, 0, 30, 40};
    struct made_png sixteen = {1, 1, 16, 2, 0, deep, sizeof deep, NULL};
    struct made_png adam7 = {2, 2, 8, 0, 1, woven, sizeof woven, NULL};
    struct picture picture;
    struct fault fault;

    CHECK_OK(decode(made, picture_made_png(&sixteen, made), &picture, &fault), &fault);
    /* Samples of 16 bits without a declared gamma are taken as linear: only black and white stay. */
    CHECK(picture.rgb != NULL && picture.rgb[1] == 255 && picture.rgb[2] == 0);
    picture_free(&picture);
    CHECK_OK(decode(made, picture_made_png(&adam7, made), &picture, &fault), &fault);
    for (size_t i = 0; picture.rgb != NULL && i < 4; i++)
        CHECK(picture.rgb[3 * i] == 10 * (i + 1));
    picture_free(&picture);
}

static void what_is_transparent_lies_on_white(void)
{
    const unsigned char clear[] = {0, 10, 20, 30, 0};
    struct made_png png = {1, 1, 8, 6, 0, clear, sizeof clear, NULL};
    struct picture picture;
    struct fault fault;

    CHECK_OK(decode(made, picture_made_png(&png, made), &picture, &fault), &fault);
    CHECK(picture.rgb != NULL && picture.rgb[0] == 255 && picture.rgb[1] == 255);
    picture_free(&picture);
}

/* ---- JPEG ---------------------------------------------------------------------------------------- */

/* 32 x 16, left half red, right half blue. */
static void fill(unsigned char *rgb)
{
    for (size_t i = 0; i < (size_t)32 * 16; i++) {
        rgb[3 * i] = i % 32 < 16 ? 255 : 0;
        rgb[3 * i + 1] = 0;
        rgb[3 * i + 2] = i % 32 < 16 ? 0 : 255;
    }
}

static size_t make_jpeg(int flags, unsigned char *out)
{
    unsigned char rgb[3 * 32 * 16];
    unsigned char *bytes = NULL;
    unsigned long n = 0;
    tjhandle handle = tjInitCompress();

    fill(rgb);
    CHECK(tjCompress2(handle, rgb, 32, 0, 16, TJPF_RGB, &bytes, &n, TJSAMP_444, 95, flags) == 0);
    memcpy(out, bytes, n);
    tjFree(bytes);
    (void)tjDestroy(handle);
    return n;
}

static int is_near(const struct picture *picture, size_t x, size_t y, int red, int green, int blue)
{
    const unsigned char *at = picture->rgb + 3 * (y * picture->width + x);

    return abs(at[0] - red) < 12 && abs(at[1] - green) < 12 && abs(at[2] - blue) < 12;
}

static void a_jpeg_is_decoded_progressive_too(void)
{
    const int flags[] = {0, TJFLAG_PROGRESSIVE};
    struct picture picture;
    struct fault fault;

    for (size_t i = 0; i < 2; i++) {
        size_t n = make_jpeg(flags[i], made);
        CHECK_OK(decode(made, n, &picture, &fault), &fault);
        CHECK(picture.width == 32 && picture.height == 16 && picture.kind == PICTURE_JPEG);
        CHECK(picture.rgb != NULL && is_near(&picture, 4, 8, 255, 0, 0));
        CHECK(picture.rgb != NULL && is_near(&picture, 28, 8, 0, 0, 255));
        picture_free(&picture);
    }
}

/* Inks as such files hold them: 255 is no ink. */
static void four_inks_become_light(void)
{
    unsigned char inks[4 * 16 * 16];
    unsigned char *bytes = NULL;
    unsigned long n = 0;
    struct picture picture;
    struct fault fault;
    tjhandle handle = tjInitCompress();

    for (size_t i = 0; i < (size_t)16 * 16; i++)
        memcpy(inks + 4 * i, "\xFF\x80\x00\xFF", 4);
    CHECK(tjCompress2(handle, inks, 16, 0, 16, TJPF_CMYK, &bytes, &n, TJSAMP_444, 95, 0) == 0);
    CHECK_OK(decode(bytes, n, &picture, &fault), &fault);
    CHECK(picture.rgb != NULL && is_near(&picture, 8, 8, 255, 128, 0));
    picture_free(&picture);
    tjFree(bytes);
    (void)tjDestroy(handle);
}

/* CIPA DC-008, 4.6.4 A, tag 274: 3 turns by half; 6 has its first column at the top, 8 at the bottom. */
static void the_camera_s_turn_is_undone(void)
{
    static const struct {
        unsigned char value;
        size_t width, red_x, red_y, blue_x, blue_y;
    } turns[] = {{1, 32, 4, 8, 28, 8}, {2, 32, 28, 8, 4, 8}, {3, 32, 28, 8, 4, 8},
                 {4, 32, 4, 8, 28, 8}, {5, 16, 8, 4, 8, 28}, {6, 16, 8, 4, 8, 28},
                 {7, 16, 8, 28, 8, 4}, {8, 16, 8, 28, 8, 4}, {9, 32, 4, 8, 28, 8}};
    unsigned char segment[] = {0xFF, 0xE1, 0, 34, 'E', 'x', 'i', 'f', 0,    0,    'M', 'M',
                               0,    42,   0, 0,  0,   8,   0,   1,   0x01, 0x12, 0,   3,
                               0,    0,    0, 1,  0,   1,   0,   0,   0,    0,    0,   0};
    static unsigned char turned[PICTURE_MADE];
    struct picture picture;
    struct fault fault;

    size_t n = make_jpeg(0, made);
    for (size_t i = 0; i < sizeof turns / sizeof turns[0]; i++) {
        segment[29] = turns[i].value;
        memcpy(turned, made, 2);
        memcpy(turned + 2, segment, sizeof segment);
        memcpy(turned + 2 + sizeof segment, made + 2, n - 2);
        CHECK_OK(decode(turned, n + sizeof segment, &picture, &fault), &fault);
        CHECK(picture.width == turns[i].width);
        if (picture.rgb != NULL) {
            CHECK(is_near(&picture, turns[i].red_x, turns[i].red_y, 255, 0, 0));
            CHECK(is_near(&picture, turns[i].blue_x, turns[i].blue_y, 0, 0, 255));
        }
        picture_free(&picture);
    }
}

/* ---- refusals ------------------------------------------------------------------------------------ */

static void other_kinds_are_refused(void)
{
    struct picture picture;
    struct fault fault;

    CHECK(decode((const unsigned char *)"GIF89a....", 10, &picture, &fault) == BAD_INPUT);
    CHECK_CONTAINS(fault.text, "neither PNG nor JPEG");
    CHECK(decode((const unsigned char *)"<svg onload=alert(1)>", 21, &picture, &fault) ==
          BAD_INPUT);
    CHECK(decode((const unsigned char *)"", 0, &picture, &fault) == BAD_INPUT);
}

/* A few hundred bytes that declare eleven gigabytes. */
static void a_bomb_is_refused_before_it_is_decoded(void)
{
    const unsigned char row[] = {0, 1};
    struct made_png png = {60000, 60000, 8, 0, 0, row, sizeof row, NULL};
    struct picture picture;
    struct fault fault;

    CHECK(decode(made, picture_made_png(&png, made), &picture, &fault) == BAD_INPUT);
    CHECK_CONTAINS(fault.text, "60000 x 60000 pixels; limit: 20000 a side, 40 million in all");
    png.width = 19000;
    png.height = 19000;
    CHECK(decode(made, picture_made_png(&png, made), &picture, &fault) == BAD_INPUT);
    CHECK_CONTAINS(fault.text, "19000 x 19000");
    static const unsigned char sizes[] = {0xEA, 0x60, 0xEA, 0x60}; /* 60000 twice */
    size_t n = make_jpeg(0, made);
    for (size_t i = 0; i + 9 < n; i++)
        if (made[i] == 0xFF &&
            made[i + 1] == 0xC0) /* start of frame: length, precision, lines, samples */
            memcpy(made + i + 5, sizes, sizeof sizes);
    CHECK(decode(made, n, &picture, &fault) == BAD_INPUT);
    CHECK_CONTAINS(fault.text, "60000 x 60000");
}

/* Cut anywhere before its last bytes a picture is broken; nothing reads beyond the end. */
static void what_is_cut_is_refused(void)
{
    struct picture picture;
    struct fault fault;

    for (int kind = 0; kind < 3; kind++) {
        size_t n = kind == 0   ? picture_made_ramp(60, 40, NULL, made)
                   : kind == 1 ? make_jpeg(0, made)
                               : make_jpeg(TJFLAG_PROGRESSIVE, made);
        size_t whole = kind == 0 ? n - 12 : n - 2; /* without IEND, without the end of image */
        for (size_t cut = 0; cut < n; cut++) {
            unsigned char *short_one = malloc(cut + 1);
            CHECK(short_one != NULL);
            if (short_one == NULL)
                return;
            memcpy(short_one, made, cut);
            enum status status = decode(short_one, cut, &picture, &fault);
            if (cut + 4 < whole)
                CHECK(status == BAD_INPUT);
            picture_free(&picture);
            free(short_one);
        }
    }
}

/* Wrong bytes give some picture or a refusal, and nothing else. */
static void wrong_bytes_do_no_harm(void)
{
    static unsigned char spoiled[PICTURE_MADE];
    struct picture picture;
    struct fault fault;
    unsigned long state = 12345;
    size_t refused = 0;

    for (int kind = 0; kind < 3; kind++) {
        size_t n = kind == 0   ? picture_made_ramp(60, 40, "x", made)
                   : kind == 1 ? make_jpeg(0, made)
                               : make_jpeg(TJFLAG_PROGRESSIVE, made);
        for (int time = 0; time < 400; time++) {
            memcpy(spoiled, made, n);
            for (int k = 0; k < 1 + time % 4; k++) {
                state = (state * 1103515245UL + 12345UL) & 0x7FFFFFFFUL;
                spoiled[(state >> 8) % n] ^= (unsigned char)(1U << (state & 7U));
            }
            refused += decode(spoiled, n, &picture, &fault) != OK;
            picture_free(&picture);
        }
    }
    CHECK(refused > 300);
}

static void checksums_of_pixels_count(void)
{
    struct picture picture;
    struct fault fault;

    size_t n = picture_made_ramp(60, 40, NULL, made);
    made[n - 12 - 4 - 3] ^= 1; /* in the data of IDAT */
    CHECK(decode(made, n, &picture, &fault) == BAD_INPUT);
}

/* ---- what goes on -------------------------------------------------------------------------------- */

static int holds(const unsigned char *bytes, size_t n, const char *text)
{
    for (size_t i = 0; i + strlen(text) <= n; i++)
        if (memcmp(bytes + i, text, strlen(text)) == 0)
            return 1;
    return 0;
}

static void nothing_of_the_file_goes_on(void)
{
    unsigned char *bytes = NULL;
    const char *type = NULL;
    struct picture picture;
    struct fault fault;
    size_t n = picture_made_ramp(60, 40, "<script>alert(1)</script>", made);

    CHECK(holds(made, n, "<script>"));
    CHECK_OK(decode(made, n, &picture, &fault), &fault);
    CHECK_OK(picture_encode(&picture, &bytes, &n, &type, &fault), &fault);
    CHECK_TEXT(type, "image/png");
    CHECK(bytes != NULL && !holds(bytes, n, "<script>") && !holds(bytes, n, "tEXt"));
    picture_free(&picture);
    CHECK_OK(decode(bytes, n, &picture, &fault), &fault);
    CHECK(picture.rgb != NULL && picture.rgb[90] == 127);
    picture.kind = PICTURE_JPEG;
    free(bytes);
    bytes = NULL;
    CHECK_OK(picture_encode(&picture, &bytes, &n, &type, &fault), &fault);
    CHECK_TEXT(type, "image/jpeg");
    CHECK(bytes != NULL && !holds(bytes, n, "Exif"));
    free(bytes);
    picture_free(&picture);
}

/* Noise does not compress: as PNG it would fill the page. */
static void a_photograph_kept_as_png_becomes_jpeg(void)
{
    struct picture picture = {.kind = PICTURE_PNG};
    struct fault fault = {0};
    unsigned char *bytes = NULL;
    const char *type = NULL;
    unsigned long state = 1;
    size_t n = 0;

    CHECK_OK(picture_room(&picture, 600, 500, &fault), &fault);
    for (size_t i = 0; i < (size_t)3 * 600 * 500; i++) {
        state = (state * 1103515245UL + 12345UL) & 0x7FFFFFFFUL;
        picture.rgb[i] = (unsigned char)(state >> 16);
    }
    CHECK_OK(picture_encode(&picture, &bytes, &n, &type, &fault), &fault);
    CHECK_TEXT(type, "image/jpeg");
    CHECK(n < PICTURE_PNG_MOST);
    free(bytes);
    picture_free(&picture);
}

/* Means of 2 x 2 pixels exactly; a picture of one value keeps it at any size; small ones stay. */
static void shrinking_takes_means_of_areas(void)
{
    static const unsigned char values[] = {10, 20, 100, 200, 30, 40, 0, 100};
    struct picture picture = {.kind = PICTURE_PNG};
    struct fault fault = {0};

    CHECK_OK(picture_room(&picture, 4, 2, &fault), &fault);
    for (size_t i = 0; i < 8; i++)
        memset(picture.rgb + 3 * i, values[i], 3);
    CHECK_OK(picture_shrink(&picture, 4, &fault), &fault);
    CHECK(picture.width == 4);
    CHECK_OK(picture_shrink(&picture, 2, &fault), &fault);
    CHECK(picture.width == 2 && picture.height == 1);
    CHECK(picture.rgb[0] == 25 && picture.rgb[3] == 100); /* (10+20+30+40)/4, (100+200+0+100)/4 */
    picture_free(&picture);
    CHECK_OK(picture_room(&picture, 1777, 31, &fault), &fault);
    memset(picture.rgb, 77, (size_t)3 * 1777 * 31);
    CHECK_OK(picture_shrink(&picture, PICTURE_SHOWN, &fault), &fault);
    CHECK(picture.width == 1200 && picture.height == 21); /* 31 * 1200 / 1777 = 20.93 */
    for (size_t i = 0; i < (size_t)3 * 1200 * 21; i++)
        if (picture.rgb[i] != 77)
            CHECK(picture.rgb[i] == 77);
    picture_free(&picture);
}

/* ---- files --------------------------------------------------------------------------------------- */

static void paths_stay_below_the_folder(void)
{
    static const struct {
        const char *file, *says;
    } wrong[] = {{"", "is empty"},        {"/etc/passwd", "is absolute"},
                 {"../a.png", "leaves"},  {"a/../../b.png", "leaves"},
                 {"a/./b.png", "leaves"}, {"a//b.png", "empty step"},
                 {"a/", "empty step"},    {"a\\b.png", "backslash"},
                 {"a\nb.png", "control"}};

    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++)
        CHECK_CONTAINS(picture_path_objection(wrong[i].file), wrong[i].says);
    CHECK(picture_path_objection("pictures/left side..2.png") == NULL);
}

static enum status take(const char *folder, const char *file, size_t most, struct fault *fault)
{
    unsigned char *bytes = NULL;
    char digest[DIGEST_TEXT];
    size_t n = 0;

    *fault = (struct fault){.status = OK};
    enum status status = picture_bytes(folder, file, most, &bytes, &n, digest, fault);
    CHECK((status == OK) == (bytes != NULL));
    free(bytes);
    return status;
}

static void only_plain_files_without_links_are_read(void)
{
    char folder[SCRATCH_PATH], path[SCRATCH_PATH + 40], link_path[SCRATCH_PATH + 40];
    struct fault fault;

    CHECK(scratch_make(folder));
    (void)snprintf(path, sizeof path, "%s/pictures", folder);
    CHECK(mkdir(path, 0700) == 0);
    CHECK(picture_made_file(folder, "pictures/a.png", NULL));
    CHECK_OK(take(folder, "pictures/a.png", 100000, &fault), &fault);
    CHECK(take(folder, "pictures/a.png", 20, &fault) == BAD_INPUT);
    CHECK_CONTAINS(fault.text, "limit: 20");
    CHECK(take(folder, "pictures/b.png", 100000, &fault) == NOT_FOUND);
    CHECK(take(folder, "pictures", 100000, &fault) == BAD_INPUT);
    CHECK(take(folder, "../a.png", 100000, &fault) == BAD_INPUT);
    (void)snprintf(path, sizeof path, "%s/pictures/a.png", folder);
    (void)snprintf(link_path, sizeof link_path, "%s/pictures/link.png", folder);
    CHECK(symlink(path, link_path) == 0);
    CHECK(take(folder, "pictures/link.png", 100000, &fault) == BAD_INPUT);
    CHECK_CONTAINS(fault.text, "link");
    /* A folder by a link; it leads to a folder of this test, never to one of the system. */
    (void)snprintf(path, sizeof path, "%s/pictures", folder);
    (void)snprintf(link_path, sizeof link_path, "%s/out", folder);
    CHECK(symlink(path, link_path) == 0);
    CHECK(take(folder, "out/a.png", 100000, &fault) == BAD_INPUT);
    (void)snprintf(path, sizeof path, "%s/pipe.png", folder);
    CHECK(mkfifo(path, 0600) == 0);
    CHECK(take(folder, "pipe.png", 100000, &fault) == BAD_INPUT);
    CHECK(scratch_write(folder, "empty.png", ""));
    CHECK(take(folder, "empty.png", 100000, &fault) == BAD_INPUT);
    scratch_remove(folder);
}

CU_TestInfo picture_tests[] = {
    {"a PNG is decoded", a_png_is_decoded},
    {"one pixel is enough", one_pixel_is_enough},
    {"sixteen bits and interlacing", sixteen_bits_and_interlacing},
    {"what is transparent lies on white", what_is_transparent_lies_on_white},
    {"a JPEG is decoded, progressive too", a_jpeg_is_decoded_progressive_too},
    {"four inks become light", four_inks_become_light},
    {"the camera's turn is undone", the_camera_s_turn_is_undone},
    {"other kinds are refused", other_kinds_are_refused},
    {"a bomb is refused before it is decoded", a_bomb_is_refused_before_it_is_decoded},
    {"what is cut is refused", what_is_cut_is_refused},
    {"wrong bytes do no harm", wrong_bytes_do_no_harm},
    {"checksums of pixels count", checksums_of_pixels_count},
    {"nothing of the file goes on", nothing_of_the_file_goes_on},
    {"a photograph kept as PNG becomes JPEG", a_photograph_kept_as_png_becomes_jpeg},
    {"shrinking takes means of areas", shrinking_takes_means_of_areas},
    {"paths stay below the folder", paths_stay_below_the_folder},
    {"only plain files without links are read", only_plain_files_without_links_are_read},
    CU_TEST_INFO_NULL};
