# SPDX-License-Identifier: GPL-3.0-or-later
"""Would the tests notice? Makes single faults in Metrology and Bench, one at a time, and runs the tests on each.

    python3 Tests/Mutants/run.py --build build --named              the named mutants, all of which must be killed
    python3 Tests/Mutants/run.py --build build --count 60 --seed 1  so many of those that the rules make

The build must hold both test programs; it and the tree stay as they are. A mutant that changes nothing a test could see
stands in equivalent.txt with its reason. Without --named a survivor is told and is no fault: the score counts."""

import sys

sys.dont_write_bytecode = True  # nothing is left in the tree

import argparse
import difflib
import random
import re
import tempfile
import time
from collections import Counter
from pathlib import Path

import lists
import rules
import workshop

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
ROOMS = ("Metrology", "Bench")
# Tested with the plugin, which is not built here.
ELSEWHERE = ("Session.cpp", "ParameterList.cpp")


def pattern(text):
    try:
        return re.compile(text)
    except re.error as wrong:
        raise argparse.ArgumentTypeError(f"'{text}' is no pattern: {wrong}") from wrong


def arguments():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--build", default="build", help="the folder of a build with both test programs")
    parser.add_argument("--named", action="store_true", help="the named mutants instead of a sample")
    parser.add_argument("--count", type=int, default=60, help="mutants in the sample")
    parser.add_argument("--seed", type=int, default=1, help="of the sample")
    parser.add_argument("--minutes", type=float, default=float("inf"), help="no mutant is begun after so long")
    parser.add_argument("--only", type=pattern, default="", help="only sources with this pattern: Reading|Offset")
    parser.add_argument("--list", action="store_true", help="show the mutants and try none")
    return parser.parse_args()


def sources(only):
    found = [path for room in ROOMS for path in sorted((ROOT / "Source" / room).glob("*.cpp"))]
    return [path for path in found if path.name not in ELSEWHERE and only.search(str(path.relative_to(ROOT)))]


def sampled(given):
    """Mutants drawn at random, and how many there are."""
    everything = []
    for path in sources(given.only):
        everything += rules.mutants_of(str(path.relative_to(ROOT)), path.read_text(encoding="utf-8"))
    allowed = lists.equivalents(HERE / "equivalent.txt")
    everything = [each for each in everything if not lists.is_among(allowed, each, text_of(each))]
    chosen = random.Random(given.seed).sample(everything, max(0, min(given.count, len(everything))))
    return chosen, len(everything)


def text_of(mutant):
    return (ROOT / mutant.file).read_text(encoding="utf-8")


def difference(mutant):
    before = text_of(mutant)
    lines = difflib.unified_diff(before.splitlines(), mutant.applied_to(before).splitlines(), n=0, lineterm="")
    return "\n".join("    " + line for line in list(lines)[3:])


def told(mutant, fate, by):
    place = f"{mutant.file}:{mutant.line(text_of(mutant))}"
    print(f"{fate:12}  {place}  {mutant.rule}" + (f"  [{by}]" if by else ""), flush=True)
    if fate in ("survived", "listed"):
        print(difference(mutant), flush=True)


def tried(mutants, given):
    fates = Counter()
    started = time.monotonic()
    with tempfile.TemporaryDirectory(prefix="couplet-mutants-") as scratch:
        bench = workshop.Workshop(ROOT / given.build, scratch)
        for mutant in mutants:
            if time.monotonic() - started > 60.0 * given.minutes:
                break
            fate, by = bench.fate(ROOT / mutant.file, mutant.applied_to(text_of(mutant)))
            fates[fate] += 1
            told(mutant, fate, by)
    return fates


def main():
    given = arguments()
    lost = []
    if given.named:
        chosen, lost = lists.named(HERE / "named.txt", ROOT)
        chosen = [each for each in chosen if given.only.search(f"{each.file} {each.rule}")]
        total = len(chosen)
        for sentence in lost:
            print(sentence)
    else:
        chosen, total = sampled(given)
    if not chosen:
        print("there is no such mutant; give a count above 0, and sources that there are")
        return 1
    if given.list:
        for mutant in chosen:
            told(mutant, "listed", "")
        return 0
    fates = tried(chosen, given)
    counted = fates["killed"] + fates["survived"]
    share = f", {100.0 * fates['killed'] / counted:.0f} %" if counted else ""
    print(f"{fates['killed']} of {counted} killed{share}; {fates['not compiled']} did not compile; {total} in all")
    if not given.named:
        return 0 if counted else 1
    return 1 if lost or fates["killed"] < total else 0


if __name__ == "__main__":
    sys.exit(main())
