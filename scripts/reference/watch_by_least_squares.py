#!/usr/bin/env python3
"""What logs of a pipe tell, by an independent route, for tests/reference/watch_peer_test.cpp.

Simulates logs of one run with planted insulation, cable and air by the model that docs/logs-estimates.md states
(Runge-Kutta, a thermostat with a night setback, draws, noise, rounding), and fits them with
scipy.optimize.least_squares: the widths and the soft loss that are stated there, the temperature at the start of
every stretch a parameter like the others, and the moments of draws as they were planted.

Run from the repository's root: python3 scripts/reference/watch_by_least_squares.py 1
(numbers of CASES; the first is kept; without numbers all, a minute or two each).
Reads tests/reference/data/watch_peer_design.json (the design's figures of the run, by the program), writes
watch_peer_log_N.csv and watch_peer_scipy.csv beside it. Needs numpy and scipy; deterministic.
"""
import csv
import json
import pathlib
import sys

import numpy as np
from scipy.optimize import least_squares

DATA = pathlib.Path("tests/reference/data")
SOURCE = "scipy least_squares, scripts/reference/watch_by_least_squares.py"
CASES = [  # conductance, air's shift in K, cable, noise in K, air logged, seed
    (1.0, 0.0, 1.0, 0.1, False, 1),
    (1.5, -4.0, 0.85, 0.1, False, 2),
    (3.0, 2.0, 1.0, 0.2, False, 3),
    (1.3, 3.0, 0.7, 0.2, True, 4),
]
NAMES = ["conductance", "air", "cable", "capacity", "rise", "sensor"]
STEP_S, HOURS, DIFFERENTIAL_K, DAY_C, NIGHT_C = 60, 36, 2.0, 55.0, 45.0
DRAWS, ENOUGH_H, SETTLE = 8, 1.0, 5  # of the log; of a stretch that is used; readings at its start that do not count
BEND = 2.0


class Run:
    """dy/dt of water with wall, two masses of insulation, and the sensor's reading; one column a trial."""

    def __init__(self, design):
        self.d = design
        self.g = [design[key] for key in ("wall_to_inner_w_per_m_k", "inner_to_outer_w_per_m_k", "outer_to_air_w_per_m_k")]
        self.steady = 1 / sum(1 / g for g in self.g)
        self.capacity = design["water_j_per_m_k"] + design["wall_j_per_m_k"]
        self.water = design["water_j_per_m_k"] / self.capacity

    def output(self, wall):
        return np.interp(wall, self.d["wall_c"], self.d["output_w_per_m"])

    def conductance(self, difference):
        return np.interp(difference, self.d["difference_k"], self.d["conductance_w_per_m_k"])

    def wall(self, mean, inner, on, air, x):
        """Wall, output and what does not pass the inner insulation: they depend on each other."""
        k, cable, rise = np.exp(x[0]), np.exp(x[2]), np.exp(x[4])
        wall = mean
        for _ in range(4):
            power = on * cable * self.output(wall)
            extra = k * (self.conductance(wall - air) - self.steady) * (wall - air)
            lost = k * self.g[0] * (wall - inner) + extra
            wall = mean + rise * self.water**2 / self.d["film_w_per_m_k"] * (power - lost)
        return wall, power, extra

    def slopes(self, y, on, air, x):
        mean, inner, outer, reading = y
        k, rise = np.exp(x[0]), np.exp(x[4])
        wall, power, extra = self.wall(mean, inner, on, air, x)
        first, second, third = k * self.g[0] * (wall - inner), k * self.g[1] * (inner - outer), k * self.g[2] * (outer - air)
        film_s = rise * self.water * self.d["wall_j_per_m_k"] / self.d["film_w_per_m_k"]
        target = wall + rise * self.d["sensor_k_per_w_per_m"] * power
        return np.array([
            (power - first - extra) / (np.exp(x[3]) * self.capacity),
            (first - second) / self.d["inner_j_per_m_k"],
            (second - third) / self.d["outer_j_per_m_k"],
            (target - reading) / (self.d["sensor_lag_s"] + film_s),
        ])

    def advance(self, y, on, air, x, seconds, pieces):
        h = seconds / pieces
        for _ in range(pieces):
            a = self.slopes(y, on, air, x)
            b = self.slopes(y + 0.5 * h * a, on, air, x)
            c = self.slopes(y + 0.5 * h * b, on, air, x)
            d = self.slopes(y + h * c, on, air, x)
            y = y + h / 6 * (a + 2 * b + 2 * c + d)
        return y

    def settled(self, wall, air):
        flow = (wall - air) * self.steady
        return wall - flow / self.g[0], air + flow / self.g[2]


