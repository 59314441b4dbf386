# SPDX-License-Identifier: GPL-3.0-or-later
"""Rooms in which somebody talks, types or knocks while the tone plays. What cannot move the level is no reason to refuse
a take; what can is told, and the level stays right."""

import numpy as np
import scipy.signal

import sounds
from bench import CALIBRATOR_TONE, EARPHONE_HZ, EARPHONE_TONE
from case import on_reading, on_reference
from promises import covered, fit, never_says, right, says, unfit, verdict
from sounds import RATE, amplitude, times, tone

SECONDS = 10


def talk(seconds, name):
    """Somebody talks: syllables of a gliding voice under two formants, with hissed sounds and pauses between. RMS 1
    while they talk."""
    random, x, at = sounds.ears(name), np.zeros(round(seconds * RATE)), 0
    while at < x.size:
        length = int(random.uniform(0.10, 0.30) * RATE)
        t = np.arange(length) / RATE
        if random.uniform() < 0.25:
            part = scipy.signal.sosfilt(scipy.signal.butter(2, [2500, 7000], "band", fs=RATE, output="sos"),
                                        random.standard_normal(length))
        else:
            pitch = random.uniform(95, 210) * (1 + random.uniform(-0.6, 0.6) * t)
            pulses = np.diff(np.floor(np.cumsum(pitch) / RATE), prepend=0.0)
            part = sum(scipy.signal.sosfilt(scipy.signal.butter(1, [0.8 * f, 1.25 * f], "band", fs=RATE, output="sos"),
                                            pulses) for f in (random.uniform(300, 800), random.uniform(900, 2200)))
        part = part * np.sin(np.pi * (t + 0.5 / RATE) * RATE / length) ** 2
        end = min(at + length, x.size)
        x[at:end] = (part / np.sqrt(np.mean(part * part)))[: end - at]
        at = end + int(random.choice([0.02, 0.05, 0.5], p=[0.5, 0.3, 0.2]) * RATE)
    return x


def ticks(seconds, each_s, name, uneven=0.0):
    """A clock, or somebody who types: short bursts that ring at some kHz and on a table. Peak 1."""
    random, x = sounds.ears(name), np.zeros(round(seconds * RATE))
    t = np.arange(int(0.08 * RATE)) / RATE
    at = 0.3 * each_s
    while at < seconds - 0.1:
        burst = (np.exp(-t / 0.003) * np.sin(2 * np.pi * random.uniform(2000, 4500) * t) +
                 0.5 * np.exp(-t / 0.015) * np.sin(2 * np.pi * random.uniform(150, 400) * t))
        start = int(at * RATE)
        x[start:start + t.size] += burst / np.max(np.abs(burst))
        at += each_s * (1 + uneven * random.uniform(-1, 1))
    return x


def knocks(seconds, each_s):
    """On the bench: 120 Hz that dies away within 60 ms. Peak 1 or a little less."""
    since = np.mod(times(seconds), each_s)
    return np.exp(-since / 0.06) * np.sin(2 * np.pi * 120 * since) * (times(seconds) >= each_s)


def beside(level_dBFS, frequency, noise, below_dB, noise_dBFS=-110.0):
    return tone(level_dBFS, frequency, SECONDS, noise_dBFS=noise_dBFS) + amplitude(level_dBFS - below_dB) * noise


def calibrator(noise, below_dB):
    return lambda: beside(CALIBRATOR_TONE, 1000.04, noise(), below_dB)


def earphone(noise, below_dB):
    return lambda: beside(EARPHONE_TONE, EARPHONE_HZ, noise(), below_dB)


def after(x, sound, clipped):
    """A loud sound and a pause before the tone begins; at full scale, or just below it."""
    most = 1.0 if clipped else 0.9
    return np.concatenate([np.clip(8.0 * sound, -most, most), sounds.hiss(np.zeros(RATE // 2)), x])


def said_before(level_dBFS, frequency, clipped=True):
    return lambda: after(tone(level_dBFS, frequency, 8), 0.2 * talk(1.5, "before"), clipped)


def clicked_at_the_end():
    """The recorder is stopped: its button is heard, at full scale."""
    x = tone(CALIBRATOR_TONE, 1000.04, 8)
    return np.concatenate([x, np.clip(4.0 * ticks(0.5, 0.5, "button"), -1.0, 1.0)])


def one_talk():
    return talk(SECONDS, "talk")


def clock():
    return ticks(SECONDS, 0.5, "clock")


def typing():
    return ticks(SECONDS, 0.22, "typing", 0.7)


GOOD = [fit(), right(), never_says("disturbed|knock")]
AGREES = [verdict("agrees", 0), right(), never_says("disturbed|knock")]
CASES = [
    *[on_reference(f"good calibrator: talk {dB} dB below", calibrator(one_talk, dB), GOOD, true=CALIBRATOR_TONE)
      for dB in (48, 60)],
    on_reading("good earphone: talk 48 dB below", earphone(one_talk, 48), AGREES),
    on_reference("good calibrator: clock ticks 40 dB below", calibrator(clock, 40), GOOD, true=CALIBRATOR_TONE),
    on_reading("good earphone: clock ticks 40 dB below", earphone(clock, 40), AGREES),
    on_reference("good calibrator: typing 40 dB below", calibrator(typing, 40), GOOD, true=CALIBRATOR_TONE),
    on_reading("good earphone: typing 40 dB below", earphone(typing, 40), AGREES),
    on_reference("good calibrator: knocks 40 dB below", calibrator(lambda: knocks(SECONDS, 1.7), 40), GOOD,
                 true=CALIBRATOR_TONE),
    on_reference("calibrator: talk 26 dB below", calibrator(one_talk, 26), [unfit(), says("knocked|disturbed|quiet")],
                 true=CALIBRATOR_TONE),
    on_reading("typing 20 dB below", earphone(typing, 20), [says("knock")]),
    on_reading("knocks 20 dB below", earphone(lambda: knocks(SECONDS, 1.7), 20),
               [says("knock"), right(), covered()]),
    on_reference("good calibrator: clipped speech before the tone", said_before(CALIBRATOR_TONE, 1000.04),
                 [fit(), right(), says(r"clipped outside .* first at [01]\.\d s")], true=CALIBRATOR_TONE),
    on_reference("good calibrator: speech before the tone, 0.9 dB below full scale",
                 said_before(CALIBRATOR_TONE, 1000.04, False), [fit(), right()], true=CALIBRATOR_TONE),
    on_reference("good calibrator: a click at full scale ends the take", clicked_at_the_end,
                 [fit(), right(), says(r"clipped outside .* last at 8\.\d s")], true=CALIBRATOR_TONE),
    on_reading("good earphone: clipped speech before the tone", said_before(EARPHONE_TONE, EARPHONE_HZ),
               [verdict("agrees", 0), right(), says("clipped outside")]),
]
