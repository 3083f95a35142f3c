"""What every valve in section shares: body, stem, plug, spring, end switch, manual opener, and the words beside them.

Plain geometry of our own, the simplest mechanism that works: something in the head pushes a stem down against a spring,
and the plug leaves its seat. No real part looks like this.
"""

from __future__ import annotations

from ..plant.parts import Valve, ValveState
from .sheet import FINE, INK, RAIL, SHEET, SOFT, STROKE, WATER, XY, Sheet

__all__ = [
    "AXIS",
    "LOW",
    "REST",
    "ROOT",
    "TRAVEL",
    "drive_leads",
    "empty",
    "letter",
    "mechanism",
    "pointed",
    "section_words",
    "switch_leads",
]

WIDTH, HEIGHT = 455, 392
AXIS = 170  # of the drive, stem and plug
TRAVEL = 20  # of the stem, shut to open
REST = 152  # lower face of what pushes the stem, shut
SEAT = 306
PLUG = 12
ENDS = AXIS - 150, AXIS + 150  # of the pipe
HANDLE = AXIS - 146  # of the manual opener
TEXT = 13
LABELS = 318  # where the words on the right begin
LOW, ROOT = 190, AXIS + 108  # the end switch's lower contact, and where it is fixed


def empty() -> Sheet:
    """A sheet of the size that every section has."""
    return Sheet(WIDTH, HEIGHT)


def mechanism(sheet: Sheet, valve: Valve, state: ValveState) -> float:
    """Everything but the drive; returns how low the drive's own foot stands."""
    pushed, low = REST + TRAVEL * state.stroke, REST + TRAVEL * valve.opening(state)
    _body(sheet, low - REST)
    _case(sheet)
    _spring(sheet, low + 6, 232)
    _stem(sheet, low)
    if valve.switch_pair:
        _switch(sheet, pushed, made=valve.switch_made(state))
        pointed(sheet, (LABELS + 4, 218), (AXIS + 72, 196), "end switch", _switch_words(valve, state))
    _lever(sheet, engaged=state.engaged)
    pointed(sheet, (LABELS, 262), (AXIS + 26, low + 6 + (226 - low) * 0.75), "spring")
    pointed(sheet, (LABELS - 12, 372), (AXIS + 30, SEAT + low - REST + 6), _plug_words(valve.opening(state)))
    for place, words in enumerate(("manual opener", _opener_words(state))):
        sheet.text(words, 8, 253 + 15 * place, size=TEXT, anchor="start", colour=SOFT if place else INK)
    return pushed


def section_words(valve: Valve, state: ValveState) -> str:
    """What a section shows beside the drive, in sentences."""
    share = valve.opening(state)
    way = "shut" if share == 0 else "fully open" if share == 1 else f"{share:.0%} of the way open".replace("%", " percent")
    switch = f" The end switch is {_switch_words(valve, state)}." if valve.switch_pair else ""
    return f"The valve is {way}: {_plug_words(share)}.{switch} The manual opener is {_opener_words(state)}."


def drive_leads(sheet: Sheet, valve: Valve, first: XY, second: XY, around: tuple[XY, ...]) -> None:
    """The two leads of the drive out of the head, each with its letter.

    Those of three-wire valves leave by the shared lead, from the second point `around` whatever is in the way.
    """
    marks = [terminal.rpartition(".")[2] for terminal in valve.drive_pair]
    left, right = AXIS - 126, AXIS + 140
    sheet.line(first, (left, first[1]))
    letter(sheet, marks[0], left, first[1], -1)
    if valve.leads != 3:
        sheet.line(second, (left, second[1]))
        letter(sheet, marks[1], left, second[1], -1)
        return
    # The other end of the drive and the switch leave the head together, on the shared lead.
    sheet.line(*around, (ROOT, LOW - 20))
    sheet.line((ROOT, 145), (right, 145))
    sheet.disc((ROOT, 145), 2.5, fill=INK)
    letter(sheet, marks[1], right, 145, 1)


def switch_leads(sheet: Sheet, valve: Valve) -> None:
    """The leads of the end switch out of the head, but for one that is shared."""
    if valve.switch_pair is None:
        return
    for terminal, y in tuple(zip(valve.switch_pair, (LOW - 20, LOW), strict=True))[valve.leads == 3 :]:
        sheet.line((ROOT, y), (AXIS + 140, y))
        letter(sheet, terminal.rpartition(".")[2], AXIS + 140, y, 1)


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


def _case(sheet: Sheet) -> None:
    left, right = AXIS - 110, AXIS + 124
    sheet.line(
        (AXIS - 12, 256), (AXIS - 12, 236), (left, 236), (left, 30), (right, 30), (right, 236), (AXIS + 12, 236), (AXIS + 12, 256)
    )


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
    root, tip, low = ROOT, AXIS + 62, LOW
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


def letter(sheet: Sheet, mark: str, x: float, y: float, side: int) -> None:
    """A lead's letter at its end."""
    sheet.text(mark, x + 6 * side, y + 4, size=12, anchor="start" if side > 0 else "end")


def pointed(sheet: Sheet, at: XY, to: XY, *lines: str) -> None:
    """Words with a fine line to what they name."""
    x, y = at
    sheet.line((x - 6, y - 4), (x - 14, y - 4), to, colour=SOFT, weight=FINE)
    for place, words in enumerate(lines):
        sheet.text(words, x, y + 16 * place, size=TEXT, anchor="start", colour=INK if place == 0 else SOFT)


def _switch_words(valve: Valve, state: ValveState) -> str:
    return "made" if valve.switch_made(state) else "open"


def _opener_words(state: ValveState) -> str:
    return "engaged" if state.engaged else "not engaged"


def _plug_words(share: float) -> str:
    return "plug off its seat" if share > 0 else "plug on its seat"
