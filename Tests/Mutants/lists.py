# SPDX-License-Identifier: GPL-3.0-or-later
"""The two lists beside this file: named mutants, and mutants that change nothing.

Both find their places by the text that stands there, blanks and line ends not counted, and not by line numbers."""

import re

import rules


def blocks(path):
    """Each '== name' with its fields; a field goes on where lines are indented."""
    found, key = [], None
    for line in path.read_text(encoding="utf-8").splitlines():
        if line.startswith("== "):
            found.append({"name": line[3:].strip()})
            key = None
        elif line.startswith("  ") and key:
            found[-1][key] += "\n" + line.strip()
        elif ":" in line and not line.startswith("#") and found:
            key, _, value = line.partition(":")
            found[-1][key] = value.strip()
    return found


def pattern(text):
    """The text with any blanks between its words and signs."""
    pieces = re.findall(r"\w+|[^\w\s]", text)
    return re.compile(r"\s*".join(re.escape(piece) for piece in pieces))


def named(path, root):
    """The named mutants, and a sentence for each whose place is not found, or not once."""
    mutants, lost = [], []
    for block in blocks(path):
        source = (root / block["file"]).read_text(encoding="utf-8")
        found = [(list(pattern(block[word + "find"]).finditer(source)), block[word + "write"])
                 for word in ("", "or ") if word + "find" in block]
        once = [(places[0], text) for places, text in found if len(places) == 1]
        if not once:
            lost.append(f"{block['name']}: its text does not stand once in {block['file']}; give one that does")
            continue
        place, text = once[0]
        mutants.append(rules.Mutant(block["file"], block["name"], place.start(), place.end(), text))
    return mutants, lost


def equivalents(path):
    """(file, rule, pattern of the text that the mutant stands in) of each mutant that changes nothing."""
    allowed = []
    for block in blocks(path):
        if not block.get("why"):
            raise SystemExit(f"{path.name}: '{block['name']}' has no reason")
        allowed.append((block["file"], block["rule"], pattern(block["within"])))
    return allowed


def is_among(allowed, mutant, text):
    return any(
        mutant.file == file and mutant.rule == rule and place.start() <= mutant.start and mutant.end <= place.end()
        for file, rule, where in allowed
        for place in where.finditer(text)
    )
