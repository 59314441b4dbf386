# SPDX-License-Identifier: GPL-3.0-or-later
"""No path of one person's computer, and no word that stands for unfinished work."""

import re

import tree

# Folders of one computer: /home/<name>/..., /Users/<name>/... and their like.
PATHS = re.compile(r"(?<![\w.}~$])/(?:home|root|Users|work|workspace|farm)/\w|[A-Z]:\\\\?Users\b")
# In pieces, so that this file does not find itself.
UNFINISHED = re.compile(r"\b(?:" + "|".join(("TO" + "DO", "FIX" + "ME", "X" + "XX", "lorem " + "ipsum")) + r")\b")


def faults(root):
    found = []
    for path in tree.files(root):
        place = path.relative_to(root)
        if place.name in ("LICENSE", "words.py", "self_test.py"):
            continue
        for number, line in enumerate(tree.lines(path), 1):
            for pattern, meaning in ((PATHS, "a path of one computer"), (UNFINISHED, "unfinished work")):
                if pattern.search(line):
                    found.append(f"{place}:{number}: {meaning}: {line.strip()[:100]}")
    return found


if __name__ == "__main__":
    tree.finish(faults(tree.ROOT))
