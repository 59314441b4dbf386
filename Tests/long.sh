#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# The tests tagged [.long]: Monte Carlo over thousands of benches and windows, with the figures they arrive at. They
# are left out of Tests/run.sh for their length only.
set -u
cd "$(dirname "$0")/.." || exit 1
. Source/packages.sh
exec </dev/null

# shellcheck disable=SC2086 # one word a package
install_packages $packages_for_building || exit 1
mkdir -p build
if ! { cmake -S . -B build -G Ninja -DCMAKE_BUILD_TYPE=Release && cmake --build build; } >build/long.log 2>&1; then
    cat build/long.log
    exit 1
fi

status=0
programs=0
for program in build/Tests/couplet_*_tests; do
    [ -x "$program" ] || continue
    programs=$((programs + 1))
    echo "== $(basename "$program")"
    # -s shows every figure compared, not only those that fail.
    "$program" "[long]" -s -d yes || status=1
done
[ "$programs" -gt 0 ] || { echo "build/Tests holds no test program"; exit 1; }
exit "$status"
