#!/usr/bin/env python3
"""Loads of a hanging weight on a balance, by rotation matrices in exact order, no code shared with the
program. Prints the numbers that tests/test_weight_model.c quotes.

A car of W = 812 kg x 9.80665 m/s2 with its centre of gravity at r = (0.05, -0.02, 0.31) m from the ground
at mid-wheelbase (x aft, y right, z up); balance reference point o = (0.03, 0.01, -0.35) m. Invented."""
from math import cos, sin, radians

W = 812 * 9.80665
R = (0.05, -0.02, 0.31)
O = (0.03, 0.01, -0.35)


def times(a, b):
    return [[sum(a[i][k] * b[k][j] for k in range(3)) for j in range(3)] for i in range(3)]


def turned(a, v):
    return [sum(a[i][k] * v[k] for k in range(3)) for i in range(3)]


def transposed(a):
    return [list(row) for row in zip(*a)]


def about_z(t):
    return [[cos(t), -sin(t), 0], [sin(t), cos(t), 0], [0, 0, 1]]


def about_y(t):
    return [[cos(t), 0, sin(t)], [0, 1, 0], [-sin(t), 0, cos(t)]]


def about_x(t):
    return [[1, 0, 0], [0, cos(t), -sin(t)], [0, sin(t), cos(t)]]


def pose(pitch, roll, yaw):
    # yaw with the air from the right: right-handed about z up; nose down and right side down are
    # left-handed about y right and x aft
    return times(about_z(yaw), times(about_y(-pitch), about_x(-roll)))


def cross(a, b):
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]


def loads(follows, pitch, roll, yaw):
    pitch, roll, yaw = radians(pitch), radians(roll), radians(yaw)
    balance = pose(pitch * follows[0], roll * follows[1], yaw * follows[2])
    into = transposed(balance)
    gravity = turned(into, [0, 0, -1])
    arm = turned(times(into, pose(pitch, roll, yaw)), R)
    arm = [arm[i] - O[i] for i in range(3)]
    force = [W * g for g in gravity]
    return force + cross(arm, force)


for name, follows in (("all", (1, 1, 1)), ("pitch and yaw", (1, 0, 1)), ("nothing", (0, 0, 0))):
    print(name)
    for attitude in ((0, 0, 0), (2, 0, 0), (-1.5, 1, 0), (1, -2, 7), (0.5, 1.5, -5)):
        print(attitude, ", ".join("%.10f" % v for v in loads(follows, *attitude)))
