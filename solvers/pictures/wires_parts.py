"""The room that each part takes when wires are drawn as found, and the column that it stands in."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from ..plant.naming import home, part_words
from ..plant.parts import Boiler, Breaker, Fuse, Part, Splice, Stat, Transformer, Valve
from ..plant.wiring import Installation
from .sheet import text_width

__all__ = ["BOX", "NAME", "ROW", "SEAM", "STEP", "WAY", "Room", "sorted_out"]

STEP = 8  # conductors keep this distance from each other and from parts
BOX = 96  # least width of a part's box
BAR = 44  # width of a column of bars
SEAM = 10  # beside a column of bars
ROW, WAY = 24, 16  # between terminals of a box, between ways of a splice
NAME = 13  # size of a part's name
JOINTS = 300  # what is left for splices, where enclosures look for room
STAT_DOWN = 28  # a thermostat leaves room above itself for what goes past it
WAY_ZONE = re.compile(r"zone\d+[a-z]?")
FIRST_WAYS = ("fuse", "breaker", "trunk")  # above the zones' ways, where the supplies are
FACED = {"R splice": ("2", "1"), "W splice": ("1", "2")}  # inline splices drawn level: what is left, what is right


@dataclass(frozen=True, slots=True)
class Room:
    """A part, its terminals left and right, its size, and how it stands among others."""

    part: str
    left: tuple[str, ...]
    right: tuple[str, ...]
    name: tuple[str, ...]  # in lines
    width: float
    height: float
    head: float  # from its top to its first terminals
    splice: bool = False
    flat: bool = False  # an inline splice with its ends left and right
    zone: str = ""
    before: float = 0.0  # free above it where a zone begins
    after: float = 3.0 * STEP  # free below it
    ahead: bool = False  # stands above the zones
    bar: bool = False  # a bus with its ways level with their zones
    housed: str = ""  # the enclosure that it stands in
    partners: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # a bar's way: terminals that it is level with


def _roomed(part: Part, *, right: bool = True, zones: Sequence[str] = ()) -> Room:
    """How much room a part takes. `right` says which side an ordinary part's terminals are on."""
    name, terminals = part_words(part.name), part.terminals
    zone = home(part.name)
    if isinstance(part, Splice):
        return _splice(part, zone, zones)
    if isinstance(part, Transformer):
        low_volts = (*part.secondary_pair, f"{part.name}.X")
        at_left, at_right = (tuple(end for end in terminals if (end in low_volts) == is_low) for is_low in (False, True))
    elif isinstance(part, Valve) and right:
        ends = tuple(end for end in terminals if end.rpartition(".")[2].startswith("E"))
        at_left, at_right = tuple(end for end in terminals if end not in ends), ends
    elif isinstance(part, Valve | Boiler):
        at_left, at_right = ((), terminals) if right else (terminals, ())
    elif isinstance(part, Stat | Fuse | Breaker):
        at_left, at_right = (), terminals
    else:
        at_left, at_right = terminals[:2], terminals[2:]
    two_sided = bool(at_left and at_right)
    rows, head = max(len(at_left), len(at_right)), ROW + STEP if two_sided else 2 * STEP
    beside = 16 if two_sided else _letters(part)
    words = (name,) if two_sided else _lines(name, BOX - beside)
    wide = max(BOX, max(text_width(line, NAME) for line in words) + beside)
    high = max(head + ROW * (rows - 1) + 2 * STEP, 2 * ROW)
    down = STAT_DOWN if isinstance(part, Stat | Valve) and zone else 0.0
    return Room(part.name, at_left, at_right, words, wide, high, head, zone=zone, before=down)


def _letters(part: Part) -> float:
    """What the letters of a box take beside its name, and a thermostat's contact with them."""
    widest = max(text_width(end.removeprefix(f"{part.name}."), NAME) for end in part.terminals)
    return max(44, widest + 22, 60 if isinstance(part, Stat) else 0)


def _one_sided(part: Part) -> Room:
    """The same for a single column: every terminal on the right."""
    room = _roomed(part)
    if room.splice:
        return replace(room, left=part.terminals, right=(), flat=False, bar=False, head=32, height=_high(part), after=2 * STEP)
    high = max(2 * STEP + ROW * (len(part.terminals) - 1) + 2 * STEP, 2 * ROW)
    beside = _letters(part)
    words = _lines(part_words(part.name), BOX - beside)
    wide = max(BOX, max(text_width(line, NAME) for line in words) + beside)
    return replace(
        room, left=(), right=part.terminals, name=words, width=wide, height=high, head=2 * STEP, before=0.0, after=2 * STEP
    )


def sorted_out(installation: Installation, *, narrow: bool) -> list[list[Room]]:
    """The parts of each column from top to bottom; columns that hold nothing are left out."""
    parts = [part for part in installation.parts if part.terminals]
    housed = {name: box.name for box in installation.enclosures for name in box.parts}
    zones = tuple(dict.fromkeys(tag for part in parts if (tag := home(part.name))))
    if narrow:
        return [_together([replace(_one_sided(part), housed=housed.get(part.name, "")) for part in _in_one(parts, zones)])]
    bars = [part for part in parts if isinstance(part, Splice) and part.name not in housed and _is_bar(part, zones)]
    beyond = any(part.name.startswith("E") for part in bars)
    rooms = {part.name: _roomed(part, right=beyond, zones=() if part.name in housed else zones) for part in parts}
    rooms = {name: replace(room, housed=housed.get(name, "")) for name, room in rooms.items()}
    columns: dict[str, list[Room]] = {"left": [], "joints": []}
    columns |= {_rail(part): [] for part in sorted(bars, key=lambda part: part.name[0] != "R") if part.name[0] != "E"}
    columns["valves"] = []
    columns |= {_rail(part): [] for part in bars if part.name[0] == "E"}
    for part in sorted(parts, key=lambda part: zones.index(home(part.name)) if home(part.name) else -1):
        room = rooms[part.name]
        if part in bars:
            columns[_rail(part)].append(room)
            continue
        if not room.housed:
            columns[_column(part)].append(room)
    for box in installation.enclosures:
        inside = [replace(rooms[name], zone="", before=0.0) for name in box.parts if name in rooms]
        free = {"joints": _depth(columns["joints"]) + JOINTS, "left": _depth(columns["left"])}
        columns["left" if free["left"] < free["joints"] else "joints"] += inside
    built = bool(bars) or any(room.zone and room.splice for room in rooms.values())
    ordered = [_ordered(column, key, built) for key, column in columns.items() if column]
    return ordered or [[]]


