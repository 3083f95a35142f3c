"""A heat-motor valve in section: plain geometry of our own, drawn from the valve's computed state and from nothing else.

The mechanism is the simplest that works: wax in its heater winding pushes a stem down against a spring, and the plug
leaves its seat. No real part looks like this.
"""

from __future__ import annotations

from ..plant.parts import HeatMotorValve, ValveState
from .sheet import FINE, HEAT, INK, RAIL, SHEET, SOFT, STROKE, WATER, Sheet
from .words import part_words

__all__ = ["cutaway", "cutaway_words"]

WIDTH, HEIGHT = 455, 392
AXIS = 170  # of wax, stem and plug
TRAVEL = 20  # of the stem, shut to open
REST = 152  # lower face of the wax's piston when cold
SEAT = 306
PLUG = 12
ENDS = AXIS - 150, AXIS + 150  # of the pipe
HANDLE = AXIS - 146  # of the manual opener
TEXT = 13
LABELS = 318  # where the words on the right begin


def cutaway(valve: HeatMotorValve, state: ValveState, wax_degC: float, *, heating: bool) -> str:
    """The section of a valve as SVG: wax, piston, stem, plug and switch where the state has them."""
    sheet = Sheet(WIDTH, HEIGHT)
    pushed = REST + TRAVEL * state.stroke * valve.charge
    stem = REST + TRAVEL * valve.opening(state)
    with sheet.group("part", part=valve.name):
        _body(sheet, stem - REST)
        _head(sheet)
        _spring(sheet, stem + 6, 232)
        _stem(sheet, stem)
        _wax(sheet, pushed, _warmth(valve, wax_degC))
        _winding(sheet, heating=heating, burnt=state.burnt)
        _switch(sheet, pushed, made=valve.switch_made(state))
        _lever(sheet, engaged=state.engaged)
        _leads(sheet, valve)
    _labels(sheet, valve, state, wax_degC, heating, stem)
    return sheet.svg(f"{_capital(part_words(valve.name))} in section", cutaway_words(valve, state, wax_degC, heating=heating))


def cutaway_words(valve: HeatMotorValve, state: ValveState, wax_degC: float, *, heating: bool) -> str:
    """What the section shows, in sentences."""
    share = valve.opening(state)
    way = "shut" if share == 0 else "fully open" if share == 1 else f"{share:.0%} of the way open".replace("%", " percent")
    return " ".join(
        (
            f"{_capital(part_words(valve.name))} in section.",
            f"{_capital(_heater_words(state, heating))}.",
            f"The wax is at {_degrees(wax_degC)}.",
            f"The valve is {way}: {_plug_words(share)}.",
            f"The end switch is {_switch_words(valve, state)}.",
            f"The manual opener is {_opener_words(state)}.",
        )
    )


def _warmth(valve: HeatMotorValve, wax_degC: float) -> float:
    """How far the wax has come from its surroundings to the end of its stroke, 0 to 1."""
    return min(1.0, max(0.0, (wax_degC - valve.ambient_degC) / (valve.end_degC - valve.ambient_degC)))


def _body(sheet: Sheet, lift: float) -> None:
    """Pipe, partition with its seat, and plug; the water stands where it can get to."""
    left, right = AXIS - 58, AXIS + 58
    start, end = ENDS
    inlet = ((start, 276), (left, 276), (left, SEAT - 3), (right, SEAT - 3), (right, 362), (left, 362), (left, 338), (start, 338))
    outlet = ((right, 276), (end, 276), (end, 338), (right, 338), (right, SEAT - 3), (left, SEAT - 3), (left, 256), (right, 256))
    sheet.area(inlet, colour="none", fill=WATER, opacity=0.22)
    if lift > 0:
        sheet.area(outlet, colour="none", fill=WATER, opacity=0.22)
    for wall in (
        ((start, 276), (left, 276), (left, 256), (AXIS - 12, 256)),
        ((AXIS + 12, 256), (right, 256), (right, 276), (end, 276)),
        ((start, 338), (left, 338), (left, 362), (right, 362), (right, 338), (end, 338)),
        ((left, 276), (left, SEAT - 3), (AXIS - 22, SEAT - 3)),
        ((AXIS + 22, SEAT - 3), (right, SEAT - 3), (right, 338)),
    ):
        sheet.line(*wall, weight=RAIL)
    top = SEAT + lift
    sheet.area(((AXIS - 30, top), (AXIS + 30, top), (AXIS + 24, top + PLUG), (AXIS - 24, top + PLUG)), fill=SOFT)
    _arrow(sheet, start + 16, 307, 60)
    if lift > 0:
        _arrow(sheet, end - 76, 307, 60)


