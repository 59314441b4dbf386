# SPDX-License-Identifier: GPL-3.0-or-later
"""Wrong calls of `read` that concern what a drive and a rating are taken for; bad_calls.py makes them."""

RATED = ("--rating", "112.4dB/V", "--rating-frequency", "500Hz")
OPTIONS = [
    ("read", ("--drive-channel", "2", "--drive-full-scale", "2V"), "--drive-channel needs to say what it is: --across"),
    ("read", ("--drive", "1V"), "--drive needs to say what it is: --across"),
    ("read", ("--drive", "1V", "--across", "--source-impedance", "1ohm"), "--source-impedance and --across exclude"),
    ("read", ("--across",), "--across needs a drive beside it"),
    ("read", (*RATED, "--impedance", "24ohm", "--impedance-tolerance", "91%"), "outside 0 to 90 %"),
    ("read", (*RATED, "--impedance-tolerance", "10%"), "--impedance-tolerance needs --impedance beside it"),
    ("read", ("--earphone", "earphone S", "--impedance-tolerance", "10%"), "--impedance-tolerance needs --rating"),
    ("read", ("--offset-frequency", "1kHz"), "--offset-frequency needs --offset beside it"),
]
