/* recipe.h - from what the campaign declares to the recipe of a run's points.
 *
 * The kind of loads is told by the channels of the run: outputs of a balance, ready-made loads,
 * coefficients reduced by the facility, or none where there are taps alone; two kinds in one run are
 * refused, because nobody could say which of them the result is made of.                                                             */
#ifndef LAPWING_RECIPE_H
#define LAPWING_RECIPE_H

#include "reduce/night.h"
#include "reduce/physics/tunnel_point.h"
#include "reduce/run_data.h"
#include "schema/contents.h"

/* A recipe and where it comes from. */
struct run_recipe {
    struct tunnel_recipe tunnel;
    const struct facility *facility;
    const struct balance *balance; /* NULL unless loads come through one */
    struct load_contents contents; /* of the run's total */
    enum role drop_role;           /* whose polynomial is q, with Q_FROM_DROP */
    double yaw_turn;               /* rad, of the flow, air from right positive; added to the yaw */
    int gradient_beyond;           /* 1: two gradients are taken beyond their evidence */
};

/* Role of the first of the six load channels of a source kind; the other five follow. For
 * LOADS_AS_COEFFICIENTS the first of the eight coefficients. */
enum role recipe_first_role(enum load_source source);

/* Role of the pressure drop that a facility's q is a polynomial of; contraction_drop where none is. */
enum role recipe_drop_role(const struct facility *facility);

/* Role of a cell of wheels and belt. */
enum role recipe_cell_role(enum wheel_cell cell);

/* Sets the cells and the contents of a recipe that is made but for them; part of recipe_make(). */
enum status recipe_set_cells(const struct car *car, const struct run_data *data,
                             struct run_recipe *recipe, struct fault *fault);

/* Makes the recipe of a run. NO_RESULT: the science refuses (two kinds of loads, none, no facility,
 * no balance, no calibration, no yaw where loads must be turned by it, cells that are declared to be
 * added and cannot be); the fault's text says why and belongs into a flag. */
enum status recipe_make(const struct night *night, const struct run_row *run,
                        const struct run_data *data, struct run_recipe *recipe,
                        struct fault *fault);

/* 1 when the run's numbers cannot be told from offsets without a zero: those of loads, and those of
 * taps alone. Coefficients of the facility need none. */
int recipe_needs_zero(const struct tunnel_recipe *recipe);

/* What the run does not measure, as a sentence without a stop: "not measured: Fy Fz Mx My Mz"; 0 and ""
 * when it measures all of its kind. */
int recipe_absent_words(const struct tunnel_recipe *recipe, char *out, size_t size);

/* 1 when the points have loads: outputs of a balance, or ready-made ones. */
int recipe_has_loads(const struct tunnel_recipe *recipe);

/* 1 when a facility's balance_follows names this axis ("pitch", "roll", "yaw"). */
int recipe_balance_follows(const struct facility *facility, const char *axis);

/* 1 when any target of the campaign names a yaw that is not 0. */
int recipe_targets_name_yaw(const struct campaign *campaign);

#endif