def _arrow(sheet: Sheet, x: float, y: float, length: float) -> None:
    tip = x + length
    sheet.line((x, y), (tip - 8, y), colour=WATER, weight=RAIL)
    sheet.area(((tip - 9, y - 6), (tip, y), (tip - 9, y + 6)), colour=WATER, fill=WATER, weight=FINE)


def _head(sheet: Sheet) -> None:
    left, right = AXIS - 110, AXIS + 124
    sheet.line(
        (AXIS - 12, 256), (AXIS - 12, 236), (left, 236), (left, 30), (right, 30), (right, 236), (AXIS + 12, 236), (AXIS + 12, 256)
    )


def _wax(sheet: Sheet, pushed: float, warmth: float) -> None:
    """The wax's cylinder, filled by its warmth, and the piston it pushes."""
    left, right = AXIS - 22, AXIS + 22
    cup = ((left, 52), (right, 52), (right, 128), (left, 128))
    sheet.area(cup, colour="none", fill=HEAT, opacity=0.06 + 0.74 * warmth)
    sheet.area(cup)
    sheet.line((AXIS, 128), (AXIS, pushed - 6), weight=RAIL)
    sheet.area(((left, pushed - 6), (right, pushed - 6), (right, pushed), (left, pushed)), fill=SOFT)


def _winding(sheet: Sheet, *, heating: bool, burnt: bool) -> None:
    """The winding cut through: a wire on either side at every turn, filled while it heats; gone where it has burnt."""
    for turn in range(6):
        if burnt and turn in (2, 3):
            continue
        for side in (-1, 1):
            at = (AXIS + side * 29, 59 + 12.4 * turn)
            sheet.disc(at, 4.6, colour=HEAT, fill=HEAT if heating and not burnt else SHEET)


def _stem(sheet: Sheet, top: float) -> None:
    """Collar, stem and gland."""
    sheet.area(((AXIS - 34, top), (AXIS + 34, top), (AXIS + 34, top + 6), (AXIS - 34, top + 6)), fill=SHEET)
    plug = SEAT + top - REST
    sheet.area(((AXIS - 3, top + 6), (AXIS + 3, top + 6), (AXIS + 3, plug), (AXIS - 3, plug)), fill=SHEET, weight=STROKE)


def _spring(sheet: Sheet, top: float, floor: float, turns: int = 6) -> None:
    step = (floor - top) / turns
    points = [(AXIS - 24, top)]
    for turn in range(turns):
        points += [(AXIS + 24, top + (turn + 0.5) * step), (AXIS - 24, top + (turn + 1) * step)]
    sheet.line(*points)


def _switch(sheet: Sheet, pushed: float, *, made: bool) -> None:
    """Two contacts; the dashed line says that the piston moves the upper one."""
    root, tip = AXIS + 108, AXIS + 62
    low = 190
    leaf = low - 6 if made else low - 24
    sheet.line((root, low - 20), (root - 8, low - 20), (tip, leaf))
    sheet.line((root, low), (tip, low))
    sheet.disc((tip + 3, leaf + (0 if made else -1)), 3, fill=INK)
    sheet.disc((tip + 3, low), 3, fill=INK)
    link = tip + 22
    half = leaf + (low - 20 - leaf) * 22 / (root - 8 - tip)
    sheet.line((AXIS + 22, pushed - 3), (link, pushed - 3), (link, half), colour=SOFT, weight=FINE, dash="4,3")


