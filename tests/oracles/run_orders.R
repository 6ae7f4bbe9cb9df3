# run_orders.R - variance factors quoted in tests/test_run_order.c, by inverting X'X.
# Rscript tests/oracles/run_orders.R; needs Debian's r-base-core only.
options(digits = 14)
factor_of <- function(order, of, degree) {
    o <- strsplit(order, "")[[1]]; n <- length(o); x <- cbind(1, sapply(setdiff(sort(unique(o)), "A"),
        function(c) as.numeric(o == c)))
    if (degree > 0) x <- cbind(x, outer(seq_len(n) - (n + 1) / 2, 1:degree, "^"))
    if (qr(x)$rank < ncol(x)) return(NA)
    solve(crossprod(x))[of, of]
}
for (order in c("AB", "AABB", "ABAB", "ABBA", "ABA", "ABABA", "ABABABA", "ABBAABBA"))
    cat(order, format(sapply(0:2, function(d) factor_of(order, 2, d)), digits = 12), "\n")
cat("ABCABCA B straight", format(factor_of("ABCABCA", 2, 1), digits = 14), "\n")
cat("ABCABCA C bent", format(factor_of("ABCABCA", 3, 2), digits = 14), "\n")

# What intervals hold when nothing is done about drift: plain means of B less plain means of A, noise known.
# Coverage in closed form: the difference is normal about its bias with variance = noise + drift.
plain <- function(order) { o <- strsplit(order, "")[[1]]; (o == "B") / sum(o == "B") - (o == "A") / sum(o == "A") }
held <- function(bias, variance, half) pnorm((half - bias) / sqrt(variance)) - pnorm((-half - bias) / sqrt(variance))
coverage <- function(order) {
    w <- plain(order); n <- length(w); place <- seq_len(n) - 1; noise <- sum(w^2); half <- qnorm(.975) * sqrt(noise)
    walk <- .25 * sum(outer(w, w) * outer(place, place, pmin))
    c(steady = held(0, noise, half), straight = held(sum(w * place), noise, half),
      drawn = held(0, noise + sum(w * place)^2, half), walk = held(0, noise + walk, half))
}
set.seed(1)
simulated <- function(order, trials = 200000) {
    w <- plain(order); n <- length(w); half <- qnorm(.975) * sqrt(sum(w^2))
    e <- matrix(rnorm(n * trials), n); s <- .5 * rbind(0, apply(matrix(rnorm((n - 1) * trials), n - 1), 2, cumsum))
    c(steady = mean(abs(w %*% e) <= half), straight = mean(abs(w %*% (e + seq_len(n))) <= half),
      drawn = mean(abs(w %*% (e + outer(seq_len(n), rnorm(trials)))) <= half), walk = mean(abs(w %*% (e + s)) <= half))
}
for (order in c("ABA", "AB", "AABB", "ABBA")) {
    cat(order, "closed   ", format(coverage(order), digits = 10), "\n")
    if (order != "AB") cat(order, "simulated", format(simulated(order), digits = 4), "\n")
}
