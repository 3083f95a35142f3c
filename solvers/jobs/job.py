"""A job: a design, what is really there, the story, and the answers a learner may give."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ..faults.fault import Fault, Row, Suspect
from ..faults.planting import planted
from ..plant.wiring import Installation

__all__ = ["Job", "JobError"]


class JobError(ValueError):
    """A job was asked for, or worked on, in a way it does not allow; the message shows the value and the choices."""


@dataclass(frozen=True, slots=True)
class Job:
    """One fault-finding call. Everything in it follows from chapter, level and seed."""

    chapter: str
    level: int
    seed: str
    title: str
    story: str
    rooms: Mapping[str, str]  # zone -> room
    zone: str  # the zone that is complained of
    design: Installation  # as it should be
    faults: tuple[Fault, ...]  # one or two; one that changes nothing where nothing is wrong
    suspects: tuple[Suspect, ...]
    answers: tuple[str, ...]  # ids of the suspects that hold the faults, in their order
    objectives: tuple[str, ...]
    drawing: str = "ladder"  # what the learner is given: "ladder", or "wires" as found
    difficulty: float = 0.0  # index; see chapters.drawing

    @property
    def id(self) -> str:
        """What a sheet names the job by."""
        return f"{self.chapter}/{self.level}/{self.seed}"

    @property
    def actual(self) -> Installation:
        """What is really there."""
        there = self.design
        for fault in self.faults:
            there = planted(there, fault)
        return there

    def given(self, slot: int) -> Installation:
        """The design with every fault but this one: what a claim about the one is held against."""
        there = self.design
        for number, fault in enumerate(self.faults):
            if number != slot:
                there = planted(there, fault)
        return there

    def rivals(self, slot: int) -> tuple[Suspect, ...]:
        """The suspects for one of the faults: all but those that hold another."""
        taken = {answer for number, answer in enumerate(self.answers) if number != slot}
        return tuple(suspect for suspect in self.suspects if suspect.id not in taken)

    def repairs_of(self, row: Row, fault: Fault) -> tuple[tuple[Mapping[str, object], ...], ...]:
        """The series of acts any of which ends a fault of this row where it sits."""
        place = next(place for place in row.places if place.words == fault.place)
        zone, zones = fault.zone or self.zone, self.design.zones
        return row.repaired_by(zone, place, zones[(zones.index(zone) + 1) % len(zones)])

    def suspect(self, id: str) -> Suspect:
        """The suspect of that id; raises JobError with the ids there are."""
        for suspect in self.suspects:
            if suspect.id == id:
                return suspect
        raise JobError(f"no suspect {id!r}; there are {[suspect.id for suspect in self.suspects]}")
