"""What safe practice forbids in work on a circuit, in the words that a log bears, and how a wiring shows it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from ..plant.loose import LooseJoint
from ..plant.parts import Boiler, Breaker, Fuse, Splice, Transformer
from ..plant.running import PlantState, lead
from ..plant.wiring import Installation
from .wiring_answer import line_terminals
from .world import World

__all__ = ["BYPASSED", "LINE_WORK", "OVERSIZED", "SHORTED", "TIED", "Joins", "joins", "on_line_voltage", "wiring_misuse"]

BYPASSED = "a fuse or breaker bypassed"
OVERSIZED = "a fuse or breaker above the designed rating"
LINE_WORK = "line-voltage work without a licence"
SHORTED = "R sparked to C"
TIED = "two sources tied together"


@dataclass(frozen=True, slots=True)
class Joins:
    """What copper alone does in a wiring that it had better not do."""

    bypassed: tuple[str, ...]  # protections with both ends at one point, and terminals that a source feeds past its own
    shorted: tuple[str, ...]  # live sources with both ends at one point, fuses passed
    tied: tuple[tuple[str, str], ...]  # terminals of two sources at one point, fuses passed


def wiring_misuse(before: World, after: World) -> str:
    """The worst that work on the wiring has newly done and the design does not; "" for nothing."""
    was, now, meant = _of(before), _of(after), joins(after.design, after.state, lifted=(), jumpers=())
    for words, field in ((SHORTED, "shorted"), (TIED, "tied"), (BYPASSED, "bypassed")):
        known = {*getattr(was, field), *getattr(meant, field)}
        if any(found not in known for found in getattr(now, field)):
            return words
    return ""


def joins(installation: Installation, state: PlantState, lifted: tuple[str, ...], jumpers: tuple[tuple[str, str], ...]) -> Joins:
    """What conductors, connectors and jumpers join; loads, contacts and switches are gaps."""
    copper = _copper(installation, lifted, jumpers)
    protections = {part.name: part.terminals for part in installation.parts if isinstance(part, Breaker | Fuse)}
    protections |= {
        part.name: (part.terminals[2], part.terminals[0])
        for part in installation.parts
        if isinstance(part, Transformer) and part.protection == "breaker"
    }
    point = _points(copper)
    bypassed = [name for name, (first, second) in protections.items() if point(first) == point(second)]
    bypassed += _unprotected(installation, protections, point)
    point = _points([*copper, *protections.values()])
    sources = _sources(installation)
    shorted = tuple(
        name
        for name, ends in sources.items()
        if isinstance(installation.part(name), Transformer) and state.of(name).on and point(ends[0]) == point(ends[1])
    )
    tied = tuple(
        (one, other)
        for number, (name, ends) in enumerate(sources.items())
        for more in list(sources)[number + 1 :]
        for one in ends
        for other in sources[more]
        if point(one) == point(other)
    )
    return Joins(tuple(bypassed), shorted, tied)


def on_line_voltage(installation: Installation, point: str) -> bool:
    """Whether copper joins a point to a terminal at which line voltage stands."""
    at = _points(_copper(installation, (), ()))
    return at(point.removesuffix(" lead")) in {at(terminal) for terminal in line_terminals(installation.parts)}


def _of(world: World) -> Joins:
    return joins(world.installation, world.state, world.state.lifted, world.jumpers)


def _unprotected(
    installation: Installation, protections: Mapping[str, tuple[str, str]], point: Callable[[str], str]
) -> list[str]:
    """Terminals at one point with the hot end of a transformer, before any fuse or breaker."""
    found = []
    for source in installation.parts:
        if isinstance(source, Transformer):
            hot = point(source.terminals[2] if source.protection == "breaker" else source.secondary_pair[0])
            others = (part for part in installation.parts if part.name not in (source.name, *protections))
            found += [terminal for part in others for terminal in part.terminals if point(terminal) == hot]
    return found


def _sources(installation: Installation) -> dict[str, tuple[str, ...]]:
    found = {part.name: part.secondary_pair for part in installation.parts if isinstance(part, Transformer)}
    boilers = (part for part in installation.parts if isinstance(part, Boiler) and part.input != "fed from outside")
    return found | {boiler.name: boiler.terminals for boiler in boilers}


def _copper(installation: Installation, lifted: tuple[str, ...], jumpers: tuple[tuple[str, str], ...]) -> list[tuple[str, str]]:
    off = {end: lead(end) for end in lifted}
    found = [(off.get(wire.a, wire.a), off.get(wire.b, wire.b)) for wire in installation.conductors]
    for part in installation.parts:
        if isinstance(part, Splice):
            found += [(part.terminals[0], way) for way in part.terminals[1:]]
        elif isinstance(part, LooseJoint):
            found.append((part.terminal, part.lead))
    return [*found, *jumpers]


def _points(pairs: Iterable[tuple[str, str]]) -> Callable[[str], str]:
    """The point that a terminal is part of, by the name of one of its terminals."""
    root: dict[str, str] = {}

    def point(end: str) -> str:
        while (up := root.get(end, end)) != end:
            end = up
        return end

    for first, second in pairs:
        root[point(first)] = point(second)
    return point
