"""The ladder diagram of an installation as SVG: drawn from where its conductors land, and from nothing else."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

from ..circuit import OPEN
from ..plant.naming import part_words, point_words, wire_words
from ..plant.running import PlantState
from ..plant.wiring import Installation
from .cells import GRID, PANEL, PRIMARY, Cell, Label
from .condition import shown
from .labels import box_of
from .layout import Plan, Rail, planned
from .routing import Grid, crossings
from .sheet import FINE, INK, RAIL, SOFT, XY, Sheet
from .symbols import RING, ring
from .trace import traced
from .units import drawn
from .words import ladder_words

__all__ = ["ladder"]

TITLE_SIZE = 15


def ladder(installation: Installation, *, state: PlantState | None = None, title: str = "", inside: bool = False) -> str:
    """The ladder of an installation: rails, one rung a zone, and the T-T circuit apart, as one SVG.

    A state adds what can be seen from outside: thermostats that call, leads that are lifted. With `inside` it also
    shows what nobody can see with the covers on: end switches, blown fuses, burnt heaters, open conductors.
    A part that has no symbol is a box with its name.
    """
    trace = traced(installation)
    plan = planned(installation, trace, state.lifted if state else (), 4 * GRID if title else 2 * GRID)
    said = [label for labels in plan.said.values() for label in labels]
    lines, unrouted = _lines(plan, said)
    sheet = Sheet(plan.width, plan.height)
    if title:
        sheet.text(title, 2 * GRID, 2.5 * GRID, size=TITLE_SIZE, anchor="start", bold=True)
    rails = {rail.bus.name: _rail_points(rail) for rail in plan.rails}
    for name, points in lines.items():
        _wire(sheet, installation, name, points, [line for other, line in lines.items() if other != name], inside)
    for rail in plan.rails:
        _rail(sheet, rail, rails[rail.bus.name], list(lines.values()), plan.names[rail.bus.name])
    for cell in plan.cells:
        with sheet.group("part", part=cell.part, title=part_words(cell.part)):
            part, now = installation.part(cell.part), state.of(cell.part) if state else None
            drawn(sheet, cell, part, shown(part, now, cell.elements, inside=inside))
            for label in plan.said[cell]:
                _label(sheet, label)
    for name, label in plan.names.items():
        if name not in rails:
            _label(sheet, label, bold=True)
    _notes(sheet, plan)
    bars = _bars(plan)
    taken = [box_of(label) for label in (*plan.letters.values(), *plan.names.values(), *(note for _, note in plan.notes), *said)]
    drawn_lines = [*lines.values(), *bars.values(), *(line for stretches in rails.values() for line in stretches)]
    for name, a, b in unrouted:
        _referred(sheet, plan, name, (a, b), taken, drawn_lines)
    for point, (x, y) in plan.spots.items():
        with sheet.group("point", point=point, title=point_words(point)):
            ring(sheet, x, y)
            if point in bars:
                _bar(sheet, bars[point], list(lines.values()))
            _label(sheet, plan.letters[point])
    return sheet.svg(title or installation.name, ladder_words(installation))


def _lines(plan: Plan, said: list[Label]) -> tuple[dict[str, list[XY]], list[tuple[str, str, str]]]:
    """Every conductor's corners from ring edge to ring edge, and those that found no way on the sheet."""
    lines = {name: _level(plan, a, b) for name, (a, b) in plan.straight.items()}
    if plan.routed:
        grid = _grid(plan, lines, said)
        for name, (a, b) in plan.routed.items():
            if found := grid.path(plan.spots[a], plan.spots[b]):
                lines[name] = found
                grid.run(found)
    unrouted = [(name, a, b) for name, (a, b) in plan.routed.items() if name not in lines]
    rings = set(plan.spots.values())
    return {name: _trimmed(points, rings) for name, points in lines.items()}, unrouted


def _level(plan: Plan, a: str, b: str) -> list[XY]:
    """A straight conductor; where a branch begins on a bar, it begins below the bar's own test point."""
    start, end = plan.spots[a], plan.spots[b]
    if start[1] == end[1]:
        return [start, end]
    return [(start[0], end[1]), end] if a in plan.bars else [start, (end[0], start[1])]


