/* panel_floor.c - pressures of one surface: the baseline's Cp, what the best configuration changed, and
 * both along one line of taps. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "report/chart_map.h"
#include "report/cut_text.h"
#include "report/number_text.h"
#include "report/page.h"
#include "report/panel.h"
#include "report/scale.h"
#include "report/tap_line.h"

struct surface_map {
    struct text_pool texts;
    void *taps, *triangles;
    size_t n_taps, taps_capacity, n_triangles, triangles_capacity;
    size_t n_tested, n_changed;
    const char *not_tested; /* of the surface's taps: the commonest reason; "" for none */
};

static void surface_map_end(struct surface_map *map)
{
    text_pool_free(&map->texts);
    free(map->taps);
    free(map->triangles);
}

/* Row: tap, x, y, value, uncertainty, 1 where shown to have changed, 0 where not; NULL: not tested. */
static enum status take_tap(struct statement *row, void *context, struct fault *fault)
{
    struct surface_map *map = context;
    struct map_tap *tap =
        query_append(&map->taps, &map->n_taps, &map->taps_capacity, sizeof *tap, fault);

    if (tap == NULL)
        return NO_MEMORY;
    map->n_tested += !statement_is_null(row, 5);
    tap->is_changed = (int)statement_integer(row, 5);
    map->n_changed += (size_t)tap->is_changed;
    tap->x = statement_real(row, 1);
    tap->y = statement_real(row, 2);
    tap->value = statement_real(row, 3);
    tap->uncertainty = statement_real(row, 4);
    return text_pool_keep(&map->texts, statement_text(row, 0), &tap->name, fault);
}

static int tap_index(const struct surface_map *map, const char *name, size_t *index)
{
    const struct map_tap *taps = map->taps;

    for (size_t i = 0; i < map->n_taps; i++) {
        if (strcmp(taps[i].name, name) == 0) {
            *index = i;
            return 1;
        }
    }
    return 0;
}

static enum status take_triangle(struct statement *row, void *context, struct fault *fault)
{
    struct surface_map *map = context;
    struct contour_triangle triangle;

    for (int k = 0; k < 3; k++)
        if (!tap_index(map, statement_text(row, k), &triangle.corner[k]))
            return OK;
    struct contour_triangle *added = query_append(&map->triangles, &map->n_triangles,
                                                  &map->triangles_capacity, sizeof *added, fault);
    if (added == NULL)
        return NO_MEMORY;
    *added = triangle;
    return OK;
}

static const char cp_sql[] =
    "SELECT m.tap, t.x_m, t.y_m, m.cp, NULL, NULL FROM map_tap AS m JOIN page_reduction AS d ON "
    "d.reduction = m.reduction JOIN tap AS t ON t.tap = m.tap WHERE m.configuration = ?1 "
    "AND m.target = ?2 AND t.surface = ?3 ORDER BY t.sequence";

static const char change_sql[] =
    "SELECT m.tap, t.x_m, t.y_m, m.delta_cp, m.delta_cp_u, m.q_value <= 0.05 FROM map_tap AS m "
    "JOIN "
    "page_reduction AS d ON d.reduction = m.reduction JOIN tap AS t ON t.tap = m.tap WHERE "
    "m.configuration = ?1 AND m.target = ?2 AND t.surface = ?3 ORDER BY t.sequence";

static const char triangles_sql[] =
    "SELECT m.tap_a, m.tap_b, m.tap_c FROM map_triangle AS m JOIN page_reduction AS d ON "
    "d.reduction = m.reduction WHERE m.configuration = ?1 AND m.target = ?2 AND "
    "m.surface = ?3 ORDER BY m.triangle";

/* Live taps are told of before dead ones. */
static const char reason_sql[] =
    "SELECT m.not_tested FROM map_tap AS m JOIN page_reduction AS d ON d.reduction = m.reduction "
    "JOIN tap AS t ON t.tap = m.tap WHERE m.configuration = ?1 AND m.target = ?2 AND t.surface = "
    "?3 "
    "AND m.not_tested <> '' GROUP BY m.not_tested ORDER BY max(m.cp IS NOT NULL) DESC, count(*) "
    "DESC, "
    "m.not_tested LIMIT 1";

