# SPDX-License-Identifier: GPL-3.0-or-later
"""Each source names its licence; each header of Source/ says on which thread it may be used and defines types of
names that no other has, for two of one name in one program are undefined behaviour that no linker reports; no file is
long."""

import re

import tree

LICENCE = "SPDX-License-Identifier: GPL-3.0-or-later"
LONGEST = 300
TYPE = re.compile(r"^(?:struct|class|enum class|enum|union) (\w+)(?: final)?(?: :.*)?(?: \{.*)?$")


def licence_fault(path, text):
    """C++ begins with it; a script may have its interpreter's line first."""
    if path.suffix in (".h", ".cpp"):
        return text[:1] != ["// " + LICENCE]
    return "# " + LICENCE not in text[:2]


def faults(root):
    found = []
    defined = {}
    for path in tree.files(root, ".h", ".cpp", ".sh", ".py"):
        place = path.relative_to(root)
        text = tree.lines(path)
        if licence_fault(path, text):
            found.append(f"{place}:1: '{LICENCE}' is missing")
        if place.parts[0] == "Source" and path.suffix == ".h" and not any("Thread:" in line for line in text):
            found.append(f"{place}:1: a header says its thread: 'Thread: audio', 'any', ...")
        if place.parts[0] == "Source" and path.suffix == ".h":
            for number, line in enumerate(text, 1):
                name = TYPE.match(line)
                before = name and defined.setdefault(name[1], place)
                if before not in (None, place):
                    found.append(f"{place}:{number}: {before} defines a '{name[1]}' too; give one of them another name")
        if len(text) > LONGEST:
            found.append(f"{place}: {len(text)} lines, over {LONGEST}; what does it hide?")
    return found


if __name__ == "__main__":
    tree.finish(faults(tree.ROOT))
