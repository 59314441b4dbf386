# SPDX-License-Identifier: GPL-3.0-or-later
"""Options of `couplet reference` on a good take that are wrong, and words that the sentence has to hold: part of
bad_calls.py."""

REFERENCE_OPTIONS = [
    ("reference", ("--level", "94dB"), "--coupler"),
    ("reference", ("--coupler", "bench"), "--level"),
    ("reference", ("--coupler", "bench", "--level", "94"), "--level: '94' has no unit"),
    ("reference", ("--coupler", "bench", "--calibrator", "lab"), "no calibrator 'lab'"),
    ("reference", ("--coupler", "bench", "--level", "94dB", "--class", "3"), "--class: "),
    ("reference", ("--coupler", "bench", "--level", "94dB", "--frequency", "1000"), "--frequency: '1000' has no unit"),
    ("reference", ("--coupler", "bench", "--level", "94dB", "--level-uncertainty", "-1dB"), "--level-uncertainty: "),
    ("reference", ("--coupler", "bench", "--level", "94dB", "--correction", "1.36"), "--correction: '1.36' has no unit"),
    ("reference", ("--coupler", "bench", "--level", "94dB", "--correction-uncertainty", "0.4dB"), "--correction"),
    ("reference", ("--coupler", "bench", "--level", "94dB", "--correction-includes-calibrator"), "--correction"),
    ("reference", ("--coupler", "bench", "--level", "94dB", "--pressure-law", "boyle"), "--pressure-law: "),
    ("reference", ("--coupler", "bench", "--level", "94dB", "--pressure", "986"), "--pressure: '986' has no unit"),
    ("reference", ("--coupler", "bench", "--level", "94dB", "--pressure", "0kPa"), "--pressure: '0kPa' must be"),
    ("reference", ("--coupler", "bench", "--level", "94dB", "--channel", "2"), "--channel 2 is not there"),
    ("reference", ("--coupler", "bench", "--level", "94dB", "--check", "--although-moved"), "--check stores nothing"),
]
