"""A zone against the clock: volts, wax, stroke, end switch and boiler in strips over one time axis, from a run of the plant."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ..circuit import CircuitError
from ..plant.naming import part_words
from ..plant.running import PlantState
from ..plant.wiring import Installation
from .sheet import FINE, HEAT, INK, SHEET, SOFT, STROKE, WATER, Sheet, text_width
from .timeline_run import Happening, Record, Sample, recorded
from .wires_labels import haloed

__all__ = ["timeline", "timeline_words"]

LEFT, RIGHT, EDGE = 60, 54, 14
WIDE = 360  # of the strips; narrow, so that a phone shows the words large enough
HIGH, LOW = 72, 22  # a strip with a scale, a strip of two states
HEAD, APART = 24, 10  # for a strip's name, and between strips
CURVE = 2.4
TEXT, NAME = 12, 13
BALL = 8.5  # around a mark's number
MOST_MARKS = 14
LINE = 18  # of the list below
STEPS = (1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400, 43200, 86400)  # s between ticks


@dataclass(frozen=True, slots=True)
class _Strip:
    """One quantity over time: with a scale, or as a state that is or is not."""

    name: str
    value: Callable[[Sample], float]
    colour: str
    unit: str = ""
    steps: bool = False  # holds from sample to sample
    states: tuple[str, str] = ("", "")  # words for 0 and 1
    also: Callable[[float], str] | None = None  # what a tick says on the right

    @property
    def high(self) -> int:
        return LOW if self.states[1] else HIGH


def timeline(
    installation: Installation, state: PlantState, seconds: float, *, zone: str, marks: Sequence[tuple[float, str]] = ()
) -> str:
    """What one zone and the boiler do in the seconds after a state, as SVG with one strip a quantity.

    Every point of every curve comes from running the plant. Events are numbered lines, told below; `marks` adds others
    as (seconds from the start, words), a prediction for instance. Raises CircuitError for no time or a mark outside it.
    """
    record = recorded(installation, state, seconds, zone=zone)
    told = _told(record, marks)
    strips = _strips(record)
    heights = [HEAD + strip.high + APART for strip in strips]
    top = EDGE + 48
    axis = top + sum(heights)
    listed = _listed(told, LEFT + WIDE + RIGHT - 2 * EDGE - 88)
    sheet = Sheet(LEFT + WIDE + RIGHT, axis + 46 + LINE * sum(len(lines) for *_, lines in listed) + EDGE)
    words = part_words(record.valve)
    sheet.text(f"{words[:1].upper()}{words[1:]} against the clock", EDGE, EDGE + 12, size=15, anchor="start", bold=True)
    _marks(sheet, told, record, top, axis)
    for strip, y in zip(strips, _accumulated(top, heights), strict=True):
        with sheet.group("strip", about=strip.name):
            sheet.text(strip.name, EDGE, y + 11, size=NAME, anchor="start", bold=True)
            haloed(sheet)
            (_state if strip.states[1] else _scale)(sheet, strip, record, y + HEAD)
    _axis(sheet, record, axis)
    _list(sheet, listed, axis + 46 + 12)
    return sheet.svg(f"{words} against the clock", _sentences(record, told))


def timeline_words(
    installation: Installation, state: PlantState, seconds: float, *, zone: str, marks: Sequence[tuple[float, str]] = ()
) -> str:
    """The same run in sentences: where each quantity begins and ends, and what happens when."""
    record = recorded(installation, state, seconds, zone=zone)
    return _sentences(record, _told(record, marks))


def _strips(record: Record) -> list[_Strip]:
    """The strips that a valve of its kind can have."""
    first = record.samples[0]
    found = [_Strip("thermostat", lambda sample: float(sample.calling), INK, states=("idle", "calls"), steps=True)]
    found = found if first.calling is not None else []
    found.append(_Strip(f"volts across the {record.drive}", lambda sample: sample.volts, INK, "V", steps=True))
    if first.wax_degC is not None:
        found.append(_Strip("wax", lambda sample: sample.wax_degC, HEAT, "°C", also=lambda degC: f"{degC * 1.8 + 32:.0f} °F"))
    found.append(_Strip("stroke", lambda sample: 100 * sample.stroke, WATER, "%"))
    if first.made is not None:
        found.append(_Strip("end switch", lambda sample: float(sample.made), INK, states=("open", "made"), steps=True))
    if first.called is not None:
        found.append(_Strip("boiler call", lambda sample: float(sample.called), INK, states=("none", "called"), steps=True))
        found.append(_Strip("burner", lambda sample: float(sample.firing), HEAT, states=("off", "fires"), steps=True))
    return found


def _told(record: Record, marks: Sequence[tuple[float, str]]) -> list[tuple[Happening, bool]]:
    """Everything to be marked, by time; True for what the run did itself."""
    for time, words in marks:
        if not 0 <= time <= record.seconds:
            raise CircuitError(f"mark {words!r} at {time!r} s; the record runs from 0 to {record.seconds:g} s")
    both = [(happening, True) for happening in record.happenings] + [(Happening(time, words), False) for time, words in marks]
    return sorted(both, key=lambda pair: pair[0].time)


def _shown(told: Sequence[tuple[Happening, bool]]) -> list[tuple[Happening, bool]]:
    """What there is room to mark: everything, or of events that come again and again the first."""
    if len(told) <= MOST_MARKS:
        return list(told)
    first: dict[str, tuple[Happening, bool]] = {}
    for happening, own in told:
        first.setdefault(happening.words if own else f"{happening.words} {happening.time}", (happening, own))
    return list(first.values())[:MOST_MARKS]


def _more(told: Sequence[tuple[Happening, bool]]) -> str:
    """What is not marked, in words."""
    left = len(told) - len(_shown(told))
    return f"and {left} more, mostly of the same" if left else ""


def _accumulated(start: float, heights: Sequence[float]) -> Iterator[float]:
    for height in heights:
        yield start
        start += height


def _x(record: Record, time: float) -> float:
    return LEFT + WIDE * time / record.seconds


def _scale(sheet: Sheet, strip: _Strip, record: Record, top: float) -> None:
    """A strip with a scale: curves through the samples, or steps where a value holds until the next one."""
    values = [strip.value(sample) for sample in record.samples]
    low, high, step = _range(strip, values)
    bottom = top + HIGH

    def y(value: float) -> float:
        return bottom - HIGH * (value - low) / (high - low)

    tick = low
    while tick <= high + 1e-9:
        sheet.line((LEFT, y(tick)), (LEFT + WIDE, y(tick)), colour="var(--rule, #d0d0d0)", weight=FINE)
        last = tick + step > high + 1e-9
        sheet.text(f"{tick:g} {strip.unit}" if last else f"{tick:g}", LEFT - 6, y(tick) + 4, size=TEXT, anchor="end", colour=SOFT)
        if strip.also:
            sheet.text(strip.also(tick), LEFT + WIDE + 6, y(tick) + 4, size=TEXT, anchor="start", colour=SOFT)
        tick += step
    points = [(_x(record, sample.time), y(value)) for sample, value in zip(record.samples, values, strict=True)]
    if strip.steps:
        points = _stepped(points)
    sheet.line(*points, colour=strip.colour, weight=CURVE)


def _range(strip: _Strip, values: Sequence[float]) -> tuple[float, float, float]:
    """The scale of a strip: lowest and highest level, and the step between ticks."""
    if strip.unit == "%":
        return 0.0, 100.0, 50.0
    if strip.unit == "V":
        high = 10.0 * max(3, math.ceil(max(values) / 10))
        return 0.0, high, 10.0 if high <= 40 else 20.0 * math.ceil(high / 80)
    low, high = math.floor(min(values) / 20) * 20.0, math.ceil(max(values) / 20) * 20.0
    high = max(high, low + 40.0)
    step = 20.0 * math.ceil((high - low) / 80)
    return low, low + step * math.ceil((high - low) / step), step


def _stepped(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    found = [points[0]]
    for (_, before), (x, y) in pairwise(points):
        if y != before:
            found += [(x, before), (x, y)]
    return [*found, points[-1]] if points[-1] != found[-1] else found


def _state(sheet: Sheet, strip: _Strip, record: Record, top: float) -> None:
    """A strip of two states: a line that is high or low, shaded where it is high."""
    levels = (top + LOW, top)
    for level, word in zip(levels, strip.states, strict=True):
        sheet.text(word, LEFT - 6, level + 4, size=TEXT, anchor="end", colour=SOFT)
    points = _stepped([(_x(record, sample.time), levels[bool(strip.value(sample))]) for sample in record.samples])
    low, high = levels
    for (ax, ay), (bx, by) in pairwise(points):
        if ay == by == high and bx > ax:
            sheet.area(((ax, low), (ax, high), (bx, high), (bx, low)), colour="none", fill=strip.colour, weight=0, opacity=0.16)
    sheet.line(*points, colour=strip.colour, weight=CURVE)


def _marks(sheet: Sheet, told: Sequence[tuple[Happening, bool]], record: Record, top: float, axis: float) -> None:
    """A numbered line for each event, dashed; a mark that was put has a square number and a dotted line."""
    y = top - BALL - 10
    shown = _shown(told)
    places = _apart([_x(record, happening.time) for happening, _ in shown])
    for number, ((happening, own), at) in enumerate(zip(shown, places, strict=True), 1):
        x = _x(record, happening.time)
        with sheet.group("mark" if own else "mark put", about=str(number), title=f"{_clock(happening.time)}: {happening.words}"):
            sheet.line((at, y + BALL), (x, top - 3), (x, axis), colour=SOFT, weight=FINE, dash="5,4" if own else "1,4")
            if own:
                sheet.disc((at, y), BALL, fill=SHEET, weight=FINE)
            else:
                corners = ((at - BALL, y - BALL), (at + BALL, y - BALL), (at + BALL, y + BALL), (at - BALL, y + BALL))
                sheet.area(corners, fill=SHEET, weight=FINE)
            sheet.text(str(number), at, y + 4, size=11, bold=True)


def _apart(xs: Sequence[float]) -> list[float]:
    """Where the numbers of marks stand: over their lines as far as they leave each other room."""
    room, limit = 2 * BALL + 2, LEFT + WIDE + RIGHT - BALL - 2
    found: list[float] = []
    for x in xs:
        found.append(max(x, found[-1] + room) if found else x)
    for place in reversed(range(len(found))):
        found[place] = min(found[place], limit)
        limit = found[place] - room
    return found


def _axis(sheet: Sheet, record: Record, y: float) -> None:
    step = next((step for step in STEPS if record.seconds / step <= 8), STEPS[-1])
    sheet.line((LEFT, y), (LEFT + WIDE, y), weight=STROKE)
    tick = 0.0
    while tick <= record.seconds + 1e-9:
        x = _x(record, tick)
        sheet.line((x, y), (x, y + 5), weight=STROKE)
        sheet.text(_clock(tick, step), x, y + 19, size=TEXT)
        tick += step
    sheet.text("time, h:min" if step >= 3600 else "time, min:s", LEFT + WIDE / 2, y + 36, size=TEXT, colour=SOFT)


def _clock(seconds: float, step: float = 0.0) -> str:
    """A time as min:s, or as h:min on an axis of hours."""
    whole = round(seconds)
    if step >= 3600:
        return f"{whole // 3600}:{whole % 3600 // 60:02d}"
    return f"{whole // 60}:{whole % 60:02d}"


def _listed(told: Sequence[tuple[Happening, bool]], room: float) -> list[tuple[str, str, list[str]]]:
    """The list below: number, time, and the words in lines that fit."""
    found = [
        (str(number), _clock(happening.time), _wrapped(happening.words, room))
        for number, (happening, _) in enumerate(_shown(told), 1)
    ]
    more = _more(told)
    return [*found, ("", "", [more])] if more else found


def _wrapped(words: str, room: float) -> list[str]:
    lines: list[str] = []
    for word in words.split():
        if lines and text_width(f"{lines[-1]} {word}", NAME) <= room:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def _list(sheet: Sheet, listed: Sequence[tuple[str, str, list[str]]], y: float) -> None:
    with sheet.group("list"):
        for number, clock, lines in listed:
            if number:
                sheet.text(number, EDGE + 18, y, size=NAME, anchor="end", bold=True)
                sheet.text(clock, EDGE + 74, y, size=NAME, anchor="end")
            for line in lines:
                sheet.text(line, EDGE + 88, y, size=NAME, anchor="start")
                y += LINE


def _sentences(record: Record, told: Sequence[tuple[Happening, bool]]) -> str:
    first, last = record.samples[0], record.samples[-1]
    name = part_words(record.valve)
    volts = [sample.volts for sample in record.samples]
    lines = [f"{name[:1].upper()}{name[1:]} over {_clock(record.seconds)} min:s."]
    changes = f"{volts[0]:.1f} V at first, {min(volts):.1f} to {max(volts):.1f} V in all"
    steady = max(volts) - min(volts) < 0.05
    lines.append(f"Volts across the {record.drive}: {f'{volts[0]:.1f} V throughout' if steady else changes}.")
    if first.wax_degC is not None and last.wax_degC is not None:
        lines.append(f"Wax from {_degrees(first.wax_degC)} to {_degrees(last.wax_degC)}.")
    lines.append(f"Stroke from {100 * first.stroke:.0f} % to {100 * last.stroke:.0f} %.")
    for strip in _strips(record):
        if strip.states[1]:
            begins, ends = (strip.states[bool(strip.value(sample))] for sample in (first, last))
            changed = f"{begins} at first, {ends} at the end" if begins != ends else f"{begins} at first and at the end"
            lines.append(f"{strip.name[:1].upper()}{strip.name[1:]}: {changed}.")
    lines += [f"At {_clock(happening.time)} {happening.words}{'' if own else ' (marked)'}." for happening, own in _shown(told)]
    lines += [f"{more[:1].upper()}{more[1:]}."] if (more := _more(told)) else []
    return " ".join(lines)


def _degrees(degC: float) -> str:
    return f"{degC:.0f} °C ({degC * 1.8 + 32:.0f} °F)"
