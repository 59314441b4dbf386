# SPDX-License-Identifier: GPL-3.0-or-later
"""Are all states that Ardour saved of the plugin the same, and not those of a new one? ardour_states.py FIRST ALL SESSION"""

import json
import re
import sys
from pathlib import Path

STATE = re.compile(r'StateString>?\s+"+([^"]+)"')


def plain(text):
    """The bytes behind JUCE's own base 64: their count, a dot, six bits a character, least significant first."""
    count, digits = text.split(".", 1)
    alphabet = ".ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+"
    bits = sum(alphabet.index(c) << (6 * i) for i, c in enumerate(digits.strip()))
    return bits.to_bytes(int(count) + 8, "little")[:int(count)]


def states(folder):
    found = []
    for file in sorted(Path(folder).rglob("*.ttl")):
        if match := STATE.search(file.read_text(encoding="utf-8")):
            found.append(plain(match[1]))
    return found


# Ardour compares what it is about to save with what it has and writes a new state only when they differ: one state in
# all, which the second session names too, is the best result.
first, everything = states(sys.argv[1]), states(sys.argv[2])
if len(first) != 1 or not everything:
    sys.exit(f"FAILED  {len(first)} states were found first and {len(everything)} in all, not one and at least one")
if any(state != first[0] for state in everything):
    sys.exit("FAILED  the states differ")
if 'state-dir="state' not in Path(sys.argv[3]).read_text(encoding="utf-8"):
    sys.exit("FAILED  the session that was saved again holds no state of the plugin")
values = json.loads(first[0])["parameters"]
wanted = {"coupler_slot": 2, "drive_voltage": 123.2, "side": 1}
if any(values[name] != value for name, value in wanted.items()):
    sys.exit(f"FAILED  the state is not what was set: {values}")
print("ok      the state is the same after reopening in a new process, and holds what was set")
