"""A job: a design, what is really there, the story, and the answers a learner may give."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ..faults.fault import Fault, Suspect
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
    fault: Fault
    suspects: tuple[Suspect, ...]
    answer: str  # id of the suspect that holds the fault
    objectives: tuple[str, ...]

    @property
    def id(self) -> str:
        """What a sheet names the job by."""
        return f"{self.chapter}/{self.level}/{self.seed}"

    @property
    def actual(self) -> Installation:
        """What is really there."""
        return planted(self.design, self.fault)

    def suspect(self, id: str) -> Suspect:
        """The suspect of that id; raises JobError with the ids there are."""
        for suspect in self.suspects:
            if suspect.id == id:
                return suspect
        raise JobError(f"no suspect {id!r}; there are {[suspect.id for suspect in self.suspects]}")
