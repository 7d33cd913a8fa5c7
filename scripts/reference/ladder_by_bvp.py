#!/usr/bin/env python3
"""Branching heating cable with a self-regulating core, for tests/reference/ladder_test.cpp.

The program uses a weak form on elements and Newton's method on the tree. Here scipy's collocation solver for
boundary value problems does it: every stretch is mapped to [0, 1] and all are solved side by side, with the
voltages and the sum of currents at the tees as boundary conditions. The core is p = W(beta Rc V^2/R(T))/(beta
Rc), W by scipy; R = R10 exp(beta (T - 10)). Invented data.

Run from the repository's root: python3 scripts/reference/ladder_by_bvp.py
Writes tests/reference/data/ladder_scipy.csv. Deterministic.
"""
import csv

import numpy as np
from scipy.integrate import solve_bvp
from scipy.special import lambertw

FEED_V, LOOP, R10, BETA, RC = 240.0, 0.027, 1440.0, 0.02, 0.5
# parent, length m, pipe °C
TREES = {
    "tee": [(-1, 40, 55), (0, 60, 50), (0, 25, 20)],
    "comb": [(-1, 30, 60), (0, 20, 58), (1, 25, 45), (0, 35, 30), (1, 15, 10), (2, 40, 52), (2, 10, 5)],
    "star": [(-1, 80, 40), (-1, 30, 10), (-1, 120, 60)],
    "long": [(-1, 150, 10), (0, 150, 10)],
}
COLUMNS = ["case", "stretch", "parent", "feed_v", "loop_ohm_per_m", "core_ohm_m", "beta_per_k", "core_k_m_per_w",
           "length_m", "pipe_c", "far_v", "entering_a", "heater_w", "source", "basis"]
SOURCE = "scipy solve_bvp, tol 1e-9, scripts/reference/ladder_by_bvp.py"


def output(volts, pipe_c):
    core = R10 * np.exp(BETA * (pipe_c - 10))
    return lambertw(BETA * RC * volts**2 / core).real / (BETA * RC)


def solve(tree):
    n = len(tree)
    length = np.array([row[1] for row in tree], float)[:, None]
    pipe = np.array([row[2] for row in tree], float)[:, None]

    def slopes(_, y):  # voltages, currents, heat counted from the near end
        volts, amps = y[:n], y[n:2 * n]
        watts = output(volts, pipe)
        return np.vstack([-LOOP * amps * length, -watts / volts * length, watts * length])

    def ends(near, far):
        out = []
        for s, (parent, _, _) in enumerate(tree):
            out.append(near[s] - (FEED_V if parent < 0 else far[parent]))
            beyond = sum(near[n + c] for c, row in enumerate(tree) if row[0] == s)
            out.append(far[n + s] - beyond)
            out.append(near[2 * n + s])
        return np.array(out)

    x = np.linspace(0, 1, 41)
    guess = np.vstack([np.full((n, x.size), FEED_V), np.ones((n, x.size)), np.ones((n, x.size))])
    found = solve_bvp(slopes, ends, x, guess, tol=1e-9, max_nodes=200000)
    assert found.success, found.message
    return found.y[:n, -1], found.y[n:2 * n, 0], found.y[2 * n:, -1]


with open("tests/reference/data/ladder_scipy.csv", "w", newline="") as file:
    writer = csv.writer(file, lineterminator="\n")
    writer.writerow(COLUMNS)
    for name, tree in TREES.items():
        for s, (far_v, amps, watts) in enumerate(zip(*solve(tree))):
            writer.writerow([name, s, tree[s][0], FEED_V, LOOP, R10, BETA, RC, tree[s][1], tree[s][2],
                             f"{far_v:.10g}", f"{amps:.10g}", f"{watts:.10g}", SOURCE, "computed"])
