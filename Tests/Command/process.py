# SPDX-License-Identifier: GPL-3.0-or-later
"""The command as a process: its start, its memory, and where its words go.

Usage: process.py COMMAND"""

import os
import pty
import resource
import struct
import subprocess
import sys
import tempfile
import time
from pathlib import Path

LONGEST_START_S = 0.05
MOST_MEMORY_MB = 64


def write_silence(path, seconds, rate):
    """Mono, 16 bits; the samples are a hole in the file."""
    length = 2 * seconds * rate
    head = b"RIFF" + struct.pack("<I", length + 36) + b"WAVEfmt " + struct.pack("<IHHIIHH", 16, 1, 1, rate, 2 * rate, 2, 16)
    with open(path, "wb") as file:
        file.write(head + b"data" + struct.pack("<I", length))
        file.truncate(44 + length)


def run(*call, **more):
    return subprocess.run(call, capture_output=True, timeout=120, check=False, **more)


def starts_fast(command, _):
    """The quickest of several, for others may be at work."""
    times = []
    for _ in range(10):
        begin = time.perf_counter()
        run(command, "--version")
        times.append(time.perf_counter() - begin)
    return min(times) < LONGEST_START_S, f"{1000 * min(times):.1f} ms"


def full_disk_is_told(command, _):
    with open("/dev/full", "wb") as full:
        ended = subprocess.run([command, "--help"], stdout=full, stderr=subprocess.PIPE, check=False)
    said = ended.stderr.decode()
    return ended.returncode == 2 and said.startswith("couplet: standard output") and said.count("\n") == 1, said


def closed_pipe_is_quiet(command, _):
    reading, writing = os.pipe()
    os.close(reading)
    ended = subprocess.run([command, "--help"], stdout=writing, stderr=subprocess.PIPE, check=False)
    os.close(writing)
    return ended.returncode == 0 and not ended.stderr, f"{ended.returncode} {ended.stderr!r}"


def on_terminal(command, take):
    """What a reader of the terminal gets on standard error."""
    ours, theirs = pty.openpty()
    ended = subprocess.Popen([command, "levels", str(take)], stdout=subprocess.DEVNULL, stderr=theirs)
    os.close(theirs)
    said = b""
    try:
        while part := os.read(ours, 4096):
            said += part
    except OSError:
        pass  # the terminal's end
    os.close(ours)
    return ended.wait(), said


def long_take_shows_progress(command, folder):
    take = folder / "long.wav"
    write_silence(take, 3600, 8000)
    _, said = on_terminal(command, take)
    erased = said.endswith(b"\r" + b" " * 20 + b"\r")
    return said.startswith(b"\rreading: ") and b"%" in said and b"\n" not in said and erased, repr(said)


def short_take_shows_none(command, folder):
    take = folder / "short.wav"
    write_silence(take, 299, 8000)
    _, said = on_terminal(command, take)
    return said == b"", repr(said)


def no_terminal_no_progress(command, folder):
    take = folder / "long.wav"
    write_silence(take, 301, 8000)
    ended = run(command, "levels", str(take))
    return ended.stderr == b"", repr(ended.stderr)


def an_hour_fits_in_memory(command, folder):
    take = folder / "hour.wav"
    write_silence(take, 3600, 8000)  # kept whole it would be 115 MB of floats
    run(command, "levels", str(take))
    most = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    return most < MOST_MEMORY_MB, f"{most:.1f} MB"


VERBS = ["demo", "read", "levels", "reference", "fit", "library", "report"]

# Every verb and every kind of answer, good and bad.
CALLS = [[], ["--help"], ["--version"], ["nothing"], *([verb, "--help"] for verb in VERBS),
         *([verb] for verb in VERBS if verb != "demo"), ["library", "list"], ["library", "list", "--json"],
         ["library", "show", "nothing"], ["library", "show", "earphone\\ P"]]

# Standard output and standard error as a shell has them, and whether an answer gets through.
STREAMS = [(">/dev/full", "2>&1", False), (">&-", "2>&-", False), (">/dev/full", "2>&-", False),
           (">/dev/null", "2>/dev/full", True)]


def no_stream_ends_it_badly(command, folder):
    """Whatever full, closed or open streams it has, it ends by itself: with its usual status where the answer could be
    written, else with 2."""
    environment = {**os.environ, "COUPLET_LIBRARY": str(folder / "library")}
    run(command, "library", "presets", env=environment)
    for words in CALLS:
        line = " ".join([f"'{command}'", *words])
        usual = run("sh", "-c", line, env=environment)
        for out, err, reaches in STREAMS:
            ended = subprocess.run(["sh", "-c", f"{line} {out} {err} <&-"], env=environment, check=False)
            wanted = usual.returncode if reaches or not usual.stdout else 2
            if ended.returncode != wanted:
                return False, f"{line} {out} {err}: {ended.returncode}, not {wanted}"
        piped = run("bash", "-c", f"{line} | head -c 1; exit ${{PIPESTATUS[0]}}", env=environment)
        if (piped.returncode, piped.stderr) != (usual.returncode, usual.stderr):
            return False, f"{line} into a pipe that closes: {piped.returncode} {piped.stderr!r}"
    return True, f"{len(CALLS) * (len(STREAMS) + 1)} calls"


def closed_stream_is_no_file(command, folder):
    """No file of the library gets the number of a stream that was closed: what is kept is whole."""
    library = folder / "library"
    environment = {**os.environ, "COUPLET_LIBRARY": str(library)}
    run(command, "library", "presets", env=environment)
    ended = subprocess.run(["sh", "-c", f"'{command}' library copy 'Bare microphone' >&- 2>&- <&-"], env=environment,
                           check=False)
    listed = run(command, "library", "list", "--json", env=environment)
    return ended.returncode == 2 and b"copy" in listed.stdout and b"not read" not in listed.stdout, listed.stdout[-200:]


CHECKS = [starts_fast, full_disk_is_told, closed_pipe_is_quiet, no_stream_ends_it_badly, closed_stream_is_no_file,
          short_take_shows_none, no_terminal_no_progress, long_take_shows_progress,
          an_hour_fits_in_memory]


def main():
    command = str(Path(sys.argv[1]).resolve())
    failed = 0
    for check in CHECKS:
        with tempfile.TemporaryDirectory() as folder:
            good, figure = check(command, Path(folder))
        print(f"{'ok    ' if good else 'FAILED'}  {check.__name__.replace('_', ' ')}: {figure}")
        failed += not good
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
