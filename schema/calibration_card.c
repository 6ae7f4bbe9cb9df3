/* calibration_card.c - see calibration_card.h. */
#include "schema/calibration_card.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The load's name at text as an output, "R1" for "Fx"; 0 when there is none. */
static int put_output(const char *text, char out[3])
{
    for (size_t load = 0; load < LOAD_COUNT; load++) {
        if (strncmp(text, calibration_load_name(load), 2) != 0)
            continue;
        (void)snprintf(out, 3, "R%d", (int)load + 1);
        return 1;
    }
    return 0;
}

static struct card_name output_name(size_t term)
{
    struct card_name name = {""};
    size_t used = 0;
    for (const char *at = calibration_load_term_name(term); *at != '\0'; at++) {
        char output[3];
        int is_load = put_output(at, output);
        used += (size_t)snprintf(name.text + used, sizeof name.text - used, "%.*s", is_load ? 2 : 1,
                                 is_load ? output : at);
        at += is_load;
    }
    return name;
}

struct card_name card_term_name(enum calibration_form form, size_t term)
{
    struct card_name name;
    if (form == CALIBRATION_DIRECT && term < CALIBRATION_LOAD_TERMS)
        return output_name(term);
    const char *text = "1";
    if (term < CALIBRATION_LOAD_TERMS)
        text = calibration_load_term_name(term);
    else if (term >= CARD_TEMPERATURE)
        text = calibration_temperature_name(form, term - CARD_TEMPERATURE);
    (void)snprintf(name.text, sizeof name.text, "%s", text);
    return name;
}

size_t card_direct_term(size_t term)
{
    struct card_name name = output_name(term);
    size_t direct = 0;
    while (direct < CALIBRATION_TERMS && strcmp(calibration_term_name(direct), name.text) != 0)
        direct++;
    return direct;
}

void calibration_card_free(struct calibration_card *card)
{
    free(card->tare);
    free(card->missing);
    memset(card, 0, sizeof *card);
}
