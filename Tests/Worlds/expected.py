# SPDX-License-Identifier: GPL-3.0-or-later
"""What the earphone should do: its impedance, the coupler away from the reference, the drive, what is assumed; and the
exit status of `read`.

IEC 60268-7 8.2.1 b: the lowest modulus of the impedance may be 80 % of the rated value. IEC 60942:2017, 160 to 1250 Hz:
class 1 deviates by at most 0.25 dB, and the laboratory's U is at most 0.15 dB (second-hand, as in calibrators.py)."""

import numpy as np

from bench import CALIBRATOR_TONE, CORRECTED, EARPHONE_HZ, EARPHONE_TONE, OFFSET, driven, rated
from case import Case, on_reading
from promises import exits, figure, has_term, no_term, no_verdict, right, says, verdict
from sounds import tone

CLASS_LIMIT, LABORATORY_U = 0.25, 0.15


def earphone(level_dBFS=EARPHONE_TONE, frequency=EARPHONE_HZ):
    return lambda: tone(level_dBFS, frequency, 7, noise_dBFS=-95.0)


def divided(Z, R):
    return 20 * np.log10(Z / (Z + R))


def honest(share, source):
    """The tone of an earphone exactly as rated, 112.40 dB for 1 V, with `share` of its rated 32 ohm."""
    return 112.40 + 20 * np.log10(0.2) + divided(32 * share, source) - OFFSET


def never_differs():
    return figure("it does not 'differ'", lambda a: a.json["verdict"] in ("agrees", "too uncertain to say"))


def of_impedance(share, source, *more):
    """Behind a source. The level itself is right; what was expected of it takes the rated impedance."""
    level = honest(share, source)
    return on_reading(f"honest earphone, {100 * share - 100:+.0f} % of its rated impedance, behind {source} ohm",
                      earphone(level), [never_differs(), right(), has_term("impedance")], true=level,
                      expected=rated(impedance=32) + driven("200mV", source) + more)


def per_milliwatt(share):
    """Rated 105 dB for 1 mW into 32 ohm: for the e.m.f. behind 120 ohm that gives 1 mW to exactly 32 ohm (IEC 60268-7
    8.5.2, rated source after IEC 61938). Into the earphone as it is, the same e.m.f. leaves another voltage."""
    emf = np.sqrt(0.001 * 32) * (32 + 120) / 32
    level = 105 - 20 * np.log10(emf) - divided(32 * share, 120) + 20 * np.log10(0.05) - OFFSET
    return on_reading(f"rated for 1 mW, {100 * share - 100:+.0f} % of its rated impedance", earphone(level),
                      [never_differs(), right(), has_term("impedance")], true=level,
                      expected=rated("105dB/mW", impedance=32) + driven("50mV", 0))


def far_from_reference(frequency, promises):
    return on_reading(f"earphone at {frequency} Hz, reference at 1000 Hz", earphone(frequency=frequency), promises,
                      expected=rated(frequency=frequency) + driven())


def judged_with_coupler():
    return figure("no verdict, or the coupler's tolerance in U", lambda a: a.json["verdict"] is None or
                  has_term(r"coupler|60318").holds(a))


def by_class_alone(bench):
    return bench.reference(tone(CALIBRATOR_TONE, 1000.04, 7), "--class", "1", true=CALIBRATOR_TONE, calibrator=(
        "--level", "114.02dB", "--pressure-law", "none"), corrected=CORRECTED)


def u_of_class(answer):
    """Of the terms that speak of the calibrator: both, or one that holds both."""
    u = [t["standard_uncertainty_db"] for t in answer.json["budget"]
         if any(w in t["name"] + t["obtained"] for w in ("calibrator", "class", "laborator"))]
    return abs(np.hypot.reduce(u) - np.hypot(CLASS_LIMIT / np.sqrt(3), LABORATORY_U / 2)) < 0.001


def insertions_known(bench):
    """Three insertions gave their own scatter; the coupler keeps it."""
    bench.keep_reference("--insertion-uncertainty", "0.30dB")
    return bench.read(earphone()())


NO_KIND = ("--drive", "123.2mV", "--meter-accuracy", "0.5%")
CASES = [
    of_impedance(0.8, 120),
    of_impedance(1.2, 120),
    of_impedance(0.8, 32),
    of_impedance(1.0, 120),
    on_reading("-20 % of its rated impedance, which is stated to be exact", earphone(honest(0.8, 120)),
               [exits(1), right(), no_term("impedance")], true=honest(0.8, 120),
               expected=rated(impedance=32) + driven("200mV", 120) + ("--impedance-tolerance", "0%")),
    per_milliwatt(0.8),
    per_milliwatt(1.2),
    on_reading("rated for 1 mW: the choice is stated", earphone(), [says(r"1 mW|milliwatt")],
               expected=rated("96.2dB/mW") + driven()),
    far_from_reference(8000, [judged_with_coupler()]),
    far_from_reference(100, [judged_with_coupler()]),
    far_from_reference(1000, [verdict("agrees", 0), no_term(r"coupler.*toleran|60318")]),
    on_reading("the drive's kind is missing", earphone(), [figure(
        "no verdict, or refused", lambda a: a.status == 2 or (a.status == 1 and a.json["verdict"] is None)),
        says(r"across|open.circuit|terminals|source")], expected=rated() + NO_KIND),
    on_reading("good: the drive is across the earphone, as stated", earphone(), [verdict("agrees", 0), right()],
               expected=rated() + NO_KIND + ("--across",)),
    Case("calibrator by its class alone", by_class_alone, [exits(0), right(), figure(
        "u of the calibrator holds the class limit and the laboratory's U", u_of_class)]),
    on_reading("insertion was never repeated", earphone(), [exits(0), says(r"insert.*assumed|assumed.*insert")]),
    Case("good: insertion is known", insertions_known, [exits(0), figure(
        "it does not say 'assumed' of it", lambda a: not says(r"insert.*assumed|assumed.*insert").holds(a))]),
    on_reading("room pressure is not in a reading", earphone(), [exits(0), says(r"pressure")]),
    on_reading("exit status: agrees", earphone(), [verdict("agrees", 0), right()]),
    on_reading("exit status: differs", earphone(EARPHONE_TONE + 3.0), [verdict("differs", 1), right()],
               true=EARPHONE_TONE + 3.0),
    on_reading("exit status: too uncertain to say", earphone(), [verdict("too uncertain to say", 1), right()],
               options=("--largest-uncertainty", "0.5dB")),
    on_reading("exit status: cannot be judged, the tolerance is not stated", earphone(), [no_verdict(), right()],
               expected=rated()[:4] + rated()[6:] + driven()),
    on_reading("exit status: cannot be judged, another frequency", earphone(frequency=700.0), [no_verdict(), right()]),
    on_reading("exit status: nothing was expected", earphone(), [exits(0), right()], expected=()),
]
