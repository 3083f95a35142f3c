"""Where the parts of an installation stand when its wires are drawn as found: columns by role, from the parts alone.

Supplies stand left, thermostats next to them, joints and relays between, valves and the boiler right. No conductor has
a say, so that adding one moves nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..plant.parts import Boiler, Breaker, Fuse, Part, Splice, Stat, Transformer, Valve
from ..plant.wiring import Installation
from .graph import home
from .sheet import XY, text_width
from .words import part_words

__all__ = ["LATTICE", "NAME", "STEP", "Cell", "Layout", "placed"]

COLUMNS = 4
STEP = 8  # conductors keep this distance from each other and from parts
LATTICE = 4  # levels of neighbouring columns differ by this, so that no two conductors face each other
BOX = 100  # least width of a part's box
STUB = 38  # beside a column: room for the lead of a terminal and its label
EDGE = 16
TOP = 32  # three conductors pass over the parts
ROW, WAY = 24, 16  # between terminals of a box, between ways of a splice
NAME = 13  # size of a part's name
BUSY = 0.32  # conductors side by side in a channel, as a share of the terminals on both its sides; from the topologies


@dataclass(frozen=True, slots=True)
class Cell:
    """A part and the rectangle that it takes. A splice is a bar at x = `middle`; everything else is a box."""

    part: str
    column: int
    left: float
    top: float
    right: float
    bottom: float
    name: tuple[str, ...]  # in lines
    splice: bool = False

    @property
    def middle(self) -> float:
        return (self.left + self.right) / 2


@dataclass(frozen=True, slots=True)
class Layout:
    """All cells, every terminal's ring, and the channels and gaps in which conductors may run."""

    cells: tuple[Cell, ...]
    spots: dict[str, XY]
    faces: dict[str, tuple[int, ...]]  # the channels that a terminal can be reached from; channel k is left of column k
    channels: tuple[tuple[float, float], ...]  # where upright stretches may run
    gaps: tuple[tuple[tuple[float, float], ...], ...]  # a column: its free levels between parts; the last has no bottom
    width: float
    bottom: float  # of the lowest part


@dataclass(frozen=True, slots=True)
class _Size:
    part: Part
    left: tuple[str, ...]
    right: tuple[str, ...]
    splice: bool
    name: tuple[str, ...]
    height: float


def placed(installation: Installation) -> Layout:
    """The layout of an installation's parts. Parts without terminals are not drawn."""
    sizes = [_size(part) for part in installation.parts if part.terminals]
    columns = _columns(sizes)
    wide = [max((_width(size) for size in column), default=BOX) for column in columns]
    tops = _tops(columns)
    edges, channels = _across(columns, wide)
    cells: list[Cell] = []
    spots: dict[str, XY] = {}
    faces: dict[str, tuple[int, ...]] = {}
    gaps: list[tuple[tuple[float, float], ...]] = []
    bottom = TOP + 2.0 * ROW
    for column, (column_sizes, column_tops) in enumerate(zip(columns, tops, strict=True)):
        free, level = [], float(LATTICE * (column % 2))
        for size, top in zip(column_sizes, column_tops, strict=True):
            left, right = edges[column], edges[column] + wide[column]
            cell = Cell(size.part.name, column, left, top, right, top + size.height, size.name, size.splice)
            cells.append(cell)
            spots |= _spots(cell, size)
            faces |= dict.fromkeys(size.left, (column, column + 1) if size.splice else (column,))
            faces |= dict.fromkeys(size.right, (column + 1,))
            free.append((level, top))
            level = cell.bottom
        gaps.append((*free, (level, float("inf"))))
        bottom = max(bottom, level)
    return Layout(tuple(cells), spots, faces, channels, tuple(gaps), edges[-1] + wide[-1] + EDGE, bottom)


def _column(part: Part) -> int:
    if isinstance(part, (Transformer, Fuse, Breaker)):
        return 0
    if isinstance(part, Stat):
        return 1
    return 3 if isinstance(part, (Valve, Boiler)) else 2


def _size(part: Part) -> _Size:
    """How a part is drawn: which terminals on which side, its name in lines, its height."""
    name, terminals = part_words(part.name), part.terminals
    if isinstance(part, Splice):
        return _Size(part, terminals, (), True, (name,), 24 + WAY * (len(terminals) - 1) + STEP)
    if isinstance(part, Stat):
        left, right = terminals[:1], terminals[1:]
    elif isinstance(part, Transformer):
        low_volts = (*part.secondary_pair, f"{part.name}.X")
        left, right = (tuple(end for end in terminals if (end in low_volts) == is_low) for is_low in (False, True))
    elif _column(part) == 0:
        left, right = (), terminals
    elif _column(part) == 3:
        left, right = terminals, ()
    else:
        left, right = terminals[:2], terminals[2:]
    rows = max(len(left), len(right))
    words = _lines(name, BOX - (8 if left and right else 46))
    head = ROW + 8 if left and right else 2 * STEP
    return _Size(part, left, right, False, words, max(head + ROW * (rows - 1) + 2 * STEP, 2 * ROW))


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


