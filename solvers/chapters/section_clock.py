"""One valve, its call put on and off by hand: where it stands at any moment, exactly, and what has happened until then."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from ..circuit import Event
from ..jobs.job import JobError
from ..plant import facts
from ..plant.electrics import electrics
from ..plant.parts import Fuse, HeatedValve, HeatMotorValve, SpringReturnValve, Stat, Transformer, Valve, WaxActuator
from ..plant.running import PlantState, at_rest, called, waited
from ..plant.topologies import Zone, four_wire
from ..plant.wiring import Installation
from .explorer import Pick, Plot, Slider, Told, both_air, span_text
from .visits import amps_text, volts_text

__all__ = ["INPUTS", "KINDS", "LONGEST", "MOST_TURNS", "VALVE", "Moment", "Story", "happened", "moment", "record_from", "story"]

VALVE = "zone1.valve"
LONGEST = 4 * 3600.0  # s
MOST_TURNS = 60
GRID = 5.0  # s between the points of the curve
LEAST_SPAN = 120.0  # s that the curve's axis shows at least
POINTS = 120
HEATING_AMPS = 0.05  # more than strays and leaks, far less than any heater

KINDS: Mapping[str, type[Valve]] = {
    "heat motor": HeatMotorValve,
    "low-draw wax": WaxActuator,
    "motor with spring return": SpringReturnValve,
}

INPUTS = (
    Pick("kind", "valve", tuple(KINDS), "heat motor"),
    Slider("volts", "volts on a call", "V", 14.0, 28.0, 0.5, 24.0),
    Slider("air", "air at the valve", "degC", -10, 60, 1, 20),
)


@dataclass(frozen=True, slots=True)
class Story:
    """What valve in what air on what volts, and when its call was put on and off."""

    kind: str
    volts: float
    air: float
    turns: tuple[tuple[float, bool], ...] = ()  # (s from the start, whether it calls from then on)

    def until(self, at: float) -> Story:
        """The same story as far as it has come."""
        return Story(self.kind, self.volts, self.air, tuple(turn for turn in self.turns if turn[0] <= at))


@dataclass(frozen=True, slots=True)
class Moment:
    """The valve at one moment."""

    valve: Valve
    state: PlantState
    wax_degC: float  # 0 for a valve without wax
    heating: bool
    calling: bool
    readings: tuple[Told, ...]
    plot: Plot
    drawn: str  # the plot in words


def story(values: object, turns: object) -> Story:
    """What a screen asks for, proven; raises JobError that names what is wrong and what is possible."""
    names = [each.name for each in INPUTS]
    if not isinstance(values, Mapping) or sorted(values) != sorted(names):
        raise JobError(f"the valve is {values!r}; give an object with exactly {names}")
    if not isinstance(turns, list) or len(turns) > MOST_TURNS:
        raise JobError(f"the calls are {turns!r:.80}; give a list of at most {MOST_TURNS} pairs of a time and true or false")
    found: list[tuple[float, bool]] = []
    for turn in turns:
        if not isinstance(turn, list) or len(turn) != 2 or not isinstance(turn[1], bool):
            raise JobError(f"a call is {turn!r:.80}; give a pair of a time in seconds and true or false")
        time = seconds(turn[0])
        if found and time < found[-1][0]:
            raise JobError(f"a call at {time:g} s stands after one at {found[-1][0]:g} s; give them in their order")
        found.append((time, turn[1]))
    return Story(*(each.taken(values[each.name]) for each in INPUTS), tuple(found))


def seconds(value: object) -> float:
    """A time on the clock; raises JobError."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not 0 <= value <= LONGEST:
        raise JobError(f"the time is {value!r}; the clock runs from 0 to {LONGEST:g} s")
    return float(value)


def moment(told: Story, at: object) -> Moment:
    """The valve so many seconds from the start; raises JobError for a time that the clock does not have."""
    time = seconds(at)
    so_far = told.until(time)
    house = _house(told.kind, told.volts, told.air)
    state = _at(so_far, time)[0]
    valve, now = house.part(VALVE), state.of(VALVE)
    solved = electrics(house, state.parts)
    first, second = valve.drive_pair
    volts = abs(solved.solved.volts[first] - solved.solved.volts[second])
    wax = state.values[f"{VALVE}.wax"] if isinstance(valve, HeatedValve) else 0.0
    drive = "heater" if isinstance(valve, HeatedValve) else "motor"
    amps = solved.amps[f"{VALVE}.{drive}"]
    readings = [Told(f"across the {drive}", volts_text(volts)), Told(f"through the {drive}", amps_text(amps))]
    if isinstance(valve, HeatedValve):
        readings.append(Told("wax", both_air(wax)))
    readings += [
        Told("stroke", f"{100 * now.stroke:.0f} %"),
        Told("end switch", "made" if valve.switch_made(now) else "open"),
    ]
    plot, drawn = _plot(so_far, time, valve)
    return Moment(
        valve,
        state,
        wax,
        drive == "heater" and amps > HEATING_AMPS,
        bool(so_far.turns and so_far.turns[-1][1]),
        tuple(readings),
        plot,
        drawn,
    )


