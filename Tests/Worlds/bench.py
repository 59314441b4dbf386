# SPDX-License-Identifier: GPL-3.0-or-later
"""A bench that is measured with the command alone, as a user would: a folder of takes and a library."""

import json
import os
import re
import shutil
import subprocess
from dataclasses import dataclass, field
from pathlib import Path

import sounds

# The calibrator and the coupler of the examples in docs/method.md; the tone of the reference and its offset too.
LEVEL, CORRECTION, CALIBRATOR_TONE = 114.02, 1.36, -9.31
OFFSET = LEVEL - CORRECTION - CALIBRATOR_TONE
CALIBRATOR = ("--level", "114.02dB", "--level-uncertainty", "0.15dB", "--pressure-law", "none")
CORRECTED = ("--correction", "1.36dB", "--correction-uncertainty", "0.20dB")
# An earphone that is as it should be: 93.86 dB SPL expected, about 93.97 on the coupler.
EARPHONE_TONE, EARPHONE_HZ = -28.00, 500.03


def rated(level="112.40dB/V", frequency=500, impedance=24):
    return ("--rating", level, "--rating-frequency", f"{frequency}Hz", "--rating-tolerance", "1dB", "--impedance",
            f"{impedance}ohm")


def driven(voltage="123.2mV", source=1):
    return ("--drive", voltage, "--source-impedance", f"{source}ohm", "--meter-accuracy", "0.5%")


@dataclass
class Answer:
    """What the command said, and how far its level lies from the truth."""
    verb: str
    status: int
    json: dict
    complaint: str  # on standard error
    text: str = ""  # for a reader, where the case asked for it
    true: float = None
    unit: str = "dB SPL"
    error: float = None
    U: float = None
    more: dict = field(default_factory=dict)  # what the case looked up besides

    def against(self, true, error, U, unit="dB SPL"):
        self.true, self.error, self.U, self.unit = true, error, U, unit
        return self

    def failed(self, kind="checks"):
        """Checks of a reference that are not met, each with the value it found."""
        return [f"{c['name']}: {c['value']:g} {unit_in(c['name'])}" for c in self.json.get(kind, [])
                if not c["passes"] and c["value"] is not None]

    def sentences(self):
        """All that is said to a reader beside the figures."""
        checks = self.failed() + self.failed("warnings")
        said = self.json.get("notes", []) + self.json.get("causes", [])
        return checks + said + ([self.complaint.strip()] if self.complaint.strip() else [])

    def budget(self):
        """All terms of all budgets, as text: name, how it was obtained, u."""
        parts = [self.json, self.json.get("measured") or {}, self.json.get("expected") or {}]
        terms = [t for p in parts for t in p.get("budget", []) + p.get("difference_budget", [])]
        return [f"{t['name']} ({t['obtained']}): {t['standard_uncertainty_db']}" for t in terms]

    def headline(self):
        if self.status == 2:
            return "refused"
        if "fit_to_use" in self.json:
            return "fit" if self.json["fit_to_use"] else "not fit"
        if self.verb == "read":
            return self.json.get("verdict") or "no verdict"
        return self.json.get("verdict") or "answered"


def unit_in(name):
    found = re.search(r"(dB|%|Hz| s)\b", name)
    return found[1].strip() if found else ""


class Bench:
    def __init__(self, command, folder):
        self.command, self.folder = command, Path(folder)
        self.library = self.folder / "library"

    def take(self, x, name="take.wav", rate=sounds.RATE, bits=32):
        sounds.write(self.folder / name, x, rate, bits)
        return name

    def call(self, verb, *arguments):
        """One run with --json; the answer without a level, which only the case knows."""
        ended = self.run(verb, *arguments, "--json")
        try:
            said = json.loads(ended.stdout) if ended.stdout else {}
        except ValueError:
            said = {"notes": [f"no JSON: {ended.stdout[:80]!r}"]}
        return Answer(verb, ended.returncode, said, ended.stderr)

    def run(self, *call):
        environment = {**os.environ, "COUPLET_LIBRARY": str(self.library), "LC_ALL": "C.UTF-8"}
        return subprocess.run([self.command, *call], cwd=self.folder, env=environment, capture_output=True, text=True,
                              timeout=60, check=False)

    def reference(self, x, *more, true=None, rate=sounds.RATE, bits=32, calibrator=CALIBRATOR, corrected=CORRECTED,
                  certified=LEVEL - CORRECTION):
        """`true`: the tone's level in dBFS; a list where several are right (a level that moves has several means)."""
        take = self.take(x, "calibrator.wav", rate, bits)
        answer = self.call("reference", take, "--coupler", "bench", *calibrator, *corrected, *more)
        trues = [certified - t for t in (true if isinstance(true, (list, tuple)) else [true]) if t is not None]
        offset = answer.json.get("offset_db")
        errors = [offset - t for t in trues] if offset is not None else []
        return answer.against(trues[0] if trues else None, min(errors, key=abs, default=None),
                              answer.json.get("expanded_uncertainty_db"))

    def keep_reference(self, *more, level=CALIBRATOR_TONE):
        """A good reference on a coupler 'bench'."""
        answer = self.reference(sounds.tone(level, 1000.04, 7), "--class", "1", "--keep", *more, true=level)
        answer.more["references"] = self.references()
        return answer

    def read(self, x, *more, true=EARPHONE_TONE, expected=rated() + driven(), rate=sounds.RATE, bits=32):
        """`true`: the tone's level in dBFS as the earphone gives it when nothing is wrong."""
        answer = self.call("read", self.take(x, "earphone.wav", rate, bits), "--coupler", "bench", *expected, *more)
        measured = answer.json.get("measured") or {}
        level = measured.get("level_db")
        return answer.against(OFFSET + true, None if level is None else level - OFFSET - true,
                              measured.get("expanded_uncertainty_db"))

    def coupler_file(self):
        return next(self.library.glob("coupler-bench-*.json"), None)

    def coupler(self):
        file = self.coupler_file()
        return json.loads(file.read_text(encoding="utf-8")) if file else {}

    def references(self):
        return self.coupler().get("references", [])

    def change_coupler(self, change):
        """For what only time brings about, or another version: the library's file is plain JSON."""
        coupler = self.coupler()
        change(coupler)
        self.coupler_file().write_text(json.dumps(coupler), encoding="utf-8")

    def furnish(self, template):
        """The library of another bench, copied."""
        shutil.copytree(template, self.library)
