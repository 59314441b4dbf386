#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
#
# Everything that is checked: the house, a build with warnings as errors, all tests, the same for the core under
# sanitizers, and the linter. For a fresh Debian 12, as root or with sudo. Fails when any part does.
# Last line: '<n> passed, <n> failed', counting test cases and checks.
set -u
cd "$(dirname "$0")/.." || exit 1
. Source/packages.sh
export DEBIAN_FRONTEND=noninteractive LC_ALL=C.UTF-8 PYTHONDONTWRITEBYTECODE=1
exec </dev/null

passed=0
failed=0
failures=
times=
started=$(date +%s)
section_name=

end_section() {
    [ -z "$section_name" ] || times="$times
$(printf '%6d s  %s' $(($(date +%s) - section_started)) "$section_name")"
}
section() {
    end_section
    section_name=$1
    section_started=$(date +%s)
    printf '\n== %s\n' "$1"
}
pass() {
    passed=$((passed + 1))
    echo "ok      $1"
}
fail() {
    failed=$((failed + 1))
    failures="$failures
    $1"
    echo "FAILED  $1"
}

# check NAME COMMAND...: one check; what the command says is shown only when it fails.
check() {
    name=$1
    shift
    if said=$("$@" 2>&1); then
        pass "$name"
    else
        printf '%s\n' "$said" | tail -n 80
        fail "$name"
        return 1
    fi
}

# tests FOLDER WHAT: all of a build's tests; each test case counts.
tests() {
    ctest --test-dir "$1" -V --no-tests=error -j 2 >"$1/ctest.log" 2>&1
    status=$?
    grep -E '^ *[0-9]+/[0-9]+ Test' "$1/ctest.log"
    counted=$(python3 Tests/House/cases.py "$1/ctest.log") || counted="0 0"
    good=$(printf '%s\n' "$counted" | tail -n 1 | cut -d ' ' -f 1)
    bad=$(printf '%s\n' "$counted" | tail -n 1 | cut -d ' ' -f 2)
    printf '%s\n' "$counted" | sed '$d' | tail -n 300
    if [ "$bad" -eq 0 ] && { [ "$status" -ne 0 ] || [ "$good" -eq 0 ]; }; then
        tail -n 20 "$1/ctest.log"
        bad=1
    fi
    passed=$((passed + good))
    if [ "$bad" -eq 0 ]; then
        echo "ok      $2: $good test cases"
    else
        failed=$((failed + bad - 1))
        fail "$2: $bad of $((good + bad)) test cases"
    fi
}

# build_and_test FOLDER WHAT CMAKE-ARGUMENTS...
build_and_test() {
    folder=$1
    what=$2
    shift 2
    section "$what: build"
    if check "$what: configures" cmake -S . -B "$folder" -G Ninja -DCMAKE_BUILD_TYPE=Release \
        -DCOUPLET_TOGETHER=ON "$@" &&
        check "$what: builds without a warning" cmake --build "$folder"; then
        section "$what: tests"
        tests "$folder" "$what: tests"
    else
        fail "$what: tests (not run, there is no build)"
    fi
}

section "Packages"
# shellcheck disable=SC2086 # one word a package
install_packages $packages_for_building $packages_for_testing || fail "the Debian packages are installed"

section "House"
check "the house checks find what they are for" python3 Tests/House/self_test.py
check "includes follow the arrows" python3 Tests/House/arrows.py
check "the top level holds only what belongs there" python3 Tests/House/layout.py
check "no path of one computer and no unfinished work" python3 Tests/House/words.py
check "sources name licence and thread, and are short" python3 Tests/House/headers.py
check "sources are formatted" sh Tests/House/format.sh
check "mutants are made by their rules, and each named one has its place" python3 Tests/Mutants/self_test.py

build_and_test build "everything"

export ASAN_OPTIONS=detect_leaks=1 UBSAN_OPTIONS=halt_on_error=1:print_stacktrace=1
build_and_test build-sanitize "core under sanitizers" -DCOUPLET_CORE_ONLY=ON \
    -DCOUPLET_SANITIZE=address,undefined -DCMAKE_CXX_FLAGS_RELEASE=-O1

section "Fuzz of the parsers"
check "ten seconds of fuzzing each parser find nothing" sh Tests/Fuzz/run.sh build-parsers 10

section "Linter"
check "clang-tidy finds nothing" python3 Tests/House/tidy.py build

end_section
printf '\n== Summary, %d s in all%s\n' $(($(date +%s) - started)) "$times"
[ -z "$failures" ] || printf 'Failed:%s\n' "$failures"
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
