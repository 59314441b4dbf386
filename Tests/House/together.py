# SPDX-License-Identifier: GPL-3.0-or-later
"""Which sources can be compiled as one: their headers, which take most of the time, are then read once a group.

Run with sources, prints for each the number of its group and a space before it. Sources whose unnamed namespaces hold the
same name stay apart, and so do those of different folders."""
import pathlib
import re
import sys

LARGEST = 10


def unnamed(source):
    """Names that the source's unnamed namespaces hold, and some more: of every declaration, what stands before a bracket,
    a brace, an equals sign or a semicolon, outside of bodies."""
    names = set()
    for body in re.findall(r"\nnamespace \{\n(.*?)\n\} // namespace\n", source.read_text(encoding="utf-8"), re.S):
        body = re.sub(r"//[^\n]*", "", body)
        outside, depth = [], 0
        for letter in body:
            depth -= letter in "})"
            if depth == 0:
                outside.append(letter)
            depth += letter in "{("
        names |= set(re.findall(r"(?<![:.\w])([a-zA-Z_]\w*)\s*(?:\[\w*\]\s*)?[({=;]", "".join(outside)))
    return names


def groups_of(sources, kind=lambda source: source.parent, largest=LARGEST):
    """The sources in groups, the largest first; only those of one kind come together."""
    groups = []
    for source in sources:
        names = unnamed(source)
        for group in groups:
            if group["kind"] == kind(source) and len(group["sources"]) < largest and not names & group["names"]:
                break
        else:
            group = {"kind": kind(source), "sources": [], "names": set()}
            groups.append(group)
        group["sources"].append(source)
        group["names"] |= names
    return sorted((group["sources"] for group in groups), key=len, reverse=True)


if __name__ == "__main__":
    for number, group in enumerate(groups_of([pathlib.Path(name) for name in sys.argv[1:]])):
        for source in group:
            print(number, source)
