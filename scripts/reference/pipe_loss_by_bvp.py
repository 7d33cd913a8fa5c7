#!/usr/bin/env python3
"""Loss of insulated and bare pipes by an independent route, for tests/reference/pipe_loss_test.cpp.

The program marches outwards with Kirchhoff's integral of a piecewise linear k(T). Here nothing of that is used:
the conduction equation dT/dr = -q / (2 pi r k(T)) is integrated numerically through every layer (DOP853,
rtol 1e-12) for a guessed loss, and Brent's method finds the loss that the film outside takes away: a boundary
value problem by shooting. The film laws are written anew from the published equations (docs/physics.md).

Run from the repository's root: python3 scripts/reference/pipe_loss_by_bvp.py
Writes tests/reference/data/pipe_loss_scipy.csv. Needs scipy; deterministic.
"""
import csv
import math
import random

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

SIGMA = 5.67e-8
GRAVITY = 9.80665
COLUMNS = ["case", "inner_diameter_mm", "outer_diameter_mm", "wall_conductivity", "inner_film", "insulation_1",
           "bore_1_mm", "outer_1_mm", "factor_1", "insulation_2", "bore_2_mm", "outer_2_mm", "factor_2", "law",
           "orientation", "height_m", "air_speed", "emissivity", "water_c", "air_c", "loss_w_per_m", "surface_c"]


def read(name):
    with open(f"data/{name}.csv", newline="") as file:
        return list(csv.DictReader(file))


CONDUCTIVITY = {}
for row in read("insulation_conductivity"):
    CONDUCTIVITY.setdefault(row["id"], []).append((float(row["mean_c"]), float(row["conductivity_w_per_m_k"])))
AIR = {key: np.array([float(row[key]) for row in read("air_properties")])
       for key in ("temp_c", "kinematic_viscosity_mm2_per_s", "diffusivity_mm2_per_s", "conductivity_w_per_m_k")}


def iso_film(case, surface_c):
    rise, d = abs(surface_c - case["air_c"]), case["d_out"]
    if case["orientation"] == "vertical":
        length, laminar, turbulent = case["height_m"], 1.32, 1.74
    else:
        length, laminar, turbulent = d, 1.25, 1.21
    still = laminar * (rise / length) ** 0.25 if length**3 * rise <= 10 else turbulent * rise ** (1 / 3)
    v = case["air_speed"]
    if v <= 0:
        return still
    return max(still, 0.0081 / d + 3.14 * math.sqrt(v / d), 8.9 * v**0.9 / d**0.1)


def churchill_chu_film(case, surface_c):
    air_k, surface_k = case["air_c"] + 273.15, surface_c + 273.15
    film_c = (air_k + surface_k) / 2 - 273.15
    nu, alpha, k = (np.interp(film_c, AIR["temp_c"], AIR[key]) for key in
                    ("kinematic_viscosity_mm2_per_s", "diffusivity_mm2_per_s", "conductivity_w_per_m_k"))
    nu, alpha, d = nu * 1e-6, alpha * 1e-6, case["d_out"]
    prandtl = nu / alpha
    rayleigh = GRAVITY / (film_c + 273.15) * abs(surface_c - case["air_c"]) * d**3 / (nu * alpha)
    root = 0.60 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)
    return root**2 * k / d


def c680_film(case, surface_c):
    air_f, surface_f = case["air_c"] * 1.8 + 32, surface_c * 1.8 + 32
    mean_r = (air_f + surface_f) / 2 + 459.67
    shape = 1.235 if case["orientation"] == "vertical" else 1.016
    btu = shape * (0.0254 / case["d_out"]) ** 0.2 * mean_r**-0.181 * abs(surface_f - air_f) ** 0.266
    return btu * math.sqrt(1 + 1.277 * case["air_speed"] / 0.44704) * 5.678263


FILMS = {"iso_12241": iso_film, "churchill_chu": churchill_chu_film, "astm_c680_1989": c680_film}


def outward(case, loss):
    """Surface temperature when `loss` W/m flows, by numerical integration through wall and layers."""
    temp = case["water_c"]
    if case["inner_film"]:
        temp -= loss / (math.pi * case["d_in"] * case["inner_film"])
    rings = [(case["d_in"], case["d_pipe"], lambda t: case["wall_conductivity"])]
    for name, bore, outer, factor in case["layers"]:
        points = CONDUCTIVITY[name]
        at, k = [p[0] for p in points], [p[1] for p in points]
        rings.append((bore, outer, lambda t, at=at, k=k, factor=factor: factor * np.interp(t, at, k)))
    for inner, outer, k in rings:
        # In s = ln r the equation is smooth apart from the kinks of k(T).
        answer = solve_ivp(lambda s, t: [-loss / (2 * math.pi * k(t[0]))], (math.log(inner), math.log(outer)), [temp],
                           method="DOP853", rtol=1e-12, atol=1e-12, max_step=(math.log(outer / inner)) / 16)
        temp = float(answer.y[0, -1])
    return temp


