# SPDX-License-Identifier: GPL-3.0-or-later
"""`couplet fit` on random benches against the model integrated with numpy and scipy (fit_model.py).

Usage: fit_second.py COMMAND [BENCHES]"""

import json
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np

import fit_model

BENCHES = 200
LARGEST_DIFFERENCE_DB = 0.005
SEED = 20260503
CALIBRATOR_U, TRANSFER_U, ADAPTER_U, SEATING_U = 0.15, 0.30, 0.20, 0.10  # expanded


def drawn(random):
    """Readings of one bench, all of them written with three decimals."""
    truth, kappa = random.uniform(-1.0, 4.0), np.exp(random.uniform(np.log(0.3), np.log(8.0)))
    sign = random.choice([0, 1, -1], p=[0.2, 0.4, 0.4])
    fittings = []
    for _ in range(random.integers(1, 6)):
        loose = np.exp(random.uniform(np.log(0.01), np.log(1.0)))
        own = kappa * loose * random.standard_normal()
        own = abs(own) * sign if sign else own
        count = random.integers(1, 9)
        fittings.append(np.round(113.0 + truth + own + loose * random.standard_normal(count), 3))
    through = np.round(113.0 + 0.04 * random.standard_normal(random.integers(3, 8)), 3)
    earphones = []
    for _ in range(random.integers(0, 4)):
        tolerance = random.choice([0.0, 0.5, 1.0, 2.0])
        says = truth + random.uniform(-1.2, 1.2) * tolerance + 0.12 * random.standard_normal()
        earphones.append((round(94.0 + says, 2), 94.0, tolerance, 0.24))
    return fittings, through, earphones


def table(fittings, through, earphones):
    lines = ["kind,name,level_db,expected_db,tolerance_db,expanded_uncertainty_db"]
    for i, readings in enumerate(fittings):
        lines += [f"direct,fitting {i},{level:.3f}" for level in readings]
    lines += [f"through,,{level:.3f}" for level in through]
    for i, (level, expected, tolerance, spread) in enumerate(earphones):
        lines.append(f"earphone,earphone {i},{level:.2f},{expected:.2f},{tolerance or ''},{spread}")
    return "\n".join(lines) + "\n"


def second_opinion(fittings, through, earphones):
    said = [(np.mean(f) - np.mean(through), len(f), np.std(f, ddof=1) if len(f) > 1 else 0.0) for f in fittings]
    heard = [(level - expected, tolerance, spread / 2) for level, expected, tolerance, spread in earphones]
    u_through = np.std(through, ddof=1) / np.sqrt(len(through))
    u_shared = 0.5 * np.sqrt(CALIBRATOR_U**2 + TRANSFER_U**2 + ADAPTER_U**2)
    return fit_model.fit(said, heard, u_through, u_shared, SEATING_U / 2)


def figures_of(fit):
    """Name and value of everything that is compared, in the order of the second opinion's."""
    without = [item["without_it_db"] for item in fit["fittings"] + fit["earphones"]]
    shares = [item["own_error_probability"] for item in fit["fittings"]]
    shares += [item["outside_probability"] for item in fit["earphones"]]
    # While the evidence contradicts itself there is no uncertainty.
    interval = fit["interval_db"] or [None, None]
    return [fit["correction_db"], fit["standard_uncertainty_db"], *interval, *without, *shares]


def main():
    command = str(Path(sys.argv[1]).resolve())
    benches = int(sys.argv[2]) if len(sys.argv) > 2 else BENCHES
    random = np.random.default_rng(SEED)
    worst, contradicting = 0.0, 0
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "readings.csv"
        for bench in range(benches):
            readings = drawn(random)
            file.write_text(table(*readings), encoding="utf-8")
            call = [command, "fit", str(file), "--calibrator-uncertainty", f"{CALIBRATOR_U}dB", "--json"]
            ended = subprocess.run(call, capture_output=True, text=True, timeout=60, check=False)
            if ended.returncode not in (0, 1):
                print(f"FAILED  bench {bench}: {ended.stderr}")
                return 1
            ours = figures_of(json.loads(ended.stdout))
            other = second_opinion(*readings)
            theirs = [other["mean"], other["u"], other["low"], other["high"], *other["without"]]
            theirs += [*other.get("own", []), *other["outside"]]
            if json.loads(ended.stdout)["contradiction"] is not None:
                contradicting += 1
                theirs[1:4] = [None] * 3
            # An interval of several dB, of one fitting alone, is compared by its own size.
            scale = max(1.0, other["u"])
            for i, (one, two) in enumerate(zip(ours, theirs, strict=True)):
                if (one is None) != (two is None):
                    print(f"FAILED  bench {bench}, figure {i}: {one} against {two}")
                    return 1
                if one is not None:
                    difference = abs(one - two) / scale
                    worst = max(worst, difference)
                    if not difference <= LARGEST_DIFFERENCE_DB:
                        print(f"FAILED  bench {bench}, figure {i}: {one} against {two}\n{file.read_text()}")
                        return 1
    if contradicting > benches / 4:
        print(f"FAILED  {contradicting} of {benches} benches contradict themselves, and their intervals are not compared")
        return 1
    print(f"ok      {benches} benches agree with numpy and scipy within {worst:.5f} dB, {contradicting} of them without U")
    return 0


if __name__ == "__main__":
    sys.exit(main())
