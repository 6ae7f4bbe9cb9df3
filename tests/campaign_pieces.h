/* campaign_pieces.h - the two campaign texts of campaign_folder.h, put together from their pieces. */
#ifndef LAPWING_CAMPAIGN_PIECES_H
#define LAPWING_CAMPAIGN_PIECES_H

enum { CAMPAIGN_SIZE = 8192 };
enum campaign_kind { ALL, SETTINGS, NIGHT };

void campaign_compose(enum campaign_kind kind, char text[CAMPAIGN_SIZE]);

#endif
