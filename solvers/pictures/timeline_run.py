"""A run of the plant recorded for one zone: what its valve and the boiler did, and when."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from ..circuit import CircuitError
from ..plant.electrics import electrics
from ..plant.naming import home, part_words
from ..plant.parts import Boiler, HeatedValve, Loop, Room, Stat, Valve
from ..plant.running import PlantState, waited
from ..plant.wiring import Installation

__all__ = ["Happening", "Record", "Sample", "recorded"]

POINTS = 150  # about how many samples a record has beside its events
MOST_BETWEEN = 24  # between two events
PAST = 1e-8  # s after an event at which it has surely happened, whatever the rounding of two runs


@dataclass(frozen=True, slots=True)
class Sample:
    """What stood at one moment. Whatever is no temperature or stroke holds until the next sample."""

    time: float  # s from the start of the record
    volts: float  # V rms across heater or motor
    stroke: float  # 0 shut to 1 open
    wax_degC: float | None  # None for a valve without wax
    calling: bool | None  # None where there is no thermostat
    made: bool | None  # None for a valve without an end switch
    called: bool | None  # boiler; None where there is none
    firing: bool | None


@dataclass(frozen=True, slots=True)
class Happening:
    """One or more things that happened at one moment, in words."""

    time: float  # s from the start of the record
    words: str


@dataclass(frozen=True, slots=True)
class Record:
    """A run as one zone saw it: samples from first to last, and what happened."""

    valve: str
    drive: str  # "heater" or "motor"
    samples: tuple[Sample, ...]
    happenings: tuple[Happening, ...]

    @property
    def seconds(self) -> float:
        return self.samples[-1].time


def recorded(installation: Installation, state: PlantState, seconds: float, *, zone: str) -> Record:
    """Run the plant for so many seconds and keep what concerns a zone, "zone1" for instance.

    One run finds the events; a second one stops at each of them and at enough moments between for its exponentials to
    look as they are. Raises CircuitError for no time at all, NoSuchPart where the zone has no valve.
    """
    if not 0 < seconds < float("inf"):
        raise CircuitError(f"a record of {seconds!r} s; give a number of seconds above zero")
    valve = installation.part(f"{zone}.valve")
    if not isinstance(valve, Valve):
        raise CircuitError(f"{valve.name!r} is no valve but a {type(valve).__name__}")
    _, events = waited(installation, state, seconds)
    samples = [_sample(installation, state, valve, zone, state.time)]
    now = state
    for moment in _moments(state.time, seconds, [event.time for event in events]):
        now, _ = waited(installation, now, moment - now.time)
        samples.append(_sample(installation, now, valve, zone, state.time))
    mine = [(event.time - state.time, words) for event in events if (words := _words(installation, event.name, zone))]
    drive = "heater" if isinstance(valve, HeatedValve) else "motor"
    return Record(valve.name, drive, tuple(samples), _together(mine))


def _moments(start: float, seconds: float, events: list[float]) -> list[float]:
    """When to look: at the start, at every event and at the end, and closer after an event than before the next."""
    end = start + seconds
    stops = sorted({start, end, *(min(event + PAST, end) for event in events)})
    between = max(1, min(MOST_BETWEEN, POINTS // max(len(stops) - 1, 1)))
    found = []
    for begin, stop in pairwise(stops):
        found += [begin + (stop - begin) * (step / between) ** 2 for step in range(1, between)]
        found.append(stop)
    return found


def _sample(installation: Installation, state: PlantState, valve: Valve, zone: str, start: float) -> Sample:
    now = state.of(valve.name)
    names = {part.name for part in installation.parts}
    stat = installation.part(f"{zone}.stat") if f"{zone}.stat" in names else None
    boiler = next((part for part in installation.parts if isinstance(part, Boiler)), None)
    potential = electrics(installation, state.parts, state.lifted).solved.volts
    first, second = valve.drive_pair
    return Sample(
        time=state.time - start,
        volts=abs(potential[first] - potential[second]),
        stroke=now.stroke,
        wax_degC=state.values[f"{valve.name}.wax"] if isinstance(valve, HeatedValve) else None,
        calling=state.of(stat.name).calling if isinstance(stat, Stat) else None,
        made=valve.switch_made(now) if valve.switch_pair else None,
        called=state.of(boiler.name).called if boiler else None,
        firing=state.of(boiler.name).firing if boiler else None,
    )


def _words(installation: Installation, event: str, zone: str) -> str:
    """An event in plain words; "" for one of another zone, of a room or of the water in a loop."""
    owners = [part for part in installation.parts if event.startswith(f"{part.name} ")]
    if not owners:
        return event
    owner = max(owners, key=lambda part: len(part.name))
    if isinstance(owner, (Loop, Room)) or home(owner.name) not in ("", zone):
        return ""
    return f"{part_words(owner.name)} {event.removeprefix(f'{owner.name} ')}"


def _together(events: list[tuple[float, str]]) -> tuple[Happening, ...]:
    """Events of one moment told as one."""
    found: list[Happening] = []
    for time, words in events:
        if found and time - found[-1].time < 1e-6:
            found[-1] = Happening(found[-1].time, f"{found[-1].words}, {words}")
        else:
            found.append(Happening(time, words))
    return tuple(found)
