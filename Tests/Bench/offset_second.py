# SPDX-License-Identifier: GPL-3.0-or-later
"""U of offsets by numpy, in the manner of JCGM 101:2008: four million draws of everything that the level of full scale depends
on, and half of the central 95.45 % of what comes out. TestOffsetSecond holds these figures against the budget's.

    /usr/bin/python3 Tests/Bench/offset_second.py"""

import numpy as np

DRAWS, SEED, COVERED = 4_000_000, 20080101, 0.9545


def half_interval(values):
    low, high = np.quantile(values, [0.5 - COVERED / 2.0, 0.5 + COVERED / 2.0])
    return (high - low) / 2.0


def level(amplitude):
    return 20.0 * np.log10(amplitude)


def linearity(random, measured, certified, first, second):
    """The step that was heard misses the certified one; both tones scatter, at twice their deviation."""
    half = np.sqrt((measured - certified) ** 2 + 4.0 * (first**2 + second**2))
    return random.uniform(-half, half, DRAWS)


def common(random, seating, drift, reading):
    return sum(random.normal(0.0, u, DRAWS) for u in (seating, drift, reading))


def corrected(random):
    """A correction of U 0.45 dB that holds the calibrator; a second level that is 0.01 dB off."""
    lost = 10.0 ** ((1.36 + random.normal(0.0, 0.45 / 2.0, DRAWS)) / 20.0)
    return -level(lost) + common(random, 0.05, 0.02, 0.004) + linearity(random, 19.98, 19.99, 0.004, 0.004)


def piston(random):
    """A bare microphone in a piston source, U 0.10 dB, at 98.6 kPa by a barometer good to 0.5 kPa; a second level that is
    0.09 dB off, which is most of it."""
    static = (98.6 + random.normal(0.0, 0.5, DRAWS)) / 101.325
    return (level(static) + random.normal(0.0, 0.10 / 2.0, DRAWS) + common(random, 0.03, 0.01, 0.01)
            + linearity(random, 19.90, 19.99, 0.01, 0.02))


def both(random):
    """A correction of U 0.20 dB without the calibrator and a certificate of U 0.15 dB; five seatings of -9.30, -9.36, -9.31,
    -9.33 and -9.28 dBFS, whose mean is off by their deviation times Student's t of four degrees of freedom (JCGM 101:2008
    6.4.9.4)."""
    seatings = np.array([-9.30, -9.36, -9.31, -9.33, -9.28])
    mean = seatings.std(ddof=1) / np.sqrt(5.0) * random.standard_t(4, DRAWS)
    reading = np.sqrt(5 * 0.004**2) / 5.0
    return (random.normal(0.0, 0.20 / 2.0, DRAWS) + random.normal(0.0, 0.15 / 2.0, DRAWS) + mean
            + random.normal(0.0, 0.02, DRAWS) + random.normal(0.0, reading, DRAWS)
            + linearity(random, 19.99, 19.99, reading, 0.004))


if __name__ == "__main__":
    for case in (corrected, piston, both):
        print(f"{case.__name__:10} U = {half_interval(case(np.random.default_rng(SEED))):.4f} dB")