def solve(case):
    case["d_out"] = case["layers"][-1][2] if case["layers"] else case["d_pipe"]

    def excess(loss):
        surface_c = outward(case, loss)
        rise = surface_c - case["air_c"]
        if rise * (case["water_c"] - case["air_c"]) <= 0:
            return -loss
        surface_k, room_k = surface_c + 273.15, case["air_c"] + 273.15
        radiated = case["emissivity"] * SIGMA * (surface_k**4 - room_k**4)
        convected = FILMS[case["law"]](case, surface_c) * rise
        return math.pi * case["d_out"] * (radiated + convected) - loss

    top = 3000.0 if case["water_c"] > case["air_c"] else -3000.0
    loss = brentq(excess, 1e-9 * top, top, xtol=1e-12, rtol=1e-13, maxiter=300)
    return loss, outward(case, loss)


def cases():
    """A fixed spread over what buildings have, and beyond it; the seed only chooses."""
    pick = random.Random(20240)
    pipes = [(10.922, 12.7, 380), (19.939, 22.225, 380), (26.035, 28.575, 380), (50.419, 53.975, 380),
             (20.2, 22, 380), (51.6, 54, 380), (52.48, 60.3, 50), (102.26, 114.3, 50), (54.76, 60.3, 17),
             (23.393, 28.575, 0.144), (44.171, 53.975, 0.144), (17.297, 22.225, 0.38), (41.986, 53.975, 0.38)]
    for number in range(210):
        d_in, d_pipe, wall_k = pick.choice(pipes)
        kind = number % 7  # 0: bare, 1 to 5: one layer, 6: two layers
        layers = []
        bore = d_pipe + pick.choice((0, 0, 1, 8))
        for _ in range(0 if kind == 0 else 2 if kind == 6 else 1):
            outer = bore + 2 * pick.choice((13, 19, 25.4, 30, 38.1, 50.8, 76.2))
            layers.append((pick.choice(sorted(CONDUCTIVITY)), bore * 1e-3, outer * 1e-3,
                           pick.choice((1, 1, 1, 1.15, 2.5))))
            bore = outer
        law = ("iso_12241", "iso_12241", "churchill_chu", "astm_c680_1989")[number % 4]
        vertical = law != "churchill_chu" and pick.random() < 0.3
        windy = law != "churchill_chu" and pick.random() < 0.25
        yield {"case": number + 1, "d_in": d_in * 1e-3, "d_pipe": d_pipe * 1e-3, "wall_conductivity": wall_k,
               "inner_film": pick.choice((0, 300, 1500)), "layers": layers, "law": law,
               "orientation": "vertical" if vertical else "horizontal",
               # The ISO law steps where height^3 dT = 10; 0.5 and 12 m stay clear of the step.
               "height_m": pick.choice((0.5, 12)) if vertical else 1, "air_speed": pick.choice((0.2, 1, 5)) if windy else 0,
               "emissivity": pick.choice((0.05, 0.15, 0.44, 0.9)),
               "water_c": pick.choice((5, 40, 46.1, 50, 55, 60, 71, 90)), "air_c": pick.choice((-20, 0, 10, 20, 26.7, 35))}


def section_cells(case):
    """The columns of the pipe section and its room, as every table of sections begins."""
    mm = lambda metres: f"{metres * 1e3:.6g}"
    layers = []
    for name, bore, outer, factor in case["layers"]:
        layers += [name, mm(bore), mm(outer), factor]
    layers += [""] * (8 - len(layers))
    return [case["case"], mm(case["d_in"]), mm(case["d_pipe"]), case["wall_conductivity"], case["inner_film"], *layers,
            case["law"], case["orientation"], case["height_m"], case["air_speed"], case["emissivity"]]


def main():
    with open("tests/reference/data/pipe_loss_scipy.csv", "w", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(COLUMNS)
        for case in cases():
            loss, surface_c = solve(case)
            writer.writerow([*section_cells(case), case["water_c"], case["air_c"],
                             f"{loss:.12g}", f"{surface_c:.12g}"])


if __name__ == "__main__":
    main()
