# SPDX-License-Identifier: GPL-3.0-or-later
"""Which sources can be compiled as one: their headers, which take most of the time, are then read once a group.

Run with sources, prints for each the number of its group and a space before it. Sources stay apart that are of different
folders, or give one name two meanings; alone what defines a macro or the memory of all, or has a constant of its own
that a header has too."""
import pathlib
import re
import sys

LARGEST = 10
ROOT = pathlib.Path(__file__).resolve().parents[2]


def meanings(source):
    """What the source alone means by a name: what its unnamed namespaces hold (its path: there it is another thing) and
    its aliases (their text). Some more names come along: of every declaration, what stands before a bracket, a brace, an
    equals sign or a semicolon, outside of bodies."""
    text = source.read_text(encoding="utf-8")
    found = {}
    for body in re.findall(r"\nnamespace \{\n(.*?)\n\} // namespace\n", text, re.S):
        body = re.sub(r"//[^\n]*", "", body)
        outside, depth = [], 0
        for letter in body:
            depth -= letter in "})"
            if depth == 0:
                outside.append(letter)
            depth += letter in "{("
        for name in re.findall(r"(?<![:.\w])([a-zA-Z_]\w*)\s*(?:\[\w*\]\s*)?[({=;]", "".join(outside)):
            found[name] = str(source)
    for name, meaning in re.findall(r"^using (\w+) = ([^;]+);", text, re.M):
        found[name] = meaning
    return found


def constants_of_headers():
    found = set()
    for header in ROOT.glob("Source/*/*.h"):
        for line in re.findall(r"^inline constexpr ([^;]+);", header.read_text(encoding="utf-8"), re.M):
            found |= set(re.findall(r"(\w+) = ", line)) | set(re.findall(r"(\w+)\{", line))
    return found


def groups_of(sources, kind=lambda source: source.parent, largest=LARGEST):
    """The sources in groups, the largest first; only those of one kind come together."""
    groups = []
    constants = constants_of_headers()
    for source in sources:
        own = meanings(source)
        text = source.read_text(encoding="utf-8")
        if re.search(r"^#\s*define|\boperator new\b", text, re.M) or constants & own.keys():
            groups.append({"kind": None, "sources": [source], "meanings": {}})
            continue
        for group in groups:
            known = group["meanings"]
            if (group["kind"] == kind(source) and len(group["sources"]) < largest
                    and all(known.get(name, meaning) == meaning for name, meaning in own.items())):
                break
        else:
            group = {"kind": kind(source), "sources": [], "meanings": {}}
            groups.append(group)
        group["sources"].append(source)
        group["meanings"].update(own)
    return sorted((group["sources"] for group in groups), key=len, reverse=True)


if __name__ == "__main__":
    for number, group in enumerate(groups_of([pathlib.Path(name) for name in sys.argv[1:]])):
        for source in group:
            print(number, source)
