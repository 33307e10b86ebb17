#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# A day of the advisor with the keyboard alone, in the real window under Xvfb: ten calls with every outcome, one comeback
# linked to the job that did not hold, one quote kept as a PDF and with the vehicle, one call promised for a day.
# Afterwards milehold-cli and sqlite3 have to find all of it in the shop.
# Usage: counter_day.sh BUILD_FOLDER [PICTURES_FOLDER]
set -euo pipefail

build=$(realpath "$1")
work=$(mktemp -d)
pictures=${2:-$build/pictures/counter-day}
mkdir -p "$pictures"
export HOME=$work XDG_CONFIG_HOME=$work/config XDG_RUNTIME_DIR=$work/run LANG=C.UTF-8
mkdir -m 700 "$work/run"
shop=$work/day.milehold
program=""
screen=""
manager=""

finish() {
    code=$?
    for process in $program $manager $screen; do kill "$process" 2>/dev/null || true; done
    rm -rf "$work"
    exit $code
}
trap finish EXIT

say() { echo "counter_day: $*"; }
fail() { say "$*" >&2; look failed; exit 1; }
look() { import -window root "$pictures/$1.png" 2>/dev/null || true; }
keys() { xdotool key --clearmodifiers --delay 60 "$@"; sleep 0.3; }
text() { xdotool type --delay 25 "$1"; sleep 0.4; }
count() { sqlite3 "file:$shop/store/shop.db?mode=ro" "$1"; }
cli() { "$build/milehold-cli" "$@"; }
cli sample --jobs 300 --seed 7 "$shop" >/dev/null
today=$(date +%F)

