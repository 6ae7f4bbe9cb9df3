/* campaign_words.c - the closed lists of words in campaign.yaml; see campaign_reader.h. */
#include "schema/campaign_reader.h"

#include <stddef.h>

const struct campaign_word campaign_yes_no[] = {{"yes", 1}, {"no", 0}, {NULL, 0}};
const struct campaign_word campaign_section_words[] = {
    {"closed", SECTION_CLOSED}, {"open jet", SECTION_OPEN_JET}, {"slotted", SECTION_SLOTTED},
    {"track", SECTION_TRACK},   {"bench", SECTION_BENCH},       {NULL, 0}};
const struct campaign_word campaign_corrected_words[] = {
    {"yes", CORRECTED_YES}, {"no", CORRECTED_NO}, {"unknown", CORRECTED_UNKNOWN}, {NULL, 0}};
const struct campaign_word campaign_yaw_words[] = {
    {"air from right", 1}, {"air from left", -1}, {NULL, 0}};
const struct campaign_word campaign_height_words[] = {
    {"from log", HEIGHT_FROM_LOG}, {"from sensors", HEIGHT_FROM_SENSORS}, {NULL, 0}};
const struct campaign_word campaign_humidity_words[] = {{"measured", 0}, {"absent", 1}, {NULL, 0}};
const struct campaign_word campaign_freestream_words[] = {
    {"total and static", FREESTREAM_TOTAL_AND_STATIC},
    {"contraction", FREESTREAM_CONTRACTION},
    {"nozzle", FREESTREAM_NOZZLE},
    {"plenum", FREESTREAM_PLENUM},
    {"given", FREESTREAM_GIVEN},
    {"speed", FREESTREAM_SPEED},
    {NULL, 0}};
const struct campaign_word campaign_zero_words[] = {
    {"linear in time", ZERO_LINEAR_IN_TIME}, {"named", ZERO_NAMED}, {"none", ZERO_NONE}, {NULL, 0}};
const struct campaign_word campaign_tare_words[] = {
    {"lookup", TARE_LOOKUP}, {"fit", TARE_FIT}, {"none", TARE_NONE}, {NULL, 0}};
const struct campaign_word campaign_belt_words[] = {
    {"lookup", BELT_TARE_LOOKUP}, {"none", BELT_TARE_NONE}, {NULL, 0}};
const struct campaign_word campaign_buoyancy_words[] = {{"horizontal", BUOYANCY_HORIZONTAL},
                                                        {"two gradients", BUOYANCY_TWO_GRADIENTS},
                                                        {"none", BUOYANCY_NONE},
                                                        {NULL, 0}};
const struct campaign_word campaign_target_words[] = {
    {"local fit", TARGET_LOCAL_FIT}, {"none", TARGET_NONE}, {NULL, 0}};

const struct campaign_word campaign_delimiter_words[] = {
    {"comma", ','}, {"semicolon", ';'}, {"tab", '\t'}, {"blank", ' '}, {"pipe", '|'}, {NULL, 0}};
const struct campaign_word campaign_decimal_words[] = {{"point", '.'}, {"comma", ','}, {NULL, 0}};
const struct campaign_word campaign_rows_words[] = {
    {"samples", ROWS_SAMPLES}, {"points", ROWS_POINTS}, {NULL, 0}};
const struct campaign_word campaign_encoding_words[] = {{"utf-8", ENCODING_UTF_8},
                                                        {"utf-16", ENCODING_UTF_16},
                                                        {"windows-1252", ENCODING_WINDOWS_1252},
                                                        {NULL, 0}};
const struct campaign_word campaign_trailing_words[] = {{"ignore", 1}, {"refuse", 0}, {NULL, 0}};
const struct campaign_word campaign_statistic_words[] = {
    {"value", COLUMN_VALUE},
    {"sd", COLUMN_SD},
    {"standard uncertainty", COLUMN_STANDARD_UNCERTAINTY},
    {"expanded uncertainty", COLUMN_EXPANDED_UNCERTAINTY},
    {NULL, 0}};
const struct campaign_word campaign_hold_words[] = {
    {"blank", HOLD_BLANK}, {"repeat", HOLD_REPEAT}, {NULL, 0}};
const struct campaign_word campaign_measured_words[] = {{"relative to static", TAPS_RELATIVE},
                                                        {"absolute", TAPS_ABSOLUTE},
                                                        {"as coefficient", TAPS_AS_COEFFICIENT},
                                                        {NULL, 0}};

const struct campaign_word campaign_level_words[] = {{"back to back", 0},
                                                     {"attitude returned", 1},
                                                     {"part refitted", 2},
                                                     {"new entry", 3},
                                                     {NULL, 0}};

const char *table_kind_name(enum table_kind kind)
{
    return kind == TABLE_SUPPORT ? "support tare" : "interference";
}

static const struct drop_method drop_methods[] = {
    {FREESTREAM_CONTRACTION, "contraction", "contraction_polynomial", ROLE_CONTRACTION_DROP},
    {FREESTREAM_NOZZLE, "nozzle", "nozzle_polynomial", ROLE_NOZZLE_DROP},
    {FREESTREAM_PLENUM, "plenum", "plenum_polynomial", ROLE_PLENUM_DROP},
};

const struct drop_method *campaign_drop_method(enum freestream_method method)
{
    for (size_t i = 0; i < sizeof drop_methods / sizeof drop_methods[0]; i++)
        if (drop_methods[i].method == method)
            return &drop_methods[i];
    return NULL;
}

const char *campaign_word_text(const struct campaign_word *words, int value)
{
    for (; words->text != NULL; words++)
        if (words->value == value)
            return words->text;
    return "";
}