def _grid(plan: Plan, lines: Mapping[str, list[XY]], said: list[Label]) -> Grid:
    grid = Grid(plan.width, plan.height, GRID)
    for cell in plan.cells:
        _blocked(grid, cell)
    notes = [label for _, label in plan.notes]
    for label in (*plan.letters.values(), *plan.names.values(), *notes, *said):
        left, top, right, bottom = box_of(label)
        spare = 6 + (right - left) / 16  # for faces wider than the one that is reckoned with
        grid.block(left - spare, top - 2, right + spare, bottom + 2)
    for point, (x, y) in plan.spots.items():
        grid.block(x, y, x, y)
        if f"{point} lead" in plan.spots:
            grid.block(min(x, plan.spots[f"{point} lead"][0]), y, max(x, plan.spots[f"{point} lead"][0]), y)
    for terminal, _ in plan.notes:
        x, y = plan.spots[terminal]
        grid.block(min(x, x + 70 * plan.outward[terminal]), y, max(x, x + 70 * plan.outward[terminal]), y)
    for points in lines.values():
        grid.run(points)
    for bar in _bars(plan).values():
        grid.run(bar)
    for rail in plan.rails:
        for line in _stretches(rail):
            grid.run(line)
    return grid


def _blocked(grid: Grid, cell: Cell) -> None:
    """A symbol's ground, but for the way out of its terminals."""
    right, lowest = cell.x + cell.width, max(port.dy for port in cell.ports)
    if cell.boxed:
        low = {"boiler": 50, "box": lowest + 30}.get(cell.kind, 90)
        grid.block(cell.x, cell.y - 50, right, cell.y + low)
        grid.free([(cell.x + port.dx, cell.y + port.dy + GRID) for port in cell.ports])
        return
    top = -60 if cell.kind == "winding" else -20
    grid.block(cell.x + 1, cell.y + top, right - 1, cell.y + max(20, lowest + GRID if lowest else 0))
    if cell.primary:
        places = {port.terminal: cell.x + port.dx for port in cell.ports if port.dy < 0}
        left, far, used = min(places.values()), max(places.values()), places[f"{cell.part}.{cell.mark}"]
        grid.block(left, cell.y + PANEL, used, cell.y + PANEL)
        grid.block(used, cell.y + PANEL, used, cell.y + PRIMARY)
        grid.block(left, cell.y + PRIMARY + GRID, far, cell.y + top)
    if cell.breaker:
        (x,) = [cell.x + port.dx for port in cell.ports if port.terminal == cell.breaker]
        grid.free([(x, cell.y + GRID), (x, cell.y + 2 * GRID)])


def _trimmed(points: list[XY], rings: set[XY]) -> list[XY]:
    """A line drawn back from the middles of its rings; an end on a bar stays."""
    start, end = points[0], points[-1]
    first = _short(start, points[1]) if start in rings else start
    return [first, *points[1:-1], _short(end, points[-2]) if end in rings else end]


def _short(end: XY, inner: XY) -> XY:
    """An end drawn back from the middle of its ring to the ring's edge."""
    dx, dy = inner[0] - end[0], inner[1] - end[1]
    span = abs(dx) + abs(dy) or 1
    return end[0] + RING * dx / span, end[1] + RING * dy / span


def _stretches(rail: Rail) -> list[list[XY]]:
    """A rail from way to way, and the arms to the ways beside it."""
    ways = sorted(rail.ways.values(), key=lambda at: at[1])
    found = [[(rail.x, a[1]), (rail.x, b[1])] for a, b in pairwise(ways)]
    return found + [[(rail.x, y), (x, y)] for x, y in ways if x != rail.x]


def _rail_points(rail: Rail) -> list[list[XY]]:
    """The same, from ring edge to ring edge."""
    rings = set(rail.ways.values())
    return [_trimmed(line, rings) for line in _stretches(rail)]


def _bars(plan: Plan) -> dict[str, list[XY]]:
    """What hangs below a test point at which branches begin."""
    places = {point: (*plan.spots[point], low) for point, low in plan.bars.items()}
    return {point: [(x, y + RING), (x, low)] for point, (x, y, low) in places.items()}


def _wire(sheet: Sheet, installation: Installation, name: str, points: list[XY], others: list[list[XY]], inside: bool) -> None:
    wire = installation.conductor(name)
    said = f"{wire_words(name)}: {point_words(wire.a)} to {point_words(wire.b)}" + (f", {wire.colour}" if wire.colour else "")
    with sheet.group("wire", wire=name, title=said):
        if inside and wire.ohms == OPEN:
            before, after, middle = _parted(points)
            sheet.conductor(before)
            sheet.conductor(after)
            sheet.text("open", middle[0], middle[1] - 8, colour=SOFT)
        else:
            sheet.conductor(points, crossings(points, others))


