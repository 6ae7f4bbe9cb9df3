/* proof_limits.c - road, what the sheet does not show, safety; see proof.h. */
#include <math.h>

#include "report/buffer.h"
#include "report/number_text.h"
#include "report/page.h"
#include "report/proof.h"

static const char not_shown[] =
    "The wakes of other cars, the curved flow of a corner, rain, wear, strength and flutter of the "
    "part, and any other car or set-up.";

static const char safety[] =
    "These results support engineering judgement. They are no sign-off of strength, fire, rules or "
    "safety on road or track. Follow the facility's rules and the local codes; go to higher speeds "
    "and lower ride heights step by step, and look at the part between them.";

static enum status write_road(struct html *page, const struct proof *proof, struct fault *fault)
{
    const char *texts[] = {proof->part->name, NULL};
    double runs = 0;

    enum status status =
        query_real(proof->store,
                   "SELECT count(*) FROM run AS r JOIN setting AS s ON s.section = 'facility ' || "
                   "r.facility AND s.name = 'section' AND s.value = 'track' WHERE r.configuration "
                   "= ?1",
                   texts, &runs, fault);
    if (runs > 0)
        proof_pair(page, "Road",
                   "Runs of it on a track: %.0f; this sheet does not compare them with the tunnel.",
                   runs);
    else
        proof_pair(page, "Road", "%s", "Not road-tested: the season has no run of it on a track.");
    return status;
}

static enum status take_range(struct statement *row, void *context, struct fault *fault)
{
    double *value = context;

    (void)fault;
    for (int i = 0; i < 6; i++)
        value[i] = statement_real(row, i);
    return OK;
}

static enum status write_range(struct html *page, const struct proof *proof, struct fault *fault)
{
    static const struct {
        const char *name, *unit;
        double factor;
    } axes[] = {{"front ride heights", "mm", 1000},
                {"rear ride heights", "mm", 1000},
                {"yaw", "deg", 57.29577951308232}};
    const char *texts[] = {proof->part->name, NULL};
    double value[6] = {NAN, NAN, NAN, NAN, NAN, NAN};

    enum status status = query_each(
        proof->store,
        "SELECT min(front_ride_height_m), max(front_ride_height_m), min(rear_ride_height_m), "
        "max(rear_ride_height_m), min(yaw_rad), max(yaw_rad) FROM point_result AS p JOIN "
        "page_reduction AS d ON d.reduction = p.reduction JOIN page_run AS r ON r.run = p.run "
        "WHERE r.kind = 'wind_on' AND r.configuration = ?1 AND p.state NOT IN ('refused', "
        "'failed', 'excluded')",
        texts, take_range, value, fault);
    if (status != OK)
        return status;
    struct buffer range = {0};
    for (size_t i = 0; i < sizeof axes / sizeof axes[0]; i++)
        if (isfinite(value[2 * i]))
            buffer_format(&range, "%s%s of %s %s", range.length == 0 ? "Anything outside " : ", ",
                          axes[i].name,
                          number_text_range(axes[i].factor * value[2 * i],
                                            axes[i].factor * value[2 * i + 1], 1)
                              .text,
                          axes[i].unit);
    proof_pair(page, "Not shown", "%s%s%s", buffer_string(&range),
               range.length > 0 ? ", which is all that was measured of it. " : "", not_shown);
    page->out.failed |= range.failed;
    buffer_free(&range);
    return status;
}

enum status proof_limits(struct html *page, const struct proof *proof, struct fault *fault)
{
    page_section(page, "limits", "What it does not show", NULL);
    html_open(page, "dl", "class", "origin-list", HTML_END);
    enum status status = write_road(page, proof, fault);
    if (status == OK)
        status = write_range(page, proof, fault);
    html_close(page);
    html_open(page, "div", "class", "caution", HTML_END);
    html_element(page, "p", safety, HTML_END);
    html_close(page);
    html_close(page);
    return status;
}
