"""Where the parts of an installation stand when its wires are drawn as found: from the parts alone.

Supplies and thermostats stand left, joints and relays between, valves and the boiler right. A bus whose ways are named
for zones is a long bar of its own, each way level with its zone. No conductor has a say, so that adding one moves
nothing. For a narrow view everything stands in one column and the conductors run beside it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ..plant.wiring import Installation
from .sheet import XY
from .wires_parts import BOX, NAME, ROW, SEAM, STEP, WAY, Room, sorted_out

__all__ = ["LATTICE", "NAME", "STEP", "Area", "Cell", "Layout", "placed"]

LATTICE = 4  # levels of neighbouring columns differ by this, so that no two conductors face each other
STUB = 26  # beside a column: room for the lead of a terminal and its label
EDGE = 14
TOP = 32  # three conductors pass over the parts
MARGIN, TITLE = 12, 22  # of an enclosure: beside its parts, and above them for its name
TRACKS = 2.0  # conductors side by side in the emptiest channel
BUSY, LEVEL, BESIDE = 0.26, 0.06, 0.26
"""Conductors side by side as a share of the terminals on both sides of a channel: between parts that stand anyhow,
between parts and bars level with them, beside a single column. From the topologies."""


@dataclass(frozen=True, slots=True)
class Cell:
    """A part and the rectangle that it takes. A splice is a bar at x = `bar`, or a level one; everything else is a box."""

    part: str
    column: int
    left: float
    top: float
    right: float
    bottom: float
    name: tuple[str, ...]  # in lines
    ends: tuple[str, ...]  # its terminals
    splice: bool = False
    flat: bool = False  # its bar is level
    bar: float = 0.0

    @property
    def middle(self) -> float:
        return (self.left + self.right) / 2


@dataclass(frozen=True, slots=True)
class Area:
    """The outline of an enclosure, around the parts that stand in it."""

    name: str
    left: float
    top: float
    right: float
    bottom: float


@dataclass(frozen=True, slots=True)
class Layout:
    """All cells, every terminal's ring, and the channels and gaps in which conductors may run."""

    cells: tuple[Cell, ...]
    areas: tuple[Area, ...]
    spots: dict[str, XY]
    faces: dict[str, tuple[int, ...]]  # the channels that a terminal can be reached from; channel k is left of column k
    channels: tuple[tuple[float, float], ...]  # where upright stretches may run
    gaps: tuple[tuple[tuple[float, float], ...], ...]  # a column: its free levels between parts; the last has no bottom
    width: float
    bottom: float  # of the lowest part


def placed(installation: Installation, *, narrow: bool = False) -> Layout:
    """The layout of an installation's parts. Parts without terminals are not drawn."""
    columns = sorted_out(installation, narrow=narrow)
    starts, tops = _levels(columns)
    edges, channels = _across(columns, starts, narrow)
    ways = _way_levels(columns, tops)
    cells: list[Cell] = []
    spots: dict[str, XY] = {}
    faces: dict[str, tuple[int, ...]] = {}
    for column, rooms in enumerate(columns):
        wide = max((room.width for room in rooms), default=BOX)
        for room, top in zip(rooms, tops[column], strict=True):
            left, right = edges[column], edges[column] + wide
            bar = right - 8 if narrow else left + 10 if room.bar else (left + right) / 2
            levels = ways.get(room.part, {})
            found = _spots(room, (left, top, right), bar, levels)
            above = min(levels.values()) - 32 if levels else top
            below = max(levels.values()) + STEP if levels else top + room.height
            cells.append(Cell(room.part, column, left, above, right, below, room.name, tuple(found), room.splice, room.flat, bar))
            spots |= found
            for end in found:
                at_left = end in room.left
                both = room.splice and not room.flat and not narrow
                faces[end] = (column, column + 1) if both else (column if at_left and not narrow else column + 1,)
    bottom = max((cell.bottom for cell in cells), default=TOP + 2.0 * ROW)
    housed = {part: box.name for box in installation.enclosures for part in box.parts}
    gaps = tuple(_gaps([cell for cell in cells if cell.column == column], column, housed, ways) for column in range(len(columns)))
    right = channels[-1][1] + EDGE
    areas = tuple(_areas(cells, housed))
    return Layout(tuple(cells), areas, spots, faces, channels, gaps, right, max([bottom, *(area.bottom for area in areas)]))


def _levels(columns: Sequence[Sequence[Room]]) -> tuple[dict[str, float], list[list[float]]]:
    """Where each zone begins, where zones are level with each other, and the top of each cell but for bars."""
    built = any(room.bar or (room.zone and room.splice) for rooms in columns for room in rooms) and len(columns) > 1
    starts: dict[str, float] = {}
    if built:
        heights: dict[str, float] = {}
        for rooms in columns:
            for zone in dict.fromkeys(room.zone for room in rooms if room.zone and not room.bar):
                own = [room for room in rooms if room.zone == zone]
                high = sum(room.height + room.after for room in own) + own[0].before
                heights[zone] = max(heights.get(zone, 0.0), _up(high))
        level = max(_up(TOP + sum(room.height + room.after for room in rooms if room.ahead)) for rooms in columns)
        for zone, height in heights.items():
            starts[zone] = level
            level += height
    tops: list[list[float]] = []
    for column, rooms in enumerate(columns):
        offset, level, before, found = float(LATTICE * (column % 2)), float(TOP), "", []
        inside = ""
        for room in rooms:
            if room.zone and room.zone != before and room.zone in starts:
                level = max(level, starts[room.zone]) + room.before
            if inside and room.housed != inside:
                level += MARGIN + STEP
            if room.housed and room.housed != inside:
                level += TITLE + STEP
            before, inside = room.zone, room.housed
            found.append(_up(level) + offset)
            level = found[-1] - offset + room.height + room.after
        tops.append(found)
    return starts, tops


