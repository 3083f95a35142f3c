"""Changes that put something into an installation that no drawing has: a valve, a relay, a line-voltage conductor."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..plant.add_ons import CallRelay, SecondValve
from ..plant.line_voltage import LineTouch
from ..plant.parts import SpringReturnValve, Valve
from ..plant.wiring import Installation, WiringError

__all__ = ["CalledByStat", "LineTouched", "SecondValved"]


@dataclass(frozen=True, slots=True)
class SecondValved:
    """A quick motor-driven valve hangs on a zone's thermostat beside the valve that is drawn; see `plant.add_ons`."""

    name: str
    zone: str
    seen_at: str = ""
    words: str = ""

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises NoSuchTerminal, or WiringError where there is no valve to stand beside."""
        drawn = installation.part(f"{self.zone}.valve")
        if not isinstance(drawn, Valve):
            raise WiringError(f"{drawn.name!r} is no valve")
        ends = _on_the_stat(installation, self.zone)
        valve = SpringReturnValve(self.name, ambient_degC=drawn.ambient_degC)
        w, c, first, second = ends
        more = SecondValve(self.name, w, c, seen_at=self.seen_at, words=self.words, first=first, second=second, valve=valve)
        return replace(installation, parts=(*installation.parts, more))


@dataclass(frozen=True, slots=True)
class CalledByStat:
    """A relay on a zone's thermostat calls the boiler at once, without asking the valve; see `plant.add_ons`."""

    name: str
    zone: str
    seen_at: str = ""
    words: str = ""

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises NoSuchTerminal."""
        w, c, first, second = _on_the_stat(installation, self.zone)
        relay = CallRelay(self.name, w, c, seen_at=self.seen_at, words=self.words, first=first, second=second)
        return replace(installation, parts=(*installation.parts, relay))


@dataclass(frozen=True, slots=True)
class LineTouched:
    """A line-voltage conductor's bare copper lies against a 24-volt terminal; see `plant.line_voltage`."""

    name: str
    a: str  # terminal
    seen_at: str = ""
    words: str = ""

    def made(self, installation: Installation) -> Installation:
        """The installation so changed; raises NoSuchTerminal."""
        installation.landed(self.a)
        touch = LineTouch(self.name, self.a, seen_at=self.seen_at, words=self.words)
        return replace(installation, parts=(*installation.parts, touch))


def _on_the_stat(installation: Installation, zone: str) -> tuple[str, str, str, str]:
    """W of a zone, its place on the C bus, and its places on the two buses of the end switches."""
    ends = (f"{zone}.W splice.2", f"C bus.{zone}", f"EA bus.{zone}", f"EB bus.{zone}")
    for end in ends:
        installation.landed(end)  # raises with the terminals there are
    return ends
