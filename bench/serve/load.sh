#!/bin/sh
# Fifty pages at once on the example hotel: load.sh BUILD-FOLDER. Each listens to the events, while wrk asks for the
# view and for an edit over fifty connections; then it is looked whether every edit that was answered is there.
# Needs wrk (Debian package), which nothing else needs.
set -eu
cd "$(dirname "$0")/../.."
program="$1/firstdraw"
place=$(mktemp -d)
trap 'kill $server $listeners 2>/dev/null || true; rm -rf "$place"' EXIT
mkdir "$place/jobs"
cp -r examples/hotel "$place/jobs/hotel"
export XDG_STATE_HOME="$place/state"
"$program" serve "$place/jobs" --no-open --port 8765 >"$place/out" &
server=$!
listeners=""
until curl -sf http://127.0.0.1:8765/api/jobs >/dev/null; do sleep 0.2; done
for i in $(seq 50); do
  curl -sN http://127.0.0.1:8765/api/events >"$place/events-$i" &
  listeners="$listeners $!"
done
sleep 1
echo "A view at a time:"
for _ in 1 2 3 4 5; do curl -so /dev/null -w '  %{time_total} s\n' http://127.0.0.1:8765/api/jobs/hotel/view; done
echo "An edit at a time, with its sheet and view: on the server (took_ms), and in all"
for note in 1 2 3 4 5 6; do
  curl -s -o "$place/edited" -w '  %{time_total} s, ' -H 'Content-Type: application/json' -d '{"base": 1, "label": "a note",
    "changes": [{"do": "set", "table": "runs", "row": "P-02", "column": "note", "to": "'$note'"}]}' \
    http://127.0.0.1:8765/api/jobs/hotel/edits
  python3 -c 'import json, sys; print("took_ms", json.load(open(sys.argv[1]))["view"]["took_ms"])' "$place/edited"
done
echo "A schedule that is tried, the first and others: took_ms, and in all"
for _ in 1 2 3 4 5; do
  curl -s -o "$place/tried" -w '  %{time_total} s, ' -H 'Content-Type: application/json' -d '{"group": "mains", "periods":
    [{"days": ["mon", "tue", "wed", "thu", "fri"], "start": "22:00", "end": "05:00", "hold": "setback"}]}' \
    http://127.0.0.1:8765/api/jobs/hotel/schedule
  python3 -c 'import json, sys; print("took_ms", json.load(open(sys.argv[1]))["took_ms"])' "$place/tried"
done
echo "The list of jobs, the sheet, the view: fifty connections, 10 s each"
for path in jobs jobs/hotel/sheet jobs/hotel/view; do
  echo "/api/$path"
  wrk -t2 -c50 -d10s --latency "http://127.0.0.1:8765/api/$path" | grep -E '50%|90%|99%|Requests/sec|Non-2xx|timeout' || true
done
echo "Edits: fifty connections, 20 s"
wrk -t2 -c50 -d20s --timeout 30s --latency -s bench/serve/edits.lua http://127.0.0.1:8765 |
  grep -E '50%|90%|99%|Requests/sec|answered|Non-2xx|timeout' || true
sleep 2
echo "Revision now, and events heard by each listener (least, most):"
curl -s http://127.0.0.1:8765/api/jobs | python3 -c 'import json, sys; print(" ", json.load(sys.stdin)[0]["revision"])'
grep -c '^event: job' "$place"/events-* | sed 's/.*://' | sort -n | sed -n '1p;$p'
