/* campaign_car.c - the sections car and limits of campaign.yaml. */
#include "schema/campaign_reader.h"

static const struct binding car_bindings[] = {
    {.key = "name", .kind = BIND_TEXT, .required = 1, .offset = offsetof(struct car, name)},
    {.key = "model_scale",
     .kind = BIND_QUANTITY,
     .required = 1,
     .offset = offsetof(struct car, model_scale),
     .unit = "1",
     .range = RANGE_POSITIVE},
    {.key = "reference_area",
     .kind = BIND_QUANTITY,
     .required = 1,
     .offset = offsetof(struct car, reference_area),
     .unit = "m2",
     .range = RANGE_POSITIVE},
    {.key = "reference_area_source",
     .kind = BIND_TEXT,
     .required = 1,
     .offset = offsetof(struct car, reference_area_source)},
    {.key = "wheelbase",
     .kind = BIND_QUANTITY,
     .required = 1,
     .offset = offsetof(struct car, wheelbase),
     .unit = "m",
     .range = RANGE_POSITIVE},
    {.key = "length",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct car, length),
     .unit = "m",
     .range = RANGE_POSITIVE},
    {.key = "track_front",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct car, track_front),
     .unit = "m",
     .range = RANGE_POSITIVE},
    {.key = "track_rear",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct car, track_rear),
     .unit = "m",
     .range = RANGE_POSITIVE},
    {.key = "volume",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct car, volume),
     .unit = "m3",
     .range = RANGE_POSITIVE},
};

const struct binding_table campaign_car_table = {car_bindings,
                                                 sizeof car_bindings / sizeof car_bindings[0]};

void campaign_read_car(struct campaign_reader *reader, int node, void *campaign)
{
    struct car *car = &((struct campaign *)campaign)->car;
    campaign_bind(reader, node, "car", car_bindings, sizeof car_bindings / sizeof car_bindings[0],
                  car);
    if (car->model_scale > 1.0)
        campaign_trouble(reader, yaml_tree_find(reader->tree, node, "model_scale"),
                         "car: model_scale is %.6g; it must be at most 1 (1 is full size, 0.5 a "
                         "half-scale model)",
                         car->model_scale);
    if ((car->track_front > 0) != (car->track_rear > 0))
        campaign_trouble(reader, node,
                         "car: track_%s is given without track_%s; wheels have two: give both, or "
                         "none",
                         car->track_front > 0 ? "front" : "rear",
                         car->track_front > 0 ? "rear" : "front");
}

static const struct binding limit_bindings[] = {
    {.key = "zero_drift",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct limits, zero_drift),
     .unit = "1",
     .range = RANGE_POSITIVE},
    {.key = "q_unsteady",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct limits, q_unsteady),
     .unit = "1",
     .range = RANGE_POSITIVE},
    {.key = "belt_speed",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct limits, belt_speed),
     .unit = "1",
     .range = RANGE_POSITIVE},
    {.key = "trend",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct limits, trend),
     .unit = "1",
     .range = RANGE_POSITIVE},
    {.key = "confidence",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct limits, confidence),
     .unit = "1",
     .range = RANGE_SHARE},
    {.key = "height_residual",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct limits, height_residual),
     .unit = "m",
     .range = RANGE_POSITIVE},
    {.key = "picture_megabytes",
     .kind = BIND_QUANTITY,
     .offset = offsetof(struct limits, picture_megabytes),
     .unit = "1",
     .range = RANGE_POSITIVE},
};

const struct binding_table campaign_limits_table = {limit_bindings, sizeof limit_bindings /
                                                                        sizeof limit_bindings[0]};

void campaign_read_limits(struct campaign_reader *reader, int node, void *campaign)
{
    campaign_bind(reader, node, "limits", limit_bindings,
                  sizeof limit_bindings / sizeof limit_bindings[0],
                  &((struct campaign *)campaign)->limits);
}
