"""What a learner is asked before power: which lead is which, what a meter will show, what can be said of it. All solved."""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from ..circuit import Meter, ohms_reading, volts_between
from ..plant.electrics import network
from ..plant.parts import Boiler, Transformer, Valve
from ..plant.wiring import Conductor, Installation
from .behaviour import judged_as, poses

__all__ = ["Choice", "Leads", "Ohms", "Question", "Reading", "lead_ohms", "leads_found"]

LETTERS = "abcdefgh"


@dataclass(frozen=True, slots=True)
class Question:
    """One question. `share` is how much of an answer is right, 0 to 1, for the wiring that it is asked of."""

    id: str

    before: ClassVar[bool] = True

    def share(self, installation: Installation, answer: object, seed: str) -> float:
        """How much of the answer is right."""
        raise TypeError(f"{type(self).__name__} does not say how an answer is judged")


@dataclass(frozen=True, slots=True)
class Leads(Question):
    """Which lead of a valve is which, by ohms; the answer gives each of 'lead a', 'lead b' … its name.

    The two leads of a heater or motor may be exchanged, and so may the two of a switch of their own.
    """

    valve: str

    def share(self, installation: Installation, answer: object, seed: str) -> float:
        if not isinstance(answer, Mapping):
            return 0.0
        right = leads_found(installation.part(self.valve), seed)
        alike = {"HA": "heater", "HB": "heater", "EA": "switch", "EB": "switch"}
        kinds = {lead: alike.get(name, name) for lead, name in right.items()}
        given = {lead: alike.get(str(answer.get(lead, "")), str(answer.get(lead, ""))) for lead in right}
        return sum(given[lead] == kind for lead, kind in kinds.items()) / len(kinds)


@dataclass(frozen=True, slots=True)
class Reading(Question):
    """What volts stand between two terminals with these stats calling, on the wiring as it was made; within 0.5 V."""

    words: str
    first: str
    second: str
    calls: tuple[str, ...] = ()

    within: ClassVar[float] = 0.5

    def expected(self, installation: Installation) -> float:
        """The volts, solved."""
        here = judged_as(installation)
        seen = poses(here, self.calls)
        return volts_between(network(here, seen.state.parts), self.first, self.second, Meter().volts_ohms)

    def share(self, installation: Installation, answer: object, seed: str) -> float:
        if isinstance(answer, bool) or not isinstance(answer, int | float):
            return 0.0
        return float(abs(answer - self.expected(installation)) <= self.within)


@dataclass(frozen=True, slots=True)
class Ohms(Question):
    """What an ohmmeter shows between two terminals with the power off; within a tenth, or an ohm. Infinity is 'OL'."""

    words: str
    first: str
    second: str

    def expected(self, installation: Installation) -> float | str:
        """The display, or 'OL'."""
        here = judged_as(installation)
        off = [part.name for part in here.parts if isinstance(part, Transformer | Boiler)]
        seen = poses(here, (), off=off)
        live, dead = (network(here, seen.state.parts, (), hz) for hz in (None, 0.0))
        reading = ohms_reading(live, dead, self.first, self.second)
        return reading.value if reading.value < 1e6 else "OL"

    def share(self, installation: Installation, answer: object, seed: str) -> float:
        right = self.expected(installation)
        if right == "OL" or isinstance(answer, bool) or not isinstance(answer, int | float):
            return float(answer == right)
        return float(abs(answer - right) <= max(1.0, 0.1 * right))


@dataclass(frozen=True, slots=True)
class Choice(Question):
    """A judgement that no circuit can give: one of several sentences."""

    words: str
    choices: tuple[str, ...]
    right: str

    def share(self, installation: Installation, answer: object, seed: str) -> float:
        return float(answer == self.right)


def leads_found(valve: Valve, seed: str) -> dict[str, str]:
    """Which lead of an unmarked valve is which: 'lead a' to the name in the trade, drawn from the seed."""
    names = list(valve.LEADS[valve.leads])
    order = sorted(names, key=lambda name: random.Random(f"{seed}/leads of {valve.name}/{name}").random())
    return {f"lead {letter}": name for letter, name in zip(LETTERS, order, strict=False)}


def lead_ohms(valve: Valve, seed: str, first: str, second: str, *, made: bool = False) -> float:
    """Ohms between two unmarked leads of a valve on the bench, its end switch made or not; inf for OL.

    Cold, a three-wire valve shows only which lead is E; with the switch made H and S part too.
    """
    found = leads_found(valve, seed)
    ends = [f"{valve.name}.{found[lead]}" for lead in (first, second)]
    posts = Transformer("bench")  # a circuit needs a part besides; nothing is joined to it
    here = Installation("on the bench", (posts, valve), (Conductor("bench wire", "bench.R", "bench.C", 1.0),))
    seen = poses(here, (), (valve.name,) if made else (), off=("bench",))
    live, dead = (network(here, seen.state.parts, (), hz) for hz in (None, 0.0))
    return ohms_reading(live, dead, *ends).value
