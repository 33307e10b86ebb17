#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# run.sh [SECONDS] [TARGET...]: builds the fuzzers and runs each for so many seconds (60). Ends with 1 when one broke.
set -euo pipefail
cd "$(dirname "$0")/../.."
seconds=${1:-60}
[ $# -gt 0 ] && shift
targets=${*:-table lives records header manifest chain}

cmake --preset fuzz >/dev/null
cmake --build build/fuzz --target $(printf 'fuzz_%s ' $targets)
broken=0
# Most of a short run's time went into remembering where memory was asked for and into memory kept from reuse.
export ASAN_OPTIONS=${ASAN_OPTIONS:-quarantine_size_mb=8:malloc_context_size=2}
for target in $targets; do
    mkdir -p "build/fuzz/corpus/$target" "build/fuzz/found"
    # The first folder takes what is new; the seeds stay as they are.
    if ! "build/fuzz/fuzz_$target" -max_total_time="$seconds" -max_len=4096 -timeout=5 -rss_limit_mb=2048 \
        -print_final_stats=1 -artifact_prefix="build/fuzz/found/$target-" \
        "build/fuzz/corpus/$target" "tests/fuzz/seeds/$target" >"build/fuzz/$target.log" 2>&1; then
        broken=1
        echo "$target: BROKEN, see build/fuzz/$target.log and build/fuzz/found"
    fi
    awk -v name="$target" '/number_of_executed_units/ {runs = $2} /average_exec_per_sec/ {rate = $2}
        END {printf "%s: %d runs, %d a second\n", name, runs, rate}' "build/fuzz/$target.log"
done
exit $broken
