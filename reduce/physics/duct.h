/* duct.h - the axial speed that a point source makes in a rectangular duct with solid walls.
 *
 * The walls are replaced by images: with the section B wide (y = -B/2 .. B/2) and H high (z = 0 .. H) a
 * source at (x0, y0, z0) has copies at y = 2mB + y0 and (2m + 1)B - y0, z = 2nH + z0 and 2nH - z0, and
 *
 *   u = Q/(4 pi) sum (x - x0)/r^3 + Q/(2C),   C = B H
 *
 * The last term keeps the speed far upstream as it was: u runs from 0 there to Q/C far downstream. The
 * sum converges far too slowly to be added term by term; it is split as tunnel_factor.c splits its own.
 * Evidence: exact for incompressible potential flow.
 * Source:   images: Lock, "The interference of a wind tunnel on a symmetrical body", ARC R&M 1275, 1929
 *           (title from memory). Split: Ewald, Ann. Phys. 369, 1921 (from memory); derived here, and
 *           compared in the tests with the duct's own modes.                                       */
#ifndef LAPWING_DUCT_H
#define LAPWING_DUCT_H

struct duct {
    double width, height; /* m, B and H */
};

struct duct_place {
    double x, y, z; /* m: aft, right of the centre plane, above the floor */
};

/* What is left out of the sum: the flow that is there without the tunnel. */
enum duct_part {
    DUCT_ALL,          /* nothing: the speed on a wall */
    DUCT_WITHOUT_SELF, /* the source itself: what walls and floor do */
    DUCT_WITHOUT_PAIR  /* the source and its mirror image in the floor: what the other walls do */
};

/* Axial speed per unit of source strength, 1/m2, at a place; NAN when the section is not positive, its
 * sides differ by more than a factor of 20, or a place is not finite. On the source itself the speed is
 * finite only without it. */
double duct_source_speed(const struct duct *duct, const struct duct_place *source,
                         const struct duct_place *at, enum duct_part part);

#endif
