#!/usr/bin/env python3
"""Heights of a rigid plane at known poses, and a least-squares plane in exact fractions.

Independent of the program: the pose is made by rotation matrices (pitch about y, then roll about the car's
own x), the fit by the normal equations in rational numbers. Prints what tests/test_height_plane.c quotes.
Standard library only. Pose, places and readings are invented.
"""
from fractions import Fraction
from math import cos, pi, sin


def times(a, b):
    return [[sum(a[i][k] * b[k][j] for k in range(3)) for j in range(3)] for i in range(3)]


def heights(h0, pitch, roll, places):
    """x aft, y right, z up. Nose down: what is aft goes up. Right side down: what is right goes down."""
    about_y = [[cos(pitch), 0, -sin(pitch)], [0, 1, 0], [sin(pitch), 0, cos(pitch)]]
    about_x = [[1, 0, 0], [0, cos(roll), sin(roll)], [0, -sin(roll), cos(roll)]]
    turn = times(about_y, about_x)
    return [h0 + turn[2][0] * x + turn[2][1] * y for x, y in places]


def solve(matrix, right):
    n = len(matrix)
    rows = [list(matrix[i]) + [right[i]] for i in range(n)]
    for i in range(n):
        pivot = next(k for k in range(i, n) if rows[k][i] != 0)
        rows[i], rows[pivot] = rows[pivot], rows[i]
        rows[i] = [value / rows[i][i] for value in rows[i]]
        for k in range(n):
            if k != i:
                rows[k] = [a - rows[k][i] * b for a, b in zip(rows[k], rows[i])]
    return [row[n] for row in rows]


def plane(places, values):
    design = [[Fraction(1), Fraction(x), Fraction(y)] for x, y in places]
    normal = [[sum(row[i] * row[j] for row in design) for j in range(3)] for i in range(3)]
    right = [sum(row[i] * Fraction(h) for row, h in zip(design, values)) for i in range(3)]
    found = solve(normal, right)
    return found, [Fraction(h) - sum(a * b for a, b in zip(row, found)) for row, h in zip(design, values)]


places = [(-0.60, -0.20), (-0.55, 0.22), (0.70, 0.05), (0.10, -0.31)]
pose = (0.0321, 1.3 * pi / 180, -0.8 * pi / 180)
print("wheelbase 1.45 m, h0 %.17g, pitch %.17g, roll %.17g" % pose)
for place, height in zip(places, heights(*pose, places)):
    print("  h(%+.2f, %+.2f) = %.17g" % (*place, height))
print("  front %.17g rear %.17g" % tuple(heights(*pose, [(-0.725, 0), (0.725, 0)])))

decimal = [("-0.60", "-0.20"), ("-0.55", "0.22"), ("0.70", "0.05"), ("0.10", "-0.31"), ("0.68", "-0.11")]
readings = ["0.0251", "0.0249", "0.0412", "0.0338", "0.0405"]
(a, b, c), residuals = plane(decimal, readings)
print("five readings %s" % readings)
print("  a %.17g b %.17g c %.17g" % (a, b, c))
print("  front %.17g rear %.17g" % (a - b * Fraction("0.725"), a + b * Fraction("0.725")))
print("  residuals", ["%.17g" % r for r in residuals])
front = [
    plane(decimal, [int(k == i) for k in range(5)])[0] for i in range(5)
]
variance = sum((p[0] - p[1] * Fraction("0.725")) ** 2 for p in front)
print("  u(front)/u(sensor), all alike and independent: %.17g" % float(variance) ** 0.5)
