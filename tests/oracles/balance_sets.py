#!/usr/bin/env python3
"""Writes the invented balances, and their loads, outputs, fits and iterates, of tests/oracles/balance_sets.

Two six-component balances are invented by a generator of whole numbers (modulus 2^31, multiplier
1103515245, increment 12345, the constants of the C standard's example of rand()): one with first-order
terms, squares and products (27 terms an output), one with the 96 terms of reduce/physics/balance_terms.h. Loads are
shares of the rated load. Outputs, iterates and least-squares fits are worked with fractions or with
50 decimal digits and rounded once at the end, so that no digit rests on binary arithmetic. The program shares
nothing with this script.

  points      loads and the outputs they give
  iterations  F(1) = C1^-1 R, F(n+1) = C1^-1 (R - C2 H(F(n))), to a change below 1e-13
  calset      90 loadings with noise of +-2e-4, outputs rounded to 1e-7; calfit is their exact fit
  1comp       r = F + c F^2 in closed form, F = (sqrt(1 + 4 c r) - 1) / (2 c), and the first iterates
  tare        r = 2 F + 0.01 F^2, F = applied + 3: fit of a and b, tare from the first reading, repeat

Usage: balance_sets.py FOLDER
"""
import itertools
import os
import sys
from decimal import Decimal, getcontext
from fractions import Fraction

getcontext().prec = 50
LOADS = range(6)
PAIRS = list(itertools.combinations(LOADS, 2))
POINTS = ["1 0 0 0 0 0", "0 -1 0 0 0 0", "0.5 -0.5 0.25 0.25 -0.75 1", "1 1 1 1 1 1",
          "-1 1 -1 1 -1 1", "0.8 -0.3 0.6 -0.9 0.2 -0.4", "0 0 0 0 0 0",
          "0.1 0.05 -0.02 0.3 -0.15 0.07"]


def generator(state):
    while True:
        state = (1103515245 * state + 12345) % (1 << 31)
        yield state / (1 << 31) * 2 - 1


def text(value, digits):
    if value == 0:
        return "0"
    decimal = Decimal(value.numerator) / Decimal(value.denominator) if isinstance(
        value, Fraction) else Decimal(value)
    return format(float(f"{decimal:.{digits - 1}e}"), f".{digits}g")


def write(folder, name, head, rows, digits):
    with open(os.path.join(folder, name), "w", encoding="ascii", newline="\n") as file:
        file.write(head + "\n")
        for row in rows:
            cells = [cell if isinstance(cell, str) else text(cell, digits) for cell in row]
            file.write(",".join(cells) + "\n")


def terms_27(f):
    return list(f) + [f[i] * f[j] for i in LOADS for j in range(i, 6)]


def terms_96(f):
    a = [abs(x) for x in f]
    return (list(f) + a + [x * x for x in f] + [x * y for x, y in zip(f, a)]
            + [f[i] * f[j] for i, j in PAIRS] + [a[i] * a[j] for i, j in PAIRS]
            + [f[i] * a[j] for i, j in PAIRS] + [a[i] * f[j] for i, j in PAIRS]
            + [x ** 3 for x in f] + [x ** 3 for x in a])


def names(parts):
    n = [f"F{i + 1}" for i in LOADS]
    if parts == 27:
        return n + [f"{n[i]}*{n[j]}" for i in LOADS for j in range(i, 6)]
    return (n + [f"|{x}|" for x in n] + [f"{x}*{x}" for x in n] + [f"{x}*|{x}|" for x in n]
            + [f"{n[i]}*{n[j]}" for i, j in PAIRS] + [f"|{n[i]}*{n[j]}|" for i, j in PAIRS]
            + [f"{n[i]}*|{n[j]}|" for i, j in PAIRS] + [f"|{n[i]}|*{n[j]}" for i, j in PAIRS]
            + [f"{x}*{x}*{x}" for x in n] + [f"|{x}*{x}*{x}|" for x in n])


def solve(a, b):
    """Exact answer of a square system of fractions."""
    n = len(b)
    rows = [list(row) + [value] for row, value in zip(a, b)]
    for k in range(n):
        pivot = next(i for i in range(k, n) if rows[i][k] != 0)
        rows[k], rows[pivot] = rows[pivot], rows[k]
        rows[k] = [value / rows[k][k] for value in rows[k]]
        for i in range(n):
            if i != k and rows[i][k] != 0:
                factor = rows[i][k]
                rows[i] = [x - factor * y for x, y in zip(rows[i], rows[k])]
    return [row[n] for row in rows]


def dot(a, b):
    return sum(x * y for x, y in zip(a, b))


def inverse(matrix):
    unit = [[Fraction(int(i == j)) for i in LOADS] for j in LOADS]
    columns = [solve(matrix, one) for one in unit]
    return [[columns[j][i] for j in LOADS] for i in LOADS]


def decimals(values):
    return [Decimal(v.numerator) / Decimal(v.denominator) for v in values]


def iterates(matrix, terms, outputs, stop):
    c1 = [decimals(row) for row in inverse([row[:6] for row in matrix])]
    c2 = [decimals(row[6:]) for row in matrix]
    r = decimals(outputs)
    f = [dot(row, r) for row in c1]
    change = max(abs(x) for x in f)
    while True:
        yield f, change
        if change < stop:
            return
        rest = [x - dot(row, terms(f)[6:]) for x, row in zip(r, c2)]
        new = [dot(row, rest) for row in c1]
        change = max(abs(x - y) for x, y in zip(new, f))
        f = new


