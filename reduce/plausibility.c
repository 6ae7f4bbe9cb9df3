/* plausibility.c - see plausibility.h. To add a gate: one function, one row, PLAUSIBILITY_GATES. */
#include "reduce/plausibility.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reduce/physics/constants.h"

/* Value of one gate at one point; NAN where it cannot be asked. */
typedef double gate_value(const struct run_work *work, const struct reduced_point *made);

static double scale_of(const struct run_work *work)
{
    return work->night->campaign->car.model_scale;
}

static double static_pressure(const struct run_work *work, const struct reduced_point *made)
{
    (void)work;
    return made->result.freestream.static_pressure;
}

static double static_temperature(const struct run_work *work, const struct reduced_point *made)
{
    (void)work;
    return made->result.freestream.static_temperature;
}

/* Of air: a density that the facility declares comes from no channel of the log. */
static double density(const struct run_work *work, const struct reduced_point *made)
{
    return work->recipe.tunnel.density > 0 ? (double)NAN : made->result.freestream.density;
}

static double drag(const struct run_work *work, const struct reduced_point *made)
{
    (void)work;
    return made->result.corrected[COEFFICIENT_CD];
}

static double downforce(const struct run_work *work, const struct reduced_point *made)
{
    (void)work;
    return made->result.corrected[COEFFICIENT_CL];
}

static double full_drag_area(const struct run_work *work, const struct reduced_point *made)
{
    return made->result.derived.drag_area / (scale_of(work) * scale_of(work));
}

static double full_downforce_area(const struct run_work *work, const struct reduced_point *made)
{
    return made->result.derived.downforce_area / (scale_of(work) * scale_of(work));
}

static double balance(const struct run_work *work, const struct reduced_point *made)
{
    (void)work;
    return made->balance_undefined ? (double)NAN : made->result.derived.balance;
}

static double lift_to_drag(const struct run_work *work, const struct reduced_point *made)
{
    (void)work;
    return made->result.derived.lift_to_drag;
}

/* Only where the car stands straight: within a tenth of a degree. */
static double straight_side_force(const struct run_work *work, const struct reduced_point *made)
{
    (void)work;
    int is_straight = fabs(made->attitude[ATTITUDE_YAW]) < 0.1 * PI / 180;
    return is_straight ? made->result.corrected[COEFFICIENT_CY] : (double)NAN;
}

static double front_height(const struct run_work *work, const struct reduced_point *made)
{
    return made->attitude[ATTITUDE_FRONT_RIDE_HEIGHT] / scale_of(work);
}

static double rear_height(const struct run_work *work, const struct reduced_point *made)
{
    return made->attitude[ATTITUDE_REAR_RIDE_HEIGHT] / scale_of(work);
}

static const struct gate {
    const char *subject; /* as printed */
    const char *unit;
    double low, high;
    int at_every_point; /* 1: only when no point at all is inside */
    gate_value *value;
    const char *question;
} gates[PLAUSIBILITY_GATES] = {
    {"static pressure", "Pa", 80e3, 108e3, 0, static_pressure,
     "is it a gauge pressure, or in another unit?"},
    {"static temperature", "K", 250, 330, 0, static_temperature,
     "is it in degC or degF instead of the declared unit?"},
    {"density", "kg/m3", 0.90, 1.40, 0, density, "which of pressure and temperature is wrong?"},
    {"CD", "1", 0.1, 2.5, 0, drag, "are area, units and the sign of x right?"},
    {"CL", "1", 0, 20, 1, downforce,
     "is lift positive in the log? If so the channel needs sign: -1, or the balance z: down"},
    {"CDA at full size", "m2", 0.2, 3, 0, full_drag_area, "are area, scale and units right?"},
    {"CLA at full size", "m2", -2, 10, 0, full_downforce_area, "are sign, area and scale right?"},
    {"balance", "%", 0, 100, 0, balance,
     "are the axles swapped, or is the moment about another point?"},
    {"L/D", "1", -2, 7, 0, lift_to_drag,
     "what do drag and lift contain, and are their signs right?"},
    {"CY without yaw", "1", -0.05, 0.05, 0, straight_side_force,
     "is yaw offset, or does the balance foul?"},
    {"front ride height at full size", "m", 0, 0.3, 0, front_height,
     "are the sensor's sign, unit and zero right?"},
    {"rear ride height at full size", "m", 0, 0.3, 0, rear_height,
     "are the sensor's sign, unit and zero right?"},
};

static double distance_outside(const struct gate *gate, double value)
{
    return fmax(gate->low - value, value - gate->high);
}

void plausibility_add(struct plausibility_watch *watch, const struct run_work *work,
                      const struct reduced_point *made)
{
    watch->points++;
    for (size_t i = 0; i < PLAUSIBILITY_GATES; i++) {
        double value = gates[i].value(work, made);
        if (!isfinite(value) || distance_outside(&gates[i], value) <= 0)
            continue;
        if (watch->outside[i] == 0 ||
            distance_outside(&gates[i], value) > distance_outside(&gates[i], watch->worst[i]))
            watch->worst[i] = value;
        watch->outside[i]++;
    }
}

int plausibility_check(const struct plausibility_watch *watch, size_t gate,
                       const struct run_work *work, struct flag_note *note)
{
    const struct gate *row = &gates[gate];
    if (watch->outside[gate] == 0 || (row->at_every_point && watch->outside[gate] < watch->points))
        return 0;
    *note = flag_note_make(FLAG_IMPLAUSIBLE, work->run->run, "", row->subject);
    note->value = watch->worst[gate];
    note->limit = watch->worst[gate] < row->low ? row->low : row->high;
    note->unit = row->unit;
    int is_plain = strcmp(row->unit, "1") == 0;
    (void)snprintf(note->detail, sizeof note->detail,
                   "%s is %.4g%s%s at the worst of %zu of %zu points, expected %g to %g: %s",
                   row->subject, note->value, is_plain ? "" : " ", is_plain ? "" : row->unit,
                   watch->outside[gate], watch->points, row->low, row->high, row->question);
    return 1;
}
