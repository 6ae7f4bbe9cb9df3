#!/usr/bin/env python3
"""Compares the program's intervals with the truth that the generated nights were made from.

  coverage.py collect SEED FOLDER   prints one row for each interval of one reduced night
  coverage.py judge FILE            reads all rows, prints the counts, ends with 0 or 1

Limits. Single intervals (not the main measure) contain the truth in 93 to 97 % of the cases for
95 % promised. The main measure's intervals are simultaneous: in 93 to 97 % of the nights, all of
them at once contain the truth. A share whose standard error is above 0.5 % may miss those limits by
three of them; it is that of the mean over nights, because intervals of one night are not
independent, and never taken below that of a yes or no a night. 200 nights are enough for the single
intervals to be held to the limits; the main measure, one yes or no a night, would need 1900.
At most 1 % of the single intervals may be missing.
The median of half_width / implied is between 1/1.3 and 1.3, where

  implied = t(df) * true noise of one mounting * standard_uncertainty / estimated noise

is the half width that the generator's own noise gives at the same degrees of freedom and the same
order of runs. t(df) is computed here, not taken from the program.
"""
import csv
import functools
import math
import os
import sqlite3
import statistics
import sys
from collections import defaultdict

COLUMNS = ["seed", "is_main", "configuration", "target", "quantity", "truth", "delta", "lower",
           "upper", "ratio"]
QUERY = """
SELECT x.is_main, x.configuration, x.target, x.quantity, x.delta, x.lower, x.upper,
       x.half_width, x.standard_uncertainty, x.degrees_of_freedom,
       (SELECT n.standard_deviation FROM noise AS n
        JOIN reduction AS r ON r.reduction = n.reduction AND r.is_current = 1
        WHERE n.quantity = x.quantity AND n.target = x.target)
FROM delta AS x"""


def incomplete_beta(a, b, x):
    """Regularized incomplete beta function by Lentz's continued fraction."""
    if x <= 0.0 or x >= 1.0:
        return 0.0 if x <= 0.0 else 1.0
    if x > (a + 1.0) / (a + b + 2.0):
        return 1.0 - incomplete_beta(b, a, 1.0 - x)
    front = math.exp(math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b)
                     + a * math.log(x) + b * math.log1p(-x)) / a
    c, d = 1.0, 1.0 / (1.0 - (a + b) * x / (a + 1.0))
    value = d
    for m in range(1, 300):
        for term in (m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m)),
                     -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))):
            d = 1.0 / (1.0 + term * d)
            c = 1.0 + term / c
            value *= c * d
        if abs(c * d - 1.0) < 1e-15:
            break
    return front * value


@functools.lru_cache(maxsize=None)
def student(confidence, freedom):
    """Two-sided multiplier of Student's t, by bisection."""
    low, high = 0.0, 1e4
    for _ in range(80):
        middle = 0.5 * (low + high)
        outside = incomplete_beta(0.5 * freedom, 0.5, freedom / (freedom + middle * middle))
        low, high = (middle, high) if outside > 1.0 - confidence else (low, middle)
    return high


def read_truth(folder):
    truth, noise = {}, {}
    with open(os.path.join(folder, "truth", "truth.csv"), newline="") as file:
        for row in csv.DictReader(file):
            key = row["target"], row["quantity"]
            if row["kind"] == "delta":
                truth[(row["configuration"],) + key] = float(row["value"])
            elif row["kind"] == "noise":
                noise[key] = float(row["value"])
    return truth, noise


def collect(seed, folder):
    truth, noise = read_truth(folder)
    out = csv.writer(sys.stdout, lineterminator="\n")
    database = sqlite3.connect(os.path.join(folder, "season.sqlite"))
    for row in database.execute(QUERY):
        main, configuration, target, quantity, delta, lower, upper, half, u, freedom, estimated = row
        true = truth.get((configuration, target, quantity))
        if true is None:
            continue
        if half is None:
            out.writerow([seed, main, configuration, target, quantity, true, "", "", "", ""])
            continue
        implied = student(0.95, freedom) * noise[target, quantity] * u / estimated
        out.writerow([seed, main, configuration, target, quantity, true, delta, lower, upper,
                      half / implied])


def share_line(name, hits_by_night):
    """Prints one share with its standard error; gives whether it is within its limits."""
    nights = [statistics.mean(hits) for hits in hits_by_night.values()]
    share = 100.0 * statistics.mean(nights)
    spread = statistics.stdev(nights) if len(nights) > 1 else 1.0
    if all(hit in (0.0, 1.0) for hit in nights):
        spread = max(spread, math.sqrt(0.95 * 0.05))
    error = 100.0 * spread / math.sqrt(len(nights))
    slack = 3.0 * error if error > 0.5 else 0.0
    good = 93.0 - slack <= share <= 97.0 + slack
    print(f"{name:34} {share:6.2f} %  standard error {error:.2f}, limits "
          f"{max(0.0, 93.0 - slack):.1f} to {min(100.0, 97.0 + slack):.1f}: "
          f"{'good' if good else 'MISSED'}")
    return good


def judge(path):
    single, main_all, ratios, missing = defaultdict(list), {}, [], 0
    parts = defaultdict(list)
    with open(path, newline="") as file:
        for row in csv.DictReader(file, fieldnames=COLUMNS):
            if row["delta"] == "":
                missing += 1
                continue
            hit = float(row["lower"]) <= float(row["truth"]) <= float(row["upper"])
            if row["is_main"] == "1":
                main_all[row["seed"]] = main_all.get(row["seed"], True) and hit
                continue
            single[row["seed"]].append(hit)
            ratios.append(float(row["ratio"]))
            parts["quantity " + row["quantity"]].append(hit)
            parts["configuration " + row["configuration"]].append(hit)
            parts["average" if row["target"] == "weighted" else "single attitude"].append(hit)
    if not single or not main_all:
        print("coverage: no intervals")
        return 1
    count = sum(len(hits) for hits in single.values())
    print(f"{len(single)} nights, {count} single intervals, {missing} without an interval")
    complete = missing <= 0.01 * count
    good = share_line("single intervals", single) and complete
    for name in sorted(parts):
        print(f"  {name:32} {100.0 * statistics.mean(parts[name]):6.2f} %")
    whole = {seed: [hit] for seed, hit in main_all.items()}
    good = share_line("main measure, all at once", whole) and good
    ratio = statistics.median(ratios)
    good = good and 1 / 1.3 <= ratio <= 1.3
    print(f"median of half width / implied     {ratio:6.3f}    limits 0.769 to 1.300")
    print("coverage: " + ("good" if good else "MISSED"))
    return 0 if good else 1


def main():
    if len(sys.argv) == 4 and sys.argv[1] == "collect":
        collect(sys.argv[2], sys.argv[3])
        return 0
    if len(sys.argv) == 3 and sys.argv[1] == "judge":
        return judge(sys.argv[2])
    print(__doc__, file=sys.stderr)
    return 2


if __name__ == "__main__":
    sys.exit(main())
