# SPDX-License-Identifier: GPL-3.0-or-later
"""The rules make the mutants that they are for and touch no text in quotes; each named mutant has its place in the
sources, each line of the equivalent ones stands there still."""

import sys

sys.dont_write_bytecode = True  # nothing is left in the tree

from pathlib import Path

import lists
import rules

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]

SOURCE = '''// if (a < b) return 2.0;
#include "a + b"
constexpr double limit_dB = 0.5;

void add(Budget& budget, const Input& input)
{
    if (input.there && input.size > 2)
        budget.push_back({"a term < 1.0", input.u_dB + 0.0});
    offset.level_dB = std::max(a, b) - 1.5;
}

double pressure(double p)
{
    if (const auto fault = faultOf(p))
        return {};
    return low(p, limit) <= 3.0 ? first : second;
}
'''

# Rule, line, and what the line becomes.
EXPECTED = [
    ("constant times 2.0", 3, "constexpr double limit_dB = (2.0 * 0.5);"),
    ("constant times 0.5", 3, "constexpr double limit_dB = (0.5 * 0.5);"),
    ("returned early", 7, "    return;"),
    ("condition negated", 7, "    if (!(input.there && input.size > 2))"),
    ("&& to ||", 7, "    if (input.there || input.size > 2)"),
    ("> to >=", 7, "    if (input.there && input.size >= 2)"),
    ("term left out", 8, "        ;"),
    ("+ to -", 8, '        budget.push_back({"a term < 1.0", input.u_dB - 0.0});'),
    ("statement left out", 9, "    ;"),
    ("std::max to std::min", 9, "    offset.level_dB = std::min(a, b) - 1.5;"),
    ("- to +", 9, "    offset.level_dB = std::max(a, b) + 1.5;"),
    ("constant times 2.0", 9, "    offset.level_dB = std::max(a, b) - (2.0 * 1.5);"),
    ("constant times 0.5", 9, "    offset.level_dB = std::max(a, b) - (0.5 * 1.5);"),
    ("early way out left out", 15, "        ;"),
    ("condition negated", 16, "    return !(low(p, limit) <= 3.0) ? first : second;"),
    ("arguments swapped", 16, "    return low(limit, p) <= 3.0 ? first : second;"),
    ("<= to <", 16, "    return low(p, limit) < 3.0 ? first : second;"),
    ("constant times 2.0", 16, "    return low(p, limit) <= (2.0 * 3.0) ? first : second;"),
    ("constant times 0.5", 16, "    return low(p, limit) <= (0.5 * 3.0) ? first : second;"),
]


def of_rules():
    made = []
    for mutant in rules.mutants_of("sample.cpp", SOURCE):
        line = mutant.line(SOURCE)
        made.append((mutant.rule, line, mutant.applied_to(SOURCE).splitlines()[line - 1]))
    faults = [f"not made: {each}" for each in EXPECTED if each not in made]
    return faults + [f"made, and not expected: {each}" for each in made if each not in EXPECTED]


def of_lists():
    _, lost = lists.named(HERE / "named.txt", ROOT)
    for file, _, where in lists.equivalents(HERE / "equivalent.txt"):
        if not where.search((ROOT / file).read_text(encoding="utf-8")):
            lost.append(f"equivalent.txt: nothing in {file} reads {where.pattern}")
    return lost


if __name__ == "__main__":
    found = of_rules() + of_lists()
    print("\n".join(found))
    sys.exit(1 if found else 0)
