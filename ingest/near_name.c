/* near_name.c - see near_name.h. */
#include "ingest/near_name.h"

#include <string.h>

#include "schema/utf8.h"

enum { NAME_MAX_BYTES = 120, SHORTEST_CUT = 4, SHORTEST_MISSPELT = 4 };

/* What is left out of a name before it is compared. */
enum { FOLD_INVISIBLE = 1, FOLD_CAPITALS = 2, FOLD_GAPS = 4 };

static char small(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

/* Writes the name without what is folded; its length, or 0 when it is too long or nothing is left. */
static size_t fold(const char *name, size_t length, unsigned what, char out[NAME_MAX_BYTES])
{
    size_t n = 0;
    for (size_t i = 0; i < length;) {
        unsigned point = 0;
        size_t bytes = utf8_character(name + i, length - i, &point);
        bytes = bytes > 0 ? bytes : 1;
        int is_gap = point < 0x80 && strchr(" \t_-.", (int)point) != NULL;
        int is_left_out = ((what & FOLD_INVISIBLE) != 0 && utf8_is_invisible(point)) ||
                          ((what & FOLD_GAPS) != 0 && is_gap);
        if (!is_left_out) {
            if (n + bytes > NAME_MAX_BYTES)
                return 0;
            for (size_t k = 0; k < bytes; k++)
                out[n++] = (what & FOLD_CAPITALS) != 0 ? small(name[i + k]) : name[i + k];
        }
        i += bytes;
    }
    return n;
}

static size_t smallest(size_t a, size_t b, size_t c)
{
    size_t least = a < b ? a : b;
    return least < c ? least : c;
}

/* Edit distance of two short names, counted in bytes.
 * Source: R. A. Wagner, M. J. Fischer, The string-to-string correction problem, J. ACM 21 (1974). */
static size_t edit_distance(const char *a, size_t n, const char *b, size_t m)
{
    size_t row[NAME_MAX_BYTES + 1];
    for (size_t k = 0; k <= m; k++)
        row[k] = k;
    for (size_t i = 1; i <= n; i++) {
        size_t diagonal = row[0];
        row[0] = i;
        for (size_t k = 1; k <= m; k++) {
            size_t above = row[k];
            row[k] = smallest(above + 1, row[k - 1] + 1, diagonal + (a[i - 1] != b[k - 1]));
            diagonal = above;
        }
    }
    return row[m];
}

static size_t skip_to_digit(const char *text, size_t length, size_t at)
{
    while (at < length && (text[at] < '0' || text[at] > '9'))
        at++;
    return at;
}

/* A digit more or another one is another channel, T047 and T048, and no slip of the pen. */
static int same_digits(const char *a, size_t n, const char *b, size_t m)
{
    size_t i = skip_to_digit(a, n, 0);
    size_t k = skip_to_digit(b, m, 0);
    while (i < n && k < m && a[i] == b[k]) {
        i = skip_to_digit(a, n, i + 1);
        k = skip_to_digit(b, m, k + 1);
    }
    return i == n && k == m;
}

static const struct {
    unsigned folds;
    const char *difference;
} steps[] = {
    {FOLD_INVISIBLE, "in an invisible character"},
    {FOLD_INVISIBLE | FOLD_CAPITALS, "in capitals"},
    {FOLD_INVISIBLE | FOLD_CAPITALS | FOLD_GAPS, "in blanks, underscores, hyphens or points"},
};

const char *near_name_difference(const char *wanted, size_t wanted_length, const char *seen,
                                 size_t seen_length)
{
    char a[NAME_MAX_BYTES];
    char b[NAME_MAX_BYTES];
    size_t n = 0;
    size_t m = 0;
    if (wanted_length == seen_length && memcmp(wanted, seen, wanted_length) == 0)
        return NULL;
    int has_invisible = fold(seen, seen_length, FOLD_INVISIBLE, b) != seen_length;
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
        n = fold(wanted, wanted_length, steps[i].folds, a);
        m = fold(seen, seen_length, steps[i].folds, b);
        if (n == 0 || m == 0)
            return NULL;
        if (n == m && memcmp(a, b, n) == 0)
            return steps[has_invisible ? 0 : i].difference;
    }
    size_t shorter = n < m ? n : m;
    if (shorter >= SHORTEST_CUT && memcmp(a, b, shorter) == 0)
        return "by being cut short";
    size_t apart = edit_distance(a, n, b, m);
    if (shorter >= SHORTEST_MISSPELT && same_digits(a, n, b, m) && apart <= (shorter >= 8 ? 2 : 1))
        return "in a letter or two";
    return NULL;
}

size_t near_name_distance(const char *a, size_t a_length, const char *b, size_t b_length)
{
    char folded_a[NAME_MAX_BYTES];
    char folded_b[NAME_MAX_BYTES];
    size_t n = fold(a, a_length, FOLD_CAPITALS, folded_a);
    size_t m = fold(b, b_length, FOLD_CAPITALS, folded_b);
    if (n == 0 || m == 0)
        return a_length > b_length ? a_length : b_length;
    return edit_distance(folded_a, n, folded_b, m);
}
