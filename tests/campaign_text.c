/* campaign_text.c - the campaign texts and their problems, see campaign_folder.h. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/campaign_folder.h"
#include "tests/campaign_pieces.h"
#include "tests/check.h"

static const struct {
    enum campaign_kind kind;
    const char *text;
} pieces[] = {
    {ALL, "season: Test season\n"
          "count: 0.001\n"
          "point: one percent on the front axle\n"
          "car:\n"
          "  name: Curlew\n"
          "  model_scale: 0.5\n"
          "  reference_area: 0.40 m2\n"
          "  reference_area_source: drawing 7\n"
          "  wheelbase: 1450 mm\n"
          "  length: 2.35 m\n"
          "facilities:\n"
          "  saltmarsh:\n"
          "    test_section: closed\n"
          "    width: 3.2 m\n"
          "    height: 2.4 m\n"
          "    already_corrected: no\n"
          "    contains: body, wheels\n"
          "    yaw_positive: air from left\n"
          "    humidity: absent\n"},
    {SETTINGS,
     "    freestream: contraction\n"
     "    contraction_polynomial: [0.51549 Pa, 2.32312, 4.62743e-5 1/Pa]\n"
     "    pressure_gradient: -0.0012 1/m\n"
     "    corrections:\n"
     "      zero: linear in time\n"
     "      weight_tare: lookup\n"
     "      balance_follows: pitch, roll\n"
     "      tare_tolerance: {front_ride_height: 1.5 mm, yaw: 0.5 deg}\n"
     "      buoyancy: horizontal\n"
     "      blockage: image sum\n"
     "      blockage_shape: from length\n"
     "      to_target: local fit\n"
     "  road:\n"
     "    test_section: track\n"
     "    already_corrected: unknown\n"
     "    contains: body\n"
     "    yaw_positive: air from right\n"
     "    humidity: measured\n"
     "    freestream: given\n"
     "    corrections: {zero: none, weight_tare: none, balance_follows: nothing, buoyancy: none,\n"
     "                  blockage: none, to_target: none}\n"},
    {NIGHT, "    freestream: total and static\n"
            "    corrections: {zero: linear in time, weight_tare: none, buoyancy: none,\n"
            "                  balance_follows: yaw, blockage: none, to_target: none}\n"},
    {ALL, "balances:\n"
          "  floor:\n"
          "    file: balance/floor.csv\n"
          "    outputs: mV/V\n"
          "    origin: {x: 30 mm, y: 0 m, z: -0.35 m}\n"
          "    axes: {x: forward, y: left, z: up}\n"
          "    moments: left-handed\n"
          "    rated: {Fx: 1500 N, Mz: 800 N m}\n"
          "channel_maps:\n"
          "  forces:\n"},
    {SETTINGS, "    delimiter: semicolon\n"
               "    decimal: comma\n"
               "    unit_row: yes\n"
               "    rows: samples\n"
               "    rate: 100 Hz\n"
               "    missing: [\"\", NaN]\n"
               "    columns:\n"
               "      Time: {role: time}\n"
               "      Pt: {role: point}\n"
               "      yaw: {role: yaw, unit: deg, sign: -1}\n"
               "      CL: {role: downforce_coefficient, statistic: sd}\n"
               "    taps: {unit: Pa, measured: absolute}\n"},
    {NIGHT, "    delimiter: comma\n"
            "    decimal: point\n"
            "    unit_row: yes\n"
            "    rows: samples\n"
            "    missing: [\"\", \"NaN\"]\n"
            "    columns:\n"
            "      Time: {role: time}\n"
            "      Pt:   {role: point}\n"
            "      R1:   {role: balance_output_1}\n"
            "      R2:   {role: balance_output_2}\n"
            "      R3:   {role: balance_output_3}\n"
            "      R4:   {role: balance_output_4}\n"
            "      R5:   {role: balance_output_5}\n"
            "      R6:   {role: balance_output_6}\n"
            "      dp:   {role: total_minus_static}\n"
            "      pst:  {role: static_pressure}\n"
            "      T0:   {role: total_temperature}\n"
            "      yaw:  {role: yaw}\n"
            "  taps:\n"
            "    delimiter: semicolon\n"
            "    unit_row: no\n"
            "    rows: samples\n"
            "    columns:\n"
            "      Time:  {role: time}\n"
            "      Point: {role: point}\n"
            "    taps: {unit: Pa, measured: relative to static}\n"},
    {ALL, "attitudes:\n"},
    {SETTINGS, "  tolerance: {front_ride_height: 0.02 mm, yaw: 0.01 deg}\n"
               "  cap: {front_ride_height: 0.5 mm, yaw: 0.1 deg}\n"
               "  capture: {front_ride_height: 1.5 mm, yaw: 0.5 deg}\n"
               "  targets:\n"
               "    - {name: low, front_ride_height: 10 mm, yaw: 0 deg, weight: 0.25}\n"
               "    - {name: bend, front_ride_height: 12 mm, yaw: -3 deg, weight: 0.75}\n"},
    {NIGHT, "  tolerance: {yaw: 0.01 deg}\n"
            "  cap: {yaw: 0.1 deg}\n"
            "  capture: {yaw: 0.5 deg}\n"
            "  targets:\n"
            "    - {name: straight, yaw: 0 deg, weight: 1}\n"},
    {ALL, "metrics:\n"
          "  downforce: {quantity: CL, better: higher, worthwhile: 0.010}\n"
          "  balance: {worthwhile: 0.3 %, better: toward 45 %, quantity: balance}\n"
          "  drag area: {quantity: CDA, better: undeclared, worthwhile: 0.001 m2}\n"
          "main_measure: {metric: downforce, attitude: weighted}\n"},
    {SETTINGS, "map_attitude: low\n"},
    {NIGHT, "map_attitude: straight\n"
            "limits: {zero_drift: 0.5, q_unsteady: 0.2 %, confidence: 95 %}\n"},
};

void campaign_compose(enum campaign_kind kind, char text[CAMPAIGN_SIZE])
{
    size_t used = 0;
    for (size_t i = 0; i < sizeof pieces / sizeof pieces[0]; i++)
        if (pieces[i].kind == ALL || pieces[i].kind == kind)
            used += (size_t)snprintf(text + used, CAMPAIGN_SIZE - used, "%s", pieces[i].text);
    CHECK(used < CAMPAIGN_SIZE);
}

const char *good_campaign(void)
{
    static char text[CAMPAIGN_SIZE];
    if (text[0] == '\0')
        campaign_compose(SETTINGS, text);
    return text;
}

static void hear(void *context, const struct fault *problem)
{
    struct heard *heard = context;
    char line[1024];
    size_t used = strlen(heard->all);
    const char *place = strstr(problem->where, "campaign.yaml:");
    size_t at = place != NULL ? strtoul(place + 14, NULL, 10) : 0;
    heard->in_order = heard->in_order && at >= heard->last_line;
    heard->last_line = at;
    heard->n++;
    fault_line(problem, line, sizeof line);
    (void)snprintf(heard->all + used, sizeof heard->all - used, "%s\n", line);
}

enum status campaign_read_text(const char *text, struct campaign **campaign, struct heard *heard,
                               struct fault *fault)
{
    char folder[SCRATCH_PATH];
    *heard = (struct heard){.in_order = 1};
    *campaign = NULL;
    CHECK(scratch_make(folder));
    CHECK(scratch_write(folder, "campaign.yaml", text));
    enum status status = campaign_read(folder, campaign, hear, heard, fault);
    scratch_remove(folder);
    return status;
}

void campaign_place(const char *text, const char *mark, char *out, size_t size)
{
    const char *at = strstr(text, mark);
    size_t line = 1;
    size_t column = 1;
    for (const char *c = text; at != NULL && c < at; c++) {
        column = *c == '\n' ? 1 : column + 1;
        line += *c == '\n';
    }
    (void)snprintf(out, size, "campaign.yaml:%zu:%zu: ", at != NULL ? line : 0, column);
}
