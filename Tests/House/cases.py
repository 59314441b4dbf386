# SPDX-License-Identifier: GPL-3.0-or-later
"""Counts test cases in what `ctest -V` wrote, and shows what the failing tests said.

A program that sums up its own cases counts with each of them; any other test counts as one. A test that ctest calls
failed counts at least one failure whatever its summary says, and so does one that was skipped or could not be run.
Last line of the output: '<passed> <failed>'."""

import re
import sys
from pathlib import Path

OUTPUT = re.compile(r"^(\d+): ?(.*)$")
RESULT = re.compile(r"^\s*\d+/\d+ Test\s+#(\d+): (\S+) \.*\s*(.*?)\s+[\d.]+ sec\s*$")
ALL_PASSED = re.compile(r"^All tests passed \(.*\bin (\d+) test cases?\)")
SOME_FAILED = re.compile(r"^test cases:\s*(\d+) \|")
FAILED = re.compile(r"\| *(\d+) failed(?! as)")


def summed_up(output):
    """(passed, failed) after the program's own summary; None without one."""
    for line in reversed(output):
        if match := ALL_PASSED.match(line):
            return int(match[1]), 0
        if match := SOME_FAILED.match(line):
            failed = FAILED.search(line)
            failures = int(failed[1]) if failed else 0
            return int(match[1]) - failures, failures
    return None


def count(log):
    """(passed, failed, output of the failing tests)."""
    said, passed, failed, shown = {}, 0, 0, []
    for line in log:
        if match := OUTPUT.match(line):
            said.setdefault(match[1], []).append(match[2])
        elif match := RESULT.match(line):
            number, name, verdict = match.groups()
            output = said.get(number, [])
            good, bad = summed_up(output) or ((1, 0) if verdict == "Passed" else (0, 1))
            if verdict != "Passed":
                bad = max(bad, 1)
                shown += [f"--- {name}: {verdict}"] + output
            passed, failed = passed + good, failed + bad
    return passed, failed, shown


if __name__ == "__main__":
    good, bad, outputs = count(Path(sys.argv[1]).read_text(encoding="utf-8", errors="replace").splitlines())
    print(*outputs, f"{good} {bad}", sep="\n")
