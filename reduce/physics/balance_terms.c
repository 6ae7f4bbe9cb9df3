/* balance_terms.c - see balance_terms.h. */
#include "reduce/physics/balance_terms.h"

#include <math.h>
#include <string.h>

enum { KINDS = TERM_ABSOLUTE_CUBE + 1 };

static const struct {
    int begins;
    int is_pair;
} kinds[KINDS] = {
    [TERM_LINEAR] = {0, 0},
    [TERM_ABSOLUTE] = {6, 0},
    [TERM_SQUARE] = {12, 0},
    [TERM_SIGNED_SQUARE] = {18, 0},
    [TERM_PRODUCT] = {24, 1},
    [TERM_ABSOLUTE_PRODUCT] = {39, 1},
    [TERM_FIRST_BY_ABSOLUTE] = {54, 1},
    [TERM_ABSOLUTE_BY_SECOND] = {69, 1},
    [TERM_CUBE] = {84, 0},
    [TERM_ABSOLUTE_CUBE] = {90, 0},
};

/* Number of the pair (j, k), j < k. */
static int pair_index(int j, int k)
{
    return 5 * j - j * (j - 1) / 2 + (k - j - 1);
}

struct balance_term balance_term(int term)
{
    int kind = KINDS - 1;
    while (term < kinds[kind].begins)
        kind--;
    int rest = term - kinds[kind].begins;
    int first = 0;
    if (!kinds[kind].is_pair)
        return (struct balance_term){(enum balance_term_kind)kind, rest, rest};
    while (rest > pair_index(first, BALANCE_LOADS - 1))
        first++;
    return (struct balance_term){(enum balance_term_kind)kind, first,
                                 rest - pair_index(first, first + 1) + first + 1};
}

int balance_term_index(enum balance_term_kind kind, int first, int second)
{
    int is_pair = kinds[kind].is_pair;
    if (first < 0 || second >= BALANCE_LOADS || (is_pair ? first >= second : first != second))
        return -1;
    return kinds[kind].begins + (is_pair ? pair_index(first, second) : first);
}

void balance_term_values(const double load[BALANCE_LOADS], double value[BALANCE_TERMS])
{
    int pair = 0;
    for (int j = 0; j < BALANCE_LOADS; j++) {
        double f = load[j], size = fabs(f);
        value[kinds[TERM_LINEAR].begins + j] = f;
        value[kinds[TERM_ABSOLUTE].begins + j] = size;
        value[kinds[TERM_SQUARE].begins + j] = f * f;
        value[kinds[TERM_SIGNED_SQUARE].begins + j] = f * size;
        value[kinds[TERM_CUBE].begins + j] = f * f * f;
        value[kinds[TERM_ABSOLUTE_CUBE].begins + j] = f * f * size;
        for (int k = j + 1; k < BALANCE_LOADS; k++, pair++) {
            double g = load[k];
            value[kinds[TERM_PRODUCT].begins + pair] = f * g;
            value[kinds[TERM_ABSOLUTE_PRODUCT].begins + pair] = fabs(f * g);
            value[kinds[TERM_FIRST_BY_ABSOLUTE].begins + pair] = f * fabs(g);
            value[kinds[TERM_ABSOLUTE_BY_SECOND].begins + pair] = size * g;
        }
    }
}

static void pair_slopes(const double load[BALANCE_LOADS], int j, int k,
                        double slope[BALANCE_TERMS][BALANCE_LOADS])
{
    double f = load[j], g = load[k];
    double sense_f = f < 0 ? -1.0 : 1.0, sense_g = g < 0 ? -1.0 : 1.0;
    int pair = pair_index(j, k);
    double *product = slope[kinds[TERM_PRODUCT].begins + pair];
    double *absolute = slope[kinds[TERM_ABSOLUTE_PRODUCT].begins + pair];
    double *first = slope[kinds[TERM_FIRST_BY_ABSOLUTE].begins + pair];
    double *second = slope[kinds[TERM_ABSOLUTE_BY_SECOND].begins + pair];
    product[j] = g;
    product[k] = f;
    absolute[j] = sense_f * fabs(g);
    absolute[k] = sense_g * fabs(f);
    first[j] = fabs(g);
    first[k] = f * sense_g;
    second[j] = sense_f * g;
    second[k] = fabs(f);
}

void balance_term_slopes(const double load[BALANCE_LOADS],
                         double slope[BALANCE_TERMS][BALANCE_LOADS])
{
    memset(slope, 0, BALANCE_TERMS * sizeof *slope);
    for (int j = 0; j < BALANCE_LOADS; j++) {
        double f = load[j], sense = f < 0 ? -1.0 : 1.0;
        slope[kinds[TERM_LINEAR].begins + j][j] = 1.0;
        slope[kinds[TERM_ABSOLUTE].begins + j][j] = sense;
        slope[kinds[TERM_SQUARE].begins + j][j] = 2 * f;
        slope[kinds[TERM_SIGNED_SQUARE].begins + j][j] = 2 * fabs(f);
        slope[kinds[TERM_CUBE].begins + j][j] = 3 * f * f;
        slope[kinds[TERM_ABSOLUTE_CUBE].begins + j][j] = 3 * f * fabs(f);
        for (int k = j + 1; k < BALANCE_LOADS; k++)
            pair_slopes(load, j, k, slope);
    }
}
