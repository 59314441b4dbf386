# SPDX-License-Identifier: GPL-3.0-or-later
"""References that are not what they seem, and what is said of them later."""

import datetime

import numpy as np

from bench import CALIBRATOR_TONE, CORRECTION, EARPHONE_HZ, EARPHONE_TONE, LEVEL, OFFSET
from calibrators import PISTON
from case import Case
from promises import exits, figure, fit, has_U, never_says, no_U, right, says, says_size
from sounds import tone

# The word that keeps a reference although it lies beyond the usual limits.
ALTHOUGH = "--although-moved"
LAW_NOT_STATED = ("--level", "114.02dB", "--level-uncertainty", "0.15dB")


def seconds_ago(seconds):
    now = datetime.datetime.now(datetime.timezone.utc)
    return (now - datetime.timedelta(seconds=seconds)).strftime("%Y-%m-%dT%H:%M:%SZ")


def moved(dB, *options):
    """A take whose tone is so much higher than the last reference's, offered as the next one."""
    def play(bench):
        answer = bench.reference(tone(CALIBRATOR_TONE + dB, 1000.04, 7), "--class", "1", "--keep", *options,
                                 true=CALIBRATOR_TONE)
        answer.more["kept"] = len(bench.references()) - 1
        return answer

    return play


def read_after_moving(bench):
    """What a later reading says, when such a reference was kept by the word for it."""
    before = moved(-16.0, ALTHOUGH)(bench)
    answer = bench.read(tone(EARPHONE_TONE, EARPHONE_HZ, 7))
    answer.more["kept"] = before.more["kept"]
    return answer


def kept(count):
    words = {0: "it is not kept", 1: "it is kept"}[count]
    return figure(words, lambda a: a.more["kept"] == count)


def at_250_hertz(bench):
    """A pistonphone on a coupler whose correction was found at 1 kHz."""
    return bench.reference(tone(-6.0, 250.0, 7), true=-6.0, calibrator=PISTON, corrected=(), certified=124.02)


def with_another_level(bench):
    """The library's calibrator plays 114.02 dB; the call says 114.30 dB, from a newer certificate."""
    bench.folder.joinpath("lab.json").write_text(
        '{"kind": "calibrator", "name": "lab", "version": 1, "class": 1, "pressureLaw": {"law": "none"},'
        ' "tones": [{"frequency_Hz": 1000, "level_dB": 114.02, "U_dB": 0.15}]}', encoding="utf-8")
    bench.run("library", "add", "lab.json")
    answer = bench.reference(tone(CALIBRATOR_TONE, 1000.04, 7), "--level", "114.30dB", true=CALIBRATOR_TONE,
                             calibrator=("--calibrator", "lab"), certified=114.30 - CORRECTION)
    return answer


def law_not_stated(*pressure):
    def play(bench):
        return bench.reference(tone(CALIBRATOR_TONE, 1000.04, 7), "--class", "1", *pressure, true=CALIBRATOR_TONE,
                               calibrator=LAW_NOT_STATED)

    return play


def law_stated(law, correction):
    def play(bench):
        return bench.reference(tone(CALIBRATOR_TONE, 1000.04, 7), "--class", "1", "--pressure", "95kPa",
                               "--pressure-law", law, true=CALIBRATOR_TONE, calibrator=LAW_NOT_STATED,
                               certified=LEVEL - CORRECTION + correction)

    return play


def levels(age_s, rate=48000):
    """Broadband levels with a reference of that age; a tone's Z level is its tone level."""
    def play(bench):
        bench.change_coupler(lambda c: c["references"][0].update(takenAt=seconds_ago(age_s)))
        take = bench.take(tone(EARPHONE_TONE, EARPHONE_HZ, 7, rate=rate), rate=rate)
        answer = bench.call("levels", take, "--coupler", "bench")
        uncertain = [v for name, v in answer.json.items() if "uncertainty" in name and v is not None]
        return answer.against(OFFSET + EARPHONE_TONE, answer.json["Z"]["leq_db"] - OFFSET - EARPHONE_TONE,
                              uncertain[0] if uncertain else None)

    return play


