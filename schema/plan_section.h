/* plan_section.h - what campaign.yaml says of the night that comes, for `lapwing plan`.
 *
 * Times are in s. A run is settling and its attitudes, or one declared time; zeros, changes and weight
 * sweeps are beside it. What is not given is 0, NULL or empty.                                     */
#ifndef LAPWING_PLAN_SECTION_H
#define LAPWING_PLAN_SECTION_H

#include <stddef.h>

enum plan_scheme { PLAN_BRACKETED, PLAN_ABBA, PLAN_GIVEN };
enum plan_attitude_order { ATTITUDES_BY_HEIGHT, ATTITUDES_AS_LISTED, ATTITUDES_RANDOM };
enum plan_approach { APPROACH_FROM_ABOVE, APPROACH_FROM_BELOW };

struct text_list {
    char **text; /* n of them, owned */
    size_t n;
};
void text_list_end(struct text_list *list); /* frees what it holds */

struct plan_section {
    int given;                          /* 1: the section is there */
    char *facility, *entry;             /* of the night */
    char *start;                        /* as written, with zone */
    char *balance;                      /* NULL: the campaign's only one */
    char *logs, *zero_logs, *tare_logs; /* logs cell of runs.csv; RUN stands for the run's name */
    char *belt_logs;                    /* of belt tares */
    char *reference;  /* attitude that every run begins and ends with, and of its zeros */
    double available; /* s, from the first weight sweep to the last */
    double run;       /* s, of one run; 0: settle and attitudes make it */
    double settle, per_attitude;     /* s */
    double zero, change;             /* s, one zero; one change where its row says no other */
    double weight_sweep, belt_sweep; /* s, each */
    double power;                    /* of finding what is there; 0.8 */
    enum plan_scheme scheme;
    unsigned group;   /* configurations between returns, 1 .. 3 */
    unsigned repeats; /* 0: as few as find what matters */
    unsigned seed;
    enum plan_attitude_order attitude_order;
    enum plan_approach approach;
    struct text_list attitudes;      /* targets; empty: all of them */
    struct text_list configurations; /* empty: all of the family */
    struct text_list order;          /* with scheme: given */
    struct text_list hard_to_change; /* each mounted once, its runs side by side */
    struct text_list mass_changes;   /* their weight on the balance is not the baseline's */
};

void plan_section_defaults(struct plan_section *plan);
void plan_section_end(struct plan_section *plan);

#endif
