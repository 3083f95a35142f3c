"""People and weather: an installation whose thermostats feel their rooms."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from . import facts
from .parts import Room
from .wiring import Installation, WiringError

__all__ = ["lived_in"]


def lived_in(
    installation: Installation,
    *,
    outdoor_degC: float = facts.OUTDOOR_DEGC.value,
    start_degC: Sequence[float] = (),
    taus: Sequence[float] = (),
) -> Installation:
    """The same installation with a room behind every zone, which the zone's thermostat feels.

    Rooms start at `start_degC` and lose heat with `taus`, one a zone, or with the usual values. Raises WiringError where
    the numbers do not match the zones.
    """
    zones = installation.zones
    for name, given in (("start_degC", start_degC), ("taus", taus)):
        if given and len(given) != len(zones):
            raise WiringError(f"{name} has {len(given)} values for {len(zones)} zones")
    starts = start_degC or (facts.INDOOR_DEGC.value,) * len(zones)
    losses = taus or (facts.ROOM_TAU.value,) * len(zones)
    there = {part.name: part for part in installation.parts}
    rooms = []
    for zone, start, tau in zip(zones, starts, losses, strict=True):
        stat = there[f"{zone}.stat"]
        there[stat.name] = replace(stat, room=f"{zone}.room")
        rooms.append(Room(f"{zone}.room", loop=f"{zone}.loop", outdoor_degC=outdoor_degC, start_degC=start, tau=tau))
    return replace(installation, parts=(*there.values(), *rooms))
