/* test_boundary_walls.c - a night with wall taps in a folder: from logs to the walls' own correction, and to
 * what explain says of it.
 *
 * The walls' pressures are made by the modes of the duct (duct_modes.h) from sources that are invented. */
#include <CUnit/CUnit.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/check.h"
#include "tests/duct_modes.h"
#include "tests/program.h"
#include "tests/scratch.h"

enum { WALLS = 14, TEXT = 16384 };

static const double station[] = {-1.4, 0.4, 1.9}, strength[] = {0.31, -0.06, -0.14};
static const double axis = 0.45, width = 6.0, height = 5.0, q = 1500.0;

static const char campaign[] =
    "season: walls\ncount: 0.001\npoint: one percent of the downforce on the front axle\n"
    "car: {name: A, model_scale: 1, reference_area: 1.5 m2, reference_area_source: drawing,\n"
    "  wheelbase: 3 m, length: 4.6 m}\n"
    "facilities:\n"
    "  hall:\n"
    "    test_section: closed\n    width: 6 m\n    height: 5 m\n    already_corrected: no\n"
    "    contains: body, wheels\n    yaw_positive: air from right\n    humidity: absent\n"
    "    freestream: given\n"
    "    corrections:\n"
    "      zero: none\n      weight_tare: none\n      balance_follows: yaw\n      buoyancy: none\n"
    "      blockage: wall signature\n"
    "      wall_signature: {surface: walls, empty_run: E1, axis_height: 0.45 m,\n"
    "                       stations: [-1.4 m, 0.4 m, 1.9 m]}\n"
    "      to_target: none\n"
    "balances: {}\n"
    "channel_maps:\n"
    "  points:\n"
    "    delimiter: comma\n    unit_row: yes\n    rows: points\n"
    "    columns:\n"
    "      pt: {role: point}\n      t: {role: time}\n      Fx: {role: force_x}\n"
    "      Fy: {role: force_y}\n      Fz: {role: force_z}\n      Mx: {role: moment_x}\n"
    "      My: {role: moment_y}\n      Mz: {role: moment_z}\n      q: {role: dynamic_pressure}\n"
    "      p: {role: static_pressure}\n      T: {role: static_temperature}\n"
    "      yaw: {role: yaw}\n"
    "    taps: {unit: Pa, measured: relative to static}\n"
    "attitudes:\n  tolerance: {yaw: 0.05 deg}\n  cap: {yaw: 0.1 deg}\n  capture: {yaw: 0.5 deg}\n"
    "  targets:\n    - {name: straight, yaw: 0 deg, weight: 1}\n"
    "metrics:\n  drag: {quantity: CD, better: lower, worthwhile: 0.003}\n"
    "main_measure: {metric: drag, attitude: straight}\n";

static const char runs[] =
    "run,facility,entry,start,configuration,kind,balance,logs,zero,tare,mounting,note\n"
    "E1,hall,N1,2026-03-01T08:00:00Z,empty,wind_on,,points=e1.csv,,,,\n"
    "R1,hall,N1,2026-03-01T09:00:00Z,base,wind_on,,points=r1.csv,,,,\n";

static double place_of(int i)
{
    return -5.1 + 0.77 * i;
}

static double side_of(int i)
{
    return i % 2 == 0 ? 3.0 : -3.0;
}

/* 1 - Cp = (1 + u)^2 on top of the empty section's own. */
static double pressure_of(int i, int with_car)
{
    const double at[] = {place_of(i), side_of(i), 0.6};
    double u = 0.0, empty = 0.002 - 0.0007 * place_of(i);
    for (int j = 0; with_car && j < 3; j++) {
        const double source[] = {station[j], 0.0, axis};
        u += strength[j] * duct_modes_speed(width, height, source, at);
    }
    return (empty + 1 - (1 + u) * (1 + u)) * q;
}

static int write_log(const char *folder, const char *name, double drag, int with_car)
{
    char text[TEXT];
    size_t used = (size_t)snprintf(text, sizeof text, "pt,t,Fx,Fy,Fz,Mx,My,Mz,q,p,T,yaw");
    for (int i = 0; i < WALLS; i++)
        used += (size_t)snprintf(text + used, sizeof text - used, ",W%d", i + 1);
    used +=
        (size_t)snprintf(text + used, sizeof text - used, "\n,s,N,N,N,N m,N m,N m,Pa,Pa,degC,deg");
    for (int i = 0; i < WALLS; i++)
        used += (size_t)snprintf(text + used, sizeof text - used, ",Pa");
    used += (size_t)snprintf(text + used, sizeof text - used,
                             "\n1,10,%.10g,2,-4500,1,150,1,1500,100000,20,0", drag);
    for (int i = 0; i < WALLS; i++)
        used +=
            (size_t)snprintf(text + used, sizeof text - used, ",%.15g", pressure_of(i, with_car));
    (void)snprintf(text + used, sizeof text - used, "\n");
    return scratch_write(folder, name, text);
}

