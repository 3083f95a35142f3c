"""A learner's wiring: splices and wires as they were joined, read strictly, written plainly, made into an installation."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..plant import cable, facts
from ..plant.parts import Part, Splice, Transformer
from ..plant.wiring import Conductor, Enclosure, Installation
from .job import JobError
from .strict import fields, listed, shortened, text_of, whole_json

__all__ = [
    "FEWEST_WAYS",
    "FORMAT",
    "GAUGES",
    "MOST_WAYS",
    "BadWiring",
    "Joint",
    "Wire",
    "Wiring",
    "line_terminals",
    "parsed",
    "wired",
    "written",
]

FORMAT = "call-for-heat wiring 1"
GAUGES = (14, 16, 18, 20, 22)
"""What control cable comes in, AWG."""

LARGEST = 200_000  # bytes
MOST_WIRES = 200
MOST_SPLICES = 60
FEWEST_WAYS, MOST_WAYS = 2, 6
LONGEST_FEET = 1_000.0


class BadWiring(JobError):
    """A wiring that cannot be read; the message says where and what was expected."""


@dataclass(frozen=True, slots=True)
class Joint:
    """A connector of so many ways; its terminals are 'name.1', 'name.2' and so on."""

    name: str
    ways: int

    @property
    def terminals(self) -> tuple[str, ...]:
        """Where wires can be pushed in."""
        return tuple(f"{self.name}.{way}" for way in range(1, self.ways + 1))


@dataclass(frozen=True, slots=True)
class Wire:
    """One wire between two terminals."""

    name: str
    a: str  # terminal
    b: str  # terminal
    gauge: int = 18  # AWG
    colour: str = ""
    label: str = ""
    feet: float = 10.0


@dataclass(frozen=True, slots=True)
class Wiring:
    """All that a learner has joined. Neither names nor order nor colours change what it does."""

    splices: tuple[Joint, ...] = ()
    wires: tuple[Wire, ...] = ()

    def without(self, name: str) -> Wiring:
        """The same wiring but for one wire; raises BadWiring for an unknown one."""
        if name not in [wire.name for wire in self.wires]:
            raise BadWiring(f"no wire {name!r}; there are {[wire.name for wire in self.wires]}")
        return replace(self, wires=tuple(wire for wire in self.wires if wire.name != name))

    def unlabelled(self) -> tuple[str, ...]:
        """The wires that nobody has written anything on."""
        return tuple(wire.name for wire in self.wires if not wire.label.strip())

    def idle_splices(self) -> tuple[str, ...]:
        """The connectors that hold no wire at all."""
        held = {end for wire in self.wires for end in (wire.a, wire.b)}
        return tuple(joint.name for joint in self.splices if not held & set(joint.terminals))


def written(wiring: Wiring) -> str:
    """The wiring as JSON text, readable by a person and by `parsed`."""
    body = {
        "format": FORMAT,
        "splices": [{"name": joint.name, "ways": joint.ways} for joint in wiring.splices],
        "wires": [{slot: getattr(wire, slot) for slot in Wire.__dataclass_fields__} for wire in wiring.wires],
    }
    return json.dumps(body, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def parsed(text: str | bytes) -> Wiring:
    """A wiring read from JSON text; raises BadWiring with the path of the first field that is not as it must be."""
    body = whole_json(text, "wiring", LARGEST, BadWiring)
    fields(body, "wiring", ("format", "splices", "wires"), BadWiring)
    if body["format"] != FORMAT:
        raise BadWiring(f"format is {shortened(body['format'])}; this program reads {FORMAT!r}")
    splices = tuple(
        _joint(line, f"splices[{at}]") for at, line in enumerate(listed(body["splices"], "splices", MOST_SPLICES, BadWiring))
    )
    wires = tuple(_wire(line, f"wires[{at}]") for at, line in enumerate(listed(body["wires"], "wires", MOST_WIRES, BadWiring)))
    seen: dict[str, str] = {}
    for kind, things in (("splices", splices), ("wires", wires)):
        for at, thing in enumerate(things):
            if thing.name in seen:
                raise BadWiring(f"{kind}[{at}].name is {shortened(thing.name)}, which {seen[thing.name]} has already")
            seen[thing.name] = f"{kind}[{at}]"
    return Wiring(splices, wires)


def line_terminals(parts: Sequence[Part]) -> frozenset[str]:
    """The terminals at which line voltage stands: primary leads, and whatever a part says is so."""
    found: list[str] = []
    for part in parts:
        if isinstance(part, Transformer):
            found += [terminal for terminal in part.terminals if terminal.rsplit(".", 1)[1][0] in "LP"]
        found += getattr(part, "line_terminals", ())
    return frozenset(found)


def wired(parts: Sequence[Part], wiring: Wiring, *, enclosures: Sequence[Enclosure] = (), name: str = "as wired") -> Installation:
    """The installation that a task's parts and a learner's wiring make, each wire with the ohms of its copper.

    Where a transformer shows its primary leads, the lead that the line is landed on is its tap; without one it has no
    feed. Raises BadWiring with the path of a terminal that is not there, or of a wire that goes nowhere.
    """
    taken = {part.name for part in parts}
    for at, joint in enumerate(wiring.splices):
        if joint.name in taken:
            raise BadWiring(f"splices[{at}].name is {joint.name!r}, which is a part; taken are {sorted(taken)}")
    joints = tuple(Splice(joint.name, tuple(str(way) for way in range(1, joint.ways + 1))) for joint in wiring.splices)
    terminals = [terminal for part in (*parts, *joints) for terminal in part.terminals]
    known, live = set(terminals), line_terminals(parts)
    conductors = []
    for at, wire in enumerate(wiring.wires):
        for slot, end in (("a", wire.a), ("b", wire.b)):
            if end not in known:
                raise BadWiring(f"wires[{at}].{slot} is {shortened(end)}; terminals are {terminals}")
        if wire.a == wire.b:
            raise BadWiring(f"wires[{at}] begins and ends at {wire.a!r}; land its other end elsewhere")
        if wire.name in taken:
            raise BadWiring(f"wires[{at}].name is {wire.name!r}, which is a part; taken are {sorted(taken)}")
        ohms = max(cable.run(wire.gauge, wire.feet), facts.ZERO_OHMS.value)
        line = wire.a in live or wire.b in live
        conductors.append(
            Conductor(
                wire.name, wire.a, wire.b, ohms, feet=wire.feet, colour=wire.colour, gauge=wire.gauge, label=wire.label, line=line
            )
        )
    fitted = tuple(_tapped(part, conductors) if isinstance(part, Transformer) and part.line_side else part for part in parts)
    return Installation(name, (*fitted, *joints), tuple(conductors), enclosures=tuple(enclosures))


def _tapped(part: Transformer, conductors: Sequence[Conductor]) -> Transformer:
    """The transformer with its line on the lead that the wiring lands it on, or without a feed."""
    hot = f"{part.name}.L"
    ends = [({wire.a, wire.b} - {hot}).pop() for wire in conductors if hot in (wire.a, wire.b)]
    taps = [tap for tap in part.taps if f"{part.name}.P{tap:g}" in ends]
    return replace(part, tap=taps[0]) if taps else replace(part, feed_open=True)


def _joint(line: object, path: str) -> Joint:
    fields(line, path, ("name", "ways"), BadWiring)
    ways = line["ways"]
    if isinstance(ways, bool) or not isinstance(ways, int) or not FEWEST_WAYS <= ways <= MOST_WAYS:
        raise BadWiring(f"{path}.ways is {shortened(ways)}; a connector has {FEWEST_WAYS} to {MOST_WAYS} ways")
    return Joint(_name(line["name"], f"{path}.name"), ways)


def _wire(line: object, path: str) -> Wire:
    fields(line, path, tuple(Wire.__dataclass_fields__), BadWiring)
    gauge, feet = line["gauge"], line["feet"]
    if isinstance(gauge, bool) or gauge not in GAUGES:
        raise BadWiring(f"{path}.gauge is {shortened(gauge)}; there are {list(GAUGES)}")
    if isinstance(feet, bool) or not isinstance(feet, int | float) or not 0 <= feet <= LONGEST_FEET or not math.isfinite(feet):
        raise BadWiring(f"{path}.feet is {shortened(feet)}; give 0 to {LONGEST_FEET:g}")
    return Wire(
        name=_name(line["name"], f"{path}.name"),
        a=_name(line["a"], f"{path}.a"),
        b=_name(line["b"], f"{path}.b"),
        gauge=gauge,
        colour=text_of(line["colour"], f"{path}.colour", 40, BadWiring),
        label=text_of(line["label"], f"{path}.label", 60, BadWiring),
        feet=float(feet),
    )


def _name(value: object, path: str) -> str:
    if not isinstance(value, str) or not 0 < len(value) <= 60:
        raise BadWiring(f"{path} must be text of 1 to 60 characters; got {shortened(value)}")
    return value
