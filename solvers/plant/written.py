"""An installation as JSON data and back: parts by their kind, each with the fields that are not as a new one has them."""

from __future__ import annotations

import math
import sys
from collections.abc import Mapping
from dataclasses import MISSING, fields, is_dataclass

from . import add_ons, lamps, light_switch, line_voltage, old_stat, programmable, thermostats  # noqa: F401  their kinds go by name
from .part import Part
from .wiring import Conductor, Enclosure, Installation, WiringError

__all__ = ["data_of", "installation_of"]

KIND = "kind"
ENDLESS = "inf"


def data_of(installation: Installation) -> dict[str, object]:
    """An installation as data that JSON can hold."""
    return _out(installation)


def installation_of(data: object) -> Installation:
    """The installation that such data describes; raises WiringError with the path of what cannot be."""
    found = _in(data, "installation")
    if not isinstance(found, Installation):
        raise WiringError("the data is of no installation")
    return found


def _kinds() -> Mapping[str, type]:
    found: dict[str, type] = {one.__name__: one for one in (Conductor, Enclosure, Installation)}
    left = [Part]
    while left:
        kind = left.pop()
        left += kind.__subclasses__()
        # A class with slots is made twice, and the first of the two is a subclass still.
        if getattr(sys.modules[kind.__module__], kind.__name__, None) is kind:
            found[kind.__name__] = kind
    return found


def _out(value: object) -> object:
    if is_dataclass(value):
        told = {KIND: type(value).__name__}
        for slot in fields(value):
            here = getattr(value, slot.name)
            if slot.init and (slot.default is MISSING or here != slot.default):
                told[slot.name] = _out(here)
        return told
    if isinstance(value, tuple):
        return [_out(one) for one in value]
    if isinstance(value, float) and math.isinf(value):
        return {KIND: ENDLESS}
    if value is None or isinstance(value, str | bool | int | float):
        return value
    raise TypeError(f"{value!r} is nothing that an installation holds")


def _in(value: object, path: str) -> object:
    if isinstance(value, list):
        return tuple(_in(one, f"{path}[{number}]") for number, one in enumerate(value))
    if not isinstance(value, dict):
        return value
    name = value.get(KIND)
    if name == ENDLESS:
        return math.inf
    kind = _kinds().get(name) if isinstance(name, str) else None
    if kind is None:
        raise WiringError(f"{path} is of kind {name!r}; there are {sorted(_kinds())}")
    told = {slot: _in(one, f"{path}.{slot}") for slot, one in value.items() if slot != KIND}
    known = [slot.name for slot in fields(kind) if slot.init]
    if unknown := sorted(set(told) - set(known)):
        raise WiringError(f"{path} has {unknown}; a {name} has {known}")
    try:
        return kind(**told)
    except (TypeError, ValueError) as problem:
        raise WiringError(f"{path} is no {name}: {problem}") from None