static enum status read_map(struct store *store, const char *taps_sql, const char *const *texts,
                            struct surface_map *map, struct fault *fault)
{
    enum status status = query_each(store, taps_sql, texts, take_tap, map, fault);

    if (status == OK)
        status = query_each(store, triangles_sql, texts, take_triangle, map, fault);
    if (status == OK)
        status = query_text(store, reason_sql, texts, &map->texts, &map->not_tested, fault);
    return status;
}

static int by_size(const void *a, const void *b)
{
    double first = *(const double *)a;
    double second = *(const double *)b;

    return first < second ? -1 : first > second;
}

/* A neutral band narrower than what repeats scatter would paint noise: twice the middle tap's
 * standard uncertainty is the least that is drawn. 0 when no tap has one. */
static double narrowest_band(const struct map_tap *taps, size_t n)
{
    double *known = malloc((n + 1) * sizeof *known);
    size_t count = 0;
    double middle = 0;

    if (known == NULL)
        return 0;
    for (size_t i = 0; i < n; i++)
        if (scale_takes(taps[i].uncertainty))
            known[count++] = taps[i].uncertainty;
    qsort(known, count, sizeof *known, by_size);
    if (count > 0)
        middle = known[count / 2];
    free(known);
    return 2 * middle;
}

static struct bands bands_for(const struct surface_map *map, int is_change)
{
    const struct map_tap *taps = map->taps;
    double low = INFINITY, high = -INFINITY;

    for (size_t i = 0; i < map->n_taps; i++) {
        if (!scale_takes(taps[i].value))
            continue;
        low = fmin(low, taps[i].value);
        high = fmax(high, taps[i].value);
    }
    if (!is_change)
        return bands_sequential(low, high);
    return bands_diverging(fmax(fabs(low), fabs(high)), narrowest_band(taps, map->n_taps));
}

static size_t dead_taps(const struct surface_map *map)
{
    const struct map_tap *taps = map->taps;
    size_t n = 0;

    for (size_t i = 0; i < map->n_taps; i++)
        if (!scale_takes(taps[i].value))
            n++;
    return n;
}

static void write_table(struct html *page, const struct surface_map *map, const char *symbol,
                        const char *label, int is_change)
{
    const struct map_tap *taps = map->taps;

    html_open(page, "details", HTML_END);
    html_element(page, "summary", "All taps of this picture", HTML_END);
    page_scroller(page, "scroll", label);
    html_open(page, "table", HTML_END);
    html_open(page, "thead", HTML_END);
    html_open(page, "tr", HTML_END);
    html_element(page, "th", "Tap", "class", "left", "scope", "col", HTML_END);
    html_element(page, "th", "x, m", "scope", "col", HTML_END);
    html_element(page, "th", "y, m", "scope", "col", HTML_END);
    html_element(page, "th", symbol, "scope", "col", HTML_END);
    if (is_change)
        html_element(page, "th", "Changed", "class", "left", "scope", "col", HTML_END);
    html_close(page);
    html_close(page);
    html_open(page, "tbody", HTML_END);
    for (size_t i = 0; i < map->n_taps; i++) {
        struct number_text value =
            is_change ? number_text_delta(taps[i].value, 3) : number_text_plain(taps[i].value, 3);
        html_open(page, "tr", HTML_END);
        html_element(page, "th", taps[i].name, "scope", "row", HTML_END);
        html_element(page, "td", number_text_plain(taps[i].x, 3).text, HTML_END);
        html_element(page, "td", number_text_plain(taps[i].y, 3).text, HTML_END);
        html_element(page, "td", scale_takes(taps[i].value) ? value.text : "dead", HTML_END);
        if (is_change)
            html_element(page, "td", taps[i].is_changed ? "yes" : "", "class", "left", HTML_END);
        html_close(page);
    }
    for (int k = 0; k < 4; k++)
        html_close(page);
}

