"""The wires of an installation as found: parts as boxes, splices as splices, every conductor from ring to ring.

Works for any installation, a half-wired one too. Where parts stand depends on the parts alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import chain, pairwise

from ..plant.naming import cable_words, part_words, point_words, wire_words
from ..plant.parts import Boiler, Stat, Transformer, Valve
from ..plant.running import PlantState, lead
from ..plant.wiring import Conductor, Installation, NoSuchPart, NoSuchTerminal
from .sheet import FINE, INK, RAIL, SHEET, SOFT, STROKE, XY, Sheet
from .wires_cables import Sheath, sheathed
from .wires_channels import RING, led
from .wires_labels import Box, Free, Label, Tied, along, beside, boxed, haloed, off, tied
from .wires_layout import EDGE, NAME, Area, Cell, Layout, placed
from .wires_told import by_name, enclosure_words, landed, signs, wires_words

__all__ = ["wires", "wires_words"]

COPPER = "var(--copper, currentColor)"
LETTER, SEEN = 12, 12
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
    narrow: bool = False,
) -> str:
    """The wires of an installation as one SVG: parts, rings with their letters, and conductors at right angles.

    A state adds what can be seen from outside: calls, switches, openers, lifted leads. `lit` names branches and
    conductors that carry current, `values` short texts to stand beside points and conductors. `narrow` puts all parts
    in one column with the conductors beside it. Raises NoSuchTerminal or NoSuchPart for a value beside nothing.
    """
    layout = placed(installation, narrow=narrow)
    lifted = {end: _lifted(layout, end) for end in (state.lifted if state else ())}
    rings = layout.spots | {lead(end): spot for end, (spot, _) in lifted.items()}
    _known(installation, rings, values)
    conductors = by_name(installation.conductors)
    lines = led(layout, [(wire.name, wire.a, wire.b) for wire in conductors], lifted)
    lowest = max((y for points in lines.values() for _, y in points), default=0.0)
    sheet = Sheet(layout.width, max(layout.bottom, lowest) + EDGE)
    letters = {point: _letter(layout, point, spot) for point, spot in layout.spots.items()}
    free = Free(sheet.width, sheet.height)
    for cell in layout.cells:
        if not cell.splice:
            free.take((cell.left - 2, cell.top - 2, cell.right + 2, cell.bottom + 2))
        else:
            free.take(boxed(_names(layout, cell)[0]))
            free.run(sorted(layout.spots[end] for end in cell.ends))
    for label in letters.values():
        free.take(boxed(label))
    for spot in rings.values():
        free.take(_ring(spot))
    for points in lines.values():
        free.run(points)
    said = {lead(end): free.found(tied("lifted", _ring(spot), LETTER)) for end, (spot, _) in lifted.items()}
    marks = sheathed(conductors, lines)
    for box in (box for mark in marks for box in mark.loops):
        free.take(box)
    for area in layout.areas:
        _area(sheet, installation, area, free)
    glowing, there = frozenset(lit), landed(installation)
    for cell in (cell for cell in layout.cells if cell.splice):
        _part(sheet, layout, cell, "", _is_lit(cell.part, glowing))
    for wire in sorted(conductors, key=lambda wire: wire.name in glowing):
        shared = tuple(len(there[end]) > 1 for end in (wire.a, wire.b))
        _wire(sheet, wire, lines[wire.name], wire.name in glowing, shared)
    for cell in (cell for cell in layout.cells if not cell.splice):
        seen, made = _seen(installation, cell.part, state), _made(installation, cell.part, state)
        _part(sheet, layout, cell, seen, _is_lit(cell.part, glowing), made)
    for point, (x, y) in rings.items():
        with sheet.group("point", point=point, title=point_words(point)):
            sheet.disc((x, y), RING, fill=SHEET)
            _tied(sheet, said[point] if point in said else (letters[point], None))
            if point in values:
                _tied(sheet, _value(layout, values[point], point, rings, letters, free), halo=True, bold=True)
    for mark in marks:
        _sheath(sheet, mark, [lines[wire.name] for wire in conductors if wire.cable == mark.cable], free)
    for wire in conductors:
        _written(sheet, wire, lines[wire.name], values.get(wire.name, ""), free)
    return sheet.svg(installation.name, wires_words(installation))


def _area(sheet: Sheet, installation: Installation, area: Area, free: Free) -> None:
    """An enclosure's outline with its name; one that has no barrier inside says nothing more."""
    box = next(box for box in installation.enclosures if box.name == area.name)
    label = Label(area.name + (", barrier" if box.barrier else ""), area.left + 6, area.top + 15, "start", SEEN)
    free.take(boxed(label))
    with sheet.group("area", about=area.name, title=enclosure_words(box)):
        sheet.box(area.left, area.top, area.right, area.bottom)
        _text(sheet, label, colour=SOFT)


