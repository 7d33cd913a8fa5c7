#!/usr/bin/env python3
"""Temperature on the outer face of a traced pipe's wall, for tests/reference/wall_angle_test.cpp.

The program sums a Fourier series with exact radial functions. Here the same wall is cut into finite volumes: with
s = ln r Laplace's equation in the annulus is T_ss + T_theta,theta = 0 on a rectangle, half a circle by symmetry; films
inside and outside, the cable's heat spread evenly over a strip of its width. Two grids, sparse LU, and Richardson's
extrapolation; the change it makes is written too, as a measure of what is left.

Run from the repository's root: python3 scripts/reference/wall_angle_by_fv.py
Writes tests/reference/data/wall_angle_scipy.csv. Needs scipy; deterministic.
"""
import csv
import math

import numpy as np
from scipy.optimize import brentq
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import splu

# name, outer diameter m, wall m, conductivity W/(m K)
PIPES = [("copper L 3/4", 22.225e-3, 1.143e-3, 380), ("copper L 2", 53.975e-3, 1.778e-3, 380),
         ("steel 40 2", 60.3e-3, 3.91e-3, 50), ("stainless 10S 1", 33.4e-3, 2.77e-3, 17),
         ("cpvc SDR11 1", 28.575e-3, 2.5908e-3, 0.144), ("cpvc SDR11 2", 53.975e-3, 4.9022e-3, 0.144),
         ("pex SDR9 3/4", 22.225e-3, 2.4638e-3, 0.38), ("pex SDR9 2", 53.975e-3, 5.9944e-3, 0.38)]
STATES = [(300, 1.5, 50, 20, 12), (600, 3, 60, 0, 25), (1500, 1, 46.1, 26.7, 8)]  # h_i, U_o, water, air, W/m
STRIPS = (6e-3, 12e-3)
SHEET = (15.0, -0.25)  # output with the wall at water temperature, W/m, and its slope, W/(m K)


def outer_face(pipe, state, strip, rings, sectors):
    """Mean under the strip, at a right angle, opposite; all on the outer face."""
    _, outer, wall, k = pipe
    h_i, u_o, water, air, power = state
    a, b = outer / 2 - wall, outer / 2
    ds, dt = math.log(b / a) / rings, math.pi / sectors
    half = strip / 2 / b
    covered = np.clip(half / dt - np.arange(sectors), 0, 1)
    number = np.arange(rings * sectors).reshape(rings, sectors)
    rows, columns, values = [], [], []

    def couple(one, other, conductance):
        for i, j in ((one, other), (other, one)):
            rows.extend((i, i))
            columns.extend((i, j))
            values.extend((np.full(i.shape, conductance), np.full(i.shape, -conductance)))

    couple(number[:-1].ravel(), number[1:].ravel(), k * dt / ds)
    couple(number[:, :-1].ravel(), number[:, 1:].ravel(), k * ds / dt)
    half_cell = ds / 2 / k
    inside = dt / (half_cell + 1 / (h_i * a))
    outside = dt / (half_cell + 1 / (u_o * b))
    right = np.zeros(rings * sectors)
    right[number[0]] += inside * water
    # Heat put on the outer face splits between the wall and the room in proportion to the two conductances.
    flux = power / strip * covered  # W/m2
    right[number[-1]] += outside * air + flux * b * dt * (1 / (u_o * b)) / (half_cell + 1 / (u_o * b))
    for ends, conductance in ((number[0], inside), (number[-1], outside)):
        rows.append(ends)
        columns.append(ends)
        values.append(np.full(sectors, conductance))
    matrix = coo_matrix((np.concatenate(values), (np.concatenate(rows), np.concatenate(columns)))).tocsc()
    cells = splu(matrix).solve(right).reshape(rings, sectors)[-1]
    # Face between the cell and the room, with the strip's heat arriving at it.
    face = (cells / half_cell + u_o * b * air + flux * b) / (1 / half_cell + u_o * b)
    middle = 0.5 * (face[sectors // 2 - 1] + face[sectors // 2])
    return np.array([np.sum(face * covered) / np.sum(covered), middle, face[-1]])


def solve(pipe, state, strip):
    coarse, fine = outer_face(pipe, state, strip, 24, 720), outer_face(pipe, state, strip, 48, 1440)
    return fine + (fine - coarse) / 3, np.max(np.abs(fine - coarse)) / 3


def main():
    with open("tests/reference/data/wall_angle_scipy.csv", "w", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["pipe", "outer_diameter_m", "wall_m", "conductivity", "inner_film", "outer_u", "water_c",
                         "air_c", "power_w_per_m", "strip_m", "under_strip_c", "right_angle_c", "opposite_c",
                         "derating_frac", "richardson_change_k"])
        for pipe in PIPES:
            for state in STATES:
                for strip in STRIPS:
                    temps, change = solve(pipe, state, strip)
                    idle, _ = solve(pipe, (*state[:4], 0), strip)
                    per_watt = (temps[0] - idle[0]) / state[4]
                    output, slope = SHEET
                    power = brentq(lambda p: output + slope * (idle[0] + per_watt * p - state[2]) - p, 0, 10 * output)
                    writer.writerow([pipe[0], f"{pipe[1]:.6g}", f"{pipe[2]:.6g}", pipe[3], *state, strip,
                                     *(f"{t:.8g}" for t in temps), f"{power / output:.7g}", f"{change:.2g}"])


if __name__ == "__main__":
    main()
