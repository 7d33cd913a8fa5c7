#!/usr/bin/env python3
"""Makes the two invented logs beside it from a simulation of examples/clinic with the week of week.toml:

    cp -r examples/clinic /tmp/clinic && cat examples/clinic-logs/week.toml >> /tmp/clinic/job.toml
    firstdraw simulate /tmp/clinic --days 14 --seed 4 --fault wet-insulation:R-04=1.25 --csv sim --csv-minutes 1
    python3 examples/clinic-logs/make_logs.py sim/series.csv

The simulation's figures at the moments that are logged, nothing in between, with noise and rounding of a sensor, and with
what goes wrong in real logs planted in known places: README.md lists it.
"""

import csv
import datetime as dt
import pathlib
import random
import sys
import zoneinfo

HERE = pathlib.Path(__file__).parent
NEW_YORK = zoneinfo.ZoneInfo("America/New_York")
SIMULATED = dt.datetime(2026, 10, 19, tzinfo=NEW_YORK).astimezone(dt.timezone.utc)  # a Monday
FIRST_DAY, STEP_MIN = 9, 1  # the log begins on Wednesday the 28th
PANEL_V = 208.0
random.seed(19)


def simulated(path):
    """Every reading that the logger takes."""
    with open(path, encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    power = next(key for key in rows[0] if "(W)" in key and "main" in key)
    picked = {"pipe": "sensor main (°F)", "power": power, "far": "run R-09 (°F)"}
    every_min = round(60 * (float(rows[1]["time (h)"]) - float(rows[0]["time (h)"])))
    if STEP_MIN % every_min:
        sys.exit(f"the simulation was written every {every_min} min: --csv-minutes 1 was expected")
    begin = FIRST_DAY * 24 * 60 // every_min
    return [{name: float(row[key]) for name, key in picked.items()} for row in rows[begin :: STEP_MIN // every_min]]


def readings(rows):
    """UTC, sensor and far run in °C, current in A, air in °C: as sensors read them."""
    air, out = 20.5, []
    for i, row in enumerate(rows):
        air += random.gauss(0, 0.02) - 0.002 * (air - 20.5)
        out.append([SIMULATED + dt.timedelta(days=FIRST_DAY, minutes=STEP_MIN * i),
                    (row["pipe"] - 32) / 1.8 + random.gauss(0, 0.08),
                    row["power"] / PANEL_V * (1 + random.gauss(0, 0.008)),
                    (row["far"] - 32) / 1.8 + random.gauss(0, 0.08),
                    air + random.gauss(0, 0.05)])
    return out


def at(day, hour, minute=0):
    """Rows since the begin, by days of 24 hours."""
    return ((day * 24 + hour) * 60 + minute) // STEP_MIN


def european(rows):
    cells = []
    for moment, pipe, current, far, air in rows:
        local = moment.astimezone(NEW_YORK)
        values = [f"{pipe:.1f}", f"{current:.2f}", f"{far:.1f}", f"{air:.1f}"]
        cells.append([local.strftime("%d.%m.%Y %H:%M:%S")] + [v.replace(".", ",") for v in values])
    for i in range(at(2, 4), at(2, 13)):  # the far sensor sticks for 9 hours
        cells[i][3] = cells[at(2, 4)][3]
    for i in (500, 501, 1777):
        cells[i][1] = "---"
    sent_twice = cells[at(3, 6):at(3, 7)]
    cells[at(3, 7):at(3, 7)] = sent_twice
    del cells[at(1, 9):at(1, 12)]  # three hours without power
    lines = ["# Invented log: simulated, with noise; of no real building.",
             f"Datenlogger A;Intervall {STEP_MIN} min", "",
             "Zeit;Rohr main [°C];Heizkabel main [A];R-09 [°C];Luft void [°C]"]
    return "\n".join(lines + [";".join(row) for row in cells]) + "\n"


def american(rows):
    lines = ["# Invented log: simulated, with noise; of no real building.",
             "Date,Time,Main pipe (°F),Main cable (A),R-09 (°F),Heater"]
    for i, (moment, pipe, current, far, _) in enumerate(rows):
        if i >= at(2, 15):  # somebody sets the logger's clock back by 40 minutes
            moment -= dt.timedelta(minutes=40)
        local = moment.astimezone(NEW_YORK)
        time = local.strftime("%I:%M:%S %p").lstrip("0")
        far_f = "1562.0" if at(1, 2) <= i < at(1, 2, 20) else f"{far * 1.8 + 32:.1f}"  # a wire comes loose
        lines.append(f"{local.month}/{local.day}/{local.year},{time},{pipe * 1.8 + 32:.1f},{current:.2f},{far_f},"
                     f"{'ON' if current > 0.3 else 'OFF'}")
    return "\r\n".join(lines) + "\r\n"


data = readings(simulated(sys.argv[1]))
(HERE / "european.csv").write_text(european(data), encoding="utf-8")
(HERE / "american.csv").write_text(american(data[at(1, 0):]), encoding="utf-8", newline="")
