#!/usr/bin/env python3
"""Numbers of tests/test_slotted.c, test_reynolds.c, test_flow_angularity.c: least squares by normal
equations in exact fractions, uncertainties of ratios by numerical derivatives of the fit's formulas.

Data are invented. Usage: boundary_fits.py
"""
import math
from fractions import Fraction as F


def solve(a, b):
    """Gauss-Jordan in fractions; gives solution and inverse."""
    n = len(a)
    m = [row[:] + [b[i]] + [F(int(i == k)) for k in range(n)] for i, row in enumerate(a)]
    for i in range(n):
        p = next(r for r in range(i, n) if m[r][i] != 0)
        m[i], m[p] = m[p], m[i]
        m[i] = [v / m[i][i] for v in m[i]]
        for r in range(n):
            if r != i:
                m[r] = [v - m[r][i] * w for v, w in zip(m[r], m[i])]
    return [row[n] for row in m], [row[n + 1:] for row in m]


def fit(columns, y):
    p = len(columns)
    a = [[sum(u * v for u, v in zip(columns[i], columns[k])) for k in range(p)] for i in range(p)]
    b = [sum(u * v for u, v in zip(columns[i], y)) for i in range(p)]
    c, inverse = solve(a, b)
    rest = [v - sum(c[i] * columns[i][k] for i in range(p)) for k, v in enumerate(y)]
    s2 = sum(r * r for r in rest) / (len(y) - p)
    return [float(v) for v in c], [[float(v * s2) for v in row] for row in inverse], math.sqrt(s2)


def spread(function, c, cov):
    """Standard uncertainty of function(c), central differences."""
    slope = []
    for i, v in enumerate(c):
        h = 1e-6 * max(abs(v), 1e-3)
        up, down = c[:], c[:]
        up[i] += h
        down[i] -= h
        slope.append((function(up) - function(down)) / (2 * h))
    return math.sqrt(sum(slope[i] * cov[i][k] * slope[k] for i in range(len(c)) for k in range(len(c))))


def exact(values):
    return [F(v) for v in values]


def line(x, y):
    return fit([[F(1)] * len(x), exact(x)], exact(y))


def show(name, *values):
    print(name, *("%.15g" % v for v in values))


SHARE = ["0.02", "0.02", "0.045", "0.045", "0.08", "0.08"]
SERIES = ["0.403", "0.405", "0.411", "0.409", "0.419", "0.416"]
c, cov, s = line(SHARE, SERIES)
show("slotted k u free sd", c[1] / c[0], spread(lambda v: v[1] / v[0], c, cov), c[0], s)

RE = [1.2e6, 1.8e6, 2.4e6, 3.0e6]
CD = ["0.912", "0.905", "0.901", "0.896"]
x = [F(math.log10(v)) for v in RE]
c, cov, s = fit([[F(1)] * 4, x], exact(CD))
step = math.log10(2.8e6 / 1.5e6)
show("reynolds a b change u", c[0], c[1], c[1] * step, math.sqrt(cov[1][1]) * step)

YAW = ["-0.06", "-0.03", "0", "0.03", "0.06"]
BODY = ["-0.1512", "-0.0748", "0.0061", "0.0829", "0.1603"]
MIRROR = ["-0.1553", "-0.0792", "-0.0012", "0.0778", "0.1549"]
c, cov, s = line(YAW, BODY)
d, dov, t = line(YAW, MIRROR)
show("zero u", -c[0] / c[1], spread(lambda v: -v[0] / v[1], c, cov))
both = c + d
wide = [[0.0] * 4 for _ in range(4)]
for i in range(2):
    for k in range(2):
        wide[i][k], wide[2 + i][2 + k] = cov[i][k], dov[i][k]


def turn(v):
    return (v[0] + v[2]) / (v[1] + v[3])


def asymmetry(v):
    return (v[0] - v[2]) / 2


show("turn u asymmetry u", turn(both), spread(turn, both, wide), asymmetry(both),
     spread(asymmetry, both, wide))

DRAG = ["0.9271", "0.9083", "0.9004", "0.9049", "0.9188"]
y = exact(YAW)
c, cov, s = fit([[F(1)] * 5, y, [v * v for v in y]], exact(DRAG))
show("vertex u", -c[1] / (2 * c[2]), spread(lambda v: -v[1] / (2 * v[2]), c, cov))
