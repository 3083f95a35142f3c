"""What a ladder draws of a part: two-terminal elements, and which of them stand in one symbol."""

from __future__ import annotations

from dataclasses import dataclass

from ..plant.parts import (
    Boiler,
    Breaker,
    Fuse,
    HeatMotorValve,
    MotorValve,
    OpenCloseValve,
    Part,
    Relay,
    Splice,
    Stat,
    Transformer,
    Valve,
    WaxActuator,
)
from ..plant.thermostats import AnticipatorStat, BatteryStat, PowerStealingStat, TriacStat

__all__ = ["DRIVES", "PASSABLE", "Element", "bare", "elements", "is_bus", "lone", "named_kind"]

DRIVES = ("heater", "ptc", "motor")
"""What drives a valve's head."""

PASSABLE = (*DRIVES, "coil", "switch", "contact", "joint", "fuse", "breaker")
"""Kinds of element that a rung may lead through."""


@dataclass(frozen=True, slots=True)
class Element:
    """Two terminals of one part and what lies between them.

    Elements of one unit share a terminal and are drawn as one symbol. The mark tells apart what is of one kind: a
    contact that is made at rest has the mark "rest", a winding that of the lead which its line is on.
    """

    part: str
    kind: str  # one of PASSABLE, "winding", "stat", "electronics", "boiler" or "box"
    a: str  # terminal
    b: str  # terminal; that of a box with one terminal is the same
    unit: str  # a part's name, or the name and what it is of the part
    mark: str = ""


def elements(part: Part) -> tuple[Element, ...]:
    """The elements of a part; none for a bus and for what has no terminals. A part of no known kind is one box."""
    name, terminals = part.name, part.terminals
    if not terminals or (isinstance(part, Splice) and is_bus(part)):
        return ()
    if isinstance(part, Valve) and (found := _valve(part)):
        return found
    if isinstance(part, Stat):
        contact = Element(name, "stat", *terminals[:2], name, _stat_mark(part))
        return (contact, *(Element(name, "electronics", terminals[0], more, name) for more in terminals[2:3]))
    if isinstance(part, Relay):
        return _relay(part)
    if isinstance(part, Boiler):
        lent = (Element(name, "winding", *terminals[2:], f"{name} transformer"),) if part.lends else ()
        return (Element(name, "boiler", *terminals[:2], name, part.input), *lent)
    if isinstance(part, Transformer):
        return (Element(name, "winding", *part.secondary_pair, name, f"P{part.tap:g}" if part.line_side else ""),)
    kinds = {Fuse: "fuse", Breaker: "breaker", Splice: "joint"}
    kind = next((kind for known, kind in kinds.items() if isinstance(part, known)), "box")
    return (Element(name, kind, terminals[0], terminals[1 if len(terminals) > 1 else 0], name),)


def lone(part: Part) -> dict[str, tuple[str, ...]]:
    """Terminals at which no element of a part ends, by the unit that shows them."""
    found = elements(part)
    ends = {end for element in found for end in (element.a, element.b)}
    left = tuple(terminal for terminal in part.terminals if terminal not in ends)
    return {found[0].unit: left} if found and left else {}


def bare(part: Part) -> tuple[str, ...]:
    """Places to probe that take no conductor in the field: metal bodies, and leads that the part has wired itself."""
    if isinstance(part, Transformer):
        return part.terminals[2:]
    return (f"{part.name}.body",) if isinstance(part, Valve) and part.body else ()


def is_bus(part: Splice) -> bool:
    """Whether a joint is drawn as a rail: an inline one has sides 1 and 2, a bus has ways with names of their own."""
    return part.ways != ("1", "2")


def named_kind(part: Part) -> str:
    """What a part without a symbol of its own says inside its box."""
    words = "".join(f" {letter.lower()}" if letter.isupper() else letter for letter in type(part).__name__)
    return words.strip()


def _valve(part: Valve) -> tuple[Element, ...]:
    kinds = {WaxActuator: "ptc", HeatMotorValve: "heater", MotorValve: "motor"}
    kind = next((kind for known, kind in kinds.items() if isinstance(part, known)), "")
    if not kind:
        return ()
    name, whole = part.name, part.leads == 3
    drive, ends = (name, name) if whole else (f"{name} drive", f"{name} switch")
    if isinstance(part, OpenCloseValve):
        opens = Element(name, kind, *part.drive_pair, drive, "opens"), Element(name, kind, *part.shut_pair, drive, "shuts")
        if part.switch_pair is None:
            return opens
        common, made = part.switch_pair
        away = Element(name, "switch", common, f"{name}.EC", ends, "rest")
        return (*opens, Element(name, "switch", common, made, ends), away)
    found = (Element(name, kind, *part.drive_pair, drive),)
    return found if part.switch_pair is None else (*found, Element(name, "switch", *part.switch_pair, ends))


def _relay(part: Relay) -> tuple[Element, ...]:
    found = [Element(part.name, "coil", *part.coil_pair, f"{part.name} coil")]
    for number in range(1, part.poles + 1):
        common, normally_open, normally_closed = part.pole(number)
        unit = f"{part.name} pole {number}"
        found.append(Element(part.name, "contact", common, normally_open, unit))
        found.append(Element(part.name, "contact", common, normally_closed, unit, "rest"))
    return tuple(found)


def _stat_mark(part: Stat) -> str:
    """What a thermostat is beside a plain contact, in a word."""
    marks = {AnticipatorStat: "anticipator", BatteryStat: "battery", PowerStealingStat: "power-stealing", TriacStat: "triac"}
    return next((mark for known, mark in marks.items() if isinstance(part, known)), "")
