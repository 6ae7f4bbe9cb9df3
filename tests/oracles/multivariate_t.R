# multivariate_t.R - check values of simultaneous_multiplier() (tests/test_student.c).
#
# Two programs that share nothing with ours or with each other: nested adaptive integration over the
# common factor and the noise estimate (equal correlations, fractional degrees of freedom), and
# R's mvtnorm (Genz and Bretz) for correlations without structure.
#
# Debian: apt-get install r-base-core r-cran-mvtnorm; Rscript tests/oracles/multivariate_t.R

equal_correlation <- function(confidence, n, df, rho) {
  given_noise <- function(a) integrate(function(z)
    dnorm(z) * (pnorm((a - sqrt(rho) * z) / sqrt(1 - rho)) -
                pnorm((-a - sqrt(rho) * z) / sqrt(1 - rho)))^n,
    -9, 9, rel.tol = 1e-11, subdivisions = 500)$value
  scale_density <- function(s) 2 * df * s * dchisq(df * s^2, df)
  probability <- function(k) integrate(function(s)
    scale_density(s) * sapply(k * s, given_noise),
    1e-12, sqrt(qchisq(1e-13, df, lower.tail = FALSE) / df), rel.tol = 1e-10,
    subdivisions = 2000)$value
  uniroot(function(k) probability(k) - confidence, c(1.5, 30), tol = 1e-9)$root
}

for (case in list(c(.95, 2, 5, .5), c(.95, 3, 10, .5), c(.95, 5, 20, .5), c(.95, 9, 60, .5),
                  c(.99, 3, 10, .5), c(.99, 9, 60, .5), c(.95, 4, 5.42, .3), c(.95, 3, 1.5, .2),
                  c(.95, 20, 15, .4), c(.95, 63, 12, .5), c(.95, 6, 8, .9)))
  cat("equal", case, format(equal_correlation(case[1], case[2], case[3], case[4]), digits = 9), "\n")

library(mvtnorm)
set.seed(20)
quantile_of <- function(confidence, df, correlation)
  qmvt(confidence, tail = "both.tails", df = df, corr = correlation,
       algorithm = GenzBretz(maxpts = 400000, abseps = 1e-6))$quantile

# Three configurations in a row between baselines, the outer two share nothing.
chain <- matrix(c(1, .4, 0, .4, 1, .4, 0, .4, 1), 3)
# Signs mixed, no common factor.
mixed <- matrix(c(1, -.5, .3, .1, -.5, 1, .2, -.2, .3, .2, 1, .6, .1, -.2, .6, 1), 4)
cat("chain", format(quantile_of(.95, 8, chain), digits = 9), "\n")
cat("mixed", format(quantile_of(.95, 6, mixed), digits = 9), "\n")
cat("mixed 99", format(quantile_of(.99, 6, mixed), digits = 9), "\n")
# Six neighbours, correlation 0.6^|i-j| with alternating sign.
six <- outer(1:6, 1:6, function(i, j) (-.6)^abs(i - j))
cat("six", format(quantile_of(.95, 11, six), digits = 9), "\n")
