# multivariate_t.R - check values of simultaneous_multiplier() (tests/test_student.c).
#
# Programs that share nothing with ours or with each other: nested integration by Simpson's rule over the common
# factor and the noise estimate (loadings equal or not, fractional degrees of freedom: Dunnett's layouts,
# balanced or not), R's mvtnorm with TVPACK (Genz 2004, exact to 1e-12 for three t's with whole degrees of
# freedom, sides put together from its corners), and mvtnorm with Genz and Bretz for any correlations.
#
# Debian: apt-get install r-base-core r-cran-mvtnorm; Rscript tests/oracles/multivariate_t.R

simpson <- function(from, to, n) list(x = seq(from, to, length.out = 2 * n + 1),
                                      w = (to - from) / (6 * n) * c(1, rep(c(4, 2), n)[-2 * n], 1))
# Simpson's rule over the factor and over the logarithm of the noise estimate, both far into the tails.
one_factor <- function(confidence, df, loading) {
  own <- sqrt(1 - loading^2)
  z <- simpson(-9, 9, 400); weight <- z$w * dnorm(z$x)
  given_noise <- function(a) { p <- 1; for (i in seq_along(loading)) p <- p *
    (pnorm((a - loading[i] * z$x) / own[i]) - pnorm((-a - loading[i] * z$x) / own[i])); sum(weight * p) }
  s <- simpson(log(qchisq(1e-14, df) / df) / 2, log(qchisq(1e-15, df, lower.tail = FALSE) / df) / 2, 250)
  density <- s$w * 2 * df * exp(2 * s$x) * dchisq(df * exp(2 * s$x), df)
  probability <- function(k) sum(density * sapply(k * exp(s$x), given_noise))
  uniroot(function(k) probability(k) - confidence, c(1.5, 30), tol = 1e-11)$root
}
equal_correlation <- function(confidence, n, df, rho) one_factor(confidence, df, rep(sqrt(rho), n))

for (case in list(c(.95, 2, 5, .5), c(.95, 3, 10, .5), c(.95, 5, 20, .5), c(.95, 9, 60, .5),
                  c(.99, 3, 10, .5), c(.99, 9, 60, .5), c(.95, 4, 5.42, .3), c(.95, 3, 1.5, .2),
                  c(.95, 20, 15, .4), c(.95, 63, 12, .5), c(.95, 6, 8, .9)))
  cat("equal", case, format(equal_correlation(case[1], case[2], case[3], case[4]), digits = 11), "\n")
# Three treatments with 4, 6 and 12 values against a control with 8; the second one's sign turned.
cat("unbalanced", format(one_factor(.95, 26, sqrt(c(4, 6, 12) / (c(4, 6, 12) + 8)) * c(1, -1, 1)), digits = 11), "\n")
cat("loadings .9 .2 -.6 .4 0", format(one_factor(.99, 7.5, c(.9, .2, -.6, .4, 0)), digits = 11), "\n")

library(mvtnorm)
three <- function(confidence, df, correlation) {
  sides <- as.matrix(expand.grid(c(-1, 1), c(-1, 1), c(-1, 1)))
  inside <- function(k) sum(apply(sides, 1, function(s) prod(s) *
    pmvt(upper = s * k, df = df, corr = correlation, algorithm = TVPACK(1e-13))))
  uniroot(function(k) inside(k) - confidence, c(1.5, 30), tol = 1e-12)$root
}
lone <- matrix(c(1, -.5, .3, -.5, 1, .6, .3, .6, 1), 3)
cat("three, chain", format(three(.95, 8, matrix(c(1, .4, 0, .4, 1, .4, 0, .4, 1), 3)), digits = 11), "\n")
cat("three, signs that no factor gives", format(c(three(.95, 4, lone), three(.99, 12, lone)), digits = 11), "\n")
cat("three, equal", format(three(.95, 10, matrix(c(1, .5, .5, .5, 1, .5, .5, .5, 1), 3)), digits = 11), "\n")
set.seed(20)
quantile_of <- function(confidence, df, correlation)
  qmvt(confidence, tail = "both.tails", df = df, corr = correlation,
       algorithm = GenzBretz(maxpts = 400000, abseps = 1e-6))$quantile

# Signs mixed, no common factor; and six neighbours, correlation 0.6^|i-j| with alternating sign. qmvt's own
# points scatter by 1e-4 here, so the probability at our multiplier is asked as well, to its own stated error.
mixed <- matrix(c(1, -.5, .3, .1, -.5, 1, .2, -.2, .3, .2, 1, .6, .1, -.2, .6, 1), 4)
six <- outer(1:6, 1:6, function(i, j) (-.6)^abs(i - j))
for (case in list(list("mixed", .95, 6, mixed, 3.305150670), list("mixed", .99, 6, mixed, 4.760772570),
                  list("six", .95, 11, six, 3.047110000))) {
  p <- pmvt(rep(-case[[5]], nrow(case[[4]])), rep(case[[5]], nrow(case[[4]])), df = case[[3]], corr = case[[4]],
       algorithm = GenzBretz(maxpts = 2e6, abseps = 2e-7))
  cat(case[[1]], case[[2]], "qmvt", format(quantile_of(case[[2]], case[[3]], case[[4]]), digits = 9),
      "; P at", case[[5]], format(as.numeric(p), digits = 9), "+-", attr(p, "error"), "\n")
}
