"""The rows of a ladder: each chain as a line of symbols, each symbol in its column."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from ..plant.naming import PLAIN, home, part_words, short_words, zone_of
from .cells import BOX_GAP, GAP, GRID, Cell, Column
from .elements import DRIVES
from .graph import AHEAD, Bus
from .sheet import text_width
from .trace import Chain, Step, Trace

__all__ = ["Row", "apart", "bus_columns", "ordered", "row_width"]

LOADS = (*DRIVES, "valve", "switch", "throw", "boiler", "box")
SYMBOLS = (Column.FEEDING, Column.BEFORE, Column.STAT, Column.BETWEEN, Column.VALVE, Column.AFTER, Column.RETURNING)


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
        return max(cell.above for cell in self.cells)

    @property
    def below(self) -> int:
        return max(cell.below for cell in self.cells) + (2 * GRID if self.kind == "supply" and self.slots else 0)


def bus_columns(buses: Iterable[Bus]) -> dict[str, Column]:
    """The column of each bus: supply rails outside, the first T-T rail and whatever serves nothing left of the valves."""
    fixed = {AHEAD["R"]: Column.FEED, "R": Column.R, "C": Column.C, AHEAD["C"]: Column.RETURN}
    found: dict[str, Column] = {}
    for bus in buses:
        second = bus.role == "T" and Column.T_LEFT in found.values()
        found[bus.name] = fixed.get(bus.role, Column.T_RIGHT if second else Column.T_LEFT)
    return found


def ordered(trace: Trace, columns: Mapping[str, Column]) -> list[Row]:
    """The rows of a trace, top to bottom: each source with its zones and what strays beside them, then the T-T side."""
    sorting = _Sorting(trace, columns)
    rows: list[Row] = []
    for number, supply in enumerate(trace.supplies or (None,)):
        if supply is not None:
            rows.append(sorting.row(supply, "supply", ""))
        rungs = [one for one in trace.rungs if sorting.source(one[1]) == number]
        strays = [stray for stray in trace.strays if sorting.source(stray) == number]
        ahead = [one for one in rungs if sorting.column(one[1], -1) == Column.FEED]
        links = [stray for stray in strays if sorting.column(stray, -1) == Column.FEED]
        rows += [sorting.row(chain, "rung", zone) for zone, chain in ahead]
        rows += [sorting.row(link, "stray", "") for link in links]
        told = list(links)
        for zone in dict.fromkeys(zone for zone, _ in rungs):
            rows += [sorting.row(chain, "rung", zone) for other, chain in rungs if other == zone and (other, chain) not in ahead]
            beside = [stray for stray in strays if stray not in told and zone and zone_of(stray.left) == zone]
            rows += [sorting.row(stray, "stray", sorting.told_zone(stray)) for stray in beside]
            told += beside
        rows += [sorting.row(stray, "stray", "") for stray in strays if stray not in told]
    return rows + [sorting.row(feed, "feed", "") for feed in trace.feeds]


def apart(cell: Cell, after: Cell) -> int:
    """The room between two cells that keeps their names apart."""
    names = text_width(f"{cell.name}{after.name}", 12) / 2 + 2 * GRID - (cell.width + after.width) / 2
    return max(BOX_GAP + GRID if cell.boxed or after.boxed else GAP, math.ceil(names / GRID) * GRID)


def row_width(cells: list[Cell]) -> int:
    """How wide neighbouring cells are together, with room between them for their names."""
    return sum(cell.width for cell in cells) + sum(apart(cell, after) for cell, after in itertools.pairwise(cells))


class _Sorting:
    """Chains to rows, with the columns of the buses at hand."""

    def __init__(self, trace: Trace, columns: Mapping[str, Column]) -> None:
        self.trace, self.columns = trace, columns
        self.bus_at = {way: bus for bus in trace.buses for way in bus.ways}
        self.zone_source = {zone: self.end(chain, -1).source for zone, chain in trace.rungs if self.end(chain, -1)}

    def end(self, chain: Chain, side: int) -> Bus | None:
        """The bus at one end of a chain."""
        way = chain.first_way if side < 0 else chain.last_way
        return self.bus_at.get(way)

    def column(self, chain: Chain, side: int) -> Column | None:
        bus = self.end(chain, side)
        return None if bus is None else self.columns[bus.name]

    def source(self, chain: Chain) -> int:
        """The source in whose section a chain stands: that of its left rail, of its zone, or the first."""
        bus = self.end(chain, -1)
        if bus is not None and bus.role in ("R", AHEAD["R"]):
            return min(bus.source, max(0, len(self.trace.supplies) - 1))
        return min(self.zone_source.get(zone_of(chain.left), 0), max(0, len(self.trace.supplies) - 1))

    def told_zone(self, chain: Chain) -> str:
        """The zone that some symbol of a chain has in its name, so that the others need not say it; "" where none has."""
        numbered = [step.element.part for step in chain.steps if step.element.part.rpartition(".")[2] in PLAIN]
        return home(numbered[0]) if numbered else ""

    def row(self, chain: Chain, kind: str, zone: str) -> Row:
        cells = [self._cell(steps, zone) for steps in chain.groups]
        kinds = [cell.kind for cell in cells]
        loads = [place for place, name in enumerate(kinds) if name in LOADS]
        stat = kinds.index("stat") if "stat" in kinds else kinds.index("stat box") if "stat box" in kinds else -1
        limit = Column.RETURN
        if not loads and (right := self.column(chain, 1)) is not None:
            limit = right
        furthest = Column.FEED
        for place, cell in enumerate(cells):
            # Columns never run backward along a row.
            furthest = max(furthest, _column(place, kinds, loads, stat, bool(chain.last), kind))
            least = cells[place - 1].column if place else Column.FEED
            cells[place] = replace(cell, column=max(least, _before(furthest, limit, self.column(chain, -1))))
        return Row(chain, cells, kind)

    def _cell(self, steps: tuple[Step, ...], zone: str) -> Cell:
        first = steps[0].element
        part = first.part
        name = short_words(part) if zone and home(part) == zone else part_words(part)
        hung = next((other for other in self.trace.hung if other.unit == first.unit), None)
        lone = self.trace.lone.get(first.unit, ())
        if hung is not None:
            third = next(end for end in (hung.a, hung.b) if end not in (steps[0].left, steps[0].right))
        else:
            third = steps[0].right if len(steps) == 2 else ""
        return Cell(part, _kind(steps, third), steps, name, third=third, hung=hung, lone=lone)


def _kind(steps: tuple[Step, ...], third: str) -> str:
    """What a unit is drawn as: its own symbol, or one of the symbols with a third lead."""
    kind = steps[0].element.kind
    if not third:
        return kind
    if len(steps) == 1 and kind in ("contact", "switch"):
        return "pole" if kind == "contact" else "throw"
    return "stat box" if kind in ("stat", "electronics") else "valve"


def _column(place: int, kinds: list[str], loads: list[int], stat: int, ends_on_bus: bool, row_kind: str) -> Column:
    kind = kinds[place]
    if place == stat:
        return Column.STAT
    if place in loads:
        return Column.VALVE
    if loads and place > loads[-1]:
        return Column.AFTER
    if place < stat:
        return Column.BEFORE
    if stat < 0 and kind in ("contact", "pole") and row_kind != "feed":
        return Column.STAT
    if kind in ("coil", "contact", "pole"):
        return Column.VALVE
    return Column.AFTER if not loads and stat < 0 and ends_on_bus else Column.BETWEEN


def _before(column: Column, limit: Column, left: Column | None) -> Column:
    """The same column, or one further left for a chain that ends at a rail left of it."""
    if column < limit or (left is not None and left >= limit):
        return column
    return max((Column.STAT if other == Column.BETWEEN else other for other in SYMBOLS if other < limit), default=column)
