"""The wires of an installation as found: parts as boxes, splices as splices, every conductor from ring to ring.

Works for any installation, a half-wired one too. Where parts stand depends on the parts alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

from ..plant.parts import Boiler, Stat, Transformer, Valve
from ..plant.running import PlantState, lead
from ..plant.wiring import Conductor, Installation, NoSuchPart, NoSuchTerminal
from .sheet import INK, RAIL, SHEET, SOFT, STROKE, XY, Sheet
from .wires_channels import RING, led
from .wires_labels import Box, Free, Label, along, beside, boxed, haloed
from .wires_layout import EDGE, NAME, Cell, Layout, placed
from .words import part_words, point_words, wire_words

__all__ = ["wires", "wires_words"]

COPPER = "var(--copper, currentColor)"
LETTER, SEEN = 11, 12
LIFT = 18  # how far a lifted lead is held off its terminal
SLEEVE, CORE = 4.0, 2.2  # an insulated conductor and the colour in it
LIT = 3.4
HALO = 2.4  # clear sheet on both sides of a conductor that passes over another
INSULATION: Mapping[str, str] = {
    "red": "#d5322a",
    "white": "#ffffff",
    "green": "#2f9e4d",
    "blue": "#2b6fd6",
    "yellow": "#f2c500",
    "orange": "#ee8022",
    "brown": "#8a5a33",
    "black": "#101010",
    "gray": "#909090",
    "grey": "#909090",
    "purple": "#8a4bb8",
    "violet": "#8a4bb8",
    "pink": "#ef8fb0",
}
"""Plain colours for plain names; a name that is not here is written, not shown."""


def wires(
    installation: Installation,
    *,
    state: PlantState | None = None,
    lit: Sequence[str] = (),
    values: Mapping[str, str] = {},
) -> str:
    """The wires of an installation as one SVG: parts, rings with their letters, and conductors at right angles.

    A state adds what can be seen from outside: calls, switches, openers, lifted leads. `lit` names branches and
    conductors that carry current, `values` short texts to stand beside points and conductors. Raises NoSuchTerminal
    or NoSuchPart for a value beside nothing.
    """
    layout = placed(installation)
    lifted = {end: _lifted(layout, end) for end in (state.lifted if state else ())}
    rings = layout.spots | {lead(end): spot for end, (spot, _) in lifted.items()}
    _known(installation, rings, values)
    conductors = _by_name(installation.conductors)
    lines = led(layout, [(wire.name, wire.a, wire.b) for wire in conductors], lifted)
    lowest = max((y for points in lines.values() for _, y in points), default=0.0)
    sheet = Sheet(layout.width, max(layout.bottom, lowest) + EDGE)
    letters = {point: _letter(layout, point, spot) for point, spot in rings.items()}
    free = Free(sheet.width, sheet.height)
    for cell in layout.cells:
        free.take(boxed(_names(layout, cell)[0]) if cell.splice else (cell.left, cell.top, cell.right, cell.bottom))
    for label in letters.values():
        free.take(boxed(label))
    for x, y in rings.values():
        free.take((x - RING, y - RING, x + RING, y + RING))
    for points in lines.values():
        free.run(points)
    glowing, landed = frozenset(lit), _landed(installation)
    for wire in sorted(conductors, key=lambda wire: wire.name in glowing):
        shared = tuple(len(landed[end]) > 1 for end in (wire.a, wire.b))
        _wire(sheet, wire, lines[wire.name], wire.name in glowing, shared)
    for cell in layout.cells:
        _part(sheet, layout, cell, _seen(installation, cell.part, state), _is_lit(cell.part, glowing))
    for point, (x, y) in rings.items():
        with sheet.group("point", point=point, title=point_words(point)):
            sheet.disc((x, y), RING, fill=SHEET)
            _text(sheet, letters[point])
            if point in values:
                _text(sheet, _value(layout, values[point], point, rings, letters, free), halo=True, bold=True)
    for wire in conductors:
        _written(sheet, wire, lines[wire.name], values.get(wire.name, ""), free)
    return sheet.svg(installation.name, wires_words(installation))


def wires_words(installation: Installation) -> str:
    """The same in sentences, part by part: which terminal is joined to which, by which conductor."""
    sentences, landed = [], _landed(installation)
    for part in installation.parts:
        if not part.terminals:
            continue
        told = []
        for terminal in part.terminals:
            mark = terminal.removeprefix(f"{part.name}.")
            joined = [_joined(wire, terminal) for wire in landed[terminal]]
            told.append(f"{mark} to {' and to '.join(joined)}" if joined else f"{mark} not connected")
        words = part_words(part.name)
        sentences.append(f"{words[:1].upper()}{words[1:]}: {'; '.join(told)}.")
    return " ".join(sentences)


def _by_name(conductors: Iterable[Conductor]) -> list[Conductor]:
    """Conductors in an order that does not tell in which order they were laid."""
    return sorted(conductors, key=lambda wire: wire.name)


def _landed(installation: Installation) -> dict[str, list[Conductor]]:
    """The conductors at every terminal."""
    found: dict[str, list[Conductor]] = {terminal: [] for terminal in installation.terminals}
    for wire in _by_name(installation.conductors):
        found[wire.a].append(wire)
        found[wire.b].append(wire)
    return found


def _joined(wire: Conductor, terminal: str) -> str:
    """The other end of a conductor, its name, and what can be seen on it."""
    return f"{point_words(wire.b if wire.a == terminal else wire.a)} by {', '.join([wire_words(wire.name), *_signs(wire)])}"


def _signs(wire: Conductor) -> list[str]:
    """What a look at a conductor tells: its colour, what is written on it, its cable."""
    signs = (wire.colour, wire.label and f"labelled {wire.label}", wire.cable and f"in {wire_words(wire.cable)}")
    return [sign for sign in signs if sign]


def _known(installation: Installation, rings: Mapping[str, XY], values: Mapping[str, str]) -> None:
    names = {wire.name for wire in installation.conductors}
    for name in values:
        if name in rings or name in names:
            continue
        if "." in name:
            raise NoSuchTerminal(f"no point or conductor {name!r} to write a value beside; points are {sorted(rings)}")
        raise NoSuchPart(f"no point or conductor {name!r} to write a value beside; conductors are {sorted(names)}")


def _lifted(layout: Layout, terminal: str) -> tuple[XY, int]:
    """Where the lead off a terminal is held, and the channel that it comes from: off a splice to the left."""
    (x, y), channels = layout.spots[terminal], layout.faces[terminal]
    left = x < sum(layout.channels[channels[0]]) / 2 if len(channels) == 1 else False
    return (x + LIFT if left else x - LIFT, y), channels[0]


def _cell_of(layout: Layout, point: str) -> Cell:
    terminal = point.removesuffix(" lead")
    return next(cell for cell in layout.cells if terminal.startswith(f"{cell.part}.") and _holds(layout, cell, terminal))


def _holds(layout: Layout, cell: Cell, terminal: str) -> bool:
    x, y = layout.spots[terminal]
    return cell.left <= x <= cell.right and cell.top <= y <= cell.bottom


def _letter(layout: Layout, point: str, spot: XY) -> Label:
    """A ring's letter: inside the box of its part, or right of a splice's bar. A lifted lead has a word over its wire."""
    cell, (x, y) = _cell_of(layout, point), spot
    if point not in layout.spots:
        right = x > layout.spots[point.removesuffix(" lead")][0]
        return Label("lifted", x + RING + 1 if right else x - RING - 1, y - 4, "start" if right else "end", LETTER)
    mark = point.removeprefix(f"{cell.part}.")
    if cell.splice:
        zone = mark.removeprefix("zone")
        short = zone if zone != mark and zone[:1].isdigit() else mark
        return Label(short, x + RING + 2, y - 5, "start", LETTER)
    if x == cell.left:
        return Label(mark, x + RING + 4, y + 4, "start", LETTER)
    return Label(mark, x - RING - 4, y + 4, "end", LETTER)


def _value(layout: Layout, text: str, point: str, rings: Mapping[str, XY], letters: Mapping[str, Label], free: Free) -> Label:
    """Where a point's value stands: beside it, but inside the box where a lifted lead is held before the terminal."""
    cell = _cell_of(layout, point)
    if lead(point) in rings and not cell.splice:
        left, _, right, _ = boxed(letters[point])
        at_left = rings[point][0] == cell.left
        label = Label(text, right + 5 if at_left else left - 5, letters[point].y, "start" if at_left else "end", LETTER)
        if not any(_meet(boxed(label), boxed(name)) for name in _names(layout, cell)):
            return label
    return free.settled(beside(text, rings[point], LETTER))


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _seen(installation: Installation, part: str, state: PlantState | None) -> str:
    """What a look from outside shows of a part."""
    if state is None:
        return ""
    kind, now = installation.part(part), state.of(part)
    if isinstance(kind, Stat):
        return "calls" if now.calling else ""
    if isinstance(kind, (Transformer, Boiler)):
        return "" if now.on else "off"
    return "opener set" if isinstance(kind, Valve) and now.engaged else ""


