/* campaign_boundary_check.c - what one key of a boundary correction needs of another; what only physics knows
 * is asked in reduce/recipe_check.c. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "schema/campaign_reader.h"

struct rule {
    int is_wrong;
    enum boundary_block block;
    const char *text;
};

/* The choice and the block must both be there, or neither. */
static void check_pair(struct campaign_reader *reader, int corrections, const struct facility *f,
                       enum boundary_block block, const char *choice, const char *taken_by,
                       int is_chosen)
{
    const char *key = NULL;
    (void)campaign_boundary_table(block, &key);
    if (is_chosen && !f->boundary.given[block])
        campaign_trouble(reader, corrections,
                         "facility %.80s: corrections lack '%s', which %s needs", f->name, key,
                         choice);
    if (!is_chosen && f->boundary.given[block])
        campaign_trouble(
            reader, yaml_tree_find(reader->tree, corrections, key),
            "facility %.80s: %s is given, and %s does not take it; remove it, or choose "
            "%s",
            f->name, key, choice, taken_by);
}

static int is_blockage(const struct facility *f, const char *name)
{
    return f->blockage != NULL && strcmp(f->blockage, name) == 0;
}

static void check_pairs(struct campaign_reader *reader, int corrections, const struct facility *f)
{
    char blockage[120];
    (void)snprintf(blockage, sizeof blockage, "blockage: %.80s",
                   f->blockage == NULL ? "" : f->blockage);
    check_pair(reader, corrections, f, BOUNDARY_MASKELL, blockage,
               "blockage: maskell, or maskell split",
               is_blockage(f, "maskell") || is_blockage(f, "maskell split"));
    check_pair(reader, corrections, f, BOUNDARY_WALL_SIGNATURE, blockage,
               "blockage: wall signature", is_blockage(f, "wall signature"));
    check_pair(reader, corrections, f, BOUNDARY_OPEN_JET, blockage, "blockage: open jet",
               is_blockage(f, "open jet"));
    check_pair(reader, corrections, f, BOUNDARY_SLOTTED, blockage, "blockage: slotted",
               is_blockage(f, "slotted"));
    check_pair(reader, corrections, f, BOUNDARY_TWO_GRADIENTS,
               f->buoyancy == BUOYANCY_TWO_GRADIENTS ? "buoyancy: two gradients" : "buoyancy",
               "buoyancy: two gradients", f->buoyancy == BUOYANCY_TWO_GRADIENTS);
}

static size_t maskell_rules(const struct facility *f, struct rule *rules)
{
    const struct maskell_block *m = &f->boundary.maskell;
    int is_split = is_blockage(f, "maskell split");
    int by_taps = m->base_surface != NULL, by_number = !isnan(m->base_cp);
    int has_sweep = m->sweep_cd.n > 0 || m->sweep_cl.n > 0;
    const struct rule found[] = {
        {by_taps && by_number, BOUNDARY_MASKELL,
         "maskell has base_surface and base_pressure; keep the one that is the base's"},
        {!is_split && !by_taps && !by_number, BOUNDARY_MASKELL,
         "maskell needs the base's pressure: base_surface of taps.csv, or base_pressure as a "
         "coefficient"},
        {is_split && (by_taps || by_number) == (m->wake_factor > 0), BOUNDARY_MASKELL,
         "maskell split needs either a wake_factor (5/2 is Maskell's) or the base's pressure "
         "(base_surface, base_pressure)"},
        {!is_split && m->wake_factor > 0, BOUNDARY_MASKELL,
         "wake_factor is for maskell split; maskell finds it from the base's pressure; remove it"},
        {is_split && isnan(m->attached_drag), BOUNDARY_MASKELL,
         "maskell split needs attached_drag, the drag coefficient of the attached flow"},
        {!is_split && !isnan(m->attached_drag), BOUNDARY_MASKELL,
         "attached_drag is for maskell split; remove it, or choose that"},
        {is_split && has_sweep == !isnan(m->vortex_drag), BOUNDARY_MASKELL,
         "maskell split needs either vortex_drag, K in CDi = K CL^2, or the sweep it is fitted to "
         "(sweep_CD and sweep_CL)"},
        {!is_split && (has_sweep || !isnan(m->vortex_drag)), BOUNDARY_MASKELL,
         "the vortex drag is for maskell split; remove vortex_drag and the sweep, or choose that"},
        {m->sweep_cd.n != m->sweep_cl.n, BOUNDARY_MASKELL,
         "sweep_CD and sweep_CL are not equally long; write a CD for every CL"},
    };
    memcpy(rules, found, sizeof found);
    return f->boundary.given[BOUNDARY_MASKELL] ? sizeof found / sizeof *found : 0;
}

