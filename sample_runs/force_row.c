/* force_row.c - see the channel map "forces" in night/campaign.yaml. */
#include "sample_runs/force_row.h"

static const double degrees = 57.29577951308232;

void force_row_header(struct text_file *text)
{
    text_string(text, "Time,Pt,R1,R2,R3,R4,R5,R6,p0-p,pst,T0,RH,hF,hR,yaw,Vbelt\n");
    text_string(text, "s,,mV/V,mV/V,mV/V,mV/V,mV/V,mV/V,Pa,hPa,degC,%,mm,mm,deg,m/s\n");
}

static void cell(struct text_file *text, double value, int decimals)
{
    text_string(text, ",");
    text_fixed(text, value, decimals);
}

void force_row_write(struct text_file *text, const struct force_row *row)
{
    text_fixed(text, row->time, 2);
    cell(text, row->point + 1, 0);
    for (int i = 0; i < 6; i++)
        cell(text, row->output[i], 6);
    cell(text, row->total_minus_static, 2);
    cell(text, row->air.static_pressure * 1e-2, 3);
    if (row->no_temperature)
        text_string(text, ",NaN");
    else
        cell(text, row->air.total_temperature - 273.15, 3);
    cell(text, row->air.humidity * 100.0, 2);
    cell(text, row->attitude.front * 1e3, 4);
    cell(text, row->attitude.rear * 1e3, 4);
    cell(text, row->attitude.yaw * degrees, 4);
    cell(text, row->belt_speed, 3);
    text_string(text, "\n");
}
