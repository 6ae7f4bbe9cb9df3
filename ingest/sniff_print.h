/* sniff_print.h - what was guessed about a log, for people, and as a channel map to review. */
#ifndef LAPWING_SNIFF_PRINT_H
#define LAPWING_SNIFF_PRINT_H

#include <stdio.h>

#include "ingest/sniff.h"

/* Every guess with its confidence and its reason; name is the file as the user knows it. */
void sniff_print_guesses(const struct sniff *sniff, const char *name, FILE *out);

/* What the log alone cannot tell, in words; each line begins with `begin`. */
void sniff_print_open_questions(const struct sniff *sniff, const char *begin, FILE *out);

/* 0 when the strict reader refuses the map as proposed: a question says NOT COMPLETE. */
int sniff_map_is_complete(const struct sniff *sniff);

/* One channel map, indented to stand below `channel_maps:` in campaign.yaml, named after the file. */
void sniff_print_map(const struct sniff *sniff, const char *name, FILE *out);

/* A text as a scalar of YAML, in quotes where it needs them. */
void sniff_print_yaml(const char *text, FILE *out);

/* A text as it may be shown: control characters as \x1b. */
void sniff_print_text(const char *text, FILE *out);

#endif
