# SPDX-License-Identifier: GPL-3.0-or-later
"""A gain that depends on the level, somewhere between microphone and file. A steady tone cannot show it; the
calibrator's second level can. Curves and times are those of usual dynamics processors, no source."""

import json

import numpy as np

import sounds
from bench import CALIBRATOR_TONE, LEVEL
from case import Case
from promises import figure, fit, has_term, never_says, no_term, right, says, says_size, unfit
from sounds import RATE

SECONDS = 8
STEP = 20.01  # dB: the lower level is certified 94.01 dB
TWO_LEVELS = {"kind": "calibrator", "name": "two levels", "version": 1, "class": 1, "pressureLaw": {"law": "none"},
              "tones": [{"frequency_Hz": 1000, "level_dB": LEVEL, "U_dB": 0.15},
                        {"frequency_Hz": 1000, "level_dB": LEVEL - STEP, "U_dB": 0.15}]}


def follow(level_dB, curve, attack_s=0.005, release_s=0.1, control=1000):
    """The gain in dB that a processor gives to a tone of this level: `curve` of a level that it follows with delay."""
    steps = level_dB[:: RATE // control]
    up, down = (1.0 - np.exp(-1.0 / (control * s)) for s in (attack_s, release_s))
    heard, gains = -90.0, np.empty(steps.size)
    for i, now in enumerate(steps):
        heard += (up if now > heard else down) * (now - heard)
        gains[i] = curve(heard)
    return np.interp(np.arange(level_dB.size), np.arange(steps.size) * (RATE // control), gains)


def compressor(level):
    return -0.5 * max(level + 20.0, 0.0)  # 2:1 above -20 dBFS


def limiter(level):
    return -max(level + 12.0, 0.0)


def expander(level):
    return 0.5 * (level + 5.0) if level < -5.0 else 0.0  # 1:1.5 below -5 dBFS


def automatic(level):
    return float(np.clip(-15.0 - level, -20.0, 20.0))  # towards -15 dBFS


def straight(_):
    return 0.0


def through(curve, tone_dBFS, late_s=0.0, **times):
    """The calibrator on a chain of that curve, pressed on after `late_s`."""
    level = np.where(sounds.times(SECONDS) < late_s, -90.0, tone_dBFS)
    return sounds.tone(0.0, 1000.04, SECONDS, envelope_dB=level + follow(level, curve, **times))


def heard_step(curve):
    return STEP + curve(CALIBRATOR_TONE) - curve(CALIBRATOR_TONE - STEP)


def one_level(fault, promises, curve, **more):
    return Case(fault, lambda b: b.reference(through(curve, CALIBRATOR_TONE, **more), "--class", "1",
                                             true=CALIBRATOR_TONE), promises)


def both_levels(fault, promises, curve, **more):
    def play(bench):
        bench.folder.joinpath("two.json").write_text(json.dumps(TWO_LEVELS), encoding="utf-8")
        bench.run("library", "add", "two.json")
        lower = bench.take(through(curve, CALIBRATOR_TONE - STEP, **more), "lower.wav")
        upper = through(curve, CALIBRATOR_TONE, **more)
        return bench.reference(upper, "--level", f"{LEVEL}dB", "--second-level", lower, true=CALIBRATOR_TONE,
                               calibrator=("--calibrator", "two levels"))

    return Case(fault, play, promises)


NOT_CHECKED = [says(r"linear"), has_term(r"linear.*assumed")]
SLOW = dict(attack_s=0.5, release_s=2.0)


def missed(curve):
    """The step as heard is told."""
    return [unfit(), says_size(heard_step(curve), "dB", 0.1, "step|certified|linear")]


CASES = [
    one_level("one level, compressor 2:1 above -20 dBFS", NOT_CHECKED, compressor),
    one_level("one level, limiter at -12 dBFS", NOT_CHECKED, limiter),
    one_level("one level, expander 1:1.5 below -5 dBFS", NOT_CHECKED, expander),
    one_level("one level, automatic gain towards -15 dBFS", NOT_CHECKED, automatic, **SLOW),
    one_level("one level, automatic gain, pressed on within the take", [says(r"linear|settl|overshoot")], automatic,
              late_s=1.0, **SLOW),
    both_levels("two levels, compressor 2:1 above -20 dBFS", missed(compressor), compressor),
    both_levels("two levels, limiter at -12 dBFS", missed(limiter), limiter),
    both_levels("two levels, expander 1:1.5 below -5 dBFS", missed(expander), expander),
    both_levels("two levels, automatic gain towards -15 dBFS",
                [figure("not fit, or refused", lambda a: a.status == 2 or a.json["fit_to_use"] is False),
                 says_size(heard_step(automatic), "dB", 0.1, "level|step|linear")], automatic, **SLOW),
    both_levels("two levels, straight: good",
                [fit(), right(), never_says(r"linearity was not|not checked"), no_term(r"linear.*assumed"),
                 figure("a term of U is the linearity as heard",
                        lambda a: any(t["name"].startswith("linear") for t in a.json["budget"]))], straight),
]
