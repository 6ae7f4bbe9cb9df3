#!/usr/bin/env python3
"""Counts, means and standard deviations of the columns of sample_runs/measured, for tests/published/test_measured.c.

Reads the published logs with nothing but the standard library and prints rows of the test's table, in SI:
points, mean over the points, standard deviation over the points (n - 1), mean of the logged scatter. Conversion
factors: NIST SP 811 (2008), appendix B. Run from the top of the tree: python3 tests/oracles/measured.py
"""
import csv
import math
import re
import statistics

FOLDER = "sample_runs/measured/"
LBF = 4.4482216152605  # N
DEGREE = math.pi / 180


def table(name):
    """Comma-separated with a row of names."""
    with open(FOLDER + name, newline="") as log:
        return list(csv.DictReader(log))


def block(name, title, columns):
    """The rows below zone, t="title"."""
    rows, inside = [], False
    with open(FOLDER + name) as log:
        for line in log:
            if line.startswith("zone"):
                inside = re.search('t="(.*)"', line).group(1) == title
            elif inside:
                rows.append(dict(zip(columns, line.split())))
    return rows


def tunnel(name):
    """Names, units, rows; between blanks."""
    with open(FOLDER + name) as log:
        lines = [line.split() for line in log]
    return [dict(zip(lines[0], cells)) for cells in lines[2:]]


def stamped(name, columns):
    """Rows only."""
    with open(FOLDER + name) as log:
        return [dict(zip(columns, line.split())) for line in log]


def show(folder, run, rows, column, factor=1.0, offset=0.0, scatter=None):
    values = [factor * float(row[column]) + offset for row in rows]
    sd = "NAN"
    if scatter is not None:
        sd = repr(statistics.fmean(abs(factor) * float(row[scatter]) for row in rows))
    print('    {"%s", "%s", "%s", %d, %r, %r, %s},'
          % (folder, run, column, len(values), statistics.fmean(values), statistics.stdev(values), sd))


def main():
    for run, name in (("left-up", "left_ascending"), ("left-down", "left_descending"),
                      ("right-up", "right_ascending"), ("right-down", "right_descending")):
        rows = table("unh-loadcell-cal/logs/drag_%s.csv" % name)
        show("unh-loadcell-cal", run, rows, "mean_volts_per_volt", scatter="std_volts_per_volt")
        show("unh-loadcell-cal", run, rows, "initial_force", LBF)
        show("unh-loadcell-cal", run, rows, "mean_force_lbf", LBF)
        show("unh-loadcell-cal", run, rows, "mean_force_newtons")
    for run, name in (("perf-0.4", "0.4"), ("perf-1.0-b", "1.0-b"), ("perf-1.2", "1.2"),
                      ("covers-1.0", "1.0-covers"), ("no-blades-1.0", "1.0-no-blades"),
                      ("no-blades-covers-1.0", "1.0-no-blades-covers")):
        rows = table("rm2-towtank/logs/Perf-%s.csv" % name)
        show("rm2-towtank", run, rows, "mean_tow_speed", scatter="std_tow_speed")
        show("rm2-towtank", run, rows, "mean_cd", scatter="std_cd")
        show("rm2-towtank", run, rows, "mean_cp", scatter="std_cp")
        show("rm2-towtank", run, rows, "tsr_nom")
    zones = ("Re=6 million, alpha=.0169, free transition", "Re=6 million, alpha=10.0254, free transition",
             "Re=6 million, alpha=15.0299, free transition", "Re=3 million, alpha=.0083, fixed transition",
             "Re=3 million, alpha=10.0130, fixed transition", "Re=3 million, alpha=14.9994, fixed transition",
             "Re=9 million, alpha=.0210, fixed transition", "Re=9 million, alpha=10.0228, fixed transition",
             "Re=9 million, alpha=14.9911, fixed transition")
    for i, zone in enumerate(zones):
        rows = block("naca0012-langley/logs/CP_Ladson.dat", zone, ("x/c", "cp"))
        show("naca0012-langley", "cp%d" % (i + 1), rows, "x/c")
        show("naca0012-langley", "cp%d" % (i + 1), rows, "cp")
    for i, zone in enumerate(("alpha=0", "alpha=10", "alpha=15")):
        rows = block("naca0012-langley/logs/CP_Gregory_expdata.dat", zone, ("x/c", "cp"))
        show("naca0012-langley", "gcp%d" % (i + 1), rows, "cp")
    rows = table("naca4412-r563/logs/table1_orifice_P.csv")
    for column in ("station_pct_c", "ordinate_pct_c"):
        show("naca4412-r563", "table1", rows, column, 0.01)
    for column in ("P_alpha_-2", "P_alpha_0", "P_alpha_+2"):
        show("naca4412-r563", "table1", rows, column)
    rows = table("naca4412-r563/logs/table2_cl.csv")
    show("naca4412-r563", "table2", rows, "cl_published_table2")
    show("naca4412-r563", "table2", rows, "alpha_effective_deg", DEGREE)
    rows = tunnel("ltt-propwing-sixcomp/logs/raw_j_sweep.txt")
    for column, factor, offset in (("P_bar", 100.0, 0.0), ("T", 1.0, 273.15), ("B1", 1.0, 0.0), ("B6", 1.0, 0.0),
                                   ("rpm", 1 / 60, 0.0), ("Rho", 1.0, 0.0), ("nrotor1", 1.0, 0.0),
                                   ("I1", 1.0, 0.0), ("Q", 1.0, 0.0)):
        show("ltt-propwing-sixcomp", "sweep", rows, column, factor, offset)
    names = (["stamp"] + ["p%d" % i for i in range(1, 19)] + ["static", "total"]
             + ["p%d" % i for i in range(21, 33)])
    rows = stamped("ltt-propwing-sixcomp/logs/pres_rudder0.cal", names)
    for column in ("p1", "p6", "static", "total"):
        show("ltt-propwing-sixcomp", "fuselage", rows, column)


if __name__ == "__main__":
    main()