def _lever(sheet: Sheet, *, engaged: bool) -> None:
    """The manual opener: a lever through the head's wall that can hold the collar down."""
    pivot = (AXIS - 84, 172)
    inner = REST + TRAVEL if engaged else REST - 2
    reach = AXIS - 30 - pivot[0]
    slope = (inner - pivot[1]) / reach
    outer = pivot[1] - slope * (pivot[0] - HANDLE)
    sheet.line((HANDLE, outer), pivot, (AXIS - 30, inner), weight=RAIL)
    sheet.disc((HANDLE, outer), 6, fill=SOFT)
    sheet.disc(pivot, 3.5, fill=SHEET)


def _leads(sheet: Sheet, valve: HeatMotorValve) -> None:
    """The leads out of the head, each with its letter."""
    left, right = AXIS - 126, AXIS + 140
    low, root = 190, AXIS + 108
    first, second = (terminal.rpartition(".")[2] for terminal in valve.heater_pair)
    sheet.line((AXIS - 34, 59), (left, 59))
    _letter(sheet, first, left, 59, -1)
    if valve.leads == 3:
        # The other end of the winding and the switch leave the head together, on the shared lead.
        sheet.line((AXIS + 34, 121), (root, 121), (root, low - 20))
        sheet.line((root, 145), (right, 145))
        sheet.disc((root, 145), 2.5, fill=INK)
        _letter(sheet, second, right, 145, 1)
        sheet.line((root, low), (right, low))
        _letter(sheet, valve.switch_pair[1].rpartition(".")[2], right, low, 1)
        return
    sheet.line((AXIS - 34, 121), (left, 121))
    _letter(sheet, second, left, 121, -1)
    for terminal, y in zip(valve.switch_pair, (low - 20, low), strict=True):
        sheet.line((root, y), (right, y))
        _letter(sheet, terminal.rpartition(".")[2], right, y, 1)


def _letter(sheet: Sheet, mark: str, x: float, y: float, side: int) -> None:
    sheet.text(mark, x + 6 * side, y + 4, size=12, anchor="start" if side > 0 else "end")


def _labels(sheet: Sheet, valve: HeatMotorValve, state: ValveState, wax_degC: float, heating: bool, stem: float) -> None:
    """Five labels: heater and wax, end switch, opener, spring, plug."""
    share = valve.opening(state)
    _pointed(sheet, (LABELS, 66), (AXIS + 36, 72), _heater_words(state, heating), f"wax {_degrees(wax_degC)}")
    _pointed(sheet, (LABELS + 4, 218), (AXIS + 72, 196), "end switch", _switch_words(valve, state))
    _pointed(sheet, (LABELS, 262), (AXIS + 26, stem + 6 + (226 - stem) * 0.75), "spring")
    _pointed(sheet, (LABELS - 12, 372), (AXIS + 30, SEAT + stem - REST + 6), _plug_words(share))
    for place, words in enumerate(("manual opener", _opener_words(state))):
        sheet.text(words, 8, 253 + 15 * place, size=TEXT, anchor="start", colour=SOFT if place else INK)


def _pointed(sheet: Sheet, at: tuple[float, float], to: tuple[float, float], *lines: str) -> None:
    x, y = at
    sheet.line((x - 6, y - 4), (x - 14, y - 4), to, colour=SOFT, weight=FINE)
    for place, words in enumerate(lines):
        sheet.text(words, x, y + 16 * place, size=TEXT, anchor="start", colour=INK if place == 0 else SOFT)


def _heater_words(state: ValveState, heating: bool) -> str:
    return "heater burnt open" if state.burnt else f"heater {'on' if heating else 'off'}"


def _switch_words(valve: HeatMotorValve, state: ValveState) -> str:
    return "made" if valve.switch_made(state) else "open"


def _opener_words(state: ValveState) -> str:
    return "engaged" if state.engaged else "not engaged"


def _plug_words(share: float) -> str:
    return "plug off its seat" if share > 0 else "plug on its seat"


def _degrees(degC: float) -> str:
    return f"{degC:.0f} °C ({degC * 9 / 5 + 32:.0f} °F)"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
