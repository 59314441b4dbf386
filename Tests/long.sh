#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# What takes too long for Tests/run.sh: the tests tagged [.long] (Monte Carlo over thousands of benches and windows, with
# the figures they arrive at), tables and maps of benches with faults, single faults put into Metrology and Bench to see
# whether the tests notice, fuzzing without and with sanitizers, the thread sanitizer, and heavy hosts.
set -u
cd "$(dirname "$0")/.." || exit 1
. Source/packages.sh
exec </dev/null

# shellcheck disable=SC2086 # one word a package
install_packages $packages_for_building $packages_for_testing || exit 1
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

echo "== whole benches through the command"
/usr/bin/python3 -B Tests/Worlds/benches.py build/couplet 300 || status=1

# The budget of faults, as docs/reliability.md has it.
echo "== faults, ten minutes"
/usr/bin/python3 -B Tests/Budget/budget.py build/couplet build/Tests/libcouplet_budget_shim.so 600 || status=1

# Faulty benches through the command, as docs/faulty-benches.md has them.
echo "== faulty benches"
/usr/bin/python3 -B Tests/Worlds/table.py build/couplet || status=1
/usr/bin/python3 -B Tests/Worlds/wobble.py build/couplet || status=1

# Would the tests notice? Every named fault must be killed; of a sample of others the score is told.
echo "== named mutants"
python3 Tests/Mutants/run.py --build build --named || status=1
echo "== a sample of mutants"
python3 Tests/Mutants/run.py --build build --count 60 --seed "$(date +%s)" --minutes 60 || status=1

# The processor under random calls and garbage; then likewise under sanitizers, which see what a wrong number hides.
echo "== fuzz"
build/Tests/Plugin/Fuzz/couplet_plugin_fuzz 300 "$(date +%s)" || status=1
echo "== fuzz under sanitizers"
export ASAN_OPTIONS=detect_leaks=1 UBSAN_OPTIONS=halt_on_error=1:print_stacktrace=1
if cmake -S . -B build-fuzz -G Ninja -DCMAKE_BUILD_TYPE=Release -DCOUPLET_SANITIZE=address,undefined -DCOUPLET_TOGETHER=ON \
    -DCMAKE_CXX_FLAGS_RELEASE=-O1 >build/fuzz.log 2>&1 &&
    cmake --build build-fuzz --target couplet_plugin_fuzz >>build/fuzz.log 2>&1; then
    build-fuzz/Tests/Plugin/Fuzz/couplet_plugin_fuzz 300 "$(date +%s)" || status=1
else
    tail -n 40 build/fuzz.log
    status=1
fi

echo "== fuzz of the parsers, ten minutes each"
sh Tests/Fuzz/run.sh build-parsers 600 || status=1

# The processor, its editor and the core under the thread sanitizer: audio, state calls and drawing at once.
echo "== thread sanitizer"
if cmake -S . -B build-thread -G Ninja -DCMAKE_BUILD_TYPE=Release -DCOUPLET_SANITIZE=thread \
    -DCOUPLET_TOGETHER=ON >build/thread.log 2>&1 &&
    cmake --build build-thread >>build/thread.log 2>&1; then
    ctest --test-dir build-thread -R 'signal|metrology|plugin|screens' --output-on-failure || status=1
else
    tail -n 40 build/thread.log
    status=1
fi

# The hosts that are too large for every run.
echo "== Ardour"
sh Tests/Hosts/ardour.sh build/Couplet_artefacts/Release/LV2/Couplet.lv2 || status=1

[ "$programs" -gt 0 ] || { echo "build/Tests holds no test program"; exit 1; }
exit "$status"
