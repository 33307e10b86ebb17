#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what Milehold needs on Debian 12. Usage: install-packages.sh build|window|tests ...
# Asks the package manager for nothing when all is there, so that the second time is quick.
set -euo pipefail

build=(g++ cmake ninja-build ccache qt6-base-dev qt6-svg-dev qt6-l10n-tools libqcustomplot-dev libsqlite3-dev libqt6sql6-sqlite
       libqt6sql6-psql libqt6svg6 libboost-math-dev libeigen3-dev libcli11-dev nlohmann-json3-dev libexpected-dev
       libcsv-dev libxlsxwriter-dev
       fonts-inter fonts-dejavu-core libgtest-dev libgmock-dev librapidcheck-dev)
window=(libqt6gui6)
tests=(python3 python3-openpyxl sqlite3 postgresql-15 openssl r-base-core r-cran-survival r-cran-cmprsk xvfb xdotool openbox
       imagemagick x11-utils poppler-utils)

wanted=()
for set in "$@"; do
    case "$set" in
        build) wanted+=("${build[@]}") ;;
        window) wanted+=("${window[@]}") ;;
        tests) wanted+=("${tests[@]}") ;;
        *) echo "install-packages.sh: '$set' is no set of packages; build, window or tests was expected" >&2; exit 2 ;;
    esac
done

missing=()
for package in "${wanted[@]}"; do
    state=$(dpkg-query -W -f '${Status}' "$package" 2>/dev/null || true)
    [ "$state" = "install ok installed" ] || missing+=("$package")
done
[ ${#missing[@]} -eq 0 ] && exit 0

as_root=()
if [ "$(id -u)" -ne 0 ]; then
    command -v sudo >/dev/null || {
        echo "install-packages.sh: these packages are missing, and installing them needs root or sudo: ${missing[*]}" >&2
        exit 1
    }
    as_root=(sudo)
fi
echo "Installing ${#missing[@]} packages: ${missing[*]}"
"${as_root[@]}" apt-get update -qq
"${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
