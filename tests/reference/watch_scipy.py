#!/usr/bin/python3
"""Fits the logs watch_case_*.csv with scipy alone and writes watch_scipy.csv beside them.

Own integration (Runge-Kutta, steps of 30 s, all trial parameters side by side), own residuals, own start values of every stretch (parameters of the fit rather than
profiled); the design's figures are those of watch_case.json, the moments of draws are the simulation's own.
Priors and loss are those stated in docs/logs-estimates.md. Run by hand: watch_scipy.py FOLDER
"""

import csv
import json
import math
import pathlib
import sys

import numpy as np
from scipy.optimize import least_squares

PRIOR_SD = {"conductance": 0.6, "air": 3.0, "cable": 0.25, "capacity": 0.04, "rise": 0.3, "sensor": 0.5}
NAMES = list(PRIOR_SD)
SETTLE = 5  # readings at the start of a stretch that do not count
LEAST = 20


def stretches(drawn):
    first, found = 0, []
    for i, moved in enumerate(list(drawn) + [True]):
        if moved:
            if i - first >= LEAST + SETTLE:
                found.append((first + 2, i - 1))
            first = i + 1
    return [(a, b) for a, b in found if b - a >= LEAST]


class Run:
    def __init__(self, design):
        self.d = design
        self.c = design["water_j_per_m_k"] + design["wall_j_per_m_k"]
        self.share = design["water_j_per_m_k"] / self.c

    def conductance(self, diff):
        return np.interp(diff, self.d["difference_k"], self.d["conductance_w_per_m_k"])

    def output(self, wall):
        return np.interp(wall, self.d["wall_c"], self.d["output_w_per_m"])

    def slopes(self, state, on, x, air):
        d, (m, a, b, _) = self.d, state
        k, cable = np.exp(x[0]), np.exp(x[2])
        steady = 1 / (1 / d["g0"] + 1 / d["g1"] + 1 / d["g2"])
        power = on * cable * self.output(m)
        diff = m - air
        extra = k * (self.conductance(diff) - steady) * diff
        lost = k * d["g0"] * (m - a) + extra
        rise = np.exp(x[4]) * self.share**2 / d["film_w_per_m_k"] * (power - lost)
        wall = m + rise
        flow = k * d["g0"] * (wall - a)
        film_lag = np.exp(x[4]) * d["water_j_per_m_k"] * d["wall_j_per_m_k"] / self.c / d["film_w_per_m_k"]
        target = wall + np.exp(x[4]) * d["sensor_k_per_w_per_m"] * power
        return np.array([
            (power - flow - extra) / (np.exp(x[3]) * self.c),
            (flow - k * d["g1"] * (a - b)) / d["c1"],
            (k * d["g1"] * (a - b) - k * d["g2"] * (b - air)) / d["c2"],
            (target - state[3]) / (d["sensor_lag_s"] + film_lag),
        ])

    def steady_shells(self, wall, air):
        d = self.d
        flow = (wall - air) / (1 / d["g0"] + 1 / d["g1"] + 1 / d["g2"])
        return wall - flow / d["g0"], air + flow / d["g2"]


    def advance(self, state, on, x, air, seconds, pieces=4):
        h = seconds / pieces
        for _ in range(pieces):
            k1 = self.slopes(state, on, x, air)
            k2 = self.slopes(state + 0.5 * h * k1, on, x, air)
            k3 = self.slopes(state + 0.5 * h * k2, on, x, air)
            k4 = self.slopes(state + h * k3, on, x, air)
            state = state + h / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
        return state


def shells_before(run, log, air, x):
    """Insulation driven by the readings, implicit Euler; columns are trials."""
    d, k, dt = run.d, np.exp(x[0]), log["step_s"]
    left, right, across = d["c1"] / dt + k * (d["g0"] + d["g1"]), d["c2"] / dt + k * (d["g1"] + d["g2"]), k * d["g1"]
    a, b = run.steady_shells(log["reading"][0] - x[5], air)
    all_shells = []
    for reading in log["reading"]:
        all_shells.append((a, b))
        top, bottom = d["c1"] / dt * a + k * d["g0"] * (reading - x[5]), d["c2"] / dt * b + k * d["g2"] * air
        det = left * right - across**2
        a, b = (right * top + across * bottom) / det, (left * bottom + across * top) / det
    return all_shells


def residuals(x, run, log, pieces, sd):
    """x: parameters by trials."""
    air = run.d["air_c"] + x[1]
    shells = shells_before(run, log, air, x)
    out = []
    for n, (first, last) in enumerate(pieces):
        start = x[len(NAMES) + n]
        now = np.array([start, *shells[first], log["reading"][first] - x[5]])
        for i in range(first, last):
            if i >= first + SETTLE:
                out.append((now[3] + x[5] - log["reading"][i]) / sd)
            now = run.advance(now, 0.5 * (log["on"][i] + log["on"][i + 1]), x, air, log["step_s"])
    return np.array(out)


def soft(r, bend=2.0):
    return np.sign(r) * bend * np.sqrt(2 * (np.sqrt(1 + (r / bend) ** 2) - 1))


def fit(run, log):
    pieces = stretches(log["drawn"])
    sd = log["noise"]
    priors = np.array(list(PRIOR_SD.values()))

    def everything(x):
        return np.concatenate([soft(residuals(x, run, log, pieces, sd)), x[: len(NAMES)] / priors[:, None]])

    start = np.concatenate([np.zeros(len(NAMES)), [log["reading"][a] for a, _ in pieces]])
    steps = np.concatenate([[1e-3, 1e-2, 1e-3, 1e-3, 1e-3, 1e-2], np.full(len(pieces), 1e-2)])

    def jacobian(x):
        here = everything(np.column_stack([x, x[:, None] + np.diag(steps)]))
        return (here[:, 1:] - here[:, :1]) / steps

    scale = np.concatenate([priors, np.ones(len(pieces))])
    answer = least_squares(lambda x: everything(x[:, None])[:, 0], start, jac=jacobian, x_scale=scale, xtol=1e-6, ftol=1e-7, max_nfev=25)
    covariance = np.linalg.inv(answer.jac.T @ answer.jac)
    return answer.x[: len(NAMES)], np.sqrt(np.diag(covariance))[: len(NAMES)], len(answer.fun) - len(NAMES)


def read_log(path):
    with open(path, encoding="utf-8") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    time = np.array([float(r["time_s"]) for r in rows])
    reading = np.array([float(r["reading_c"]) for r in rows])
    bends = np.abs(np.diff(reading, 2))
    noise = max(1.4826 * np.median(bends) / math.sqrt(6), 0.1 / math.sqrt(12))
    return {"step_s": time[1] - time[0], "reading": reading, "on": np.array([float(r["on"]) for r in rows]), "drawn": [r["drawn"] == "1" for r in rows], "noise": noise}


def main():
    folder = pathlib.Path(sys.argv[1])
    run = Run(json.loads((folder / "watch_case.json").read_text(encoding="utf-8")))
    lines = ["# Computed with scipy by tests/reference/watch_scipy.py from watch_case_*.csv.", "case,conductance_frac,conductance_sd,air_c,air_sd,cable_frac,cable_sd,used"]
    for path in sorted(folder.glob("watch_case_*.csv")):
        x, sd, used = fit(run, read_log(path))
        lines.append(f"{path.stem[-1]},{math.exp(x[0]):.4f},{sd[0]:.4f},{run.d['air_c'] + x[1]:.3f},{sd[1]:.3f},{math.exp(x[2]):.4f},{sd[2]:.4f},{used}")
        print(lines[-1], flush=True)
    (folder / "watch_scipy.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")


main()
