#!/usr/bin/env python3
"""The start of a self-regulating cable on a pipe, by an independent route, for tests/reference/cold_start_test.cpp.

Core and pipe as two bodies, integrated by scipy's LSODA (implicit, variable order) at tolerances far below the digits printed.

Run from the repository's root: python3 scripts/reference/cold_start_by_lsoda.py
Writes tests/reference/data/cold_start_scipy.csv. Needs scipy; deterministic.
"""
import csv
import math

from scipy.integrate import solve_ivp

CASES = [  # R at 10 degC, beta, Rc, C core, V, start, C pipe, U, air, passes; per metre. Invented.
    (1440, 0.020, 0.5, 60, 240, 10, 5000, 0.35, 20, 1),
    (840, 0.020, 1.5, 75, 208, 4, 900, 0.20, 10, 1),
    (840, 0.020, 1.5, 75, 208, 40, 9000, 0.45, 5, 2),
    (600, 0.035, 1.1, 150, 230, -10, 2500, 0.30, -10, 3),
]
TIMES_S = [1, 10, 60, 300, 1800, 7200, 36000]
COLUMNS = ["case", "r10_ohm_m", "beta_per_k", "rc_m_k_per_w", "core_j_per_m_k", "voltage_v", "start_c", "pipe_j_per_m_k",
           "loss_w_per_m_k", "air_c", "passes", "time_s", "core_c", "pipe_c", "current_a_per_m", "source", "basis"]
SOURCE = "scipy solve_ivp LSODA, rtol 1e-12, atol 1e-10"


def rows(number, case):
    r10, beta, rc, core, volts, start, pipe, loss, air, passes = case

    def resistance(temp_c):
        return r10 * math.exp(beta * (temp_c - 10))

    def slope(_, y):
        to_pipe = (y[0] - y[1]) / rc
        return [(volts**2 / resistance(y[0]) - to_pipe) / core, (passes * to_pipe - loss * (y[1] - air)) / pipe]

    found = solve_ivp(slope, (0, TIMES_S[-1]), [start, start], "LSODA", TIMES_S, rtol=1e-12, atol=1e-10)
    for time_s, core_c, pipe_c in zip(found.t, *found.y):
        current = volts / resistance(core_c)
        yield [number, *case, int(time_s), f"{core_c:.6f}", f"{pipe_c:.6f}", f"{current:.9f}", SOURCE, "computed"]


with open("tests/reference/data/cold_start_scipy.csv", "w", newline="", encoding="utf-8") as out:
    table = csv.writer(out, lineterminator="\n")
    table.writerow(COLUMNS)
    for index, entry in enumerate(CASES):
        table.writerows(rows(index + 1, entry))
