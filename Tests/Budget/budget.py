# SPDX-License-Identifier: GPL-3.0-or-later
"""The command and its library under faults, for so long: what was tried, how often, and what was lost.

Usage: budget.py COMMAND SHIM SECONDS [SEED]

Worlds, one after the other until the time is over: one program, two and four programs at once in one library. Each
program works at items of its own and at a coupler and readings that all share. Of its calls some are killed at a file
operation, for some the disk is full or fails from one on (Shim.c), for some the clock is set back, and now and then the
library's folder is gone for one call. After each call its items are listed and compared with what was reported: what
was said to be done is there; what was not, is there as before or as wanted, and whole. Each table row is a sum over all
worlds of one kind. Fails when anything was lost, is unreadable, is absent though reported, was left behind, or ended
with a signal of its own.

With no loss in N faults, the share of faults that lose something is below 3/N with 95 % confidence.
Source: Hanley and Lippman-Hand, 'If nothing goes wrong, is everything all right?', JAMA 249(13), 1983 (from memory)."""

import collections
import errno
import json
import math
import os
import random
import shutil
import signal
import struct
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path

ERRORS = [errno.ENOSPC, errno.ENOSPC, errno.EIO, errno.EROFS, errno.EDQUOT, errno.EACCES]
MOST_ITEMS = 8  # of one program: a longer list only takes longer to read
BAD = ["lost", "unreadable", "reported but absent", "left behind", "ended badly"]


def write_tone(path):
    """What a reading and a reference are taken from: 7 s of 1 kHz."""
    rate, seconds = 8000, 7
    data = b"".join(struct.pack("<h", round(3000 * math.sin(2 * math.pi * i / 8))) for i in range(rate * seconds))
    head = struct.pack("<IHHIIHH", 16, 1, 1, rate, 2 * rate, 2, 16)
    path.write_bytes(b"RIFF" + struct.pack("<I", 36 + len(data)) + b"WAVEfmt " + head + b"data" +
                     struct.pack("<I", len(data)) + data)


class World:
    """One library, and what was reported of what all share."""

    def __init__(self, command, shim, tone, folder, counts):
        self.command, self.shim, self.tone, self.folder, self.counts = command, shim, tone, folder, counts
        self.library = folder / "library"
        self.mutex = threading.Lock()
        self.reported, self.uncertain = collections.Counter(), collections.Counter()  # of what all share
        self.call("reference", str(tone), "--coupler", "shared", "--level", "114.02dB", "--keep")
        self.reported["references"] = 1

    def call(self, *words, **variables):
        environment = {**os.environ, "COUPLET_LIBRARY": str(self.library), "LC_ALL": "C.UTF-8", **variables}
        return subprocess.run([self.command, *words], env=environment, capture_output=True, timeout=60, check=False)

    def count(self, what, many=1):
        with self.mutex:
            self.counts[what] += many

    def listing(self):
        """By kind and name; what cannot be read is counted once, when it is first seen."""
        listed = json.loads(self.call("library", "list", "--json").stdout)
        bad = [note for note in listed["notes"] if note.startswith("not read")]
        if bad:
            self.count("unreadable", len(bad))
            print("unreadable:", bad, flush=True)
        return {(kind, item["name"]): item for kind in ("couplers", "earphones") for item in listed[kind]}

    def close(self):
        """What all share, at the end; and one more save, which sweeps what the killed left."""
        self.call("library", "add", str(self.earphone("last", 90.0)))
        left = [path.name for path in self.library.iterdir() if path.name.endswith(".tmp")]
        self.count("left behind", len(left))
        found = {"references": len(self.listing()[("couplers", "shared")]["references"]), "readings": 0}
        for line in (self.library / "readings.jsonl").read_text().splitlines() if self.reported["readings"] else []:
            try:
                found["readings"] += json.loads(line)["kind"] == "reading"
            except json.JSONDecodeError:  # torn by a kill, and never reported
                pass
        for what, many in found.items():
            if not self.reported[what] <= many <= self.reported[what] + self.uncertain[what]:
                self.count("reported but absent", max(1, self.reported[what] - many))
                print(f"{what}: {many}, reported {self.reported[what]}, uncertain {self.uncertain[what]}", flush=True)

    def earphone(self, name, level_dB):
        path = self.folder / f"{threading.get_ident()}.json"
        path.write_text(json.dumps({"kind": "earphone", "version": 1, "name": name,
                                    "rating": {"form": "per volt", "level_dB": level_dB}}))
        return path


