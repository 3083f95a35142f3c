"""The people in the stories: houses, rooms, what customers say for each symptom, and what is true but harmless. Invented."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ..faults.changes import Change, Exchanged, Joint, PartField
from ..plant.parts import Valve
from ..plant.wiring import Installation

__all__ = ["COMPLAINTS", "HOUSES", "ROOMS", "Distractor", "distractors"]

HOUSES = (
    "a bungalow with a low cellar",
    "a brick terrace house",
    "a farmhouse kitchen extension",
    "a two-storey frame house",
    "a small veterinary surgery",
    "a cottage that is let by the week",
    "the flat over a bakery",
    "a village library",
    "a converted barn",
    "the parish hall's back rooms",
    "a dentist's old house",
    "a split-level house on a slope",
)
ROOMS = (
    "bedroom",
    "kitchen",
    "den",
    "sunroom",
    "office",
    "workshop",
    "playroom",
    "dining room",
    "guest room",
    "hall",
    "studio",
    "bathroom",
)
COMPLAINTS: Mapping[str, tuple[str, ...]] = {
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
        "The whole heating has stopped; it was the {room} that we noticed first.",
    ),
    "boiler runs": (
        "The boiler never rests, and nobody is asking for heat.",
        "The boiler runs day and night. It is worst in the {room}.",
    ),
    "no boiler": (
        "I turn the {room} up, something clicks, and the boiler does not care.",
        "The boiler does not come on for the {room}.",
    ),
    "odd": (
        "Something about the heating in the {room} is not as it was.",
        "The {room} does odd things. Please have a look.",
    ),
    "danger": (
        "Something smelled or sparked near the pipes of the {room}. We have touched nothing.",
        "I got a tingle near the wiring of the {room}. Please come at once.",
    ),
}
"""What a customer says; {room} is the room of the zone that is complained of."""


@dataclass(frozen=True, slots=True)
class Distractor:
    """Something true but harmless that the story mentions."""

    words: str
    changes: tuple[Change, ...] = ()


def distractors(design: Installation, zone: str) -> tuple[Distractor, ...]:
    """What could be mentioned of this house."""
    source = design.part("transformer")
    valve = design.part(f"{zone}.valve")
    number = zone.removeprefix("zone")
    found = [
        Distractor(
            f"The connector on the R side of zone {number} is old and yellow.",
            (Joint(f"{zone}.R splice", "1", 0.006),),
        ),
        Distractor("The transformer is warm to the touch."),
    ]
    if source.line_hz == 60:
        words = "The lights are a touch dim: the line stands at 116 V today."
        found.append(Distractor(words, (PartField("transformer", "line_volts", 116.0),)))
    if isinstance(valve, Valve) and valve.leads == 4:
        found.append(
            Distractor(
                f"Somebody has noted on the wall that the heater leads of valve {number} are \u201cthe wrong way round\u201d.",
                (Exchanged(*valve.drive_pair),),
            )
        )
    if source.grounded:
        found.append(Distractor("One side of the transformer is bonded to its case, as it was meant to be."))
    return tuple(found)
