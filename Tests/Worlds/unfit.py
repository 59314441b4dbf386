# SPDX-License-Identifier: GPL-3.0-or-later
"""Sound that is not the tone alone, or not one level: no verdict, no reference, and the size of what is wrong."""

import numpy as np

import sounds
from bench import CALIBRATOR_TONE, EARPHONE_HZ, EARPHONE_TONE
from case import Case, on_reading, on_reference
from promises import (covered, exits, figure, has_term, never_says, no_verdict, says, says_size, unfit)
from sounds import RATE, amplitude, hiss, times, tone

SECONDS = 10


def earphone(envelope_dB=0.0):
    return tone(EARPHONE_TONE, EARPHONE_HZ, SECONDS, envelope_dB=envelope_dB, noise_dBFS=-95.0)


def calibrator(envelope_dB=0.0):
    return tone(CALIBRATOR_TONE, 1000.04, SECONDS, envelope_dB=envelope_dB)


def contact(good_s, bad_s, lost_dB, name="contact"):
    """A contact that comes and goes at random: mean lengths of both states, and what the bad one takes away."""
    random, envelope, at = sounds.ears(name), np.zeros(SECONDS * RATE), 0
    while at < envelope.size:
        at += int(random.exponential(good_s) * RATE)
        end = at + int(random.exponential(bad_s) * RATE)
        envelope[at:end] = -lost_dB
        at = end
    return envelope


def right_at_times(lost_dB, mean_off_s, name):
    """A contact that is right for a tenth of a second to 0.45 s at a time, and seldom."""
    random, envelope, at = sounds.ears(name), np.full(SECONDS * RATE, -lost_dB), 0
    while (at := at + int(random.exponential(mean_off_s) * RATE)) < envelope.size:
        end = at + int(random.uniform(0.10, 0.45) * RATE)
        envelope[at:end] = 0.0
        at = end
    return envelope


def holes(x, each, length):
    """The last samples of each block are lost: they read nought."""
    x = x.copy()
    x[np.arange(x.size) % each >= each - length] = 0.0
    return x


def beside(x, level_dBFS, frequency):
    return x + amplitude(level_dBFS) * np.sin(2 * np.pi * frequency * times(x.size / RATE))


def turned_down(frequency, over_dB, down_dB):
    """Clipped `over_dB` beyond full scale and then turned down, as a file that somebody made quieter."""
    x = hiss(np.sin(2 * np.pi * frequency * times(SECONDS)), -110.0)
    return amplitude(-down_dB) * np.clip(amplitude(over_dB) * x, -1.0, 1.0)


def of_soft_limiter(distortion, frequency, peak):
    """tanh: its third harmonic is a^2/12 of the fundamental (series), and the level falls by a^2/4."""
    drive = np.sqrt(12.0 * distortion)
    return hiss(peak / drive * np.tanh(drive * np.sin(2 * np.pi * frequency * times(SECONDS))), -100.0)


def of_dead_zone(third, frequency, peak):
    """Nothing comes through within d of nought: the fundamental loses 4 d / pi, and a third of that is the third
    harmonic (Fourier series of a square wave)."""
    x, d = np.sin(2 * np.pi * frequency * times(SECONDS)), 0.75 * np.pi * third / (1 + 3 * third)
    return hiss(peak * np.sign(x) * np.maximum(np.abs(x) - d, 0.0), -100.0)


def of_cubic(third, frequency, peak):
    """x + a x^3: the fundamental gains 3 a / 4, the third harmonic is a / 4."""
    x, a = np.sin(2 * np.pi * frequency * times(SECONDS)), 4 * third / (1 - 3 * third)
    return hiss(peak * (x + a * x**3), -100.0)


def two_levels(level_dBFS, frequency, apart_dB):
    return tone(level_dBFS, frequency, SECONDS, envelope_dB=np.where(times(SECONDS) < SECONDS / 2, 0.0, -apart_dB))


def settling(size_dB, tau_s):
    return size_dB * np.exp(-times(SECONDS) / tau_s)


