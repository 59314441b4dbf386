# SPDX-License-Identifier: GPL-3.0-or-later
"""One case of the table: what is wrong on the bench, how it is measured, and what the answer must be."""

from dataclasses import dataclass
from typing import Callable

from bench import Answer, Bench


@dataclass
class Case:
    fault: str  # what is wrong; also the key of the answers that were noted before
    play: Callable[[Bench], Answer]
    promises: list
    referenced: bool = False  # the bench has a good reference already

    def kept(self, answer):
        """Sentences of the promises that do not hold."""
        return [p.sentence for p in self.promises if not p.holds(answer)]


def on_reference(fault, x, promises, **more):
    """The take of a calibrator. `x` is called, so that samples are there only while they are needed."""
    class_ = more.pop("class_", "1")
    options = more.pop("options", ())
    return Case(fault, lambda b: b.reference(x(), "--class", class_, *options, **more), promises)


def on_reading(fault, x, promises, **more):
    """The take of an earphone, on a bench that has a good reference."""
    options = more.pop("options", ())
    return Case(fault, lambda b: b.read(x(), *options, **more), promises, referenced=True)