def _parted(points: list[XY]) -> tuple[list[XY], list[XY], XY]:
    """A line with a gap in the middle of its longest stretch."""
    spans = [abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in pairwise(points)]
    place = spans.index(max(spans))
    (ax, ay), (bx, by) = points[place], points[place + 1]
    gap = min(8.0, spans[place] / 4) / spans[place]
    first = (ax + (bx - ax) * (0.5 - gap), ay + (by - ay) * (0.5 - gap))
    second = (ax + (bx - ax) * (0.5 + gap), ay + (by - ay) * (0.5 + gap))
    return [*points[: place + 1], first], [second, *points[place + 1 :]], ((ax + bx) / 2, (ay + by) / 2)


def _rail(sheet: Sheet, rail: Rail, stretches: list[list[XY]], wires: list[list[XY]], name: Label) -> None:
    with sheet.group("part", part=rail.bus.name, title=part_words(rail.bus.name)):
        for stretch in stretches:
            sheet.conductor(stretch, crossings(stretch, wires), weight=RAIL)
        _label(sheet, name, bold=True)


def _bar(sheet: Sheet, bar: list[XY], lines: list[list[XY]]) -> None:
    """What extends a test point down to its branches, a dot at each of them."""
    x = bar[0][0]
    begun = [end for line in lines for end in (line[0], line[-1]) if end[0] == x and bar[0][1] < end[1] <= bar[1][1]]
    sheet.conductor(bar, crossings(bar, [line for line in lines if not {line[0], line[-1]} & set(begun)]))
    for end in begun:
        sheet.disc(end, 2.5, fill=INK)


def _notes(sheet: Sheet, plan: Plan) -> None:
    for terminal in dict.fromkeys(terminal for terminal, _ in plan.notes):
        x, y = plan.spots[terminal]
        side = plan.outward[terminal]
        with sheet.group("note", about=terminal):
            sheet.line((x + RING * side, y), (x + 2.8 * RING * side, y), colour=SOFT)
            for about, label in plan.notes:
                if about == terminal:
                    _label(sheet, label, colour=SOFT)


def _referred(
    sheet: Sheet, plan: Plan, name: str, ends: tuple[str, str], taken: list[tuple[float, ...]], lines: list[list[XY]]
) -> None:
    """A conductor for which the sheet has no way left, told by a word at each end."""
    with sheet.group("wire", wire=name, title=f"{wire_words(name)}: {point_words(ends[0])} to {point_words(ends[1])}"):
        for here, there in (ends, ends[::-1]):
            x, y = plan.spots[here]
            places = [
                Label(f"to {point_words(there)}", x + dx, y + dy, anchor, 11)
                for reach in (8, 14, 50, 90)
                for dy in (20, 32, 44, -24, -36, 56, -48, 68, -60)
                for dx, anchor in ((reach, "start"), (-reach, "end"))
            ]
            label = next((label for label in places if _is_clear(box_of(label), taken, lines, plan)), places[0])
            sheet.line((x, y + RING if label.y > y else y - RING), (label.x, label.y - 4), colour=SOFT, weight=FINE)
            _label(sheet, label)
            taken.append(box_of(label))


def _is_clear(box: tuple[float, ...], taken: list[tuple[float, ...]], lines: list[list[XY]], plan: Plan) -> bool:
    left, top, right, bottom = box
    if left < 0 or top < 0 or right > plan.width or bottom > plan.height:
        return False
    stretches = [pair for line in lines for pair in pairwise(line)]
    spans = [(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1])) for a, b in stretches]
    rings = [(x - RING, y - RING, x + RING, y + RING) for x, y in plan.spots.values()]
    symbols = [(cell.x, cell.y - 36, cell.x + cell.width, cell.y + cell.below - GRID) for cell in plan.cells]
    others = (*taken, *spans, *rings, *symbols)
    return not any(left < other[2] and other[0] < right and top < other[3] and other[1] < bottom for other in others)


def _label(sheet: Sheet, label: Label, *, colour: str = INK, bold: bool = False) -> None:
    sheet.text(label.text, label.x, label.y, size=label.size, anchor=label.anchor, colour=colour, bold=bold)
