#!/usr/bin/env python3
"""Makes the two invented logs beside it from a simulation of examples/clinic:

    firstdraw simulate examples/clinic --days 14 --seed 4 --csv sim
    python3 examples/clinic-logs/make_logs.py sim/series.csv

Two weeks at 5-minute steps (the simulation's 10-minute figures, straight between them), with noise and rounding
of a sensor, and with what goes wrong in real logs planted in known places: README.md lists it.
"""

import csv
import datetime as dt
import pathlib
import random
import sys
import zoneinfo

HERE = pathlib.Path(__file__).parent
NEW_YORK = zoneinfo.ZoneInfo("America/New_York")
BEGIN = dt.datetime(2026, 10, 19, tzinfo=NEW_YORK).astimezone(dt.timezone.utc)  # a Monday
PANEL_V = 208.0
random.seed(19)


def simulated(path):
    with open(path, encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    power = next(key for key in rows[0] if "(W)" in key and "main" in key)
    picked = {"pipe": "sensor main (°F)", "power": power, "far": "run R-09 (°F)"}
    ten = [{name: float(row[key]) for name, key in picked.items()} for row in rows]
    five = []
    for a, b in zip(ten, ten[1:]):
        five += [a, {"pipe": (a["pipe"] + b["pipe"]) / 2, "far": (a["far"] + b["far"]) / 2, "power": b["power"]}]
    return five


def readings(rows):
    """UTC, sensor and far run in °C, current in A, air in °C: as sensors read them."""
    air, out = 20.5, []
    for i, row in enumerate(rows):
        air += random.gauss(0, 0.05) - 0.01 * (air - 20.5)
        out.append([BEGIN + dt.timedelta(minutes=5 * i),
                    (row["pipe"] - 32) / 1.8 + random.gauss(0, 0.08),
                    row["power"] / PANEL_V * (1 + random.gauss(0, 0.008)),
                    (row["far"] - 32) / 1.8 + random.gauss(0, 0.08),
                    air + random.gauss(0, 0.05)])
    return out


def at(day, hour, minute=0):
    """Rows since the begin, by days of 24 hours."""
    return (day * 24 + hour) * 12 + minute // 5


def european(rows):
    cells = []
    for moment, pipe, current, far, air in rows:
        local = moment.astimezone(NEW_YORK)
        values = [f"{pipe:.1f}", f"{current:.2f}", f"{far:.1f}", f"{air:.1f}"]
        cells.append([local.strftime("%d.%m.%Y %H:%M:%S")] + [v.replace(".", ",") for v in values])
    for i in range(at(8, 4), at(8, 13)):  # the far sensor sticks for 9 hours
        cells[i][3] = cells[at(8, 4)][3]
    for i in (500, 501, 1777):
        cells[i][1] = "---"
    sent_twice = cells[at(10, 6):at(10, 7)]
    cells[at(10, 7):at(10, 7)] = sent_twice
    del cells[at(3, 9):at(3, 12)]  # three hours without power
    lines = ["# Invented log: simulated, with noise; of no real building.",
             "Datenlogger A;Intervall 5 min", "",
             "Zeit;Rohr main [°C];Heizkabel main [A];R-09 [°C];Luft void [°C]"]
    return "\n".join(lines + [";".join(row) for row in cells]) + "\n"


def american(rows):
    lines = ["# Invented log: simulated, with noise; of no real building.",
             "Date,Time,Main pipe (°F),Main cable (A),R-09 (°F),Heater"]
    for i, (moment, pipe, current, far, _) in enumerate(rows):
        if i >= at(9, 15):  # somebody sets the logger's clock back by 40 minutes
            moment -= dt.timedelta(minutes=40)
        local = moment.astimezone(NEW_YORK)
        time = local.strftime("%I:%M:%S %p").lstrip("0")
        far_f = "1562.0" if at(5, 2) <= i < at(5, 2, 20) else f"{far * 1.8 + 32:.1f}"  # a wire comes loose
        lines.append(f"{local.month}/{local.day}/{local.year},{time},{pipe * 1.8 + 32:.1f},{current:.2f},{far_f},"
                     f"{'ON' if current > 0.3 else 'OFF'}")
    return "\r\n".join(lines) + "\r\n"


data = readings(simulated(sys.argv[1]))
(HERE / "european.csv").write_text(european(data), encoding="utf-8")
(HERE / "american.csv").write_text(american(data), encoding="utf-8", newline="")
