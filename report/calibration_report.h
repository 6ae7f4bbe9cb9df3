/* calibration_report.h - what `lapwing calibrate` shows: text, and the files of --write. */
#ifndef LAPWING_REPORT_CALIBRATION_REPORT_H
#define LAPWING_REPORT_CALIBRATION_REPORT_H

#include "report/buffer.h"
#include "report/html.h"
#include "schema/calibration_card.h"

/* Prints, then writes PREFIX_card.html, PREFIX_card.csv and, of six components, the calibration file
 * PREFIX.csv when the request has a prefix. BAD_INPUT when one of them exists already: nothing is written
 * then. The same card gives the same bytes. */
enum status calibration_report(const struct calibration_card *card, int quiet, struct fault *fault);

/* The card as text, as a page, and as a table; the calibration as the file that campaign.yaml names. */
void card_text(const struct calibration_card *card, struct buffer *out);
enum status page_card(struct html *page, const struct calibration_card *card, struct fault *fault);
void csv_card(const struct calibration_card *card, struct buffer *out);
void csv_calibration(const struct calibration_card *card, struct buffer *out);

/* "R1 from Fx" and the like: what was regressed on what. */
void card_heading(const struct calibration_card *card, struct buffer *out);

/* Number of kept terms of a component, the intercept and temperature not counted. */
size_t card_kept(const struct card_component *component);

#endif