/* Among hundreds of taps some always stand out; the sentence says how many of those named may be that. */
static void write_changed(struct html *page, const struct surface_map *map)
{
    if (map->n_tested == 0) {
        html_format(page, "No tap is tested: %s.",
                    map->not_tested != NULL && map->not_tested[0] != '\0' ? map->not_tested
                                                                          : "none has a change");
        return;
    }
    html_format(page, "%zu of %zu tested tap%s of the surface %s shown to have changed",
                map->n_changed, map->n_tested, map->n_tested == 1 ? "" : "s",
                map->n_changed == 1 ? "is" : "are");
    html_text(page,
              map->n_changed > 0 ? " (squares; on average at most 5 % of these by chance)." : ".");
}

static void write_caption(struct html *page, const struct surface_map *map,
                          const struct bands *bands, int is_change)
{
    size_t dead = dead_taps(map);

    html_open(page, "p", "class", "note", HTML_END);
    if (is_change)
        html_format(page, "Blue, below zero: more suction. The neutral band is \xC2\xB1%s. ",
                    number_text_plain(bands->width / 2, bands->decimals).text);
    else
        html_text(page, "Dark is more suction. ");
    html_format(page, "%zu taps, linear between each three. ", map->n_taps - dead);
    if (dead > 0)
        html_format(page, "Cross%s: %zu dead tap%s. ", dead == 1 ? "" : "es", dead,
                    dead == 1 ? "" : "s");
    if (is_change)
        write_changed(page, map);
    html_close(page);
}

/* One map of a configuration; nothing when the store has no taps of it. */
static enum status write_map(struct html *page, const struct night_page *night,
                             const char *const *texts, int is_change, struct fault *fault)
{
    struct surface_map map = {0};
    const char *symbol = is_change ? "\xCE\x94"
                                     "Cp"
                                   : "Cp";

    enum status status =
        read_map(night->store, is_change ? change_sql : cp_sql, texts, &map, fault);
    if (status == OK && map.n_taps > 0 && map.n_triangles > 0) {
        char label[4 * sizeof(struct cut_text)];
        (void)snprintf(label, sizeof label, "map of %s on the %s, %s at %s, %zu taps", symbol,
                       cut_text(texts[2], CUT_TEXT_MOST).text,
                       cut_text(texts[0], CUT_TEXT_MOST).text,
                       cut_text(texts[1], CUT_TEXT_MOST).text, map.n_taps);
        struct map_chart chart = {label,
                                  symbol,
                                  map.taps,
                                  map.n_taps,
                                  map.triangles,
                                  map.n_triangles,
                                  bands_for(&map, is_change)};
        html_open(page, "div", "class", "panel", HTML_END);
        html_open(page, "h3", HTML_END);
        html_format(page, is_change ? "%s, change from the baseline" : "%s, pressure coefficient",
                    texts[0]);
        html_close(page);
        page_scroller(page, "scroll", label);
        status = chart_map(page, &chart, fault);
        html_close(page);
        write_caption(page, &map, &chart.bands, is_change);
        write_table(page, &map, symbol, label, is_change);
        html_close(page);
    }
    surface_map_end(&map);
    return status;
}

static enum status has_map(const struct night_page *night, const char *name, const char *target,
                           int *found, struct fault *fault)
{
    const char *texts[] = {name, target, NULL};
    double n = 0;

    enum status status = query_real(night->store,
                                    "SELECT count(*) FROM map_triangle AS m JOIN page_reduction AS "
                                    "d ON d.reduction = m.reduction WHERE m.configuration = ?1 AND "
                                    "m.target = ?2",
                                    texts, &n, fault);
    *found = n > 0;
    return status;
}

