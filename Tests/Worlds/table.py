# SPDX-License-Identifier: GPL-3.0-or-later
"""One table of faults: what is wrong, how far the level is off, its U, and the answer, before and now. Every case has
its promises; one that is not kept makes the run fail.

Usage: table.py COMMAND [--before OTHER [--note COMMIT]] [--only WORDS]

--before runs each case on another build too; --note writes what that build answers into before.csv, from which it is
printed without it."""

import argparse
import csv
import multiprocessing
import sys
import tempfile
from pathlib import Path

import calibrators
import corrections
import expected
import gains
import good
import noises
import references
import rooms
import unfit
from bench import Bench
from case import Case

NOTED = Path(__file__).with_name("before.csv")
SECTIONS = [("Calibrators that wobble", calibrators), ("Sound that is not one tone of one level", unfit),
            ("Gain that depends on the level", gains), ("Noise and hum", noises), ("Rooms that are not quiet", rooms),
            ("Good takes", good),
            ("References", references), ("Corrections", corrections), ("Expected level", expected)]
CASES = [(title, case) for title, module in SECTIONS for case in module.CASES]
assert len({(title, case.fault) for title, case in CASES}) == len(CASES), "two cases of one name"
PROCESSES = 2


def template(command, folder):
    """The library of a bench that has a reference, made once for each build."""
    bench = Bench(command, folder)
    bench.folder.mkdir(parents=True)
    bench.keep_reference()
    return bench.library


def cells(case: Case, answer):
    """Error, U and the answer as the table has them."""
    number = f"{answer.error:+.4f}" if answer.error is not None else "none"
    spread = f"{answer.U:.2f}" if answer.U is not None else "none"
    words = f"{answer.headline()}, exit {answer.status}"
    said = list(dict.fromkeys(s for p in case.promises for s in p.shows(answer)))
    return [number, spread, words + "".join(f"; {s}" for s in said)]


def played(job):
    index, command, library = job
    case = CASES[index][1]
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(command, folder)
        if case.referenced:
            bench.furnish(library)
        answer = case.play(bench)
    true = "" if answer.true is None else f"{answer.true:.2f} {answer.unit}"
    return true, cells(case, answer), case.kept(answer)


def run(pool, command, chosen):
    with tempfile.TemporaryDirectory() as folder:
        library = template(command, Path(folder) / "template")
        return pool.map(played, [(i, command, library) for i in chosen], chunksize=1)


def silent(figures):
    """Accepted, off by more than U, and not a word of what the case is about."""
    error, spread, words = figures
    wrong = "none" not in (error, spread) and abs(float(error)) > float(spread)
    return wrong and words.startswith(("fit", "agrees")) and ";" not in words


def noted():
    if not NOTED.exists():
        return {}
    with NOTED.open(encoding="utf-8", newline="") as file:
        rows = csv.reader(line for line in file if not line.startswith("#"))
        return {(section, fault): cells for section, fault, *cells in rows}


def note(commit, before):
    with NOTED.open("w", encoding="utf-8", newline="") as file:
        file.write(f"# What the build of commit {commit} answers, by table.py --before.\n")
        file.write("# section, fault, error of the level in dB, U in dB, answer\n")
        csv.writer(file, lineterminator="\n").writerows([*key, *value] for key, value in before.items())


def row(*texts):
    return "| " + " | ".join(text.replace("|", "/") for text in texts) + " |"


def show(chosen, before, now):
    section = None
    for index, (true, figures, broken) in zip(chosen, now):
        title, case = CASES[index]
        if title != section:
            section = title
            print(f"\n**{title}**\n")
            print(row("what is wrong", "truth", "error before", "U", "answer before", "error now", "U", "answer now"))
            print("|---|---|---|---|---|---|---|---|")
        then = before.get((title, case.fault), ["", "", "not noted"])
        print(row(case.fault, true, *then, *figures[:2], figures[2] + "".join(f"; **BROKEN: {b}**" for b in broken)))


def main():
    parser = argparse.ArgumentParser(usage=__doc__)
    parser.add_argument("command")
    parser.add_argument("--before")
    parser.add_argument("--note")
    parser.add_argument("--only", default="")
    options = parser.parse_args()
    chosen = [i for i, (title, case) in enumerate(CASES) if options.only in f"{title}: {case.fault}"]
    before = noted()
    with multiprocessing.Pool(PROCESSES) as pool:
        now = run(pool, str(Path(options.command).resolve()), chosen)
        if options.before:
            then = run(pool, str(Path(options.before).resolve()), chosen)
            before = {(CASES[i][0], CASES[i][1].fault): figures for i, (_, figures, _) in zip(chosen, then)}
    if options.note:
        note(options.note, before)
    show(chosen, before, now)
    broken = sum(bool(b) for _, _, b in now)
    then = [before[key] for i in chosen if (key := (CASES[i][0], CASES[i][1].fault)) in before]
    print(f"\nAccepted with an error beyond U and without a word: {sum(map(silent, then))} before, "
          f"{sum(silent(figures) for _, figures, _ in now)} now.\n{len(now) - broken} cases as promised, {broken} not")
    return 1 if broken or not now else 0


if __name__ == "__main__":
    sys.exit(main())
