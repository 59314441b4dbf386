# SPDX-License-Identifier: GPL-3.0-or-later
"""Noise and hum beside a tone: their figures, and a word only where they matter to the number."""

import numpy as np

import sounds
from bench import EARPHONE_TONE
from case import on_reading
from promises import figure, never_says, right, says, verdict
from sounds import RATE, amplitude, times, tone


def a_weighting(f):
    """Power gain of the frequency weighting A, IEC 61672-1:2013, Annex E (E.6), with its four pole frequencies."""
    poles = 20.598997, 107.65265, 737.86223, 12194.217

    def gain(f):
        low, middle, high, top = (p * p for p in poles)
        s = f * f
        return (top * s * s / ((s + low) * np.sqrt((s + middle) * (s + high)) * (s + top))) ** 2

    return gain(f) / gain(1000.0)


def white_in_band(level_dBFS, rate):
    """White noise of that level over the whole band: what is left of it from 20 Hz to 20 kHz, plain and A-weighted."""
    f = np.linspace(20.0, 20000.0, 200001)
    share, weighted = (np.trapezoid(g, f) if hasattr(np, "trapezoid") else np.trapz(g, f)
                       for g in (np.ones_like(f), a_weighting(f)))
    return level_dBFS + 10 * np.log10(share / (rate / 2)), level_dBFS + 10 * np.log10(weighted / (rate / 2))


def figure_near(words, level):
    """A figure of the tone whose name has these words; within 0.3 dB, 8 s of noise being known to some 0.05 dB."""
    def holds(answer):
        named = [v for name, v in answer.json["tone"].items() if all(w in name for w in words)]
        return any(v is not None and abs(v - level) < 0.3 for v in named)

    return figure(f"{' '.join(words)} {level:.1f} dBFS", holds)


def noisy(rate):
    plain, weighted = white_in_band(-70.0, rate)
    return on_reading(f"white noise of -70 dBFS over the band of {rate / 1000:g} kHz",
                      lambda: tone(EARPHONE_TONE, 500.03, 8, rate=rate, noise_dBFS=-70.0),
                      [verdict("agrees", 0), right(0.003), figure_near(("noise_dbfs",), plain),
                       figure_near(("noise", "_a_"), weighted)], rate=rate)


def low_rumble(level_dBFS):
    """Below 20 Hz: an air conditioning. The level must stand; the noise figure reads high beside it (docs/method.md)."""
    rumble = amplitude(level_dBFS) / np.sqrt(2) * sounds.shaped_noise(8, 0.0, 3.0, 10.0)
    return tone(EARPHONE_TONE, 500.03, 8, noise_dBFS=-90.0) + rumble


def humming(frequency, level_dBFS, orders):
    x = tone(EARPHONE_TONE, frequency, 8, noise_dBFS=-95.0)
    for order in orders:
        x = x + amplitude(level_dBFS) * np.sin(2 * np.pi * 50.0 * order * times(8) + order)
    return x


CASES = [
    noisy(RATE),
    noisy(96000),
    noisy(192000),
    on_reading("rumble 32 dB below the tone, between 3 and 10 Hz", lambda: low_rumble(-60.0),
               [verdict("agrees", 0), right(0.01)]),
    on_reading("hum of 50 Hz 25 dB below a tone at 525.3 Hz", lambda: humming(525.3, -53.0, [1]),
               [never_says(r"\bhum\b|mains"), right()],
               expected=()),
    on_reading("hum on the tone, 60 dB below it", lambda: humming(500.0, -88.0, range(1, 14)),
               [says(r"hum|mains|50 Hz"), right(0.011)]),
    on_reading("hum on the tone, 40 dB below it",
               lambda: humming(500.0, -68.0, range(1, 14)),
               [figure("no verdict, exit 1", lambda a: a.json["verdict"] is None and a.status == 1),
                says(r"hum|mains|50 Hz")]),
]
