#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Measures the figures of docs/performance.md again and writes them there. On a machine that does nothing else.
set -u
cd "$(dirname "$0")/../.." || exit 1
. Source/packages.sh
exec </dev/null

# shellcheck disable=SC2086 # one word a package
install_packages $packages_for_building libfftw3-dev valgrind || exit 1
mkdir -p build
if ! { cmake -S . -B build -G Ninja -DCMAKE_BUILD_TYPE=Release && cmake --build build --target couplet_speed; } >build/speed.log 2>&1; then
    cat build/speed.log
    exit 1
fi
speed=$(find build -name couplet_speed -type f | head -n 1)
"$speed" --update docs/performance.md || exit 1

# Instructions a frame: what two seconds more cost, less what making their samples costs.
instructions() {
    valgrind --tool=callgrind --callgrind-out-file=/dev/null "$speed" --stage "$1" "$2" 2>&1 |
        sed -n 's/.*refs: *//p' | tr -d ,
}
two_seconds() {
    echo $(($(instructions "$1" 3) - $(instructions "$1" 1)))
}
none=$(two_seconds none)
table=$(mktemp) || exit 1
{
    printf '| Stage | instructions a frame |\n|---|---|\n'
    for stage in tone removal weighting peak one two; do
        printf '| %s | %d |\n' "$stage" $((($(two_seconds "$stage") - none) / 96000))
    done
} >"$table"
sed -i -e '/^<!-- instructions -->$/,/^<!-- \/instructions -->$/{
/^<!-- instructions -->$/r '"$table"'
/^<!-- \(\/\)\{0,1\}instructions -->$/!d
}' docs/performance.md
rm -f "$table"
echo "docs/performance.md is up to date."
