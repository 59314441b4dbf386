#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Builds Couplet and runs its demonstration: the whole job on a bench that does not exist, whose truth is known. Where
# there is a display, its window opens on the same bench.
# For a fresh Debian 12, as root or with sudo. The exit status is the demonstration's.
set -eu
cd "$(dirname "$0")/.."
. Source/packages.sh

echo "Couplet: installs what is missing, builds the command 'couplet' into build/, then runs its demonstration."
echo "No sound is played and no sound card is used."

# shellcheck disable=SC2086 # one word a package
install_packages $packages_for_building
cmake -S . -B build -G Ninja -DCMAKE_BUILD_TYPE=Release
cmake --build build --target couplet
if [ -n "${DISPLAY-}" ]; then
    cmake --build build --target Couplet_Standalone
fi

echo
echo "The demonstration: a calibrator, then four earphones, on a bench that does not exist. What it writes is in"
echo "$(pwd)/build/demo; look at it with:  build/couplet library list --library build/demo/library"
echo "Every verb explains itself:  build/couplet --help"
if [ -n "${DISPLAY-}" ]; then
    echo "A window opens beside it, on the same bench: the coupler's list and the bar below it say what is there."
    build/Couplet_artefacts/Release/Standalone/Couplet --simulated >build/window.log 2>&1 &
fi
echo
status=0
build/couplet demo --out build/demo || status=$?
exit "$status"
