"""Chapter 3, valve heater loops: its objectives and its endless jobs."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass

from ..faults.changes import Change, Exchanged, Joint, PartField
from ..faults.fault import Place, Row
from ..faults.heater_loops import HEATER_LOOP_ROWS
from ..jobs.job import Job, JobError
from ..plant import facts
from ..plant.parts import Boiler, Fuse, HeatMotorValve, Stat, Transformer
from ..plant.topologies import Zone, four_wire, three_wire_direct
from ..plant.wiring import Installation

__all__ = ["CHAPTER", "LEVELS", "OBJECTIVES", "draw"]

CHAPTER = "heater-loops"
LEVELS = (1,)
OBJECTIVES = ("3.1", "3.2", "3.3", "3.4", "3.5", "3.6", "3.7")

_HOUSES = (
    "a bungalow with a low cellar",
    "a brick terrace house",
    "a farmhouse kitchen extension",
    "a two-storey frame house",
    "a small veterinary surgery",
    "a cottage that is let by the week",
    "the flat over a bakery",
    "a village library",
)
_ROOMS = ("bedroom", "kitchen", "den", "sunroom", "office", "workshop", "playroom", "dining room")
_COMPLAINTS = {
    "cold": (
        "The {room} stays cold when we turn it up.",
        "No heat in the {room}. I turned the thermostat up and nothing happened.",
        "The {room} will not warm up; I can see my breath in there.",
    ),
    "slow": (
        "The {room} takes for ever to warm up.",
        "On cold mornings the {room} never gets there.",
        "The {room} gets heat late, if it gets any at all.",
    ),
    "too warm": (
        "The {room} gets heat when it should not.",
        "The {room} is too warm even after we turn it down.",
    ),
    "dead": (
        "Everything went dead. I think it began with the {room}.",
        "No room heats any more since we turned the {room} up.",
    ),
    "boiler runs": (
        "The boiler never rests, and the {room} is cold all the same.",
        "The boiler runs day and night, and nobody is asking for heat.",
    ),
}


@dataclass(frozen=True, slots=True)
class _Distractor:
    """Something true but harmless that the story mentions."""

    words: str
    changes: tuple[Change, ...] = ()
    leads: tuple[int, ...] = (3, 4)


def draw(seed: str, level: int = 1) -> Job:
    """The job of a seed: always the same one. Raises JobError for a level or seed that does not exist."""
    if level not in LEVELS or isinstance(level, bool):
        raise JobError(f"level {level!r} of {CHAPTER}; there are {list(LEVELS)}")
    if not isinstance(seed, str) or not seed.strip():
        raise JobError(f"seed {seed!r}; give some text, for instance 'autumn/anna/3'")
    chance = _Chance(f"{CHAPTER}/{level}/{seed}")
    leads = chance.among("leads", (3, 3, 4))
    design = _design(chance, leads)
    zone = chance.among("zone", design.zones)
    rooms = dict(zip(design.zones, chance.some("rooms", _ROOMS, len(design.zones)), strict=True))
    distractor = chance.among("distractor", [one for one in _distractors(design, zone) if leads in one.leads])
    for change in distractor.changes:
        design = change.made(design)
    choices = [(row, place) for row, place in _choices(leads)]
    row, place = chance.weighted("fault", choices, [row.prevalence / _places(row, leads) for row, _ in choices])
    size = None if row.sizes is None else chance.between("size", *row.sizes)
    fault = row.at(zone, place, size)
    complaint = chance.among("complaint", _COMPLAINTS[row.symptom]).format(room=rooms[zone])
    house = chance.among("house", _HOUSES)
    setting = f"{house[0].upper()}{house[1:]}, {_count(design)}, {_kind(leads)}."
    story = f"{setting} The customer says: \u201c{complaint}\u201d {distractor.words}"
    return Job(
        chapter=CHAPTER,
        level=level,
        seed=seed,
        title=f"The {rooms[zone]} call",
        story=story,
        rooms=rooms,
        zone=zone,
        design=design,
        fault=fault,
        suspects=tuple(one.suspect(zone, where) for one, where in choices),
        answer=row.suspect(zone, place).id,
        objectives=row.objectives,
    )


@dataclass(frozen=True, slots=True)
class _Chance:
    """Draws from one named stream a decision, so that a new decision never reshuffles old jobs."""

    seed: str

    def stream(self, decision: str) -> random.Random:
        return random.Random(f"{self.seed}/{decision}")

    def among(self, decision: str, choices: Sequence):
        return choices[int(self.stream(decision).random() * len(choices))]

    def some(self, decision: str, choices: Sequence, count: int) -> list:
        left, stream = list(choices), self.stream(decision)
        return [left.pop(int(stream.random() * len(left))) for _ in range(count)]

    def weighted(self, decision: str, choices: Sequence, weights: Sequence[float]):
        mark = self.stream(decision).random() * sum(weights)
        for choice, weight in zip(choices, weights, strict=True):
            mark -= weight
            if mark < 0:
                return choice
        return choices[-1]

    def between(self, decision: str, low: float, high: float) -> float:
        return float(f"{low + (high - low) * self.stream(decision).random():.4g}")

    def of(self, decision: str, fact: facts.Fact) -> float:
        return self.between(decision, fact.low, fact.high)


def _choices(leads: int) -> list[tuple[Row, Place]]:
    return [(row, place) for row in HEATER_LOOP_ROWS if leads in row.leads for place in row.places if leads in place.leads]


def _places(row: Row, leads: int) -> int:
    return sum(leads in place.leads for place in row.places)


def _design(chance: _Chance, leads: int) -> Installation:
    count = chance.among("zones", (1, 2, 2)) if leads == 4 else 2
    zones = []
    for number in range(1, count + 1):
        at = f"zone{number}"
        feet = round(chance.between(f"{at} cable", 25, 110))
        leg = feet * facts.COPPER_OHMS_PER_KFT[18] / 1000
        valve = HeatMotorValve(
            "valve",
            leads=leads,
            heater_ohms=chance.of(f"{at} heater", facts.HEATER_OHMS),
            switch_ohms=chance.of(f"{at} switch", facts.SWITCH_OHMS),
            ambient_degC=chance.of(f"{at} ambient", facts.INDOOR_DEGC),
            wax_resistance=chance.of(f"{at} wax resistance", facts.WAX_RESISTANCE),
            wax_tau=chance.of(f"{at} wax tau", facts.WAX_TAU),
            end_degC=chance.of(f"{at} end", facts.WAX_END_DEGC),
        )
        stat = Stat("stat", chance.of(f"{at} stat", facts.STAT_OHMS))
        zones.append(
            Zone(
                valve,
                stat,
                r_leg_ohms=leg,
                w_leg_ohms=leg,
                return_ohms=chance.between(f"{at} return", 0.02, 0.06),
                e_leg_ohms=chance.between(f"{at} E leg", 0.005, 0.03),
                stat_cable_feet=feet,
            )
        )
    build = four_wire if leads == 4 else three_wire_direct
    return build(
        "the drawing on site",
        zones,
        transformer=Transformer(
            "transformer",
            emf=chance.of("emf", facts.TRANSFORMER_EMF),
            ohms=chance.of("source ohms", facts.TRANSFORMER_OHMS),
            dc_ohms=chance.of("winding", facts.TRANSFORMER_DC_OHMS),
        ),
        fuse=Fuse("fuse", ohms=chance.of("fuse", facts.FUSE_OHMS)),
        boiler=Boiler(
            "boiler",
            emf=chance.of("boiler emf", facts.BOILER_EMF),
            ohms=chance.of("boiler source", facts.BOILER_SOURCE_OHMS),
            input_ohms=chance.of("boiler input", facts.BOILER_INPUT_OHMS),
        ),
        trunk_ohms=chance.between("trunk", 0.02, 0.08),
        tt_ohms=chance.between("T-T cable", 0.05, 0.2),
    )


def _distractors(design: Installation, zone: str) -> tuple[_Distractor, ...]:
    source = design.part("transformer")
    number = zone.removeprefix("zone")
    return (
        _Distractor(
            f"Somebody has noted on the wall that the heater leads of valve {number} are \u201cthe wrong way round\u201d.",
            (Exchanged(f"{zone}.valve.HA", f"{zone}.valve.HB"),),
            leads=(4,),
        ),
        _Distractor(
            f"The connector on the R side of zone {number} is old and yellow.",
            (Joint(f"{zone}.R splice", "1", 0.006),),
        ),
        _Distractor(
            "The lights are a touch dim: the line stands at 116 V today.",
            (PartField("transformer", "emf", source.emf * 116 / 120),),
        ),
        _Distractor("The transformer is warm to the touch."),
    )


def _count(design: Installation) -> str:
    return "one zone" if len(design.zones) == 1 else f"{len(design.zones)} zones"


def _kind(leads: int) -> str:
    return "three-wire valves with shared commons" if leads == 3 else "four-wire valves"
