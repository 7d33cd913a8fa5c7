#!/usr/bin/env python3
"""Branching heating cable with a self-regulating core, for tests/reference/ladder_test.cpp.

The program uses a weak form on elements and Newton's method on the tree. Here scipy's collocation solver for
boundary value problems does it: every stretch is mapped to [0, 1] and all are solved side by side, with the
voltages and the sum of currents at the tees as boundary conditions. The core is p = W(beta Rc V^2/R(T))/(beta
Rc), W by scipy; R = R10 exp(beta (T - 10)). Invented data.

Behind a lead, the wiring from a panel, there is also cable with the curve of a data sheet: monotone cubic through
(voltage, factor), scipy's PchipInterpolator, held beyond its ends. It bends at its voltages, so it is integrated from
the far ends to the feed, anew from every voltage of the curve, and the far voltages are found by scipy's root.

Run from the repository's root: python3 scripts/reference/ladder_by_bvp.py
Writes tests/reference/data/ladder_scipy.csv and ladder_lead_scipy.csv. Deterministic.
"""
import csv

import numpy as np
from scipy.integrate import solve_bvp, solve_ivp
from scipy.interpolate import PchipInterpolator
from scipy.optimize import root
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


# loop of the lead ohm/m, one way m, then the cable behind it as above
LEADS = {
    "core: single": (0.0104, 45, [(-1, 110, 45)]),
    "core: tee": (0.0104, 30, [(-1, 40, 55), (0, 60, 50), (0, 25, 20)]),
    "core: fed inside": (0.0065, 80, [(-1, 70, 50), (-1, 45, 15)]),
    "sheet: single": (0.0104, 45, [(-1, 110, 10)]),
    "sheet: tee": (0.0104, 30, [(-1, 40, 40), (0, 120, 10), (0, 60, 60)]),
    "sheet: fed inside": (0.0065, 80, [(-1, 130, 40), (-1, 170, 10)]),
    "sheet: below its voltages": (0.0104, 45, [(-1, 190, 10)]),
}
SHEET_V = [190, 208, 218, 230, 240, 264]
SHEET_FACTOR = [0.66, 0.77, 0.85, 0.93, 1, 1.16]
SHEET_W = {10: 32, 40: 22, 60: 13}  # by pipe temperature, at 240 V


def output(volts, pipe_c):
    core = R10 * np.exp(BETA * (pipe_c - 10))
    return lambertw(BETA * RC * volts**2 / core).real / (BETA * RC)


def solve(tree, lead_ohm=0.0):
    """lead_ohm: of the lead before the tree; its far voltage is the tree's feed."""
    n = len(tree)
    length = np.array([row[1] for row in tree], float)[:, None]
    pipe = np.array([row[2] for row in tree], float)[:, None]

    def slopes(_, y):  # voltages, currents, heat counted from the near end
        volts, amps = y[:n], y[n:2 * n]
        watts = output(volts, pipe)
        return np.vstack([-LOOP * amps * length, -watts / volts * length, watts * length])

    def ends(near, far):
        out = []
        fed_v = FEED_V - lead_ohm * sum(near[n + s] for s, row in enumerate(tree) if row[0] < 0)
        for s, (parent, _, _) in enumerate(tree):
            out.append(near[s] - (fed_v if parent < 0 else far[parent]))
            beyond = sum(near[n + c] for c, row in enumerate(tree) if row[0] == s)
            out.append(far[n + s] - beyond)
            out.append(near[2 * n + s])
        return np.array(out)

    x = np.linspace(0, 1, 41)
    guess = np.vstack([np.full((n, x.size), FEED_V), np.ones((n, x.size)), np.ones((n, x.size))])
    found = solve_bvp(slopes, ends, x, guess, tol=1e-9, max_nodes=200000)
    assert found.success, found.message
    return found.y[:n, -1], found.y[n:2 * n, 0], found.y[2 * n:, -1]