def happened(told: Story, at: object) -> tuple[tuple[float, str], ...]:
    """What was done and what the valve did until then: (s from the start, words)."""
    time = seconds(at)
    so_far = told.until(time)
    found = [(turn, "call put on" if on else "call taken off") for turn, on in so_far.turns]
    for number in range(len(so_far.turns) + 1):
        part = Story(told.kind, told.volts, told.air, so_far.turns[:number])
        until = so_far.turns[number][0] if number < len(so_far.turns) else time
        found += [
            (event.time, event.name.removeprefix(f"{VALVE} "))
            for event in _at(part, until)[1]
            if event.name.startswith(f"{VALVE} ")
        ]
    return tuple(sorted(found, key=lambda each: each[0]))


def record_from(told: Story, at: object) -> tuple[Installation, PlantState, float]:
    """House, state and seconds since the call was last put on or off: what a timeline of that stretch takes."""
    time = seconds(at)
    so_far = told.until(time)
    begun = so_far.turns[-1][0] if so_far.turns else 0.0
    return _house(told.kind, told.volts, told.air), _turned(so_far), time - begun


@lru_cache(maxsize=16)
def _house(kind: str, volts: float, air: float) -> Installation:
    """One zone, its wires and its source of next to no ohms, so that the valve gets the volts that were set."""
    little = facts.ZERO_OHMS.value
    return four_wire(
        f"a {kind}",
        [Zone(KINDS[kind]("valve", 4, ambient_degC=air), Stat("stat", little), little, little)],
        transformer=Transformer("transformer", emf=volts, ohms=little),
        fuse=Fuse("fuse", ohms=little),
    )


@lru_cache(maxsize=256)
def _turned(told: Story) -> PlantState:
    """The state right after the story's last turn."""
    house = _house(told.kind, told.volts, told.air)
    if not told.turns:
        return at_rest(house)
    before = Story(told.kind, told.volts, told.air, told.turns[:-1])
    time, on = told.turns[-1]
    return called(house, _at(before, time)[0], "zone1.stat", on)


@lru_cache(maxsize=4096)
def _at(told: Story, time: float) -> tuple[PlantState, tuple[Event, ...]]:
    """The state at a time after the story's last turn, and what happened since that turn."""
    begun = _turned(told)
    return waited(_house(told.kind, told.volts, told.air), begun, max(0.0, time - begun.time))


def _value(told: Story, time: float) -> float:
    """What the curve shows at a time: the wax's temperature, or a motor's travel in percent."""
    state = _at(told.until(time), time)[0]
    wax = f"{VALVE}.wax"
    return state.values[wax] if wax in state.values else 100 * state.of(VALVE).stroke


def _plot(told: Story, time: float, valve: Valve) -> tuple[Plot, str]:
    """The wax, or the travel, from the start until now."""
    every = GRID * max(1, math.ceil(time / GRID / POINTS))
    times = sorted({*(every * n for n in range(int(time / every) + 1)), *(when for when, _ in happened(told, time)), time})
    points = tuple((at, _value(told, at)) for at in times)
    span = max(LEAST_SPAN, 60.0 * math.ceil((time + 30) / 60))
    step = 60.0 * max(1, math.ceil(span / 60 / 6))
    ticks = tuple((step * n, f"{step * n / 60:.0f}") for n in range(int(span / step) + 1))
    if isinstance(valve, HeatedValve):
        travel = valve.travel
        levels = ((f"switch makes, {travel.full:.0f} °C", travel.full), (f"shut again, {travel.shut:.0f} °C", travel.shut))
        title, up, words = "The wax so far", "°C", both_air(points[-1][1])
    else:
        levels = (("switch makes, 90 %", 100 * facts.MOTOR_SWITCH_MAKES_AT.value),)
        title, up, words = "The travel so far", "%", f"{points[-1][1]:.0f} %"
    curve = (title, (*points, (span, None)))
    drawn = f"{title}: {words} after {span_text(time)}."
    return Plot(title, "minutes", up, (curve,), points[-1], words, levels, ticks), drawn
