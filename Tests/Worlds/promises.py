# SPDX-License-Identifier: GPL-3.0-or-later
"""What a case promises of the answer: a sentence, and whether it holds. Sentences of the product are looked through for
sizes and for words of the matter, never for their exact wording."""

import re

NUMBER = re.compile(r"([-+\u2212]?\d+(?:\.\d+)?)\s*(dB|%|ms|s|Hz|kHz|samples)?(?:FS)?(?!\w)")


class Promise:
    def __init__(self, sentence, holds, shows=None):
        self.sentence, self.holds, self.shows = sentence, holds, shows or (lambda answer: [])


def fit():
    return Promise("the reference is fit, exit 0", lambda a: a.json.get("fit_to_use") is True and a.status == 0)


def unfit():
    return Promise("the reference is not fit, exit 1", lambda a: a.json.get("fit_to_use") is False and a.status == 1,
                   lambda a: a.failed()[:2])


def verdict(word, status):
    return Promise(f"'{word}', exit {status}", lambda a: a.json.get("verdict") == word and a.status == status)


def no_verdict():
    return Promise("no verdict, exit 1", lambda a: "verdict" in a.json and a.json["verdict"] is None and a.status == 1)


def exits(*statuses):
    words = " or ".join(map(str, statuses))
    return Promise(f"exit {words}", lambda a: a.status in statuses)


def right(within=0.001):
    """The level. `error` counts from the truth of the world and not from a figure of the product."""
    return Promise(f"level within {within} dB", lambda a: a.error is not None and abs(a.error) <= within)


def covered():
    return Promise("the error lies within U", lambda a: None not in (a.error, a.U) and abs(a.error) <= a.U)


def has_U():
    return Promise("there is a U", lambda a: a.U is not None)


def no_U():
    return Promise("there is no U", lambda a: a.status != 2 and a.U is None)


def spoken(answer, words):
    return [s for s in answer.sentences() if re.search(words, s, re.IGNORECASE)]


def says(words):
    return Promise(f"it says /{words}/", lambda a: bool(spoken(a, words)), lambda a: spoken(a, words)[:1])


def never_says(words):
    return Promise(f"it does not say /{words}/", lambda a: a.status != 2 and not spoken(a, words),
                   lambda a: spoken(a, words)[:1])


def sizes(sentence, unit):
    return [float(n.replace("\u2212", "-")) for n, u in NUMBER.findall(sentence) if u == unit]


def says_size(size, unit, within, words="."):
    """A sentence with a size near the true one; `within` is in the same unit."""
    def sized(answer):
        return [s for s in spoken(answer, words) if any(abs(abs(n) - size) <= within for n in sizes(s, unit))]

    matter = "" if words == "." else f" of /{words}/"
    return Promise(f"it says {size:.3g} {unit} (within {within:.2g}){matter}", lambda a: bool(sized(a)),
                   lambda a: sized(a)[:1])


def has_term(words):
    """Among the terms of the budgets."""
    return Promise(f"a term of U is /{words}/", lambda a: any(re.search(words, t, re.IGNORECASE) for t in a.budget()))


def no_term(words):
    return Promise(f"no term of U is /{words}/",
                   lambda a: bool(a.budget()) and not any(re.search(words, t, re.IGNORECASE) for t in a.budget()))


def figure(sentence, holds):
    """Any other figure: `holds` gets the answer, and a figure that is not there breaks the promise."""
    def safely(answer):
        try:
            return bool(holds(answer))
        except (KeyError, TypeError, IndexError):
            return False

    return Promise(sentence, safely)
