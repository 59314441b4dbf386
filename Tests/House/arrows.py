# SPDX-License-Identifier: GPL-3.0-or-later
"""Includes follow the arrows between the rooms, never upward; the framework stays out of the plain rooms.

Source: the section 'Rooms and arrows' of DEVELOPERS.md."""

import re

import tree

# Room: what it may include besides itself.
ALLOWED = {
    "Quantities": set(),
    "Signal": {"Quantities"},
    "Metrology": {"Quantities"},
    "Simulation": {"Quantities", "Signal"},
    "Library": {"Quantities", "Metrology"},
    "Bench": {"Quantities", "Signal", "Metrology", "Library", "Simulation"},
    "Report": {"Quantities", "Metrology", "Library"},
    "Command": {"Quantities", "Signal", "Metrology", "Library", "Bench", "Simulation", "Report"},
    "Plugin": {"Quantities", "Signal", "Metrology", "Library", "Bench", "Simulation"},
    "Screens": {"Quantities", "Signal", "Metrology", "Library", "Bench", "Report", "Plugin"},
}
FRAMEWORK_FREE = {"Quantities", "Signal", "Metrology", "Simulation"}

INCLUDE = re.compile(r'^\s*#\s*(?:include|import)\s*([<"])([^>"]+)[>"]')


def fault_of(room, folder, opening, target):
    """What is wrong with one include, or None."""
    first = target.split("/")[0]
    if "juce" in target.lower():
        return f"{room} is framework-free" if room in FRAMEWORK_FREE else None
    if first in ALLOWED and "/" in target:
        if first == room or first in ALLOWED[room]:
            return None
        return f"{room} may not include {first}"
    if opening == '"' and not ("/" not in target and (folder / target).is_file()):
        return "an include of ours is a room and a file: \"Room/File.h\""
    return None


def faults(root):
    source = root / "Source"
    found = []
    for path in tree.files(root, ".h", ".hpp", ".cpp", ".c", ".cc", ".mm", below="Source"):
        place = path.relative_to(root)
        room = path.relative_to(source).parts[0]
        if room not in ALLOWED:
            found.append(f"{place}: '{room}' is no room; the rooms are {', '.join(ALLOWED)}")
            continue
        for number, line in enumerate(tree.lines(path), 1):
            include = INCLUDE.match(line)
            fault = include and fault_of(room, path.parent, *include.groups())
            if fault:
                found.append(f"{place}:{number}: {line.strip()}: {fault}")
    return found


if __name__ == "__main__":
    tree.finish(faults(tree.ROOT))
