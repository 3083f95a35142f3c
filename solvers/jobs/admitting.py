"""What can be done with what: for each act that is done on a part, the parts that admit it."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from ..plant.light_switch import LightSwitch
from ..plant.parts import Boiler, Breaker, Fuse, Loop, Part, Stat, Transformer, Valve
from ..plant.thermostats import BatteryStat
from .job import JobError
from .world import World, named_part

__all__ = ["ADMITS", "admitted", "admitting", "is_supply"]


def is_supply(part: Part) -> bool:
    """Whether a part brings power of its own and has a switch."""
    return isinstance(part, Transformer | Boiler)


def _everything(part: Part) -> bool:
    return True


def _replaceable(part: Part) -> bool:
    return bool(part.terminals) and not part.hidden


def _a(*kinds: type) -> Callable[[Part], bool]:
    return lambda part: isinstance(part, kinds)


ADMITS: Mapping[str, tuple[str, Callable[[Part], bool]]] = {
    "look": ("cannot be looked at", _everything),
    "listen": ("cannot be listened to", _everything),
    "feel": ("cannot be felt", _everything),
    "switch": ("is no supply", lambda part: is_supply(part) or isinstance(part, LightSwitch)),
    "call": ("is no thermostat", _a(Stat)),
    "set": ("has nothing to set", lambda part: bool(part.settings())),
    "cells": ("has no cells", _a(BatteryStat)),
    "opener": ("is no valve", _a(Valve)),
    "head off": ("is no valve", _a(Valve)),
    "seat head": ("is no valve", _a(Valve)),
    "free stem": ("is no valve", _a(Valve)),
    "bleed": ("is no loop", _a(Loop)),
    "service valve": ("is no loop", _a(Loop)),
    "reset": (
        "has no button to reset",
        lambda part: isinstance(part, Breaker) or (isinstance(part, Transformer) and part.protection == "breaker"),
    ),
    "fit": ("is nothing to replace", _replaceable),
    "fit size": ("comes in one size", _a(Fuse, Breaker, Transformer)),
    "nudge": ("is nothing to nudge", _replaceable),
    "line reading": ("has no line-voltage box", _a(Transformer)),
}
"""Act -> what is said of a part that does not admit it, and whether one does."""


def admitting(part: Part) -> tuple[str, ...]:
    """The acts that a part admits."""
    return tuple(act for act, (_, admits) in ADMITS.items() if admits(part))


def admitted(world: World, act: str, name: str) -> str:
    """The name of a part that admits an act; raises NoSuchPart, or JobError with those that do."""
    words, admits = ADMITS[act]
    there = [part.name for part in world.design.parts if admits(part)]
    if named_part(world, name) not in there:
        raise JobError(f"{name!r} {words}; there are {there}")
    return name
