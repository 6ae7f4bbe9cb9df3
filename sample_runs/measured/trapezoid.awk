# Lines "x/c cp" once round a section, from the trailing edge or near it: the normal force coefficient by
# trapezoids. The trailing edge is closed with the mean of the first and the last orifice.
{ x[NR] = $1; cp[NR] = $2 }
END {
    edge = (cp[1] + cp[NR]) / 2
    sum = (edge + cp[1]) / 2 * (x[1] - 1) + (edge + cp[NR]) / 2 * (1 - x[NR])
    for (i = 2; i <= NR; i++)
        sum += (cp[i] + cp[i - 1]) / 2 * (x[i] - x[i - 1])
    printf "%.4f\n", sum < 0 ? -sum : sum
}
