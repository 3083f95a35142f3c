"""What a person can say without a meter: a word for a band, both words near the edge between two, and when they disagree."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass

from .part import PartState, Seen
from .running import PlantState, seen
from .wiring import Installation

__all__ = ["AIR", "WARMTH", "Finding", "Place", "Scale", "Sense", "agree", "either", "graded", "said", "temperature", "together"]


@dataclass(frozen=True, slots=True)
class Sense:
    """One impression: the sentence a learner gets, and the part of it that evidence may rest on.

    The signal reads "head: hot; pipe: warm|hot": things, and the words that a person may find for each.
    """

    text: str
    signal: str


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing noticed: what, the words for it that a person may choose between, and the sentence."""

    what: str
    words: tuple[str, ...]
    text: str  # empty for what is not worth a sentence


@dataclass(frozen=True, slots=True)
class Scale:
    """Words for the bands of a quantity. Within `doubt` of a level people differ, so both words count there."""

    words: tuple[str, ...]
    levels: tuple[float, ...]  # rising, one between every two words
    doubt: float

    def spoken(self, low: float, high: float | None = None) -> tuple[str, ...]:
        """The words for a value, or for one that lies somewhere between two."""
        first = bisect_right(self.levels, low - self.doubt)
        last = bisect_right(self.levels, (low if high is None else high) + self.doubt)
        return self.words[first : last + 1]


@dataclass(frozen=True, slots=True)
class Place:
    """Where somebody stands: the installation in its state, and whether a thermometer is at hand."""

    installation: Installation
    state: PlantState
    thermometer: bool = True

    def of(self, part: str) -> PartState:
        """The state of a part."""
        return self.state.of(part)

    @property
    def values(self) -> Mapping[str, float]:
        """Temperatures and shares by name."""
        return self.state.values

    def degC(self, words: str, degC: float) -> str:
        """Words that hold a temperature as a thermometer shows it; "" for somebody who has none."""
        return words.format(temperature(degC)) if self.thermometer else ""

    def seen(self) -> Seen:
        """What the parts feel of one another now, amperes included."""
        return seen(self.installation, self.state)


WARMTH = Scale(("cold", "at room temperature", "warm", "hot"), (15.0, 30.0, 45.0), 2.0)
"""What a hand says of a head or a pipe, degC. Common practice, no source."""

AIR = Scale(("cold", "at room temperature", "hot"), (12.0, 32.0), 1.5)
"""What a person says of the air, degC. Common practice, no source."""


def together(*findings: Finding) -> Sense:
    """The findings of one look, listen or touch as one impression."""
    return Sense(
        " ".join(finding.text for finding in findings if finding.text),
        "; ".join(f"{finding.what}: {'|'.join(finding.words)}" for finding in findings),
    )


def agree(one: str, other: str) -> bool:
    """Whether two signals can be of the same thing: every thing noticed has a word in common.

    >>> agree("head: warm|hot", "head: hot"), agree("head: warm", "head: hot")
    (True, False)
    """
    first, second = _things(one), _things(other)
    return first.keys() == second.keys() and all(first[what] & second[what] for what in first)


def either(one: Sense, other: Sense) -> Sense:
    """What may be found where either of two impressions may be: the words of both, the first one's text.

    >>> either(Sense("Warm.", "case: warm"), Sense("Hot.", "case: hot; smell: none")).signal
    'case: warm|hot; smell: none'
    """
    found: dict[str, dict[str, None]] = {}
    for sense in (one, other):
        for thing in sense.signal.split("; "):
            what, _, words = thing.partition(": ")
            found.setdefault(what, {}).update(dict.fromkeys(words.split("|")))
    return Sense(one.text, "; ".join(f"{what}: {'|'.join(words)}" for what, words in found.items()))


def said(words: tuple[str, ...]) -> str:
    """Words in a sentence: "hot", or "between warm and hot"."""
    return words[0] if len(words) == 1 else f"between {words[0]} and {words[-1]}"


def graded(x: float, width: float, doubt: float) -> tuple[str, ...]:
    """The steps of so many units that a value may be read in, each by its lower edge.

    >>> graded(19.8, 2.0, 0.5)
    ('18 to 20', '20 to 22')
    """
    steps = range(math.floor((x - doubt) / width), math.floor((x + doubt) / width) + 1)
    return tuple(f"{step * width:g} to {(step + 1) * width:g}" for step in steps)


def temperature(degC: float, places: int = 0) -> str:
    """A temperature as a thermometer shows it: "71 °C (160 °F)"."""
    return f"{degC:.{places}f} °C ({degC * 9 / 5 + 32:.0f} °F)"


def _things(signal: str) -> dict[str, frozenset[str]]:
    found = {}
    for thing in signal.split("; "):
        what, _, words = thing.partition(": ")
        found[what] = frozenset(words.split("|"))
    return found
