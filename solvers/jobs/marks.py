"""A marked sheet: points by criterion, each with its reasons, and what a machine may and may not give."""

from __future__ import annotations

from dataclasses import dataclass, replace

from .closing import Closing

__all__ = ["MACHINE_POINTS", "MarkLine", "Marks"]

MACHINE_POINTS = 90
"""Out of 100; the explanation's 10 points are a person's to give."""


@dataclass(frozen=True, slots=True)
class MarkLine:
    """One criterion: its points (None where a person gives them) and why, in sentences."""

    criterion: str
    points: float | None
    out_of: float
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Marks:
    """A marked sheet."""

    lines: tuple[MarkLine, ...]
    flags: tuple[str, ...]  # for a talk with the learner; they change no points
    readings: float  # what the log's readings count
    par: float
    right: bool
    argued: bool  # the learner's own readings rule out the nearest look-alike
    gates: tuple[str, ...]  # acts that no job excuses
    cap: float  # most points that can be given
    closing: Closing
    objectives: tuple[str, ...]  # shown by this sheet
    feedback: tuple[str, ...]  # what a good instructor would say, in that order

    @property
    def points(self) -> float:
        """Machine points given, of MACHINE_POINTS."""
        return min(self.cap, sum(line.points or 0.0 for line in self.lines))

    def told(self, feedback: tuple[str, ...]) -> Marks:
        """The same marks with what is said about them."""
        return replace(self, feedback=feedback)
