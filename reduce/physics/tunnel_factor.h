/* tunnel_factor.h - how strongly the images of a body in the tunnel walls speed up the flow past it.
 *
 * The walls of a rectangular section B x H, C = B H, act like a lattice of copies of the body. Each is
 * felt as a point doublet, so the velocity increment is eps = K tau V / C^1.5 with the tunnel factor
 *
 *   tau(B/H) = C^1.5 S / (2 pi^1.5),   S = sum' over (m,n) not (0,0) of s_mn (m^2 B^2 + n^2 H^2)^(-3/2)
 *
 * s_mn = 1 between solid walls, (-1)^(m+n) in a jet that is open on all four sides. The sums are exact
 * for any aspect ratio; there is no table to read off.
 * Evidence: point doublets fit a body that is short against the tunnel; they over-predict beyond about
 * S/C 0.10 or a length of one tunnel width.
 * Source: Glauert, "Wind tunnel interference on wings, bodies and airscrews", ARC R&M 1566, 1933;
 * Herriot, "Blockage corrections for three-dimensional-flow closed-throat wind tunnels", NACA Report
 * 995, 1950 (both cited second-hand; the sums here are derived, and give their published values).  */
#ifndef LAPWING_TUNNEL_FACTOR_H
#define LAPWING_TUNNEL_FACTOR_H

/* tau of a closed section, aspect = B/H 0.1 .. 10; NAN outside. tau(1) = 0.8112, tau(10/7) = 0.8632. */
double tunnel_factor_closed(double aspect);

/* tau of a jet open on all four sides, negative: the jet widens. Aspect as above. tau(1) = -0.2376. */
double tunnel_factor_open(double aspect);

#endif
