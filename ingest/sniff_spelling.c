/* sniff_spelling.c - see sniff_spelling.h. */
#include "ingest/sniff_spelling.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

static const struct spelling spellings[] = {
    /* what orders and weighs the rows */
    {"time", 0, ROLE_TIME, CONFIDENCE_SURE},
    {"time", 0, ROLE_CLOCK, CONFIDENCE_SURE},
    {"t", 1, ROLE_TIME, CONFIDENCE_LIKELY},
    {"timestamp", 0, ROLE_TIME, CONFIDENCE_LIKELY},
    {"timestamp", 0, ROLE_CLOCK, CONFIDENCE_LIKELY},
    {"elapsed", 0, ROLE_TIME, CONFIDENCE_LIKELY},
    {"elapsedtime", 0, ROLE_TIME, CONFIDENCE_SURE},
    {"zeit", 0, ROLE_TIME, CONFIDENCE_LIKELY},
    {"zeit", 0, ROLE_CLOCK, CONFIDENCE_LIKELY},
    {"clock", 0, ROLE_CLOCK, CONFIDENCE_SURE},
    {"timeofday", 0, ROLE_CLOCK, CONFIDENCE_SURE},
    {"point", 0, ROLE_POINT, CONFIDENCE_SURE},
    {"pt", 0, ROLE_POINT, CONFIDENCE_LIKELY},
    {"pointno", 0, ROLE_POINT, CONFIDENCE_SURE},
    {"pointnr", 0, ROLE_POINT, CONFIDENCE_SURE},
    {"pointnumber", 0, ROLE_POINT, CONFIDENCE_SURE},
    {"ptno", 0, ROLE_POINT, CONFIDENCE_SURE},
    {"testpoint", 0, ROLE_POINT, CONFIDENCE_SURE},
    {"datapoint", 0, ROLE_POINT, CONFIDENCE_LIKELY},
    {"messpunkt", 0, ROLE_POINT, CONFIDENCE_LIKELY},
    {"run", 0, ROLE_POINT, CONFIDENCE_GUESS},
    {"runno", 0, ROLE_POINT, CONFIDENCE_GUESS},
    {"runnr", 0, ROLE_POINT, CONFIDENCE_GUESS},
    {"step", 0, ROLE_POINT, CONFIDENCE_GUESS},
    {"recording", 0, ROLE_RECORDING, CONFIDENCE_SURE},
    {"record", 0, ROLE_RECORDING, CONFIDENCE_LIKELY},
    {"recorded", 0, ROLE_RECORDING, CONFIDENCE_SURE},
    {"rec", 0, ROLE_RECORDING, CONFIDENCE_LIKELY},
    {"recflag", 0, ROLE_RECORDING, CONFIDENCE_SURE},
    {"recordflag", 0, ROLE_RECORDING, CONFIDENCE_SURE},
    {"acq", 0, ROLE_RECORDING, CONFIDENCE_LIKELY},
    {"acquire", 0, ROLE_RECORDING, CONFIDENCE_LIKELY},
    {"acquiring", 0, ROLE_RECORDING, CONFIDENCE_LIKELY},
    {"acquisition", 0, ROLE_RECORDING, CONFIDENCE_LIKELY},
    {"measuring", 0, ROLE_RECORDING, CONFIDENCE_LIKELY},
    {"logging", 0, ROLE_RECORDING, CONFIDENCE_LIKELY},
    {"aufnahme", 0, ROLE_RECORDING, CONFIDENCE_LIKELY},
    {"trigger", 0, ROLE_RECORDING, CONFIDENCE_GUESS},
    {"gate", 0, ROLE_RECORDING, CONFIDENCE_GUESS},
    {"n", 0, ROLE_SAMPLE_COUNT, CONFIDENCE_LIKELY},
    {"nsamples", 0, ROLE_SAMPLE_COUNT, CONFIDENCE_SURE},
    {"samples", 0, ROLE_SAMPLE_COUNT, CONFIDENCE_LIKELY},
    {"count", 0, ROLE_SAMPLE_COUNT, CONFIDENCE_LIKELY},
    {"samplecount", 0, ROLE_SAMPLE_COUNT, CONFIDENCE_SURE},

    /* loads */
    {"fx", 0, ROLE_FORCE_X, CONFIDENCE_SURE},
    {"fy", 0, ROLE_FORCE_Y, CONFIDENCE_SURE},
    {"fz", 0, ROLE_FORCE_Z, CONFIDENCE_SURE},
    {"drag", 0, ROLE_FORCE_X, CONFIDENCE_LIKELY},
    {"dragforce", 0, ROLE_FORCE_X, CONFIDENCE_LIKELY},
    {"side", 0, ROLE_FORCE_Y, CONFIDENCE_LIKELY},
    {"sideforce", 0, ROLE_FORCE_Y, CONFIDENCE_LIKELY},
    {"lift", 0, ROLE_FORCE_Z, CONFIDENCE_LIKELY},
    {"liftforce", 0, ROLE_FORCE_Z, CONFIDENCE_LIKELY},
    {"downforce", 0, ROLE_FORCE_Z, CONFIDENCE_LIKELY},
    {"mx", 0, ROLE_MOMENT_X, CONFIDENCE_SURE},
    {"my", 0, ROLE_MOMENT_Y, CONFIDENCE_SURE},
    {"mz", 0, ROLE_MOMENT_Z, CONFIDENCE_SURE},
    {"roll", 0, ROLE_MOMENT_X, CONFIDENCE_GUESS},
    {"pitch", 0, ROLE_MOMENT_Y, CONFIDENCE_GUESS},
    {"yaw", 0, ROLE_MOMENT_Z, CONFIDENCE_GUESS},
    {"rollmoment", 0, ROLE_MOMENT_X, CONFIDENCE_LIKELY},
    {"rollingmoment", 0, ROLE_MOMENT_X, CONFIDENCE_LIKELY},
    {"pitchmoment", 0, ROLE_MOMENT_Y, CONFIDENCE_LIKELY},
    {"pitchingmoment", 0, ROLE_MOMENT_Y, CONFIDENCE_LIKELY},
    {"yawmoment", 0, ROLE_MOMENT_Z, CONFIDENCE_LIKELY},
    {"yawingmoment", 0, ROLE_MOMENT_Z, CONFIDENCE_LIKELY},

    /* coefficients */
    {"cd", 0, ROLE_DRAG_COEFFICIENT, CONFIDENCE_SURE},
    {"cx", 0, ROLE_DRAG_COEFFICIENT, CONFIDENCE_LIKELY},
    {"cy", 0, ROLE_SIDE_COEFFICIENT, CONFIDENCE_SURE},
    {"cs", 0, ROLE_SIDE_COEFFICIENT, CONFIDENCE_LIKELY},
    {"cl", 0, ROLE_DOWNFORCE_COEFFICIENT, CONFIDENCE_LIKELY},
    {"cz", 0, ROLE_DOWNFORCE_COEFFICIENT, CONFIDENCE_LIKELY},
    {"clf", 0, ROLE_DOWNFORCE_FRONT_COEFFICIENT, CONFIDENCE_LIKELY},
    {"czf", 0, ROLE_DOWNFORCE_FRONT_COEFFICIENT, CONFIDENCE_LIKELY},
    {"clfront", 0, ROLE_DOWNFORCE_FRONT_COEFFICIENT, CONFIDENCE_LIKELY},
    {"clr", 0, ROLE_DOWNFORCE_REAR_COEFFICIENT, CONFIDENCE_LIKELY},
    {"czr", 0, ROLE_DOWNFORCE_REAR_COEFFICIENT, CONFIDENCE_LIKELY},
    {"clrear", 0, ROLE_DOWNFORCE_REAR_COEFFICIENT, CONFIDENCE_LIKELY},
    {"crm", 0, ROLE_ROLL_COEFFICIENT, CONFIDENCE_SURE},
    {"cmx", 0, ROLE_ROLL_COEFFICIENT, CONFIDENCE_LIKELY},
    {"cpm", 0, ROLE_PITCH_COEFFICIENT, CONFIDENCE_SURE},
    {"cmy", 0, ROLE_PITCH_COEFFICIENT, CONFIDENCE_LIKELY},
    {"cm", 0, ROLE_PITCH_COEFFICIENT, CONFIDENCE_GUESS},
    {"cym", 0, ROLE_YAW_COEFFICIENT, CONFIDENCE_SURE},
    {"cmz", 0, ROLE_YAW_COEFFICIENT, CONFIDENCE_LIKELY},

    /* the air */
    {"p0", 0, ROLE_TOTAL_PRESSURE, CONFIDENCE_SURE},
    {"pt", 0, ROLE_TOTAL_PRESSURE, CONFIDENCE_LIKELY},
    {"ptot", 0, ROLE_TOTAL_PRESSURE, CONFIDENCE_SURE},
    {"ptotal", 0, ROLE_TOTAL_PRESSURE, CONFIDENCE_SURE},
    {"totalpressure", 0, ROLE_TOTAL_PRESSURE, CONFIDENCE_SURE},
    {"p", 0, ROLE_STATIC_PRESSURE, CONFIDENCE_LIKELY},
    {"ps", 0, ROLE_STATIC_PRESSURE, CONFIDENCE_SURE},
    {"pst", 0, ROLE_STATIC_PRESSURE, CONFIDENCE_SURE},
    {"pstat", 0, ROLE_STATIC_PRESSURE, CONFIDENCE_SURE},
    {"pstatic", 0, ROLE_STATIC_PRESSURE, CONFIDENCE_SURE},
    {"staticpressure", 0, ROLE_STATIC_PRESSURE, CONFIDENCE_SURE},
    {"pbar", 0, ROLE_STATIC_PRESSURE, CONFIDENCE_LIKELY},
    {"pbaro", 0, ROLE_STATIC_PRESSURE, CONFIDENCE_LIKELY},
    {"baro", 0, ROLE_STATIC_PRESSURE, CONFIDENCE_LIKELY},
    {"pamb", 0, ROLE_STATIC_PRESSURE, CONFIDENCE_LIKELY},
    {"patm", 0, ROLE_STATIC_PRESSURE, CONFIDENCE_LIKELY},
    {"p0p", 0, ROLE_TOTAL_MINUS_STATIC, CONFIDENCE_SURE},
    {"p0ps", 0, ROLE_TOTAL_MINUS_STATIC, CONFIDENCE_SURE},
    {"p0pst", 0, ROLE_TOTAL_MINUS_STATIC, CONFIDENCE_SURE},
    {"ptps", 0, ROLE_TOTAL_MINUS_STATIC, CONFIDENCE_SURE},
    {"pitot", 0, ROLE_TOTAL_MINUS_STATIC, CONFIDENCE_LIKELY},
    {"dp", 0, ROLE_TOTAL_MINUS_STATIC, CONFIDENCE_GUESS},
    {"deltap", 0, ROLE_TOTAL_MINUS_STATIC, CONFIDENCE_GUESS},
    {"deltapb", 0, ROLE_CONTRACTION_DROP, CONFIDENCE_LIKELY},
    {"dpb", 0, ROLE_CONTRACTION_DROP, CONFIDENCE_LIKELY},
    {"dpcontraction", 0, ROLE_CONTRACTION_DROP, CONFIDENCE_SURE},
    {"contractiondrop", 0, ROLE_CONTRACTION_DROP, CONFIDENCE_SURE},
    {"dpnozzle", 0, ROLE_NOZZLE_DROP, CONFIDENCE_SURE},
    {"nozzledrop", 0, ROLE_NOZZLE_DROP, CONFIDENCE_SURE},
    {"dpplenum", 0, ROLE_PLENUM_DROP, CONFIDENCE_SURE},
    {"plenumdrop", 0, ROLE_PLENUM_DROP, CONFIDENCE_SURE},
    {"q", 0, ROLE_DYNAMIC_PRESSURE, CONFIDENCE_SURE},
    {"qinf", 0, ROLE_DYNAMIC_PRESSURE, CONFIDENCE_SURE},
    {"pdyn", 0, ROLE_DYNAMIC_PRESSURE, CONFIDENCE_LIKELY},
    {"dynamicpressure", 0, ROLE_DYNAMIC_PRESSURE, CONFIDENCE_SURE},
    {"t0", 0, ROLE_TOTAL_TEMPERATURE, CONFIDENCE_SURE},
    {"tt", 0, ROLE_TOTAL_TEMPERATURE, CONFIDENCE_LIKELY},
    {"ttot", 0, ROLE_TOTAL_TEMPERATURE, CONFIDENCE_SURE},
    {"ttotal", 0, ROLE_TOTAL_TEMPERATURE, CONFIDENCE_SURE},
    {"totaltemperature", 0, ROLE_TOTAL_TEMPERATURE, CONFIDENCE_SURE},
    {"T", 1, ROLE_STATIC_TEMPERATURE, CONFIDENCE_GUESS},
    {"ts", 0, ROLE_STATIC_TEMPERATURE, CONFIDENCE_LIKELY},
    {"tstat", 0, ROLE_STATIC_TEMPERATURE, CONFIDENCE_SURE},
    {"statictemperature", 0, ROLE_STATIC_TEMPERATURE, CONFIDENCE_SURE},
    {"temp", 0, ROLE_STATIC_TEMPERATURE, CONFIDENCE_GUESS},
    {"temperature", 0, ROLE_STATIC_TEMPERATURE, CONFIDENCE_GUESS},
    {"tair", 0, ROLE_STATIC_TEMPERATURE, CONFIDENCE_GUESS},
    {"airtemp", 0, ROLE_STATIC_TEMPERATURE, CONFIDENCE_GUESS},
    {"tamb", 0, ROLE_STATIC_TEMPERATURE, CONFIDENCE_GUESS},
    {"rh", 0, ROLE_RELATIVE_HUMIDITY, CONFIDENCE_SURE},
    {"hum", 0, ROLE_RELATIVE_HUMIDITY, CONFIDENCE_LIKELY},
    {"humidity", 0, ROLE_RELATIVE_HUMIDITY, CONFIDENCE_LIKELY},
    {"relhum", 0, ROLE_RELATIVE_HUMIDITY, CONFIDENCE_SURE},
    {"relativehumidity", 0, ROLE_RELATIVE_HUMIDITY, CONFIDENCE_SURE},
    {"v", 0, ROLE_AIR_SPEED, CONFIDENCE_LIKELY},
    {"u", 0, ROLE_AIR_SPEED, CONFIDENCE_LIKELY},
    {"vinf", 0, ROLE_AIR_SPEED, CONFIDENCE_SURE},
    {"uinf", 0, ROLE_AIR_SPEED, CONFIDENCE_SURE},
    {"vair", 0, ROLE_AIR_SPEED, CONFIDENCE_SURE},
    {"vwind", 0, ROLE_AIR_SPEED, CONFIDENCE_SURE},
    {"windspeed", 0, ROLE_AIR_SPEED, CONFIDENCE_SURE},
    {"airspeed", 0, ROLE_AIR_SPEED, CONFIDENCE_SURE},
    {"speed", 0, ROLE_AIR_SPEED, CONFIDENCE_GUESS},
    {"towspeed", 0, ROLE_AIR_SPEED, CONFIDENCE_LIKELY},
    {"carriagespeed", 0, ROLE_AIR_SPEED, CONFIDENCE_LIKELY},
    {"waterspeed", 0, ROLE_AIR_SPEED, CONFIDENCE_SURE},
    {"flowspeed", 0, ROLE_AIR_SPEED, CONFIDENCE_LIKELY},
    {"streamspeed", 0, ROLE_AIR_SPEED, CONFIDENCE_SURE},

    /* how the car stands */
    {"hf", 0, ROLE_FRONT_RIDE_HEIGHT, CONFIDENCE_SURE},
    {"frh", 0, ROLE_FRONT_RIDE_HEIGHT, CONFIDENCE_SURE},
    {"rhf", 0, ROLE_FRONT_RIDE_HEIGHT, CONFIDENCE_SURE},
    {"frontrideheight", 0, ROLE_FRONT_RIDE_HEIGHT, CONFIDENCE_SURE},
    {"rideheightfront", 0, ROLE_FRONT_RIDE_HEIGHT, CONFIDENCE_SURE},
    {"hr", 0, ROLE_REAR_RIDE_HEIGHT, CONFIDENCE_SURE},
    {"rrh", 0, ROLE_REAR_RIDE_HEIGHT, CONFIDENCE_SURE},
    {"rhr", 0, ROLE_REAR_RIDE_HEIGHT, CONFIDENCE_SURE},
    {"rearrideheight", 0, ROLE_REAR_RIDE_HEIGHT, CONFIDENCE_SURE},
    {"rideheightrear", 0, ROLE_REAR_RIDE_HEIGHT, CONFIDENCE_SURE},
    {"yaw", 0, ROLE_YAW, CONFIDENCE_SURE},
    {"yawangle", 0, ROLE_YAW, CONFIDENCE_SURE},
    {"psi", 0, ROLE_YAW, CONFIDENCE_LIKELY},
    {"\xcf\x88", 0, ROLE_YAW, CONFIDENCE_LIKELY},
    {"beta", 0, ROLE_YAW, CONFIDENCE_LIKELY},
    {"\xce\xb2", 0, ROLE_YAW, CONFIDENCE_LIKELY},
    {"roll", 0, ROLE_ROLL, CONFIDENCE_SURE},
    {"rollangle", 0, ROLE_ROLL, CONFIDENCE_SURE},
    {"phi", 0, ROLE_ROLL, CONFIDENCE_LIKELY},
    {"\xcf\x86", 0, ROLE_ROLL, CONFIDENCE_LIKELY},
    {"pitch", 0, ROLE_PITCH, CONFIDENCE_SURE},
    {"pitchangle", 0, ROLE_PITCH, CONFIDENCE_SURE},
    {"alpha", 0, ROLE_PITCH, CONFIDENCE_LIKELY},
    {"\xce\xb1", 0, ROLE_PITCH, CONFIDENCE_LIKELY},
    {"theta", 0, ROLE_PITCH, CONFIDENCE_LIKELY},
    {"steer", 0, ROLE_STEER, CONFIDENCE_SURE},
    {"steering", 0, ROLE_STEER, CONFIDENCE_SURE},
    {"steerangle", 0, ROLE_STEER, CONFIDENCE_SURE},
    {"delta", 0, ROLE_STEER, CONFIDENCE_LIKELY},
    {"\xce\xb4", 0, ROLE_STEER, CONFIDENCE_LIKELY},
    {"belt", 0, ROLE_BELT_SPEED, CONFIDENCE_SURE},
    {"vbelt", 0, ROLE_BELT_SPEED, CONFIDENCE_SURE},
    {"beltspeed", 0, ROLE_BELT_SPEED, CONFIDENCE_SURE},
    {"road", 0, ROLE_BELT_SPEED, CONFIDENCE_LIKELY},
    {"vroad", 0, ROLE_BELT_SPEED, CONFIDENCE_SURE},
    {"roadspeed", 0, ROLE_BELT_SPEED, CONFIDENCE_SURE},
};

