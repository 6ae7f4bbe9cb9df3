/* csv_cell.h - what a cell of text may start with, for every table that leaves the program.
 *
 * A spreadsheet runs a cell that starts with = + - or @ as a formula, also behind blanks, tabs and ends
 * of line, which it drops, and in the full-width forms of East Asian keyboards. Source: OWASP, CSV
 * Injection (from memory); what each program does beyond is common practice, no source.            */
#ifndef LAPWING_CSV_CELL_H
#define LAPWING_CSV_CELL_H

/* 1 when a spreadsheet might run text (UTF-8): it then gets a leading apostrophe. */
int csv_is_formula(const char *text);

#endif
