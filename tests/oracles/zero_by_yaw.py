#!/usr/bin/env python3
"""What the wind-off readings of tests/published/tunnel_six_component do to coefficients by their yaw.

Reads the published log of readings and the balance in direct form, turns loads by the yaw about z (the
balance stays with the tunnel), and prints the pair of one alpha whose coefficients differ most, at the
q of point 1. Nothing of the program is used. Run in that folder."""
from csv import DictReader
from math import cos, sin, radians

AREA, LENGTH = 0.2310, 0.165
NAMES = ("CD", "CY", "CL", "CLF", "CLR", "CRM", "CPM", "CYM")

rows = [line.split() for line in open("logs/zer_20210303-154703.txt")][2:]
angle = [(round(float(r[2]), 3), float(r[3])) for r in rows]
steps = [[float(v) for v in r[6:12]] for r in rows]
balance = list(DictReader(open("balance/external.csv")))
first = [line.split() for line in open("logs/raw_rudder0.txt")][2]
drop = float(first[4])
q = 0.51549 + 2.32312 * drop + 4.62743e-5 * drop * drop


def loads(reading):
    r = {"R%d" % (i + 1): v for i, v in enumerate(reading)}
    out = []
    for row in balance:
        total = 0.0
        for term, factor in row.items():
            if term in ("load", "unit"):
                continue
            value = float(factor)
            for name in term.split("*"):
                value *= r[name]
            total += value
        out.append(total)
    return out


def in_car(load, yaw):
    c, s = cos(radians(yaw)), sin(radians(yaw))
    return [load[0] * c + load[1] * s, load[1] * c - load[0] * s, load[2],
            load[3] * c + load[4] * s, load[4] * c - load[3] * s, load[5]]


def coefficients(load):
    force, moment = q * AREA, q * AREA * LENGTH
    cl, cpm = -load[2] / force, load[4] / moment
    return [load[0] / force, load[1] / force, cl, cl / 2 - cpm, cl / 2 + cpm, load[3] / moment, cpm,
            load[5] / moment]


zero = steps[7]  # row 8: alpha 5, beta -7
made = [in_car(loads([a - b for a, b in zip(step, zero)]), angle[i][1])
        for i, step in enumerate(steps)]
print("q %.3f Pa" % q)
pairs = [(i, k) for i in range(9) for k in range(9)
         if angle[i][0] == angle[k][0] and angle[k][1] - angle[i][1] > 0.05]


def change(pair):
    return [b - a for a, b in zip(coefficients(made[pair[0]]), coefficients(made[pair[1]]))]


for i, k in sorted(pairs, key=lambda p: -max(abs(v) for v in change(p)))[:2]:
    print("points %d and %d, yaw %.3f to %.3f:" % (i + 1, k + 1, angle[i][1], angle[k][1]),
          ", ".join("%s %+.5f" % v for v in zip(NAMES, change((i, k)))))
    print("   Fx Fy Fz Mx My Mz:", ", ".join("%+.3f" % (b - a) for a, b in zip(made[i], made[k])))
