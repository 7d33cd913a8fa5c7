"""tests/reference/read_archive.py ARCHIVE: reads an archive by docs/archive.md alone, with Python's standard library
and none of the program's code, and says what it holds. Every hash, chain and count is recomputed; the first thing that
is wrong ends it with exit code 1. Debian's python3-jsonschema, where it is there, also holds manifest and records
against schemas/."""
import csv
import hashlib
import io
import json
import math
import pathlib
import sys
import urllib.parse
import zipfile

try:
    import jsonschema
except ImportError:
    jsonschema = None

ROOT = "firstdraw-archive/"
SCHEMAS = pathlib.Path(__file__).resolve().parents[2] / "schemas"


def must(truth, what):
    if not truth:
        sys.exit(f"not as documented: {what}")


def schema(name):
    if not jsonschema:
        return lambda value: None
    text = json.loads((SCHEMAS / name).read_text(encoding="utf-8"))
    return jsonschema.Draft202012Validator(text).validate


def sha256(data):
    return hashlib.sha256(data).hexdigest()


def read_entries(path):
    with zipfile.ZipFile(path) as archive:
        must(archive.testzip() is None, "a CRC")
        names = archive.namelist()
        must(len(names) == len(set(names)), "names twice")
        must(all(name.startswith(ROOT) for name in names), "a name outside the root")
        must(all(info.date_time == (1980, 1, 1, 0, 0, 0) for info in archive.infolist()), "times")
        return {name[len(ROOT):]: archive.read(name) for name in names}


def check_records(book, text, files):
    valid = schema("archive-record.schema.json")
    head, number = "0" * 64, 0
    for line in text.decode("utf-8").splitlines():
        record = json.loads(line)
        valid(record)
        number += 1
        must(record["job"] == book["job"] and record["number"] == number, f"number {number}")
        must(record["previous_hash"] == head, f"the chain at record {number}")
        head = sha256(line.encode("utf-8"))
        for attachment in record["attachments"]:
            must(len(files[attachment["sha256"]]) == attachment["bytes"], f"an attachment of record {number}")
    must(head == book["head_hash"] and number == book["records"], f"the head of {book['job']}")


def rows(text, heading):
    lines = list(csv.reader(io.StringIO(text.decode("utf-8"), newline="")))
    must(lines and ",".join(lines[0]) == heading, heading)
    return lines[1:]


def check_readings(book, entries):
    series = rows(entries[f"{book['folder']}/series.csv"], "id,name,quantity,place")
    must([int(row[0]) for row in series] == list(range(1, len(series) + 1)), "ids")
    must([row[1].encode() for row in series] == sorted(row[1].encode() for row in series), "names in order")
    samples = 0
    for row in series:
        last = -math.inf
        for at, value in rows(entries[f"{book['folder']}/readings/{row[0]}.csv"], "at_ms,value"):
            must(int(at) > last and math.isfinite(float(value)), f"a reading of {row[1]}")
            last = int(at)
            samples += 1
    must(samples == book["samples"] and len(series) == book["series"], f"the counts of {book['job']}")


def main():
    entries = read_entries(sys.argv[1])
    manifest = json.loads(entries.pop("manifest.json"))
    schema("archive-manifest.schema.json")(manifest)
    must(manifest["format"] == "firstdraw-archive" and manifest["version"] == 1, "format")
    listed = {entry["path"]: (entry["bytes"], entry["sha256"]) for entry in manifest["entries"]}
    must(listed == {name: (len(data), sha256(data)) for name, data in entries.items()}, "the list of files")
    files = {name.removeprefix("files/"): data for name, data in entries.items() if name.startswith("files/")}
    must(all(sha256(data) == name for name, data in files.items()), "the name of a file")
    for book in manifest["books"]:
        must(urllib.parse.unquote(book["folder"]) == "books/" + book["job"], f"the folder of {book['job']}")
        check_records(book, entries[f"{book['folder']}/records.jsonl"], files)
        check_readings(book, entries)
        print(book["job"], book["head_hash"])
    sums = [sum(book[key] for book in manifest["books"]) for key in ("records", "series", "samples")]
    print(f"{len(manifest['books'])} books, {sums[0]} records, {len(files)} files, {sums[1]} series, {sums[2]} samples")


if __name__ == "__main__":
    main()
