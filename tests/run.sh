#!/usr/bin/env bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what is needed on Debian 12, builds the Release program and runs every test. `tests/run.sh -L oracle` and the
# like hand their options on to ctest.
set -euo pipefail
cd "$(dirname "$0")/.."

bash resources/packaging/install-packages.sh build window tests

# A private runtime folder keeps Qt quiet where no login session made one.
if [ -z "${XDG_RUNTIME_DIR:-}" ]; then
    XDG_RUNTIME_DIR=$(mktemp -d)
    export XDG_RUNTIME_DIR
    trap 'rm -rf "$XDG_RUNTIME_DIR"' EXIT
fi

cmake --preset release >/dev/null
cmake --build --preset release --parallel "$(nproc)"
ctest --test-dir build/release --output-on-failure --no-tests=error --parallel "$(nproc)" "$@"