def _is_lit(part: str, lit: frozenset[str]) -> bool:
    return any(name.startswith(f"{part}.") or name == part for name in lit)


def _part(sheet: Sheet, layout: Layout, cell: Cell, seen: str, lit: bool) -> None:
    colour, names = (COPPER if lit else INK), _names(layout, cell, seen)
    with sheet.group("part lit" if lit else "part", part=cell.part, title=part_words(cell.part)):
        if cell.splice:
            ends = sorted(y for end, (x, y) in layout.spots.items() if _holds(layout, cell, end))
            _text(sheet, names[0], bold=True)
            for above, below in pairwise(ends):
                sheet.line((cell.middle, above + RING + 1), (cell.middle, below - RING - 1), colour=colour, weight=2 * RAIL)
            return
        sheet.box(cell.left, cell.top, cell.right, cell.bottom, colour=colour, dash="-", fill=SHEET)
        for place, name in enumerate(names):
            is_name = place < len(cell.name)
            _text(sheet, name, bold=is_name, colour=INK if is_name else SOFT)


def _names(layout: Layout, cell: Cell, seen: str = "") -> list[Label]:
    """A part's name in lines, and below it what is seen of the part: over a splice's bar, inside a box."""
    if cell.splice:
        return [Label(cell.name[0], cell.middle, cell.top + 9, "middle", NAME - 1)]
    sides = {x for end, (x, y) in layout.spots.items() if _holds(layout, cell, end)}
    lines = (*cell.name, *((seen,) if seen else ()))
    if len(sides) > 1:
        x, y, anchor = cell.middle, cell.top + 17.0, "middle"
    else:
        x, anchor = (cell.right - 8, "end") if cell.left in sides else (cell.left + 8, "start")
        y = (cell.top + cell.bottom) / 2 + 5 - 8 * (len(lines) - 1)
    sizes = [NAME] * len(cell.name) + [SEEN] * (len(lines) - len(cell.name))
    return [Label(line, x, y + 16 * row, anchor, size) for row, (line, size) in enumerate(zip(lines, sizes, strict=True))]


