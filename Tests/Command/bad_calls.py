# SPDX-License-Identifier: GPL-3.0-or-later
"""Calls of the command that are wrong. Each must end with status 2, one line on standard error that begins with
'couplet: ' and says the right thing, nothing on standard output, and leave its folders as they were.

Usage: bad_calls.py COMMAND"""

import math
import os
import struct
import subprocess
import sys
import tempfile
from pathlib import Path

import bad_ratings
from bad_reference_calls import REFERENCE_OPTIONS

RATE = 48000


def wav(seconds=2.0, rate=RATE, channels=1, promised=None):
    """A tone of 1 kHz at -6 dBFS, 16 bits; `promised` stands in place of the samples' true length in the header."""
    count = int(seconds * RATE)
    tone = [round(16384 * math.sin(2 * math.pi * 1000 * i / RATE)) for i in range(count)]
    samples = b"".join(struct.pack("<h", v) * channels for v in tone)
    length = len(samples) if promised is None else promised
    description = struct.pack("<HHIIHH", 1, channels, rate, rate * 2 * channels & 0xFFFFFFFF, 2 * channels, 16)
    head = b"RIFF" + struct.pack("<I", (length + 36) & 0xFFFFFFFF) + b"WAVE"
    return head + b"fmt " + struct.pack("<I", 16) + description + b"data" + struct.pack("<I", length) + samples


EARPHONE = '{"kind": "earphone", "name": "%s", "version": %s, "rating": {"form": "per volt", "level_dB": 112.4}}'
BENCH = '{"kind": "coupler", "name": "bench", "version": 1, "allowedAge_h": 24}'


