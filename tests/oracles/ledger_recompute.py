#!/usr/bin/env python3
"""Recomputes every ledger step of every point of a season from its stored inputs, and compares.

Reads season.sqlite alone: point statistics, calibrations, settings, run sheet. Shares no code with the
program; the equations are written from their sources. Of the corrections it knows those of the demo:
zeros linear in time, a weight tare looked up at the attitude, a 6 x 27 balance, total and static pressure,
moist air, horizontal buoyancy, the image sum with the floor's image and the wake, and full size.

Usage: ledger_recompute.py season.sqlite [TOLERANCE]
Prints how many numbers were compared, per step; exit status 1 when one is off by more than TOLERANCE
(1e-12) of the largest of its unit in the step, or when a step or number is there that should not be, or the
other way round.
"""
import math
import sqlite3
import struct
import sys
from collections import Counter

FIELDS = 16  # doubles a channel; the mean is the third
MEAN = 2
LOADS = ["Fx", "Fy", "Fz", "Mx", "My", "Mz"]
ALONE = {"q", "M", "V", "rho", "p", "T", "q_c/q", "eps_s", "eps_w"}  # no rounding of others in them
COEFFICIENTS = ["CD", "CY", "CL", "CLF", "CLR", "CRM", "CPM", "CYM"]


