"""The ladder diagram of an installation as SVG: drawn from where its conductors land, and from nothing else."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

from ..circuit import OPEN
from ..plant.parts import FuseState, HeatMotorValve, Splice, StatState, ValveState
from ..plant.running import PlantState
from ..plant.wiring import Installation
from .layout import Plan, Rail, planned
from .routing import Grid, crossings
from .rows import GRID, Cell, Label
from .sheet import FINE, INK, RAIL, SOFT, XY, Sheet, text_width
from .symbols import RING, captions, drawn, ring
from .trace import traced
from .words import ladder_words, part_words, point_words, wire_words

__all__ = ["ladder"]

TITLE_SIZE = 15


def ladder(installation: Installation, *, state: PlantState | None = None, title: str = "", inside: bool = False) -> str:
    """The ladder of an installation: rails, one rung a zone, and the T-T circuit apart, as one SVG.

    A state adds what can be seen from outside: thermostats that call, leads that are lifted. With `inside` it also
    shows what nobody can see with the covers on: end switches, blown fuses, burnt heaters, open conductors.
    Raises WiringError for a part without a symbol.
    """
    trace = traced(installation)
    plan = planned(installation, trace, state.lifted if state else (), 4 * GRID if title else 2 * GRID)
    said = {cell: captions(cell, installation.part(cell.part)) for cell in plan.cells}
    lines, unrouted = _lines(plan, [label for labels in said.values() for label in labels])
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
            closed, broken = _closed(installation, cell, state, inside), _broken(installation, cell, state, inside)
            drawn(sheet, cell, closed=closed, broken=broken)
            for label in said[cell]:
                _label(sheet, label)
    for name, label in plan.names.items():
        if name not in rails:
            _label(sheet, label, bold=True)
    _notes(sheet, plan)
    taken = [box_of(label) for label in (*plan.letters.values(), *(label for labels in said.values() for label in labels))]
    for name, a, b in unrouted:
        _referred(sheet, plan, name, (a, b), taken, [*lines.values(), *(line for stretch in rails.values() for line in stretch)])
    for point, (x, y) in plan.spots.items():
        with sheet.group("point", point=point, title=point_words(point)):
            ring(sheet, x, y)
            _label(sheet, plan.letters[point])
    return sheet.svg(title or installation.name, ladder_words(installation))


def _lines(plan: Plan, said: list[Label]) -> tuple[dict[str, list[XY]], list[tuple[str, str, str]]]:
    """Every conductor's corners from ring edge to ring edge, and those that found no way on the sheet."""
    lines: dict[str, list[XY]] = {name: [plan.spots[a], plan.spots[b]] for name, (a, b) in plan.straight.items()}
    if plan.routed:
        grid = _grid(plan, lines, said)
        for name, (a, b) in plan.routed.items():
            if found := grid.path(plan.spots[a], plan.spots[b]):
                lines[name] = found
                grid.run(found)
    unrouted = [(name, a, b) for name, (a, b) in plan.routed.items() if name not in lines]
    return {name: _trimmed(points) for name, points in lines.items()}, unrouted


def _grid(plan: Plan, lines: Mapping[str, list[XY]], said: list[Label]) -> Grid:
    grid = Grid(plan.width, plan.height, GRID)
    for cell in plan.cells:
        right = cell.x + cell.width
        if cell.kind == "valve":
            grid.block(cell.x, cell.y - 50, right, cell.y + 90)
            grid.free([(cell.x, cell.y + 10), (right, cell.y + 10), (cell.x, cell.y + 60)])
        elif cell.kind == "boiler":
            grid.block(cell.x, cell.y - 50, right, cell.y + 50)
            grid.free([(cell.x, cell.y + 10), (right, cell.y + 10)])
        else:
            top = 60 if cell.kind == "winding" else 20
            grid.block(cell.x + 1, cell.y - top, right - 1, cell.y + 20)
    notes = [label for _, label in plan.notes]
    for label in (*plan.letters.values(), *plan.names.values(), *notes, *said):
        left, top, right, bottom = box_of(label)
        grid.block(left - 2, top - 2, right + 2, bottom + 2)
    for point, (x, y) in plan.spots.items():
        grid.block(x, y, x, y)
        if f"{point} lead" in plan.spots:
            grid.block(min(x, plan.spots[f"{point} lead"][0]), y, max(x, plan.spots[f"{point} lead"][0]), y)
    for terminal, _ in plan.notes:
        x, y = plan.spots[terminal]
        grid.block(min(x, x + 70 * plan.outward[terminal]), y, max(x, x + 70 * plan.outward[terminal]), y)
    for points in lines.values():
        grid.run(points)
    for rail in plan.rails:
        ys = sorted(rail.ways.values())
        grid.run([(rail.x, ys[0]), (rail.x, ys[-1])])
    return grid


def box_of(label: Label) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of a label, on the wide side."""
    wide = text_width(label.text, label.size)
    left = {"start": label.x, "end": label.x - wide, "middle": label.x - wide / 2}[label.anchor]
    return left, label.y - 0.8 * label.size, left + wide, label.y + 0.2 * label.size


def _trimmed(points: list[XY]) -> list[XY]:
    return [_short(points[0], points[1]), *points[1:-1], _short(points[-1], points[-2])]


def _short(end: XY, inner: XY) -> XY:
    """An end drawn back from the middle of its ring to the ring's edge."""
    dx, dy = inner[0] - end[0], inner[1] - end[1]
    span = abs(dx) + abs(dy) or 1
    return end[0] + RING * dx / span, end[1] + RING * dy / span


def _rail_points(rail: Rail) -> list[list[XY]]:
    ys = sorted(rail.ways.values())
    return [[(rail.x, a + RING), (rail.x, b - RING)] for a, b in pairwise(ys)]


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
                for dy in (20, 32, 44, -24, -36, 56)
                for dx, anchor in ((8, "start"), (-8, "end"), (14, "start"), (-14, "end"))
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
    symbols = [(cell.x, cell.y - 36, cell.x + cell.width, cell.y + 20) for cell in plan.cells]
    others = (*taken, *spans, *rings, *symbols)
    return not any(left < other[2] and other[0] < right and top < other[3] and other[1] < bottom for other in others)


def _label(sheet: Sheet, label: Label, *, colour: str = INK, bold: bool = False) -> None:
    sheet.text(label.text, label.x, label.y, size=label.size, anchor=label.anchor, colour=colour, bold=bold)


def _closed(installation: Installation, cell: Cell, state: PlantState | None, inside: bool) -> dict[str, bool]:
    if state is None:
        return {}
    part, now = installation.part(cell.part), state.of(cell.part)
    if isinstance(now, StatState):
        return {"stat": now.calling}
    if inside and isinstance(part, HeatMotorValve) and isinstance(now, ValveState):
        return {"switch": part.switch_made(now)}
    return {}


def _broken(installation: Installation, cell: Cell, state: PlantState | None, inside: bool) -> frozenset[str]:
    if not inside:
        return frozenset()
    part, now = installation.part(cell.part), state.of(cell.part) if state else None
    found = {
        "fuse": isinstance(now, FuseState) and now.blown,
        "heater": isinstance(part, HeatMotorValve) and (part.heater_ohms == OPEN or (isinstance(now, ValveState) and now.burnt)),
        "joint": isinstance(part, Splice) and OPEN in part.ohms,
    }
    return frozenset(kind for kind, is_open in found.items() if is_open)
