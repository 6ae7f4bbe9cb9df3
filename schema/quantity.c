/* quantity.c - the table of quantities; see quantity.h. */
#include "schema/quantity.h"

#include <string.h>

static const struct quantity_row rows[QUANTITY_COUNT] = {
    [QUANTITY_CD] = {"CD", "drag_coefficient", "1", "+ is drag (aft)",
                     "Force along x over dynamic pressure and reference area.", 1},
    [QUANTITY_CY] = {"CY", "side_coefficient", "1", "+ is to the car's right",
                     "Force along y over dynamic pressure and reference area.", 1},
    [QUANTITY_CL] = {"CL", "downforce_coefficient", "1", "+ is more downforce",
                     "Force towards the ground over dynamic pressure and reference area.", 1},
    [QUANTITY_CLF] = {"CLF", "downforce_front_coefficient", "1", "+ is more downforce",
                      "Downforce coefficient carried by the front axle, with the drag couple "
                      "about the ground in it (contact-patch convention).",
                      1},
    [QUANTITY_CLR] = {"CLR", "downforce_rear_coefficient", "1", "+ is more downforce",
                      "Downforce coefficient carried by the rear axle, with the drag couple "
                      "about the ground in it (contact-patch convention).",
                      1},
    [QUANTITY_CRM] = {"CRM", "roll_coefficient", "1", "+ is right-handed about x (aft)",
                      "Rolling moment over dynamic pressure, reference area and wheelbase.", 1},
    [QUANTITY_CPM] = {"CPM", "pitch_coefficient", "1", "+ is nose up",
                      "Pitching moment over dynamic pressure, reference area and wheelbase, about "
                      "the ground at mid-wheelbase.",
                      1},
    [QUANTITY_CYM] = {"CYM", "yaw_coefficient", "1", "+ is right-handed about z (up)",
                      "Yawing moment over dynamic pressure, reference area and wheelbase.", 1},
    [QUANTITY_BALANCE] = {"balance", "balance_percent", "%", "+ is more on the front axle",
                          "Share of the downforce carried by the front axle, 100 CLF / CL.", 0},
    [QUANTITY_LD] = {"L/D", "lift_to_drag", "1", "+ is more downforce for the drag",
                     "Downforce coefficient over drag coefficient.", 0},
    [QUANTITY_CDA] = {"CDA", "drag_area_m2", "m2", "+ is drag (aft)",
                      "Drag coefficient times reference area, of the car as tested.", 0},
    [QUANTITY_CLA] = {"CLA", "downforce_area_m2", "m2", "+ is more downforce",
                      "Downforce coefficient times reference area, of the car as tested.", 0},
};

const struct quantity_row *quantity_row(enum quantity quantity)
{
    return &rows[quantity];
}

enum quantity quantity_from_symbol(const char *symbol)
{
    for (unsigned i = 0; i < QUANTITY_COUNT; i++)
        if (strcmp(rows[i].symbol, symbol) == 0)
            return (enum quantity)i;
    return QUANTITY_COUNT;
}
