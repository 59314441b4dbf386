# SPDX-License-Identifier: GPL-3.0-or-later
"""clang-tidy over every source of ours that a build compiles: tidy.py [BUILD] (default: build).

Most of its time goes into the headers of others that each source includes, so some ten sources of a room are given to
it as one (together.py). Should a group not compile all the same, its sources are asked one by one. What was found clean
is not asked again until it, a header of ours, the build or the rules change."""
import concurrent.futures
import hashlib
import json
import os
import pathlib
import shlex
import subprocess
import sys

import together

ROOT = pathlib.Path(__file__).resolve().parents[2]
TOGETHER = 2


def flags_of(entry):
    """The compiler's flags, without the files and without headers that another compiler has read beforehand."""
    words = shlex.split(entry["command"])
    words = words[max((i for i, word in enumerate(words) if os.path.basename(word) == "ccache"), default=-1) + 1 :]
    kept, skip = [], False
    for i, word in enumerate(words[1:], 1):
        if skip:
            skip = False
        elif word in ("-o", "-c", "-MF", "-MT"):
            skip = word != "-c"
        elif word == "-include" and words[i + 1].endswith("cmake_pch.hxx"):
            skip = True
        elif word not in ("-MD", "-Winvalid-pch") and not word.endswith(".cpp"):
            kept.append(word)
    return kept


class Tidy:
    def __init__(self, build):
        self.folder = build / "tidy"
        self.folder.mkdir(exist_ok=True)
        commands = json.loads((build / "compile_commands.json").read_text(encoding="utf-8"))
        self.flags = {pathlib.Path(entry["file"]): flags_of(entry) for entry in commands}
        version = subprocess.run(["clang-tidy", "--version"], capture_output=True, check=True).stdout
        headers = b"".join(path.read_bytes() for path in sorted(ROOT.glob("Source/*/*.h")))
        self.surroundings = hashlib.sha256((ROOT / ".clang-tidy").read_bytes() + version + headers).hexdigest()

    def ask(self, sources):
        """(clean, compiled, what was said)"""
        flags = self.flags[sources[0]]
        known = [self.surroundings, *flags, *(f"{path} {path.read_text(encoding='utf-8')}" for path in sources)]
        key = hashlib.sha256("\n".join(known).encode()).hexdigest()
        mark = self.folder / key
        if mark.exists():
            return True, True, ""
        asked = sources[0]
        if len(sources) > 1:
            asked = self.folder / f"{key}.cpp"
            asked.write_text("".join(f'#include "{path}" // NOLINT(bugprone-suspicious-include)\n' for path in sources))
        run = subprocess.run(
            ["clang-tidy", "--quiet", f"--config-file={ROOT / '.clang-tidy'}", str(asked), "--", *flags, "-Wno-unknown-warning-option"],
            stdin=subprocess.DEVNULL, capture_output=True, text=True, cwd=self.folder, check=False)
        if asked is not sources[0]:
            asked.unlink()
        if run.returncode == 0:
            mark.touch()
        return run.returncode == 0, "[clang-diagnostic-error" not in run.stdout, run.stdout

    def check(self, sources):
        clean, compiled, said = self.ask(sources)
        if not clean and not compiled and len(sources) > 1:
            return all([self.check([source]) for source in sources])
        if not clean:
            print(said, flush=True)
        return clean


def main():
    build = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else "build").resolve()
    if not (build / "compile_commands.json").exists():
        sys.exit(f"{build / 'compile_commands.json'} is missing: configure first")
    tidy = Tidy(build)
    sources = sorted(ROOT.glob("Source/*/*.cpp"))
    strangers = [source for source in sources if source not in tidy.flags]
    for source in strangers:
        print(f"{source.relative_to(ROOT)}: no program compiles it")
    known = [source for source in sources if source in tidy.flags]
    groups = together.groups_of(known, lambda source: (source.parent, tuple(tidy.flags[source])))
    with concurrent.futures.ThreadPoolExecutor(TOGETHER) as pool:
        clean = list(pool.map(tidy.check, groups))
    sys.exit(0 if all(clean) and not strangers else 1)


if __name__ == "__main__":
    main()
