#!/usr/bin/env python3
"""Writes small invented logs in many notations, and what is in them, with Python's own csv, datetime and
zoneinfo: an independent path to the instants and values that the importer must find.

    python3 make_logs.py        # writes *.log and truth.json beside itself

truth.json: for each log its file, the zone the job names, the instants (ms since 1970, UTC) and values (SI) of
each column that is read, whether a doubt is due, and what the format must say.
"""

import csv
import datetime as dt
import io
import json
import pathlib
import random
import zoneinfo

HERE = pathlib.Path(__file__).parent
UTC = dt.timezone.utc
random.seed(20261129)
TRUTH = []


def instants(begin, step_s, count):
    return [begin + dt.timedelta(seconds=step_s * i) for i in range(count)]


def utc(*parts):
    return dt.datetime(*parts, tzinfo=UTC)


def readings(count):
    """Pipe temperature (degC, tenths) and current (A, hundredths), wandering."""
    temp, rows = 52.0, []
    for _ in range(count):
        temp += random.choice([-0.3, -0.2, -0.1, 0.1, 0.2, 0.3])
        temp = min(58.0, max(47.0, temp))
        rows.append((round(temp, 1), round(random.uniform(2.0, 9.5), 2)))
    return rows


def point(value, digits):
    return f"{value:.{digits}f}"


def comma(value, digits):
    return point(value, digits).replace(".", ",")


def table(header, rows, delimiter=",", quote=csv.QUOTE_MINIMAL, end="\n"):
    out = io.StringIO()
    writer = csv.writer(out, delimiter=delimiter, quoting=quote, lineterminator=end)
    if header:
        writer.writerow(header)
    writer.writerows(rows)
    return out.getvalue()


def save(name, text, stamps, columns, *, encoding="utf-8", doubt=False, zone="America/New_York", want=None):
    """columns: [(quantity, [SI value or None per stamp])]"""
    (HERE / f"{name}.log").write_bytes(text if isinstance(text, bytes) else text.encode(encoding))
    TRUTH.append({
        "name": name, "zone": zone, "doubt": doubt, "want": want or {},
        "at_ms": [round(s.timestamp() * 1000) for s in stamps],
        "columns": [{"quantity": q, "values": v} for q, v in columns],
    })


def half_day(t, form="%I:%M:%S %p", am="AM", pm="PM"):
    text = t.strftime(form.replace("%p", "@"))
    return text.replace("@", pm if t.hour >= 12 else am)


def no_zero(text):
    return text.lstrip("0")


def plain(name, stamp, *, begin=utc(2026, 2, 27, 3, 0), step=600, count=150, zone="America/New_York",
          header=("Time", "Pipe (°C)", "Current (A)"), delimiter=",", number=point, **more):
    """A log with one cell for the time; `stamp` writes an aware local time."""
    at = instants(begin, step, count)
    data = readings(count)
    local = [t.astimezone(zoneinfo.ZoneInfo(zone)) for t in at]
    rows = [[stamp(t), number(a, 1), number(b, 2)] for t, (a, b) in zip(local, data)]
    text = table(header, rows, delimiter, more.pop("quote", csv.QUOTE_MINIMAL), more.pop("end", "\n"))
    text = more.pop("before", "") + text + more.pop("after", "")
    save(name, text, at, [("temperature", [a for a, _ in data]), ("current", [b for _, b in data])], zone=zone, **more)


BERLIN, NEW_YORK = "Europe/Berlin", "America/New_York"
WINTER, ACROSS, TWELFTHS = utc(2026, 2, 27, 3, 0), utc(2026, 2, 11, 3, 0), utc(2026, 3, 4, 9, 0)