def _sheath(sheet: Sheet, mark: Sheath, lines: Iterable[list[XY]], free: Free) -> None:
    """Where conductors lie in one sheath: a loop around them, and the cable's name."""
    with sheet.group("cable", about=mark.cable, title=cable_words(mark.cable)):
        for left, top, right, bottom in mark.loops:
            middle = (left + right) / 2
            loop = ((middle, top), (right, top), (right, bottom), (left, bottom), (left, top), (middle, top))
            sheet.conductor(loop, colour=SOFT, weight=FINE)
        name = cable_words(mark.cable)
        places = (*(tied(name, loop, LETTER) for loop in mark.loops), *(off(name, line, LETTER) for line in lines))
        _tied(sheet, free.found(chain(*places)), halo=True, colour=SOFT)


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
    return next(cell for cell in layout.cells if terminal in cell.ends)


def _letter(layout: Layout, point: str, spot: XY) -> Label:
    """A ring's letter: inside the box of its part, or beside a splice's bar, over what comes to it from the right."""
    cell, (x, y) = _cell_of(layout, point), spot
    mark = point.removeprefix(f"{cell.part}.")
    if cell.flat:
        return Label(mark, x, y + RING + 9, "middle", LETTER)
    if cell.splice:
        zone = mark.removeprefix("zone")
        short = zone if zone != mark and zone[:1].isdigit() else mark
        if len(layout.faces[point]) == 1:
            return Label(short, x - RING - 4, y + 4, "end", LETTER)
        return Label(short, x + RING + 2, y - 5, "start", LETTER)
    if x == cell.left:
        return Label(mark, x + RING + 4, y + 4, "start", LETTER)
    return Label(mark, x - RING - 4, y + 4, "end", LETTER)


def _value(layout: Layout, text: str, point: str, rings: Mapping[str, XY], letters: Mapping[str, Label], free: Free) -> Tied:
    """Where a point's value stands: beside it, but inside the box where a lifted lead is held before the terminal."""
    cell = _cell_of(layout, point)
    if lead(point) in rings and not cell.splice:
        left, _, right, _ = boxed(letters[point])
        at_left = rings[point][0] == cell.left
        label = Label(text, right + 5 if at_left else left - 5, letters[point].y, "start" if at_left else "end", LETTER)
        if not any(_meet(boxed(label), boxed(name)) for name in _names(layout, cell)):
            return label, None
    near = [(label, None) for label in beside(text, rings[point], LETTER)]
    return free.found(chain(near, tied(text, _ring(rings[point]), LETTER)))


def _ring(at: XY) -> Box:
    return at[0] - RING, at[1] - RING, at[0] + RING, at[1] + RING


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


def _made(installation: Installation, part: str, state: PlantState | None) -> bool | None:
    """Whether a thermostat's contact is drawn made; None for what is no thermostat."""
    if not isinstance(installation.part(part), Stat):
        return None
    return state is not None and state.of(part).calling


def _is_lit(part: str, lit: frozenset[str]) -> bool:
    return any(name.startswith(f"{part}.") or name == part for name in lit)