def write_balance(folder, name, matrix, terms):
    head = "output," + ",".join(names(len(matrix[0])))
    write(folder, f"{name}_coeffs.csv", head,
          [[f"R{i + 1}"] + matrix[i] for i in LOADS], 17)
    points, walk = [], []
    for number, line in enumerate(POINTS, 1):
        f = [Fraction(word) for word in line.split()]
        r = [dot(row, terms(f)) for row in matrix]
        points.append([str(number)] + line.split() + r)
        for step, (at, change) in enumerate(iterates(matrix, terms, r, Decimal("1e-13")), 1):
            walk.append([str(number), str(step)] + at + [change])
    loads = ",".join(f"F{i + 1}" for i in LOADS)
    outputs = ",".join(f"R{i + 1}" for i in LOADS)
    write(folder, f"{name}_points.csv", f"point,{loads},{outputs}", points, 17)
    write(folder, f"{name}_iterations.csv", f"point,step,{loads},change", walk,
          17)


def loadings(random):
    made = [[v if j == i else 0 for j in LOADS] for i in LOADS
            for v in (0.25, 0.5, 0.75, 1, -0.25, -0.5, -0.75, -1)]
    for (i, j), sign in itertools.product(PAIRS, (1, -1)):
        made.append([0.7 if k == i else 0.7 * sign if k == j else 0 for k in LOADS])
    for _ in range(12):
        made.append([round(next(random), 3) for _ in LOADS])
    return [[Fraction(repr(value)) for value in row] for row in made]


def write_calset(folder, matrix, random):
    rows, x = [], []
    for f in loadings(random):
        r = [dot(row, terms_27(f)) for row in matrix]
        r = [Fraction(format(float(v) + 2e-4 * next(random), ".7f")) for v in r]
        rows.append((f, r))
        x.append([Fraction(1)] + terms_27(f))
    head = ",".join([f"F{i + 1}" for i in LOADS] + [f"R{i + 1}" for i in LOADS])
    write(folder, "balance27_calset.csv", "loading," + head,
          [[str(i)] + f + r for i, (f, r) in enumerate(rows, 1)], 10)
    columns = list(zip(*x))
    normal = [[dot(a, b) for b in columns] for a in columns]
    fits = []
    for gauge in LOADS:
        y = [r[gauge] for _, r in rows]
        fit = solve(normal, [dot(a, y) for a in columns])
        rss = sum((v - dot(row, fit)) ** 2 for v, row in zip(y, x))
        variance = rss / (len(y) - len(fit))
        sd = (Decimal(variance.numerator) / Decimal(variance.denominator)).sqrt()
        fits.append([f"R{gauge + 1}"] + fit + [sd])
    write(folder, "balance27_calfit.csv", "output,intercept," + ",".join(names(27)) + ",sd", fits,
          17)


def write_one_component(folder):
    rows = []
    for r, c in (("0.5", "0.05"), ("1", "0.05"), ("-1", "0.05"), ("1", "0.2")):
        r, c = Decimal(r), Decimal(c)
        walk = [r]
        while len(walk) < 6:
            walk.append(r - c * walk[-1] ** 2)
        rows.append([r, c, ((1 + 4 * c * r).sqrt() - 1) / (2 * c)] + walk)
    write(folder, "balance_1comp.csv", "r,c,F,step1,step2,step3,step4,step5,step6", rows, 17)


def write_tare(folder):
    applied = [Decimal(v) for v in (0, 10, 20, 30, 40, -10, -20, -30, 40)]
    r = [2 * (v + 3) + Decimal("0.01") * (v + 3) ** 2 for v in applied]
    rows, tare = [], Decimal(0)
    while len(rows) < 8:
        f = [v + tare for v in applied]
        s2, s3, s4 = (sum(v ** k for v in f) for k in (2, 3, 4))
        p1, p2 = dot(f, r), dot([v * v for v in f], r)
        determinant = s2 * s4 - s3 * s3
        a, b = (p1 * s4 - p2 * s3) / determinant, (p2 * s2 - p1 * s3) / determinant
        tare = ((a * a + 4 * b * r[0]).sqrt() - a) / (2 * b)
        rows.append([str(len(rows) + 1), a, b, tare])
    write(folder, "balance_tare_iteration.csv", "step,a,b,tare", rows, 17)


def main():
    folder = sys.argv[1]
    random = generator(20240607)
    linear = [[next(random) for _ in LOADS] for _ in LOADS]
    c1 = [[Fraction(1) if i == j else Fraction(0.03 * linear[i][j]) for j in LOADS] for i in LOADS]
    c2 = [[Fraction(0.004 * next(random)) for _ in range(21)] for _ in LOADS]
    second_order = [a + b for a, b in zip(c1, c2)]
    write_balance(folder, "balance27", second_order, terms_27)
    write_calset(folder, second_order, random)
    rest = [[Fraction(0.004 * next(random)) for _ in range(90)] for _ in LOADS]
    write_balance(folder, "balance96", [a + b for a, b in zip(c1, rest)], terms_96)
    write_one_component(folder)
    write_tare(folder)


main()
