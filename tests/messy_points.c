/* messy_points.c - which rows are a point, and channels slower than the rows; see messy_cases.h. */
#include "tests/messy_cases.h"

#define LOADS "CD: {role: drag_coefficient, unit: 1}, CL: {role: downforce_coefficient, unit: 1}"
#define T "t: {role: time, unit: s}, "
#define FLAG "columns: {" T "rec: {role: recording}, " LOADS "}"
#define SWEEP                                                                                  \
    "rows: samples|sweep: {of: yaw, window: 1 deg, settle: 0.2 s, least_rows: 2}|columns: {" T \
    "yaw: {role: yaw, unit: deg}, CL: {role: downforce_coefficient, unit: 1}, CD: {role: "     \
    "drag_coef"                                                                                \
    "ficient, unit: 1}}"
#define SLOW(hold)                                                                         \
    "columns: {" T "pt: {role: point}, CD: {role: drag_coefficient, unit: 1}, CL: {role: " \
    "downforce_coefficient, unit: 1, hold: " hold "}}"
#define REC "t,rec,CD,CL\n"
#define YAW "t,yaw,CL,CD\n"
#define HEAD "t,pt,CD,CL\n"
#define TEN(row) row row row row row row row row row row
#define HUNDRED(row) \
    TEN(row) TEN(row) TEN(row) TEN(row) TEN(row) TEN(row) TEN(row) TEN(row) TEN(row) TEN(row)

