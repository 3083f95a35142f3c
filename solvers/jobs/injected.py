"""One fault put into a learner's own wiring after it works: what will fail, or what will a meter show? Solved, not looked up."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass

from ..circuit import OPEN, Meter, volts_between
from ..plant.electrics import network
from ..plant.parts import Stat, Valve
from ..plant.wiring import Installation
from .behaviour import judged_as, poses
from .criteria import WORKS_VOLTS
from .findings import listed, said
from .wireup import WireUp
from .wiring_answer import Wire, Wiring

__all__ = ["Injected", "injected"]

WITHIN_VOLTS = 1.0


@dataclass(frozen=True, slots=True)
class Injected:
    """A fault and what is asked about it: the zones that then fail, or the volts between two terminals."""

    wire: str
    words: str
    asks: str  # "zones" or "volts"
    zones: tuple[str, ...] = ()
    volts: float = 0.0

    @property
    def told(self) -> str:
        """What really happens."""
        if self.asks == "zones":
            return (
                f"{listed(said(zone) for zone in self.zones)} {'fails' if len(self.zones) == 1 else 'fail'}"
                if self.zones
                else "none fails"
            )
        return f"{self.volts:.1f} V"

    def share(self, answer: object) -> float:
        """How much of an answer is right: zones by name, all or nothing; volts within one."""
        if self.asks == "zones":
            return float(isinstance(answer, list | tuple) and sorted(map(str, answer)) == sorted(self.zones))
        right = isinstance(answer, int | float) and not isinstance(answer, bool) and abs(answer - self.volts) <= WITHIN_VOLTS
        return float(right)


def injected(task: WireUp, wiring: Wiring, seed: str) -> Injected:
    """The fault that a seed puts into a wiring: one conductor opens. Neither order nor names of wires decide which.

    With several zones it is asked which of them fail, heater or call of the boiler; with one, what stands across a pair.
    """
    installation = judged_as(task.made(wiring))
    ordered = sorted(wiring.wires, key=_ends)
    wire = _drawn(ordered, f"{task.id}/{seed}/injected fault")
    broken = installation.with_conductor(wire.name, ohms=OPEN)
    where = " to ".join(said(end) for end in _ends(wire))
    if len(installation.zones) > 1:
        words = f"The conductor from {where} opens. Which zones fail?"
        return Injected(wire.name, words, "zones", zones=_failing(installation, broken))
    stat = next(part for part in installation.parts if isinstance(part, Stat))
    pair = (f"{stat.name}.R", f"{stat.name}.W")
    seen = poses(broken, ())
    shown = volts_between(network(broken, seen.state.parts), *pair, Meter().volts_ohms)
    words = f"The conductor from {where} opens. What does a meter show across {said(stat.name)} while it does not call?"
    return Injected(wire.name, words, "volts", volts=shown)


def _failing(whole: Installation, broken: Installation) -> tuple[str, ...]:
    """The zones that heat and call in the whole installation and do not in the broken one."""
    return tuple(zone for zone in whole.zones if _works(whole, zone) and not _works(broken, zone))


def _works(installation: Installation, zone: str) -> bool:
    valve: Valve = installation.part(f"{zone}.valve")
    seen = poses(installation, (f"{zone}.stat",), (valve.name,) if valve.switch_pair else ())
    boilers = bool(seen.fired) or not valve.switch_pair
    return seen.volts[valve.name] >= WORKS_VOLTS and boilers


def _ends(wire: Wire) -> tuple[str, str]:
    return (wire.a, wire.b) if wire.a <= wire.b else (wire.b, wire.a)


def _drawn(wires: Sequence[Wire], stream: str) -> Wire:
    return wires[int(random.Random(stream).random() * len(wires))]
