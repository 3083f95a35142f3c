"""A small line chart: one curve that matters, others beside it, a point where the reader stands, levels that are met or not."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from .sheet import FINE, HEAT, INK, SHEET, SOFT, STROKE, XY, Sheet, text_width
from .wires_labels import haloed

__all__ = ["chart"]

WIDTH, HIGH = 360, 168  # of the whole drawing, and of the field; narrow, so that a phone shows the words large enough
LEFT, RIGHT, TOP, FOOT = 44, 18, 48, 46
TEXT = 12
CURVE = 2.6
BALL = 6.0
TICKS = 6  # about so many steps on an axis
RULE = "var(--rule, #d0d0d0)"
COPPER = "var(--copper, currentColor)"

Points = Sequence[tuple[float, float | None]]
Curve = tuple[str, Points]
Span = tuple[float, float]


def chart(
    title: str,
    words: str,
    *,
    across: str,
    up: str,
    curves: Sequence[Curve],
    here: XY | None = None,
    here_words: str = "",
    levels: Sequence[tuple[str, float]] = (),
    ticks: Sequence[tuple[float, str]] = (),
    base: float = 0.0,
    highest: float = math.inf,
) -> str:
    """Curves over an axis as SVG, the first one strong; `here` is marked, `words` say in sentences what is drawn.

    A curve is (name, points); a point without a height breaks it. `levels` are (name, height), drawn dashed. `ticks` name
    places across in place of numbers. The scale begins at `base` or below; nothing above `highest` is shown. Raises
    ValueError where there is nothing to draw.
    """
    heights = [y for _, points in curves for _, y in points if y is not None and y <= highest]
    places = [x for _, points in curves for x, _ in points]
    if len(set(places)) < 2 or not (heights or levels):
        raise ValueError(f"{title!r} has nothing to draw: {len(places)} points, {len(heights)} of them with a height")
    if here is not None and here[1] <= highest:
        heights.append(here[1])
    span = min(places), max(places)
    rise, step = _scale([*heights, *(level for _, level in levels if level <= highest)], base)
    sheet = Sheet(WIDTH, TOP + HIGH + FOOT)
    sheet.text(title, 4, 16, size=14, anchor="start", bold=True)
    sheet.text(up, 4, TOP - 12, size=TEXT, anchor="start", colour=SOFT)
    with sheet.group("axes"):
        _rules(sheet, rise, step)
        _foot(sheet, span, across, ticks)
    within = [(name, _inside(points, highest)) for name, points in curves]
    shown_levels = [(name, level) for name, level in levels if level <= highest]
    for name, points in reversed(within[1:]):
        with sheet.group("curve other", about=name):
            _curve(sheet, points, span, rise, colour=SOFT, weight=FINE)
    for name, level in shown_levels:
        with sheet.group("level", about=name):
            y = _y(rise, level)
            sheet.line((LEFT, y), (WIDTH - RIGHT, y), colour=HEAT, weight=STROKE, dash="6,4")
    with sheet.group("curve", about=within[0][0]):
        _curve(sheet, within[0][1], span, rise, colour=INK, weight=CURVE)
    # Words come last and stand clear of every line.
    taken: list[XY] = []
    with sheet.group("names"):
        for number, (name, points) in enumerate(within[1:], 1):
            others = [line for at, (_, line) in enumerate(within) if at != number]
            _name(sheet, name, points, others, taken, span, rise)
        for name, level in shown_levels:
            _level_name(sheet, name, level, [line for _, line in within], taken, span, rise)
    if here is not None and here[1] <= highest:
        _here(sheet, here, here_words, span, rise)
    return sheet.svg(title, words)


def _inside(points: Points, highest: float) -> list[tuple[float, float | None]]:
    return [(x, y if y is not None and y <= highest else None) for x, y in points]


def _scale(heights: Sequence[float], base: float) -> tuple[Span, float]:
    """From the base, or from below it, to a round number above; and the step between ticks."""
    low, high = min(base, *heights), max(base, *heights)
    step = _round_step((high - low or 1.0) / (TICKS - 1))
    bottom, top = step * math.floor(low / step + 1e-9), step * math.ceil(high / step - 1e-9)
    return (bottom, top if top > bottom else bottom + step), step


def _round_step(about: float) -> float:
    ten = 10.0 ** math.floor(math.log10(about))
    return next(ten * size for size in (1, 2, 5, 10) if ten * size >= about * (1 - 1e-9))


def _x(span: Span, x: float) -> float:
    return LEFT + (WIDTH - LEFT - RIGHT) * (x - span[0]) / (span[1] - span[0])


def _y(rise: Span, y: float) -> float:
    return TOP + HIGH * (rise[1] - y) / (rise[1] - rise[0])


def _rules(sheet: Sheet, rise: Span, step: float) -> None:
    for number in range(round((rise[1] - rise[0]) / step) + 1):
        level = rise[0] + number * step
        y = _y(rise, level)
        zero = abs(level) < step / 1e6
        sheet.line((LEFT, y), (WIDTH - RIGHT, y), colour=INK if zero else RULE, weight=STROKE if zero else FINE)
        sheet.text(f"{0.0 if zero else level:g}".replace("-", "\u2212"), LEFT - 6, y + 4, size=TEXT, anchor="end", colour=SOFT)


def _foot(sheet: Sheet, span: Span, across: str, ticks: Sequence[tuple[float, str]]) -> None:
    """The axis across, with its numbers or names."""
    y = TOP + HIGH
    sheet.line((LEFT, y), (WIDTH - RIGHT, y))
    for x, words in ticks or _numbers(span):
        at = _x(span, x)
        sheet.line((at, y), (at, y + 5))
        wide = text_width(words, TEXT)
        sheet.text(words, min(max(at, wide / 2 + 2), WIDTH - wide / 2 - 2), y + 19, size=TEXT, colour=SOFT)
    sheet.text(across, (LEFT + WIDTH - RIGHT) / 2, y + 38, size=TEXT, colour=SOFT)


def _numbers(span: Span) -> list[tuple[float, str]]:
    step = _round_step((span[1] - span[0]) / TICKS)
    first = math.ceil(span[0] / step - 1e-9)
    last = math.floor(span[1] / step + 1e-9)
    return [(number * step, f"{number * step:g}".replace("-", "\u2212")) for number in range(first, last + 1)]


def _curve(sheet: Sheet, points: Points, span: Span, rise: Span, *, colour: str, weight: float) -> None:
    """A line through the points, in pieces where it breaks; a piece of one point is a dot."""
    piece: list[XY] = []
    for x, y in [*points, (0.0, None)]:
        if y is not None:
            piece.append((_x(span, x), _y(rise, y)))
        elif piece:
            if len(piece) == 1:
                sheet.disc(piece[0], 2 * weight, colour=colour, fill=colour)
            else:
                sheet.line(*piece, colour=colour, weight=weight)
            piece = []


def _name(sheet: Sheet, name: str, points: Points, lines: Sequence[Points], taken: list[XY], span: Span, rise: Span) -> None:
    """A curve's name at one of its ends, above or below, where the other curves are furthest off."""
    drawn = [(x, y) for x, y in points if y is not None]
    if not name or not drawn:
        return
    wide = text_width(name, TEXT)
    places = []
    for x, y in (drawn[-1], drawn[0]):
        left = min(max(_x(span, x) - wide / 2, LEFT + 4), WIDTH - RIGHT - wide - 2)
        places += [(left, _y(rise, y) - 6), (left, _y(rise, y) + 15)]
    _clear(sheet, name, places, lines, taken, span, rise, colour=SOFT)


