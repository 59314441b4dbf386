# SPDX-License-Identifier: GPL-3.0-or-later
"""Writes the table of faults and the wobble maps into docs/faulty-benches.md, between the marks of each.

Usage: publish.py COMMAND"""

import re
import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
PAGE = HERE.parents[1] / "docs" / "faulty-benches.md"


def printed(program, command):
    ended = subprocess.run([sys.executable, "-B", str(HERE / program), command], stdout=subprocess.PIPE, text=True,
                           check=False)
    return ended.returncode, ended.stdout.strip()


def main():
    text, status = PAGE.read_text(encoding="utf-8"), 0
    for mark in ("table", "wobble"):
        failed, output = printed(f"{mark}.py", sys.argv[1])
        status = status or failed
        text = re.sub(rf"(<!-- {mark} -->\n).*?(<!-- /{mark} -->)", lambda m, o=output: f"{m[1]}\n{o}\n\n{m[2]}", text,
                      flags=re.DOTALL)
    PAGE.write_text(text, encoding="utf-8")
    return status


if __name__ == "__main__":
    sys.exit(main())
