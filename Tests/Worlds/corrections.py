# SPDX-License-Identifier: GPL-3.0-or-later
"""A correction that Fit changes, and what follows for the reference in force, the chart and the next reference."""

import json

from bench import CALIBRATOR_TONE, CORRECTED, CORRECTION, EARPHONE_HZ, EARPHONE_TONE, LEVEL, driven
from calibrators import PISTON
from case import Case
from promises import covered, exits, figure, fit, has_term, never_says, no_U, right, says, says_size, spoken
from sounds import tone

LAB = {"kind": "calibrator", "name": "lab", "version": 1, "class": 1, "pressureLaw": {"law": "none"},
       "tones": [{"frequency_Hz": 1000, "level_dB": LEVEL, "U_dB": 0.15}]}
PLAYED = {"kind": "earphone", "name": "earphone P", "version": 1,
          "rating": {"form": "per volt", "level_dB": 112.4, "tolerance_dB": 1, "frequency_Hz": 500,
                     "impedance_ohm": 24}}
OFFERED = ("--calibrator", "lab", "--frequency", "1000Hz")
FITTED = 1.96  # dB, what the readings below are made of


def readings(truth=FITTED, earphones=None):
    """Two fittings, an earphone that took part, and the same microphone behind its coupler at 113.30 dB."""
    lines = ["kind,name,level_db,expected_db,tolerance_db,expanded_uncertainty_db"]
    for name, scatter in (("cork sleeve", 0.03), ("silicone collar", 0.02)):
        lines += [f"direct,{name},{113.30 + truth + scatter * i:.3f},,," for i in (-1.3, -0.2, 0.4, 1.1)]
    lines += [f"through,,{113.30 + 0.02 * i:.3f},,," for i in (-1, 0, 1)]
    for name in ("earphone P", "earphone Q", "earphone R"):
        lines.append(f"earphone,{name},{94.0 + (truth if earphones is None else earphones):.2f},94.00,0.8,0.24")
    return "\n".join(lines) + "\n"


def furnish(bench):
    """The library of somebody who fits: the calibrator, the earphone, the readings, and a reference from before."""
    for item in (LAB, PLAYED):
        bench.folder.joinpath("item.json").write_text(json.dumps(item), encoding="utf-8")
        bench.run("library", "add", "item.json")
    bench.folder.joinpath("readings.csv").write_text(readings(), encoding="utf-8")
    reference(bench, CALIBRATOR_TONE, CORRECTED)


def reference(bench, level_dBFS, corrected=(), correction=CORRECTION, options=("--keep",)):
    return bench.reference(tone(level_dBFS, 1000.04, 7), *options, true=level_dBFS, calibrator=("--calibrator", "lab"),
                           corrected=corrected, certified=LEVEL - correction)


def fit_and_keep(bench):
    return bench.call("fit", "readings.csv", "--coupler", "bench", *OFFERED, "--keep")


def fitted(then):
    """A bench on which Fit has just changed the correction from 1.36 dB to about 1.96 dB."""
    def play(bench):
        furnish(bench)
        fit_and_keep(bench)
        return then(bench)

    return play


def reading(bench):
    """Still by the reference from before, whose offset stands as it was."""
    return bench.read(tone(EARPHONE_TONE, EARPHONE_HZ, 7), expected=("--earphone", "earphone P") + driven())


def reading_anew(bench):
    reference(bench, CALIBRATOR_TONE, correction=FITTED)
    answer = reading(bench)
    answer.error = None if answer.error is None else answer.error + FITTED - CORRECTION  # the new offset is lower
    answer.true -= FITTED - CORRECTION
    return answer


def next_reference(gain_dB, options=("--keep",)):
    return lambda bench: reference(bench, CALIBRATOR_TONE + gain_dB, correction=FITTED, options=options)


def checked(gain_dB):
    def then(bench):
        answer = next_reference(gain_dB, ("--check",))(bench)
        change = answer.json.get("change_db")
        return answer.against(-gain_dB, None if change is None else change + gain_dB, None, "dB change")

    return then


def with_columns(table):
    """The same readings, with their calibrator and frequency in columns of their own."""
    head, *lines = table.splitlines()
    full = [line + "," * (5 - line.count(",")) + ",lab,1000" for line in lines]
    return "\n".join([head + ",calibrator,frequency_hz", *full]) + "\n"


def keep_with(*options, table=readings):
    """Fit is to keep a correction, told by these options, or by the table, whose it is and where."""
    def play(bench):
        furnish(bench)
        bench.folder.joinpath("readings.csv").write_text(table(), encoding="utf-8")
        before = bench.coupler().get("correction")
        answer = bench.call("fit", "readings.csv", "--coupler", "bench", *options, "--keep")
        kept = bench.coupler().get("correction")
        answer.more.update(changed=kept != before, calibrator=kept.get("calibrator"), hertz=kept.get("frequency_Hz"))
        return answer

    return play


