"""What a learner leaves behind: everything that is not as it was found and that nobody will put back."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from ..plant.light_switch import LightSwitch
from ..plant.parts import Breaker, Fuse, Loop, Stat, Transformer, Valve
from ..plant.wiring import Installation
from .admitting import is_supply
from .world import World

__all__ = ["LEFT", "Left", "left_behind"]

LEFT = ("jumper", "opener", "lead", "supply", "thermostat", "setting", "service valve", "protection", "cover")
"""The kinds of thing that can be left behind."""


@dataclass(frozen=True, slots=True)
class Left:
    """One thing left behind."""

    kind: str  # one of LEFT
    name: str  # part, terminal or pair of points
    words: str  # "the opener of zone1.valve is still engaged"


def left_behind(job_design: Installation, world: World) -> tuple[Left, ...]:
    """Everything left undone against the drawing, in the order of LEFT. What was made safe is meant to be off."""
    found = [*_by_hand(world), *_parts(job_design, world)]
    return tuple(sorted(found, key=lambda left: LEFT.index(left.kind)))


def _by_hand(world: World) -> Iterator[Left]:
    for first, second in world.jumpers:
        yield Left("jumper", f"{first} to {second}", f"a jumper is still on from {first} to {second}")
    for terminal in world.state.lifted:
        yield Left("lead", terminal, f"the lead at {terminal} is still lifted")
    for name in () if world.stopped else world.uncovered:
        yield Left("cover", name, f"the cover of {name} is still off")


def _parts(design: Installation, world: World) -> Iterator[Left]:
    for drawn in design.parts:
        part, state, name = world.installation.part(drawn.name), world.state.of(drawn.name), drawn.name
        if (is_supply(drawn) or isinstance(drawn, LightSwitch)) and not state.on and not world.stopped:
            yield Left("supply", name, f"the {name} is still switched off")
        if isinstance(drawn, Valve) and state.engaged and not drawn.engaged:
            yield Left("opener", name, f"the opener of {name} is still engaged")
        if isinstance(drawn, Stat) and state.turned == "up":
            yield Left("thermostat", name, f"{name} is still turned up")
        if isinstance(drawn, Loop) and drawn.flows and not part.flows:
            yield Left("service valve", name, f"the service valve of {name} is still shut")
        if isinstance(drawn, Breaker | Fuse) and part.amps > drawn.amps and not math.isclose(part.amps, drawn.amps):
            yield Left("protection", name, f"{name} is of {part.amps:g} A where {drawn.amps:g} A belong")
        if isinstance(drawn, Transformer | Breaker) and state.tripped:
            yield Left("supply", name, f"the breaker of {name} is still out")
        for what, values in drawn.settings().items():
            if any(_reads(part, what, value) != _reads(drawn, what, value) for value in values):
                yield Left("setting", name, f"{what} of {name} is not as drawn")


def _reads(part: object, what: str, value: object) -> bool:
    """Whether a setting stands at a value: setting it there would change nothing."""
    return part.with_setting(what, value) == part