def _width(size: _Size) -> float:
    """What a cell needs across: one-sided boxes keep their letters beside the name."""
    if size.splice:
        return BOX
    return max(BOX, max(text_width(line, NAME) for line in size.name) + (16 if size.left and size.right else 46))


def _columns(sizes: Sequence[_Size]) -> list[list[_Size]]:
    """The parts of each column from top to bottom. A zone's first splice stands with its thermostat."""
    columns: list[list[_Size]] = [[] for _ in range(COLUMNS)]
    zones = list(dict.fromkeys(tag for size in sizes if (tag := home(size.part.name))))
    own = {zone: [size for size in sizes if home(size.part.name) == zone] for zone in zones}
    for zone in zones:
        with_stat = any(isinstance(size.part, Stat) for size in own[zone])
        first = next((size for size in own[zone] if size.splice), None) if with_stat else None
        columns[1] += [first] if first else []
        for size in own[zone]:
            if size is not first:
                columns[_column(size.part)].append(size)
    for size in sizes:
        if not home(size.part.name):
            columns[_column(size.part)].append(size)
    # Relays and whatever else is no splice keep the lower end of the middle; the boiler stands below the valves.
    columns[2].sort(key=lambda size: (not home(size.part.name), not size.splice))
    columns[3].sort(key=lambda size: isinstance(size.part, Boiler))
    return columns


def _tops(columns: Sequence[Sequence[_Size]]) -> list[list[float]]:
    """The top of each cell: thermostats and valves level with each other by zone, the rest one below the other."""
    room = {1: 3 * STEP, 3: 3 * STEP}
    heights: dict[str, float] = {}
    for column in (1, 3):
        blocks: dict[str, float] = {}
        for size in columns[column]:
            if tag := home(size.part.name):
                blocks[tag] = blocks.get(tag, 0.0) + size.height + room[column]
        for tag, height in blocks.items():
            heights[tag] = max(heights.get(tag, 0.0), height)
    starts, level = {}, float(TOP)
    for tag, height in heights.items():
        starts[tag] = level
        level += height
    tops: list[list[float]] = []
    for column, sizes in enumerate(columns):
        offset, found, level = LATTICE * (column % 2), [], float(TOP)
        before = ""
        for size in sizes:
            tag = home(size.part.name)
            if column in room and tag and tag != before:
                level = max(level, starts[tag])
            before = tag
            found.append(_up(level) + offset)
            level = found[-1] - offset + size.height + (2 * STEP if size.splice and tag else 3 * STEP)
        tops.append(found)
    return tops


def _across(columns: Sequence[Sequence[_Size]], wide: Sequence[float]) -> tuple[list[float], tuple[tuple[float, float], ...]]:
    """The left edge of every column, and the channels between them, each as wide as its terminals may need."""
    ends = [
        (sum(len(size.left) for size in column), sum(len(size.left if size.splice else size.right) for size in column))
        for column in columns
    ]
    beyond = [0, *(right for _, right in ends)]
    edges, channels, x = [], [], float(EDGE)
    for column in range(COLUMNS):
        tracks = BUSY * (beyond[column] + ends[column][0])
        room = _up(STEP * (4 + tracks)) if column or ends[0][0] else 0.0
        start = x + (STUB if column else 0)
        channels.append((start, start + room))
        x = start + room + (STUB if column or ends[0][0] else 0)
        edges.append(x)
        x += wide[column]
    channels.append((x, x + EDGE))
    return edges, tuple(channels)


def _spots(cell: Cell, size: _Size) -> dict[str, XY]:
    if cell.splice:
        return {end: (cell.middle, cell.top + 24 + WAY * row) for row, end in enumerate(size.left)}
    head = ROW + 8 if size.left and size.right else 2 * STEP
    found = {end: (cell.left, cell.top + head + ROW * row) for row, end in enumerate(size.left)}
    return found | {end: (cell.right, cell.top + head + ROW * row) for row, end in enumerate(size.right)}


def _up(level: float) -> float:
    """The next level on the lattice of steps."""
    return -(-level // STEP) * STEP
