# SPDX-License-Identifier: GPL-3.0-or-later
"""Calibrators that wobble, inside their class and beyond it.

Limits: IEC 60942:2017, 160 to 1250 Hz. Short-term level fluctuation (as F) 0.07 dB in class 1, 0.15 dB in class 2;
frequency 0.7 and 1.7 %; total distortion 2.5 and 3.0 % (second-hand, Tests/Published/iec60942_2017_limits.csv). The
spectra of motors are this test's own, no source."""

import numpy as np

import sounds
from bench import CALIBRATOR_TONE as LEVEL
from case import Case, on_reference
from promises import fit, right, says_size, unfit
from sounds import swing

SECONDS = 13  # between calm ends of 0.5 s each wobble has a whole number of periods
PISTON = ("--level", "124.02dB", "--level-uncertainty", "0.10dB", "--frequency", "250Hz", "--pressure-law", "piston",
          "--pressure", "101.325kPa", "--class", "1")


def wobbling(fault, class_, promises, am=(0.0, 1.0), fm=(0.0, 1.0)):
    """am: dB and times a second; fm: relative and times a second."""
    envelope = swing(*am, SECONDS)

    def x():
        return sounds.tone(LEVEL, 1000.0, SECONDS, envelope_dB=envelope, speed=swing(*fm, SECONDS))

    trues = [LEVEL + mean for mean in sounds.levels_of(envelope)]
    return on_reference(fault, x, promises, class_=class_, true=trues)


def inside(class_, am=(0.0, 1.0), fm=(0.0, 1.0)):
    parts = []
    if am[0]:
        parts.append(f"level wobbles by {am[0]:g} dB at {am[1]:g} Hz")
    if fm[0]:
        parts.append(f"speed wobbles by {100 * fm[0]:g} % at {fm[1]:g} Hz")
    return wobbling(f"class {class_}: {', '.join(parts)}", class_, [fit(), right()], am, fm)


def beyond(class_, limit_dB, am):
    """Refused with the size of what the F level does, or of the wobble itself."""
    size = sounds.fluctuation(swing(*am, SECONDS))
    assert size > 1.2 * limit_dB
    middle, half = (size + am[0]) / 2, (am[0] - size) / 2 + 0.15 * size
    return wobbling(f"class {class_}, limit {limit_dB} dB: level wobbles by {am[0]:g} dB at {am[1]:g} Hz", class_,
                    [unfit(), says_size(middle, "dB", half)], am)


def piston(fault, x):
    """A pistonphone: 124.02 dB at 250 Hz, its tone at -6 dBFS."""
    return Case(fault, lambda b: b.reference(x(), true=-6.0, calibrator=PISTON, certified=124.02 - 1.36,
                                             corrected=("--correction", "1.36dB", "--correction-uncertainty", "0.2dB")),
                [fit(), right()])


def motor(slope, highest, speed=1e-5):
    """The speed of a motor; `speed` is its RMS noise, relative."""
    return speed * sounds.shaped_noise(SECONDS, slope, 0.1, highest, name=f"motor {slope} {highest}")


def motor_driven(noise):
    return sounds.tone(-6.0, 250.0, SECONDS, speed=noise)


def as_built():
    """Distortion 1.9 %, ripple of the cam 12.5 times a second, a motor that hunts, and a belt's slow swing in level."""
    ripple = swing(0.03, 12.5, SECONDS) + swing(0.02, 0.25, SECONDS)
    speed = 5e-4 * np.sin(2 * np.pi * 0.8 * sounds.times(SECONDS)) + motor(2.0, 20.0, 1e-4)
    x = sounds.with_harmonics(0.0, 250.0, SECONDS, [0.018, 0.006, 0.002], noise_dBFS=-300.0, speed=speed)
    return sounds.hiss(sounds.amplitude(-6.0 + ripple) * x, -85.0)


CASES = [
    inside("1", am=(0.05, 0.25)),
    inside("1", am=(0.06, 1.0)),
    inside("1", am=(0.05, 5.0)),
    inside("1", am=(0.12, 5.0)),
    inside("2", am=(0.14, 0.5)),
    inside("2", am=(0.30, 5.0)),
    inside("1", fm=(5e-6, 1.0)),
    inside("1", fm=(1e-3, 0.5)),
    inside("1", fm=(5e-3, 0.5)),
    inside("1", fm=(2e-3, 4.0)),
    inside("2", fm=(1.4e-2, 0.25)),
    inside("1", am=(0.05, 0.75), fm=(3e-3, 0.5)),
    inside("2", am=(0.12, 1.0), fm=(1e-2, 1.0)),
    piston("class 1, motor-driven: speed noise of 0.001 %, white to 5 Hz", lambda: motor_driven(motor(0.0, 5.0))),
    piston("class 1, motor-driven: speed noise of 0.001 %, as 1/f", lambda: motor_driven(motor(1.0, 50.0))),
    piston("class 1, motor-driven: speed noise of 0.02 %, as 1/f^2", lambda: motor_driven(motor(2.0, 50.0, 2e-4))),
    piston("class 1 pistonphone as built: harmonics, cam's ripple, hunting motor", as_built),
    beyond("1", 0.07, (0.12, 0.5)),
    beyond("1", 0.07, (0.12, 1.0)),
    beyond("1", 0.07, (0.30, 0.25)),
    beyond("2", 0.15, (0.30, 1.0)),
    on_reference("class 1, limit 0.7 %: 1 % too fast", lambda: sounds.tone(LEVEL, 1010.0, SECONDS),
                 [unfit(), says_size(1010.0, "Hz", 0.5)], true=LEVEL),
]