def gliding(first, last):
    speed = first + (last - first) * times(SECONDS) / SECONDS
    return hiss(amplitude(EARPHONE_TONE) * np.sin(2 * np.pi * np.cumsum(speed) / RATE), -95.0)


def holed():
    """1 ms of nought in a tone of 500 Hz."""
    return np.where(np.abs(times(SECONDS) - 4.0) < 5e-4, 0.0, earphone())


def levels_with_hole(bench):
    return bench.call("levels", bench.take(holed()), "--coupler", "bench")


def still_at_last():
    """Someone's hand is on the earphone for 12.5 s of 15 s: the level jumps every 0.4 s."""
    count, held = 15 * RATE, int(0.4 * RATE)
    jumps = np.repeat(sounds.ears("hand").uniform(-1.5, 1.5, count // held + 1), held)[:count]
    return tone(EARPHONE_TONE, EARPHONE_HZ, 15, envelope_dB=np.where(times(15) < 12.5, jumps, 0.0))


OFTEN = contact(0.15, 0.20, 1.0)
SELDOM = contact(0.8, 1.5, 1.0, "seldom")
AT_TIMES = [right_at_times(1.0, 2.2, "one"), right_at_times(3.0, 2.2, "three")]
assert all(0.02 < np.mean(e == 0.0) < 0.1 for e in AT_TIMES)
OPEN = contact(0.10, 0.04, 200.0, "open")
BLOCKS = dict(each=512, length=64)  # 12.5 % of the sound, 1.16 dB

CUT = r"\d.*(flat|clip|cut off)|(flat|clip|cut off).*\d"  # how many, or by how much
UNSTEADY = r"(level|gain|parts).*(kept|chang|jump|differ|moved|strays?|drift|settl|falls?|fell)|unsteady"
CASES = [
    on_reading("contact that loses 1 dB for over half of the take", lambda: earphone(OFTEN),
               [no_verdict(), says(UNSTEADY)]),
    on_reading("contact that loses 1 dB for 1.5 s at a time, for over half of the take", lambda: earphone(SELDOM),
               [no_verdict(), says_size(1.0, "dB", 0.3)]),
    on_reading("contact that loses 1 dB and is right for a twelfth of the take, less than half a second at a time",
               lambda: earphone(AT_TIMES[0]), [no_verdict(), says_size(1.0, "dB", 0.02, UNSTEADY + "|stood")]),
    on_reference("calibrator: contact that loses 3 dB and is right for a twelfth of the take",
                 lambda: calibrator(AT_TIMES[1]), [unfit(), says_size(3.0, "dB", 0.02, UNSTEADY + "|stood")],
                 true=CALIBRATOR_TONE),
    on_reading("contact open for a quarter of the take, 40 ms at a time", lambda: earphone(OPEN),
               [no_verdict(), says(r"[1-9]\d? ?%|drop-out|lost|not the tone")]),
    on_reference("calibrator: contact that loses 1 dB for over half of the take", lambda: calibrator(OFTEN), [unfit()],
                 true=CALIBRATOR_TONE),
    on_reading("64 samples of every 512 read nought", lambda: holes(earphone(), **BLOCKS),
               [no_verdict(), says_size(12.5, "%", 2.0)]),
    on_reading("level jumps every 0.4 s, and is still for the last 2.5 s of 15 s", still_at_last,
               [no_verdict(), says_size(15.0, "s", 0.2)]),
    on_reading("another tone, 6 dB below", lambda: beside(earphone(), EARPHONE_TONE - 6, 1733.0),
               [no_verdict(), says(r"\d ?% of the sound")]),
    on_reference("calibrator: 64 samples of every 512 read nought", lambda: holes(calibrator(), **BLOCKS),
                 [unfit(), says(r"drop-out|zero|lost|not the tone")], true=CALIBRATOR_TONE),
    on_reading("second tone 0.06 Hz beside, 12 dB below",
               lambda: beside(earphone(), EARPHONE_TONE - 12, EARPHONE_HZ + 0.06),
               [no_verdict(), says_size(2.4, "dB", 2.0, UNSTEADY)]),
    on_reference("calibrator of class 2: second tone 0.06 Hz beside, 12 dB below",
                 lambda: beside(calibrator(), CALIBRATOR_TONE - 12, 1000.10), [unfit(), says(r"dB")],
                 true=CALIBRATOR_TONE, class_="2"),
    on_reading("clipped by 1.5 dB, then turned down by 29.5 dB", lambda: turned_down(EARPHONE_HZ, 1.5, 29.5),
               [no_verdict(), says(CUT)]),
    on_reference("calibrator: clipped by 0.5 dB, then turned down by 9.81 dB", lambda: turned_down(1000.04, 0.5, 9.81),
                 [unfit(), says(CUT)], true=CALIBRATOR_TONE),
    on_reference("calibrator: the same in 16 bits", lambda: turned_down(1000.04, 0.5, 9.81),
                 [unfit(), says(CUT)], true=CALIBRATOR_TONE, bits=16),
    on_reference("calibrator through a soft limiter, distortion 2 %", lambda: of_soft_limiter(0.02, 1000.04, 0.34),
                 [says(r"linear"), has_term(r"linear.*assumed"), covered(), says_size(0.50, "dB", 0.03, "third")],
                 true=20 * np.log10(0.34)),
    on_reference("calibrator through a dead zone, third harmonic 1 %", lambda: of_dead_zone(0.01, 1000.04, 0.34),
                 [has_term(r"linear.*assumed"), covered(), says_size(0.26, "dB", 0.02, "third")],
                 true=20 * np.log10(0.34)),
    on_reference("calibrator through a cubic of 3 %, upwards", lambda: of_cubic(0.03, 1000.04, 0.34),
                 [has_term(r"linear.*assumed"), covered(), says_size(0.82, "dB", 0.03, "third")],
                 true=20 * np.log10(0.34)),
    on_reading("earphone through a soft limiter, distortion 4 %", lambda: of_soft_limiter(0.04, EARPHONE_HZ, 0.0398),
               [says_size(4.0, "%", 0.5, "distort")]),
    on_reference("calibrator: two levels in one take, 22 dB apart", lambda: two_levels(CALIBRATOR_TONE, 1000.04, 22.0),
                 [unfit(), says_size(22.0, "dB", 1.0)], true=CALIBRATOR_TONE),
    on_reading("two levels in one take, 22 dB apart", lambda: two_levels(EARPHONE_TONE, EARPHONE_HZ, 22.0),
               [no_verdict(), says_size(22.0, "dB", 1.0)]),
    on_reading("two levels in one take, 1.5 dB apart", lambda: two_levels(EARPHONE_TONE, EARPHONE_HZ, 1.5),
               [no_verdict(), says_size(1.5, "dB", 0.3)]),
    on_reference("calibrator: gain settles by 1.5 dB during the take, 3 s", lambda: calibrator(settling(1.5, 3.0)),
                 [unfit(), says(r"dB")], true=CALIBRATOR_TONE),
    on_reading("gain settles by 3 dB during the take, 3 s", lambda: earphone(settling(3.0, 3.0)),
               [no_verdict(), says(UNSTEADY)]),
    on_reading("tone glides from 400 to 620 Hz", lambda: gliding(400.0, 620.0),
               [no_verdict(), says(r"(tone|frequency).*(moves|moving|sweep|swept|glid|chang)"),
                never_says(r"mains|order of")]),
    on_reading("one drop-out of 1 ms, half a period", holed,
               [says(r"drop-out|zero"), says_size(1.0, "ms", 0.1)]),
    Case("levels: one drop-out of 1 ms, half a period", levels_with_hole,
         [exits(0), says(r"drop-out|zero"), says_size(1.0, "ms", 0.1)], referenced=True),
    on_reading("floats 3 dB beyond full scale", lambda: tone(3.0, EARPHONE_HZ, SECONDS),
               [figure("headroom -3.0 dB", lambda a: abs(a.json["tone"]["headroom_db"] + 3.0) < 0.05),
                figure("the verdict is no 'agrees'", lambda a: a.json["verdict"] != "agrees" and a.status == 1)],
               true=3.0),
]
