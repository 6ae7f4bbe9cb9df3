#!/usr/bin/env python3
"""Writes the 6 x 27 direct form of an external balance from its published constants, exactly.

The balance (low-speed tunnel, TU Delft, numbers under the MIT licence in
tests/published/tunnel_six_component/constants) publishes its reduction as

  f = pnl (p R)                   six corrected readings, N, from output steps R less their zero
  a = arm + e f                   twelve arms, m, that give elastically
  Fx = f1    Fy = f2 + f6    Fz = f3 + f4 + f5
  Mx = -f2 a11 - f6 a12 + f3 a7 + f4 a8 + f5 a9
  My =  f1 a10 - f3 a2 - f4 a3 - f5 a4
  Mz = -f1 a6 + f2 a1 + f6 a5

Forces are linear in R and moments quadratic, so the direct form is exact. The products are
expanded with fractions of the decimal constants and rounded once, to 17 digits.

Usage: direct_matrix.py CONSTANTS_FOLDER > external.csv
"""
import csv
import sys
from fractions import Fraction

# moment: list of (sign, reading, arm), counted from 1
MOMENTS = {
    "Mx": [(-1, 2, 11), (-1, 6, 12), (1, 3, 7), (1, 4, 8), (1, 5, 9)],
    "My": [(1, 1, 10), (-1, 3, 2), (-1, 4, 3), (-1, 5, 4)],
    "Mz": [(-1, 1, 6), (1, 2, 1), (1, 6, 5)],
}
FORCES = {"Fx": [1], "Fy": [2, 6], "Fz": [3, 4, 5]}


def read_constants(folder):
    rows = {}
    with open(f"{folder}/balance_constants.csv", newline="") as file:
        for row in csv.reader(file):
            rows[row[0], row[1]] = [Fraction(cell) for cell in row[2:] if cell and row[1].isdigit()]
    per_step = rows["p_N_per_step", "1"]
    pnl = [rows["pnl", str(i)] for i in range(1, 7)]
    arm = rows["arm_m", "1"]
    with open(f"{folder}/eij-bal.txt") as file:
        numbers = [Fraction(word) for word in file.read().split()]
    give = [[numbers[12 * j + i] for j in range(6)] for i in range(12)]  # column-major 12 x 6
    return per_step, pnl, arm, give


def direct_form(per_step, pnl, arm, give):
    """Linear terms {load: [6]} and products {load: {(j, k): value}}, j <= k."""
    reading = [[pnl[i][j] * per_step[j] for j in range(6)] for i in range(6)]
    linear = {load: [sum(reading[r - 1][j] for r in readings) for j in range(6)]
              for load, readings in FORCES.items()}
    products = {load: {} for load in FORCES}
    for load, terms in MOMENTS.items():
        linear[load] = [sum(s * reading[r - 1][j] * arm[a - 1] for s, r, a in terms)
                        for j in range(6)]
        products[load] = {}
        for s, r, a in terms:
            bend = [sum(give[a - 1][m] * reading[m][k] for m in range(6)) for k in range(6)]
            for j in range(6):
                for k in range(6):
                    key = (min(j, k), max(j, k))
                    products[load][key] = (products[load].get(key, Fraction(0))
                                           + s * reading[r - 1][j] * bend[k])
    return linear, products


def main():
    linear, products = direct_form(*read_constants(sys.argv[1]))
    pairs = [(j, k) for j in range(6) for k in range(j, 6)]
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow(["load", "unit"] + [f"R{j + 1}" for j in range(6)]
                 + [f"R{j + 1}*R{k + 1}" for j, k in pairs])
    for load in ("Fx", "Fy", "Fz", "Mx", "My", "Mz"):
        terms = linear[load] + [products[load].get(pair, Fraction(0)) for pair in pairs]
        unit = "N" if load[0] == "F" else "N m"
        out.writerow([load, unit] + [f"{float(term):.17g}" for term in terms])


if __name__ == "__main__":
    main()
