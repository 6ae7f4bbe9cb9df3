/* tunnel.c - walls, air, loads and weight. */
#include "sample_runs/tunnel.h"

#include <math.h>
#include <stddef.h>

static const double pi = 3.14159265358979323846;
static const double section_width = 3.20, section_height = 2.40; /* m */
static const double pressure_gradient = -0.0012;                 /* dCp/dx, 1/m */
static const double balance_point[3] = {0.03, 0.0, -0.35};       /* m, car axes */
static const double centre_of_gravity[3] = {0.02, 0.0, 0.10};    /* m, car axes */

/* Sum over all images (m, n) but the car itself of ((mB)^2 + (nH)^2)^(-3/2), H the height of the
 * section doubled by its floor. Beyond the largest ring the sum is replaced by an integral. */
static double image_sum(double width, double height)
{
    enum { RINGS = 60 };
    double sum = 0.0;

    for (int m = -RINGS; m <= RINGS; m++)
        for (int n = -RINGS; n <= RINGS; n++) {
            double r2 = (m * width) * (m * width) + (n * height) * (n * height);
            if (m != 0 || n != 0)
                sum += 1.0 / (r2 * sqrt(r2));
        }
    double a = (RINGS + 0.5) * width, b = (RINGS + 0.5) * height;
    return sum + 4.0 * sqrt(a * a + b * b) / (a * b) / (width * height);
}

/* Point doublet of the car and its floor image in the doubled section (Lock; Glauert, R&M 1566,
 * 1933; Herriot, NACA Report 995, 1950): u/U = (1 + k1) V_duplex sum / (4 pi), k1 from Lamb's
 * inertia coefficient of the spheroid as long as the car, with the frontal area of car and image. */
double tunnel_solid_blockage(void)
{
    double diameter = sqrt(4.0 * 2.0 * car_reference_area() / pi); /* car and image */
    double slenderness = car_length() / diameter;
    double e2 = 1.0 - 1.0 / (slenderness * slenderness), e = sqrt(e2);
    double a0 = 2.0 * (1.0 - e2) / (e2 * e) * (0.5 * log((1.0 + e) / (1.0 - e)) - e);
    double k1 = a0 / (2.0 - a0);

    return (1.0 + k1) * 2.0 * car_volume() * image_sum(section_width, 2.0 * section_height) /
           (4.0 * pi);
}

struct car_coefficients tunnel_confined(const struct car_coefficients *free_air, double solid,
                                        double *q_ratio)
{
    double section = section_width * section_height;
    double factor = 1.0, drag = free_air->drag;

    /* The wake's source is as strong as the drag measured, so the factor is found by repetition. */
    for (int i = 0; i < 20; i++) {
        double wake = drag * car_reference_area() / (4.0 * section);
        factor = (1.0 + solid + wake) * (1.0 + solid + wake);
        drag = factor * free_air->drag;
    }
    struct car_coefficients c = {factor * free_air->drag,  factor * free_air->side,
                                 factor * free_air->front, factor * free_air->rear,
                                 factor * free_air->roll,  factor * free_air->yaw};
    c.drag -= pressure_gradient * car_volume() / car_reference_area();
    *q_ratio = factor;
    return c;
}

double tunnel_confined_pressure(double cp, double q_ratio, double stagnation_cp)
{
    return stagnation_cp - (stagnation_cp - cp) * q_ratio;
}

double tunnel_mach(double dynamic_pressure, double static_pressure)
{
    return sqrt(dynamic_pressure / (0.7 * static_pressure));
}

double tunnel_total_minus_static(double mach, double static_pressure)
{
    double x = 1.0 + 0.2 * mach * mach;
    return static_pressure * (x * x * x * sqrt(x) - 1.0);
}

double tunnel_speed(double mach, double total_temperature, double static_pressure, double humidity,
                    double dynamic_pressure)
{
    double temperature = total_temperature / (1.0 + 0.2 * mach * mach);
    double celsius = temperature - 273.15;
    double vapour = humidity * 611.2 * exp(17.62 * celsius / (243.12 + celsius));
    double density = (static_pressure - 0.378 * vapour) / (287.05 * temperature);
    return sqrt(2.0 * dynamic_pressure / density);
}

void tunnel_loads(const struct car_coefficients *confined, double dynamic_pressure, double load[6])
{
    double force = dynamic_pressure * car_reference_area();
    double moment = force * car_wheelbase();

    load[0] = confined->drag * force;
    load[1] = confined->side * force;
    load[2] = -(confined->front + confined->rear) * force;
    load[3] = confined->roll * moment;
    load[4] = 0.5 * (confined->rear - confined->front) * moment; /* CPM = (CLR - CLF)/2 */
    load[5] = confined->yaw * moment;
}

/* moment += arm x force */
static void add_moment(const double arm[3], const double force[3], double moment[3])
{
    moment[0] += arm[1] * force[2] - arm[2] * force[1];
    moment[1] += arm[2] * force[0] - arm[0] * force[2];
    moment[2] += arm[0] * force[1] - arm[1] * force[0];
}

void tunnel_to_balance(const double at_origin[6], double at_balance[6])
{
    double arm[3]; /* from the balance to the origin */

    for (int i = 0; i < 3; i++) {
        arm[i] = -balance_point[i];
        at_balance[i] = at_origin[i];
        at_balance[3 + i] = at_origin[3 + i];
    }
    add_moment(arm, at_origin, at_balance + 3);
}

void tunnel_weight_change(const struct attitude *attitude, double load[6])
{
    struct attitude reference = night_target_attitude(REFERENCE_TARGET);
    double pitch = car_pitch(attitude), pitch_at_zero = car_pitch(&reference);
    double arm[3];

    /* Nose down by pitch, gravity is (-sin, 0, -cos) in axes that tilt with the car. */
    for (int i = 0; i < 6; i++)
        load[i] = 0.0;
    load[0] = -car_weight() * (sin(pitch) - sin(pitch_at_zero));
    load[2] = -car_weight() * (cos(pitch) - cos(pitch_at_zero));
    for (int i = 0; i < 3; i++)
        arm[i] = centre_of_gravity[i] - balance_point[i];
    add_moment(arm, load, load + 3);
}
