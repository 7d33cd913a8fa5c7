#!/usr/bin/python3
"""The schema of register maps: the example fits, and each of a list of slips does not."""

import copy
import json
import pathlib
import sys
import tomllib

import jsonschema

ROOT = pathlib.Path(__file__).resolve().parents[2]

SLIPS = {
    "no device": lambda m: m.update(device=[]),
    "a key that nobody knows": lambda m: m.update(evry="60 s"),
    "a number instead of a time": lambda m: m.update(every=60),
    "neither network nor serial line": lambda m: m["device"][0].pop("tcp"),
    "both": lambda m: m["device"][1].update(tcp="192.0.2.7"),
    "a serial line without parity": lambda m: m["device"][1].pop("parity"),
    "a baud of a network": lambda m: m["device"][0].update(baud=9600),
    "no unit": lambda m: m["device"][0].pop("unit"),
    "no values": lambda m: m["device"][0].update(value=[]),
    "an unknown quantity": lambda m: m["device"][0]["value"][0].update(quantity="pressure"),
    "an unknown type": lambda m: m["device"][0]["value"][0].update(type="f16"),
    "an unknown order": lambda m: m["device"][0]["value"][0].update(words="big-endian"),
    "no type of a register": lambda m: m["device"][0]["value"][0].pop("type"),
    "a coil of two bytes": lambda m: m["device"][0]["value"][0].update(table="coil", type="u16"),
    "a bit without its number": lambda m: m["device"][1]["value"][2].pop("bit"),
    "the number of a bit of an integer": lambda m: m["device"][1]["value"][0].update(bit=3),
    "scale zero": lambda m: m["device"][0]["value"][0].update(scale=0),
    "valid of one number": lambda m: m["device"][0]["value"][0].update(valid=[1]),
}


def main():
    schema = json.loads((ROOT / "schemas" / "register-map.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    check = jsonschema.Draft202012Validator(schema)
    example = tomllib.loads((ROOT / "examples" / "devices.toml").read_text(encoding="utf-8"))
    failures = [f"examples/devices.toml: {e.json_path}: {e.message}" for e in check.iter_errors(example)]
    for name, spoil in SLIPS.items():
        bad = copy.deepcopy(example)
        spoil(bad)
        if check.is_valid(bad):
            failures.append(f"the schema lets through {name}")
    print("\n".join(failures) or "register maps: the example fits, every slip is caught")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
