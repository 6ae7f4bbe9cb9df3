/* welch_spectrum.h - the one-sided power spectral density of a record, by averaged segments. Pure. */
#ifndef LAPWING_WELCH_SPECTRUM_H
#define LAPWING_WELCH_SPECTRUM_H

#include <stddef.h>

enum {
    WELCH_SEGMENT_MIN = 16,
    WELCH_SEGMENT_MAX = 512,
    WELCH_SEGMENTS_WANTED = 7 /* half overlapping: of four that do not overlap */
};

/* What a spectrum rests on. */
struct welch_plan {
    size_t
        segment; /* samples of one, L, a power of two; 0: the record is too short for a spectrum */
    size_t segments; /* K, every one L/2 after the one before */
    size_t n;        /* densities: L/2 + 1, at 0, fs/L, 2 fs/L ... fs/2 */
};

/* For a record of `samples`: the largest L up to WELCH_SEGMENT_MAX of which seven fit in; what is left over
 * at the end is not used. All 0 below 4 * WELCH_SEGMENT_MIN samples. */
struct welch_plan welch_plan_for(size_t samples);

/* Density of x, in its unit squared per Hz.
 *
 *   P(f_k) = 2 / (fs K U) sum_s |sum_j w_j x_(s,j) exp(-2 pi i j k / L)|^2,  U = sum_j w_j^2
 *   w_j = (1 - cos(2 pi j / L)) / 2 (Hann)
 *
 * without the factor 2 at 0 and at fs/2, so that sum_k P(f_k) fs/L is the mean of (w x)^2 over that of w^2.
 *
 * Given:   x        samples at even intervals, all of them finite, less the mean of the whole record, which
 *                   nothing here takes off: a drift shows at the lowest frequencies
 *          plan     welch_plan_for() of their number, segment not 0
 *          rate     fs, samples a second, positive
 *          room     for plan.segment doubles
 *          density  for plan.n doubles
 * Source:  Welch, The use of fast Fourier transform for the estimation of power spectra, IEEE Trans. Audio
 *          and Electroacoustics AU-15 (1967), pp. 70-73; one-sided as in Bendat and Piersol, Random Data.
 *          Both from memory. */
void welch_spectrum(const double *x, const struct welch_plan *plan, double rate, double *room,
                    double *density);

/* Equivalent degrees of freedom of a density between the ends (those at 0 and fs/2 have half as many):
 *
 *   v = 2 K / (1 + 2 sum_(j=1)^(K-1) (1 - j/K) rho_j),  rho_j = (sum w_i w_(i + j L/2) / sum w_i^2)^2
 *
 * Source: Welch, as above, for the variance of the mean of K densities of white noise. */
double welch_degrees_of_freedom(const struct welch_plan *plan);

/* Factors on a density between which the true one is with 95 %: v / chi2(0.975; v) and v / chi2(0.025; v).
 * Source: Bendat and Piersol, Random Data, from memory. v positive; NAN else. */
struct welch_factors {
    double lower, upper;
};
struct welch_factors welch_confidence(double degrees_of_freedom);

#endif
