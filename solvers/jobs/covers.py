"""Covers: what has to come off before its terminals can be reached, and whether it is on again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from ..plant.parts import Boiler, Stat
from .world import Outcome, World, follows

__all__ = ["covered", "covers_on", "uncovered"]

REACHED = ("measure", "jumper", "lift", "land", "remake", "move wire", "exchange")
"""Acts that reach a terminal."""


def covered(world: World, act: Mapping[str, object]) -> tuple[str, ...]:
    """The parts whose cover comes off for an act: the stats and the boiler at whose terminals hands or probes are.

    A junction box, a valve's leads and a transformer's screws stand open to a hand that knows them. Common practice, no source.
    """
    if act["do"] not in REACHED:
        return ()
    ends = [str(act[slot]).removesuffix(" lead") for slot in ("first", "second", "terminal") if slot in act]
    kinds = {part.name for part in world.design.parts if isinstance(part, Stat | Boiler)}
    return tuple(dict.fromkeys(name for end in ends if (name := end.rpartition(".")[0]) in kinds))


def uncovered(world: World, act: Mapping[str, object]) -> World:
    """The world with the covers off that an act has taken off."""
    more = tuple(name for name in covered(world, act) if name not in world.uncovered)
    return replace(world, uncovered=(*world.uncovered, *more)) if more else world


def covers_on(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """Every cover put back on."""
    return follows(replace(world, uncovered=()), world.state, "Every cover is on." if world.uncovered else "Every cover was on.")
