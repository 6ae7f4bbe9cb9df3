/* test_report_made.h - the text of the fixture's page after a change made by SQL. */
#ifndef LAPWING_TEST_REPORT_MADE_H
#define LAPWING_TEST_REPORT_MADE_H

/* The page's text, which the caller frees; NULL when there is none, which has failed a check. change
 * and more are SQL run one after the other, NULL for none. */
char *report_page_after(const char *change, const char *more);

#endif