static size_t jet_rules(const struct facility *f, struct rule *rules)
{
    const struct jet_block *j = &f->boundary.jet;
    int is_whole = j->collector_area > 0 && j->collector_distance > 0 &&
                   !isnan(j->collector_wake_factor) && !isnan(j->collector_wake_constant);
    const struct rule found[] = {
        {j->collector != 0 && !is_whole, BOUNDARY_OPEN_JET,
         "the collector's piece is on, and needs collector_area, collector_distance, "
         "collector_wake_factor and collector_wake_constant; the last two are not verified against "
         "the paper, so they are yours"},
    };
    memcpy(rules, found, sizeof found);
    return f->boundary.given[BOUNDARY_OPEN_JET] ? sizeof found / sizeof *found : 0;
}

static size_t slotted_rules(const struct facility *f, struct rule *rules)
{
    const struct slotted_block *s = &f->boundary.slotted;
    int has_series = s->area.n > 0 || s->coefficient.n > 0;
    const struct rule found[] = {
        {has_series == !isnan(s->factor), BOUNDARY_SLOTTED,
         "slotted needs either the facility's factor, or the series it is fitted to (series_area "
         "and series_CD)"},
        {s->area.n != s->coefficient.n, BOUNDARY_SLOTTED,
         "series_area and series_CD are not equally long; write a CD for every area"},
    };
    memcpy(rules, found, sizeof found);
    return f->boundary.given[BOUNDARY_SLOTTED] ? sizeof found / sizeof *found : 0;
}

static int is_of(const struct number_list *list, size_t n)
{
    return list->n == 0 || list->n == n;
}

static size_t list_rules(const struct facility *f, struct rule *rules)
{
    const struct boundary *b = &f->boundary;
    const struct gradients_block *g = &b->gradients;
    const struct reynolds_block *r = &b->reynolds;
    const struct rule found[] = {
        {b->given[BOUNDARY_TWO_GRADIENTS] &&
             (g->gradient.n != 2 || !is_of(&g->cd, 2) || !is_of(&g->cl, 2) || !is_of(&g->clf, 2)),
         BOUNDARY_TWO_GRADIENTS, "two_gradients needs two numbers in every list"},
        {(g->cl.n > 0) != (g->clf.n > 0), BOUNDARY_TWO_GRADIENTS,
         "two_gradients has one of CL and CLF; the split between the axles needs both, or leave "
         "both "
         "out"},
        {b->turn.yaw.n != b->turn.cy.n || b->turn.yaw.n != b->turn.mirrored_cy.n,
         BOUNDARY_FLOW_ANGULARITY,
         "yaw, CY and mirrored_CY are not equally long; write both for every yaw"},
        {!is_of(&r->cd, r->re.n) || !is_of(&r->cl, r->re.n) || !is_of(&r->clf, r->re.n),
         BOUNDARY_REYNOLDS, "reynolds: a list is not as long as Re; write one for every Re"},
        {(r->cl.n > 0) != (r->clf.n > 0), BOUNDARY_REYNOLDS,
         "reynolds has one of CL and CLF; the split between the axles needs both, or leave both "
         "out"},
        {b->given[BOUNDARY_REYNOLDS] && r->cd.n == 0 && r->cl.n == 0, BOUNDARY_REYNOLDS,
         "reynolds has no coefficient; write CD, or CL and CLF"},
    };
    memcpy(rules, found, sizeof found);
    return sizeof found / sizeof *found;
}

void campaign_check_boundary(struct campaign_reader *reader, int node, const struct facility *f)
{
    int corrections = yaml_tree_find(reader->tree, node, "corrections");
    struct rule rules[32];
    size_t n = maskell_rules(f, rules);
    n += jet_rules(f, rules + n);
    n += slotted_rules(f, rules + n);
    n += list_rules(f, rules + n);
    check_pairs(reader, corrections, f);
    for (size_t i = 0; i < n; i++) {
        const char *key = NULL;
        (void)campaign_boundary_table(rules[i].block, &key);
        if (rules[i].is_wrong)
            campaign_trouble(reader, yaml_tree_find(reader->tree, corrections, key),
                             "facility %.80s: %s", f->name, rules[i].text);
    }
}
