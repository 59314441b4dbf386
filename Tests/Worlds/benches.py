# SPDX-License-Identifier: GPL-3.0-or-later
"""Whole benches through the command. Each draws its truth (calibrator, correction, seating, microphone, insertion, what
the earphone really is, its impedance, the voltmeter, the coupler away from the reference's frequency), writes the two
takes, has `couplet reference --keep` and `couplet read` judge them, and compares their answers with the truth. The
earphones are honest: what a maker states of them is so.

Usage: benches.py COMMAND [BENCHES] [--exact]
BENCHES a world, 300 unless given; below 50 the shares of all worlds together are judged alone. --exact has the command
take impedance and coupler for exact, for comparison; nothing is judged then."""

import json
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np

RATE = 16000
SEED = 60268
CERTIFIED_DB, CERTIFICATE_U_DB = 94.02, 0.15  # expanded, as the next
CORRECTION_DB, CORRECTION_U_DB = 1.36, 0.20
SEATING_DB, DRIFT_DB, RESPONSE_DB, INSERTION_DB = 0.05, 0.02, 0.05, 0.11  # standard, as the command assumes
RATED_OHM, IMPEDANCE_SHARE = 24.0, 0.20
TOLERANCE_DB, METER_PERCENT, DRIVE_V = 1.0, 0.5, 0.1232
COUPLER_1K_DB = 0.5  # IEC 60711:1981 Table 2, re 500 Hz, second-hand
MOST_DIFFERING, LEAST_COVERED = 0.06, 0.93
CHANCE = 3.0  # standard deviations that one world's share may lie beyond them

# What the maker did, where the tone is, and the impedance of our source (none: the voltage across the earphone).
WORLDS = [
    ("per volt", 1000.0, 0.0),
    ("per volt", 500.0, 10.0),
    ("milliwatt at the connector", 1000.0, 0.0),
    ("true milliwatt", 500.0, 33.0),
    ("milliwatt behind 120 ohm", 1000.0, 0.0),
    ("e.m.f. behind 120 ohm", 500.0, 0.0),
    ("e.m.f. behind 120 ohm", 1000.0, 120.0),
]


def decibels(ratio):
    return 20.0 * np.log10(ratio)


def across(source, z):
    """The share of an e.m.f. that an earphone of the complex impedance z gets."""
    return abs(z / (z + source))


def makers_volts(maker, z):
    """Across the earphone while the maker reads what he prints."""
    milliwatt = np.sqrt(1e-3 * RATED_OHM)
    return {
        "per volt": 1.0,
        "milliwatt at the connector": milliwatt,
        "true milliwatt": np.sqrt(1e-3 * abs(z)),
        "milliwatt behind 120 ohm": milliwatt / across(120.0, RATED_OHM) * across(120.0, z),
        "e.m.f. behind 120 ohm": 0.5 * across(120.0, z),
    }[maker]


def printed_rating(maker, level_db):
    if maker == "per volt":
        return [f"--rating={level_db}dB/V"]
    if maker == "e.m.f. behind 120 ohm":
        return [f"--rating={level_db}dB@500mV", "--rating-source-impedance=120ohm"]
    behind = ["--rating-source-impedance=120ohm"] if "behind" in maker else []
    return [f"--rating={level_db}dB/mW", *behind]


def write_take(path, draw, frequency_hz, level_dbfs, seconds):
    times = np.arange(int(seconds * RATE)) / RATE
    tone = 10.0 ** (level_dbfs / 20.0) * np.sin(2.0 * np.pi * (frequency_hz * times + draw.uniform()))
    samples = np.round(32767.0 * (tone + draw.normal(0.0, 1e-4, len(times)))).astype("<i2").tobytes()
    head = np.array([16], "<u4").tobytes() + np.array([1, 1], "<u2").tobytes()
    head += np.array([RATE, 2 * RATE], "<u4").tobytes() + np.array([2, 16], "<u2").tobytes()
    length = np.array([len(samples)], "<u4").tobytes()
    path.write_bytes(b"RIFF" + np.array([36 + len(samples)], "<u4").tobytes() + b"WAVEfmt " + head + b"data" + length + samples)


