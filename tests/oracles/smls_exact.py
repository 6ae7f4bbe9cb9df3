"""smls_exact.py - F of the SmLs sets in fractions, of the decimals and of the doubles next to them.

The "on doubles" column of tests/published/strd_anova.c. Needs nothing but Python: python3 tests/oracles/smls_exact.py
"""
from decimal import Decimal, getcontext
from fractions import Fraction

TENTHS = (4, 3, 5, 3, 5, 3, 5, 3, 5)


def f_statistic(base, replicates, read):
    groups = []
    for mean in TENTHS:
        turns = (mean if i == 0 else mean - 1 if i % 2 else mean + 1 for i in range(replicates))
        groups.append([read("%d.%d" % (base, tenth)) for tenth in turns])
    means = [sum(group) / replicates for group in groups]
    grand = sum(means) / len(groups)
    between = sum(replicates * (mean - grand) ** 2 for mean in means) / (len(groups) - 1)
    within = sum((y - mean) ** 2 for group, mean in zip(groups, means) for y in group)
    return between / (within / (len(groups) * (replicates - 1)))


getcontext().prec = 17
for base in (1, 10**6, 10**12):
    for replicates in (21, 201, 2001):
        decimals = f_statistic(base, replicates, Fraction)
        doubles = f_statistic(base, replicates, lambda text: Fraction(float(text)))
        print(base, replicates, decimals, Decimal(doubles.numerator) / Decimal(doubles.denominator))
