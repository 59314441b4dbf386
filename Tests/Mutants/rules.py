# SPDX-License-Identifier: GPL-3.0-or-later
"""What can go wrong in one place of a source: the rules by which mutants are made.

A mutant is one edit: the text from `start` to `end` of a source is replaced. Comments and texts in quotes are left
alone: whether a sentence is right, no arithmetic says."""

import re
from dataclasses import dataclass


@dataclass(frozen=True)
class Mutant:
    file: str  # below the root
    rule: str
    start: int
    end: int
    text: str  # what stands there instead

    def applied_to(self, source):
        return source[: self.start] + self.text + source[self.end :]

    def line(self, source):
        return source.count("\n", 0, self.start) + 1


TEXT_OR_COMMENT = re.compile(
    r'''//[^\n]*|/\*.*?\*/|R"\((?:.*?)\)"|"(?:\\.|[^"\\\n])*"|(?<!\w)'(?:\\.|[^'\\\n])+'|^\#[^\n]*''', re.S | re.M)


def masked(source):
    """The source with comments, texts in quotes and includes blanked, every other character in its place."""
    return TEXT_OR_COMMENT.sub(lambda found: re.sub(r"[^\n]", " ", found[0]), source)


# Written with blanks around, as the formatter leaves them: no template, no pointer and no sign of a number is met.
OPERATORS = {
    " < ": [" <= "],
    " <= ": [" < "],
    " > ": [" >= "],
    " >= ": [" > "],
    " == ": [" != "],
    " != ": [" == "],
    " + ": [" - "],
    " - ": [" + "],
    " * ": [" / "],
    " / ": [" * "],
    " += ": [" -= "],
    " -= ": [" += "],
    " && ": [" || "],
    " || ": [" && "],
}
NAMES = {
    "std::min": "std::max",
    "std::max": "std::min",
    "std::min_element": "std::max_element",
    "std::max_element": "std::min_element",
    "true": "false",
    "false": "true",
}
# The same whichever way round.
SYMMETRIC = {"min", "max", "hypot", "sameRatingFrequency", "CHECK"}


def operators(source):
    for found in re.finditer(r"(?<=\S) (?:[<>]=?|[=!]=|[-+*/]=?|&&|\|\|) ", source):
        before = source[: found.start()]
        if before.endswith("operator") or found[0] not in OPERATORS:
            continue
        for other in OPERATORS[found[0]]:
            yield f"{found[0].strip()} to {other.strip()}", found.start(), found.end(), other


def names(source):
    for found in re.finditer(r"(?<![\w:])(?:std::(?:min|max)(?:_element)?|true|false)(?!\w)", source):
        yield f"{found[0]} to {NAMES[found[0]]}", found.start(), found.end(), NAMES[found[0]]


def constants(source):
    for found in re.finditer(r"(?<![\w.])\d+\.\d+(?:[eE][-+]?\d+)?(?![\w.])", source):
        if float(found[0]) != 0.0:
            for factor in ("2.0", "0.5"):
                yield f"constant times {factor}", found.start(), found.end(), f"({factor} * {found[0]})"


def closing(source, opening):
    """The place of the bracket that closes the one at `opening`."""
    depth = 0
    for place in range(opening, len(source)):
        depth += source[place] in "([{"
        depth -= source[place] in ")]}"
        if depth == 0:
            return place
    return None


def conditions(source):
    for found in re.finditer(r"\b(?:if|while) \(", source):
        end = closing(source, found.end() - 1)
        inside = source[found.end() : end]
        start = found.end()
        if ";" in inside:
            start += inside.index(";") + 1
        elif re.search(r"\bauto\b", inside):
            continue
        start += len(source[start:end]) - len(source[start:end].lstrip())
        yield "condition negated", start, end, f"!({source[start:end]})"
    for found in re.finditer(r" \? ", source):
        start = condition_before(source, found.start())
        condition = source[start : found.start()].rstrip()
        yield "condition negated", start, start + len(condition), f"!({condition})"


def condition_before(source, end):
    """Where the condition of '... ? a : b' begins: behind the next bracket, comma, assignment or 'return'."""
    depth, place = 0, end
    while place > 0:
        place -= 1
        depth += source[place] in ")]}"
        depth -= source[place] in "([{"
        if depth < 0 or (depth == 0 and source[place] in ",;?:{}" and "::" not in source[place - 1 : place + 2]):
            break
        if depth == 0 and source.startswith("= ", place) and source[place - 1] not in "<>!=":
            break
        if depth == 0 and re.match(r"return\b", source[place:]) and not source[place - 1].isalnum():
            place += len("return")
            break
    return end - len(source[place + 1 : end].lstrip())


# No declaration: a name, what is called or reached of it, then a call or an assignment.
STATEMENT = re.compile(
    r"(?<=[;{})])\s*\n(?: *(?:else)\n)? +"
    r"((?:\+\+)?[a-zA-Z_][\w.:]*(?:->\w+|\[[^\]\n]*\]|\(\)\.\w+)*(?: [-+]?= |\())")
NO_STATEMENT = re.compile(r"(?:if|for|while|switch|return|case|default|static_assert)\b")


def statements(source):
    for found in re.finditer(STATEMENT, source):
        if NO_STATEMENT.match(found[1]):
            continue
        start, place = found.start(1), found.start(1)
        while place is not None and place < len(source) and source[place] != ";":
            place = closing(source, place) + 1 if source[place] in "([{" else place + 1
            if place < len(source) and source[place] in ")}":
                place = None
        if place is not None and place < len(source):
            isTerm = re.search(r"\.(?:push_back|emplace_back)\($|^add", found[1])
            yield "term left out" if isTerm else "statement left out", start, place, ""


def returns(source):
    for found in re.finditer(r"^ *(?:static )?void [\w:]+\([^{};]*\)(?: const)?\n *\{\n", source, re.M):
        yield "returned early", found.end(), found.end(), "    return;\n"
    for found in re.finditer(r"\n( +)(return std::nullopt|return \{\}|continue|break);", source):
        if found[2] != "break":
            yield "early way out left out", found.start(2), found.end() - 1, ""


def arguments(source):
    for found in re.finditer(r"(?<![\w:])(?:\w+::)?(\w+)\(([\w.>*-]+), ([\w.>*-]+)\)", source):
        if found[1] not in SYMMETRIC and found[2] != found[3]:
            yield "arguments swapped", found.start(2), found.end(3), f"{found[3]}, {found[2]}"


RULES = (operators, names, constants, conditions, statements, returns, arguments)


def mutants_of(file, text):
    """Every mutant of a source, in the order of its places."""
    source = masked(text)
    made = {}
    for rule in RULES:
        for name, start, end, instead in rule(source):
            instead = restored(instead, source[start:end], text[start:end])
            made.setdefault((start, end, instead), Mutant(file, name, start, end, instead))
    return [made[key] for key in sorted(made)]


def restored(instead, blanked, original):
    """What was blanked of a piece that stays, put back."""
    piece = blanked.strip()
    if piece and piece != original.strip() and piece in instead:
        return instead.replace(piece, original.strip())
    return instead
