/* static_files.c - run sheet, taps and calibration as the tables of the generator have them. */
#include "sample_runs/static_files.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include "sample_runs/calibration.h"
#include "sample_runs/floor.h"
#include "sample_runs/logs.h"
#include "sample_runs/text_file.h"

int static_files_folder(const char *folder, const char *name)
{
    char path[1024];
    int length = snprintf(path, sizeof path, "%s/%s", folder, name);

    if (length < (int)sizeof path && (mkdir(path, 0777) == 0 || errno == EEXIST))
        return 1;
    (void)fprintf(stderr, "make_night: cannot make the folder %s/%s\n", folder, name);
    return 0;
}

/* One row of the run sheet; logs as its cell has them. */
static void write_run(struct text_file *text, const char *name, double start,
                      const char *configuration, const char *kind, const char *logs,
                      const char *note)
{
    char time[32];
    night_time_text(start, time, sizeof time);
    const char *cells[] = {name, ",saltmarsh,2026-02,", time, ",",    configuration, ",",
                           kind, ",underfloor,",        logs, ",,,,", note,          "\n"};

    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++)
        text_string(text, cells[i]);
}

static void write_zero(struct text_file *text, int run, int after)
{
    char log[64], cell[80], name[16];

    logs_name(log, sizeof log, run, after ? "zero_after" : "zero_before");
    (void)snprintf(cell, sizeof cell, "forces=%s", log);
    (void)snprintf(name, sizeof name, "Z%02d%c", run + 1, after ? 'B' : 'A');
    write_run(text, name, night_zero_start(run, after), "", "zero", cell, "");
}

static void write_wind_on(struct text_file *text, int run)
{
    struct night_run r = night_run(run);
    char forces[64], taps[64], cell[160];
    const char *note = "";

    if (run > 0 && night_run(run - 1).mounting == r.mounting)
        note = "measured again; car not touched";
    if (run == OFF_TARGET_RUN)
        note = "last attitude missed";
    logs_name(forces, sizeof forces, run, "forces");
    logs_name(taps, sizeof taps, run, "taps");
    (void)snprintf(cell, sizeof cell, "forces=%s;pressures=%s", forces, taps);
    write_run(text, r.name, r.start, night_configuration(r.configuration), "wind_on", cell, note);
}

static int write_runs(const char *folder)
{
    struct text_file text;

    if (!text_open(&text, folder, "runs.csv"))
        return 0;
    text_string(&text, "run,facility,entry,start,configuration,kind,balance,logs,zero,tare,"
                       "mounting,note\n");
    for (int run = TARE_RUN; run < RUNS; run++) {
        write_zero(&text, run, 0);
        if (run == TARE_RUN)
            write_run(&text, "T00", night_tare_start(), "", "weight_tare",
                      "forces=logs/t00_tare.csv", "wind-off sweep of all attitudes");
        else
            write_wind_on(&text, run);
        write_zero(&text, run, 1);
    }
    return text_close(&text);
}

static int write_taps(const char *folder)
{
    struct text_file text;
    char name[32];

    if (!text_open(&text, folder, "taps.csv"))
        return 0;
    text_string(&text, "tap,column,x,y,z,normal_x,normal_y,normal_z,area,surface,tube_length\n");
    text_string(&text, ",,m,m,m,1,1,1,m2,,m\n");
    for (int tap = 0; tap < TAPS; tap++) {
        struct floor_tap t = floor_tap(tap);
        const double cells[] = {t.x, t.y, t.z, t.normal_x, t.normal_y, t.normal_z, t.area};
        (void)snprintf(name, sizeof name, "T%03d,T%03d [Pa]", tap + 1, tap + 1);
        text_string(&text, name);
        for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++) {
            text_string(&text, ",");
            text_fixed(&text, cells[i], 5);
        }
        text_string(&text, ",floor,");
        text_fixed(&text, t.tube, 2);
        text_string(&text, "\n");
    }
    return text_close(&text);
}

static void write_terms(struct text_file *text)
{
    char name[32];

    text_string(text, "load,unit");
    for (int j = 1; j <= 6; j++) {
        (void)snprintf(name, sizeof name, ",R%d", j);
        text_string(text, name);
    }
    for (int j = 1; j <= 6; j++)
        for (int k = j; k <= 6; k++) {
            (void)snprintf(name, sizeof name, ",R%d*R%d", j, k);
            text_string(text, name);
        }
    text_string(text, "\n");
}

static int write_calibration(const char *folder)
{
    static const char *const loads[6] = {"Fx,N", "Fy,N", "Fz,N", "Mx,N m", "My,N m", "Mz,N m"};
    struct calibration calibration = calibration_make();
    struct text_file text;

    if (!text_open(&text, folder, "balance/underfloor.csv"))
        return 0;
    write_terms(&text);
    for (int i = 0; i < 6; i++) {
        text_string(&text, loads[i]);
        for (int j = 0; j < 6; j++) {
            text_string(&text, ",");
            text_fixed(&text, calibration.linear[i][j], 2);
        }
        for (int p = 0; p < CALIBRATION_PRODUCTS; p++) {
            text_string(&text, ",");
            text_fixed(&text, calibration.product[i][p], 2);
        }
        text_string(&text, "\n");
    }
    return text_close(&text);
}

int static_files_write(const char *folder)
{
    return static_files_folder(folder, "balance") && write_runs(folder) && write_taps(folder) &&
           write_calibration(folder);
}

static int copy(const char *from, const char *to, const char *name)
{
    struct text_file text;
    char path[1024], line[1024];
    int length = snprintf(path, sizeof path, "%s/%s", from, name);
    FILE *source = length < (int)sizeof path ? fopen(path, "r") : NULL;

    if (source == NULL) {
        (void)fprintf(stderr, "make_night: cannot read %s/%s: %s\n", from, name, strerror(errno));
        return 0;
    }
    if (!text_open(&text, to, name)) {
        (void)fclose(source);
        return 0;
    }
    while (fgets(line, sizeof line, source) != NULL)
        text_string(&text, line);
    int good = !ferror(source);
    good = fclose(source) == 0 && good;
    return text_close(&text) && good;
}

int static_files_copy(const char *from, const char *to)
{
    static const char *const names[] = {"campaign.yaml", "configurations.csv", "runs.csv",
                                        "taps.csv", "balance/underfloor.csv"};

    if (!static_files_folder(to, "balance"))
        return 0;
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (!copy(from, to, names[i]))
            return 0;
    return 1;
}
