"""Where everything of a traced installation stands on the sheet: columns, rows, rails, points and their letters.

All places are multiples of the grid, so that whatever cannot be drawn straight can be routed on it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from ..plant.running import lead
from ..plant.wiring import Installation
from .cells import GAP, GRID, LIFT, Cell, Column, Label
from .columns import ARM, LEFT, OUTWARD, Columns, by_column, laid_out
from .graph import Bus
from .labels import heading, letters, notes, rail_names
from .rows import Row, apart, bus_columns, ordered, row_width
from .trace import Trace
from .units import captions

__all__ = ["Plan", "Rail", "planned"]

CLEAR = 40  # between a supply's parts and rails that pass
SLOT = 30  # between ways below one row
SUPPLIES = (Column.FEED, Column.R, Column.C, Column.RETURN)
Spots = Mapping[str, tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Rail:
    """A bus drawn upright, its ways at heights of their own; a way may stand beside the rail on an arm."""

    bus: Bus
    x: float
    ways: Mapping[str, tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Plan:
    """A laid-out sheet: what stands where, which conductors are straight, which are still to be routed."""

    width: float
    height: float
    cells: tuple[Cell, ...]
    rails: tuple[Rail, ...]
    bars: Mapping[str, float]  # test point: how far down a bar extends it, for the branches that begin there
    spots: Spots  # test point: place
    outward: Mapping[str, int]  # terminal: the side on which its conductor leaves, -1 left or 1 right
    straight: Mapping[str, tuple[str, str]]  # conductor: the two test points it joins
    routed: Mapping[str, tuple[str, str]]
    letters: Mapping[str, Label]  # test point: its letter
    names: Mapping[str, Label]  # rail or heading: its words
    notes: tuple[tuple[str, Label], ...]  # terminal: "not connected", line by line
    said: Mapping[Cell, tuple[Label, ...]]  # symbol: its words


def planned(installation: Installation, trace: Trace, lifted: tuple[str, ...], top: float) -> Plan:
    """The sheet for a trace; `top` is the room for a title."""
    return _Planning(installation, trace, lifted).plan(top)


class _Planning:
    def __init__(self, installation: Installation, trace: Trace, lifted: tuple[str, ...]) -> None:
        self.installation, self.trace, self.lifted = installation, trace, lifted
        self.landed = {terminal: installation.landed(terminal) for terminal in installation.terminals}
        self.column_of = bus_columns(trace.buses)
        self.bus_at = {way: bus.name for bus in trace.buses for way in bus.ways}
        self.rows = ordered(trace, self.column_of)
        self.row_of = {port.terminal: row for row in self.rows for cell in row.cells for port in cell.ports}
        self.levels: dict[str, tuple[Row, float]] = {}  # way: its row, and how far below the row's own line
        self.straight: set[str] = set()
        self.heights: dict[str, tuple[float, float]] = {}  # bus: its rail's top and bottom
        self.branches: dict[str, list[Row]] = {}  # terminal: rows that begin on its bar
        self.arms = {
            way: 1 if self.column_of[bus] in OUTWARD else -1  # the side of the rail on which the way stands
            for way, bus in self.bus_at.items()
            if len(self.landed[way]) > 1 and self.column_of[bus] in SUPPLIES
        }

    def plan(self, top: float) -> Plan:
        self._inside()
        self._ends()
        self._branches()
        self._links()
        self._slots()
        tops, height = self._heights(top)
        columns = self._columns()
        cells = tuple(self._placed(columns))
        ports = [(cell, port) for cell in cells for port in cell.ports]
        spots = {port.terminal: (cell.x + port.dx, cell.y + port.dy) for cell, port in ports}
        outward = {port.terminal: port.side for _, port in ports}
        rails = [self._rail(bus, columns.rails[bus.name]) for bus in self.trace.buses]
        spots |= {way: at for rail in rails for way, at in rail.ways.items()}
        outward |= {way: self._way_side(way, rail, spots) for rail in rails for way in rail.ways}
        spots |= {lead(end): (spots[end][0] + LIFT * outward[end], spots[end][1]) for end in self.lifted}
        joined = {wire.name: self._ends_of(wire.name) for wire in self.installation.conductors}
        straight = {name: ends for name, ends in joined.items() if name in self.straight}
        said = {cell: captions(cell, self.installation.part(cell.part)) for cell in cells}
        bars = {lead(end) if end in self.lifted else end: rows[-1].y for end, rows in self.branches.items()}
        marks = dict(letters(cells, rails, spots, outward, self.lifted, bars))
        words = [*marks.values(), *(label for labels in said.values() for label in labels)]
        lines = [(spots[a], spots[b]) for a, b in straight.values()]
        by_name = {rail.bus.name: rail for rail in rails}
        remarks = tuple(notes(self.trace.loose, cells, by_name, spots, outward, words, lines))
        words += [label for _, label in remarks]
        names = rail_names(rails, self.column_of, words, lines)
        names |= {f"heading {place}": heading(text, y, columns.rails.values()) for place, (text, y) in enumerate(tops)}
        return Plan(
            width=columns.width,
            height=height,
            cells=cells,
            rails=tuple(rails),
            bars=bars,
            spots=spots,
            outward=outward,
            straight=straight,
            routed={name: ends for name, ends in joined.items() if name not in self.straight},
            letters=marks,
            names=names,
            notes=remarks,
            said=said,
        )

    # Straight conductors and the heights of the ways they land on

    def _inside(self) -> None:
        for row in self.rows:
            self.straight |= {wire for wire in row.chain.wires if wire}

    def _ends(self) -> None:
        """Row ends and other leads that face their rail get a way level with them, first come first served."""
        for row in self.rows:
            self._level(row, row.cells[0], row.chain.left, row.chain.first_way, row.chain.first, -1, 0)
            if row.chain.right != row.chain.left:
                self._level(row, row.cells[-1], row.chain.right, row.chain.last_way, row.chain.last, 1, 0)
            for cell in row.cells:
                for port in cell.ports:
                    if port.dy <= 0:
                        continue
                    for wire in self.landed[port.terminal]:
                        way = wire.b if wire.a == port.terminal else wire.a
                        if wire.name not in self.straight and self._level(
                            row, cell, port.terminal, way, wire.name, port.side, port.dy
                        ):
                            break

    def _level(self, row: Row, cell: Cell, terminal: str, way: str, wire: str, side: int, down: int) -> bool:
        """Whether a conductor can run straight from a terminal to a way; if so, it does from now on."""
        bus = self.bus_at.get(way)
        if not wire or bus is None or way in self.levels:
            return False
        column = self.column_of[bus]
        if (column - cell.column) * side <= 0 or (row.kind == "supply" and column not in SUPPLIES):
            return False
        place = row.cells.index(cell)
        between = row.cells[:place] if side < 0 else row.cells[place + 1 :]
        if down and any((other.column - column) * side <= 0 for other in between):
            return False
        self.levels[way] = (row, down)
        self.straight.add(wire)
        if way in self.arms:
            self.arms[way] = -side
        return True

    def _branches(self) -> None:
        """Rows that begin at a terminal of the row above, or of a row that begins there too, hang on a bar below it."""
        for above, row in zip(self.rows, self.rows[1:], strict=False):
            begins = self.landed[row.chain.left]
            if row.chain.first or row.kind == "supply" or len(begins) != 1 or row.chain.left in self.lifted:
                continue
            (wire,) = begins
            start = wire.b if wire.a == row.chain.left else wire.a
            rows = self.branches.get(start)
            if rows is not None:
                begun = rows[-1] is above
            else:
                holders = [cell for cell in above.cells if cell.right == start and cell.column < row.cells[0].column]
                begun = bool(holders) and above.kind != "supply" and not _hangs(holders[0])
            if begun and wire.name not in self.straight:
                self.branches.setdefault(start, []).append(row)
                self.straight.add(wire.name)

    def _links(self) -> None:
        """A conductor from rail to rail runs level, below the last row that both have a way in."""
        for wire in self.installation.conductors:
            ways = [end for end in (wire.a, wire.b) if end in self.bus_at and end not in self.levels]
            if len(ways) < 2 or set(ways) & set(self.arms) or len({self.column_of[self.bus_at[way]] for way in ways}) < 2:
                continue
            inner = [self.bus_at[way] for way in ways]
            rows = [self.levels[way][0] for way, bus in self.bus_at.items() if bus in inner and way in self.levels]
            low, high = sorted(self.column_of[bus] for bus in inner)
            row = max(rows, key=self.rows.index, default=self.rows[-1])
            across = [column for column in self.column_of.values() if low < column < high]
            if across or any(low < cell.column < high for other in self.rows for cell in other.cells):
                continue
            down = self._slot(row, *{self.column_of[bus] for bus in inner})
            for way in ways:
                self.levels[way] = (row, down)
            self.straight.add(wire.name)

    def _slot(self, row: Row, *columns: Column) -> float:
        """The next free height below a row, in these columns."""
        count = 1 + max(row.slots.get(column, 0) for column in columns)
        row.slots |= dict.fromkeys(columns, count)
        return row.below + GRID + SLOT * (count - 1)

    def _slots(self) -> None:
        """Ways that no row is level with stand below the row that their conductor comes from."""
        for bus in self.trace.buses:
            for way in bus.ways:
                if way in self.levels:
                    continue
                others = [wire.b if wire.a == way else wire.a for wire in self.landed[way]]
                rows = [self.row_of[other] for other in others if other in self.row_of]
                mates = [self.levels[mate][0] for mate in bus.ways if mate in self.levels]
                row = rows[0] if rows else max(mates, key=self.rows.index) if mates else self.rows[-1]
                self.levels[way] = (row, self._slot(row, self.column_of[bus.name]))

    def _heights(self, top: float) -> tuple[list[tuple[str, float]], float]:
        """Gives every row its height; returns the headings and the sheet's own height."""
        headings = []
        y = top
        for place, row in enumerate(self.rows):
            if row.kind == "feed" and (place == 0 or self.rows[place - 1].kind != "feed"):
                headings.append(("T-T circuit", y + 22))
                y += 2 * GRID
            row.y = y + row.above
            ends = {port.terminal for cell in row.cells for port in cell.ports}
            wires = [wire for wire in self.installation.conductors if wire.name not in self.straight]
            lanes = min(6, sum(wire.a in ends or wire.b in ends for wire in wires))
            y = row.y + row.below + SLOT * max(row.slots.values(), default=0) + GRID * lanes
        return headings, y + GRID

    def _way_y(self, way: str) -> float:
        row, down = self.levels[way]
        return row.y + down

    # Places

    def _columns(self) -> Columns:
        ys = {bus.name: [self._way_y(way) for way in bus.ways] for bus in self.trace.buses}
        self.heights = {name: (min(found), max(found)) for name, found in ys.items()}
        trace = self.trace
        return laid_out(self.rows, trace.buses, self.column_of, self.heights, self.landed, self.lifted, self.arms, trace.loose)

    def _placed(self, columns: Columns) -> Iterator[Cell]:
        within = [column for column in columns.xs if column not in SUPPLIES]
        outer = [*columns.rails.values(), *(columns.xs[column] for column in within)]
        outer += [columns.xs[column] + columns.widths[column] for column in within if column in columns.widths]
        for row in self.rows:
            if row.kind == "supply":
                left = min(outer, default=LEFT)
                passing = [name for name, (high, low) in self.heights.items() if high < row.y + GRID and row.y - row.above < low]
                inner = sorted(columns.rails[name] for name in passing if self.column_of[name] not in SUPPLIES)
                yield from self._spread(row, left, max(outer, default=LEFT + 340), inner)
                continue
            for column, cells in by_column(row.cells):
                x = columns.xs[column] + (columns.widths[column] - row_width(cells)) // 2 // GRID * GRID
                for cell, after in zip(cells, (*cells[1:], None), strict=True):
                    yield replace(cell, x=x, y=row.y)
                    x += cell.width + (apart(cell, after) if after else 0)

    def _spread(self, row: Row, left: float, right: float, passing: Iterable[float]) -> Iterator[Cell]:
        """A supply's parts, evenly between the outer rails and clear of other rails that pass."""
        room = (right - left - sum(cell.width for cell in row.cells)) / (len(row.cells) + 1)
        x = least = left
        for cell in row.cells:
            x += room
            place = max(round(x / GRID) * GRID, least)
            clear = CLEAR + GAP * any(len(self.landed[end]) != 1 or end in self.lifted for end in (cell.left, cell.right))
            for rail in passing:
                if place - clear < rail < place + cell.width + clear:
                    place = rail + clear
            yield replace(cell, x=place, y=row.y)
            x += cell.width
            least = place + cell.width + CLEAR

    def _rail(self, bus: Bus, x: float) -> Rail:
        return Rail(bus, x, {way: (x + ARM * self.arms.get(way, 0), self._way_y(way)) for way in bus.ways})

    def _way_side(self, way: str, rail: Rail, spots: Spots) -> int:
        column = self.column_of[rail.bus.name]
        if way in self.arms:
            return self.arms[way]
        if column != Column.T_LEFT:
            return 1 if column in OUTWARD else -1
        others = [wire.b if wire.a == way else wire.a for wire in self.landed[way]]
        return -1 if others and spots[others[0]][0] < rail.x else 1

    def _ends_of(self, wire: str) -> tuple[str, str]:
        conductor = self.installation.conductor(wire)
        a, b = (lead(end) if end in self.lifted else end for end in (conductor.a, conductor.b))
        return a, b


def _hangs(cell: Cell) -> bool:
    """Whether a symbol has a lead below its right end."""
    return any(port.dy > 0 and port.dx == cell.width for port in cell.ports)
