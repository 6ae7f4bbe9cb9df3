# distributions.R - check values of tests/test_quantiles.c, test_evidence.c, test_tap_change.c,
# test_repeat_agreement.c.
# Rscript tests/oracles/distributions.R
# Needs Debian's r-base-core only.
options(digits = 15)
show <- function(name, ...) cat(name, format(c(...), digits = 15), "\n")
show("t .975 df 5.42 17 200", qt(.975, c(5.42, 17, 200)))
show("t both tails 2.5 df 4, 6 df 5.5", 2 * pt(-c(2.5, 6), c(4, 5.5)))
show("F .95 (4,20) (9,90) (1,3.7)", qf(.95, c(4, 9, 1), c(20, 90, 3.7)))
show("chi2 .95 9 0.5 60", qchisq(.95, c(9, .5, 60)))
a <- read.csv("tests/published/handbook/auto83b.csv", comment.char = "#")
show("Welch t df p", unlist(t.test(mpg ~ group, a)[c("statistic", "parameter", "p.value")]))
g <- read.csv("tests/published/handbook/gear.csv", comment.char = "#")
b <- bartlett.test(diameter ~ batch, g); show("Bartlett", b$statistic, b$p.value)
d <- with(g, abs(diameter - ave(diameter, batch, FUN = median)))
show("Levene about medians", unlist(anova(lm(d ~ factor(g$batch)))[1, c("F value", "Pr(>F)")]))
show("one-way F p", unlist(anova(lm(diameter ~ factor(batch), g))[1, c("F value", "Pr(>F)")]))
p <- c(.0001, .0004, .0019, .0095, .0201, .0278, .0298, .0344, .0459, .3240, .4262, .5719, .6528, .7590, 1)
show("Benjamini-Hochberg", p.adjust(p, "BH"))
# Fieller's interval by its definition: the ratios whose t is on the limit
fieller <- function(a, b, va, vb, c, k, lo, hi) sapply(list(lo, hi), function(w)
    uniroot(function(r) (a - r * b)^2 - k^2 * (va - 2 * r * c + r^2 * vb), w, tol = 1e-13)$root)
show("Fieller interval", fieller(12, 4, 4, .36, .5, qt(.975, 12), c(-5, 3), c(3, 20)))
show("Fieller outside", fieller(12, 1, 4, 1, .2, qt(.975, 12), c(-50, -0.5), c(1, 9)))
# Paule and Mandel about 0
y <- c(4.1, -2.2, .7, 6.3, -1.5, 2.9); u <- c(1.1, .9, 1.4, 1.2, .8, 2)
show("Paule-Mandel", uniroot(function(t) sum(y^2 / (t + u^2)) - length(y), c(0, 100), tol = 1e-14)$root)
# repeats: pairs inside a stated 95 %, and the shift between two series
show("binomial few 67 of 125, many 123 of 125", pbinom(67, 125, .95), 1 - pbinom(122, 125, .95))
d <- c(.012, -.003, .007, .021, .004, -.001); U <- c(.010, .004, .006, .012, .005, .002)
show("repeat sd about 0, about the shift, ratio", sqrt(sum(d^2) / 12), sd(d) / sqrt(2),
     qnorm(.975) * sqrt(mean((d / U)^2)))
show("shift error df p", mean(d), sd(d) / sqrt(6), 5, t.test(d)$p.value)
show("4 of 6", sum(abs(d) <= U), pbinom(3, 6, .95), 1 - pbinom(2, 6, .95))
g <- c(mean(d[1:2]), mean(d[3:6])); e <- c(d[1:2] - g[1], d[3:6] - g[2])
show("groups shift error p sd", mean(g), sd(g) / sqrt(2), t.test(g)$p.value, sqrt(sum(e^2) / 8))
