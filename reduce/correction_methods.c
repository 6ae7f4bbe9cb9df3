/* correction_methods.c - see correction_methods.h. */
#include "reduce/correction_methods.h"

#include <math.h>
#include <stdio.h>

#include "reduce/boundary_made.h"
#include "reduce/physics/constants.h"

enum { FOUND_SIZE = 400 };

struct method {
    const char *step, *name, *equation, *evidence, *source, *not_verified;
    char found[FOUND_SIZE];
};

static const struct method volume_buoyancy = {
    "buoyancy",
    "horizontal",
    "CD - [-(dCp/dx) G V/A]",
    "a gradient that is even over the car's length, attached flow; on the drag alone",
    "Glauert, ARC R&M 1566, 1933 (cited second-hand)",
    "",
    ""};
static const struct method gradients = {"buoyancy",
                                        "two gradients",
                                        "C - s dCp/dx, s = (C2 - C1)/(G2 - G1)",
                                        "linear in the gradient; runs that differ in nothing else; "
                                        "not beyond the two gradients by more "
                                        "than their distance",
                                        "SAE 2006-01-0568, 2006 (title read; equation derived)",
                                        "the straight line in the gradient",
                                        ""};
static const struct method angularity = {
    "flow angularity",
    "reference body and its mirror image",
    "psi0 = (b + b')/(2 a1), added to the yaw only where it differs from 0 by two standard "
    "uncertainties",
    "yaw in the straight part of CY, some 5 degrees; the reference body stood as the car stands",
    "common practice, no source",
    "",
    ""};
static const struct method reynolds = {
    "Reynolds",
    "to a reference Reynolds number",
    "C + b log10(Re_ref/Re)",
    "inside the measured sweep only; the sweep also holds what speed does to tyres, belt and model",
    "common practice, no source",
    "",
    ""};

static void say_gradients(const struct boundary_made *made, struct method *method)
{
    const struct gradient_sensitivity *s = made->sensitivity;
    (void)snprintf(method->found, sizeof method->found,
                   "dCD/dG %.4g m, dCL/dG %.4g m, dCLF/dG %.4g m, gradients %.4g to %.4g 1/m%s",
                   s[CARRIED_CD].slope, s[CARRIED_CL].slope, s[CARRIED_CLF].slope,
                   s[CARRIED_CD].lowest, s[CARRIED_CD].highest,
                   made->gradient_beyond ? "; the facility's own lies beyond the evidence" : "");
}

static void say_angularity(const struct boundary_made *made, struct method *method)
{
    const double degree = 180.0 / PI;
    const struct flow_turn *turn = &made->turn;
    (void)snprintf(method->found, sizeof method->found,
                   "flow turned by %+.4f +- %.4f deg, air from right positive: %s; the body's own "
                   "side force at no yaw %+.5f "
                   "+- %.5f, zero at %+.4f deg",
                   degree * turn->turn, degree * turn->turn_u,
                   turn->is_confirmed ? "confirmed, added to the yaw"
                                      : "not confirmed, reported only",
                   turn->asymmetry, turn->asymmetry_u, degree * made->body_offset.yaw);
}

static void say_reynolds(const struct boundary_made *made, struct method *method)
{
    static const char *const names[CARRIED] = {
        [CARRIED_CD] = "CD", [CARRIED_CL] = "CL", [CARRIED_CLF] = "CLF"};
    size_t used = 0;
    for (int i = 0; i < CARRIED; i++) {
        const struct line_fit *fit = &made->reynolds.fit[i];
        if (!made->reynolds.has[i] || used >= sizeof method->found)
            continue;
        used += (size_t)snprintf(method->found + used, sizeof method->found - used,
                                 "%s%s %+.4g +- %.2g a decade, Re %.4g to %.4g",
                                 used > 0 ? "; " : "", names[i], fit->slope, fit->slope_u,
                                 pow(10.0, fit->lowest), pow(10.0, fit->highest));
    }
}

