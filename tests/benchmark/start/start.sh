#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# start.sh RELEASE_BUILD BENCHMARK_BUILD [ROUNDS]: from the start of the program to its first painted window with the sample
# shop, beside a bare window with the same SQLite file, on an X server of its own (Xvfb).
set -euo pipefail
release=$(realpath "$1") benchmark=$(realpath "$2") rounds=${3:-9}
folder=$(mktemp -d)
export HOME="$folder" XDG_CONFIG_HOME="$folder/config" XDG_RUNTIME_DIR="$folder" QT_QPA_PLATFORM=xcb
trap 'kill "$server" 2>/dev/null || true; rm -rf "$folder"' EXIT
display=":$((70 + RANDOM % 20))"
Xvfb "$display" -screen 0 1280x800x24 -nolisten tcp >/dev/null 2>&1 &
server=$!
export DISPLAY="$display"
sleep 1
"$release/milehold-cli" sample "$folder/Sample.milehold" --ends 2031-05-09 >/dev/null
cp "$folder/Sample.milehold/store/shop.db" "$folder/bare.db"
echo "bare window"
"$benchmark/milehold_first_paint" "$rounds" "$benchmark/milehold_bare_window" "$folder/bare.db"
echo "milehold with the sample shop"
"$benchmark/milehold_first_paint" "$rounds" "$release/milehold" "$folder/Sample.milehold"
