# SPDX-License-Identifier: GPL-3.0-or-later
"""The top level holds what belongs there and nothing else."""

import tree

ALLOWED = {
    "CMakeLists.txt", "README.md", "DEVELOPERS.md", "LICENSE",
    "Source", "Tests", "Presets", "docs",
}


def faults(root):
    return [
        f"{path.name}: does not belong at the top level"
        for path in sorted(root.iterdir())
        if path.name not in ALLOWED and not path.name.startswith(".") and not (path.is_dir() and tree.built(path.name))
    ]


if __name__ == "__main__":
    tree.finish(faults(tree.ROOT))
