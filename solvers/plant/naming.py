"""Plain names: parts, test points, conductors and cables as a technician would say them."""

from __future__ import annotations

import re
from collections.abc import Callable

from .wiring import Installation

__all__ = [
    "PLAIN",
    "cable_words",
    "home",
    "part_words",
    "point_words",
    "short_words",
    "spoken",
    "way_words",
    "wire_words",
    "zone_of",
]

PLAIN = ("stat", "valve", "relay")
"""Parts that are numbered by their zone: "valve 2"."""

NAMES = {"priority": "priority relay"}
JOINT = re.compile(r"(^| )(bus|splice|joint)( \d+)?$")
HOME = re.compile(r"(zone\d+)[a-z]?(?=\.)")


def home(name: str) -> str:
    """The zone in a part's or terminal's name, "zone2" for "zone2.valve.H", "zone2b" for a second set; "" without one."""
    found = HOME.match(name)
    return found[0] if found else ""


def zone_of(name: str) -> str:
    """The zone whose thermostat governs a part, "zone2" for "zone2b.valve" too; "" for a name without one."""
    found = HOME.match(name)
    return found[1] if found else ""


def part_words(part: str) -> str:
    """A part as a technician would say it: "valve 1" for "zone1.valve", "zone 1 W splice" for "zone1.W splice"."""
    tag = home(part)
    if not tag:
        return NAMES.get(part, part.replace(".", " "))
    number, rest = tag[4:], part.partition(".")[2]
    return f"{rest} {number}" if rest in PLAIN else f"zone {number} {rest}"


def short_words(part: str) -> str:
    """A part's name beside its own zone's rung: "W splice" for "zone1.W splice", but "valve 1" for "zone1.valve"."""
    rest = part.partition(".")[2] if home(part) else part
    return part_words(part) if rest in PLAIN or not home(part) else rest


def point_words(point: str) -> str:
    """A test point as a technician would say it: "stat 2 W", "zone 1 W splice, side 1", "lead lifted off valve 2 H"."""
    if point.endswith(" lead"):
        return f"lead lifted off {point_words(point.removesuffix(' lead'))}"
    part, _, mark = point.rpartition(".")
    if not part:
        return mark  # a place that belongs to no part, such as earth
    if JOINT.search(part):
        return f"{part_words(part)}, side {mark}" if mark.isdigit() else f"{part_words(part)}, {way_words(mark)} way"
    return f"{part_words(part)} {mark}"


def wire_words(name: str) -> str:
    """A conductor's name in words: "zone 1 W leg" for "zone1.W leg"."""
    return part_words(name)


def cable_words(name: str) -> str:
    """A cable's name in words: "zone 1 stat cable" for "zone1 stat cable"."""
    return way_words(part_words(name))


def spoken(installation: Installation) -> Callable[[str], str]:
    """A function that says every terminal, part, conductor and cable of an installation in a text as a technician would.

    Only names that stand alone and that hold a zone or a terminal are put in words; "fuse" and "boiler" are words already.
    """
    names = {end: point_words(end) for part in installation.parts for end in part.terminals}
    names |= {part.name: part_words(part.name) for part in installation.parts}
    names |= {wire.name: wire_words(wire.name) for wire in installation.conductors}
    names |= {wire.cable: cable_words(wire.cable) for wire in installation.conductors if wire.cable}
    marked = sorted((name for name in names if "." in name or home(name)), key=len, reverse=True)
    pattern = re.compile("|".join(rf"(?<![\w.]){re.escape(name)}(?!\w)" for name in marked))
    return lambda text: pattern.sub(lambda found: names[found.group()], text)


def way_words(mark: str) -> str:
    """A way's name in words: "zone 1" for "zone1", "zone 1 relay" for "zone1 relay"."""
    return re.sub(r"^zone(?=\d)", "zone ", mark)
