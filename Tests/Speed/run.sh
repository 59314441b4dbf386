#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Measures the figures of docs/performance.md again and writes them there. On a machine that does nothing else. What cannot
# be measured keeps the figures that stand there, and fails.
set -u
cd "$(dirname "$0")/../.." || exit 1
. Source/packages.sh
exec </dev/null

# shellcheck disable=SC2086 # one word a package
install_packages $packages_for_building libfftw3-dev valgrind lv2-dev lv2-examples \
    ardour-lv2-plugins || exit 1
mkdir -p build
if ! { cmake -S . -B build -G Ninja -DCMAKE_BUILD_TYPE=Release && cmake --build build --target couplet_speed couplet_host \
    CoupletEmpty_LV2 couplet_signal_tests couplet_plugin_tests; } >build/speed.log 2>&1; then
    cat build/speed.log
    exit 1
fi
speed=$(find build -name couplet_speed -type f | head -n 1)
status=0

# What each target reached: the tests and the tables note it in this file.
COUPLET_REACHED=$(mktemp) || exit 1
export COUPLET_REACHED
"$speed" --update docs/performance.md || status=1
for program in build/Tests/couplet_signal_tests build/Tests/Plugin/couplet_plugin_tests; do
    echo "$program ..."
    "$program" "[target]" || status=1
done

# section NAME FILE: what stands between the marks of that name is the file's from now on.
section() {
    sed -i -e "/^<!-- $1 -->\$/,/^<!-- \/$1 -->\$/{
/^<!-- $1 -->\$/r $2
/^<!-- \(\/\)\{0,1\}$1 -->\$/!d
}" docs/performance.md
}
table=$(mktemp) || exit 1
trap 'rm -f "$table" "$COUPLET_REACHED"' EXIT

# Beside other plugins, in one host and one run.
host=$(find build -name couplet_host -type f | head -n 1)
for name in hosts instances; do
    echo "$name ..."
    if "$host" speed "$name" build/Couplet_artefacts/Release/LV2 build/Tests/Hosts/empty \
        build/Tests/Hosts/EmptyOfJuce/CoupletEmpty_artefacts/Release/LV2 /usr/lib/lv2 \
        >"$table" 2>build/speed.log && [ -s "$table" ]; then
        section "$name" "$table"
    else
        tail -n 5 build/speed.log
        echo "FAILED  $name"
        status=1
    fi
done

# Instructions a frame: what two seconds more cost, less what making their samples costs.
instructions() {
    valgrind --tool=callgrind --callgrind-out-file=/dev/null "$speed" --stage "$1" "$2" 2>&1 |
        sed -n 's/.*refs: *//p' | tr -d ,
}
two_seconds() {
    echo $(($(instructions "$1" 3) - $(instructions "$1" 1)))
}
none=$(two_seconds none)
if [ "$none" -gt 0 ] && {
    printf '| Stage | instructions a frame |\n|---|---|\n'
    for stage in tone removal weighting peak one two; do
        printf '| %s | %d |\n' "$stage" $((($(two_seconds "$stage") - none) / 96000))
    done
} >"$table"; then
    section instructions "$table"
else
    echo "FAILED  instructions"
    status=1
fi

promised=$(grep -c '^inline constexpr Target ' Tests/Speed/Targets.h)
noted=$(cut -f 1 "$COUPLET_REACHED" | sort -u | wc -l)
if [ "$noted" -eq "$promised" ]; then
    {
        printf '| target | limit | reached | held or found by |\n|---|---|---|---|\n'
        sort -n "$COUPLET_REACHED" | cut -f 2-
    } >"$table"
    section targets "$table"
else
    echo "FAILED  targets: $noted of $promised were reached for"
    status=1
fi
[ "$status" -eq 0 ] && echo "docs/performance.md is up to date."
exit "$status"
