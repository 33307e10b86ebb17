#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Random tables against R until so many have been compared, each oracle with seeds of its own every round:
#
#     sh random_tables.sh PATH/milehold-cli [tables]
#
# Prints each oracle's line a round and the sum; stops at the first round with a disagreement, with status 1.
here=$(dirname "$0")
program=$1
wanted=${2:-5000}
made=0
values=0
round=0
while [ "$made" -lt "$wanted" ]; do
    for oracle in curve compare ends repeats fit factors turnbull; do
        answer=$(Rscript "$here/${oracle}_oracle.R" "$program" "$round")
        status=$?
        line=$(printf '%s\n' "$answer" | tail -n 1)
        printf 'round %d: %s\n' "$round" "$line"
        if [ "$status" -ne 0 ]; then
            printf '%s\n' "$answer"
            exit 1
        fi
        made=$((made + $(printf '%s' "$line" | sed 's/.*: \([0-9]*\) cases.*/\1/')))
        values=$((values + $(printf '%s' "$line" | sed 's/.*cases, \([0-9]*\) values.*/\1/')))
    done
    round=$((round + 1))
done
printf '%d tables, %d values compared, none disagrees\n' "$made" "$values"
