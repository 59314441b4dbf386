# SPDX-License-Identifier: GPL-3.0-or-later
"""Builds and tries one mutant after another, beside a build that is there already and is not touched: the changed
source is compiled in a temporary folder, and its object stands in front of the rooms' libraries, which then leave theirs
out."""

import json
import os
import re
import resource
import shlex
import shutil
import signal
import subprocess
import time
from pathlib import Path

# Where the tests of a room and of those above it stand. Most mutants of a room fall to its own tests.
PROGRAMS = {"couplet_metrology_tests": ("Metrology",), "couplet_bench_tests": ("Bench", "Command")}
# Files of tests that take long: run last, and only for the sources that they are about.
SLOW = {
    "TestFitCoverage": r"Fit|Erfc|WhatIf",
    "TestFitEdges": r"Fit|Erfc|WhatIf|Repeats",
    "TestOffsetCoverage": r"Offset|Reference|Seatings|Certified|Expanded|Linearity|Student|Repeats|Limits",
    "TestMusic": r"LiveTone|Stretch|Breaks|ToneSummary",
}
LARGEST_MEMORY = 4 << 30  # bytes
# A mutant that takes so many times as long as the source, and some seconds more, is taken for endless: in the
# processor's time, and in the clock's, which others use up as well, only much later.
SLOWEST, GRACE_S = 5.0, 10
SLOWEST_BY_CLOCK, GRACE_BY_CLOCK_S = 20.0, 600.0
ENDLESS = "it does not come to an end"
TESTS = Path(__file__).resolve().parents[1]


def is_slow(test, source):
    return test in SLOW and (not source or re.search(SLOW[test], source) is not None)


def limits(processor_s=600):
    resource.setrlimit(resource.RLIMIT_AS, (LARGEST_MEMORY, LARGEST_MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (processor_s, processor_s + 5))


def used_s():
    usage = resource.getrusage(resource.RUSAGE_CHILDREN)
    return usage.ru_utime + usage.ru_stime


class Workshop:
    def __init__(self, build, scratch):
        self.build = Path(build).resolve()
        self.scratch = Path(scratch).resolve()
        self.compiling = self.commands_of_sources()
        self.linking = {name: self.command_of_link(name) for name in PROGRAMS}
        self.usual_s = {}

    def commands_of_sources(self):
        told = self.build / "compile_commands.json"
        if not told.is_file():
            raise SystemExit(f"{self.build} holds no build; configure one there, and build {' and '.join(PROGRAMS)}")
        commands = json.loads(told.read_text(encoding="utf-8"))
        return {os.path.realpath(each["file"]): each for each in commands}

    def command_of_link(self, name):
        told = subprocess.run(["ninja", "-t", "commands", name], cwd=self.build, check=True, capture_output=True)
        line = told.stdout.decode("utf-8").strip().splitlines()[-1]
        words = shlex.split(line.replace(": && ", "", 1).removesuffix(" && :"))
        if words[words.index("-o") + 1] != f"Tests/{name}":
            raise SystemExit(f"ninja's last command for {name} does not link it: {line[:200]}")
        for word in words[1:]:
            self.copied(word)
        return words

    def copied(self, word):
        """An object or a library of the build, as it is now: the build may go on meanwhile."""
        there, here = self.build / word, self.scratch / word
        if not word.startswith(("/", "-")) and there.is_file() and not here.exists():
            here.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(there, here)

    def compiled(self, source, text):
        """The object of a source that reads so; None where it does not compile."""
        command = self.compiling.get(os.path.realpath(source))
        if command is None:
            raise SystemExit(f"{source} is not built in {self.build}")
        changed, target = self.scratch / source.name, self.scratch / "mutant.o"
        changed.write_text(text, encoding="utf-8")
        words = shlex.split(command["command"])
        words[words.index("-o") + 1] = str(target)
        words[-1] = str(changed)
        # A warning is no reason: a mutant may well leave something unused.
        words += ["-w", "-O1"]
        done = subprocess.run(words, cwd=command["directory"], capture_output=True, preexec_fn=limits, check=False)
        return target if done.returncode == 0 else None

    def linked(self, name, target):
        words = list(self.linking[name])
        place = words.index("-o")
        program = self.scratch / name
        words[place + 1] = str(program)
        if target is not None:
            words.insert(place + 2, str(target))
        done = subprocess.run(words, cwd=self.scratch, capture_output=True, text=True, preexec_fn=limits, check=False)
        if done.returncode != 0:
            raise SystemExit(f"{name} does not link:\n{done.stderr[-2000:]}")
        return program

    def tried(self, program, slow, source):
        """None when all tests pass, else what the program says of the first that does not."""
        files = [path.stem for room in PROGRAMS[program.name] for path in sorted((TESTS / room).glob("Test*.cpp"))]
        files = [name for name in files if is_slow(name, source) == slow and (slow or name not in SLOW)]
        if not files:
            return None
        processor_s, clock_s = self.usual_s.get((program.name, slow), (100.0, 600.0))
        longest_s = int(SLOWEST * processor_s) + GRACE_S
        words = [program, "--abort", "-d", "no", "-#", ",".join(f"[#{name}]~[.]" for name in files)]
        try:
            done = subprocess.run(words, cwd=self.scratch, capture_output=True, preexec_fn=lambda: limits(longest_s),
                                  timeout=SLOWEST_BY_CLOCK * clock_s + GRACE_BY_CLOCK_S, check=False)
        except subprocess.TimeoutExpired:
            return ENDLESS
        if done.returncode == -signal.SIGXCPU:
            return ENDLESS
        if done.returncode == 0:
            return None
        return first_failure(done.stdout.decode("utf-8", "replace")) or f"it ends with status {done.returncode}"

    def prove(self, slow):
        """Without a mutant everything passes; how long that takes is noted. Slow tests only once they are needed."""
        for name in PROGRAMS:
            if (name, slow) in self.usual_s:
                return
            program = self.linked(name, None)
            started, used_before_s = time.monotonic(), used_s()
            if said := self.tried(program, slow, ""):
                raise SystemExit(f"{name} fails without any mutant: {said}")
            self.usual_s[name, slow] = (used_s() - used_before_s, time.monotonic() - started)

    def programs_for(self, source):
        return list(PROGRAMS) if "Metrology" in source.parts else list(PROGRAMS)[1:]

    def fate(self, source, text):
        """('not compiled', ''), ('killed', by which test) or ('survived', '')."""
        target = self.compiled(source, text)
        if target is None:
            return "not compiled", ""
        for slow in (False, True):
            self.prove(slow)
            for name in self.programs_for(source):
                if said := self.tried(self.linked(name, target), slow, source.stem):
                    return "killed", said
        return "survived", ""


def first_failure(output):
    """The test case that a program of Catch2 stopped at."""
    lines = output.splitlines()
    for number, line in enumerate(lines):
        if line.startswith("-----") and number + 2 < len(lines) and not lines[number + 1].startswith("-"):
            return lines[number + 1].strip()
    return ""
