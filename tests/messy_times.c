/* messy_times.c - the times of the rows; see messy_cases.h. */
#include "tests/messy_cases.h"

#define HEAD "t,pt,CD,CL\n"
#define CLOCK                                                                                \
    "columns: {t: {role: clock}, pt: {role: point}, CD: {role: drag_coefficient, unit: 1}, " \
    "CL: {role: downforce_coefficient, unit: 1}}"
#define OVER_MIDNIGHT HEAD "23:59:58,A,0.3,1.5\n23:59:59,A,0.3,1.5\n00:00:00,A,0.3,4.5\n"

const struct messy_case messy_times[] = {
    {"midnight, not declared", CLOCK, OVER_MIDNIGHT, 0, AS_IT_IS, ":4:1: ",
     "the clock passes midnight (0 s after 86399 s of the day); limit: one day a log; declare "
     "clock_wraps: yes",
     0, 0},
    {"midnight, declared", "clock_wraps: yes|" CLOCK, OVER_MIDNIGHT, 0, AS_IT_IS, NULL, NULL, 2.5,
     0},
    {"midnight three times, declared", "clock_wraps: yes|" CLOCK,
     HEAD "23:59:58,A,0.3,1.5\n00:00:00,B,0.3,4.5\n23:00:00,B,0.3,1\n00:00:01,C,0.3,1\n"
          "23:00:00,C,0.3,1\n00:00:01,D,0.3,1\n",
     0, AS_IT_IS, NULL, NULL, 1.5, 0},
    {"a clock that steps back", "clock_wraps: yes|" CLOCK,
     HEAD "03:00:00,A,0.3,1.5\n02:00:00,A,0.3,1.5\n", 0, AS_IT_IS,
     ":3:1: ", "time goes back: 7200 s after 10800 s on line 2", 0, 0},
    {"a time twice", "",
     HEAD "0,A,0.3,1.5\n0.1,A,0.3,1.5\n0.1,A,0.3,1.6\n0.2,A,0.3,1.4\n0.3,A,0.3,1.5\n", 0, AS_IT_IS,
     NULL,
     "time-gaps info logs/messy.csv: 0 steps of time longer than 1.5 times the point's median, 1 "
     "rows with the time of the row before",
     1.5, 0},
    {"a row twice", "", HEAD "0,A,0.3,1.5\n0,A,0.3,1.5\n", 0, AS_IT_IS, NULL,
     "1 rows with the time of the row before; 1 rows are the row before over again, in time and "
     "every channel",
     1.5, 0},
    {"a time that steps back", "", HEAD "0,A,0.3,1.5\n1,A,0.3,1.5\n0.5,B,0.3,1.5\n", 0, AS_IT_IS,
     ":4:1: ", "time goes back: 0.5 s after 1 s on line 3", 0, 0},
    {"a time in milliseconds", "", HEAD "1770836400000,A,0.3,1.5\n", 0, AS_IT_IS,
     ":2:1: ", "since the run began; limit: 86400", 0, 0},
    {"seconds since 1970", "", HEAD "1770836400.5,A,0.3,1.5\n", 0, AS_IT_IS,
     ":2:1: ", "since the run began; limit: 86400; check the unit, or map a clock", 0, 0},
    {"days of a spreadsheet",
     "columns: {t: {role: time, unit: d}, pt: {role: point}, CD: {role: drag_coefficient, unit: "
     "1}, "
     "CL: {role: downforce_coefficient, unit: 1}}",
     HEAD "46064.8541667,A,0.3,1.5\n", 0, AS_IT_IS, ":2:1: ", "since the run began; limit: 86400",
     0, 0},
    {"milliseconds, declared",
     "columns: {t: {role: time, unit: ms}, pt: {role: point}, CD: {role: drag_coefficient, unit: "
     "1}, "
     "CL: {role: downforce_coefficient, unit: 1}}",
     HEAD "86400000,A,0.3,1.5\n", 0, AS_IT_IS, NULL, NULL, 1.5, 0},
    {"a counter of 16 bits that wraps",
     "columns: {t: {role: time, unit: ms}, pt: {role: point}, CD: {role: drag_coefficient, unit: "
     "1}, "
     "CL: {role: downforce_coefficient, unit: 1}}",
     HEAD "65534,A,0.3,1.5\n65535,A,0.3,1.5\n0,A,0.3,1.5\n", 0, AS_IT_IS,
     ":4:1: ", "time goes back: 0 s after 65.535 s on line 3", 0, 0},
    {"a date before the time", CLOCK, HEAD "2026-02-11 20:30:00,A,0.3,1.5\n", 0, AS_IT_IS,
     ":2:1: ", "'2026-02-11 20:30:00' is not a clock time H:M:S", 0, 0},
    {"a clock of twelve hours", CLOCK, HEAD "08:30:00 PM,A,0.3,1.5\n", 0, AS_IT_IS,
     ":2:1: ", "'08:30:00 PM' is not a clock time H:M:S", 0, 0},
    {"a leap second", CLOCK, HEAD "23:59:60,A,0.3,1.5\n", 0, AS_IT_IS,
     ":2:1: ", "'23:59:60' is not a clock time H:M:S", 0, 0},
    {"a clock that steps an hour on", CLOCK,
     HEAD "01:59:57,A,0.3,1.5\n01:59:58,A,0.3,1.5\n01:59:59,A,0.3,1.5\n03:00:00,A,0.3,1.5\n"
          "03:00:01,A,0.3,1.5\n",
     0, AS_IT_IS, NULL,
     "1 steps of time longer than 1.5 times the point's median, 0 rows with the time of the row "
     "before; the longest, 3601 s in place of 1 s, ends on line 5",
     1.5, 0},
    {"a clock that repeats an hour", CLOCK,
     HEAD "02:59:58,A,0.3,1.5\n02:59:59,A,0.3,1.5\n02:00:00,A,0.3,1.5\n", 0, AS_IT_IS,
     ":4:1: ", "time goes back: 7200 s after 10799 s on line 3", 0, 0},
    {"steps of unequal length", "",
     HEAD "0,A,0.3,1.5\n0.1,A,0.3,1.5\n0.21,A,0.3,1.5\n0.3,A,0.3,1.5\n0.44,A,0.3,1.5\n", 0,
     AS_IT_IS, NULL, NULL, 1.5, 0},
    {"a time that is missing, declared", "missing: [\"\"]",
     HEAD "0,A,0.3,1.5\n,A,0.3,2.5\n2,A,0.3,2\n", 0, AS_IT_IS, NULL, NULL, 2, 0},
    {"a time that is none", "", HEAD "12:00,A,0.3,1.5\n", 0, AS_IT_IS,
     ":2:1: ", "'12:00' is not a time in numbers", 0, 0},
    {"a gap", "",
     HEAD "0,A,0.3,1.5\n0.1,A,0.3,1.5\n0.2,A,0.3,1.5\n0.3,A,0.3,1.5\n0.7,A,0.3,1.5\n9,B,0.3,1\n", 0,
     AS_IT_IS, NULL,
     "time-gaps info logs/messy.csv: 1 steps of time longer than 1.5 times the point's median, 0 "
     "rows "
     "with the time of the row before; the longest, 0.4 s in place of 0.1 s, ends on line 6",
     1.5, 0},
    {"a clock that repeats a time", CLOCK,
     HEAD "10:00:00,A,0.3,1.5\n10:00:01,A,0.3,1.5\n10:00:01,A,0.3,1.5\n10:00:02,A,0.3,1.5\n"
          "10:00:03,A,0.3,1.5\n",
     0, AS_IT_IS, NULL, "0 steps of time longer than 1.5 times the point's median, 1 rows with the",
     1.5, 0},
    {"a clock coarser than the rows", CLOCK,
     HEAD "10:00:00,A,0.3,1.5\n10:00:00,A,0.3,1.5\n10:00:00,A,0.3,1.5\n10:00:01,A,0.3,1.5\n", 0,
     AS_IT_IS, NULL, NULL, 1.5, 0},
    {"a rest between two points is no gap", "",
     HEAD "0,A,0.3,1.5\n0.1,A,0.3,1.5\n0.2,A,0.3,1.5\n0.3,A,0.3,1.5\n9,B,0.3,1\n9.1,B,0.3,1\n", 0,
     AS_IT_IS, NULL, NULL, 1.5, 0},
    {"a point that comes back", "", HEAD "0,A,0.3,1.5\n1,B,0.3,1.5\n2,A,0.3,1.5\n", 0, AS_IT_IS,
     ":4:3: ", "point 'A' comes back", 0, 0},
    {"a row without its point", "", HEAD "0,,0.3,1.5\n", 0, AS_IT_IS,
     ":2:3: ", "the row has no point label", 0, 0},
};

const size_t messy_times_n = sizeof messy_times / sizeof messy_times[0];
