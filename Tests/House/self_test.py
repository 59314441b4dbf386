# SPDX-License-Identifier: GPL-3.0-or-later
"""A check that cannot fail is none: made-up trees with known faults, each of which its check must find, and only it."""

import tempfile
from pathlib import Path

import arrows
import cases
import headers
import layout
import tree
import words

SPDX = "// SPDX-License-Identifier: GPL-3.0-or-later\n"
THREAD = SPDX + "// Thread: any\n"

GOOD = {
    "CMakeLists.txt": "",
    ".gitignore": "",
    "build-x/Wrong.cpp": '#include "Screens/Page.h"\n',
    "Source/Quantities/Number.h": THREAD + "#include <vector>\n#include <fmt/format.h>\n",
    "Source/Signal/Tone.h": THREAD + '#include "Quantities/Number.h"\nclass Number;\nstruct Tone\n{\n    struct Page\n',
    "Source/Signal/Tone.cpp": SPDX + '#include "Signal/Tone.h"\n#include "Tone.h"\n#include <sys/types.h>\n',
    "Source/Library/Folder.cpp": SPDX + '#include "Metrology/Offset.h"\n#include <juce_core/juce_core.h>\n',
    "Source/Screens/Page.cpp": SPDX + '#include "Plugin/Processor.h"\n#include "Report/Page.h"\n',
    "Tests/Signal/TestTone.cpp": SPDX + "// a URL: https://example.org/home/page, a default: ~/.local/share\n",
}

# check, file, its text, a part of the fault
BAD = [
    (arrows, "Source/Quantities/Bad.h", THREAD + '#include "Metrology/Offset.h"\n', "may not include Metrology"),
    (arrows, "Source/Signal/Bad.h", THREAD + "#  include <Bench/Bench.h>\n", "may not include Bench"),
    (arrows, "Source/Metrology/Bad.h", THREAD + '#include "Signal/Tone.h"\n', "may not include Signal"),
    (arrows, "Source/Simulation/Bad.h", THREAD + '#include "Metrology/Offset.h"\n', "may not include Metrology"),
    (arrows, "Source/Library/Bad.h", THREAD + '#include "Bench/Bench.h"\n', "may not include Bench"),
    (arrows, "Source/Bench/Bad.h", THREAD + '#include "Command/Main.h"\n', "may not include Command"),
    (arrows, "Source/Plugin/Bad.h", THREAD + '#include "Screens/Page.h"\n', "may not include Screens"),
    (arrows, "Source/Report/Bad.h", THREAD + '#include "Bench/Bench.h"\n', "may not include Bench"),
    (arrows, "Source/Command/Bad.h", THREAD + '#include "Plugin/Processor.h"\n', "may not include Plugin"),
    (arrows, "Source/Metrology/Bad.cpp", SPDX + "#include <juce_core/juce_core.h>\n", "framework-free"),
    (arrows, "Source/Quantities/Bad.cpp", SPDX + '#include "JuceHeader.h"\n', "framework-free"),
    (arrows, "Source/Signal/Bad.cpp", SPDX + '#include "../Bench/Bench.h"\n', "a room and a file"),
    (arrows, "Source/Signal/Bad.cpp", SPDX + '#include "Util/Strings.h"\n', "a room and a file"),
    (arrows, "Source/Util/Strings.cpp", SPDX, "is no room"),
    (arrows, "Source/main.cpp", SPDX, "is no room"),
    (layout, "Scratch/notes.md", "", "does not belong"),
    (layout, "NOTES.md", "", "does not belong"),
    (words, "docs/guide.md", "see /home/someone/take.wav\n", "a path of one computer"),
    (words, "Source/Signal/Bad.cpp", SPDX + "// TO" + "DO later\n", "unfinished work"),
    (headers, "Source/Signal/Bad.h", "// Thread: any\n", "is missing"),
    (headers, "Tests/run.sh", "#!/bin/sh\n", "is missing"),
    (headers, "Source/Signal/Bad.h", SPDX, "says its thread"),
    (headers, "Source/Simulation/Bad.h", THREAD + "class Tone : public Page\n{\n", "defines a 'Tone' too"),
    (headers, "Tests/Signal/Long.cpp", SPDX + "\n" * 300, "301 lines"),
]

# What ctest -V writes, and the cases in it.
LOG = '''
1: Test command: core
1: All tests passed (90 assertions in 23 test cases)
1/6 Test #1: core .............................   Passed    0.63 sec
2: test cases:  5 |  4 passed | 1 failed
2/6 Test #2: bench ............................***Failed    1.20 sec
3/6 Test #3: script ...........................   Passed    0.10 sec
4: All tests passed (1 assertion in 1 test case)
4/6 Test #4: crash_at_exit ....................***Exception: SegFault  0.10 sec
5/6 Test #5: absent ...........................***Not Run   0.00 sec
6: test cases: 3 | 2 passed | 1 failed as expected
6/6 Test #6: expected .........................   Passed    0.00 sec
'''
SHOWN = ["--- bench: ***Failed", "--- crash_at_exit: ***Exception: SegFault", "--- absent: ***Not Run"]
COUNTED = (23 + 4 + 1 + 1 + 0 + 3, 0 + 1 + 0 + 1 + 1 + 0)


def faults_in(check, content):
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        for name, text in content.items():
            path = root / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        return check.faults(root)


def main():
    wrong = []
    for check in (arrows, headers, layout, words):
        for fault in faults_in(check, GOOD):
            wrong.append(f"{check.__name__} finds a fault where there is none: {fault}")
    for check, name, text, part in BAD:
        found = faults_in(check, GOOD | {name: text})
        if len(found) != 1 or part not in found[0]:
            wrong.append(f"{check.__name__} of {name}: expected one fault '{part}', found {found}")
    *counted, shown = cases.count(LOG.splitlines())
    if tuple(counted) != COUNTED or [line for line in shown if line.startswith("---")] != SHOWN:
        wrong.append(f"cases counts {counted}, not {COUNTED}, and shows {shown}")
    tree.finish(wrong)


if __name__ == "__main__":
    main()
