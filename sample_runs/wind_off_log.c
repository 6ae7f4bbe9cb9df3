/* wind_off_log.c - zeros at the reference attitude, and the sweep of the weight tare. */
#include <stdio.h>

#include "sample_runs/force_row.h"
#include "sample_runs/logs.h"
#include "sample_runs/tunnel.h"

/* rows of still air at one attitude, beginning at start seconds into a run that began at run_start. */
struct still {
    int run; /* whose pair of zeros the balance drifts between */
    int point;
    struct attitude attitude;
    double run_start, start;
    int rows;
};

static void write_still(const struct model *model, struct text_file *text,
                        struct random_stream *stream, const struct still *still)
{
    double weight[6], output[6], zero[6];

    tunnel_weight_change(&still->attitude, weight);
    calibration_outputs(&model->calibration, weight, output);
    for (int i = 0; i < still->rows; i++) {
        struct force_row row = {.point = still->point, .attitude = still->attitude};
        row.time = still->start + (double)i / FORCE_RATE;
        row.air = model_air(still->run_start + row.time);
        model_zero(model, still->run, still->run_start + row.time, zero);
        for (int j = 0; j < 6; j++)
            row.output[j] = output[j] + zero[j] + 2e-5 * random_normal(stream);
        row.total_minus_static = 0.1 + 0.2 * random_normal(stream);
        row.attitude.front += 1e-5 * random_normal(stream);
        row.attitude.rear += 1e-5 * random_normal(stream);
        force_row_write(text, &row);
    }
}

static int write_zero(const struct model *model, const char *folder, int run, int after)
{
    int index = 2 * (run + 1) + after;
    struct random_stream stream = random_open(model->seed, RANDOM_WIND_OFF_SAMPLES, index);
    struct still still = {.run = run,
                          .attitude = night_target_attitude(REFERENCE_TARGET),
                          .run_start = night_zero_start(run, after),
                          .rows = ZERO_ROWS};
    struct text_file text;
    char name[64];

    logs_name(name, sizeof name, run, after ? "zero_after" : "zero_before");
    if (!text_open(&text, folder, name))
        return 0;
    force_row_header(&text);
    write_still(model, &text, &stream, &still);
    return text_close(&text);
}

static int write_tare(const struct model *model, const char *folder)
{
    struct random_stream stream = random_open(model->seed, RANDOM_WIND_OFF_SAMPLES, 1000);
    struct text_file text;
    char name[64];

    logs_name(name, sizeof name, TARE_RUN, "tare");
    if (!text_open(&text, folder, name))
        return 0;
    force_row_header(&text);
    for (int k = 0; k < TARGETS; k++) {
        struct still still = {TARE_RUN,
                              k,
                              model_attained(model, TARE_RUN, k),
                              night_tare_start(),
                              night_point_start(k),
                              ZERO_ROWS};
        write_still(model, &text, &stream, &still);
    }
    return text_close(&text);
}

int logs_write_wind_off(const struct model *model, const char *folder)
{
    for (int run = TARE_RUN; run < RUNS; run++)
        for (int after = 0; after < 2; after++)
            if (!write_zero(model, folder, run, after))
                return 0;
    return write_tare(model, folder);
}
