/* test_point_statistics.c - schema/point_statistics.c. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <string.h>

#include "schema/point_statistics.h"
#include "tests/check.h"

enum { BYTES = STATISTICS_PER_CHANNEL * 8 };

static void every_field_comes_back(void)
{
    const struct channel_statistics two[2] = {
        {1000, 2, 3.5, 0.25, 40, -1, 9, 3.25, 3.75, 4, 5, 6, 3.4, 0.2, 0.01, 7, (double)NAN},
        {1, 0, -7, (double)NAN, (double)NAN, -7, -7, (double)NAN, (double)NAN, 0, 1, 0, (double)NAN,
         (double)NAN, (double)NAN, 0, (double)NAN}};
    struct channel_statistics back[2];
    unsigned char blob[2 * BYTES];
    struct fault fault;
    point_statistics_pack(two, 2, blob);
    CHECK_OK(point_statistics_unpack(blob, sizeof blob, back, 2, &fault), &fault);
    CHECK_NEAR(back[0].n, 1000, 0, "identity: round trip");
    CHECK_NEAR(back[0].n_missing, 2, 0, "identity: round trip");
    CHECK_NEAR(back[0].mean, 3.5, 0, "identity: round trip");
    CHECK_NEAR(back[0].sd, 0.25, 0, "identity: round trip");
    CHECK_NEAR(back[0].n_effective, 40, 0, "identity: round trip");
    CHECK_NEAR(back[0].minimum, -1, 0, "identity: round trip");
    CHECK_NEAR(back[0].maximum, 9, 0, "identity: round trip");
    CHECK_NEAR(back[0].mean_first_half, 3.25, 0, "identity: round trip");
    CHECK_NEAR(back[0].mean_second_half, 3.75, 0, "identity: round trip");
    CHECK_NEAR(back[0].clipped, 4, 0, "identity: round trip");
    CHECK_NEAR(back[0].stuck, 5, 0, "identity: round trip");
    CHECK_NEAR(back[0].spiked, 6, 0, "identity: round trip");
    CHECK_NEAR(back[0].mean_without_spikes, 3.4, 0, "identity: round trip");
    CHECK_NEAR(back[0].local_deviation, 0.2, 0, "identity: round trip");
    CHECK_NEAR(back[0].resolution, 0.01, 0, "identity: round trip");
    CHECK_NEAR(back[0].repeated, 7, 0, "identity: round trip");
    CHECK_NEAR(back[1].mean, -7, 0, "identity: round trip");
    CHECK(isnan(back[1].sd) && isnan(back[1].n_effective) && isnan(back[1].mean_first_half));
}

static void bytes_are_little_endian_doubles(void)
{
    const struct channel_statistics one = {.n = 1.0, .n_missing = -2.0};
    /* IEEE 754: 1.0 is 3ff0 0000 0000 0000, -2.0 is c000 0000 0000 0000 */
    const unsigned char want[16] = {0, 0, 0, 0, 0, 0, 0xf0, 0x3f, 0, 0, 0, 0, 0, 0, 0, 0xc0};
    unsigned char blob[BYTES];
    point_statistics_pack(&one, 1, blob);
    CHECK(memcmp(blob, want, sizeof want) == 0);
}

static void a_blob_of_another_size_is_refused(void)
{
    unsigned char blob[2 * BYTES] = {0};
    struct channel_statistics back[2];
    struct fault fault;
    CHECK(point_statistics_unpack(blob, BYTES, back, 2, &fault) == BAD_INPUT);
    CHECK_CONTAINS(fault.text, "128 bytes");
    CHECK(point_statistics_unpack(blob, BYTES + 8, back, 1, &fault) == BAD_INPUT);
    CHECK(point_statistics_unpack(blob, (size_t)2 * BYTES, back, 1, &fault) == BAD_INPUT);
    CHECK_OK(point_statistics_unpack(blob, 0, back, 0, &fault), &fault);
}

static void the_standard_error_is_sd_over_root_n_effective(void)
{
    struct channel_statistics channel = {.n = 1000, .sd = 0.6, .n_effective = 36};
    CHECK_NEAR(channel_standard_error(&channel), 0.1, 1e-16, "identity: 0.6 / sqrt(36)");
    channel.n_effective = (double)NAN;
    CHECK(isnan(channel_standard_error(&channel)));
    channel.n_effective = 0;
    CHECK(isnan(channel_standard_error(&channel)));
    channel.n_effective = 36;
    channel.sd = (double)NAN;
    CHECK(isnan(channel_standard_error(&channel)));
}

CU_TestInfo point_statistics_tests[] = {
    {"every field comes back from the blob", every_field_comes_back},
    {"the bytes are little-endian doubles", bytes_are_little_endian_doubles},
    {"a blob of another size is refused", a_blob_of_another_size_is_refused},
    {"the standard error is sd over root n effective",
     the_standard_error_is_sd_over_root_n_effective},
    CU_TEST_INFO_NULL};
