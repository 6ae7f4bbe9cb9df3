/* messy_shapes.c - delimiters, heads and rows that loggers and spreadsheets make; see messy_cases.h. */
#include "tests/messy_cases.h"

#define HEAD "t,pt,CD,CL\n"
#define ROW "0,A,0.3,1.5\n"
#define NAMED(t, cd, cl)                                             \
    "columns: {" t ": {role: time, unit: s}, pt: {role: point}, " cd \
    ": {role: drag_coefficient, unit: 1}, " cl ": {role: downforce_coefficient, unit: 1}}"
#define IN_LOG                                                                              \
    "columns: {t: {role: time}, pt: {role: point}, CD: {role: drag_coefficient, unit: 1}, " \
    "CL: {role: downforce_coefficient, unit: 1}}"

const struct messy_case messy_shapes[] = {
    /* delimiters */
    {"tabs, declared", "delimiter: tab", "t\tpt\tCD\tCL\n0\tA\t0.3\t1.5\n", 0, AS_IT_IS, NULL, NULL,
     1.5, 0},
    {"tabs, found", "rows: samples", "t\tpt\tCD\tCL\n0\tA\t0.3\t1.5\n", 0, AS_IT_IS, NULL, NULL,
     1.5, 0},
    {"blanks to make columns, declared", "delimiter: blank",
     "   t  pt    CD    CL\n   0   A   0.3   1.5\n", 0, AS_IT_IS, NULL, NULL, 1.5, 0},
    {"pipes, declared", "delimiter: pipe", "t|pt|CD|CL\n0|A|0.3|1.5\n", 0, AS_IT_IS, NULL, NULL,
     1.5, 0},
    {"pipes, found", "rows: samples", "t|pt|CD|CL\n0|A|0.3|1.5\n", 0, AS_IT_IS, NULL, NULL, 1.5, 0},
    {"pipes, another one declared", "", "t|pt|CD|CL\n0|A|0.3|1.5\n", 0, AS_IT_IS,
     ":1:1: ", "is the delimiter pipe?", 0, 0},
    {"two delimiters in the names, none declared", "rows: samples", "t;pt;CD,x;CL\n0;A;0.3;1.5\n",
     0, AS_IT_IS, ":1:1: ", "comma and semicolon; limit: one delimiter; declare it", 0, 0},
    {"no delimiter at all", "rows: samples", "t\n0\n", 0, AS_IT_IS, ":1:1: ", "has no delimiter", 0,
     0},
    /* rows */
    {"a long row of numbers", "", HEAD ROW "1,A,0.3,1.5,7\n", 0, AS_IT_IS,
     ":3:13: ", "5 cells, the header (line 1) has 4", 0, 0},
    {"a line feed within quotes", "", "t,pt,CD,CL,note\n0,A,0.3,1.5,\"wing\nleft\"\n", 0, AS_IT_IS,
     ":2:13: ", "the quoted cell does not end on its line", 0, 0},
    {"a doubled quote and text behind it", "", HEAD "0,\"A\"B,0.3,1.5\n", 0, AS_IT_IS,
     ":2:6: ", "a quote inside a cell", 0, 0},
    {"remarks between the rows, declared", "comment: \"#\"",
     "# made by hand\n" HEAD "# wind on\n" ROW "  # wind off\n", 0, AS_IT_IS, NULL, NULL, 1.5, 0},
    {"two tables in one file", "blocks: run",
     "run \"1\"\n" HEAD ROW "run \"2\"\n" HEAD "0,A,0.3,9\n", 0, AS_IT_IS,
     ":4:1: ", "the file holds more than one block: '1', '2'; limit: one a log", 0, 0},
    /* heads */
    {"two rows of names", "name_rows: 2|" NAMED("t", "Coefficient CD", "Coefficient CL"),
     "t,pt,Coefficient,Coefficient\n,,CD,CL\n" ROW, 0, AS_IT_IS, NULL, NULL, 1.5, 0},
    {"two rows of names, of which one is declared", "", "t,pt,CD,CL\n,,drag,downforce\n" ROW, 0,
     AS_IT_IS, ":2:1: ", "'' is not a time in numbers", 0, 0},
    {"merged cells over the names", "name_rows: 2|" NAMED("t", "Coefficients CD", "CL"),
     "t,pt,Coefficients,\n,,CD,CL\n" ROW, 0, AS_IT_IS, NULL, NULL, 1.5, 0},
    {"a unit row", "unit_row: yes|" IN_LOG, HEAD "s,,1,\n" ROW, 0, AS_IT_IS, NULL, NULL, 1.5, 0},
    {"a unit row, not declared", "", HEAD "s,-,1,1\n" ROW, 0, AS_IT_IS,
     ":2:1: ", "'s' is not a time in numbers", 0, 0},
    {"a unit row that is declared and not there", "unit_row: yes", HEAD ROW, 0, AS_IT_IS,
     ":2:1: ", "unit in the unit row", 0, 0},
    {"a unit in brackets", IN_LOG, "t [s],pt,CD,CL\n" ROW, 0, AS_IT_IS, NULL, NULL, 1.5, 0},
    {"a unit in round brackets", IN_LOG, "t (s),pt,CD,CL\n" ROW, 0, AS_IT_IS, NULL, NULL, 1.5, 0},
    {"names in another language", "", "Zeit,Punkt,cW,cA\n" ROW, 0, AS_IT_IS,
     ":1: ", "no column is named 't'; the header has 'Zeit', 'Punkt', 'cW', 'cA'", 0, 0},
    {"a name that is cut short", NAMED("t", "CD", "downforce coefficient"),
     "t,pt,CD,downforce coef\n" ROW, 0, AS_IT_IS,
     ":1: ", "column 4 is 'downforce coef' and differs by being cut short", 0, 0},
    {"a name whose unit is another one", NAMED("t", "CD", "\"CL [1]\""), "t,pt,CD,CL (%)\n" ROW, 0,
     AS_IT_IS, ":1: ", "column 4 is 'CL (%)' and differs in its unit", 0, 0},
    {"a name nearly that of a column that the map names", NAMED("t", "Load CD", "Load CL"),
     "t,pt,Load CD,lift\n" ROW, 0, AS_IT_IS, ":1: ", "no column is named 'Load CL'; the header", 0,
     0},
    {"names in quotes", "", "\"t\",\"pt\",\"CD\",\"CL\"\n" ROW, 0, AS_IT_IS, NULL, NULL, 1.5, 0},
    {"a column without a name", "", "t,pt,,CD,CL\n0,A,7,0.3,1.5\n", 0, AS_IT_IS, NULL, NULL, 1.5,
     0},
    {"a column named twice, told apart by position",
     "preamble_rows: 1|names: [t, pt, CD, CL, second CL]", "t,pt,CD,CL,CL\n0,A,0.3,1.5,9\n", 0,
     AS_IT_IS, NULL, NULL, 1.5, 0},
    {"no names, declared", "names: [t, pt, CD, CL]", ROW, 0, AS_IT_IS, NULL, NULL, 1.5, 0},
    {"no names, not declared", "", ROW, 0, AS_IT_IS, ":1: ", "no column is named 't'", 0, 0},
    {"only names and units", "unit_row: yes|" IN_LOG, HEAD "s,,1,1\n", 0, AS_IT_IS,
     ":1: ", "the log has no row of data", 0, 0},
    {"a broken character", "",
     "t,pt,CD,CL,T \xC4"
     "C\n0,A,0.3,1.5,20\n",
     0, AS_IT_IS, ":1:14: ", "byte 0xC4 is not UTF-8", 0, 0},
    {"UTF-8 that was read as Windows-1252 and saved",
     "columns: {t: {role: time, unit: s}, pt: {role: point}, CD: {role: drag_coefficient, unit: "
     "1}, "
     "T: {role: static_temperature}}",
     "t,pt,CD,T [\xC3\x82\xC2\xB0"
     "C]\n0,A,0.3,20\n",
     0, AS_IT_IS, ":1:9: ",
     "column 'T [\xC3\x82\xC2\xB0"
     "C]', unit in the column's name",
     0, 0},
    {"texts and booleans in columns of no role", "",
     "t,pt,gear,brake,CD,CL\n0,A,N,TRUE,0.3,1.5\n1,A,3,false,0.3,2.5\n", 0, AS_IT_IS, NULL, NULL, 2,
     0},
};

const size_t messy_shapes_n = sizeof messy_shapes / sizeof messy_shapes[0];
