/* spheroid.h - potential-flow shape factors of a prolate spheroid, length over diameter f >= 1.
 *
 * NAN for f below 1 (a body wider than long) or not finite.
 * Source: Lamb, "Hydrodynamics", 6th edition, 1932, article 114 (from memory):
 *   k1 = a0/(2 - a0),   a0 = 2 (1 - e^2)/e^3 (artanh e - e),   e^2 = 1 - 1/f^2                     */
#ifndef LAPWING_SPHEROID_H
#define LAPWING_SPHEROID_H

/* Added-mass coefficient along the long axis: 0.5 for a sphere, 0 for a needle. */
double spheroid_added_mass(double length_over_diameter);

/* Body factor of solid blockage, K = (sqrt(pi)/2)(1 + k1): 1.329 for a sphere, 0.959 at f = 4.
 * Source: form of Thom and of Herriot, NACA Report 995, 1950. */
double spheroid_body_factor(double length_over_diameter);

#endif
