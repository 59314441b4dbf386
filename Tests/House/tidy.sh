#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# clang-tidy over every source of ours that the given build compiles (default: build), two at a time. What was found
# clean is not asked again until it, a header of ours, the build or the rules change.
set -u
cd "$(dirname "$0")/../.." || exit 1
build=${1-build}
clean=$build/tidy-clean
mkdir -p "$clean" || exit 1
[ -f "$build/compile_commands.json" ] || { echo "$build/compile_commands.json is missing: configure first"; exit 1; }

surroundings=$({ find Source -name '*.h' -print | sort | xargs cat; cat .clang-tidy CMakeLists.txt; clang-tidy --version; } | sha256sum)
export build clean surroundings

tidy_one() {
    key=$({ echo "$surroundings $1"; cat "$1"; } | sha256sum | cut -d ' ' -f 1)
    [ -f "$clean/$key" ] && return 0
    said=$(clang-tidy --quiet --extra-arg=-Wno-unknown-warning-option -p "$build" "$1" 2>&1) && : >"$clean/$key" && return 0
    printf '%s\n' "$said" | grep -v 'warnings generated'
    return 1
}

if [ "${2-}" = --one ]; then
    if ! grep -qF "/$3\"" "$build/compile_commands.json"; then
        echo "$3: no program compiles it"
        exit 1
    fi
    tidy_one "$3"
    exit
fi
find Source -name '*.cpp' -print0 | sort -z | xargs -0 -P 2 -n 1 sh "$0" "$build" --one
