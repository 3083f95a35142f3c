"""The small words of a ladder: letters at the test points, names of rails and sections, "not connected"."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from ..plant.running import lead
from .cells import Cell, Column, Label, Port
from .columns import way_mark
from .sheet import XY, text_width

if TYPE_CHECKING:
    from .layout import Rail

__all__ = ["box_of", "heading", "letters", "notes", "rail_names"]

Spots = Mapping[str, tuple[float, float]]


def heading(words: str, y: float, rails: Iterable[float]) -> Label:
    """A section's name, in the leftmost place that no rail passes through."""
    left = sorted(rails)
    x = (left[0] if left else 60) + 12.0
    for rail in left:
        if x - 6 < rail < x + text_width(words, 14):
            x = rail + 12
    return Label(words, x, y, "start", 13)


def rail_names(
    rails: Iterable[Rail], column_of: Mapping[str, Column], words: list[Label], lines: list[tuple[XY, XY]]
) -> dict[str, Label]:
    """Each rail's name above its first way, or beside it where something else is there."""
    taken = [box_of(label) for label in words] + [_box_between(a, b) for a, b in lines]
    found: dict[str, Label] = {}
    for rail in rails:
        name, x = rail.bus.name, rail.x
        ys = sorted(y for _, y in rail.ways.values())
        inner = column_of[name] in (Column.T_LEFT, Column.T_RIGHT)
        places = [Label(name, x + 2, ys[0] - 22, "end") if inner else Label(name, x, ys[0] - 22)]
        sides = (-9, "end"), (9, "start")
        places += [Label(name, x + dx, y, anchor) for y in (ys[0] + 21, ys[-1] + 27) for dx, anchor in sides]
        found[name] = next((place for place in places if not _met(box_of(place), taken)), places[0])
        taken.append(box_of(found[name]))
    return found


def box_of(label: Label) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of a label, on the wide side."""
    wide = text_width(label.text, label.size)
    left = {"start": label.x, "end": label.x - wide, "middle": label.x - wide / 2}[label.anchor]
    return left, label.y - 0.8 * label.size, left + wide, label.y + 0.2 * label.size


def letters(
    cells: Sequence[Cell],
    rails: Iterable[Rail],
    spots: Spots,
    outward: Mapping[str, int],
    lifted: Iterable[str],
    bars: Iterable[str],
) -> Iterator[tuple[str, Label]]:
    """The letter at each test point; those of a rail stand on its outer side."""
    captioned = {cell.left for cell in cells if cell.kind == "winding"} | {cell.right for cell in cells if cell.kind == "winding"}
    for cell in cells:
        for port in cell.ports:
            yield port.terminal, _letter(cell, port, *spots[port.terminal])
    for rail in rails:
        for way, (_, y) in rail.ways.items():
            words, side = way_mark(rail.bus.name, way), -outward[way]
            yield way, Label(words, rail.x + 9 * side, y - 6, "start" if side > 0 else "end")
    for terminal in lifted:
        x, y = spots[lead(terminal)]
        down = -24 if lead(terminal) in bars else -10 if terminal in captioned else 19  # where nothing else is
        yield lead(terminal), Label("lifted", x, y + down)


def notes(
    loose: Iterable[str],
    cells: Iterable[Cell],
    rails: Mapping[str, Rail],
    spots: Spots,
    outward: Mapping[str, int],
    words: Iterable[Label],
    lines: Iterable[tuple[XY, XY]],
) -> Iterator[tuple[str, Label]]:
    """ "Not connected" at each terminal that should hold a conductor and holds none, line by line.

    Each stands in the first place that is clear of the other words, of rails, rings and straight conductors.
    """
    taken = [box_of(label) for label in words]
    taken += [_box_between((rail.x, y), (rail.x, y)) for rail in rails.values() for _, y in rail.ways.values()]
    taken += [_box_between((rail.x, min(ys)), (rail.x, max(ys))) for rail, ys in _heights(rails)]
    taken += [_box_between(a, b) for a, b in lines]
    rings = {terminal: (x - 6, y - 6, x + 6, y + 6) for terminal, (x, y) in spots.items()}
    places = {port.terminal: (cell, port) for cell in cells for port in cell.ports}
    right = max((rail.x for rail in rails.values()), default=0.0)
    for terminal in loose:
        x, y = spots[terminal]
        if terminal in places:
            found = _symbol_notes(*places[terminal], x, y, outward[terminal])
        else:
            found = _way_notes(x, y, outward[terminal], x == right)
        others = [*taken, *(ring for end, ring in rings.items() if end != terminal)]
        chosen = next((lines for lines in found if not any(_met(box_of(line), others) for line in lines)), found[0])
        taken += [box_of(line) for line in chosen]
        yield from ((terminal, line) for line in chosen)


def _symbol_notes(cell: Cell, port: Port, x: float, y: float, side: int) -> list[tuple[Label, ...]]:
    """Where the words can stand at a symbol's terminal, the best place first."""
    anchor = "start" if side > 0 else "end"
    if cell.kind == "box":
        return [(Label("not connected", x + 17 * side, y + 4, anchor),)]
    low, high, beside = (17, 11), (-36, 11), (-1, 17)
    # Beside a symbol with a third lead that one and its bus are below, so the words go above.
    if port.dy == 0 and (cell.boxed or cell.third or cell.kind == "winding"):
        best = high
    else:
        best = low if port.dy == 0 or cell.boxed else beside
    return [
        (Label("not", x + across * side, y + down, anchor), Label("connected", x + across * side, y + down + 13, anchor))
        for down, across in (best, low, high, beside, (34, 0), (-48, 0))
    ]


def _way_notes(x: float, y: float, side: int, rightmost: bool) -> list[tuple[Label, ...]]:
    """Where the words can stand at a way of a rail."""
    inward = Label("not connected", x + 24 * side, y + 4, "start" if side > 0 else "end")
    outer = Label("not connected", x + 9, y + 9, "start")
    below = (Label("not", x - 9 * side, y + 17, "end" if side > 0 else "start"),)
    below += (Label("connected", x - 9 * side, y + 30, "end" if side > 0 else "start"),)
    return [(outer,), (inward,), below] if rightmost else [(inward,), (outer,), below]


def _heights(rails: Mapping[str, Rail]) -> Iterator[tuple[Rail, list[float]]]:
    for rail in rails.values():
        yield rail, [y for _, y in rail.ways.values()]


def _box_between(a: XY, b: XY) -> tuple[float, float, float, float]:
    return min(a[0], b[0]) - 2, min(a[1], b[1]) - 2, max(a[0], b[0]) + 2, max(a[1], b[1]) + 2


def _met(box: tuple[float, ...], others: list[tuple[float, ...]]) -> bool:
    left, top, right, bottom = box
    return any(left < other[2] and other[0] < right and top < other[3] and other[1] < bottom for other in others)


def _letter(cell: Cell, port: Port, x: float, y: float) -> Label:
    mark = port.terminal.rpartition(".")[2]
    anchor = "start" if port.side > 0 else "end"
    if cell.boxed:
        return Label(mark, x + 9 * port.side, y - 9, anchor)
    if port.terminal == cell.third:
        return Label(mark, x, y + 19)
    return Label(mark, x + 9 * port.side, y + 4, anchor) if port.dy else Label(mark, x, y - 10)