def simulate(run, case):
    """Reading, on and air at every step, and whether water was drawn since the one before."""
    conductance, shift, cable, noise, _, seed = case
    random = np.random.default_rng(seed)
    truth = np.array([np.log(conductance), shift, np.log(cable), *(random.normal(0, [0.04, 0.3, 0.5]))])
    air, steps = run.d["air_c"] + shift, HOURS * 3600 // STEP_S
    waking = [i for i in range(steps) if 6 <= i * STEP_S / 3600 % 24 < 22]
    begins = set(random.choice(waking, int(DRAWS * HOURS / 24), replace=False))
    y, on, rows, drawn = np.array([DAY_C, *run.settled(DAY_C, air), DAY_C]), 0.0, [], False
    half = STEP_S / 2
    for i in range(steps):
        reading = y[3] + truth[5]
        rows.append([reading + random.normal(0, noise), on, air, drawn])
        y = run.advance(y, on, air, truth, half, 6)
        hour = i * STEP_S / 3600 % 24
        set_c = NIGHT_C if hour < 5 or hour >= 22 else DAY_C
        reading = y[3] + truth[5]  # the thermostat looks halfway between two readings of the logger
        on = 1.0 if reading < set_c - DIFFERENTIAL_K / 2 else 0.0 if reading > set_c + DIFFERENTIAL_K / 2 else on
        y = run.advance(y, on, air, truth, half, 6)
        drawn = i in begins
        if drawn:
            y[0] = 58 + (y[0] - 58) * 0.2
    return truth, rows