def _level_name(sheet: Sheet, name: str, level: float, lines: Sequence[Points], taken: list[XY], span: Span, rise: Span) -> None:
    """A level's name at its line, at the end and on the side where the curves are furthest off."""
    y, wide = _y(rise, level), text_width(name, TEXT)
    lefts = (LEFT + 6, WIDTH - RIGHT - wide - 4)
    _clear(sheet, name, [(left, base) for left in lefts for base in (y - 6, y + 14)], lines, taken, span, rise, colour=HEAT)


def _clear(
    sheet: Sheet,
    words: str,
    places: Sequence[XY],
    lines: Sequence[Points],
    taken: list[XY],
    span: Span,
    rise: Span,
    *,
    colour: str,
) -> None:
    """Words at that one of the places (left end, baseline) inside the field from which the lines keep furthest.

    `taken` are the baselines that words have got before, from end to end, one point a pixel; these take theirs.
    """
    wide = text_width(words, TEXT)

    def room(place: XY) -> float:
        left, base = place
        if not TOP + 9 <= base <= TOP + HIGH - 3:
            return -1.0
        at = [(_x(span, x), _y(rise, y)) for points in lines for x, y in points if y is not None]
        free = min((abs(y - base + 4) for x, y in at if left - 8 <= x <= left + wide + 8), default=HIGH)
        return min([free, *(abs(y - base) - TEXT for x, y in taken if left - 8 <= x <= left + wide + 8)])

    left, base = max(places, key=room)
    taken += [(left + along, base) for along in range(round(wide) + 1)]
    sheet.text(words, left, base, size=TEXT, anchor="start", colour=colour)
    haloed(sheet)


def _here(sheet: Sheet, here: XY, words: str, span: Span, rise: Span) -> None:
    """The reader's own place: a filled mark with lines to both axes and its words beside."""
    x, y = _x(span, here[0]), _y(rise, here[1])
    with sheet.group("here", about=words):
        for one, other in pairwise(((LEFT, y), (x, y), (x, TOP + HIGH))):
            sheet.line(one, other, colour=COPPER, weight=FINE, dash="2,3")
        sheet.disc((x, y), BALL, colour=SHEET, fill=COPPER)
        if words:
            wide = text_width(words, TEXT + 1) * 1.1
            at = min(max(x, LEFT + wide / 2 + 2), WIDTH - RIGHT - wide / 2)
            above = y - 12 if y - 26 > TOP else y + 22
            sheet.text(words, at, above, size=TEXT + 1, colour=COPPER, bold=True)
            haloed(sheet)
