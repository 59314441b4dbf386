# SPDX-License-Identifier: GPL-3.0-or-later
"""Good takes that must not be refused: a refusal would be as wrong as a wrong number."""

import numpy as np
import scipy.signal

import sounds
from bench import CALIBRATOR_TONE, EARPHONE_HZ, EARPHONE_TONE, driven, rated
from case import on_reading, on_reference
from promises import figure, fit, never_says, right, verdict
from sounds import RATE, amplitude, hiss, times, tone


def dressed(level_dBFS, frequency, before_s, sound_s, after_s, rise_s=0.02):
    """A tone between two silences, of which only the input's noise is heard."""
    t = times(before_s + sound_s + after_s)
    inside = np.clip((t - before_s) / rise_s, 0, 1) * np.clip((before_s + sound_s - t) / rise_s, 0, 1)
    return hiss(amplitude(level_dBFS) * inside * np.sin(2 * np.pi * frequency * t))


def knocked(x, at_s):
    """A bench that is knocked: 120 Hz dying away within 60 ms, and a click."""
    t = times(x.size / RATE) - at_s
    knock = np.where(t > 0, np.exp(-t.clip(0) / 0.06) * np.sin(2 * np.pi * 120 * t), 0.0)
    return x + 0.1 * knock + 0.05 * (np.abs(t) < 0.001) * sounds.ears("knock").standard_normal(x.size)


def pressed_on(level_dBFS, frequency, late_s, rise_s, from_dB, seconds):
    """The level comes up, as when a coupler is pressed home or an earphone slides into its seal."""
    up = np.clip((times(seconds) - late_s) / rise_s, 0, 1)
    return tone(level_dBFS, frequency, seconds, envelope_dB=from_dB * (1 - np.sin(0.5 * np.pi * up)))


def ringing(level_dBFS, frequency, seconds):
    """A converter that begins and ends the tone at once: its steep filter rings before and after."""
    x = np.where(np.abs(times(seconds) - seconds / 2) < seconds / 2 - 0.5, 1.0, 0.0)
    x *= amplitude(level_dBFS) * np.cos(2 * np.pi * frequency * times(seconds))
    return hiss(scipy.signal.fftconvolve(x, scipy.signal.firwin(1001, 20500, fs=RATE), "same"))


def staircase(level_dBFS, frequency, seconds, held=4):
    """A converter of 12 kHz without a filter: each of its samples is held for four of ours. Images of 6 % in all."""
    steps = np.floor(np.arange(round(seconds * RATE)) / held) * held / RATE
    turn = np.pi * frequency / RATE
    loss = np.sin(held * turn) / (held * np.sin(turn))  # of a held sample: the transform of `held` equal ones
    return hiss(amplitude(level_dBFS) / loss * np.sin(2 * np.pi * frequency * steps))


def third(ratio, radians):
    """A source's own third harmonic, so far from where a gain that depends on the level puts one."""
    turns = 2 * np.pi * 1000.04 * times(8)
    return hiss(amplitude(CALIBRATOR_TONE) * (np.sin(turns) - ratio * np.sin(3 * turns + radians)))


def no_wider(U):
    return figure(f"U at most {U:.2f} dB", lambda a: a.U <= U)


GOOD = [fit(), right()]
AGREES = [verdict("agrees", 0), right()]


def at_rate(rate):
    return lambda: tone(EARPHONE_TONE, EARPHONE_HZ, 7, rate=rate)


CASES = [
    on_reference("good calibrator: silence before and after", lambda: dressed(CALIBRATOR_TONE, 1000.04, 2, 8, 2), GOOD,
                 true=CALIBRATOR_TONE),
    on_reading("good earphone: silence before and after", lambda: dressed(EARPHONE_TONE, EARPHONE_HZ, 2, 8, 2), AGREES),
    on_reference("good calibrator: one knock", lambda: knocked(tone(CALIBRATOR_TONE, 1000.04, 12), 4.0), GOOD,
                 true=CALIBRATOR_TONE),
    on_reading("good earphone: one knock", lambda: knocked(tone(EARPHONE_TONE, EARPHONE_HZ, 10), 4.0), AGREES),
    on_reference("good calibrator: pressed on after 2.5 s",
                 lambda: pressed_on(CALIBRATOR_TONE, 1000.04, 2.5, 0.4, -25, 12), GOOD, true=CALIBRATOR_TONE),
    on_reading("good earphone: slid in for 2 s", lambda: pressed_on(EARPHONE_TONE, EARPHONE_HZ, 0.5, 2.0, -12, 12),
               AGREES),
    on_reading("good earphone: tone of 35 steps peak in 16 bits",
               lambda: tone(-59.4, EARPHONE_HZ, 8, noise_dBFS=-300.0),
               [verdict("agrees", 0), right(0.005)], true=-59.4, bits=16,
               expected=rated("81.00dB/V") + driven()),
    on_reference("good calibrator: in 16 bits", lambda: tone(-40.0, 1000.04, 8, noise_dBFS=-300.0), [fit(), right()],
                 true=-40.0, bits=16),
    on_reference("good calibrator: at -60 dBFS, noise 35 dB below", lambda: tone(-60.0, 1000.04, 10, noise_dBFS=-95.0),
                 [fit(), right(0.003)], true=-60.0),
    on_reference("good calibrator: a steep filter rings where the tone begins and ends",
                 lambda: ringing(CALIBRATOR_TONE, 1000.04, 10), GOOD, true=CALIBRATOR_TONE),
    on_reading("good earphone: a converter's staircase", lambda: staircase(EARPHONE_TONE, EARPHONE_HZ, 8), AGREES),
    on_reference("good calibrator: distortion of 2.4 %, class 1",
                 lambda: sounds.with_harmonics(CALIBRATOR_TONE, 1000.04, 8, [0.024]), GOOD, true=CALIBRATOR_TONE),
    on_reference("good calibrator: battery loses 0.004 dB a second", lambda: tone(
        CALIBRATOR_TONE, 1000.04, 10, envelope_dB=0.02 - 0.004 * times(10)), GOOD, true=CALIBRATOR_TONE),
    on_reference("good calibrator: third harmonic of 0.1 %, as of a limiter", lambda: third(0.001, 0.0),
                 [*GOOD, no_wider(0.28), never_says("third")], true=CALIBRATOR_TONE),
    on_reference("good calibrator: third harmonic of 1 %, a quarter turn from a limiter's",
                 lambda: third(0.01, np.pi / 2), [*GOOD, no_wider(0.28), never_says("third")], true=CALIBRATOR_TONE),
    on_reading("good earphone: with harmonics of 1 %",
               lambda: sounds.with_harmonics(EARPHONE_TONE, EARPHONE_HZ, 8, [0.008, 0.006]), AGREES),
    on_reading("good earphone: with distortion of 2 %, which is not named",
               lambda: sounds.with_harmonics(EARPHONE_TONE, EARPHONE_HZ, 8, [0.016, 0.012]),
               [*AGREES, never_says("distort")]),
    on_reading("good earphone: another tone 26 dB below", lambda: tone(EARPHONE_TONE, EARPHONE_HZ, 8) +
               tone(EARPHONE_TONE - 26, 1733.0, 8), AGREES),
    on_reading("good earphone: 44.1 kHz", at_rate(44100), AGREES, rate=44100),
    on_reading("good earphone: 96 kHz", at_rate(96000), AGREES, rate=96000),
    on_reading("good earphone: 192 kHz", at_rate(192000), AGREES, rate=192000),
    on_reading("good earphone: 24 bits", at_rate(RATE), AGREES, bits=24),
]
