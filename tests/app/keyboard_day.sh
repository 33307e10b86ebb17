#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# A day at the desk with the keyboard alone, in the real window under Xvfb: look a vehicle up, log a finished job, see
# it counted in the Office and quoted at the Counter. Usage: keyboard_day.sh BUILD_FOLDER [PICTURES_FOLDER]
set -euo pipefail

build=$(realpath "$1")
work=$(mktemp -d)
pictures=${2:-$build/pictures/keyboard-day}
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

say() { echo "keyboard_day: $*"; }
fail() { say "$*" >&2; look failed; exit 1; }
look() { import -window root "$pictures/$1.png" 2>/dev/null || true; }
presses=0
keys() { presses=$((presses + $#)); xdotool key --clearmodifiers --delay 60 "$@"; sleep 0.3; }
text() { presses=$((presses + ${#1})); xdotool type --delay 25 "$1"; sleep 0.4; }
# What a scanner types, with its Return: no press of anybody's.
scan() { xdotool type --delay 25 "$1"; sleep 0.4; xdotool key Return; sleep 0.3; }
count() { sqlite3 "file:$shop/store/shop.db?mode=ro" "$1"; }
cli() { "$build/milehold-cli" "$@"; }

cli sample --jobs 200 --seed 7 "$shop" >/dev/null

# A vehicle that has a family and whose last repair holds; its VIN is what a scanner would type.
read -r vin odometer < <(sqlite3 -separator ' ' "file:$shop/store/shop.db?mode=ro" "
    SELECT v.vin, MAX(o.shown) FROM vehicle v JOIN odometer o ON o.vehicle_id = v.id
    WHERE v.vin <> '' AND v.family_id IS NOT NULL AND v.id NOT IN
        (SELECT vehicle_id FROM odometer WHERE reset_offset IS NOT NULL)
    GROUP BY v.id ORDER BY MAX(o.date) LIMIT 1")
miles=$((odometer * 1000 / 1609344 + 9000))
jobs_before=$(count "SELECT count(*) FROM job")
lives_before=$(cli curve --shop "$shop" --format json | python3 -c 'import json,sys; print(sum(g["lives"] for g in json.load(sys.stdin)["groups"]))')

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
look 1-start

say "look the vehicle up and open a sheet"
keys alt+1
presses=0
keys ctrl+k
scan "$vin"
sleep 1
look 2-sheet

say "odometer, technician, path, cold start, save"
text "$miles" # the sheet opens in this field; out follows in, and is typed over where they differ
keys alt+t
keys Down
keys alt+p
keys 1
sleep 0.5
keys alt+q
sleep 0.5
look 3-filled
keys ctrl+s
sleep 1
look 4-saved
logged=$presses
# A warning asks once, and saving again is the answer; where there was none, nothing is open to be saved again.
keys ctrl+s
sleep 1
look 5-list

say "office and counter"
keys alt+3
sleep 1.5
look 6-office
keys alt+2
keys ctrl+k
text "$vin"
keys Return
sleep 1.5
look 7-counter

say "close"
keys alt+F4
for _ in $(seq 100); do kill -0 "$program" 2>/dev/null || break; sleep 0.1; done
kill -0 "$program" 2>/dev/null && fail "the window did not close"
program=""

jobs_after=$(count "SELECT count(*) FROM job")
[ "$jobs_after" -eq $((jobs_before + 1)) ] || fail "$jobs_before jobs before, $jobs_after after: one more was expected"
lives_after=$(cli curve --shop "$shop" --format json | python3 -c 'import json,sys; print(sum(g["lives"] for g in json.load(sys.stdin)["groups"]))')
say "jobs $jobs_before -> $jobs_after, lives in the curve $lives_before -> $lives_after"
cli quote --shop "$shop" --vin "$vin" >"$work/quote.txt" || fail "no quote for the vehicle"
grep -q 'repair' "$work/quote.txt" || fail "the quote names no repair"
cli verify --shop "$shop" >/dev/null || fail "the shop does not verify"
# Two fewer where the technician has said who is here; the odometer is six of them.
[ "$logged" -le 15 ] || fail "$logged key presses for the plainest finished job, 15 at most were expected"
say "1 job logged with a scan and $logged key presses, counted and quoted"
