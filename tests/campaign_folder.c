/* campaign_folder.c - see campaign_folder.h. Every number here is invented. */
#include "tests/campaign_folder.h"

#include <CUnit/CUnit.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>

#include "tests/campaign_pieces.h"
#include "tests/check.h"

const char ingest_folder_runs[] =
    "run,facility,entry,start,configuration,kind,balance,logs,zero,tare,mounting,note\n"
    "Z1,saltmarsh,E1,2026-02-11T19:50:00+01:00,,zero,floor,forces=logs/z1.csv,,,,\n"
    "R1,saltmarsh,E1,2026-02-11T20:00:00+01:00,base,wind_on,floor,"
    "forces=logs/r1.csv;taps=logs/r1t.csv,Z1,,,\"first, of the night\"\n"
    "R2,saltmarsh,E1,2026-02-11T20:30:00+01:00,edge,wind_on,floor,forces=logs/r2.csv,,,,\n";

static const char configurations[] = "configuration,parent,change,note\n"
                                     "base,,baseline,\n"
                                     "edge,base,sealed edge,\n";

static const char taps[] = "tap,column,x,y,z,normal_x,normal_y,normal_z,area,surface,tube_length\n"
                           ",,mm,mm,mm,1,1,1,mm2,,m\n"
                           "T1,tap 1,100,0,20,0,0,-1,50,floor,1.5\n"
                           "T2,tap 2,300,0,20,0,0,-1,,floor,\n";

static const char balance[] = "load,unit,R1,R2,R3,R4,R5,R6\n"
                              "Fx,N,100,0,0,0,0,0\n"
                              "Fy,N,0,100,0,0,0,0\n"
                              "Fz,N,0,0,100,0,0,0\n"
                              "Mx,N m,0,0,0,50,0,0\n"
                              "My,N m,0,0,0,0,50,0\n"
                              "Mz,N m,0,0,0,0,0,50\n";

char *ingest_folder_forces(int points, int rows, double wind)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    unsigned state = 12345;
    if (out == NULL)
        return NULL;
    (void)fprintf(out, "Time,Pt,R1,R2,R3,R4,R5,R6,dp,pst,T0,yaw\n"
                       "s,,mV/V,mV/V,mV/V,mV/V,mV/V,mV/V,Pa,hPa,degC,deg\n");
    for (int i = 0; i < points * rows; i++) {
        (void)fprintf(out, "%.2f,P%d", 0.02 * (i + 1), i / rows + 1);
        for (int k = 0; k < 6; k++) {
            state = state * 1103515245U + 12345U;
            (void)fprintf(out, ",%.5f", wind * (k + 1) * 0.1 + 1e-4 * (state >> 16 & 255U));
        }
        (void)fprintf(out, ",%.2f,1013.25,15.0,%d\n", wind * 1000 + 0.01 * (state >> 20 & 127U),
                      i / rows % 3);
    }
    return fclose(out) == 0 ? text : NULL;
}

char *ingest_folder_taps(int points, int rows)
{
    char *text = NULL;
    size_t size = 0;
    FILE *out = open_memstream(&text, &size);
    if (out == NULL)
        return NULL;
    (void)fprintf(out, "Time [s];Point;tap 1;tap 2;spare\n");
    for (int i = 0; i < points * rows; i++)
        (void)fprintf(out, "%.2f;P%d;%.2f;%.2f;x\n", 0.05 * (i + 1), i / rows + 1,
                      -500 + 0.1 * (i % 7), -900 + 0.1 * (i % 5));
    return fclose(out) == 0 ? text : NULL;
}

static int write_log(const char *folder, const char *name, char *text)
{
    int done = text != NULL && scratch_write(folder, name, text);
    free(text);
    return done;
}

static int make_folder(const char *folder, const char *name)
{
    char path[512];
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    return mkdir(path, 0777) == 0;
}

int ingest_folder_make(char folder[SCRATCH_PATH])
{
    char campaign_yaml[CAMPAIGN_SIZE];
    campaign_compose(NIGHT, campaign_yaml);
    return scratch_make(folder) && make_folder(folder, "logs") && make_folder(folder, "balance") &&
           scratch_write(folder, "campaign.yaml", campaign_yaml) &&
           scratch_write(folder, "configurations.csv", configurations) &&
           scratch_write(folder, "runs.csv", ingest_folder_runs) &&
           scratch_write(folder, "taps.csv", taps) &&
           scratch_write(folder, "balance/floor.csv", balance) &&
           write_log(folder, "logs/z1.csv", ingest_folder_forces(1, 50, 0)) &&
           write_log(folder, "logs/r1.csv", ingest_folder_forces(3, 100, 1)) &&
           write_log(folder, "logs/r2.csv", ingest_folder_forces(4, 80, 1.1)) &&
           write_log(folder, "logs/r1t.csv", ingest_folder_taps(2, 20));
}

struct campaign *ingest_folder_campaign(const char *folder)
{
    struct campaign *campaign = NULL;
    struct fault fault = {.status = OK};
    CHECK_OK(campaign_read(folder, &campaign, NULL, NULL, &fault), &fault);
    return campaign;
}
