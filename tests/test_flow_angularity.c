/* test_flow_angularity.c - the yaw of symmetry, and the flow's own turn from a body and its mirror image.
 *
 * Numbers of tests/oracles/boundary_fits.py: exact fractions; data invented.                       */
#include <CUnit/CUnit.h>
#include <math.h>

#include "reduce/physics/flow_angularity.h"
#include "tests/check.h"

static const char oracle[] = "tests/oracles/boundary_fits.py";
static const double yaw[] = {-0.06, -0.03, 0, 0.03, 0.06};
static const double body[] = {-0.1512, -0.0748, 0.0061, 0.0829, 0.1603};
static const double mirror[] = {-0.1553, -0.0792, -0.0012, 0.0778, 0.1549};
static const double drag[] = {0.9271, 0.9083, 0.9004, 0.9049, 0.9188};

static void where_the_side_force_is_zero(void)
{
    struct yaw_offset offset = {NAN, NAN};
    struct line_fit line = {0};
    CHECK(flow_yaw_of_zero(yaw, body, 5, &offset, &line) == OUTCOME_OK);
    CHECK_RELATIVE(offset.yaw, -0.0017907006532599, 1e-11, oracle);
    CHECK_RELATIVE(offset.yaw_u, 0.000207429511668665, 1e-8, oracle);
    CHECK_NEAR(line_fit_at(&line, offset.yaw, NULL), 0.0, 1e-15, "definition");
    CHECK(flow_yaw_of_zero(yaw, body, 5, &offset, NULL) == OUTCOME_OK);
}

static void where_the_drag_has_its_vertex(void)
{
    struct yaw_offset offset = {NAN, NAN};
    CHECK(flow_yaw_of_vertex(yaw, drag, 5, &offset) == OUTCOME_OK);
    CHECK_RELATIVE(offset.yaw, 0.00539845758354756, 1e-10, oracle);
    CHECK_RELATIVE(offset.yaw_u, 0.000452419526423613, 1e-8, oracle);
}

static void a_body_and_its_mirror_image(void)
{
    struct line_fit upright = {0}, turned = {0};
    struct yaw_offset offset;
    struct flow_turn found = {0};
    CHECK(flow_yaw_of_zero(yaw, body, 5, &offset, &upright) == OUTCOME_OK);
    CHECK(flow_yaw_of_zero(yaw, mirror, 5, &offset, &turned) == OUTCOME_OK);
    CHECK(flow_turn_of(&upright, &turned, &found) == OUTCOME_OK);
    CHECK_RELATIVE(found.turn, 0.000781721327257557, 1e-11, oracle);
    CHECK_RELATIVE(found.turn_u, 0.000126836546510382, 1e-7, oracle);
    CHECK_RELATIVE(found.asymmetry, 0.00263, 1e-12, oracle);
    CHECK_RELATIVE(found.asymmetry_u, 0.000329317476019273, 1e-8, oracle);
    CHECK(found.is_confirmed == 1);
}

/* A crooked body in straight flow has a yaw of zero side force, and no turn of the flow. */
static void a_crooked_body_confirms_nothing(void)
{
    double crooked[5], other[5];
    struct line_fit upright = {0}, turned = {0};
    struct yaw_offset offset = {0};
    struct flow_turn found = {0};
    for (int i = 0; i < 5; i++) {
        double wobble = i % 2 == 0 ? 2e-4 : -3e-4;
        crooked[i] = 2.6 * yaw[i] + 0.004 + wobble;
        other[i] = 2.6 * yaw[i] - 0.004 - wobble;
    }
    CHECK(flow_yaw_of_zero(yaw, crooked, 5, &offset, &upright) == OUTCOME_OK);
    CHECK(flow_yaw_of_zero(yaw, other, 5, &offset, &turned) == OUTCOME_OK);
    CHECK(fabs(offset.yaw) > 5.0 * offset.yaw_u);
    CHECK(flow_turn_of(&upright, &turned, &found) == OUTCOME_OK);
    CHECK_NEAR(found.turn, 0.0, 1e-15, "invented without a turn");
    CHECK(found.is_confirmed == 0);
}

static void refusals(void)
{
    const double flat[] = {0.01, -0.01, 0.01, -0.01, 0.01}, one[] = {1, 1, 1, 1, 1},
                 slope[] = {0.2, 0.3, 0.41, 0.5, 0.6}, aside[] = {1, 2.1, 4.2, 7.0, 10.9};
    struct yaw_offset offset = {-7, -7};
    struct line_fit upright = {0}, turned = {0};
    struct flow_turn found = {.turn = -7};
    CHECK(flow_yaw_of_zero(yaw, flat, 5, &offset, NULL) == OUTCOME_SINGULAR);
    CHECK(flow_yaw_of_zero(one, body, 5, &offset, NULL) == OUTCOME_SINGULAR);
    CHECK(flow_yaw_of_zero(yaw, body, 2, &offset, NULL) == OUTCOME_TOO_FEW);
    CHECK(flow_yaw_of_vertex(yaw, drag, 3, &offset) == OUTCOME_TOO_FEW);
    CHECK(flow_yaw_of_vertex(yaw, slope, 5, &offset) == OUTCOME_SINGULAR);
    CHECK(flow_yaw_of_vertex(yaw, aside, 5, &offset) == OUTCOME_UNMEASURED);
    CHECK(flow_yaw_of_vertex(one, drag, 5, &offset) == OUTCOME_SINGULAR);
    const double two[] = {0, 0, 1, 1, 1}, hole[] = {1, 2, NAN, 3, 4};
    CHECK(flow_yaw_of_vertex(two, drag, 5, &offset) == OUTCOME_SINGULAR);
    CHECK(flow_yaw_of_vertex(yaw, hole, 5, &offset) == OUTCOME_NOT_FINITE);
    CHECK(flow_yaw_of_zero(yaw, hole, 5, &offset, NULL) == OUTCOME_NOT_FINITE);
    CHECK(offset.yaw == -7);
    CHECK(line_fit_make(yaw, body, 5, &upright) == OUTCOME_OK);
    turned = upright;
    turned.slope *= 1.2; /* another body */
    CHECK(flow_turn_of(&upright, &turned, &found) == OUTCOME_SINGULAR);
    turned.slope = -upright.slope;
    CHECK(flow_turn_of(&upright, &turned, &found) == OUTCOME_SINGULAR);
    turned.slope = NAN;
    CHECK(flow_turn_of(&upright, &turned, &found) == OUTCOME_NOT_FINITE);
    CHECK(found.turn == -7);
}

CU_TestInfo flow_angularity_tests[] = {
    {"where the side force is zero", where_the_side_force_is_zero},
    {"where the drag has its vertex", where_the_drag_has_its_vertex},
    {"a body and its mirror image tell the flow's turn", a_body_and_its_mirror_image},
    {"a crooked body confirms nothing", a_crooked_body_confirms_nothing},
    {"sweeps that tell nothing are refused", refusals},
    CU_TEST_INFO_NULL};
