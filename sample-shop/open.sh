#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what is needed on Debian 12, builds Milehold and opens the sample shop. With no display it says so and
# renders the report and a picture of every room instead.
set -euo pipefail
cd "$(dirname "$0")/.."

bash resources/packaging/install-packages.sh build window

cmake --preset release >/dev/null
cmake --build --preset release --parallel "$(nproc)" --target milehold milehold-cli

shop=build/sample-shop/sample.milehold
if [ ! -d "$shop" ]; then
    mkdir -p build/sample-shop
    build/release/milehold-cli sample --jobs 400 --seed 1 "$shop"
fi

if [ -n "${DISPLAY:-}${WAYLAND_DISPLAY:-}" ]; then
    exec build/release/milehold "$shop"
fi
echo "There is no display here, so the window cannot open."
mkdir -p build/sample-shop/pictures
QT_QPA_PLATFORM=offscreen build/release/milehold --pictures build/sample-shop/pictures "$shop"
echo "Rendered instead: the report and a picture of every room, in build/sample-shop/pictures:"
ls build/sample-shop/pictures
