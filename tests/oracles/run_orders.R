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