def _ordered(rooms: Sequence[Room], key: str, built: bool) -> list[Room]:
    """What stands ahead of the zones, the zones, and the rest."""
    if key == "left":
        ahead = [replace(room, ahead=True) if not (room.zone or room.housed) else room for room in rooms]
        return sorted(ahead, key=lambda room: bool(room.housed))
    loose, zoned = [room for room in rooms if not room.zone], [room for room in rooms if room.zone]
    if key == "valves":
        return [*(replace(room, ahead=True) for room in loose), *zoned] if built else [*zoned, *loose]
    if key == "joints":
        return [*zoned, *sorted(loose, key=lambda room: (bool(room.housed), not room.splice and not room.housed))]
    return list(rooms)


def _together(rooms: Iterable[Room]) -> list[Room]:
    """The parts of one enclosure one below the other, where the first of them stands."""
    rooms = list(rooms)
    firsts: dict[str, int] = {}
    for place, room in enumerate(rooms):
        if room.housed:
            firsts.setdefault(room.housed, place)
    return [room for _, room in sorted(enumerate(rooms), key=lambda pair: (firsts.get(pair[1].housed, pair[0]), pair[0]))]


def _in_one(parts: Sequence[Part], zones: Sequence[str]) -> list[Part]:
    """One column: supplies, R buses, each zone, the other joints and relays, the boiler."""

    def place(part: Part) -> tuple[int, int]:
        if tag := home(part.name):
            return 2, zones.index(tag)
        if isinstance(part, Transformer | Fuse | Breaker):
            return 0, 0
        return (1 if part.name.startswith("R ") else 4 if isinstance(part, Boiler) else 3), 0

    return sorted(parts, key=place)


def _depth(rooms: Sequence[Room]) -> float:
    """How far down a column goes, joints apart, so that one more moves nothing else."""
    return sum(room.height + room.after for room in rooms if not room.splice)


def _column(part: Part) -> str:
    if isinstance(part, Transformer | Fuse | Breaker | Stat):
        return "left" if not home(part.name) or isinstance(part, Stat) else "joints"
    return "valves" if isinstance(part, Valve | Boiler) else "joints"


def _rail(part: Part) -> str:
    """Buses of one kind share a column: "R bus" and "R bus 2"."""
    return part.name.partition(" ")[0]


def _is_bar(part: Splice, zones: Sequence[str]) -> bool:
    return not home(part.name) and any(_zone_of_way(way) in zones for way in part.ways)


def _zone_of_way(way: str) -> str:
    found = WAY_ZONE.match(way)
    return found[0] if found else ""


def _high(part: Part) -> float:
    return 32 + WAY * (len(part.terminals) - 1) + STEP


def _splice(part: Splice, zone: str, zones: Sequence[str]) -> Room:
    name = (part_words(part.name),)
    wide = max(text_width(name[0], NAME - 1), BAR, 2 * (9 + max(text_width(way, NAME) for way in part.ways)))
    short = part.name.removeprefix(f"{zone}.")
    if zone and short in FACED and part.ways == ("1", "2"):
        left, right = (f"{part.name}.{way}" for way in FACED[short])
        return Room(part.name, (left,), (right,), name, wide, 40, 24, splice=True, flat=True, zone=zone, after=0)
    after = STEP if zone else 3 * STEP
    if _is_bar(part, zones):
        wide = BAR
        ranks = {way: (2 if way not in FIRST_WAYS else 0, 0) for way in part.ways}
        ranks |= {way: (1, zones.index(tag)) for way in part.ways if (tag := _zone_of_way(way)) in zones}
        ways = sorted(part.ways, key=lambda way: ranks[way])
        ends = tuple(f"{part.name}.{way}" for way in ways)
        partners = {f"{part.name}.{way}": _partners(part.name, _zone_of_way(way)) for way in ways}
        return Room(part.name, ends, (), name, wide, _high(part), 32, splice=True, bar=True, partners=partners)
    return Room(part.name, part.terminals, (), name, wide, _high(part), 32, splice=True, zone=zone, after=after)


def _partners(bus: str, zone: str) -> tuple[str, ...]:
    """Terminals of a zone that a bus serves in most houses, by the bus's name."""
    if not zone:
        return ()
    lead = bus.partition(" ")[0]
    usual = {"R": ("R splice.1", "stat.R"), "C": ("C splice.2", "valve.HB", "valve.S", "stat.C")}
    return tuple(f"{zone}.{end}" for end in (*usual.get(lead, ()), f"valve.{lead}", "valve.EB", "valve.E", "stat.W"))


def _lines(name: str, room: float) -> tuple[str, ...]:
    """A name in lines that fit, as far as its words allow."""
    found: list[str] = []
    for word in name.split():
        longer = f"{found[-1]} {word}" if found else word
        if found and text_width(longer, NAME) <= room:
            found[-1] = longer
        else:
            found.append(word)
    return tuple(found)
