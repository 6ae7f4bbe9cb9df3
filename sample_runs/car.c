/* car.c - smooth invented surfaces over front and rear ride height and yaw.
 *
 * u and v are centimetres of front and rear ride height from 12 mm and 30 mm. The front axle has its
 * downforce maximum a little below u = 0; the rear gains with rake. The magnitudes are those of a
 * floor car, the shapes are free inventions.                                                       */
#include "sample_runs/car.h"

#include <math.h>

#include "sample_runs/random.h"

static const double pi = 3.14159265358979323846;

double car_reference_area(void)
{
    return 0.40;
}

double car_wheelbase(void)
{
    return 1.45;
}

double car_volume(void)
{
    return 0.30;
}

double car_length(void)
{
    return 2.35;
}

double car_weight(void)
{
    return 834.0;
}

double car_pitch(const struct attitude *attitude)
{
    return atan((attitude->rear - attitude->front) / car_wheelbase());
}

struct car_noise car_noise(void)
{
    struct car_noise noise = {
        .refit_drag = 0.0010,
        .refit_total = 0.0024,
        .refit_shift = 0.0035,
        .sample_drag = 0.0040,
        .sample_axle = 0.0080,
        .sample_phi = 0.6,
    };
    return noise;
}

static void add_change(int configuration, double u, double v, struct car_coefficients *c)
{
    switch (configuration) {
    case 1: /* floor edge: downforce on both axles, and drag */
        c->front += 0.016 - 0.004 * u + 0.002 * v;
        c->rear += 0.022 - 0.006 * u + 0.003 * v;
        c->drag += 0.0070 + 0.0010 * v;
        break;
    case 2: /* mirror stay: hardly anything */
        c->front += 0.0002;
        c->rear += 0.0008 + 0.0003 * v;
        c->drag -= 0.0005;
        break;
    case 3: /* front flap: moves downforce forward, little in total */
        c->front += 0.0110 - 0.0030 * u;
        c->rear += -0.0050 + 0.0010 * u;
        c->drag += 0.0010;
        break;
    default:
        break;
    }
}

struct car_coefficients car_free_air(int configuration, const struct attitude *attitude)
{
    double u = (attitude->front - 0.012) / 0.010;
    double v = (attitude->rear - 0.030) / 0.010;
    double yaw = attitude->yaw;
    struct car_coefficients c = {0};

    c.front = 1.46 - 0.010 * u - 0.085 * u * u + 0.018 * u * u * u + 0.050 * v - 0.020 * u * v -
              0.9 * yaw * yaw;
    c.rear = 1.74 - 0.040 * u - 0.010 * u * u + 0.120 * v - 0.030 * v * v + 0.015 * u * v -
             1.2 * yaw * yaw;
    c.drag = 0.980 - 0.008 * u + 0.012 * u * u + 0.020 * v + 0.5 * yaw * yaw;
    c.side = -2.2 * yaw; /* air from the right pushes to the left */
    c.roll = -0.10 * c.side;
    c.yaw = 0.12 * yaw;
    add_change(configuration, u, v, &c);
    return c;
}

struct car_quantities car_read(double drag, double front, double rear)
{
    double total = front + rear;
    struct car_quantities q = {drag, total, front, rear, 100.0 * front / total, total / drag};
    return q;
}

struct car_coefficients car_drift(double share)
{
    double wave = sin(2.0 * pi * share);
    struct car_coefficients c = {0};

    c.front = 0.0040 * share + 0.0002 * wave;
    c.rear = 0.0030 * share - 0.0002 * wave;
    c.drag = -0.0025 * share + 0.0001 * wave;
    return c;
}

struct car_coefficients car_refit(uint64_t seed, int mounting)
{
    struct random_stream stream = random_open(seed, RANDOM_REFIT, mounting);
    struct car_noise noise = car_noise();
    struct car_coefficients c = {0};
    double total = noise.refit_total * random_normal(&stream);
    double shift = noise.refit_shift * random_normal(&stream);

    c.drag = noise.refit_drag * random_normal(&stream);
    c.side = 0.0010 * random_normal(&stream);
    c.roll = 0.0003 * random_normal(&stream);
    c.yaw = 0.0003 * random_normal(&stream);
    c.front = 0.5 * total + shift;
    c.rear = 0.5 * total - shift;
    return c;
}
