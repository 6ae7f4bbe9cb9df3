/* refusal_folder.c - see refusal_folder.h. */
#include "tests/refusal_folder.h"

#include <stdio.h>
#include <string.h>

#include "tests/program.h"
#include "tests/scratch.h"

static const char campaign[] =
    "season: refusals\n"
    "count: 0.001\n"
    "point: one percent of the downforce on the front axle\n"
    "car: {name: A, model_scale: 1, reference_area: 1.5 m2, reference_area_source: drawing,\n"
    "  wheelbase: 3 m, length: 4.5 m, volume: 4 m3}\n"
    "facilities:\n"
    "  hall:\n"
    "    test_section: closed\n"
    "    width: 6 m\n"
    "    height: 5 m\n"
    "    already_corrected: no\n"
    "    contains: body, wheels\n"
    "    yaw_positive: air from right\n"
    "    humidity: absent\n"
    "    freestream: given\n"
    "    corrections:\n"
    "      zero: linear in time\n"
    "      weight_tare: none\n"
    "      balance_follows: pitch, yaw\n"
    "      buoyancy: none\n"
    "      blockage: quarter rule\n"
    "      to_target: local fit\n"
    "balances:\n"
    "  floor:\n"
    "    file: floor.csv\n"
    "    outputs: mV/V\n"
    "    origin: {x: 0 m, y: 0 m, z: 0 m}\n"
    "    axes: {x: aft, y: right, z: up}\n"
    "    moments: right-handed\n"
    "    rated: {Fx: 5000 N, Fy: 5000 N, Fz: 9000 N, Mx: 5000 N m, My: 5000 N m, Mz: 5000 N m}\n"
    "channel_maps:\n"
    "  points:\n"
    "    delimiter: comma\n"
    "    name_rows: 1\n"
    "    unit_row: yes\n"
    "    rows: points\n"
    "    columns:\n"
    "      pt: {role: point}\n"
    "      t: {role: time}\n"
    "      Fx: {role: force_x}\n"
    "      Fy: {role: force_y}\n"
    "      Fz: {role: force_z}\n"
    "      Mx: {role: moment_x}\n"
    "      My: {role: moment_y}\n"
    "      Mz: {role: moment_z}\n"
    "      q: {role: dynamic_pressure}\n"
    "      p: {role: static_pressure}\n"
    "      T: {role: static_temperature}\n"
    "      hF: {role: front_ride_height}\n"
    "      hR: {role: rear_ride_height}\n"
    "      yaw: {role: yaw}\n"
    "attitudes:\n"
    "  tolerance: {front_ride_height: 0.1 mm, rear_ride_height: 0.1 mm, yaw: 0.05 deg}\n"
    "  cap: {front_ride_height: 2 mm, rear_ride_height: 2 mm, yaw: 0.1 deg}\n"
    "  capture: {front_ride_height: 4 mm, rear_ride_height: 4 mm, yaw: 0.5 deg}\n"
    "  targets:\n"
    "    - {name: low, front_ride_height: 20 mm, rear_ride_height: 50 mm, yaw: 0 deg, weight: "
    "0.5}\n"
    "    - {name: high, front_ride_height: 30 mm, rear_ride_height: 60 mm, yaw: 0 deg, weight: "
    "0.5}\n"
    "metrics:\n"
    "  downforce: {quantity: CL, better: higher, worthwhile: 0.010}\n"
    "  drag: {quantity: CD, better: lower, worthwhile: 0.003}\n"
    "main_measure: {metric: downforce, attitude: weighted}\n"
    "limits: {zero_drift: 0.5, q_unsteady: 0.2 %, confidence: 95 %}\n";

static const char runs[] =
    "run,facility,entry,start,configuration,kind,balance,logs,zero,tare,mounting,note\n"
    "Z1,hall,E1,2026-03-01T08:00:00Z,,zero,floor,points=z1.csv,,,,\n"
    "B1,hall,E1,2026-03-01T09:00:00Z,base,wind_on,floor,points=b1.csv,,,,\n"
    "W1,hall,E1,2026-03-01T10:00:00Z,wing,wind_on,floor,points=w1.csv,,,,\n"
    "B2,hall,E1,2026-03-01T11:00:00Z,base,wind_on,floor,points=b2.csv,,,,\n"
    "W2,hall,E1,2026-03-01T12:00:00Z,wing,wind_on,floor,points=w2.csv,,,,\n"
    "B3,hall,E1,2026-03-01T13:00:00Z,base,wind_on,floor,points=b3.csv,,,,\n"
    "Z2,hall,E1,2026-03-01T14:00:00Z,,zero,floor,points=z2.csv,,,,\n";

static const char balance[] = "load,unit,R1,R2,R3,R4,R5,R6\n"
                              "Fx,N,100,0,0,0,0,0\nFy,N,0,100,0,0,0,0\nFz,N,0,0,100,0,0,0\n"
                              "Mx,N m,0,0,0,50,0,0\nMy,N m,0,0,0,0,50,0\nMz,N m,0,0,0,0,0,50\n";

#define HEAD                                   \
    "pt,t,Fx,Fy,Fz,Mx,My,Mz,q,p,T,hF,hR,yaw\n" \
    ",s,N,N,N,N m,N m,N m,Pa,Pa,degC,mm,mm,deg\n"

static int write_wind(const char *folder, const char *name, double lift)
{
    char text[1024];
    (void)snprintf(text, sizeof text,
                   HEAD "1,10,900,2,%.2f,1,150,1,1500,100000,20,20,50,0\n"
                        "2,20,880,2,%.2f,1,140,1,1500,100000,20,30,60,0\n",
                   -lift, -0.9 * lift);
    return scratch_write(folder, name, text);
}

static int write_zero(const char *folder, const char *name, double offset)
{
    char text[1024];
    (void)snprintf(text, sizeof text, HEAD "1,10,%.3f,0,%.3f,0,0,0,0,100000,20,20,50,0\n", offset,
                   offset);
    return scratch_write(folder, name, text);
}

int refusal_folder_make(char folder[64])
{
    return program_scratch(folder) && scratch_write(folder, "campaign.yaml", campaign) &&
           scratch_write(folder, "runs.csv", runs) &&
           scratch_write(folder, "configurations.csv",
                         "configuration,parent,change,note\nbase,,baseline,\nwing,base,wing,\n") &&
           scratch_write(folder, "floor.csv", balance) && write_zero(folder, "z1.csv", 0.1) &&
           write_zero(folder, "z2.csv", 0.11) && write_wind(folder, "b1.csv", 4500) &&
           write_wind(folder, "w1.csv", 4560.2) && write_wind(folder, "b2.csv", 4501.1) &&
           write_wind(folder, "w2.csv", 4561.9) && write_wind(folder, "b3.csv", 4499.4);
}
