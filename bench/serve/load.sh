#!/bin/sh
# Fifty pages at once on the example hotel: load.sh BUILD-FOLDER. Each listens to the events, while wrk asks for the
# list, the sheet and the view and then edits, over fifty connections that never pause; then it is looked whether every
# edit that was answered is there and was heard by every listener. Needs wrk (Debian package), which nothing else needs.
set -eu
cd "$(dirname "$0")/../.."
program="$1/firstdraw"
port=${2:-8765}
here="http://127.0.0.1:$port"
place=$(mktemp -d)
server="" listeners=""
trap 'kill $server $listeners 2>/dev/null || true; rm -rf "$place"' EXIT
mkdir "$place/jobs"
cp -r examples/hotel "$place/jobs/hotel"
export XDG_STATE_HOME="$place/state"
"$program" serve "$place/jobs" --no-open --port "$port" >"$place/out" &
server=$!
until curl -sf "$here/api/jobs" >/dev/null; do sleep 0.2; done
for i in $(seq 50); do
  curl -sN "$here/api/events" >"$place/events-$i" &
  listeners="$listeners $!"
done
sleep 1
revision() { curl -s "$here/api/jobs" | python3 -c 'import json, sys; print(json.load(sys.stdin)[0]["revision"])'; }
resident() { awk '/VmRSS/ { printf "%.0f MB", $2 / 1024 }' "/proc/$server/status"; }

echo "Load of the machine before: $(cut -d' ' -f1-3 /proc/loadavg)"
echo "An edit at a time, with its sheet and view: on the server (took_ms), and in all"
for note in 1 2 3 4 5 6; do
  curl -s -o "$place/edited" -w '  %{time_total} s, ' -H 'Content-Type: application/json' -d '{"base": 1, "label": "a note",
    "changes": [{"do": "set", "table": "runs", "row": "P-02", "column": "note", "to": "'$note'"}]}' \
    "$here/api/jobs/hotel/edits"
  python3 -c 'import json, sys; print("took_ms", json.load(open(sys.argv[1]))["view"]["took_ms"])' "$place/edited"
done
echo "A schedule that is tried, the first and others: took_ms, and in all"
for _ in 1 2 3; do
  curl -s -o "$place/tried" -w '  %{time_total} s, ' -H 'Content-Type: application/json' -d '{"group": "mains", "periods":
    [{"days": ["mon", "tue", "wed", "thu", "fri"], "start": "22:00", "end": "05:00", "hold": "setback"}]}' \
    "$here/api/jobs/hotel/schedule"
  python3 -c 'import json, sys; print("took_ms", json.load(open(sys.argv[1]))["took_ms"])' "$place/tried"
done
for path in jobs jobs/hotel/sheet jobs/hotel/view; do
  echo "/api/$path, fifty connections, 10 s"
  wrk -t2 -c50 -d10s -s bench/serve/report.lua "$here/api/$path" | grep answered
done
before=$(revision)
echo "Edits, fifty connections, 20 s, one after another on the server"
wrk -t2 -c50 -d20s --timeout 30s -s bench/serve/edits.lua "$here" | grep answered | tee "$place/edits"
sleep 10 # what was on its way when wrk ended
made=$(($(revision) - before))
answered=$(sed 's/^ *\([0-9]*\) answered.*/\1/' "$place/edits")
# What was on its way is made too, and answered to nobody.
echo "  made $made of $answered that were answered: $([ "$made" -ge "$answered" ] && echo nothing is lost || echo LOST)"
echo "Events heard by each of the listeners, of $((made + 6)) (least, most):"
grep -c '^event: job' "$place"/events-* | sed 's/.*://' | sort -n | sed -n '1p;$p'
echo "Memory of the server: $(resident); load of the machine after: $(cut -d' ' -f1-3 /proc/loadavg)"
