# SPDX-License-Identifier: GPL-3.0-or-later
"""The plugin in our own host, in processes of their own: in_house.py HOST lv2|vst3 BUNDLE

Audio goes through unchanged; the reading in COUPLET_LIVE follows the coupler slot; a state saved, loaded in a new process
on a computer without that library, or whose library has another version of the coupler, and saved again has the same
bytes, with the coupler's whole history; four instances read four levels."""

import datetime
import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

PROGRAM, FORMAT, BUNDLE = sys.argv[1:4]
SLOTS = 16
OFFSETS = {1: 121.97, 2: 108.4}
failures = []


def check(what, holds, seen=""):
    print("ok     " if holds else "FAILED ", what, "" if holds else seen)
    if not holds:
        failures.append(what)


class Host:
    def __init__(self, folder, library):
        self.live = folder / "live.json"
        environment = os.environ | {"COUPLET_LIVE": str(self.live), "COUPLET_LIBRARY": str(library)}
        environment.pop("DISPLAY", None)
        self.process = subprocess.Popen([PROGRAM, FORMAT, BUNDLE], env=environment, text=True,
                                        stdin=subprocess.PIPE, stdout=subprocess.PIPE)

    def ask(self, order):
        self.process.stdin.write(order + "\n")
        self.process.stdin.flush()
        while answer := self.process.stdout.readline():
            if answer.startswith(("ok", "no ")):
                break
        if not answer.startswith("ok"):
            check(order, False, answer.strip() or "the host is gone")
        return answer.strip()

    def reading(self, number=1):
        name = self.live if number == 1 else self.live.with_name(f"{self.live.name}.{number}")
        return json.loads(name.read_text(encoding="utf-8"))

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.process.stdin.close()
        check("the host ends by itself", self.process.wait(timeout=30) == 0, f"status {self.process.returncode}")


def reference(taken, offset):
    return {
        "takenAt": taken, "offset_dB": offset, "addends": [{"name": "offset", "value_dB": offset}],
        "budget": [{"name": "certificate", "u_dB": 0.08, "shape": "normal", "obtained": "certificate"}],
        "calibrator": "a calibrator", "tone_dBFS": 94 - offset, "frequency_Hz": 1000, "sampleRate_Hz": 48000,
        "channel": 1, "fitToUse": True}


def coupler(slot, offset):
    """With a history, one of it set aside, a correction and a response table."""
    now = datetime.datetime.now(datetime.timezone.utc).strftime("%Y-%m-%dT%H:%M:%SZ")
    history = [reference("2026-04-12T09:10:00Z", offset - 0.06),
               reference("2026-04-27T16:42:00Z", offset + 0.51) | {"setAside": "the adapter was loose"},
               reference(now, offset)]
    return {"kind": "coupler", "version": 1, "name": f"coupler {slot}", "slot": slot, "allowedAge_h": 24,
            "correction": {"value_dB": 1.36, "U_dB": 0.45, "includesCalibrator": True, "origin": "typed"},
            "response": [{"frequency_Hz": 100, "response_dB": 0}, {"frequency_Hz": 2000, "response_dB": 0}],
            "responseSource": "table.txt", "references": history}


def level(reading):
    return reading["measured"]["level_db"]


def near(a, b):
    return a is not None and abs(a - b) < 0.002


def follow_slots(folder, library, state):
    with Host(folder, library) as host:
        made = host.ask("make 1")
        check("two channels in, two out, no latency", made.endswith("in=2 out=2 latency=0"), made)
        # Noise of this peak stays below what the loop guard asks; without the guard, any does.
        host.ask("through 0.2")
        host.ask("set 0 Pass the input on=1")
        host.ask("through 1")
        host.ask("set 0 Pass the input on=0.5")
        host.ask("play 2 -20")
        reading = host.reading()
        check("without a coupler the reading is dBFS", near(level(reading), -20) and
              reading["measured"]["unit"] == "dBFS", reading["measured"])
        for slot, offset in OFFSETS.items():
            host.ask(f"set 0 Coupler slot={slot / SLOTS}")
            host.ask("play 1 -20")
            reading = host.reading()
            check(f"slot {slot}: the reading follows", near(level(reading), offset - 20) and
                  reading["coupler"] == f"coupler {slot}" and reading["measured"]["unit"] == "dB SPL",
                  (reading["coupler"], reading["measured"]))
        host.ask(f"save 0 {state}")


def restore(folder, state, again, library, where):
    with Host(folder, library) as host:
        host.ask("make 1")
        host.ask(f"load 0 {state}")
        host.ask("play 2 -20")
        reading = host.reading()
        check(f"{where}, the coupler's profile travels with the session", near(level(reading), OFFSETS[2] - 20) and
              reading["coupler"] == "coupler 2", (reading["coupler"], reading["measured"]))
        host.ask(f"save 0 {again}")
    check(f"{where}, the state saved again has the same bytes", state.read_bytes() == again.read_bytes())
    check("the state is no empty one", len(state.read_bytes()) > 1000)


def restore_where_the_library_went_on(folder, state, again):
    library = folder / "other-library"
    library.mkdir()
    file = library / "coupler-2.json"
    other = coupler(2, OFFSETS[2])
    other["references"].append(reference(other["references"][-1]["takenAt"], 99.0))
    file.write_text(json.dumps(other), encoding="utf-8")
    before = file.read_bytes()
    restore(folder, state, again, library, "beside another version")
    check("the library's own version is not touched", file.read_bytes() == before and
          [f.name for f in library.iterdir() if f.suffix == ".json"] == ["coupler-2.json"])


def four_levels(folder):
    levels = [-12.5, -20.25, -31.0, -47.75]
    with Host(folder, folder / "no library") as host:
        host.ask("make 4")
        host.ask("play 2 " + " ".join(map(str, levels)))
        # Which file an instance has is a matter of who wrote first.
        seen = sorted((level(host.reading(number)) for number in range(1, 5)), key=lambda x: x or 0, reverse=True)
        for expected, found in zip(levels, seen, strict=True):
            check(f"one of 4 instances reads {expected} dBFS", near(found, expected), seen)


def main():
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        library = folder / "library"
        library.mkdir()
        for slot, offset in OFFSETS.items():
            (library / f"coupler-{slot}.json").write_text(json.dumps(coupler(slot, offset)), encoding="utf-8")
        follow_slots(folder, library, folder / "state")
        restore(folder, folder / "state", folder / "again", folder / "no library", "without a library")
        restore_where_the_library_went_on(folder, folder / "state", folder / "once-more")
        four_levels(folder)
    sys.exit(1 if failures else 0)


if __name__ == "__main__":
    main()