class Bench:
    def __init__(self, command, folder, draw, exact):
        self.command, self.folder, self.draw, self.exact = command, folder, draw, exact
        self.drift_db = draw.normal(0.0, DRIFT_DB)
        self.true_offset_db = 121.97 + draw.uniform(-3.0, 3.0)

    def answer(self, verb, *options):
        ended = subprocess.run([self.command, verb, self.folder / "take.wav", "--library", self.folder / "library",
                                "--coupler", "bench", "--json", *options], capture_output=True, timeout=120, check=False)
        if ended.returncode not in (0, 1):
            raise SystemExit(f"couplet {verb}: {ended.stderr.decode()}")
        answer = json.loads(ended.stdout)
        answer["status"] = ended.returncode
        return answer

    def reference(self):
        draw = self.draw
        heard_db = CERTIFIED_DB + draw.normal(0.0, CERTIFICATE_U_DB / 2.0)
        heard_db -= CORRECTION_DB + draw.normal(0.0, CORRECTION_U_DB / 2.0)
        heard_db += draw.normal(0.0, SEATING_DB)
        write_take(self.folder / "take.wav", draw, 1000.04, heard_db - self.true_offset_db, 6.0)
        exact = ["--coupler-uncertainty=0dB"] if self.exact else []
        r = self.answer("reference", f"--level={CERTIFIED_DB}dB", "--frequency=1kHz", "--keep",
                        f"--level-uncertainty={CERTIFICATE_U_DB}dB", f"--correction={CORRECTION_DB}dB",
                        f"--correction-uncertainty={CORRECTION_U_DB}dB", *exact)
        if not r["fit_to_use"]:
            raise SystemExit(f"the calibrator's tone was not fit: {r['notes']}")
        return abs(r["offset_db"] - self.true_offset_db - self.drift_db) <= r["expanded_uncertainty_db"]

    def read(self, maker, frequency_hz, source_ohm):
        draw = self.draw
        z = RATED_OHM * draw.uniform(1.0 - IMPEDANCE_SHARE, 1.0 + IMPEDANCE_SHARE)
        z = z * np.exp(1j * draw.uniform(0.0, np.pi / 3.0))
        volts = DRIVE_V * (1.0 + draw.uniform(-METER_PERCENT, METER_PERCENT) / 100.0) * across(source_ohm, z)
        level_db = round(draw.uniform(96.0, 106.0), 1)
        true_db = level_db + draw.uniform(-TOLERANCE_DB, TOLERANCE_DB) + decibels(volts / makers_volts(maker, z))
        if frequency_hz == 500.0:
            true_db += draw.uniform(-COUPLER_1K_DB, COUPLER_1K_DB)
        tone_db = true_db + draw.normal(0.0, INSERTION_DB) + draw.normal(0.0, RESPONSE_DB)
        write_take(self.folder / "take.wav", draw, frequency_hz + 0.01, tone_db - self.true_offset_db - self.drift_db, 3.0)
        exact = ["--impedance-tolerance=0%"] if self.exact else []
        kind = [f"--source-impedance={source_ohm}ohm"] if source_ohm > 0.0 else ["--across"]
        r = self.answer("read", *printed_rating(maker, level_db), f"--rating-frequency={frequency_hz}Hz",
                        f"--rating-tolerance={TOLERANCE_DB}dB", f"--impedance={RATED_OHM}ohm", *exact, *kind,
                        f"--drive={1000.0 * DRIVE_V}mV", f"--meter-accuracy={METER_PERCENT}%")
        if (r["status"] == 0) != (r["verdict"] == "agrees"):
            raise SystemExit(f"status {r['status']} beside the verdict {r['verdict']}")
        covered = abs(r["measured"]["level_db"] - true_db) <= r["measured"]["expanded_uncertainty_db"]
        return covered, r["verdict"], r["difference_uncertainty_db"]


def world_of(command, folder, number, benches, exact):
    """Offsets covered, readings covered, verdicts, U of the difference."""
    draw = np.random.default_rng([SEED, number])
    offsets, readings, verdicts, widths = 0, 0, [], []
    for count in range(benches):
        place = folder / f"{number}-{count}"
        place.mkdir()
        bench = Bench(command, place, draw, exact)
        offsets += bench.reference()
        covered, verdict, width_db = bench.read(*WORLDS[number])
        readings += covered
        verdicts.append(verdict)
        widths.append(width_db)
    return offsets, readings, verdicts, widths


def is_kept(name, share, limit, is_most, count):
    """`limit` of all together; one world alone may miss it by chance."""
    good = share <= limit if is_most else share >= limit
    if not good:
        print(f"FAILED  {name}: {100 * share:.1f} % of {count}, {'at most' if is_most else 'at least'} {100 * limit:.1f} %")
    return good


def main():
    words = [word for word in sys.argv[1:] if word != "--exact"]
    command, exact = str(Path(words[0]).resolve()), "--exact" in sys.argv
    benches = int(words[1]) if len(words) > 1 else 300
    total, offsets, readings, differing, good = 0, 0, 0, 0, True
    print("| maker's figure | tone, Hz | our source, ohm | offset covered | reading covered | differs | U, median dB |")
    print("|---|---|---|---|---|---|---|")
    with tempfile.TemporaryDirectory() as name:
        for number, (maker, frequency_hz, source_ohm) in enumerate(WORLDS):
            of_offset, of_reading, verdicts, widths = world_of(command, Path(name), number, benches, exact)
            differ = verdicts.count("differs")
            print(f"| {maker} | {frequency_hz:.0f} | {source_ohm:.0f} | {100 * of_offset / benches:.1f} % "
                  f"| {100 * of_reading / benches:.1f} % | {100 * differ / benches:.1f} % "
                  f"| {statistics.median(widths):.2f} |", flush=True)
            by_chance = CHANCE * np.sqrt(MOST_DIFFERING * (1.0 - MOST_DIFFERING) / benches)
            if benches >= 50 and not exact:
                good &= is_kept(f"{maker}, differs", differ / benches, MOST_DIFFERING + by_chance, True, benches)
            total, offsets, readings = total + benches, offsets + of_offset, readings + of_reading
            differing += differ
    if not exact:
        good &= is_kept("all, differs", differing / total, MOST_DIFFERING, True, total)
        good &= is_kept("all, offset covered", offsets / total, LEAST_COVERED, False, total)
        good &= is_kept("all, reading covered", readings / total, LEAST_COVERED, False, total)
    print(f"{total} benches: offset covered {100 * offsets / total:.1f} %, reading covered {100 * readings / total:.1f} %, "
          f"honest earphones that differ {100 * differing / total:.1f} %")
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