const struct spelling *sniff_spellings(size_t *n)
{
    *n = sizeof spellings / sizeof spellings[0];
    return spellings;
}

void sniff_fold(const char *text, char out[SPELLING_ROOM])
{
    size_t n = 0;
    for (; *text != '\0' && n + 1 < SPELLING_ROOM; text++) {
        if (strchr(" \t_-./:", *text) != NULL)
            continue;
        out[n++] = *text >= 'A' && *text <= 'Z' ? (char)(*text - 'A' + 'a') : *text;
    }
    out[n] = '\0';
}

enum affix { AFFIX_NONE, AFFIX_VALUE, AFFIX_SD, AFFIX_EXTREME };

static enum affix affix_of(const char *word, size_t length)
{
    static const struct {
        const char *text;
        enum affix affix;
    } affixes[] = {
        {"sd", AFFIX_SD},       {"std", AFFIX_SD},      {"stdev", AFFIX_SD},
        {"stddev", AFFIX_SD},   {"sigma", AFFIX_SD},    {"\xcf\x83", AFFIX_SD},
        {"mean", AFFIX_VALUE},  {"avg", AFFIX_VALUE},   {"average", AFFIX_VALUE},
        {"ave", AFFIX_VALUE},   {"min", AFFIX_EXTREME}, {"max", AFFIX_EXTREME},
        {"rms", AFFIX_EXTREME}, {"var", AFFIX_EXTREME}, {"err", AFFIX_EXTREME},
    };
    for (size_t i = 0; i < sizeof affixes / sizeof affixes[0]; i++)
        if (strlen(affixes[i].text) == length && strncasecmp(affixes[i].text, word, length) == 0)
            return affixes[i].affix;
    return AFFIX_NONE;
}