static void say_blockage(const struct facility *facility, const struct boundary_made *made,
                         struct method *method)
{
    const struct boundary *boundary = &facility->boundary;
    if (boundary->given[BOUNDARY_SLOTTED] && made->slotted.degrees_of_freedom > 0)
        (void)snprintf(
            method->found, sizeof method->found,
            "k %.4g +- %.2g from %zu measurements to S/C %.3g, free air %.4g, residual %.2g",
            made->slotted.factor, made->slotted.factor_u, boundary->slotted.area.n,
            made->slotted.highest, made->slotted.free_air, made->slotted.residual_sd);
    if (boundary->given[BOUNDARY_MASKELL] && made->vortex.degrees_of_freedom > 0)
        (void)snprintf(
            method->found, sizeof method->found,
            "K %.4g +- %.2g from a sweep of %zu points, CL^2 %.3g to %.3g, residual %.2g",
            made->vortex.slope, made->vortex.slope_u, boundary->maskell.sweep_cd.n,
            made->vortex.lowest, made->vortex.highest, made->vortex.residual_sd);
    if (boundary->given[BOUNDARY_OPEN_JET])
        (void)snprintf(method->found, sizeof method->found,
                       "weights as declared: expansion %g, nozzle %g, nozzle_q %g, collector %g",
                       boundary->jet.expansion, boundary->jet.nozzle, boundary->jet.nozzle_q,
                       boundary->jet.collector);
}

static enum status write_method(struct statement *insert, const struct facility *facility,
                                int sequence, const struct method *method, struct fault *fault)
{
    const char *const texts[] = {method->step,     method->name,   method->equation,
                                 method->evidence, method->source, method->not_verified,
                                 method->found};
    enum status status = statement_bind_text(insert, 1, facility->name, fault);
    if (status == OK)
        status = statement_bind_integer(insert, 2, sequence, fault);
    for (int i = 0; status == OK && i < 7; i++)
        status = statement_bind_text(insert, i + 3, texts[i], fault);
    return status == OK ? statement_run(insert, fault) : status;
}

/* The methods in force at a facility, in the order of the steps. */
static int gather(const struct facility *facility, const struct boundary_made *made,
                  struct method methods[4])
{
    const struct blockage_family *family = blockage_family(facility->blockage);
    int n = 0;
    if (facility->buoyancy == BUOYANCY_HORIZONTAL)
        methods[n++] = volume_buoyancy;
    if (facility->buoyancy == BUOYANCY_TWO_GRADIENTS) {
        methods[n] = gradients;
        say_gradients(made, &methods[n++]);
    }
    if (family != NULL && family != blockage_family_at(0)) { /* the first row is "none" */
        methods[n] = (struct method){"blockage",
                                     family->name,
                                     family->equation,
                                     family->evidence,
                                     family->source,
                                     family->not_verified,
                                     ""};
        say_blockage(facility, made, &methods[n++]);
    }
    if (facility->boundary.given[BOUNDARY_FLOW_ANGULARITY]) {
        methods[n] = angularity;
        say_angularity(made, &methods[n++]);
    }
    if (facility->boundary.given[BOUNDARY_REYNOLDS]) {
        methods[n] = reynolds;
        say_reynolds(made, &methods[n++]);
    }
    return n;
}

static enum status write_facility(struct statement *insert, const struct facility *facility,
                                  struct fault *fault)
{
    struct method methods[4];
    struct boundary_made made;
    const char *what = "";
    enum status status = OK;
    if (facility->corrected != CORRECTED_NO || facility->section == SECTION_BENCH ||
        boundary_make(facility, &made, &what) != OUTCOME_OK) /* reported by recipe_check() */
        return OK;
    int n = gather(facility, &made, methods);
    for (int i = 0; status == OK && i < n; i++)
        status = write_method(insert, facility, i + 1, &methods[i], fault);
    return status;
}

static enum status write_all(struct store *store, const struct campaign *campaign,
                             struct fault *fault)
{
    struct statement *insert = NULL;
    enum status status = store_execute(store, "DELETE FROM correction_method", fault);
    if (status == OK)
        status =
            statement_prepare(store,
                              "INSERT INTO correction_method (facility, sequence, step, method, "
                              "equation, evidence, source, not_verified, found) "
                              "VALUES (?,?,?,?,?,?,?,?,?)",
                              &insert, fault);
    for (size_t i = 0; status == OK && i < campaign->n_facilities; i++)
        status = write_facility(insert, &campaign->facilities[i], fault);
    statement_free(insert);
    return status;
}

enum status correction_methods_write(struct store *store, const struct campaign *campaign,
                                     struct fault *fault)
{
    enum status status = store_begin(store, fault);
    if (status != OK)
        return status;
    status = write_all(store, campaign, fault);
    if (status == OK)
        status = store_commit(store, fault);
    if (status != OK)
        store_rollback(store);
    return status;
}