def _wire(sheet: Sheet, wire: Conductor, points: list[XY], lit: bool, shared: tuple[bool, ...]) -> None:
    """A conductor in its colour, over clear sheet where it crosses others; not at a ring that it shares, to hide none."""
    said = f"{wire_words(wire.name)}: {point_words(wire.a)} to {point_words(wire.b)}"
    said += "".join(
        f", {text}" for text in (wire.colour, wire.label and f"labelled {wire.label}", wire_words(wire.cable)) if text
    )
    core = INSULATION.get(wire.colour.strip().lower(), "")
    weight = LIT if lit and not core else SLEEVE + 1 if lit else SLEEVE if core else STROKE
    with sheet.group("wire lit" if lit else "wire", wire=wire.name, title=said):
        sheet.conductor(points[shared[0] : len(points) - shared[1]], colour=SHEET, weight=weight + HALO)
        sheet.conductor(points, colour=COPPER if lit else INK, weight=weight)
        if core:
            sheet.conductor(points, colour=core, weight=CORE)


def _written(sheet: Sheet, wire: Conductor, points: list[XY], value: str, free: Free) -> None:
    """The value beside a conductor, and what is written on it: label and colour, or the colour alone where room is short."""
    if value:
        with sheet.group("value", about=wire.name):
            _text(sheet, free.settled(along(value, points, LETTER)), halo=True, bold=True)
    both = " ".join(text for text in (wire.label, wire.colour) if text)
    if not both:
        return
    label = free.fitted(along(both, points, LETTER))
    if label is None and wire.colour:
        label = free.settled(along(wire.colour, points, LETTER))
    if label is not None:
        with sheet.group("label", about=wire.name):
            _text(sheet, label, halo=True)


def _text(sheet: Sheet, label: Label, *, halo: bool = False, bold: bool = False, colour: str = INK) -> None:
    sheet.text(label.text, label.x, label.y, size=label.size, anchor=label.anchor, bold=bold, colour=colour)
    if halo:
        haloed(sheet)
