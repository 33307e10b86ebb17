#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# million.sh RELEASE_BUILD BENCHMARK_BUILD [JOBS [FOLDER]]: lays a shop of so many jobs out (1,000,000 where none are named;
# some 2 GB) in FOLDER, or in one that is removed at the end, and measures the Office on it. Needs sqlite3.
set -euo pipefail
release=$(realpath "$1") benchmark=$(realpath "$2") jobs=${3:-1000000}
here=$(dirname "$(realpath "$0")")
today=2031-05-09
if [ $# -ge 4 ]; then
    folder=$4
    mkdir -p "$folder"
else
    folder=$(mktemp -d)
    trap 'rm -rf "$folder"' EXIT
fi
shop="$folder/Million-$jobs.milehold"
if [ ! -d "$shop" ]; then
    "$release/milehold-cli" sample "$shop" --ends "$today"
    of=$(sqlite3 "$shop/store/shop.db" "SELECT count(*) FROM job")
    sqlite3 -cmd ".parameter set :copies $((jobs / of))" "$shop/store/shop.db" <"$here/jobs.sql" >/dev/null
fi
uptime
ls -l "$shop/store/shop.db"
QT_QPA_PLATFORM=offscreen "$benchmark/milehold_million" "$shop" "$today" "${MILEHOLD_ROUNDS:-5}"
uptime
