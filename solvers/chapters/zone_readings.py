"""What is read of one zone again and again: its heater, its W leg, and how long something takes to be heard."""

from __future__ import annotations

import math

from .visits import Visit

__all__ = [
    "LONGEST_WAIT",
    "as_found_ohms",
    "heater_pair",
    "heater_volts",
    "leg_amps",
    "lifted_ohms",
    "number",
    "seconds_to",
    "source_volts",
]

LONGEST_WAIT = 3600.0  # s; what has not been heard by then never will


def number(zone: str) -> str:
    """What a person calls a zone.

    >>> number("zone2")
    '2'
    """
    return zone.removeprefix("zone")


def heater_pair(visit: Visit, zone: str = "zone1") -> tuple[str, str]:
    """The two leads of the heater or motor of a zone's valve."""
    return visit.world.design.part(f"{zone}.valve").drive_pair


def heater_volts(visit: Visit, zone: str = "zone1") -> float:
    """Volts that the meter displays across a zone's heater."""
    return visit.volts(*heater_pair(visit, zone))


def source_volts(visit: Visit, mark: str = "") -> float:
    """Volts that the meter displays from the fuse's far side to C of its transformer."""
    return visit.volts(f"fuse{mark}.out", f"transformer{mark}.C")


def leg_amps(visit: Visit, zone: str = "zone1") -> float:
    """Amperes in a zone's W leg, by a clamp with ten turns."""
    return visit.amps(f"{zone}.W leg")


def as_found_ohms(visit: Visit, zone: str = "zone1", mark: str = "") -> float:
    """Ohms across a zone's heater with its transformer off and every lead landed; inf for OL."""
    return visit.dead(f"transformer{mark}").ohms(*heater_pair(visit, zone))


def lifted_ohms(visit: Visit, zone: str = "zone1", mark: str = "") -> float:
    """Ohms of a zone's heater with its transformer off and its first lead lifted; inf for OL."""
    first, second = heater_pair(visit, zone)
    return visit.dead(f"transformer{mark}").lifted(first).ohms(first, second)


def seconds_to(visit: Visit, words: str, waiting: float = LONGEST_WAIT) -> float:
    """Seconds from now until somebody hears this; inf if they never do."""
    now = visit.world.state.time
    events = visit.shown({"do": "wait", "seconds": waiting}).events
    return next((time - now for time, heard in events if heard == words), math.inf)
