#!/usr/bin/python3
"""The schemas of job.toml and of cable sheets: every example fits, and each of a list of slips does not."""

import copy
import json
import pathlib
import sys
import tomllib

import jsonschema

ROOT = pathlib.Path(__file__).resolve().parents[2]
EXAMPLES = ("hotel", "care-home", "clinic")


def validator(name):
    schema = json.loads((ROOT / "schemas" / name).read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def load(path):
    return tomllib.loads(path.read_text(encoding="utf-8"))


PERIOD = {"group": "main", "days": "mon-fri", "from": "22:00", "to": "5 am", "hold": "setback"}
USE = {"id": "guest", "weekday": [1] * 24, "occupancy": "70 %"}
WIRING = {"insulation": "THWN-2", "conduit": "EMT", "ambient": "86 °F", "circuits_together": 2, "max_drop": 0.03}
PIN = {"runs": ["R-01", "R-02"], "reason": "one corridor"}
OVERRIDE = {"rule": "standing-leakage", "value": 0.4, "reason": "agreed", "name": "A. Writer"}
DRAWS = {"use": "guest", "fixture": "shower", "per_day": 1.4, "duration": "8 min", "flow": "2.0 gpm"}
TARIFF = {"zone": "America/Chicago", "year": 2026, "file": "tariff.csv", "holidays": ["2026-12-25"], "other_load": "40 kW"}
CONTROLLER = {"clock": "set-points", "programs": "each-day", "periods_a_day": 4, "setting_step": "1 °F", "off": True}
WEEK = {"confidence": "95 %", "band_time": "8 h", "hot_hold": True, "hot_hold_log": 5, "catch_within": "24 h"}
SEASON = {"name": "summer", "from": "06-01"}
COMFORT = {"fixture": "*", "share": "90 %", "within": "30 s"}

JOB_SLIPS = {
    "a key that nobody knows": lambda job: job["site"].update(ownr="x"),
    "a section that nobody knows": lambda job: job.update(economy={}),
    "no rules": lambda job: job.pop("rules"),
    "no stored temperature": lambda job: job["supply"].pop("stored"),
    "a number instead of a quantity": lambda job: job["supply"].update(stored=140),
    "an unknown guideline": lambda job: job["rules"].update(hygiene="ashrae-13"),
    "an unknown building": lambda job: job["rules"].update(building="castle"),
    "no level": lambda job: job.update(level=[]),
    "a section instead of a list": lambda job: job.update(panel=job["panel"][0]),
    "a word instead of a flag": lambda job: job["panel"][0].update(ground_fault="yes"),
    "an id that begins with a blank": lambda job: job["space"][0].update(id=" void"),
    "an id that looks like a comment": lambda job: job["space"][0].update(id="#1"),
    "a price without what it is for": lambda job: job["economics"].update(energy_price="0.15"),
    "an acceptance without a name": lambda job: job.update(accept=[{"finding": "x", "place": "*", "reason": "y"}]),
    "a tank without a number": lambda job: job["supply"].update(tank="big"),
    "an unknown way to switch": lambda job: job["group"][0].update(method="fuzzy"),
    "a period without an end": lambda job: job.update(period=[{k: v for k, v in PERIOD.items() if k != "to"}]),
    "a period that begins at noon, in words": lambda job: job.update(period=[PERIOD | {"from": "noon"}]),
    "a use of nothing": lambda job: job.update(use=[{"id": "guest"}]),
    "a day of 23 hours": lambda job: job.update(use=[{"id": "guest", "weekday": [1] * 23}]),
    "draws at an unknown fixture": lambda job: job.update(draws=[DRAWS | {"fixture": "fountain"}]),
    "an unknown way to lay conductors": lambda job: job.update(wiring={"method": "in the air"}),
    "a pin on one run": lambda job: job.update(apart=[{"runs": ["R-1"]}]),
    "a pin that names a run twice": lambda job: job.update(together=[{"runs": ["R-1", "R-1"]}]),
    "an override of an unknown rule": lambda job: job.update(override=[OVERRIDE | {"rule": "no-rule"}]),
    "an override by nobody": lambda job: job.update(override=[{k: v for k, v in OVERRIDE.items() if k != "name"}]),
    "circuits by the floor": lambda job: job["group"][0].update(circuits="floor"),
    "prices from outside the folder": lambda job: job.update(tariff=TARIFF | {"file": "../tariff.csv"}),
    "prices in a file of another kind": lambda job: job.update(tariff=TARIFF | {"file": "tariff.pdf"}),
    "a year beyond the time zone data": lambda job: job.update(tariff=TARIFF | {"year": 2038}),
    "a holiday in words": lambda job: job.update(tariff=TARIFF | {"holidays": ["Christmas"]}),
    "a season without a beginning": lambda job: job.update(season=[{"name": "summer"}]),
    "a clock of an unknown kind": lambda job: job.update(controller=CONTROLLER | {"clock": "sun-dial"}),
    "thirteen periods": lambda job: job.update(controller=CONTROLLER | {"periods_a_day": 13}),
    "a hot hold of no effect": lambda job: job.update(week=WEEK | {"hot_hold_log": 0}),
    "comfort at an unknown fixture": lambda job: job.update(comfort=[COMFORT | {"fixture": "fountain"}]),
    "half a pass": lambda job: job["design"].update(max_passes=1.5),
}

SHEET_SLIPS = {
    "no maker": lambda sheet: sheet.pop("maker"),
    "one output only": lambda sheet: sheet.update(output=sheet["output"][:1]),
    "a number instead of a quantity": lambda sheet: sheet.update(width=12),
    "an unknown key in a row": lambda sheet: sheet["voltage"][0].update(volts="1 V"),
    "a factor of zero": lambda sheet: sheet["voltage"][0].update(factor=0),
}


def must_fit(check, path, failures):
    for error in check.iter_errors(load(path)):
        failures.append(f"{path.relative_to(ROOT)}: {error.json_path}: {error.message}")


def must_not_fit(check, good, slips, failures):
    for name, spoil in slips.items():
        bad = copy.deepcopy(good)
        spoil(bad)
        if check.is_valid(bad):
            failures.append(f"the schema lets through {name}")


def main():
    failures = []
    job, cable = validator("job.schema.json"), validator("cable.schema.json")
    for example in EXAMPLES:
        folder = ROOT / "examples" / example
        must_fit(job, folder / "job.toml", failures)
        sheets = sorted((folder / "catalog").glob("*.toml"))
        if len(sheets) < 3:
            failures.append(f"{example} has {len(sheets)} sheets")
        for sheet in sheets:
            must_fit(cable, sheet, failures)
    clinic = ROOT / "examples" / "clinic"
    circuits = load(clinic / "job.toml") | {"wiring": WIRING, "together": [PIN], "apart": [PIN], "override": [OVERRIDE]}
    failures += [f"circuits: {error.message}" for error in job.iter_errors(circuits)]
    in_time = load(clinic / "job.toml") | {"period": [PERIOD], "use": [USE], "draws": [DRAWS]}
    failures += [f"periods and use: {error.message}" for error in job.iter_errors(in_time)]
    week = {"tariff": TARIFF, "season": [SEASON], "controller": CONTROLLER, "week": WEEK, "comfort": [COMFORT]}
    failures += [f"week: {error.message}" for error in job.iter_errors(load(clinic / "job.toml") | week)]
    must_not_fit(job, load(clinic / "job.toml"), JOB_SLIPS, failures)
    must_not_fit(cable, load(clinic / "catalog" / "lt-12.toml"), SHEET_SLIPS, failures)
    print("\n".join(failures) or "schemas: every example fits, every slip is caught")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
