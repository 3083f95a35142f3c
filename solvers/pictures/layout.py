"""Where everything of a traced installation stands on the sheet: columns, rows, rails, points and their letters.

All places are multiples of the grid, so that whatever cannot be drawn straight can be routed on it.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby, pairwise

from ..plant.running import lead
from ..plant.wiring import Installation
from .graph import Bus, home
from .rows import BOX_GAP, DEAD_GAP, GAP, GRID, LIFT, SUB, Cell, Column, Label, Row, ordered, row_width
from .sheet import text_width
from .trace import Trace

__all__ = ["Plan", "Rail", "planned"]

SLOT = 30  # between ways below one row
LEFT, RIGHT = 60, 70  # margins, wide enough for the letters beside the outer rails
CLEAR = 35  # beyond a name that is wider than its symbol
WIDER = 40  # for words beyond an outer rail or symbol
Spots = Mapping[str, tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Rail:
    """A bus drawn upright, its ways at heights of their own."""

    bus: Bus
    x: float
    ways: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Plan:
    """A laid-out sheet: what stands where, which conductors are straight, which are still to be routed."""

    width: float
    height: float
    cells: tuple[Cell, ...]
    rails: tuple[Rail, ...]
    spots: Spots  # test point: place
    outward: Mapping[str, int]  # terminal: the side on which its conductor leaves, -1 left or 1 right
    straight: Mapping[str, tuple[str, str]]  # conductor: the two test points it joins
    routed: Mapping[str, tuple[str, str]]
    letters: Mapping[str, Label]  # test point: its letter
    names: Mapping[str, Label]  # rail or heading: its words
    notes: tuple[tuple[str, Label], ...]  # terminal: "not connected", line by line


def planned(installation: Installation, trace: Trace, lifted: tuple[str, ...], top: float) -> Plan:
    """The sheet for a trace; `top` is the room for a title."""
    return _Planning(installation, trace, lifted).plan(top)


class _Planning:
    def __init__(self, installation: Installation, trace: Trace, lifted: tuple[str, ...]) -> None:
        self.installation, self.trace, self.lifted = installation, trace, lifted
        self.landed = {terminal: installation.landed(terminal) for terminal in installation.terminals}
        self.rows = ordered(trace)
        self.column_of = self._bus_columns()
        self.row_of = {end: row for row in self.rows for cell in row.cells for end in cell.ends}
        self.levels: dict[str, tuple[Row, float]] = {}  # way: its row, and how far below the row's own line
        self.straight: set[str] = set()
        self.rail_x: dict[str, float] = {}
        self.widths: dict[Column, int] = {}

    def plan(self, top: float) -> Plan:
        xs, width = self._columns()
        self._inside()
        self._ends()
        self._slots()
        headings, height = self._heights(top)
        cells = tuple(self._placed(xs))
        spots = {cell.left: (cell.x, cell.y) for cell in cells} | {cell.right: (cell.x + cell.width, cell.y) for cell in cells}
        spots |= {cell.third: (cell.x, cell.y + SUB) for cell in cells if cell.third}
        outward = {cell.right: 1 for cell in cells} | {end: -1 for cell in cells for end in (cell.left, cell.third) if end}
        rails = [Rail(bus, self.rail_x[bus.name], {way: self._way_y(way) for way in bus.ways}) for bus in self.trace.buses]
        spots |= {way: (rail.x, y) for rail in rails for way, y in rail.ways.items()}
        outward |= {way: self._way_side(way, rail, spots) for rail in rails for way in rail.ways}
        spots |= {lead(end): (spots[end][0] + LIFT * outward[end], spots[end][1]) for end in self.lifted}
        names = {rail.bus.name: self._rail_name(rail) for rail in rails}
        names |= {f"heading {place}": label for place, label in enumerate(headings)}
        joined = {wire.name: self._ends_of(wire.name) for wire in self.installation.conductors}
        return Plan(
            width,
            height,
            cells,
            tuple(rails),
            spots,
            outward,
            {name: ends for name, ends in joined.items() if name in self.straight},
            {name: ends for name, ends in joined.items() if name not in self.straight},
            dict(self._letters(cells, rails, spots, outward)),
            names,
            tuple(self._notes(cells, spots, outward)),
        )

    # Columns

    def _bus_columns(self) -> dict[str, Column]:
        found: dict[str, Column] = {}
        for bus in self.trace.buses:
            second = bus.role == "T" and Column.T_LEFT in found.values()
            found[bus.name] = {"R": Column.R, "C": Column.C}.get(bus.role, Column.T_RIGHT if second else Column.T_LEFT)
        return found

    def _columns(self) -> tuple[dict[Column, float], float]:
        """Left edges of the columns and the sheet's width; sets the places of the rails."""
        together = Counter(self.column_of.values())
        self.widths = {column: (count - 1) * GAP for column, count in together.items()}
        for row in self._ladder_rows():
            for column, cells in _by_column(row.cells):
                self.widths[column] = max(self.widths.get(column, 0), row_width(cells))
        present = sorted(self.widths)
        gaps = dict.fromkeys(pairwise(present), GAP)
        for row in self._ladder_rows():
            self._widened(gaps, row)
        if gaps:
            span = sum(self.widths.values()) + sum(gaps.values())
            need = max((row_width(row.cells) + 2 * (DEAD_GAP + GRID) for row in self.rows if row.kind == "supply"), default=0)
            gaps[present[-2], present[-1]] += max(0, need - span)
        first, last = present[0], present[-1]
        xs: dict[Column, float] = {first: LEFT + (0 if first in together else WIDER)}
        for before, after in pairwise(present):
            xs[after] = xs[before] + self.widths[before] + gaps[before, after]
        for name, column in self.column_of.items():
            self.rail_x[name] = xs[column] + GAP * sum(self.column_of[other] == column for other in self.rail_x)
        words_beyond = last not in together or any(self._column_at(end) == Column.C for end in self.trace.loose)
        return xs, xs[last] + self.widths[last] + RIGHT + (WIDER if words_beyond else 0)

    def _column_at(self, terminal: str) -> Column | None:
        """The column of the rail that a terminal is a way of."""
        bus = self.trace.bus_of(terminal)
        return None if bus is None else self.column_of[bus.name]

    def _ladder_rows(self) -> list[Row]:
        return [row for row in self.rows if row.kind != "supply"]

    def _widened(self, gaps: dict[tuple[Column, Column], int], row: Row) -> None:
        """Room beside boxes, long names, loose ends and lifted leads."""
        for cell in row.cells:
            for side, terminals in ((0, (cell.right,)), (1, tuple(end for end in (cell.left, cell.third) if end))):
                faced = [wire.b if wire.a == end else wire.a for end in terminals for wire in self.landed[end]]
                need = BOX_GAP if cell.boxed else GAP
                if any(len(self.landed[end]) != 1 for end in terminals):
                    need = DEAD_GAP
                overhang = (text_width(cell.name, 12) - cell.width) / 2
                need = max(need, math.ceil((overhang + CLEAR) / GRID) * GRID)
                need += LIFT * any(end in self.lifted for end in terminals) + LIFT * any(end in self.lifted for end in faced)
                for pair in gaps:
                    if cell.column == pair[side]:
                        gaps[pair] = max(gaps[pair], need)

    # Straight conductors and the heights of the ways they land on

    def _inside(self) -> None:
        for row in self.rows:
            for wire in row.chain.wires:
                if wire:
                    self.straight.add(wire)

    def _ends(self) -> None:
        """Row ends and third leads that face their rail get a way level with them, first come first served."""
        for row in self.rows:
            self._level(row, row.cells[0], row.chain.left, row.chain.first, -1)
            self._level(row, row.cells[-1], row.chain.right, row.chain.last, 1)
            for cell in row.cells:
                for wire in self.landed[cell.third] if cell.third else ():
                    if wire.name not in self.straight and self._level(row, cell, cell.third, wire.name, -1):
                        break

    def _level(self, row: Row, cell: Cell, terminal: str, wire: str, side: int) -> bool:
        """Whether a conductor can run straight from a terminal to a way; if so, it does from now on."""
        if not wire:
            return False
        conductor = self.installation.conductor(wire)
        way = conductor.b if conductor.a == terminal else conductor.a
        column = self._column_at(way)
        if column is None or way in self.levels or (column - cell.column) * side <= 0:
            return False
        if row.kind == "supply" and column not in (Column.R, Column.C):
            return False
        if terminal == cell.third and any(other.column >= column for other in row.cells[: row.cells.index(cell)]):
            return False
        self.levels[way] = (row, SUB if terminal == cell.third else 0)
        self.straight.add(wire)
        return True

    def _slots(self) -> None:
        """Ways that no row is level with stand below the row that their conductor comes from."""
        for bus in self.trace.buses:
            column = self.column_of[bus.name]
            for way in bus.ways:
                if way in self.levels:
                    continue
                others = [wire.b if wire.a == way else wire.a for wire in self.landed[way]]
                rows = [self.row_of[other] for other in others if other in self.row_of]
                mates = [self.levels[mate][0] for mate in bus.ways if mate in self.levels]
                row = rows[0] if rows else max(mates, key=self.rows.index) if mates else self.rows[-1]
                count = row.slots[column] = row.slots.get(column, 0) + 1
                self.levels[way] = (row, row.below + GRID + SLOT * (count - 1))

    def _heights(self, top: float) -> tuple[list[Label], float]:
        """Gives every row its height; returns the headings and the sheet's own height."""
        headings = []
        y = top
        for place, row in enumerate(self.rows):
            if row.kind == "feed" and (place == 0 or self.rows[place - 1].kind != "feed"):
                headings.append(_heading("T-T circuit", y + 22, sorted(self.rail_x.values())))
                y += 2 * GRID
            row.y = y + row.above
            ends = {end for cell in row.cells for end in cell.ends}
            wires = [wire for wire in self.installation.conductors if wire.name not in self.straight]
            lanes = min(6, sum(wire.a in ends or wire.b in ends for wire in wires))
            y = row.y + row.below + SLOT * max(row.slots.values(), default=0) + GRID * lanes
        return headings, y + GRID

    def _way_y(self, way: str) -> float:
        row, down = self.levels[way]
        return row.y + down

    # Places

    def _placed(self, xs: Mapping[Column, float]) -> Iterator[Cell]:
        outer = self.rail_x.values()
        for row in self.rows:
            if row.kind == "supply":
                yield from _spread(row, min(outer, default=LEFT), max(outer, default=LEFT + 400))
                continue
            for column, cells in _by_column(row.cells):
                x = xs[column] + (self.widths[column] - row_width(cells)) // 2 // GRID * GRID
                for cell, after in zip(cells, (*cells[1:], None), strict=True):
                    yield replace(cell, x=x, y=row.y)
                    x += cell.width + (cell.apart(after) if after else 0)

    def _way_side(self, way: str, rail: Rail, spots: Spots) -> int:
        column = self.column_of[rail.bus.name]
        if column != Column.T_LEFT:
            return 1 if column == Column.R else -1
        others = [wire.b if wire.a == way else wire.a for wire in self.landed[way]]
        return -1 if others and spots[others[0]][0] < rail.x else 1

    def _ends_of(self, wire: str) -> tuple[str, str]:
        conductor = self.installation.conductor(wire)
        a, b = (lead(end) if end in self.lifted else end for end in (conductor.a, conductor.b))
        return a, b

    # Words on the sheet

    def _rail_name(self, rail: Rail) -> Label:
        top = min(rail.ways.values()) - 22
        inner = self.column_of[rail.bus.name] in (Column.T_LEFT, Column.T_RIGHT)
        return Label(rail.bus.name, rail.x + 2, top, "end") if inner else Label(rail.bus.name, rail.x, top)

    def _letters(
        self, cells: Iterable[Cell], rails: Iterable[Rail], spots: Spots, outward: Mapping[str, int]
    ) -> Iterator[tuple[str, Label]]:
        for cell in cells:
            for end in cell.ends:
                x, y = spots[end]
                mark = end.rpartition(".")[2]
                if cell.boxed:
                    yield end, Label(mark, x + 9 * outward[end], y - 9, "start" if outward[end] > 0 else "end")
                else:
                    yield end, Label(mark, x, y - 10)
        for rail in rails:
            for way, y in rail.ways.items():
                mark = way.removeprefix(f"{rail.bus.name}.")
                short = home(f"{mark}.").removeprefix("zone") or mark
                side = -outward[way]
                yield way, Label(short, rail.x + 9 * side, y - 6, "start" if side > 0 else "end")
        for terminal in self.lifted:
            x, y = spots[lead(terminal)]
            yield lead(terminal), Label("lifted", x, y + 19)

    def _notes(self, cells: Iterable[Cell], spots: Spots, outward: Mapping[str, int]) -> Iterator[tuple[str, Label]]:
        boxed = {end for cell in cells if cell.boxed for end in (cell.left, cell.right)}
        for terminal in self.trace.loose:
            x, y = spots[terminal]
            side = outward[terminal]
            anchor = "start" if side > 0 else "end"
            column = self._column_at(terminal)
            if column == Column.C:
                yield terminal, Label("not connected", x + 9, y + 9, "start")
            elif column is not None:
                yield terminal, Label("not connected", x + 24 * side, y + 4, anchor)
            else:
                # Beside a box the third lead and its bus are below, so the words go above.
                down = -36 if terminal in boxed else 17
                yield terminal, Label("not", x + 11 * side, y + down, anchor)
                yield terminal, Label("connected", x + 11 * side, y + down + 13, anchor)


def _heading(words: str, y: float, rails: list[float]) -> Label:
    """A section's name, in the leftmost place that no rail passes through."""
    x = LEFT + 12.0
    for rail in rails:
        if x - 6 < rail < x + text_width(words, 14):
            x = rail + 12
    return Label(words, x, y, "start", 13)


def _by_column(cells: Iterable[Cell]) -> list[tuple[Column, list[Cell]]]:
    return [(column, list(group)) for column, group in groupby(cells, key=lambda cell: cell.column)]


def _spread(row: Row, left: float, right: float) -> Iterator[Cell]:
    """A supply's parts, evenly between the outer rails."""
    room = (right - left - sum(cell.width for cell in row.cells)) / (len(row.cells) + 1)
    x = left
    for cell in row.cells:
        x += room
        yield replace(cell, x=round(x / GRID) * GRID, y=row.y)
        x += cell.width
