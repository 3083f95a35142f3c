"""How a job was left: every fault treated or handed over, every zone proven, nothing of the learner's left behind."""

from __future__ import annotations

from dataclasses import dataclass

from .job import Job
from .leaving import LEFT, Left
from .treating import treated
from .working import Worked

__all__ = ["Closing", "closed"]

SHARES = (0.4, 0.3, 0.2, 0.1)
"""Of the callback risk: zones not proven, cause not treated, jumper or opener left, settings not as found."""


@dataclass(frozen=True, slots=True)
class Closing:
    """What would bring the van back."""

    unproven: tuple[str, ...]  # zones
    untreated: tuple[str, ...]  # ids of answers
    left: tuple[Left, ...]  # jumpers, openers, leads, supplies, settings
    zones: int  # in all

    @property
    def risk(self) -> float:
        """The callback risk, 0 to 1."""
        ways = (
            len(self.unproven) / self.zones,
            bool(self.untreated),
            self._holds(LEFT[:2]),
            self._holds(("thermostat", "setting")),
        )
        return sum(share * way for share, way in zip(SHARES, ways, strict=True))

    def _holds(self, kinds: tuple[str, ...]) -> bool:
        return any(one.kind in kinds for one in self.left)

    @property
    def grade(self) -> str:
        """Low, medium or high."""
        return "low" if self.risk < 0.1 else "medium" if self.risk <= 0.3 else "high"


def closed(job: Job, done: Worked, left: tuple[Left, ...]) -> Closing:
    """How a job stands at the end of its log."""
    untreated = tuple(answer for slot, answer in enumerate(job.answers) if not treated(job, done, slot))
    handed_over = any(job.suspect(answer).row.refer for answer in job.answers)
    wanted = () if handed_over else job.design.zones
    return Closing(tuple(zone for zone in wanted if zone not in done.proven), untreated, left, len(job.design.zones))