class Season:
    def __init__(self, path):
        self.db = sqlite3.connect(path)
        self.db.row_factory = sqlite3.Row
        self.setting = {(r["section"], r["name"]): r["value"] for r in self.all("SELECT * FROM setting")}
        self.runs = {r["run"]: dict(r) for r in self.all("SELECT * FROM run WHERE state = 'ok'")}
        for run in self.runs.values():
            run["channels"] = [dict(r) for r in self.all(
                "SELECT * FROM channel WHERE run = ? ORDER BY position", run["run"])]
            run["points"] = [self.point(run, r) for r in self.all(
                "SELECT * FROM point WHERE run = ? ORDER BY sequence", run["run"])]

    def all(self, sql, *arguments):
        return self.db.execute(sql, arguments).fetchall()

    def point(self, run, row):
        values = struct.unpack("<%dd" % (len(row["statistics"]) // 8), row["statistics"])
        point = {"point": row["point"], "time": row["time_s"]}
        for i, channel in enumerate(run["channels"]):
            if channel["role"] not in point:
                point[channel["role"]] = values[i * FIELDS + MEAN]
        return point

    def number(self, section, name):
        return float(self.setting[section, name])

    def calibration(self, balance):
        table = {load: {} for load in LOADS}
        for r in self.all("SELECT load, term, coefficient FROM calibration WHERE balance = ?", balance):
            table[r["load"]][r["term"]] = r["coefficient"]
        return table


def outputs(point):
    return [point["balance_output_%d" % (i + 1)] for i in range(6)]


def zeros_of(season, run):
    """The zero before the run's first point and the one after its last, of the same rig."""
    rig = ("facility", "entry", "balance")
    zeros = [z for z in season.runs.values()
             if z["kind"] == "zero" and all(z[k] == run[k] for k in rig)]
    times = [p["time"] for p in run["points"]]
    if run["zero"]:
        raise SystemExit("run %s names its zero: not known here" % run["run"])
    before = [z for z in zeros if z["points"][0]["time"] <= min(times)]
    after = [z for z in zeros if z["points"][0]["time"] >= max(times)]
    first = max(before, key=lambda z: z["points"][0]["time"])["points"][0]
    last = min(after, key=lambda z: z["points"][0]["time"])["points"][0]
    return first, last


def without_zero(point, zeros):
    first, last = zeros
    share = (point["time"] - first["time"]) / (last["time"] - first["time"])
    return [r - (a + (b - a) * share) for r, a, b in zip(outputs(point), outputs(first), outputs(last))]


def loads_of(calibration, r):
    loads = []
    for load in LOADS:
        total = 0.0
        for term, coefficient in calibration[load].items():
            product = 1.0
            for factor in term.split("*"):
                product *= r[int(factor[1:]) - 1]
            total += coefficient * product
        loads.append(total)
    return loads


def tare_of(season, run, calibration, point):
    tares = [t for t in season.runs.values() if t["kind"] == "weight_tare"
             and all(t[k] == run[k] for k in ("facility", "entry", "balance"))]
    middle = (min(p["time"] for p in run["points"]) + max(p["time"] for p in run["points"])) / 2
    tare = min(tares, key=lambda t: abs((min(p["time"] for p in t["points"]) +
                                         max(p["time"] for p in t["points"])) / 2 - middle))
    section = "facility " + run["facility"]
    tolerance = {name.split(": ")[1]: float(value) for (where, name), value in season.setting.items()
                 if where == section and name.startswith("tare_tolerance: ")}

    def distance(p):
        return [abs(p[axis] - point[axis]) / tolerance[axis] for axis in tolerance]

    near = [p for p in tare["points"] if max(distance(p)) <= 1]
    chosen = min(near, key=lambda p: sum(d * d for d in distance(p)))
    return loads_of(calibration, without_zero(chosen, zeros_of(season, tare)))


def transfer(season, run, loads):
    """To the ground at mid-wheelbase: M_O = M_P + r x F; axes as declared are ours in the demo."""
    section = "balance " + run["balance"]
    axes = season.setting[section, "axes"]
    if "aft" not in axes or "right" not in axes or "up" not in axes or "left-handed" in axes:
        raise SystemExit("balance axes '%s': not known here" % axes)
    x, y, z = (season.number(section, "origin: " + a) for a in "xyz")
    fx, fy, fz, mx, my, mz = loads
    return [fx, fy, fz, mx + y * fz - z * fy, my + z * fx - x * fz, mz + x * fy - y * fx]


def moist_air(p, temperature, humidity):
    """CIPM-2007: Picard, Davis, Glaeser, Fujii, Metrologia 45 (2008) 149-155, appendix A1."""
    t = temperature - 273.15
    psv = math.exp(1.2378847e-5 * temperature ** 2 - 1.9121316e-2 * temperature + 33.93711047
                   - 6.3431645e3 / temperature)
    xv = humidity * (1.00062 + 3.14e-8 * p + 5.6e-7 * t ** 2) * psv / p
    z = (1 - p / temperature * (1.58123e-6 - 2.9331e-8 * t + 1.1043e-10 * t ** 2
                                + (5.707e-6 - 2.051e-8 * t) * xv + (1.9898e-4 - 2.376e-6 * t) * xv ** 2)
         + (p / temperature) ** 2 * (1.83e-11 - 0.765e-8 * xv ** 2))
    return p * 28.96546e-3 / (z * 8.314472 * temperature) * (1 - xv * (1 - 18.01528e-3 / 28.96546e-3))


def wind_of(point):
    """NACA Report 1135, isentropic flow of air."""
    p, rise = point["static_pressure"], point["total_minus_static"]
    mach = math.sqrt(5 * math.expm1(2 / 7 * math.log1p(rise / p)))
    temperature = point["total_temperature"] / (1 + 0.2 * mach ** 2)
    rho = moist_air(p, temperature, point["relative_humidity"])
    q = 0.7 * p * mach ** 2
    return {"q": q, "M": mach, "V": math.sqrt(2 * q / rho), "rho": rho, "p": p, "T": temperature}


def coefficients(loads, q, area, wheelbase):
    fx, fy, fz, mx, my, mz = loads
    force, moment = q * area, q * area * wheelbase
    cl, cpm = -fz / force, my / moment
    return dict(zip(COEFFICIENTS, [fx / force, fy / force, cl, cl / 2 - cpm, cl / 2 + cpm,
                                   mx / moment, cpm, mz / moment]))


def bessel_k1(x):
    """Integral of exp(-x cosh t) cosh t, trapezoids: converges like exp(-c/h)."""
    h, total, n = 1 / 64, 0.5 * math.exp(-x), 1
    while True:
        term = math.exp(-x * math.cosh(n * h)) * math.cosh(n * h)
        total += term
        n += 1
        if term < 1e-20 * total:
            return h * total


def image_sum(width, height):
    """Sum of (m^2 B^2 + n^2 H^2)^(-3/2) but (0, 0): Poisson's formula along m."""
    zeta_2, zeta_3 = math.pi ** 2 / 6, 1.2020569031595942854
    total = 2 * zeta_3 / width ** 3 + 2 * 2 * zeta_2 / (width * height ** 2)
    for n in range(1, 60):
        for k in range(1, 60):
            x = 2 * math.pi * k * n * height / width
            if x > 45:
                break
            total += 2 * 4 / (width * (n * height) ** 2) * x * bessel_k1(x)
    return total


def solid_increment(season, facility):
    """Point doublet of the car and its floor image, a spheroid by Lamb's k1."""
    area, length, volume = (season.number("car", n) for n in ("reference_area", "length", "volume"))
    width, height = (season.number(facility, n) for n in ("width", "height"))
    if season.setting[facility, "floor_image"] != "yes":
        raise SystemExit("no floor image: not known here")
    f = length / math.sqrt(4 * 2 * area / math.pi)
    e = math.sqrt(1 - 1 / f ** 2)
    a0 = 2 * (1 - e ** 2) / e ** 3 * (math.atanh(e) - e)
    k1 = a0 / (2 - a0)
    return (1 + k1) * 2 * volume * image_sum(width, 2 * height) / (4 * math.pi)


class Recomputed:
    """The steps of one point, each a list of (quantity, unit group, value)."""

    def __init__(self, season, run, point, solid):
        facility = "facility " + run["facility"]
        area, wheelbase, scale = (season.number("car", n)
                                  for n in ("reference_area", "wheelbase", "model_scale"))
        calibration = season.calibration(run["balance"])
        r = without_zero(point, zeros_of(season, run))
        loads = loads_of(calibration, r)
        tare = tare_of(season, run, calibration, point)
        tared = [a - b for a, b in zip(loads, tare)]
        moved = transfer(season, run, tared)
        wind = wind_of(point)
        raw = coefficients(moved, wind["q"], area, wheelbase)
        buoyant = dict(raw)
        buoyant["CD"] += (season.number(facility, "pressure_gradient")
                          * season.number(facility, "buoyancy_volume_factor")
                          * season.number("car", "volume") / area)
        section = season.number(facility, "width") * season.number(facility, "height")
        wake = buoyant["CD"] * area / (4 * section)
        ratio = (1 + solid + wake) ** 2
        blocked = {k: v / ratio for k, v in buoyant.items()}
        cd, cl, clf = blocked["CD"], blocked["CL"], blocked["CLF"]
        derived = {"balance": 100 * clf / cl, "L/D": cl / cd, "CDA": cd * area, "CLA": cl * area}
        full = {"CDA_full_size": cd * area / scale ** 2, "CLA_full_size": cl * area / scale ** 2}
        self.steps = {
            "zero": {"R%d" % (i + 1): v for i, v in enumerate(r)},
            "balance": dict(zip(LOADS, loads)),
            "weight tare": dict(zip(LOADS, tared)),
            "transfer": dict(zip(LOADS, moved)),
            "freestream": wind,
            "raw": raw,
            "buoyancy": buoyant,
            "blockage": {**blocked, "q_c/q": ratio, "eps_s": solid, "eps_w": wake},
            "corrected": {**blocked, **derived},
        }
        if scale < 1:
            self.steps["full size"] = full


def compare(season, tolerance):
    counts, wrong = Counter(), []
    solids = {}
    rows = season.all("SELECT l.run, l.point, l.step, l.quantity, l.unit, l.value FROM ledger AS l")
    ledger = {}
    for row in rows:
        ledger.setdefault((row["run"], row["point"]), {}).setdefault(row["step"], {})[
            row["quantity"]] = (row["unit"], row["value"])
    for (name, label), steps in sorted(ledger.items()):
        run = season.runs[name]
        if run["facility"] not in solids:
            solids[run["facility"]] = solid_increment(season, "facility " + run["facility"])
        solid = solids[run["facility"]]
        point = next(p for p in run["points"] if p["point"] == label)
        made = Recomputed(season, run, point, solid).steps
        if set(made) != set(steps):
            wrong.append("%s/%s: steps %s, recomputed %s" % (name, label, sorted(steps), sorted(made)))
            continue
        for step, quantities in made.items():
            if set(quantities) != set(steps[step]):
                wrong.append("%s/%s %s: quantities %s, recomputed %s"
                             % (name, label, step, sorted(steps[step]), sorted(quantities)))
                continue
            largest = {}
            for quantity, value in quantities.items():
                unit = steps[step][quantity][0]
                largest[unit] = max(largest.get(unit, 0.0), abs(value))
            for quantity, value in quantities.items():
                unit, stored = steps[step][quantity]
                size = abs(value) if quantity in ALONE else largest[unit]
                counts[step] += 1
                if stored is None or not abs(stored - value) <= tolerance * size:
                    wrong.append("%s/%s %s %s: %r, recomputed %r"
                                 % (name, label, step, quantity, stored, value))
    return len(ledger), counts, wrong


def main():
    season = Season(sys.argv[1])
    tolerance = float(sys.argv[2]) if len(sys.argv) > 2 else 1e-12
    points, counts, wrong = compare(season, tolerance)
    for step, n in counts.items():
        print("%-12s %6d numbers" % (step, n))
    print("%d points, %d numbers, %d off" % (points, sum(counts.values()), len(wrong)))
    for line in wrong[:20]:
        print(line)
    sys.exit(1 if wrong or points == 0 else 0)


main()
