# SPDX-License-Identifier: GPL-3.0-or-later
"""Sounds of benches, written with numpy alone: what a microphone gives, sample by sample, in units of full scale.

Nothing here is taken from the product's own simulation, so that what both believe by mistake can be seen."""

import wave

import numpy as np
import scipy.io.wavfile
import scipy.signal

RATE = 48000
FAST_S = 0.125  # time weighting F, IEC 61672-1:2013
NOISE_DBFS = -100.0  # of the input, where a case says nothing else; as a quiet bench has it, no source


def times(seconds, rate=RATE):
    return np.arange(round(seconds * rate)) / rate


def amplitude(level_dB):
    return 10.0 ** (level_dB / 20.0)


def decibels(ratio):
    return 20.0 * np.log10(ratio)


def ears(name):
    """A random generator of the case's own, the same in every run."""
    return np.random.default_rng(list(name.encode()))


def hiss(x, level_dBFS=NOISE_DBFS, name="hiss"):
    """White noise added; its level as of anything broadband: 0 dBFS is the RMS of a full-scale sine."""
    return x + amplitude(level_dBFS) / np.sqrt(2.0) * ears(name).standard_normal(x.size)


def tone(level_dBFS, frequency, seconds, rate=RATE, envelope_dB=0.0, speed=0.0, noise_dBFS=NOISE_DBFS):
    """`envelope_dB` is added to the level and `speed` (1 = the frequency itself) to the frequency, sample by sample."""
    turns = np.cumsum(np.broadcast_to(frequency * (1.0 + speed), round(seconds * rate))) / rate
    return hiss(amplitude(level_dBFS + envelope_dB) * np.sin(2.0 * np.pi * turns + 0.3), noise_dBFS)


def swing(size, per_second, seconds, rate=RATE, calm_s=0.5):
    """A wobble of whole periods between two calm ends: a stretch that leaves out of the ends has the same mean."""
    t = times(seconds, rate)
    inside = np.abs(t - seconds / 2) < seconds / 2 - calm_s
    return np.where(inside, size * np.sin(2.0 * np.pi * per_second * (t - calm_s)), 0.0)


def fluctuation(envelope_dB, rate=RATE):
    """Largest deviation of the F level from its mean (IEC 60942:2017, short-term level fluctuation), in dB."""
    power = 10.0 ** (envelope_dB / 10.0)
    decay = np.exp(-1.0 / (FAST_S * rate))
    heard, _ = scipy.signal.lfilter([1.0 - decay], [1.0, -decay], power, zi=[decay * power[0]])
    level = 10.0 * np.log10(heard[int(8 * FAST_S * rate):])  # e^-8: the beginning is forgotten
    return np.max(np.abs(level - np.mean(level)))


def levels_of(envelope_dB):
    """The level of a tone whose amplitude moves, by mean amplitude and by mean power. A meter may mean either."""
    return decibels(np.mean(amplitude(envelope_dB))), 10.0 * np.log10(np.mean(10.0 ** (envelope_dB / 10.0)))


def with_harmonics(level_dBFS, frequency, seconds, ratios, rate=RATE, noise_dBFS=NOISE_DBFS, speed=0.0):
    """`ratios`: amplitude of order 2, 3, ... over the fundamental's."""
    turns = 2.0 * np.pi * np.cumsum(np.broadcast_to(frequency * (1.0 + speed), round(seconds * rate))) / rate
    x = np.sin(turns)
    for order, ratio in enumerate(ratios, 2):
        x = x + ratio * np.sin(order * turns + 0.7 * order)
    return hiss(amplitude(level_dBFS) * x, noise_dBFS)


def shaped_noise(seconds, slope, lowest, highest, rate=RATE, name="shaped"):
    """Noise of RMS 1 whose density goes as f^-slope from `lowest` to `highest` Hz."""
    count = round(seconds * rate)
    f = np.fft.rfftfreq(count, 1.0 / rate)
    inside = (f >= lowest) & (f <= highest)
    spectrum = np.zeros(f.size, complex)
    random = ears(name)
    drawn = random.standard_normal(inside.sum()) + 1j * random.standard_normal(inside.sum())
    spectrum[inside] = f[inside] ** (-slope / 2.0) * drawn
    x = np.fft.irfft(spectrum, count)
    return x / np.sqrt(np.mean(x * x))


def write(path, x, rate=RATE, bits=32):
    """32: floats; 16, 24: whole numbers, rounded without dither and held at full scale."""
    if bits == 32:
        scipy.io.wavfile.write(path, rate, x.astype(np.float32))
        return
    most = 2 ** (bits - 1)
    whole = np.clip(np.round(x * most), -most, most - 1).astype("<i4")
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(bits // 8)
        file.setframerate(rate)
        file.writeframes(whole.view(np.uint8).reshape(-1, 4)[:, : bits // 8].tobytes())