def make_files(folder):
    whole = wav()
    files = {
        "good.wav": whole,
        "empty.wav": b"",
        "header.wav": wav(seconds=0),
        "truncated.wav": whole[: len(whole) // 2],
        "cut-in-header.wav": whole[:30],
        "unfinished.wav": wav(promised=0),
        "unfinished-too.wav": wav(promised=0xFFFFFFFF),
        "slow.wav": wav(rate=100),
        "fast.wav": wav(rate=2000000000),
        "none.wav": wav(channels=0) + b"\0" * 100,
        "text.wav": b"level;frequency\n94;1000\n",
        "flac.wav": b"fLaC" + b"\0" * 100,
        "mp3.wav": b"ID3" + b"\0" * 100,
        "line\nbreak.wav": b"",
        "broken.json": b'{"kind": "earphone",',
        "future.json": (EARPHONE % ("new", 2)).encode(),
        "number.json": (EARPHONE % ("bad", 1)).replace("112.4", "11e99").encode(),
        "future-library.json": b'{"kind": "couplet library", "version": 2, "items": []}',
        "table.json": b"frequency,level",
        "zero.json": b"",
        "large.json": b'{"name": "' + b"x" * 10_000_000 + b'"}',
        "deep.json": b'{"a": ' + b"[" * 1_000_000,
        "nan.json": (EARPHONE % ("bad", 1)).replace("112.4", "NaN").encode(),
        "text.json": (EARPHONE % ("bad", 1)).replace("112.4", '"112.4"').encode(),
        "sl\not.json": BENCH.replace("24", '24, "slot": 17').encode(),
        "readings.csv": b"kind,name,level_db\ndirect,a,114.5\nthrough,,113\n",
        "bad.csv": b"kind,name,level_db\ndirect,a,114.5\nthrough,,11,3\n",
        "lonely.csv": b"kind,name,level_db\ndirect,a,114.5\n",
    }
    for name, content in files.items():
        (folder / name).write_bytes(content)
    (folder / "folder.wav").mkdir()
    (folder / "loop.json").symlink_to("loop.json")
    library = folder / "library"
    library.mkdir()
    (library / "coupler-bench.json").write_text(BENCH)
    (library / "earphone-S.json").write_text(EARPHONE % ("earphone S", 1))
    (library / "earphone-future.json").write_text(EARPHONE % ("from the future", 2))


# What is wrong with a take, whichever verb reads it; and words that the sentence has to hold.
TAKES = [
    ("missing.wav", "there is no such file"),
    ("god.wav", "near: 'good.wav'"),
    ("nowhere/good.wav", "there is no such file"),
    ("folder.wav", "it is a folder"),
    ("empty.wav", "it is empty"),
    ("header.wav", "no samples"),
    ("truncated.wav", "promises 2.000 s, and the file ends after 1.000 s"),
    ("cut-in-header.wav", "ends before its samples"),
    ("unfinished.wav", "cut off"),
    ("unfinished-too.wav", "cut off"),
    ("slow.wav", "sample rate of 100 Hz"),
    ("fast.wav", "sample rate of 2000000000 Hz"),
    ("none.wav", "no channels"),
    ("text.wav", "no audio file"),
    ("flac.wav", "it is FLAC"),
    ("mp3.wav", "it is MP3"),
    ("line\nbreak.wav", "line?break.wav: it is empty"),
    ("/dev/null", "no regular file"),
]
TAKE_VERBS = [
    ("read",),
    ("levels",),
    ("reference", "--coupler", "bench", "--level", "94dB"),
]

# Options of a verb on a good take.
RATED = ("--rating", "112.4dB/V", "--rating-frequency", "500Hz")
OPTIONS = [
    ("read", ("--drive", "123.2"), "--drive: '123.2' has no unit"),
    *(("read", ("--drive", volts), f"--drive: '{volts}' must be above zero") for volts in ("-1mV", "0V")),
    ("read", ("--drive", "1,5V"), "--drive: '1,5V' has a comma"),
    ("read", ("--drive", "12dB"), "--drive: '12dB' has the unknown unit"),
    *(("read", ("--drive", volts), "--drive: ") for volts in ("nanV", "1e400V")),
    ("read", ("--drive",), "--drive has no value"),
    ("read", ("--drive", "1V", "--source-impedance", "-1ohm"), "--source-impedance: '-1ohm' must not be negative"),
    ("read", ("--drive", "1V", "--source-impedance", "1"), "--source-impedance: '1' has no unit"),
    ("read", ("--drive", "1V", "--meter-accuracy", "0.5"), "--meter-accuracy: '0.5' has no unit"),
    ("read", ("--drive", "1V", "--meter-accuracy", "-1%"), "--meter-accuracy: '-1%' must not be negative"),
    ("read", ("--drive", "1V", "--meter-accuracy", "101%"), "--meter-accuracy: "),
    ("read", ("--drive", "1V", "--drive-channel", "1"), "--drive"),
    ("read", ("--drive-channel", "2"), "--drive-full-scale"),
    ("read", ("--drive-channel", "2", "--drive-full-scale", "2V", "--across"), "2 is not there"),
    ("read", ("--drive-channel", "2", "--drive-full-scale", "-2V"), "--drive-full-scale: '-2V' must be above zero"),
    ("read", ("--drive-full-scale", "2V"), "--drive-channel"),
    ("read", (*RATED, "--impedance", "0ohm"), "--impedance: '0ohm' must be above zero"),
    ("read", (*RATED, "--impedance", "24"), "--impedance: '24' has no unit"),
    ("read", (*RATED, "--rating-tolerance", "-1dB"), "--rating-tolerance: "),
    ("read", (*RATED, "--rating-tolerance", "1"), "--rating-tolerance: '1' has no unit"),
    ("read", ("--rating", "112.4"), "--rating: "),
    ("read", ("--rating", "112.4dB/W"), "--rating: "),
    ("read", ("--rating", "105dB/mW"), "impedance"),
    ("read", ("--rating", "102dB@0V"), "--rating: "),
    ("read", ("--rating", "112.4dB/V", "--rating-frequency", "500"), "--rating-frequency: '500' has no unit"),
    ("read", ("--rating", "112.4dB/V", "--rating-frequency", "-500Hz"), "--rating-frequency: '-500Hz' must be"),
    ("read", ("--rating-frequency", "500Hz"), "--rating"),
    ("read", ("--offset", "121.97"), "--offset: '121.97' has no unit"),
    ("read", ("--offset", "121.97dB", "--offset-uncertainty", "-0.4dB"), "--offset-uncertainty: "),
    ("read", ("--offset-uncertainty", "0.4dB"), "--offset"),
    ("read", ("--offset", "121.97dB", "--coupler", "bench"), "--offset"),
    ("read", ("--coupler", "bnech"), "no coupler 'bnech'; near: 'bench'"),
    ("read", ("--coupler", ""), "--coupler has an empty value"),
    ("read", ("--earphone", "earphone T"), "no earphone 'earphone T'; near: 'earphone S'"),
    ("read", ("--earphone", "from the future"), "earphone-future.json"),
    ("read", ("--earphone", "earphone S", "--rating", "112.4dB/V"), "--earphone"),
    ("read", ("--side", "middle"), "--side: "),
    ("read", ("--channel", "2"), "it has 1 channel, and --channel 2 is not there"),
    ("read", ("--channel", "0"), "--channel: '0' is no channel"),
    ("read", ("--channel", "one"), "--channel: 'one' is no channel"),
    ("read", ("--largest-uncertainty", "0dB"), "--largest-uncertainty: "),
    ("read", ("--keep", "--keep"), "--keep is given twice"),
    ("read", ("--chanel", "1"), "near: --channel"),
    ("read", ("second.wav",), "'second.wav' is one too many"),
    ("levels", ("--channel", "2"), "it has 1 channel, and --channel 2 is not there"),
    ("levels", ("--offset", "121.97"), "--offset: '121.97' has no unit"),
    ("levels", ("--coupler", "bnech"), "near: 'bench'"),
    ("levels", ("--drive", "1V"), "levels has no option --drive"),
    ("levels", ("--offset-uncertainty", "0.4dB"), "--offset"),
    *REFERENCE_OPTIONS,
]

# With --keep this one is good: it makes the coupler.
NEW_COUPLER = ("reference", "good.wav", "--coupler", "bnech", "--level", "94dB")

# Whole calls.
CALLS = [
    ((), "no verb is given"),
    (("",), "no verb ''"),
    (("raed", "good.wav"), "no verb 'raed'; near: read"),
    (("frobnicate",), "the verbs are: demo, read"),
    (("--jsn",), "the verb comes first"),
    (("read",), "read needs TAKE"),
    (("read", ""), ""),
    (NEW_COUPLER, "near: 'bench'"),
    (("fit",), "fit needs READINGS.csv"),
    (("fit", "missing.csv"), "missing.csv: it could not be read"),
    (("fit", "good.wav"), "good.wav: it is no plain text"),
    (("fit", "folder.wav"), "no regular file"),
    (("fit", "zero.json"), "it is empty"),
    (("fit", "bad.csv"), "bad.csv, line 3: "),
    (("fit", "lonely.csv"), "no reading through the coupler"),
    (("fit", "readings.csv", "--keep"), "--keep needs --coupler"),
    (("fit", "readings.csv", "--coupler", "bench", "--keep"), "at which frequency were the readings made"),
    (("fit", "readings.csv", "--coupler", "bnech"), "near: 'bench'"),
    (("fit", "readings.csv", "--calibrator", "lab"), "no calibrator 'lab'"),
    (("fit", "readings.csv", "--calibrator-uncertainty", "0.15"), "--calibrator-uncertainty: '0.15' has no unit"),
    (("fit", "readings.csv", "--transfer-uncertainty", "-0.3dB"), "--transfer-uncertainty: "),
    (("fit", "readings.csv", "--wanted-uncertainty", "0.4"), "--wanted-uncertainty: '0.4' has no unit"),
    (("report",), "not there yet"),
    (("demo", "x"), "one too many"),
    (("demo", "--out"), "--out has no value"),
    (("library",), "library needs"),
    (("library", "lst"), "near: list"),
    (("library", "list", "x"), "takes nothing behind it"),
    *((("library", verb), f"library {verb} needs NAME") for verb in ("show", "remove", "putback", "versions", "copy", "rename")),
    (("library", "show", "bnech"), "near: 'bench'"),
    (("library", "show", "from the future"), "earphone-future.json"),
    (("library", "remove", "bnech"), "near: 'bench'"),
    (("library", "add"), "library add needs FILE"),
    *((("library", verb, "missing.json"), "missing.json") for verb in ("add", "import")),
    *((("library", verb, "broken.json"), "broken.json, line 1") for verb in ("add", "import")),
    *((("library", verb, "future.json"), "version is 2, but this Couplet reads") for verb in ("add", "import")),
    *((("library", verb, "large.json"), "(it is larger than 4 MB)") for verb in ("add", "import")),
    (("library", "add", "folder.wav"), "no regular file"),
    (("library", "add", "good.wav"), "good.wav"),
    (("library", "add", "zero.json"), "it is empty"),
    (("library", "add", "table.json"), "table.json, line 1"),
    (("library", "add", "number.json"), "level_dB is "),
    (("library", "import", "future-library.json"), "version is 2, but this Couplet reads version 1"),
    (("library", "export", "good.wav"), "it is there already"),
    (("library", "export", "nowhere/all.json"), "nowhere"),
    (("library", "putback", "bench"), "nothing named 'bench' was removed"),
    (("library", "putback", "bench", "--version", "99"), "coupler 'bench' has no version 99"),
    *((("library", "putback", "bench", "--version", text), "--version: ") for text in ("0", "-1", "1.5", "last", "", "9" * 30)),
    (("library", "putback", "bnech", "--version", "1"), "near: 'bench'"),
    (("library", "versions", "bnech"), "near: 'bench'"),
    (("library", "list", "--version", "1"), "--version is for library putback"),
    (("library", "rename", "bench"), "library rename needs NEW-NAME"),
    (("library", "rename", "bnech", "x"), "near: 'bench'"),
    (("library", "rename", "bench", ""), "must have 1 to 120"),
    (("library", "rename", "bench", "a\nb"), "line break"),
    (("library", "copy", "bnech"), "near: 'bench'"),
    (("library", "copy", "from the future"), "earphone-future.json"),
    (("library", "presets", "x"), "takes nothing behind it"),
    (("library", "export", "all.json", "--only", "bnech"), "near: 'bench'"),
    (("library", "show", "bench", "--only", "bench"), "--only is for library export"),
    (("library", "add", "deep.json"), "nested more than 64 levels deep"),
    (("library", "add", "nan.json"), "'NaN' stands without quotes"),
    (("library", "add", "text.json"), "level_dB is text, but must be a number"),
    (("library", "import", "loop.json"), "Too many levels of symbolic links"),
    (("library", "export", "loop.json"), "it is there already"),
    (("library", "add", "sl\not.json"), "sl?ot.json: slot is 17"),
    (("library", "list", "--library", "good.wav"), "it is no folder"),
]


def calls():
    for verb in TAKE_VERBS:
        for take, words in TAKES:
            yield (verb[0], take, *verb[1:]), words
    for verb, options, words in OPTIONS + bad_ratings.OPTIONS:
        yield (verb, "good.wav", *options), words
    yield from CALLS


def state_of(folder):
    """Every path below the folder with its content; a lock file is no content."""
    return {
        str(path): path.read_bytes() if path.is_file() else None
        for path in sorted(folder.rglob("*"))
        if path.name != ".lock"
    }


def faults_of(command, call, words, folder):
    # Also kept and as JSON: neither may write, or print, before the call is known to be good.
    extras = [()]
    if call and call[0] in ("read", "reference") and "--keep" not in call and call != NEW_COUPLER:
        extras.append(("--keep", "--json"))
    for extra in extras:
        environment = {**os.environ, "COUPLET_LIBRARY": str(folder / "library"), "LC_ALL": "C.UTF-8"}
        ended = subprocess.run([command, *call, *extra], cwd=folder, env=environment, capture_output=True, timeout=60,
                               check=False)
        complaint = ended.stderr.decode()
        if ended.returncode != 2:
            yield f"status {ended.returncode}, not 2"
        if ended.stdout:
            yield f"on standard output: {ended.stdout[:200]!r}"
        if not (complaint.startswith("couplet: ") and complaint.endswith("\n") and complaint.count("\n") == 1):
            yield f"not one line that begins with 'couplet: ': {complaint!r}"
        if words not in complaint:
            yield f"{words!r} is not in {complaint!r}"


def main():
    command = str(Path(sys.argv[1]).resolve())
    passed = failed = 0
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        make_files(folder)
        before = state_of(folder)
        for call, words in calls():
            found = list(faults_of(command, call, words, folder))
            if state_of(folder) != before:
                found.append("files were written")
                before = state_of(folder)
            for fault in found:
                print(f"FAILED  couplet {' '.join(map(repr, call))}: {fault}")
            failed += bool(found)
            passed += not found
    print(f"{passed} bad calls refused as they should be, {failed} not")
    return 1 if failed or not passed else 0


if __name__ == "__main__":
    sys.exit(main())