/* The winner where it has a map, or the first in the table that has one. */
static enum status mapped_configuration(const struct night_page *night, const char *target,
                                        const char **name, struct fault *fault)
{
    const struct findings *findings = night->findings;
    enum status status = OK;

    int found = 0;

    *name = "";
    if (night->headline->winner != NULL) {
        *name = night->headline->winner->name;
        status = has_map(night, *name, target, &found, fault);
    }
    for (size_t i = 0; status == OK && !found && i < findings->n_configurations; i++) {
        if (findings->configurations[i].is_baseline)
            continue;
        *name = findings->configurations[i].name;
        status = has_map(night, *name, target, &found, fault);
    }
    if (!found)
        *name = "";
    return status;
}

static enum status write_panel(struct html *page, const struct night_page *night,
                               const char *target, const char *surface, struct fault *fault)
{
    const char *changed = "";
    char why[2 * sizeof(struct cut_text) + 300];

    enum status status = mapped_configuration(night, target, &changed, fault);
    if (status != OK)
        return status;
    const struct finding_configuration *found = findings_configuration(night->findings, changed);
    const struct finding_configuration *first = findings_baseline(night->findings);
    const char *baseline = found != NULL ? found->baseline : first != NULL ? first->name : "";
    const char *level_texts[] = {baseline, target, surface, NULL};
    (void)snprintf(why, sizeof why,
                   "Surface \"%s\" at %s, mean over runs, corrected, seen from above with the "
                   "nose to the left. Nothing is drawn outside the measured taps; over a dead tap "
                   "the surface rests on its neighbours. Small circles are the taps, in the same "
                   "colours, squares those that are shown to have changed.",
                   cut_text(surface, CUT_TEXT_MOST).text, cut_text(target, CUT_TEXT_MOST).text);
    page_section(page, "pressures", "Pressures", why);
    html_open(page, "div", "class", "two", HTML_END);
    status = write_map(page, night, level_texts, 0, fault);
    if (status == OK && changed[0] != '\0') {
        const char *change_texts[] = {changed, target, surface, NULL};
        status = write_map(page, night, change_texts, 1, fault);
    }
    html_close(page);
    const struct tap_line_asked line = {baseline, changed, target, surface};
    if (status == OK)
        status = tap_line_write(page, night, &line, fault);
    html_close(page);
    return status;
}

/* One sentence, so that a link to the section leads somewhere. */
static enum status write_no_map(struct html *page, const struct night_page *night,
                                struct fault *fault)
{
    double taps = 0;

    enum status status = query_real(night->store, "SELECT count(*) FROM tap", NULL, &taps, fault);
    page_section(page, "pressures", "Pressures",
                 taps > 0 ? "Nothing is drawn: no configuration has pressures of three taps or "
                            "more of one surface at the map's attitude."
                          : "Nothing is drawn: the campaign declares no taps.");
    html_close(page);
    return status;
}

enum status panel_floor(struct html *page, const struct night_page *night, struct fault *fault)
{
    struct text_pool texts = {0};
    const char *target = "";
    const char *surface = "";

    enum status status =
        query_text(night->store,
                   "SELECT m.target FROM map_triangle AS m JOIN page_reduction AS d ON "
                   "d.reduction = m.reduction JOIN target AS t ON t.target = m.target "
                   "ORDER BY t.sequence LIMIT 1",
                   NULL, &texts, &target, fault);
    if (status == OK) {
        const char *of_target[] = {target, NULL};
        status = query_text(night->store,
                            "SELECT m.surface FROM map_triangle AS m JOIN page_reduction AS d "
                            "ON d.reduction = m.reduction WHERE m.target = ?1 "
                            "GROUP BY m.surface ORDER BY m.surface <> 'floor', count(*) DESC, "
                            "m.surface LIMIT 1",
                            of_target, &texts, &surface, fault);
    }
    if (status == OK)
        status = surface[0] != '\0' ? write_panel(page, night, target, surface, fault)
                                    : write_no_map(page, night, fault);
    text_pool_free(&texts);
    return status;
}