static int write_taps(const char *folder)
{
    char text[TEXT];
    size_t used =
        (size_t)snprintf(text, sizeof text,
                         "tap,column,x,y,z,normal_x,normal_y,normal_z,area,surface,tube_length\n"
                         ",,m,m,m,1,1,1,m2,,m\n");
    for (int i = 0; i < WALLS; i++)
        used += (size_t)snprintf(text + used, sizeof text - used,
                                 "W%d,W%d,%.4f,%.1f,0.6,0,%d,0,,walls,\n", i + 1, i + 1,
                                 place_of(i), side_of(i), i % 2 == 0 ? -1 : 1);
    return scratch_write(folder, "taps.csv", text);
}

static int make_folder(char folder[64])
{
    return program_scratch(folder) && scratch_write(folder, "campaign.yaml", campaign) &&
           scratch_write(folder, "runs.csv", runs) &&
           scratch_write(folder, "configurations.csv",
                         "configuration,parent,change,note\nbase,,,\nempty,,,\n") &&
           write_taps(folder) && write_log(folder, "e1.csv", 10, 0) &&
           write_log(folder, "r1.csv", 900, 1);
}

/* The duct's speed at the car's middle less that of free air over the ground. */
static double increment(void)
{
    const double pi = 3.14159265358979323846;
    double sum = 0.0;
    for (int j = 0; j < 3; j++) {
        const double source[] = {station[j], 0.0, axis}, at[] = {0.0, 0.0, axis};
        double x = -station[j];
        sum +=
            strength[j] * (duct_modes_speed(width, height, source, at) -
                           x / (4 * pi) * (pow(fabs(x), -3) + pow(x * x + 4 * axis * axis, -1.5)));
    }
    return sum;
}

/* Taps are written with 15 digits: the walls' speeds, of some 0.002, are known to 1e-13. */
static void walls_correct_the_car(void)
{
    char folder[64], out[PROGRAM_OUTPUT];
    CHECK(make_folder(folder));
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), folder) == 0);
    double eps = increment();
    CHECK(eps > 0.001);
    CHECK(program_shell(out,
                        "sqlite3 %s/season.sqlite \"SELECT printf('%%.17g %%.17g', q_ratio, "
                        "drag_coefficient) FROM point_coefficient WHERE run = 'R1'\"",
                        folder) == 0);
    char *rest = out;
    double ratio = strtod(rest, &rest), drag = strtod(rest, &rest);
    CHECK_RELATIVE(ratio, (1 + eps) * (1 + eps), 1e-9, "modes of the duct less free air");
    CHECK_RELATIVE(drag, 900 / (1500 * 1.5) / ((1 + eps) * (1 + eps)), 1e-9, "worked by hand");
    CHECK(program_shell(out,
                        "sqlite3 %s/season.sqlite \"SELECT printf('%%.17g', q_ratio) FROM "
                        "point_coefficient WHERE run = 'E1'\"",
                        folder) == 0);
    CHECK_NEAR(strtod(out, NULL), 1, 1e-12, "the empty section needs no correction");
    CHECK(program_shell(out, "%s -C %s explain R1/1 CD", program_lapwing(), folder) == 0);
    CHECK_CONTAINS(out, "blockage: divided by q_c/q of the family 'wall signature'");
    CHECK_CONTAINS(out, "known to hold for: S/C to 0.10; residual below a fifth");
    CHECK_CONTAINS(out, "eps_nose");
    CHECK_CONTAINS(out, "residual");
    CHECK(program_shell(out,
                        "grep -c 'Known to hold for: S/C to 0.10; residual' %s/report/night.html",
                        folder) == 0);
    program_remove(folder);
}

static void a_tap_less_in_the_empty_run_refuses(void)
{
    char folder[64], out[PROGRAM_OUTPUT];
    CHECK(make_folder(folder));
    CHECK(program_shell(out, "cd %s && sed -i 's/,W3,/,X3,/' e1.csv", folder) == 0);
    CHECK(program_shell(out, "%s -C %s batch", program_lapwing(), folder) == 1);
    CHECK(program_shell(out,
                        "sqlite3 %s/season.sqlite \"SELECT detail FROM flag WHERE run = 'R1' AND "
                        "rule = 'run-quarantined'\"",
                        folder) == 0);
    CHECK_CONTAINS(out, "run");
    program_remove(folder);
}

CU_TestInfo boundary_walls_tests[] = {
    {"the walls' pressures correct the car", walls_correct_the_car},
    {"an empty run that lacks a tap refuses", a_tap_less_in_the_empty_run_refuses},
    CU_TEST_INFO_NULL};
