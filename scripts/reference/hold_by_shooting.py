#!/usr/bin/env python3
"""Where a heated run settles, by an independent route, for tests/reference/hold_test.cpp.

Nothing of the program's solver is used: the water temperature is Brent's root of the film's loss at the surface that
numerical integration through the layers reaches (pipe_loss_by_bvp.py) when the cable's output flows. The cable's table is
interpolated by scipy's PCHIP (Fritsch and Butland) and held beyond its ends.

Run from the repository's root: python3 scripts/reference/hold_by_shooting.py
Writes tests/reference/data/hold_scipy.csv. Needs scipy; deterministic.
"""
import csv
import math
import random

import numpy as np
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq

import pipe_loss_by_bvp as pipe

# The invented cable of src/hold/invented_building.hpp, as shares of its output at 10 degC.
SHARE_AT = [5, 10, 25, 40, 46, 55, 65, 80]
SHARE = [1.05, 1, 0.86, 0.70, 0.62, 0.50, 0.33, 0.08]
COLUMNS = [*pipe.COLUMNS[:13], "law", "orientation", "height_m", "air_speed", "emissivity", "power_at_10c_w_per_m",
           "drive", "air_c", "water_c", "loss_w_per_m"]


def output(power_at_10c):
    curve = PchipInterpolator(SHARE_AT, [power_at_10c * share for share in SHARE])
    return lambda temp_c: float(curve(np.clip(temp_c, SHARE_AT[0], SHARE_AT[-1])))


def settle(case, power, drive):
    def excess(water_c):
        """Falls with the temperature: heat given less heat taken."""
        case["water_c"] = water_c
        loss = drive * power(water_c)
        surface_c = pipe.outward(case, loss)
        rise = surface_c - case["air_c"]
        if rise <= 0:
            return loss - rise
        radiated = case["emissivity"] * pipe.SIGMA * ((surface_c + 273.15) ** 4 - (case["air_c"] + 273.15) ** 4)
        convected = pipe.FILMS[case["law"]](case, surface_c) * rise
        return loss - math.pi * case["d_out"] * (radiated + convected)

    return brentq(excess, case["air_c"] + 1e-6, 200, xtol=1e-11, rtol=1e-13, maxiter=300)


def cases():
    pick = random.Random(46)
    for case in pipe.cases():
        if not case["layers"] or case["case"] % 3:
            continue
        case["d_out"] = case["layers"][-1][2]
        yield case, pick.choice((16, 24, 36)), pick.choice((0.1, 0.25, 0.5, 0.8, 1, 2))


def main():
    with open("tests/reference/data/hold_scipy.csv", "w", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(COLUMNS)
        for case, power_at_10c, drive in cases():
            power = output(power_at_10c)
            water_c = settle(case, power, drive)
            writer.writerow([*pipe.section_cells(case), power_at_10c, drive, case["air_c"],
                             f"{water_c:.10g}", f"{drive * power(water_c):.10g}"])


if __name__ == "__main__":
    main()