def sheet_stretch(far_v, far_a, length_m, watts):
    """From the far end to the near one, over the bends: voltage, current, heat."""
    curve = PchipInterpolator(SHEET_V, SHEET_FACTOR)

    def slopes(_, y):
        factor = curve(min(max(y[0], SHEET_V[0]), SHEET_V[-1]))
        return [LOOP * y[1], watts * factor / y[0], watts * factor]

    def passing(bend_v):
        event = lambda _, y: y[0] - bend_v
        event.terminal, event.direction = True, 1
        return event

    walked, y = 0.0, [far_v, far_a, 0.0]
    while walked < length_m:
        ahead = [passing(v) for v in SHEET_V if v > y[0] + 1e-9]
        found = solve_ivp(slopes, (walked, length_m), y, method="DOP853", rtol=1e-13, atol=1e-13, events=ahead)
        assert found.success, found.message
        walked, y = found.t[-1], list(found.y[:, -1])
    return y


def solve_sheet(tree, lead_ohm):
    children = [[c for c, row in enumerate(tree) if row[0] == s] for s in range(len(tree))]
    roots = [s for s, row in enumerate(tree) if row[0] < 0]
    ends = [s for s in range(len(tree)) if not children[s]]

    def walk(end_v):
        at_far = {s: (v, 0.0) for s, v in zip(ends, end_v)}
        near, off = {}, []
        for s in reversed(range(len(tree))):
            if children[s]:
                volts = [near[c][0] for c in children[s]]
                off += [v - volts[0] for v in volts[1:]]
                at_far[s] = (volts[0], sum(near[c][1] for c in children[s]))
            near[s] = sheet_stretch(*at_far[s], tree[s][1], SHEET_W[tree[s][2]])
        total_a = sum(near[s][1] for s in roots)
        return near, at_far, off + [near[s][0] + lead_ohm * total_a - FEED_V for s in roots]

    found = root(lambda v: walk(v)[2], [0.9 * FEED_V] * len(ends), tol=1e-14)
    near, at_far, off = walk(found.x)
    assert max(map(abs, off)) < 1e-9, off
    order = range(len(tree))
    return [at_far[s][0] for s in order], [near[s][1] for s in order], [near[s][2] for s in order]


with open("tests/reference/data/ladder_scipy.csv", "w", newline="") as file:
    writer = csv.writer(file, lineterminator="\n")
    writer.writerow(COLUMNS)
    for name, tree in TREES.items():
        for s, (far_v, amps, watts) in enumerate(zip(*solve(tree))):
            writer.writerow([name, s, tree[s][0], FEED_V, LOOP, R10, BETA, RC, tree[s][1], tree[s][2],
                             f"{far_v:.10g}", f"{amps:.10g}", f"{watts:.10g}", SOURCE, "computed"])

LEAD_COLUMNS = ["case", "lead_ohm_per_m", "lead_m", *COLUMNS[1:]]
SHEET_SOURCE = "scipy solve_ivp DOP853, rtol 1e-13, from bend to bend, scripts/reference/ladder_by_bvp.py"

with open("tests/reference/data/ladder_lead_scipy.csv", "w", newline="") as file:
    writer = csv.writer(file, lineterminator="\n")
    writer.writerow(LEAD_COLUMNS)
    for name, (ohm_per_m, lead_m, tree) in LEADS.items():
        core = name.startswith("core:")
        found = (solve if core else solve_sheet)(tree, ohm_per_m * lead_m)
        law = [R10, BETA, RC] if core else ["", "", ""]
        for s, (far_v, amps, watts) in enumerate(zip(*found)):
            writer.writerow([name, ohm_per_m, lead_m, s, tree[s][0], FEED_V, LOOP, *law, tree[s][1], tree[s][2],
                             f"{far_v:.12g}", f"{amps:.12g}", f"{watts:.12g}", SOURCE if core else SHEET_SOURCE,
                             "computed"])
