#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# full_counts.sh [ROW...]: runs rows of the table in tests/faults/README.md at their full counts on the release build and
# prints their figures; without a row, all of them one after the other (about two hours on two quiet cores). Ends with 1
# when one failed.
set -euo pipefail
cd "$(dirname "$0")/../build/release"
rows=${*:-T1 T2 T3 T4 T5 T6 T7 T8 T9 T10 T11 T12 T14 T15 T16 T19 T20}
failed=0

# run PROGRAM FILTER: only what the tests print themselves, and what failed.
run() {
    if ! "./milehold_$1_tests" --gtest_filter="$2" --gtest_brief=1 2>&1 | grep -v '^$\|^Running main\|^Note:'; then
        failed=1
    fi
}

for row in $rows; do
    echo "== $row, load $(cut -d' ' -f1 /proc/loadavg)"
    case $row in
    T1) MILEHOLD_KILLS=1000 run fault 'KilledProgram.LosesNo*' ;;
    T2) MILEHOLD_CUT_STRIDE=1 run fault 'PowerCut.*' ;;
    T3) MILEHOLD_EVERY_POINT=1 run fault 'FaultyDiskTest.*' ;;
    T4) run fault '*FullPart*:FullDisk.*' ;;
    T5) MILEHOLD_MUTATIONS=10000 run fault 'DamagedFiles.*' ;;
    T6) run app 'FileDialogs.*' && run fault 'SeveralWriters.ASecond*' ;;
    T7) MILEHOLD_MIGRATED_JOBS=100000 MILEHOLD_MIGRATION_KILLS=300 MILEHOLD_MIGRATION_SECONDS=7200 \
        run fault 'LargeMigration.*'
        MILEHOLD_KILLS=300 run fault 'KilledProgram.LeavesAMigration*' ;;
    T8) MILEHOLD_BACKUP_ROUNDS=500 MILEHOLD_STALE_ROUNDS=50 run fault 'BackupRounds.*'
        MILEHOLD_KILLS=200 run fault 'KilledProgram.LeavesOnly*' ;;
    T9) MILEHOLD_JOBS_A_WRITER=1000 run fault 'SeveralWriters.LoseNo*' ;;
    T10) MILEHOLD_FULL=1 run server 'Stations.Eight*' ;;
    T11) MILEHOLD_FULL=1 run server 'Outages.*:NetworkCut.*' ;;
    T12) MILEHOLD_FULL=1 run server 'Stations.Every*' ;;
    T14) MILEHOLD_TAMPERINGS=1000 run fault 'TamperedLog.*' ;;
    T15) MILEHOLD_KILLS=1000 run storage 'Attachments.*' && run fault 'SyncOrder.*' ;;
    T16) run app '*PersonalData*' && run server 'Forgotten.*' ;;
    T19) run fault 'LargeShop.*' ;;
    T20) run fault 'OutOfMemory.*' ;;
    *)
        echo "$row: run elsewhere, see tests/faults/README.md"
        failed=1
        ;;
    esac
done
exit $failed