# Notations of the time, local to New York.
plain("iso-blank", lambda t: t.strftime("%Y-%m-%d %H:%M:%S"))
plain("iso-t", lambda t: t.strftime("%Y-%m-%dT%H:%M:%S"))
plain("iso-minutes", lambda t: t.strftime("%Y-%m-%d %H:%M"))
plain("iso-millis", lambda t: t.strftime("%Y-%m-%dT%H:%M:%S.250"), begin=WINTER + dt.timedelta(milliseconds=250))
plain("iso-offset", lambda t: t.isoformat(), want={"clock": "with-offset"})
plain("iso-offset-short", lambda t: t.strftime("%Y-%m-%dT%H:%M:%S%z"), want={"clock": "with-offset"})
plain("iso-z", lambda t: t.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ"), want={"clock": "with-offset"})
plain("utc-word", lambda t: t.astimezone(UTC).strftime("%Y-%m-%d %H:%M:%S UTC"), want={"clock": "with-offset"})
plain("slashes-ymd", lambda t: t.strftime("%Y/%m/%d %H:%M:%S"))
plain("compact", lambda t: t.strftime("%Y%m%d%H%M%S"))
plain("compact-parted", lambda t: t.strftime("%Y%m%d %H%M%S"))
plain("us-24h", lambda t: t.strftime("%m/%d/%Y %H:%M:%S"), want={"order": "month-day-year"})
plain("us-half-day", lambda t: t.strftime("%m/%d/%Y ") + half_day(t), want={"order": "month-day-year"})
plain("us-short", lambda t: f"{t.month}/{t.day}/{t:%y} " + no_zero(half_day(t, "%I:%M %p")),
      want={"order": "month-day-year"})
plain("us-dots", lambda t: f"{t.month}/{t.day}/{t:%Y} " + half_day(t, "%I:%M:%S %p", "a.m.", "p.m."))
plain("us-attached", lambda t: f"{t.month}/{t.day}/{t:%Y} " + half_day(t, "%I:%M:%S%p", "am", "pm"))
plain("us-comma", lambda t: f"{t.month}/{t.day}/{t:%Y}, " + no_zero(half_day(t)))
plain("us-narrow-blank", lambda t: f"{t.month}/{t.day}/{t:%y}, " + no_zero(half_day(t, "%I:%M:%S\u202f%p")))
plain("month-name", lambda t: t.strftime("%d-%b-%Y %H:%M:%S"))
plain("month-first-name", lambda t: t.strftime("%b %d, %Y ") + half_day(t))
plain("weekday", lambda t: t.strftime("%a, %d %b %Y %H:%M:%S"))
plain("weekday-long", lambda t: t.strftime("%A, %B %d, %Y ") + half_day(t))
plain("short-zone", lambda t: t.strftime("%Y-%m-%d %H:%M:%S ") + t.tzname(), doubt=True, want={"clock": "with-offset"})
plain("day-first", lambda t: t.strftime("%d/%m/%Y %H:%M:%S"), want={"order": "day-month-year"})
plain("day-first-short", lambda t: t.strftime("%d/%m/%y %H:%M"), want={"order": "day-month-year"})
plain("year-first-short", lambda t: t.strftime("%y-%m-%d %H:%M"), want={"order": "year-month-day"})
# No field above 12: only that times go on evenly from one day to the next tells.
plain("twelfths-day-first", lambda t: t.strftime("%d/%m/%Y %H:%M:%S"), begin=TWELFTHS, count=140,
      want={"order": "day-month-year"})
plain("twelfths-month-first", lambda t: t.strftime("%m/%d/%Y %H:%M:%S"), begin=TWELFTHS, count=140,
      want={"order": "month-day-year"})
# One day whose number is at most 12: nothing tells, a doubt is due; the usual order of the zone is taken.
plain("one-day-ambiguous", lambda t: t.strftime("%m/%d/%Y %H:%M:%S"), begin=utc(2026, 3, 4, 14, 0), count=40, doubt=True)
plain("daily", lambda t: t.strftime("%d.%m.%Y"), begin=utc(2026, 2, 1, 23, 0), step=86400, count=25, zone=BERLIN)

# Counts instead of dates.
plain("unix-seconds", lambda t: str(int(t.timestamp())), want={"clock": "unix-seconds"})
plain("unix-millis", lambda t: str(int(t.timestamp() * 1000)), want={"clock": "unix-milliseconds"})
plain("unix-parts", lambda t: f"{t.timestamp():.3f}", want={"clock": "unix-seconds"})
plain("spreadsheet", lambda t: f"{(t.replace(tzinfo=None) - dt.datetime(1899, 12, 30)).total_seconds() / 86400:.10f}",
      want={"clock": "spreadsheet-days"})

# Europe: semicolons and commas.
EU = ("Zeit", "Rohrtemperatur [°C]", "Strom [A]")
plain("eu-usual", lambda t: t.strftime("%d.%m.%Y %H:%M:%S"), zone=BERLIN, header=EU, delimiter=";", number=comma,
      want={"decimal": ",", "order": "day-month-year", "delimiter": ";"})
plain("eu-short-year", lambda t: t.strftime("%d.%m.%y %H:%M"), zone=BERLIN, header=EU, delimiter=";", number=comma)
plain("eu-points", lambda t: t.strftime("%d.%m.%Y %H:%M:%S"), zone=BERLIN, header=EU, delimiter=";")
plain("eu-tab", lambda t: t.strftime("%d.%m.%Y %H:%M:%S"), zone=BERLIN, header=EU, delimiter="\t", number=comma)
plain("eu-latin-1", lambda t: t.strftime("%d.%m.%Y %H:%M:%S"), zone=BERLIN, header=("Zeit", "Fühler [°C]", "Strom [A]"),
      delimiter=";", number=comma, encoding="latin-1", want={"encoding": "latin-1"})
plain("eu-quoted-commas", lambda t: t.strftime("%d.%m.%Y %H:%M:%S"), zone=BERLIN, header=EU, number=comma,
      quote=csv.QUOTE_ALL, want={"decimal": ","})
plain("french", lambda t: t.strftime("%d/%m/%Y %H:%M:%S"), zone="Europe/Paris",
      header=("Date", "Température (°C)", "Courant (A)"), delimiter=";", number=comma)
plain("dots-in-time", lambda t: t.strftime("%d.%m.%Y %H.%M.%S"), zone=BERLIN, header=EU, delimiter=";", number=comma)

# Encodings and line ends.
ISO = "%Y-%m-%d %H:%M:%S"
plain("bom", lambda t: t.strftime(ISO), encoding="utf-8-sig")
plain("utf-16le", lambda t: t.strftime(ISO), encoding="utf-16", want={"encoding": "utf-16le"})
plain("utf-16be-bare", lambda t: t.strftime(ISO), encoding="utf-16-be", want={"encoding": "utf-16be"})
plain("crlf", lambda t: t.strftime(ISO), end="\r\n")
plain("cr", lambda t: t.strftime(ISO), end="\r")
plain("mojibake", lambda t: t.strftime(ISO), header=("Time", "Pipe (Â°C)", "Current (A)"))

# Delimiters and quotes.
plain("bars", lambda t: t.strftime(ISO), delimiter="|")
plain("blanks", lambda t: t.strftime("%Y-%m-%d %H:%M:%S"), delimiter=" ", quote=csv.QUOTE_NONNUMERIC,
      header=("Time", "Pipe_C", "Current_A"), doubt=True)
plain("quoted-all", lambda t: t.strftime(ISO), quote=csv.QUOTE_ALL)

# What loggers write around the readings.
plain("preamble", lambda t: t.strftime(ISO), before="Invented logger A\nSerial: 000123\nInterval: 600 s\n\n")
plain("preamble-commas", lambda t: t.strftime(ISO),
      before="Model,Invented logger B\nSerial,000123\nStart,2026-02-26 22:00:00\nPoints,150\n")
plain("preamble-zone", lambda t: t.astimezone(dt.timezone(dt.timedelta(hours=1))).strftime(ISO),
      before="Invented logger C\nTime zone: UTC+01:00\n", want={"clock": "fixed", "utc_offset_s": 3600})
plain("preamble-zone-name", lambda t: t.astimezone(zoneinfo.ZoneInfo(BERLIN)).strftime(ISO),
      before="Invented logger D\nTimezone,Europe/Berlin\n", want={"clock": "local", "zone": BERLIN})
plain("header-offset", lambda t: t.astimezone(dt.timezone(dt.timedelta(hours=-5))).strftime("%m/%d/%y %I:%M:%S %p"),
      header=("Date Time, GMT-05:00", "Temp, °C", "Current, A"), quote=csv.QUOTE_ALL,
      before='"Plot Title: invented"\n', want={"clock": "fixed", "utc_offset_s": -18000})
plain("header-utc", lambda t: t.astimezone(UTC).strftime(ISO), header=("Time (UTC)", "Pipe (°C)", "Current (A)"),
      want={"clock": "fixed", "utc_offset_s": 0})
plain("comment-header", lambda t: t.strftime(ISO), header=("#Time", "Pipe (°C)", "Current (A)"),
      before="# invented\n")
plain("footer", lambda t: t.strftime(ISO), after="End of data\n")
plain("units-row", lambda t: t.strftime(ISO), header=None, before="Time,Pipe,Current\n,°C,A\n")
plain("no-header", lambda t: t.strftime(ISO), header=None, doubt=True)
TRUTH[-1]["columns"] = []  # nothing says what they are, so nothing is read
plain("newest-first", lambda t: t.strftime(ISO), step=-600, begin=utc(2026, 3, 1, 12, 0))


def two_cells(name, date, clock, zone=NEW_YORK, swap=False, **more):
    at = instants(WINTER, 600, 150)
    data = readings(150)
    local = [t.astimezone(zoneinfo.ZoneInfo(zone)) for t in at]
    rows = [([clock(t), date(t)] if swap else [date(t), clock(t)]) + [point(a, 1), point(b, 2)]
            for t, (a, b) in zip(local, data)]
    names = ["Time", "Date"] if swap else ["Date", "Time"]
    save(name, table(names + ["Pipe (°C)", "Current (A)"], rows), at,
         [("temperature", [a for a, _ in data]), ("current", [b for _, b in data])], zone=zone, **more)


two_cells("date-and-time", lambda t: t.strftime("%Y-%m-%d"), lambda t: t.strftime("%H:%M:%S"))
two_cells("time-then-date", lambda t: t.strftime("%m/%d/%Y"), lambda t: t.strftime("%H:%M"), swap=True)
two_cells("date-and-half-day", lambda t: f"{t.month}/{t.day}/{t:%Y}", lambda t: no_zero(half_day(t)))
two_cells("date-and-offset", lambda t: t.strftime("%d.%m.%Y"), lambda t: t.strftime("%H:%M:%S %z"),
          want={"clock": "with-offset"})


def fahrenheit():
    at = instants(WINTER, 600, 150)
    data = [(round(a * 1.8 + 32, 1), b) for a, b in readings(150)]
    local = [t.astimezone(zoneinfo.ZoneInfo(NEW_YORK)) for t in at]
    rows = [[t.strftime(ISO), point(f, 1), point(b * 1000, 0)] for t, (f, b) in zip(local, data)]
    save("fahrenheit", table(["Time", "Pipe Temp (°F)", "Current (mA)"], rows), at,
         [("temperature", [(f - 32) / 1.8 for f, _ in data]), ("current", [b for _, b in data])])
    rows = [[t.strftime(ISO), f"{f:.1f} °F", f"{b:.2f} A"] for t, (f, b) in zip(local, data)]
    save("units-in-cells", table(["Time", "Pipe", "Current"], rows), at,
         [("temperature", [(f - 32) / 1.8 for f, _ in data]), ("current", [b for _, b in data])])
    rows = [[t.strftime(ISO), point(f, 1), point(b, 2)] for t, (f, b) in zip(local, data)]
    save("no-unit", table(["Time", "Pipe temp", "Current"], rows), at,
         [("temperature", [(f - 32) / 1.8 for f, _ in data]), ("current", [b for _, b in data])], doubt=True)


def thousands():
    at = instants(WINTER, 600, 150)
    local = [t.astimezone(zoneinfo.ZoneInfo(NEW_YORK)) for t in at]
    watts = [round(random.uniform(400, 2600), 1) for _ in at]
    rows = [[t.strftime(ISO), f"{w:,.1f}"] for t, w in zip(local, watts)]
    save("thousands-quoted", table(["Time", "Power (W)"], rows), at, [("power", watts)])
    rows = [[t.strftime("%d.%m.%Y %H:%M"), f"{w:,.1f}".translate(str.maketrans(",.", ".,"))] for t, w in zip(local, watts)]
    save("thousands-points", table(["Zeit", "Leistung (W)"], rows, ";"), at, [("power", watts)])


def missing():
    at = instants(WINTER, 600, 150)
    local = [t.astimezone(zoneinfo.ZoneInfo(NEW_YORK)) for t in at]
    data = readings(150)
    for name, mark in (("missing-blank", ""), ("missing-nan", "NaN"), ("missing-dashes", "---"),
                       ("missing-number", "-999"), ("missing-na", "#N/A")):
        holes = set(random.sample(range(150), 12))
        rows = [[t.strftime(ISO), mark if i in holes else point(a, 1), point(b, 2)]
                for i, (t, (a, b)) in enumerate(zip(local, data))]
        save(name, table(["Time", "Pipe (°C)", "Current (A)"], rows), at,
             [("temperature", [None if i in holes else a for i, (a, _) in enumerate(data)]),
              ("current", [b for _, b in data])])


def switches():
    at = instants(WINTER, 600, 150)
    local = [t.astimezone(zoneinfo.ZoneInfo(NEW_YORK)) for t in at]
    on = [random.random() < 0.4 for _ in at]
    duty = [round(random.uniform(0, 100), 0) for _ in at]
    rows = [[i + 1, t.strftime(ISO), "ON" if o else "OFF", point(d, 0), point(48.0, 1), point(31, 0)]
            for i, (t, o, d) in enumerate(zip(local, on, duty))]
    save("switches", table(["#", "Time", "Heater", "Duty (%)", "Set point (°C)", "Humidity (%RH)"], rows), at,
         [("on", [1.0 if o else 0.0 for o in on]), ("duty", [d / 100 for d in duty]), ("set-point", [48.0] * len(at))])


def daylight(name, zone, begin, stamp, count=90, step=600, **more):
    """A weekend on which the clock changes; only the order of the rows tells the two passes of an hour apart."""
    plain(name, stamp, begin=begin, count=count, step=step, zone=zone, **more)


# 2026: New York 8 March and 1 November at 2 h; Berlin 29 March and 25 October at 1 h UTC.
daylight("spring-new-york", NEW_YORK, utc(2026, 3, 8, 1, 0), lambda t: t.strftime("%m/%d/%Y ") + half_day(t))
daylight("autumn-new-york", NEW_YORK, utc(2026, 10, 31, 23, 0), lambda t: t.strftime("%m/%d/%Y ") + half_day(t))
daylight("autumn-new-york-hourly", NEW_YORK, utc(2026, 10, 31, 4, 0), lambda t: t.strftime(ISO), count=60, step=3600)
daylight("autumn-new-york-newest-first", NEW_YORK, utc(2026, 11, 1, 15, 0), lambda t: t.strftime(ISO), step=-600)
daylight("spring-berlin", BERLIN, utc(2026, 3, 28, 20, 0), lambda t: t.strftime("%d.%m.%Y %H:%M"), header=EU,
         delimiter=";", number=comma)
daylight("autumn-berlin", BERLIN, utc(2026, 10, 24, 20, 0), lambda t: t.strftime("%d.%m.%Y %H:%M"), header=EU,
         delimiter=";", number=comma)
daylight("autumn-berlin-half-hours", BERLIN, utc(2026, 10, 24, 12, 0), lambda t: t.strftime(ISO), step=1800, count=60)
# A logger that stays on standard time: its stamps fill the hour that the zone skips.
daylight("spring-berlin-winter-time", BERLIN, utc(2026, 3, 28, 20, 0),
         lambda t: t.astimezone(dt.timezone(dt.timedelta(hours=1))).strftime(ISO), doubt=True,
         want={"clock": "fixed", "utc_offset_s": 3600})

fahrenheit()
thousands()
missing()
switches()
(HERE / "truth.json").write_text(json.dumps(TRUTH, indent=0, ensure_ascii=False) + "\n", encoding="utf-8")
print(len(TRUTH), "logs")