int sniff_names_statistic(const char *word, size_t length)
{
    return affix_of(word, length) != AFFIX_NONE;
}

static const char between[] = " _.";

/* Takes a first or last word that names a statistic off the text, and tells which it was. */
static enum affix take_affix(char *text)
{
    size_t length = strlen(text);
    size_t first = strcspn(text, between);
    size_t last = length;
    while (last > 0 && strchr(between, text[last - 1]) == NULL)
        last--;
    if (first == length) { /* one word: sdFx, but not sdf */
        size_t n = strncmp(text, "std", 3) == 0 ? 3 : 2;
        int joined = strncmp(text, "sd", 2) == 0 || n == 3;
        if (!joined || text[n] < 'A' || text[n] > 'Z')
            return AFFIX_NONE;
        memmove(text, text + n, length - n + 1);
        return AFFIX_SD;
    }
    enum affix affix = affix_of(text, first);
    if (affix != AFFIX_NONE) {
        memmove(text, text + first + 1, length - first);
        return affix;
    }
    affix = affix_of(text + last, length - last);
    if (affix != AFFIX_NONE && last > 0)
        text[last - 1] = '\0';
    return affix;
}

void sniff_spell(const char *name, size_t length, struct spelled_name *spelled)
{
    *spelled = (struct spelled_name){.statistic = COLUMN_VALUE};
    (void)snprintf(spelled->plain, sizeof spelled->plain, "%.*s", (int)length, name);
    enum affix affix = take_affix(spelled->plain);
    spelled->statistic = affix == AFFIX_SD ? COLUMN_SD : COLUMN_VALUE;
    spelled->is_extreme = affix == AFFIX_EXTREME;
    sniff_fold(spelled->plain, spelled->folded);
    const char *blank = strrchr(spelled->plain, ' ');
    if (blank != NULL)
        (void)snprintf(spelled->last, sizeof spelled->last, "%s", blank + 1);
}
