# mixed_model.R - the numbers quoted in tests/test_mixed_model.c and tests/test_night_model.c.
#
# Needs Debian's r-cran-lme4, r-cran-lmertest, r-cran-pbkrtest, r-cran-nlme, r-cran-numderiv. Run from the top of the tree:
#   Rscript tests/oracles/mixed_model.R
# lmer and lmerTest give the fits with grouped random parts. The night with a walk is fitted by nlme
# (a walk is a sum of independent steps: Z = its lower triangle of ones, each times the root of its
# interval), and its degrees of freedom by numerical derivatives of a dense criterion written here.
suppressPackageStartupMessages({library(lme4); library(lmerTest); library(nlme)})
options(digits = 12)
show <- function(name, ...) cat(name, format(c(...), digits = 12), "\n")

# Kenward and Roger (1997), as written there: Q and P apart.
kenward_roger <- function(X, K, v) {
    K <- c(list(diag(nrow(X))), K); V <- Reduce(`+`, Map(`*`, v, K)); W <- solve(V); n <- length(K)
    F <- solve(t(X) %*% W %*% X); M <- W - W %*% X %*% F %*% t(X) %*% W
    information <- outer(1:n, 1:n, Vectorize(function(i, j) sum(diag(M %*% K[[i]] %*% M %*% K[[j]])) / 2))
    S <- solve(information); sum <- 0
    for (i in 1:n) for (j in 1:n) sum <- sum + S[i, j] * (t(X) %*% W %*% K[[i]] %*% W %*% K[[j]] %*% W %*% X -
        (t(X) %*% W %*% K[[i]] %*% W %*% X) %*% F %*% (t(X) %*% W %*% K[[j]] %*% W %*% X))
    F + 2 * F %*% sum %*% F
}

for (set in c("Dyestuff", "Dyestuff2")) {
    data(list = set, package = "lme4")
    fit <- lmer(Yield ~ 1 + (1 | Batch), get(set), REML = TRUE, control = lmerControl(optCtrl = list(
        xtol_rel = 1e-14, ftol_abs = 1e-14)))
    show(set, REMLcrit(fit), as.data.frame(VarCorr(fit))$vcov, coef(summary(fit)))
    show("  Kenward-Roger error, df", sqrt(as.matrix(pbkrtest::vcovAdj(fit))), pbkrtest::get_Lb_ddf(fit, 1))
}

dense <- function(y, X, K) {        # variances v = (residual, one of each K) to criterion and covariance
    force(y)
    list(criterion = function(v) {
            V <- diag(v[1], length(y)); for (k in seq_along(K)) V <- V + v[k + 1] * K[[k]]
            W <- solve(V); M <- t(X) %*% W %*% X; b <- solve(M, t(X) %*% W %*% y); r <- y - X %*% b
            as.numeric(determinant(V)$modulus + determinant(M)$modulus + t(r) %*% W %*% r +
                (length(y) - ncol(X)) * log(2 * pi))
         },
         cov = function(v) {
            V <- diag(v[1], length(y)); for (k in seq_along(K)) V <- V + v[k + 1] * K[[k]]
            solve(t(X) %*% solve(V) %*% X)
         },
         coefficient = function(v) {
            V <- diag(v[1], length(y)); for (k in seq_along(K)) V <- V + v[k + 1] * K[[k]]
            W <- solve(V); as.numeric(solve(t(X) %*% W %*% X, t(X) %*% W %*% y))
         })
}
satterthwaite <- function(model, v, j) {
    H <- numDeriv::hessian(model$criterion, v)
    g <- numDeriv::grad(function(u) model$cov(u)[j, j], v)
    2 * model$cov(v)[j, j]^2 / as.numeric(t(g) %*% (2 * solve(H)) %*% g)
}

night <- read.csv("tests/oracles/mixed_nights/refits.csv", comment.char = "#")
night$t <- 2 * (night$time - min(night$time)) / diff(range(night$time)) - 1
fit <- lmer(value ~ factor(configuration) + factor(attitude) + t + I(t^2) + (1 | mounting), night,
    REML = TRUE, control = lmerControl(optCtrl = list(xtol_rel = 1e-14, ftol_abs = 1e-14)))
show("refits, no walk", REMLcrit(fit), as.data.frame(VarCorr(fit))$vcov)
print(coef(summary(fit)), digits = 12)
show("  errors by Kenward and Roger", sqrt(diag(as.matrix(pbkrtest::vcovAdj(fit)))))

for (name in c("refits", "walk")) {
    night <- read.csv(sprintf("tests/oracles/mixed_nights/%s.csv", name), comment.char = "#")
    s <- (night$time - min(night$time)) / diff(range(night$time)); t <- 2 * s - 1
    X <- if (name == "refits") model.matrix(~ factor(night$configuration) + factor(night$attitude) +
        t + I(t^2)) else model.matrix(~ factor(night$configuration) + t + I(t^2))
    steps <- sort(unique(s)); root <- sqrt(diff(c(0, steps)))
    Z <- outer(s, steps, ">=") %*% diag(root); Z <- Z[, root > 0]
    K <- list(Z %*% t(Z)); if (name == "refits") { refit <- model.matrix(~ 0 + factor(night$mounting)); K <- c(K, list(refit %*% t(refit))) }
    all <- factor(rep(1, nrow(night))); y <- 1000 * night$value
    random <- if (name == "refits") list(all = pdBlocked(list(pdIdent(~ Z - 1), pdIdent(~ refit - 1))))
        else list(all = pdIdent(~ Z - 1))
    f <- lme(y ~ X - 1, random = random, method = "REML",
        control = lmeControl(msMaxIter = 500, msTol = 1e-14, tolerance = 1e-12, opt = "nlminb", allow.n.lt.q = TRUE))
    u <- as.numeric(VarCorr(f)[, "Variance"])
    show(paste(name, "in thousandths; nlme: variances"), f$sigma^2, unique(u))
    model <- dense(y, X, K)
    v <- c(f$sigma^2, u[1], if (name == "refits") u[ncol(Z) + 1])
    o <- optim(log(v), function(l) model$criterion(exp(l)), method = "BFGS",
        control = list(reltol = 1e-16, maxit = 1000))
    v <- exp(o$par)
    for (i in 1:5) v <- v - as.numeric(solve(numDeriv::hessian(model$criterion, v),
        numDeriv::grad(model$criterion, v)))
    show("  dense criterion, variances (residual, walk over the night, refit)", model$criterion(v), v)
    for (j in 2:max(night$configuration + 1))
        show(sprintf("  delta %d: value, error, df", j - 1), model$coefficient(v)[j],
            sqrt(model$cov(v)[j, j]), satterthwaite(model, v, j))
    show("  errors by Kenward and Roger", sqrt(diag(kenward_roger(X, K, v))))
    C <- model$cov(v); show("  correlation of deltas 1 and 2", C[2, 3] / sqrt(C[2, 2] * C[3, 3]))
}