class Program(threading.Thread):
    """Calls the command, one fault a call at most, and looks at its own items after each."""

    def __init__(self, world, number, seed, end):
        super().__init__()
        self.world, self.mark, self.random, self.end = world, f"program {number} ", random.Random(seed), end
        self.items, self.removed, self.made = {}, {}, 0
        self.failure = None

    def run(self):
        try:
            while time.monotonic() < self.end:
                self.step()
        except Exception as surprise:  # pylint: disable=broad-except
            self.failure = repr(surprise)

    def name(self):
        self.made += 1
        return f"{self.mark}{self.random.choice(['item', 'Café', '耳', 'a/b'])} {self.made}"

    def choice(self):
        """Words of a call, the items afterwards, and what it adds to what all share."""
        pick, key = self.random.random(), self.random.choice(sorted(self.items)) if self.items else None
        after, level_dB = dict(self.items), self.random.randrange(800, 1200) / 10
        if pick < 0.12:
            return ["read", str(self.world.tone), "--coupler", "shared", "--keep"], after, "readings"
        if pick < 0.24:
            return ["reference", str(self.world.tone), "--coupler", "shared", "--level", f"{level_dB}dB", "--keep",
                    "--although-moved"], after, "references"
        if pick < 0.36 and self.removed:
            back = self.random.choice(sorted(self.removed))
            after[back] = self.removed[back]
            return ["library", "putback", back[1]], after, None
        if key is None or (pick < 0.6 and len(self.items) < MOST_ITEMS):
            name = self.name()
            after[("earphones", name)] = level_dB
            return ["library", "add", str(self.world.earphone(name, level_dB))], after, None
        if pick < 0.72 and len(self.items) < MOST_ITEMS and not key[1].endswith("copy") and \
                ("earphones", f"{key[1]} copy") not in self.items:
            after[("earphones", f"{key[1]} copy")] = self.items[key]
            return ["library", "copy", key[1]], after, None
        if pick < 0.86:
            name = self.name()
            after[("earphones", name)] = after.pop(key)
            return ["library", "rename", key[1], name], after, None
        after.pop(key)
        return ["library", "remove", key[1]], after, None

    def fault(self):
        """Variables for the shim and the fault's kind."""
        told = self.world.folder / f"told {self.mark}"
        told.unlink(missing_ok=True)
        pick = self.random.random()
        if pick < 0.2:
            return {}, None, told
        variables = {"LD_PRELOAD": self.world.shim, "COUPLET_BUDGET_TOLD": str(told)}
        if pick < 0.3:
            back_s = self.random.choice([3600, 86400, 30 * 86400])
            return {**variables, "COUPLET_BUDGET_CLOCK_S": str(-back_s)}, "clock set back", told
        what = "kill" if pick < 0.65 else str(self.random.choice(ERRORS))
        at = int(math.exp(self.random.uniform(math.log(4), math.log(400))))
        return {**variables, "COUPLET_BUDGET_AT": str(at), "COUPLET_BUDGET_WHAT": what}, \
            "killed" if what == "kill" else "disk full or failing", told

    def step(self):
        world = self.world
        words, after, shared = self.choice()
        variables, kind, told = self.fault()
        if kind is None and isinstance(world, Lonely) and self.random.random() < 0.2:
            return world.without_folder(words, set(after) - set(self.items))
        ended = world.call(*words, **variables)
        world.count("calls")
        if kind == "clock set back" or told.exists():
            world.count(kind)
            world.count("faults")
        if ended.returncode not in (0, 1, 2, -signal.SIGKILL):
            world.count("ended badly")
        done = ended.returncode in (0, 1) and (shared != "references" or b"not kept" not in ended.stdout)
        if shared:
            with world.mutex:
                (world.reported if done else world.uncertain)[shared] += 1
        return self.compare(words, after, done)

    def compare(self, words, after, done):
        world, listing = self.world, self.world.listing()
        now = {key: item["rating"]["level_dB"] for key, item in listing.items() if key[1].startswith(self.mark)}
        kept = {key for key in after if self.items.get(key) == after[key]}
        renamed = words[1] == "rename"
        absent = sum(now.get(key) != level_dB for key, level_dB in after.items() if key not in kept) if done else 0
        lost = sum(now.get(key) != self.items[key] for key in kept)
        wrong = sum(key not in after and key not in self.items for key in now)
        if renamed and not done and len(now) != len(self.items):
            lost += 1  # under exactly one of its names
        stays = sum(key not in after for key in now) if done else 0
        if absent + lost + wrong + stays:
            print(f"{words}: done {done}, before {self.items}, wanted {after}, now {now}", flush=True)
        world.count("reported but absent", absent + stays)
        world.count("lost", lost + wrong)
        if words[1] == "remove":
            self.removed.update({key: level for key, level in self.items.items() if key not in now})
        self.removed = {key: level for key, level in self.removed.items() if key not in now}
        self.items = now


