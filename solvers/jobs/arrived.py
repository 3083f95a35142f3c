"""How a house is found, small enough to be kept: what differs in its state from that of parts just put in."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import astuple, dataclass

from ..plant.running import PlantState
from ..plant.wiring import Installation
from .job import JobError
from .strict import listed, shortened, text_of

__all__ = ["Arrived", "arrived", "arrived_of", "body_of"]

Slot = bool | float | str

MOST = 2_000  # things that differ


@dataclass(frozen=True, slots=True)
class Arrived:
    """What differs: values by name, every field of a part's state by its name, and what chatters."""

    values: Mapping[str, float]
    parts: Mapping[str, tuple[Slot, ...]]
    chattering: tuple[str, ...] = ()

    def state(self, installation: Installation) -> PlantState | None:
        """The state of that installation when a learner arrives; None where this is of another one."""
        values: dict[str, float] = {}
        for part in installation.parts:
            values |= part.start_values()
        parts = {part.name: part.initial() for part in installation.parts}
        if not (self.values.keys() <= values.keys() and self.parts.keys() <= parts.keys()):
            return None
        for name, slots in self.parts.items():
            begins = parts[name]
            if begins is None or [type(one) for one in astuple(begins)] != [type(one) for one in slots]:
                return None
            parts[name] = type(begins)(*slots)
        return PlantState(0.0, parts, values | self.values, (), self.chattering)


def arrived(installation: Installation, state: PlantState) -> Arrived | None:
    """The same of a state on arrival; None where it holds what JSON cannot."""
    begins: dict[str, float] = {}
    for part in installation.parts:
        begins |= part.start_values()
    values = {name: value for name, value in state.values.items() if begins.get(name) != value}
    initial = {part.name: part.initial() for part in installation.parts}
    parts = {name: astuple(own) for name, own in state.parts.items() if own is not None and own != initial[name]}
    found = Arrived(values, parts, state.chattering)
    plain = all(isinstance(value, float) for value in values.values())
    numbers = [*values.values(), *(one for slots in parts.values() for one in slots if isinstance(one, float))]
    return found if plain and all(map(math.isfinite, numbers)) and found.state(installation) == state else None


def body_of(found: Arrived | None) -> list[object] | None:
    """The same as data for JSON."""
    if found is None:
        return None
    return [dict(found.values), {name: list(slots) for name, slots in found.parts.items()}, list(found.chattering)]


def arrived_of(body: object, path: str, error: type[JobError]) -> Arrived | None:
    """The same read from JSON data; raises `error` with the path of the first fault."""
    if body is None:
        return None
    values, parts, chattering = _three(body, path, error)
    for name, value in values.items():
        if not isinstance(value, float):
            raise error(f"{path}[0] gives {shortened(name)} as {shortened(value)}; it is a number with a point")
    for name, slots in parts.items():
        if not isinstance(slots, list) or not all(isinstance(one, Slot) for one in slots):
            raise error(f"{path}[1] gives {shortened(name)} as {shortened(slots)}; it is a list of plain values")
    words = tuple(text_of(one, f"{path}[2]", 200, error) for one in listed(chattering, f"{path}[2]", MOST, error))
    return Arrived(values, {name: tuple(slots) for name, slots in parts.items()}, words)


def _three(body: object, path: str, error: type[JobError]) -> tuple[dict[str, object], dict[str, object], object]:
    if not isinstance(body, list) or len(body) != 3 or not all(isinstance(one, dict) and len(one) <= MOST for one in body[:2]):
        raise error(f"{path} must be values, parts and what chatters; got {shortened(body)}")
    return body[0], body[1], body[2]
