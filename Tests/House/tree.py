# SPDX-License-Identifier: GPL-3.0-or-later
"""What all house checks share: which files are ours, and how faults are told.

The tree is walked, not asked of git: an unpacked archive is checked just the same."""

import os
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def built(name):
    """True for folders that hold nothing of ours: builds, git's and caches."""
    return name.startswith("build") or name in (".git", ".cache", "__pycache__")


def files(root, *suffixes, below=""):
    """Our files below a folder of the tree, sorted; all of them without suffixes."""
    found = []
    for folder, folders, names in os.walk(Path(root) / below):
        folders[:] = sorted(name for name in folders if not built(name))
        found += [Path(folder) / name for name in sorted(names) if not suffixes or name.endswith(suffixes)]
    return found


def lines(path):
    """The lines of a text file; none of a file that is not text."""
    try:
        return path.read_text(encoding="utf-8").splitlines()
    except UnicodeDecodeError:
        return []


def finish(faults):
    """Prints one fault a line; the exit status says whether there were any."""
    for fault in faults:
        print(fault)
    sys.exit(1 if faults else 0)