class Lonely(World):
    """Of one program: only here the folder may go without another's leave."""

    def without_folder(self, words, wanted):
        """A call while the folder is gone ends with a status; what it reports as done is in the folder that it made."""
        away = self.folder / "away"
        self.library.rename(away)
        ended = self.call(*words)
        if ended.returncode == 0 and words[1] == "add":
            self.count("reported but absent", len(wanted - set(self.listing())))
        if self.library.exists():
            shutil.rmtree(self.library)
        away.rename(self.library)
        for what in ("calls", "faults", "folder gone"):
            self.count(what)
        self.count("ended badly", ended.returncode not in (0, 1, 2))


def run(command, shim, seconds, seed):
    table, end, number = {}, time.monotonic() + seconds, 0
    while time.monotonic() < end:
        programs = (1, 2, 4)[number % 3]
        counts = table.setdefault(programs, collections.Counter())
        with tempfile.TemporaryDirectory() as scratch:
            folder = Path(scratch)
            write_tone(folder / "tone.wav")
            world = (Lonely if programs == 1 else World)(command, shim, folder / "tone.wav", folder, counts)
            stop = min(end, time.monotonic() + max(seconds / 9, 1.0))
            workers = [Program(world, i, f"{seed} {number} {i}", stop) for i in range(programs)]
            for worker in workers:
                worker.start()
            for worker in workers:
                worker.join()
            failures = [worker.failure for worker in workers if worker.failure]
            if failures:
                print(failures, flush=True)
                counts["ended badly"] += len(failures)
            world.close()
        number += 1
    return table


def main():
    command, shim, seconds = str(Path(sys.argv[1]).resolve()), str(Path(sys.argv[2]).resolve()), float(sys.argv[3])
    seed = sys.argv[4] if len(sys.argv) > 4 else str(time.time_ns())
    print(f"seed {seed}")
    table = run(command, shim, seconds, seed)
    columns = ["calls", "faults", "killed", "disk full or failing", "clock set back", "folder gone", *BAD]
    print("| programs at once | " + " | ".join(columns) + " |")
    print("|---|" + "---|" * len(columns))
    total = sum(table.values(), collections.Counter())
    for name, counts in [*((str(k), v) for k, v in sorted(table.items())), ("in all", total)]:
        print(f"| {name} | " + " | ".join(str(counts[column]) for column in columns) + " |")
    bad = sum(total[column] for column in BAD)
    if bad == 0 and total["faults"]:
        print(f"no loss in {total['faults']} faults: below {100 * 3 / total['faults']:.2g} % of them, with 95 % confidence")
    return 1 if bad or not total["faults"] else 0


if __name__ == "__main__":
    sys.exit(main())
