# SPDX-License-Identifier: GPL-3.0-or-later
"""Maps of wobble, depth by rate: which calibrators are accepted, beside the limit of their class, and how far the level
is then off.

A cell breaks the promise when a calibrator well inside its class (0.9 of the limit) is refused, one well beyond it
(1.1) is accepted, or an accepted one inside its class has a level that is more than 0.001 dB off. Between 0.9 and 1.1
either answer is right. Sources of the limits: calibrators.py.

Usage: wobble.py COMMAND [--thin]"""

import multiprocessing
import sys
import tempfile
from pathlib import Path

import numpy as np

import sounds
from bench import CALIBRATOR_TONE as LEVEL
from bench import Bench
from promises import sizes

SECONDS = 13
CLASSES = {"1": dict(level=0.07, speed=0.007, distortion=0.025), "2": dict(level=0.15, speed=0.017, distortion=0.03)}
RATES = [0.25, 0.5, 1.0, 2.0, 5.0, 10.0]  # each a whole number of times in the 12 s between the calm ends
DEPTHS = [0.02, 0.03, 0.05, 0.065, 0.1, 0.14, 0.2, 0.3]  # dB
SPEEDS = [5e-6, 1e-4, 1e-3, 3e-3, 6e-3, 1.4e-2]
THIN = dict(level=([0.03, 0.065, 0.14, 0.3], [0.5, 1.0, 5.0]), speed=([5e-6, 3e-3], [0.5, 2.0]))
FULL = dict(level=(DEPTHS, RATES), speed=(SPEEDS, RATES))
RIGHT_dB = 0.001


def must(kind, depth, envelope, limits):
    """True: to be accepted; False: to be refused; None: either."""
    if kind == "speed":
        return True if depth <= 0.9 * limits["speed"] else None
    swing = sounds.fluctuation(envelope)
    # Beside the tone stand its sidebands, of m / sqrt(2) in all, and they count as distortion and noise.
    sidebands = (sounds.amplitude(depth) - 1) / np.sqrt(2)
    if swing <= 0.9 * limits["level"] and sidebands <= 0.9 * limits["distortion"]:
        return True
    return False if swing >= 1.1 * limits["level"] else None


def size_told(answer):
    """The size of the wobble in the sentence that refuses: the largest figure in dB of what is said of steadiness."""
    told = [abs(n) for s in answer.sentences() if "stead" in s or "fluctuat" in s for n in sizes(s, "dB")]
    return max(told, default=None)


def cell(job):
    """For each class: the table's text, and whether the promise is kept."""
    command, kind, depth, rate = job
    wobble = sounds.swing(depth, rate, SECONDS)
    still = np.zeros(wobble.size)
    envelope, speed = (wobble, still) if kind == "level" else (still, wobble)
    trues = [LEVEL + mean for mean in sounds.levels_of(envelope)]
    results = {}
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(command, folder)
        x = sounds.tone(LEVEL, 1000.0, SECONDS, envelope_dB=envelope, speed=speed)
        for name, limits in CLASSES.items():
            answer = bench.reference(x, "--class", name, true=trues)
            accepted = answer.json.get("fit_to_use") is True
            wanted = must(kind, depth, envelope, limits)
            good = wanted is None or accepted == wanted
            if accepted and wanted is not False:
                good = good and answer.error is not None and abs(answer.error) <= RIGHT_dB
            told = size_told(answer)
            words = f"{1000 * answer.error:+.2f}" if accepted else "no" if told is None else f"no: {told:.3f}"
            mark = "" if wanted is None else " (in)" if wanted else " (out)"
            results[name] = (words + mark + ("" if good else " **BROKEN**"), good)
    return results


def title(kind, name):
    limits = CLASSES[name]
    if kind == "level":
        return f"Class {name}, level wobble (rows) by rate; the F level may fluctuate by {limits['level']} dB"
    return f"Class {name}, speed wobble (rows) by rate; the frequency may be off by {100 * limits['speed']:.1f} %"


def row_name(kind, depth):
    if kind == "speed":
        return f"{100 * depth:g} %"
    return f"{depth:g} dB (F: " + ", ".join(f"{sounds.fluctuation(sounds.swing(depth, r, SECONDS)):.3f}"
                                             for r in (0.5, 1.0, 5.0)) + ")"


def show(kind, name, depths, rates, cells):
    print(f"\n**{title(kind, name)}**\n")
    print("| | " + " | ".join(f"{r:g} Hz" for r in rates) + " |\n|" + "---|" * (len(rates) + 1))
    for depth in depths:
        print(f"| {row_name(kind, depth)} | " + " | ".join(cells[depth, r][name][0] for r in rates) + " |")


def main():
    command = str(Path(sys.argv[1]).resolve())
    maps = THIN if "--thin" in sys.argv else FULL
    broken = 0
    with multiprocessing.Pool(2) as pool:
        for kind, (depths, rates) in maps.items():
            keys = [(d, r) for d in depths for r in rates]
            cells = dict(zip(keys, pool.map(cell, [(command, kind, d, r) for d, r in keys], chunksize=1)))
            for name in CLASSES:
                show(kind, name, depths, rates, cells)
                broken += sum(not c[name][1] for c in cells.values())
    print("\nAccepted: the level's error in thousandths of a dB. no: refused, with the size that is told in dB.\n"
          f"in, out: by its class. {broken} cells not as promised")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
