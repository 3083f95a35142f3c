"""What a story consists of: a call in the customer's words, a house, what is wrong there, and the trap in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ..faults.fault import Row
from ..plant.wiring import Installation

__all__ = ["Story", "Wrong"]


@dataclass(frozen=True, slots=True)
class Wrong:
    """One thing that is wrong: a row of the catalogue, where it sits, and how much of it there is."""

    row: str
    zone: str = ""  # "" for one of the whole house
    place: str = ""
    size: float | None = None

    @property
    def suspect(self) -> str:
        """What its suspect goes by, where no other row shares it."""
        return " ".join(word for word in (self.row, self.zone, self.place) if word)


@dataclass(frozen=True, slots=True)
class Story:
    """One call-out, the same for everybody. Par and minutes are common practice and no source; the course reckons its own par."""

    number: int
    title: str
    note: str  # what the customer said to whoever took the call
    setting: str  # what is known of the house
    harmless: tuple[str, ...]  # true, told, and not the cause
    rooms: tuple[str, ...]  # by zone
    zone: str  # the one that the call is about
    house: Installation  # as it should be, with the harmless oddities in it
    wrong: tuple[Wrong, ...]
    offered: tuple[str, ...]  # ids of suspects
    trap: str  # the act that seems to cure it, and what it leaves
    practice_par: int  # readings
    minutes: int  # of thought
    more_objectives: tuple[str, ...] = ()  # beside those of its rows
    own_rows: Mapping[str, Row] = field(default_factory=dict)  # in the place of the catalogue's rows of these ids