const struct messy_case messy_points[] = {
    /* a recording flag */
    {"two stretches of a flag", FLAG, REC "0,0,0.3,9\n1,1,0.3,1\n2,1,0.3,2\n3,0,0.3,9\n4,1,0.3,7\n",
     0, AS_IT_IS, NULL, "rows-outside-points info logs/messy.csv: 2 of 5 rows are in no point", 1.5,
     0},
    {"a flag in words", FLAG, REC "0,off,0.3,9\n1,True,0.3,1\n2,YES,0.3,2\n3,No,0.3,9\n", 0,
     AS_IT_IS, NULL, "2 of 4 rows are in no point", 1.5, 0},
    {"a counter for a flag", FLAG, REC "0,3,0.3,1\n1,3,0.3,2\n2,4,0.3,9\n3,4,0.3,9\n", 0, AS_IT_IS,
     NULL, NULL, 1.5, 0},
    {"a flag always on", FLAG, REC "0,1,0.3,1\n1,1,0.3,2\n", 0, AS_IT_IS, NULL, NULL, 1.5, 0},
    {"no numbers while it is off", FLAG, REC "0,0,,warming up\n1,1,0.3,1.5\n", 0, AS_IT_IS, NULL,
     "1 of 2 rows are in no point", 1.5, 0},
    {"no number while it is on", FLAG, REC "0,1,0.3,warming up\n", 0, AS_IT_IS,
     ":2:9: ", "'warming up' is not a number", 0, 0},
    {"a flag never on", FLAG, REC "0,0,0.3,1\n1,0,0.3,1\n", 0, AS_IT_IS,
     ":1:3: ", "column 'rec' is off in all 2 rows: the log has no point", 0, 0},
    {"a flag of another kind", FLAG, REC "0,1,0.3,1\n1,maybe,0.3,1\n", 0, AS_IT_IS, ":3:3: ",
     "column 'rec': 'maybe' does not tell whether the row is recorded; limit: 0, false", 0, 0},
    {"half a flag", FLAG, REC "0,0.5,0.3,1\n", 0, AS_IT_IS, ":2:3: ", "'0.5' does not tell", 0, 0},
    {"a flag below zero", FLAG, REC "0,-1,0.3,1\n", 0, AS_IT_IS, ":2:3: ", "'-1' does not tell", 0,
     0},
    {"a flag that is missing", "missing: [\"\"]|" FLAG, REC "0,,0.3,1\n", 0, AS_IT_IS,
     ":2:3: ", "'' does not tell", 0, 0},
    {"a flag that is infinite", FLAG, REC "0,inf,0.3,1\n", 0, AS_IT_IS, ":2:3: ", "'inf' does not",
     0, 0},
    {"time that goes back while it is off", FLAG, REC "0,1,0.3,1\n2,0,0.3,1\n1,0,0.3,1\n", 0,
     AS_IT_IS, ":4:1: ", "time goes back: 1 s after 2 s on line 3", 0, 0},
    {"a short row while it is off", FLAG, REC "0,1,0.3,1\n1,0,0.3\n", 0, AS_IT_IS,
     ":3:5: ", "3 cells, the header (line 1)", 0, 0},
    {"sentinels while it is off are none of ours", FLAG,
     REC "0,0,0.3,-999\n1,0,0.3,-999\n2,1,0.3,1.5\n", 0, AS_IT_IS, NULL,
     "2 of 3 rows are in no point", 1.5, 0},
    /* a sweep */
    {"step and hold", SWEEP,
     YAW "0,0,9,0.3\n0.1,0.1,9,0.3\n0.2,0.1,1,0.3\n0.3,0.2,2,0.3\n0.4,1.1,9,0.3\n0.5,2,9,0.3\n0.6,"
         "2,9,0.3\n0.7,2,9,0.3\n0.8,2,9,0.3\n",
     0, AS_IT_IS, NULL, "rows-outside-points info logs/messy.csv: 5 of 9 rows are in no point", 1.5,
     0},
    {"a short stay is left out", SWEEP,
     YAW
     "0,0,9,0.3\n0.1,0,9,0.3\n0.2,0,9,0.3\n0.3,2,9,0.3\n0.4,2,9,0.3\n0.5,2,1,0.3\n0.6,2,2,0.3\n",
     0, AS_IT_IS, NULL,
     "5 of 7 rows are in no point; among them 1 point left out for having fewer rows than "
     "least_rows",
     1.5, 0},
    {"a missing coordinate breaks a stay", "missing: [\"NaN\"]|" SWEEP,
     YAW
     "0,0,9,0.3\n0.1,0,9,0.3\n0.2,NaN,9,0.3\n0.3,0,9,0.3\n0.4,0,9,0.3\n0.5,0,1,0.3\n0.6,0,2,0.3\n",
     0, AS_IT_IS, NULL, "5 of 7 rows are in no point", 1.5, 0},
    {"too fast a sweep", SWEEP,
     YAW "0,0,9,0.3\n0.1,0.4,9,0.3\n0.2,0.8,9,0.3\n0.3,1.2,9,0.3\n0.4,1.6,9,0.3\n", 0, AS_IT_IS,
     ":1:3: ",
     "sweep of yaw: the log has no point, because nothing stays in one window of 1 deg for 0.2 s; "
     "the longest stay is 0.1 s; limit: settle; widen window",
     0, 0},
    {"stays too short for least_rows", SWEEP,
     YAW "0,0,9,0.3\n0.1,0,9,0.3\n0.2,0,9,0.3\n0.3,1,9,0.3\n", 0, AS_IT_IS, ":1:3: ",
     "sweep of yaw: the log has no point, because nothing stays long enough in one window of 1 "
     "deg: "
     "after settle the longest of 1 stays has 1 rows; limit: least_rows, 2; lower it",
     0, 0},
    {"a coordinate that is none", SWEEP, YAW "0,0,9,0.3\n0.1,zero,9,0.3\n", 0, AS_IT_IS,
     ":3:5: ", "column 'yaw': 'zero' is not a number", 0, 0},
    /* channels slower than the rows */
    {"blanks of a slow channel", SLOW("blank"),
     HEAD "0,A,0.3,1\n1,A,0.3,\n2,A,0.3,\n3,A,0.3,2\n4,A,0.3,\n", 0, AS_IT_IS, NULL, NULL, 1.5, 0},
    {"blanks and a word for no value", "missing: [\"\", \"--\"]|" SLOW("blank"),
     HEAD "0,A,0.3,1\n1,A,0.3,\n2,A,0.3,--\n3,A,0.3,2\n", 0, AS_IT_IS, NULL, NULL, 1.5, 1},
    {"a slow channel that is repeated", SLOW("repeat"),
     HEAD "0,A,0.3,1\n1,A,0.3,1\n2,A,0.3,2\n3,A,0.3,2\n", 0, AS_IT_IS, NULL, NULL, 1.5, 0},
    {"blanks where the last one is repeated", SLOW("repeat"), HEAD "0,A,0.3,1\n1,A,0.3,\n", 0,
     AS_IT_IS, ":3:9: ", "column 'CL' is empty", 0, 0},
    {"blanks without hold", "", HEAD "0,A,0.3,1\n1,A,0.3,\n", 0, AS_IT_IS, ":3:9: ",
     "column 'CL' is empty; limit: a number, or a word declared as missing; add \"\" to missing in "
     "map 'messy' if it means no value, or give the column hold: blank if it is written in some "
     "rows only",
     0, 0},
    /* times that do not move on */
    {"a hundred rows of one time", "", HEAD HUNDRED("0,A,0.3,1.5\n"), 0, AS_IT_IS, NULL,
     "time-gaps info logs/messy.csv: 0 steps of time longer than 1.5 times the point's median, 99 "
     "rows with the time of the row before; 99 rows are the row before over again, in time and "
     "every channel",
     1.5, 0},
    {"more than a hundred", "", HEAD HUNDRED("0,A,0.3,1.5\n") "0,A,0.3,1.5\n", 0, AS_IT_IS,
     ":102:1: ", "time stands still: 0 s in more than 100 rows; limit: 100 rows of one time", 0, 0},
    {"a time column coarser than the rows", "",
     HEAD "0,A,0.3,1\n0,A,0.3,2\n0,A,0.3,1\n1,A,0.3,2\n1,A,0.3,1\n1,A,0.3,2\n", 0, AS_IT_IS, NULL,
     NULL, 1.5, 0},
};

const size_t messy_points_n = sizeof messy_points / sizeof messy_points[0];