def _part(sheet: Sheet, layout: Layout, cell: Cell, seen: str, lit: bool, contact: bool | None = None) -> None:
    """A part's box or bar with its name; `contact` says whether a thermostat's is made."""
    colour, names = (COPPER if lit else INK), _names(layout, cell, seen)
    with sheet.group("part lit" if lit else "part", part=cell.part, title=part_words(cell.part)):
        if cell.splice:
            ends = sorted(layout.spots[end] for end in cell.ends)
            _text(sheet, names[0], bold=True)
            for one, other in pairwise(ends):
                sheet.line(_from(one, other), _from(other, one), colour=colour, weight=2 * RAIL)
            return
        sheet.box(cell.left, cell.top, cell.right, cell.bottom, colour=colour, dash="-", fill=SHEET)
        if contact is not None:
            _contact(sheet, *(layout.spots[end] for end in cell.ends[:2]), contact, colour)
        for place, name in enumerate(names):
            is_name = place < len(cell.name)
            _text(sheet, name, bold=is_name, colour=INK if is_name else SOFT)


def _contact(sheet: Sheet, upper: XY, lower: XY, made: bool, colour: str) -> None:
    """A thermostat's contact beside the letters of its two terminals."""
    x, top, bottom = upper[0] - 32, upper[1] - 1, lower[1] + 1
    sheet.line((x + 5, top), (x, top), (x, top + 5), colour=colour)
    sheet.line((x if made else x - 8, top + (5 if made else 6)), (x, bottom - 5), (x, bottom), (x + 5, bottom), colour=colour)


def _from(ring: XY, other: XY) -> XY:
    """Where the bar of a splice begins, next to a ring on the side of another."""
    away = RING + 1
    if ring[0] == other[0]:
        return ring[0], ring[1] + (away if other[1] > ring[1] else -away)
    return ring[0] + (away if other[0] > ring[0] else -away), ring[1]


def _names(layout: Layout, cell: Cell, seen: str = "") -> list[Label]:
    """A part's name in lines, and below it what is seen of the part: over a splice's bar, inside a box."""
    if cell.splice:
        if cell.flat or len(layout.faces[cell.ends[0]]) > 1:
            return [Label(cell.name[0], cell.bar, cell.top + 12, "middle", NAME - 1)]
        return [Label(cell.name[0], cell.bar + RING, cell.top + 14, "end", NAME - 1)]
    sides = {layout.spots[end][0] for end in cell.ends}
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
    said += "".join(f", {sign}" for sign in signs(wire))
    core = INSULATION.get(wire.colour.strip().lower(), "")
    plain = RAIL if wire.line else STROKE
    weight = LIT if lit and not core else SLEEVE + 1 if lit else SLEEVE if core else plain
    with sheet.group("clear", about=wire.name):
        sheet.conductor(points[shared[0] : len(points) - shared[1]], colour=SHEET, weight=weight + HALO)
    with sheet.group("wire lit" if lit else "wire", wire=wire.name, title=said):
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
    found: Tied | None = (label, None) if label else None
    if found is None and wire.colour:
        near = [(label, None) for label in along(wire.colour, points, LETTER)]
        found = free.found(chain(near, off(wire.colour, points, LETTER)))
    if found is not None:
        with sheet.group("label", about=wire.name):
            _tied(sheet, found, halo=True)


def _tied(sheet: Sheet, placed: Tied, *, halo: bool = False, bold: bool = False, colour: str = INK) -> None:
    """A label, and before it the leader where it has one."""
    label, leader = placed
    if leader:
        sheet.line(*leader, colour=SOFT, weight=FINE)
    _text(sheet, label, halo=halo, bold=bold, colour=colour)


def _text(sheet: Sheet, label: Label, *, halo: bool = False, bold: bool = False, colour: str = INK) -> None:
    sheet.text(label.text, label.x, label.y, size=label.size, anchor=label.anchor, bold=bold, colour=colour)
    if halo:
        haloed(sheet)
