/* setting_text.h - settings as people set them: names in words, values in the units of the trade.
 *
 * The store keeps the campaign's keys and SI values. A page says "cap on attitude correction: front
 * ride height 0.5 mm" instead of "cap: front_ride_height 0.0005 m".                                */
#ifndef LAPWING_REPORT_SETTING_TEXT_H
#define LAPWING_REPORT_SETTING_TEXT_H

struct setting_text {
    char text[400];
};

/* A key of the table setting in words, such as "reference area" or "cap on attitude correction: yaw".
 * Keys without a row of their own lose their underscores; names of log columns stay as they are. */
struct setting_text setting_name(const char *name);

/* A value with its unit: attitude heights in mm, angles in deg, shares in %, areas in m², all with no
 * digits of rounding. Words, and what is no number, stay as they are; "empty" for nothing. Gives
 * value itself, a constant, or room->text. */
const char *setting_value(const char *name, const char *value, const char *unit,
                          struct setting_text *room);

#endif
