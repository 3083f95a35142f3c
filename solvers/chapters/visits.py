"""A drawn house that a question is asked about, and what the bench's own acts show there."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ..faults.changes import Change
from ..jobs.acts import Outcome, World, acted, arrival
from ..jobs.bench import entry
from ..jobs.job import Job, JobError
from ..jobs.sheet import Entry
from ..plant.wiring import Installation
from .chance import Chance
from .houses import built, recipe

__all__ = ["Visit", "amps_text", "house", "ohms_text", "visited", "visited_job", "volts_text"]

PLAIN_SHAPES: Mapping[str, float] = {"four-wire": 2.0, "three-wire direct": 1.0}
PLAIN_STATS: Mapping[str, float] = {"plain stat": 1.0}
PLAIN_BARS = ("internal limit", "breaker", "one-shot", "several taps", "grounded", "light switch", "50 Hz")


@dataclass(frozen=True, slots=True)
class Visit:
    """A house as somebody stands in it, with the log of what they have done; each act gives another visit."""

    world: World
    log: tuple[Entry, ...] = ()

    def after(self, act: Mapping[str, object]) -> Visit:
        """The visit one act later; raises JobError, or what the plant raises, for an act that cannot be done."""
        world, outcome = acted(self.world, act)
        return Visit(world, (*self.log, entry(act, world.state.time, outcome)))

    def shown(self, act: Mapping[str, object]) -> Outcome:
        """What one more act shows."""
        return acted(self.world, act)[1]

    def calling(self, *zones: str, on: bool = True) -> Visit:
        """The visit after the stats of these zones ("zone1") have been turned up, or down."""
        visit = self
        for zone in zones:
            visit = visit.after({"do": "call", "stat": f"{zone}.stat", "on": on})
        return visit

    def waited(self, seconds: float) -> Visit:
        """The visit so much later."""
        return self.after({"do": "wait", "seconds": seconds})

    def dead(self, part: str = "transformer") -> Visit:
        """The visit after a supply has been switched off."""
        return self.after({"do": "switch", "part": part, "on": False})

    def lifted(self, *terminals: str) -> Visit:
        """The visit after these leads have been lifted; a lead alone is then the point "<terminal> lead"."""
        visit = self
        for terminal in terminals:
            visit = visit.after({"do": "lift", "terminal": terminal})
        return visit

    def jumpered(self, first: str, second: str) -> Visit:
        """The visit after a jumper wire has been put on."""
        return self.after({"do": "jumper", "first": first, "second": second, "on": True})

    def volts(self, first: str, second: str, function: str = "volts") -> float:
        """Volts that the meter displays between two points; raises JobError where it displays none."""
        return self._value({"do": "measure", "function": function, "first": first, "second": second})

    def ohms(self, first: str, second: str) -> float:
        """Ohms that the meter displays, inf for OL; raises JobError on a live pair."""
        return self._value({"do": "measure", "function": "ohms", "first": first, "second": second})

    def amps(self, wire: str, turns: int = 10) -> float:
        """Amperes in a conductor, by a clamp with so many turns, each counted once."""
        return self._value({"do": "clamp", "wire": wire, "turns": turns})

    def _value(self, act: Mapping[str, object]) -> float:
        outcome = self.shown(act)
        if outcome.reading is None or outcome.reading.value is None:
            raise JobError(f"{act} shows no number: {outcome.text}")
        return outcome.reading.value


def visited(design: Installation, *changes: Change) -> Visit:
    """Somebody arrives at a house that differs from its design in these ways; raises what the changes raise."""
    there = design
    for change in changes:
        there = change.made(there)
    return Visit(arrival(design, there))


def visited_job(job: Job) -> Visit:
    """Somebody arrives at a job."""
    return Visit(arrival(job.design, job.actual))


def house(
    chance: Chance,
    zones: Sequence[int] = (1,),
    *,
    shapes: Mapping[str, float] = PLAIN_SHAPES,
    stats: Mapping[str, float] = PLAIN_STATS,
    needs: Sequence[str] = (),
    bars: Sequence[str] = PLAIN_BARS,
) -> Installation:
    """A house drawn for a question, plain unless asked otherwise; raises JobError where none has what is asked for."""
    barred = tuple(word for word in bars if word not in needs)
    what = recipe(chance, shapes, tuple(zones), stats, tuple(needs), barred)
    if what is None:
        raise JobError(f"no house of {list(shapes)} with {list(zones)} zones has {list(needs)} and not {list(barred)}")
    house = built(chance, what)
    return replace(house, name="the drawing")


def volts_text(volts: float) -> str:
    """Volts as a technician says them.

    >>> volts_text(24.84), volts_text(0.268), volts_text(0.0032), volts_text(0.0)
    ('24.8 V', '0.27 V', '3 mV', '0 V')
    """
    if volts < 0.0005:
        return "0 V"
    return f"{volts:.1f} V" if volts >= 1 else f"{volts:.2f} V" if volts >= 0.01 else f"{1000 * volts:.0f} mV"


def ohms_text(ohms: float) -> str:
    """Ohms as a technician says them, "OL" where there is no path.

    >>> ohms_text(28.63), ohms_text(1.8), ohms_text(math.inf)
    ('28.6 ohms', '1.8 ohms', 'OL')
    """
    return "OL" if math.isinf(ohms) else f"{ohms:.3g} ohms"


def amps_text(amps: float) -> str:
    """Amperes as a technician says them.

    >>> amps_text(0.8437), amps_text(0.0)
    ('0.84 A', '0 A')
    """
    return f"{amps:.2f} A" if amps >= 0.005 else "0 A"