def history(days, count=7, step_dB=0.05):
    """References evenly over so many days, each higher than the one before; nought but time makes such a file."""
    def play(bench):
        def repeat(coupler):
            first = coupler["references"][0]
            coupler["references"] = [
                {**first, "takenAt": seconds_ago(86400 * days * (1 - i / (count - 1))),
                 "tone_dBFS": first["tone_dBFS"] - i * step_dB, "offset_dB": first["offset_dB"] + i * step_dB}
                for i in range(count)]

        bench.change_coupler(repeat)
        answer = bench.call("reference", "--coupler", "bench", "--history")
        rate = answer.json.get("drift_db_per_day")
        true = step_dB * (count - 1) / days
        return answer.against(true, None if rate is None else rate - true,
                              answer.json.get("drift_uncertainty_db_per_day"), "dB a day")

    return play


def bad(fault, play, *promises, referenced=True):
    return Case(fault, play, list(promises), referenced)


UNSTATED = says(r"(law|pressure).*not stated|not state.*(law|pressure)")
NOT_ITSELF = figure("it does not say 'regulates itself'",
                    lambda a: not any("itself" in t["name"] for t in a.json["terms"]))
CASES = [
    bad("an earphone at 1 kHz, 16 dB below the last reference, offered as one", moved(-16.0), exits(1),
        kept(0), says_size(16.0, "dB", 0.1)),
    bad("0.6 dB above the last reference, offered as one", moved(0.6), exits(1), kept(0), says_size(0.6, "dB", 0.05)),
    bad(f"16 dB below the last reference, kept with {ALTHOUGH}", moved(-16.0, ALTHOUGH), kept(1),
        says_size(16.0, "dB", 0.1)),
    bad(f"a reading after 16 dB kept with {ALTHOUGH}", read_after_moving, kept(1),
        says(r"although|beyond|outside|moved")),
    bad("good: 0.1 dB above the last reference", moved(0.1), fit(), kept(1)),
    bad("pistonphone at 250 Hz, the coupler's correction is for 1 kHz", at_250_hertz,
        figure("it is refused, or has no U", lambda a: a.status == 2 or a.U is None),
        says(r"250.*(1 ?kHz|1000)|(1 ?kHz|1000).*250")),
    bad("--calibrator of 114.02 dB with --level 114.30 dB", with_another_level,
        figure("114.30 dB is used, or refused", lambda a: a.status == 2 or abs(a.error) < 0.001), referenced=False),
    bad("pressure law not stated, nor the pressure", law_not_stated(), fit(), right(), has_U(), UNSTATED,
        NOT_ITSELF, referenced=False),
    bad("pressure law not stated, 101.325 kPa", law_not_stated("--pressure", "101.325kPa"), fit(), right(), has_U(),
        UNSTATED, NOT_ITSELF, referenced=False),
    bad("pressure law not stated, 95 kPa", law_not_stated("--pressure", "95kPa"), no_U(), UNSTATED, NOT_ITSELF,
        referenced=False),
    bad("good: regulates itself as stated, 95 kPa", law_stated("none", 0.0), fit(), right(), has_U(), referenced=False),
    bad("good: piston as stated, 95 kPa", law_stated("piston", 20 * np.log10(95 / 101.325)), fit(), right(), has_U(),
        referenced=False),
    bad("levels with a reference three days old", levels(3 * 86400), right(), has_U(), says(r"stale|days old|h ago")),
    bad("levels at 44.1 kHz, reference at 48 kHz", levels(60, 44100), right(), has_U(), says(r"44.?1.*48|48.*44.?1")),
    bad("good: levels with a new reference", levels(60), right(), has_U(), never_says("stale")),
    bad("seven references within one day", history(1.0), exits(0), figure(
        "no drift per day", lambda a: a.json["drift_db_per_day"] is None)),
    bad("good: seven references within six days", history(6.0), exits(0), right()),
]
