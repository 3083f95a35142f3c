"""How a head turns warm wax into travel, with the play between opening and closing."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Travel", "share"]


@dataclass(frozen=True, slots=True)
class Travel:
    """At which temperatures of its wax a stem starts, is fully lifted, starts back and is down again, all in degC."""

    moves: float
    full: float  # fully lifted; the end switch makes
    closes: float  # starts back; the end switch opens
    shut: float

    def __post_init__(self) -> None:
        if not (self.moves < self.full and self.shut < self.closes <= self.full and self.shut <= self.moves):
            raise ValueError(f"a stem cannot travel by {self}; it lifts from moves to full and comes back from closes to shut")

    def reached(self, stroke: float, wax: float) -> float:
        """The stroke, 0 to 1, of a stem that stood at `stroke` before the wax went to `wax` without turning back.

        Between the way up and the way down a stem stays where it is: that is the play.
        """
        up = (wax - self.moves) / (self.full - self.moves)
        down = (wax - self.shut) / (self.closes - self.shut)
        return max(share(up), min(stroke, share(down)))


def share(x: float) -> float:
    """A number held between 0 and 1."""
    return min(1.0, max(0.0, x))