def write_log(path, case, rows, random):
    with open(path, "w", newline="", encoding="utf-8") as file:
        file.write(f"# Simulated by {SOURCE.split(', ')[1]} (invented): conductance {case[0]} of the design's, air {case[1]:+} K, cable {case[2]}\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["time_s", "reading_c", "on", "air_c", "drawn"])
        for i, (reading, on, air, drawn) in enumerate(rows):
            logged_air = f"{air + random.normal(0, 0.1):.1f}" if case[4] and i % 10 == 0 else ""
            writer.writerow([i * STEP_S, f"{reading:.1f}", int(on), logged_air, int(drawn)])


def read_log(path):
    with open(path, encoding="utf-8") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    reading = np.array([float(row["reading_c"]) for row in rows])
    air = [float(row["air_c"]) if row["air_c"] else np.nan for row in rows]
    for i in range(1, len(air)):
        air[i] = air[i - 1] if np.isnan(air[i]) else air[i]
    return reading, np.array([float(row["on"]) for row in rows]), np.array(air), [row["drawn"] == "1" for row in rows]


def stretches(drawn):
    """Readings [a, b) between two draws, cut at three hours."""
    found, first = [], 0
    for i, moved in enumerate([*drawn, True]):
        if not moved:
            continue
        parts = max(1, -(-(i - first - 2) * STEP_S // (3 * 3600)))
        if (i - first - 2) * STEP_S >= ENOUGH_H * 3600:
            edges = np.linspace(first + 2, i, parts + 1).astype(int)
            found += list(zip(edges[:-1], edges[1:]))
        first = i
    return found


class Fit:
    def __init__(self, run, path):
        self.run = run
        self.reading, self.on, logged_air, drawn = read_log(path)
        self.air_logged = not np.isnan(logged_air).any()
        self.air = logged_air if self.air_logged else np.full(len(self.reading), run.d["air_c"])
        self.pieces = stretches(drawn)
        bends = np.abs(np.diff(self.reading, 2))
        self.noise = 1.4826 * np.median(bends) / np.sqrt(6)
        widest = max(1.0, (run.d["air_c"] - run.d["air_low_c"]) / 2, (run.d["air_high_c"] - run.d["air_c"]) / 2)
        self.prior = np.array([0.6, 0.5 if self.air_logged else widest, max(0.25, run.d["cable_tolerance_frac"]), 0.04, 0.3, 0.5])

    def insulation(self, x):
        """The two masses at every reading, driven by what was read. Columns: trials."""
        d, k, found = self.run.d, np.exp(x[0]), []
        at = (self.reading[0] - x[5], self.air[0] + x[1])
        inner, outer = self.run.settled(*at)
        for i, reading in enumerate(self.reading):
            found.append((inner, outer))
            rise = self.on[i] * np.exp(x[2] + x[4]) * d["sensor_k_per_w_per_m"] * self.run.output(reading)
            wall, air = reading - x[5] - rise, self.air[i] + x[1]
            for _ in range(4):  # explicit, in pieces far below the masses' own times
                flows = k * self.run.g[0] * (wall - inner), k * self.run.g[1] * (inner - outer), k * self.run.g[2] * (outer - air)
                h = STEP_S / 4
                inner, outer = inner + h * (flows[0] - flows[1]) / d["inner_j_per_m_k"], outer + h * (flows[1] - flows[2]) / d["outer_j_per_m_k"]
        return found

    def residuals(self, x):
        """All stretches side by side, shorter ones padded. One column a trial."""
        inner, outer = (np.array(mass) for mass in zip(*self.insulation(x)))
        first = np.array([a for a, _ in self.pieces])
        length = np.array([b - a for a, b in self.pieces])
        shared = x[: len(NAMES), :, None]
        y = np.array([x[len(NAMES):].T, inner[first].T, outer[first].T, self.reading[first] - shared[5]])
        left = []
        for i in range(length.max()):
            at = np.minimum(first + i, first + length - 1)
            then = np.minimum(at + 1, first + length - 1)
            counts = (i >= SETTLE) & (i < length)
            left.append(((y[3] + shared[5] - self.reading[at]) / self.noise)[:, counts].T)
            air = self.air[at] + shared[1]  # a state of the switch stands for the time that is nearest to it
            y = self.run.advance(y, self.on[at], air, shared, STEP_S / 2, 1)
            y = self.run.advance(y, self.on[then], air, shared, STEP_S / 2, 1)
        return np.concatenate([*left, x[: len(NAMES)] / self.prior[:, None]])

    def loss(self, z):
        """scipy's soft_l1 for the readings, squares for what was assumed before."""
        rho = np.array([z, np.ones_like(z), np.zeros_like(z)])
        t = 1 + z[: -len(NAMES)] / BEND**2
        rho[0, : -len(NAMES)] = 2 * BEND**2 * (np.sqrt(t) - 1)
        rho[1, : -len(NAMES)] = t**-0.5
        rho[2, : -len(NAMES)] = -0.5 * t**-1.5 / BEND**2
        return rho

    def solve(self):
        start = np.concatenate([np.zeros(len(NAMES)), [self.reading[a] for a, _ in self.pieces]])
        step = np.concatenate([[1e-3, 1e-2, 1e-3, 1e-3, 1e-3, 1e-2], np.full(len(self.pieces), 1e-2)])

        def jacobian(x):
            both = self.residuals(np.concatenate([x[:, None] + np.diag(step), x[:, None] - np.diag(step)], axis=1))
            return (both[:, : len(x)] - both[:, len(x):]) / (2 * step)

        scale = np.concatenate([self.prior, np.ones(len(self.pieces))])
        # Shares of more than five would make the explicit steps unstable.
        bound = np.concatenate([[1.6, 40, 1.6, 0.5, 1.6, 5], np.full(len(self.pieces), np.inf)])
        found = least_squares(lambda x: self.residuals(x[:, None])[:, 0], start, jacobian, (-bound, bound), x_scale=scale, loss=self.loss, xtol=1e-8, ftol=1e-10)
        covariance = np.linalg.inv(found.jac.T @ found.jac)
        return found.x[: len(NAMES)], np.sqrt(np.diag(covariance))[: len(NAMES)], len(found.fun) - len(NAMES)


def main():
    run = Run(json.loads((DATA / "watch_peer_design.json").read_text(encoding="utf-8")))
    header = ["case", "conductance_frac", "conductance_log_sd", "air_c", "air_sd_k", "cable_frac", "cable_log_sd", "used",
              "planted_conductance_frac", "planted_air_c", "planted_cable_frac", "source", "basis"]
    table = [header]
    for number in map(int, sys.argv[1:] or range(1, len(CASES) + 1)):
        case = CASES[number - 1]
        path = DATA / f"watch_peer_log_{number}.csv"
        _, rows = simulate(run, case)
        write_log(path, case, rows, np.random.default_rng(1000 + case[5]))
        fit = Fit(run, path)
        x, sd, used = fit.solve()
        table.append([number, f"{np.exp(x[0]):.5f}", f"{sd[0]:.5f}", f"{np.mean(fit.air) + x[1]:.4f}", f"{sd[1]:.4f}",
                      f"{np.exp(x[2]):.5f}", f"{sd[2]:.5f}", used, case[0], run.d["air_c"] + case[1], case[2], SOURCE, "computed"])
        print(table[-1][:-2], "nuisances", np.round(x[3:], 3), np.round(sd[3:], 3), flush=True)
    with open(DATA / "watch_peer_scipy.csv", "w", newline="", encoding="utf-8") as file:
        csv.writer(file, lineterminator="\n").writerows(table)


if __name__ == "__main__":
    main()
