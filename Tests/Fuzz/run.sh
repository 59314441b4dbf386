#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# sh Tests/Fuzz/run.sh BUILD SECONDS: libFuzzer on every parser for so long each, two at a time, beginning from its
# corpus, under address and undefined-behaviour sanitizers. What it finds is left in BUILD/found; put it into
# Tests/Fuzz/corpus with its mend. Fails when it finds something.
set -u
cd "$(dirname "$0")/../.." || exit 1
. Source/packages.sh
exec </dev/null
build=${1:?"sh Tests/Fuzz/run.sh BUILD SECONDS"}
seconds=${2:?"sh Tests/Fuzz/run.sh BUILD SECONDS"}

# shellcheck disable=SC2086 # one word a package
install_packages $packages_for_building $packages_for_testing || exit 1
mkdir -p "$build/found"
if ! { cmake -S . -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DCMAKE_C_COMPILER=clang -DCMAKE_CXX_COMPILER=clang++ \
    -DCMAKE_CXX_FLAGS_RELEASE=-O1 -DCOUPLET_FUZZ=ON -DCOUPLET_PLUGIN=OFF -DCOUPLET_TOGETHER=ON \
    -DCOUPLET_SANITIZE=address,undefined,fuzzer-no-link &&
    cmake --build "$build" --target couplet_fuzz_item couplet_fuzz_library couplet_fuzz_response couplet_fuzz_readings \
        couplet_fuzz_quantity couplet_fuzz_take couplet_fuzz_session couplet_fuzz_sheet couplet_fuzz_names \
        couplet_fuzz_history couplet_fuzz_version; } >"$build/build.log" 2>&1; then
    tail -n 40 "$build/build.log"
    exit 1
fi
export UBSAN_OPTIONS=halt_on_error=1:print_stacktrace=1

one() {
    rm -rf "$build/corpus/$1"
    mkdir -p "$build/corpus/$1"
    most=4096
    case $1 in take | session | sheet | history) most=16384 ;; esac
    cp Tests/Fuzz/corpus/"$1"/* "$build/corpus/$1"
    [ "$1" != item ] || cp Presets/*.json Tests/Faults/files/*.json "$build/corpus/$1"
    "$build/Tests/Fuzz/couplet_fuzz_$1" "$build/corpus/$1" -max_total_time="$seconds" -max_len="$most" -timeout=5 \
        -rss_limit_mb=1500 -artifact_prefix="$build/found/$1-" -print_final_stats=1 >"$build/$1.log" 2>&1
    status=$?
    runs=$(sed -n 's/^stat::number_of_executed_units: *//p' "$build/$1.log")
    if [ "$status" -eq 0 ]; then
        echo "$1: $runs inputs in $seconds s, no finding"
    else
        tail -n 30 "$build/$1.log"
        echo "$1: FOUND something, see $build/found"
    fi
    return "$status"
}

status=0
set -- item library response readings quantity take session sheet names history version
while [ "$#" -gt 0 ]; do
    one "$1" &
    first=$!
    [ "$#" -lt 2 ] || one "$2" || status=1
    wait "$first" || status=1
    shift "$(($# < 2 ? 1 : 2))"
done
exit "$status"
