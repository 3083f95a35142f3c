"""Where the columns of a ladder stand, and the rails in them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby, pairwise

from .cells import BOX_GAP, DEAD_GAP, GAP, GRID, LIFT, Cell, Column
from .graph import Bus
from .rows import Row, row_width
from .sheet import text_width

__all__ = ["ARM", "LEFT", "OUTWARD", "Columns", "by_column", "laid_out", "way_mark"]

ARM = 30  # from a rail to a way that holds more than one conductor
LEFT, RIGHT = 60, 70  # margins, wide enough for the letters beside the outer rails
CLEAR = 35  # beyond a name that is wider than its symbol
WIDER = 40  # for words beyond an outer rail or symbol
NAME = 40  # above a rail for its name
LETTERED_LEFT = (Column.R, Column.T_LEFT, Column.T_RIGHT)  # rails that may have letters on this side, and neighbours too
LETTERED_RIGHT = (Column.C, Column.T_LEFT, Column.T_RIGHT)
OUTWARD = (Column.FEED, Column.R)  # rails that lie further left one by one; all others lie further right


@dataclass(frozen=True, slots=True)
class Columns:
    """Left edges and widths of the columns, the places of the rails, and the width of the sheet."""

    xs: Mapping[Column, float]
    widths: Mapping[Column, int]
    rails: Mapping[str, float]  # bus: x
    width: float


def by_column(cells: list[Cell]) -> list[tuple[Column, list[Cell]]]:
    """Cells of one row, those in one column together."""
    return [(column, list(group)) for column, group in groupby(cells, key=lambda cell: cell.column)]


def way_mark(bus: str, way: str) -> str:
    """What stands beside a way of a rail: "2" for zone 2, "2 relay" for its relay, "fuse" for the fuse."""
    mark = way.removeprefix(f"{bus}.")
    return mark.removeprefix("zone") if mark.startswith("zone") and mark[4:5].isdigit() else mark


def laid_out(
    rows: list[Row],
    buses: tuple[Bus, ...],
    column_of: Mapping[str, Column],
    heights: Mapping[str, tuple[float, float]],
    landed: Mapping[str, tuple],
    lifted: tuple[str, ...],
    arms: Mapping[str, int],
    loose: tuple[str, ...],
) -> Columns:
    """The columns for these rows. Rails of one column stand side by side where their heights overlap."""
    tracks = _tracks(column_of, heights)
    together = {column: 1 + max(tracks[name] for name in column_of if column_of[name] == column) for column in column_of.values()}
    marks = {column: max(_mark_widths(buses, column_of, column)) for column in together}
    pitch = {column: max(GAP, _up(marks[column] + 20)) for column in together}
    widths = {column: (count - 1) * pitch[column] for column, count in together.items()}
    ladder = [row for row in rows if row.kind != "supply"]
    for row in ladder:
        for column, cells in by_column(row.cells):
            widths[column] = max(widths.get(column, 0), row_width(cells))
    # A sheet with a supply and nothing else is as wide as one with a valve.
    present = sorted(widths) or [Column.VALVE]
    gaps = dict.fromkeys(pairwise(present), GAP)
    for row in ladder:
        _widened(gaps, row, landed, lifted)
    for before, after in gaps:
        wide = [marks[before]] if before in LETTERED_RIGHT and before in marks else []
        wide += [marks[after]] if after in LETTERED_LEFT and after in marks else []
        gaps[before, after] = max(gaps[before, after], *(_up(mark + 30) for mark in wide), GAP)
    _reached(gaps, column_of, arms, lifted)
    span = sum(widths.values()) + sum(gaps.values())
    need = max((row_width(row.cells) + 2 * (DEAD_GAP + GRID) for row in rows if row.kind == "supply"), default=0)
    if gaps:
        gaps[present[-2], present[-1]] += max(0, need - span)
    else:
        widths[present[0]] = max(need, span)
    first, last = present[0], present[-1]
    noted = {column_of.get(end.rpartition(".")[0]) for end in loose}
    margins = {column: max(LEFT, _up(marks.get(column, 0) + 20)) for column in (first, last)}
    xs = {first: margins[first] + (0 if first in together and first not in noted else WIDER)}
    for before, after in pairwise(present):
        xs[after] = xs[before] + widths[before] + gaps[before, after]
    rails = {}
    for name, column in column_of.items():
        shift = together[column] - 1 - tracks[name] if column in OUTWARD else tracks[name]
        rails[name] = xs[column] + pitch[column] * shift
    beyond = last not in together or last in noted
    return Columns(xs, widths, rails, xs[last] + widths[last] + max(RIGHT, margins[last]) + (WIDER if beyond else 0))


def _tracks(column_of: Mapping[str, Column], heights: Mapping[str, tuple[float, float]]) -> dict[str, int]:
    """Which place of its column each rail has: the first that no rail of the same heights has."""
    found: dict[str, int] = {}
    for name, column in column_of.items():
        top, bottom = heights[name]
        others = [other for other in found if column_of[other] == column]
        taken = {found[other] for other in others if heights[other][0] < bottom + NAME and top < heights[other][1] + NAME}
        found[name] = next(place for place in range(len(found) + 1) if place not in taken)
    return found


def _widened(gaps: dict[tuple[Column, Column], int], row: Row, landed: Mapping[str, tuple], lifted: tuple[str, ...]) -> None:
    """Room beside boxes, long names, loose ends and lifted leads."""
    for cell in row.cells:
        for side, outward in ((0, 1), (1, -1)):
            terminals = [port.terminal for port in cell.ports if port.side == outward and port.terminal in landed]
            faced = [wire.b if wire.a == end else wire.a for end in terminals for wire in landed[end]]
            need = BOX_GAP if cell.boxed else GAP
            if any(len(landed[end]) != 1 for end in terminals):
                beside = cell.kind == "box" or any(port.dy > 0 for port in cell.ports if port.side == outward)
                need = DEAD_GAP + 2 * GRID * beside + GRID * (cell.kind == "box")
            overhang = (text_width(cell.name, 12) - cell.width) / 2
            need = max(need, math.ceil((overhang + CLEAR) / GRID) * GRID)
            need += LIFT * any(end in lifted for end in terminals) + LIFT * any(end in lifted for end in faced)
            for pair in gaps:
                if cell.column == pair[side]:
                    gaps[pair] = max(gaps[pair], need)


def _reached(
    gaps: dict[tuple[Column, Column], int], column_of: Mapping[str, Column], arms: Mapping[str, int], lifted: tuple[str, ...]
) -> None:
    """Room beside rails for the ways that stand on arms, and for leads lifted off a rail that another one faces."""
    for before, after in gaps:
        for column, side in ((before, 1), (after, -1)):
            if any(way_side == side and column_of[way.rpartition(".")[0]] == column for way, way_side in arms.items()):
                gaps[before, after] += ARM
    facing = Column.C, Column.RETURN
    if facing in gaps and any(column_of.get(end.rpartition(".")[0]) == Column.RETURN for end in lifted):
        gaps[facing] += LIFT


def _mark_widths(buses: tuple[Bus, ...], column_of: Mapping[str, Column], column: Column) -> Iterator[float]:
    for bus in buses:
        if column_of[bus.name] == column:
            yield from (text_width(way_mark(bus.name, way), 12) for way in bus.ways)


def _up(wide: float) -> int:
    return math.ceil(wide / GRID) * GRID