def of_nobody(bench):
    """A kept correction that does not say its calibrator, as an older library may hold it."""
    furnish(bench)
    bench.change_coupler(lambda c: c.update(correction={
        "value_dB": CORRECTION, "U_dB": 0.40, "origin": "fit", "includesCalibrator": True}))
    return reference(bench, CALIBRATOR_TONE, options=())


def of_no_frequency(bench):
    """The same at 250 Hz, where nobody knows it to hold."""
    furnish(bench)
    bench.change_coupler(lambda c: c.update(correction={
        "value_dB": CORRECTION, "U_dB": 0.20, "origin": "fit", "includesCalibrator": True, "calibrator": "lab"}))
    return bench.reference(tone(-6.0, 250.0, 7), true=-6.0, calibrator=PISTON, corrected=(),
                           certified=124.02 - CORRECTION)


def evidence(truth, earphones):
    def play(bench):
        bench.folder.joinpath("readings.csv").write_text(readings(truth, earphones), encoding="utf-8")
        call = ("readings.csv", "--calibrator-uncertainty", "0.15dB")
        answer = bench.call("fit", *call)
        answer.text = bench.run("fit", *call).stdout
        value, U = (answer.json.get(name) for name in ("correction_db", "expanded_uncertainty_db"))
        return answer.against(truth, None if value is None else value - truth, U, "dB correction")

    return play


NOT_KEPT = [exits(1, 2), figure("nothing is kept", lambda a: not a.more["changed"])]
KEPT = [exits(0), figure("it is kept with both", lambda a: (a.more["changed"], a.more["calibrator"], a.more["hertz"]) ==
                         (True, "lab", 1000))]
CASES = [
    Case("the correction changed after the reference: a reading", fitted(reading),
         [right(), says(r"reference.*correction|correction.*reference"), says_size(CORRECTION, "dB", 0.01)]),
    Case("earphone P took part in the new correction, the reference had another", fitted(reading),
         [exits(0), figure("the reading is proof", lambda a: a.json["took_part_in_correction"] is False)]),
    Case("earphone P took part in the correction of the reference", fitted(reading_anew),
         [right(0.1), figure("the reading is no proof", lambda a: a.json["took_part_in_correction"] is True)]),
    Case("the correction changed, the chain did not: next reference", fitted(next_reference(0.0)),
         [fit(), right(0.1), figure("within the limits", lambda a: a.json["within_control_limits"] is True),
          figure("change 0.00 dB", lambda a: abs(a.json["change_since_last_db"]) < 0.005),
          never_says(r"battery|gain was|was a gain")]),
    Case("the correction changed, the chain did not: --check", fitted(checked(0.0)),
         [exits(0), figure("it holds", lambda a: a.json["verdict"] == "holds"), right(0.005)]),
    Case("the chain lost what the correction gained: next reference", fitted(next_reference(CORRECTION - FITTED)),
         [exits(1), figure("outside the limits", lambda a: a.json["within_control_limits"] is False),
          says_size(FITTED - CORRECTION, "dB", 0.05)]),
    Case("the chain lost what the correction gained: --check", fitted(checked(CORRECTION - FITTED)),
         [exits(1), figure("it moved", lambda a: a.json["verdict"] == "moved"), right(0.005)]),
    Case("fit --keep without calibrator and frequency", keep_with(), NOT_KEPT),
    Case("fit --keep without a calibrator", keep_with("--frequency", "1000Hz", "--calibrator-uncertainty", "0.15dB"),
         [figure("nothing is kept, or it says that the certificate will count",
                 lambda a: not a.more["changed"] or bool(spoken(a, "calibrator.*certificate"))),
          says("calibrator")]),
    Case("good: fit --keep with both", keep_with(*OFFERED),
         KEPT),
    Case("good: fit --keep with both in the table", keep_with(table=lambda: with_columns(readings())),
         KEPT),
    Case("a kept correction without a calibrator: the next reference", of_nobody,
         [fit(), right(), has_term(r"^calibrator"), says(r"calibrator|certificate")]),
    Case("a kept correction without a frequency: a pistonphone at 250 Hz", of_no_frequency,
         [says(r"correction.*(frequency|Hz)|(frequency|Hz).*correction")]),
    Case("fittings say 1.96 dB, three earphones 6.0 dB", evidence(FITTED, 6.0),
         [exits(1), no_U(), figure("the first line says that they contradict each other", lambda a: "contradict" in
                                   a.text.splitlines()[0].lower()),
          figure("it does not say 'take off'", lambda a: not a.text.lstrip().startswith("Take"))]),
    Case("good: fittings and earphones agree", evidence(FITTED, None), [exits(0), covered(), right(0.1)]),
]
