"""The rows of a ladder: each chain as a line of symbols, each symbol in its column."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, field, replace
from enum import IntEnum

from .graph import Element, home
from .sheet import text_width
from .trace import Chain, Step, Trace
from .words import part_words, short_words

__all__ = [
    "BOX_GAP",
    "DEAD_GAP",
    "GAP",
    "GRID",
    "LIFT",
    "SUB",
    "Cell",
    "Column",
    "Label",
    "Row",
    "ordered",
    "row_width",
]

GRID = 10
SUB = 50  # from a boxed valve's rung down to its third lead
GAP, BOX_GAP, DEAD_GAP = 50, 60, 80  # between columns; beside a box; beside an end with nothing on it
LIFT = 30  # from a terminal to the lead lifted off it
WIDTHS = {"joint": 30, "stat": 70, "heater": 90, "switch": 90, "valve": 140, "boiler": 140, "fuse": 70, "winding": 100}
ABOVE = {"valve": 60, "boiler": 60, "winding": 80}  # room for a symbol and its words; 50 for all others
BELOW = {"valve": 90, "boiler": 50, "winding": 40}  # 30 for all others


class Column(IntEnum):
    """The columns of the sheet, left to right: rails, and the symbols between them."""

    R = 0
    BEFORE = 1
    STAT = 2
    BETWEEN = 3
    T_LEFT = 4
    VALVE = 5
    AFTER = 6
    T_RIGHT = 7
    C = 8


@dataclass(frozen=True, slots=True)
class Label:
    """One line of text on the sheet."""

    text: str
    x: float
    y: float  # baseline
    anchor: str = "middle"
    size: float = 12


@dataclass(frozen=True, slots=True)
class Cell:
    """One symbol in a row: an element, or a three-wire valve drawn whole."""

    part: str
    kind: str
    steps: tuple[Step, ...]
    name: str
    column: Column = Column.VALVE
    third: str = ""  # the valve lead below the rung
    hung: Element | None = None  # what lies between the rung and the third lead
    x: float = 0.0  # of its left terminal
    y: float = 0.0

    @property
    def left(self) -> str:
        return self.steps[0].left

    @property
    def right(self) -> str:
        return self.steps[-1].right

    @property
    def width(self) -> int:
        return WIDTHS[self.kind]

    @property
    def boxed(self) -> bool:
        return self.kind in ("valve", "boiler")

    @property
    def ends(self) -> tuple[str, ...]:
        """Its terminals."""
        return (self.left, self.right, self.third) if self.third else (self.left, self.right)

    def apart(self, after: Cell) -> int:
        """The room to the next cell that keeps their names apart."""
        names = text_width(f"{self.name}{after.name}", 12) / 2 + 2 * GRID - (self.width + after.width) / 2
        return max(BOX_GAP + GRID if self.boxed or after.boxed else GAP, math.ceil(names / GRID) * GRID)


@dataclass(slots=True)
class Row:
    """One chain on the sheet."""

    chain: Chain
    cells: list[Cell]
    kind: str  # "supply", "rung", "stray" or "feed"
    y: float = 0.0
    slots: dict[Column, int] = field(default_factory=dict)  # column of a rail: ways put below this row

    @property
    def above(self) -> int:
        return max(ABOVE.get(cell.kind, 50) for cell in self.cells)

    @property
    def below(self) -> int:
        return max(BELOW.get(cell.kind, 30) for cell in self.cells) + (2 * GRID if self.kind == "supply" and self.slots else 0)


def ordered(trace: Trace) -> list[Row]:
    """The rows of a trace, top to bottom: supplies, the zones with what strays beside each, the T-T side."""
    rows = [_row(trace, chain, "supply", "") for chain in trace.supplies]
    strays = list(trace.strays)
    for zone, chain in trace.rungs:
        rows.append(_row(trace, chain, "rung", zone))
        for stray in [stray for stray in strays if home(stray.left) == zone]:
            rows.append(_row(trace, stray, "stray", ""))
            strays.remove(stray)
    rows += [_row(trace, stray, "stray", "") for stray in strays]
    return rows + [_row(trace, feed, "feed", "") for feed in trace.feeds]


def row_width(cells: list[Cell]) -> int:
    """How wide neighbouring cells are together, with room between them for their names."""
    return sum(cell.width for cell in cells) + sum(cell.apart(after) for cell, after in itertools.pairwise(cells))


def _row(trace: Trace, chain: Chain, kind: str, zone: str) -> Row:
    cells = [_cell(trace, steps, zone) for steps in chain.groups]
    kinds = [cell.kind for cell in cells]
    valves = [place for place, name in enumerate(kinds) if name in ("valve", "heater", "switch", "boiler")]
    stat = kinds.index("stat") if "stat" in kinds else -1
    furthest = Column.R
    for place, cell in enumerate(cells):
        # Columns never run backward along a row.
        furthest = max(furthest, _column(place, cell.kind, valves, stat, bool(chain.last)))
        cells[place] = replace(cell, column=furthest)
    return Row(chain, cells, kind)


def _cell(trace: Trace, steps: tuple[Step, ...], zone: str) -> Cell:
    part = steps[0].element.part
    name = short_words(part) if zone and home(part) == zone else part_words(part)
    hung = next((other for other in trace.hung if other.part == part), None)
    if hung is not None:
        third = next(end for end in (hung.a, hung.b) if end not in (steps[0].left, steps[0].right))
        return Cell(part, "valve", steps, name, third=third, hung=hung)
    if len(steps) == 2:
        return Cell(part, "valve", steps, name, third=steps[0].right)
    return Cell(part, steps[0].element.kind, steps, name)


def _column(place: int, kind: str, valves: list[int], stat: int, ends_on_bus: bool) -> Column:
    if kind == "stat":
        return Column.STAT
    if place in valves:
        return Column.VALVE
    if valves and place > valves[-1]:
        return Column.AFTER
    if place < stat:
        return Column.BEFORE
    return Column.AFTER if not valves and stat < 0 and ends_on_bus else Column.BETWEEN
