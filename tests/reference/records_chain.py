"""The chain of a book recomputed from the table alone, by what docs/records.md says of it: sqlite3 and hashlib, nothing
of the program. records_chain.py FILE BOOK [HEAD]: one line, and a non-zero exit code when the book is not whole."""
import hashlib
import json
import sqlite3
import sys


class Written(str):
    """A number as it was written."""


def dumps(value):
    if isinstance(value, Written):
        return str(value)
    if isinstance(value, dict):
        keys = sorted(value, key=lambda key: key.encode("utf-16-be"))
        return "{" + ",".join(json.dumps(key, ensure_ascii=False) + ":" + dumps(value[key]) for key in keys) + "}"
    if isinstance(value, list):
        return "[" + ",".join(map(dumps, value)) + "]"
    return json.dumps(value, ensure_ascii=False)


def loads(text):
    return json.loads(text, parse_float=Written, parse_int=Written)


def check(path, book):
    database = sqlite3.connect(f"file:{path}?mode=ro", uri=True)
    columns = ("at", "attachments", "body", "corrects", "entry", "instruments", "job", "kind", "number", "previous_hash",
               "stored_at", "who")
    last, count, files = "0" * 64, 0, set()
    for *values, kept in database.execute(f"SELECT {','.join(columns)}, hash FROM records WHERE job = ? ORDER BY number",
                                          (book,)):
        record = dict(zip(columns, values))
        if record["entry"] is None:
            del record["entry"]
        for name in ("attachments", "body", "instruments"):
            record[name] = loads(record[name])
        digest = hashlib.sha256(dumps(record).encode("utf-8")).hexdigest()
        count += 1
        if (digest, record["previous_hash"], record["number"]) != (kept, last, count):
            sys.exit(f"record {record['number']} is not whole: {dumps(record)}")
        for file in record["attachments"]:
            content, = database.execute("SELECT content FROM files WHERE sha256 = ?", (file["sha256"],)).fetchone()
            if hashlib.sha256(content).hexdigest() != file["sha256"] or str(len(content)) != file["bytes"]:
                sys.exit(f"file {file['name']} of record {count} is not whole")
            files.add(file["sha256"])
        last = kept
    return count, len(files), last


if __name__ == "__main__":
    records, attached, head = check(*sys.argv[1:3])
    if len(sys.argv) > 3 and head != sys.argv[3]:
        sys.exit(f"the head is {head}")
    print(f"{records} records, {attached} files, whole, head {head}")