# A vehicle whose last repair was for the rattle and has not come back; its VIN is what a scanner would type.
read -r vin odometer earlier < <(sqlite3 -separator ' ' "file:$shop/store/shop.db?mode=ro" "
    SELECT v.vin, (SELECT MAX(o.shown) FROM odometer o WHERE o.vehicle_id = v.id), MAX(j.number)
    FROM vehicle v JOIN job j ON j.vehicle_id = v.id
    WHERE v.vin <> '' AND v.family_id IS NOT NULL AND j.void_reason = ''
    GROUP BY v.id HAVING COUNT(*) = 1 AND MAX(j.kind) = 'repair' AND MAX(j.concern_group) = 'startup-rattle'
        AND MAX(j.delivered) < date('$today', '-200 days')
    ORDER BY MAX(j.delivered) DESC LIMIT 1")
[ -n "$vin" ] || fail "the sample has no vehicle for a comeback"
miles=$((odometer * 1000 / 1609344 + 6000))
told_before=$(count "SELECT count(*) FROM follow_up")
jobs_before=$(count "SELECT count(*) FROM job")
quotes_before=$(count "SELECT count(*) FROM given_quote")

exec 3<>"$work/display-number"
Xvfb -displayfd 3 -screen 0 1280x800x24 -nolisten tcp >/dev/null 2>&1 &
screen=$!
for _ in $(seq 50); do [ -s "$work/display-number" ] && break; sleep 0.1; done
export DISPLAY=:$(head -n1 "$work/display-number")
openbox >/dev/null 2>&1 &
manager=$!
sleep 0.5

"$build/milehold" "$shop" &
program=$!
window=$(timeout 30 xdotool search --sync --onlyvisible --name 'Milehold' | tail -n1) || fail "no window came"
xdotool windowactivate --sync "$window"
sleep 1

say "ten calls"
keys alt+2
keys ctrl+l
sleep 1.5
look 1-calls
# An open shop is locked for everybody else: what was stored is asked when the window is closed.
call() {
    keys "$1"
    sleep 1.5
}
keys Return
text 299000
keys Return
call q
look 2-first-call-made
call q
call n # without an odometer it is asked about, and meant
call n
call a
keys l
text +20
look 2b-call-later
call Return
call s
call x
call r
call d
call a
look 3-ten-calls-made

say "one comeback"
keys alt+1
keys ctrl+k
text "$vin"
keys Return
sleep 1
look 4-asked
keys alt+m
sleep 0.5
look 5-decided
text "Worn again"
keys alt+i
text "$miles"
keys Tab
text "$((miles + 3))"
keys alt+t
keys Down
keys alt+p
keys 1
sleep 0.5
keys alt+v
keys Left
keys Left
sleep 0.5
look 6-filled
keys ctrl+s
sleep 1
keys ctrl+s
sleep 1
look 7-saved

say "one quote on paper"
keys alt+2
keys ctrl+l
keys ctrl+k
text "$vin"
keys Return
sleep 2
look 8-quote
keys alt+p
sleep 1
look 9-page
keys alt+s
sleep 1
text "$work/quote.pdf"
keys Return
for _ in $(seq 50); do [ -s "$work/quote.pdf" ] && break; sleep 0.1; done
[ -s "$work/quote.pdf" ] || fail "the page was not kept"
keys Escape

say "close"
keys alt+F4
for _ in $(seq 100); do kill -0 "$program" 2>/dev/null || break; sleep 0.1; done
kill -0 "$program" 2>/dev/null && fail "the window did not close"
program=""

say "what the shop holds"
[ "$(count "SELECT count(*) FROM follow_up")" -eq $((told_before + 10)) ] || fail "ten answers were expected"
[ "$(count "SELECT count(*) FROM job")" -eq $((jobs_before + 1)) ] || fail "one more job was expected"
promised=$(count "SELECT group_concat(call_on) FROM follow_up WHERE date = '$today' AND outcome = 'call-later'")
[ "$promised" = "$(date -d "$today +20 days" +%F)" ] || fail "a call was to be promised in twenty days, not on '$promised'"
[ "$(count "SELECT count(*) FROM given_quote")" -eq $((quotes_before + 1)) ] || fail "the quote was not kept with the page"
read -r quoted words < <(count "SELECT q.horizon, length(q.sentence) FROM given_quote q JOIN vehicle v ON v.id = q.vehicle_id
    WHERE v.vin = '$vin' AND q.date = '$today'" | tr '|' ' ')
[ "${quoted:-0}" -gt 0 ] && [ "${words:-0}" -gt 40 ] || fail "the quote that was kept is not the one of the vehicle"
cli export follow-ups --shop "$shop" >"$work/calls.csv" 2>/dev/null || cli export follow-ups --csv - --shop "$shop" >"$work/calls.csv"
cli export jobs --shop "$shop" >"$work/jobs.csv" 2>/dev/null || cli export jobs --csv - --shop "$shop" >"$work/jobs.csv"
python3 - "$work" "$today" "$vin" "$earlier" <<'PY' || fail "the shop does not hold what was done"
import csv, sys
work, today, vin, earlier = sys.argv[1:]
calls = [row for row in csv.DictReader(open(work + "/calls.csv", encoding="utf-8-sig")) if row["date"] == today]
told = sorted(row["outcome"] for row in calls)
wanted = sorted("quiet quiet noise-back no-answer call-later sold scrapped repaired-elsewhere do-not-call no-answer".split())
assert told == wanted, told
quiet = [row for row in calls if row["outcome"] == "quiet"]
read = [row for row in quiet if row["odometer"] and row["odometer_estimated"] in ("no", "0")]
assert len(read) == 1, quiet
assert read[0]["odometer"].replace(",", "") == "299000", read
back = [row for row in csv.DictReader(open(work + "/jobs.csv", encoding="utf-8-sig"))
        if row["vin"] == vin and row["comeback_of"]]
assert len(back) == 1 and back[0]["comeback_of"] == earlier, back
assert back[0]["comeback_decision"] == "same-concern" and back[0]["comeback_cause"] == "Worn again", back
print(f"counter_day: {len(calls)} answers, job {back[0].get('number', '?')} is the comeback of job {earlier}")
PY
cli verify --shop "$shop" >/dev/null || fail "the shop does not verify"
if command -v pdftotext >/dev/null; then
    pdftotext -layout "$work/quote.pdf" "$work/quote.txt"
    grep -q 'quiet' "$work/quote.txt" || fail "the page speaks of no chance of being quiet"
    pdftoppm -r 80 -png "$work/quote.pdf" "$pictures/quote"
fi
say "ten calls, one comeback and one quote by keyboard alone, all found in the shop"
