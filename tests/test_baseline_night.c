/* test_baseline_night.c - a night of the baseline alone, as a check standard is run: it has values, and
 * promises no comparison. */
#include <CUnit/CUnit.h>
#include <string.h>

#include "tests/check.h"
#include "tests/program.h"

/* The demo night without its other configurations, nor the device that is one of them. */
static int make_night(char night[64])
{
    char out[PROGRAM_OUTPUT];

    return program_demo_night(night, 5) &&
           program_shell(out,
                         "cd %s && sed -i '/,floor-edge,\\|,front-flap,\\|,mirror-stay,/d' "
                         "runs.csv && sed -i '/^trim:/,+1d' campaign.yaml",
                         night) == 0 &&
           program_shell(out, "%s -C %s -q batch", program_lapwing(), night) == 0;
}

static void the_main_measure_s_attitude_is_the_campaign_s(void)
{
    char out[PROGRAM_OUTPUT], night[64];

    CHECK(make_night(night));
    CHECK(program_shell(out,
                        "sed 's/<svg/\\n&/g; s/<h2/\\n&/g' %s/report/night.html | grep -v "
                        "'^<style'",
                        night) == 0);
    CHECK_CONTAINS(out, "Nothing was compared: only the baseline was measured.");
    CHECK_CONTAINS(out, "Checks on the night");
    CHECK_CONTAINS(out, "base, mounting 1 (");
    CHECK(strstr(out, "below, the change from") == NULL);
    CHECK(strstr(out, "class=\"deltas") == NULL);
    CHECK(strstr(out, "no value</span>") == NULL);
    CHECK(program_shell(out, "sed 's/<h2/\\n&/g' %s/report/index.html | grep -A9 'id=\"control'",
                        night) == 0);
    CHECK_CONTAINS(out, "A picture begins with the second entry.");
    program_remove(night);
}

extern CU_TestInfo baseline_night_tests[];
CU_TestInfo baseline_night_tests[] = {{"the main measure's attitude is the campaign's",
                                       the_main_measure_s_attitude_is_the_campaign_s},
                                      CU_TEST_INFO_NULL};