def _way_levels(columns: Sequence[Sequence[Room]], tops: Sequence[Sequence[float]]) -> dict[str, dict[str, float]]:
    """The level of every way of the long bars: that of the terminal of its zone which it is most like."""
    level_of: dict[str, float] = {}
    for rooms, column in zip(columns, tops, strict=True):
        for room, top in zip(rooms, column, strict=True):
            if not room.bar:
                level_of |= {end: y for end, (_, y) in _spots(room, (0.0, top, 0.0), 0.0, {}).items()}
    found: dict[str, dict[str, float]] = {}
    for column, rooms in enumerate(columns):
        level, offset = float(TOP - STEP), LATTICE * (column % 2)
        for room in rooms:
            if not room.bar:
                continue
            level += 32
            mine = found[room.part] = {}
            for end in room.left:
                partner = next((level_of[other] for other in room.partners[end] if other in level_of), 0.0)
                if not partner and mine:
                    level += 2 * STEP  # what goes past this bar to the next has room
                level = max(level, partner // STEP * STEP + offset)
                mine[end] = level
                level += WAY + STEP
            level += STEP
    return found


def _gaps(
    cells: Sequence[Cell], column: int, housed: Mapping[str, str], ways: Mapping[str, Mapping[str, float]]
) -> tuple[tuple[float, float], ...]:
    """The levels of a column that are free: between its parts, but not inside an enclosure, and between a bar's ways."""
    free, level, inside = [], float(LATTICE * (column % 2)), ""
    for cell in cells:
        here = housed.get(cell.part, "")
        if inside and here != inside:
            level += MARGIN
        if not (here and here == inside):
            free.append((level, cell.top - (TITLE if here else 0)))
        ends = sorted(ways.get(cell.part, {}).values())
        free += [(above, below - STEP) for above, below in pairwise(ends)]
        level, inside = cell.bottom, here
    return (*free, (level + (MARGIN if inside else 0), math.inf))


def _across(
    columns: Sequence[Sequence[Room]], starts: Mapping[str, float], narrow: bool
) -> tuple[list[float], tuple[tuple[float, float], ...]]:
    """The left edge of every column, and the channels between them, each as wide as its terminals may need."""
    at_left = [0 if narrow else sum(len(room.left) for room in rooms) for rooms in columns]
    at_right = [
        sum(len(room.left) + len(room.right) if narrow or room.splice else len(room.right) for room in rooms) for rooms in columns
    ]
    share = BESIDE if narrow else LEVEL if starts else BUSY
    edges, channels, x = [], [], float(EDGE)
    for column in range(len(columns) + 1):
        last = column == len(columns)
        before, after = (at_right[column - 1] if column else 0), (0 if last else at_left[column])
        first = not column and not any(room.left and not room.splice for room in columns[0])
        if narrow and not column:
            first = True
        tracks = 0.0 if first else TRACKS + share * (before + after)
        if last and not before:
            tracks = 1.0
        margins = [MARGIN if side and any(room.housed for room in side) else 0 for side in _sides(columns, column)]
        stubs = [_stub(side) for side in _sides(columns, column)]
        start = x + margins[0] + (stubs[0] if column else 0)
        room = _up(STEP * tracks)
        channels.append((start, start + room))
        x = start + room + margins[1] + (0 if last or first else stubs[1])
        edges.append(x)
        x += 0 if last else max((room.width for room in columns[column]), default=BOX)
    return edges[:-1], tuple(channels)


def _sides(columns: Sequence[Sequence[Room]], channel: int) -> tuple[Sequence[Room], Sequence[Room]]:
    return (columns[channel - 1] if channel else ()), (columns[channel] if channel < len(columns) else ())


def _stub(rooms: Sequence[Room]) -> float:
    """Beside boxes there is room for a lifted lead; beside bars alone their column has it."""
    return STUB if any(not room.splice for room in rooms) else SEAM


def _spots(room: Room, box: tuple[float, float, float], bar: float, levels: Mapping[str, float]) -> dict[str, XY]:
    left, top, right = box
    if levels:
        return {end: (bar, levels[end]) for end in room.left}
    if room.flat:
        return {room.left[0]: (bar - 14, top + room.head), room.right[0]: (bar + 14, top + room.head)}
    if room.splice:
        return {end: (bar, top + room.head + WAY * row) for row, end in enumerate(room.left)}
    found = {end: (left, top + room.head + ROW * row) for row, end in enumerate(room.left)}
    return found | {end: (right, top + room.head + ROW * row) for row, end in enumerate(room.right)}


def _areas(cells: Sequence[Cell], housed: Mapping[str, str]) -> list[Area]:
    found: dict[tuple[str, int], list[Cell]] = {}
    for cell in cells:
        if cell.part in housed:
            found.setdefault((housed[cell.part], cell.column), []).append(cell)
    return [
        Area(
            name,
            min(cell.left for cell in own) - MARGIN,
            min(cell.top for cell in own) - TITLE,
            max(cell.right for cell in own) + MARGIN,
            max(cell.bottom for cell in own) + MARGIN,
        )
        for (name, _), own in found.items()
    ]


def _up(level: float) -> float:
    """The next level on the lattice of steps."""
    return -(-level // STEP) * STEP
