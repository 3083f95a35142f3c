"""The house as found behind a screen: readings taken in it, what was said of it, marks. JSON in, JSON out."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from ..jobs.as_found import ROLES, TIDY, TIE, fault_words
from ..jobs.found_house import House
from ..jobs.found_sheet import resumed, written
from ..jobs.injected import injected
from ..jobs.job import JobError
from ..jobs.wiring_questions import Leads, leads_found
from ..pictures.wires import wires, wires_words
from ..plant.naming import part_words, point_words
from ..plant.parts import Boiler, Stat, Transformer, Valve

__all__ = ["ASKS", "Houses"]

MOST_OPEN = 4  # houses a screen


class Houses:
    """The houses that one screen has open, by number."""

    def __init__(self) -> None:
        self._open: dict[int, House] = {}
        self._next = 1

    def house(self, asked: Mapping[str, object]) -> House:
        """The open house that a request names; raises JobError."""
        number = asked.get("number")
        if number not in self._open:
            raise JobError(f"no open house {number!r}; there are {sorted(self._open)}")
        return self._open[number]

    def admitted(self, house: House) -> int:
        """The number under which a house is open from now on. A screen keeps few open at a time."""
        number, self._next = self._next, self._next + 1
        self._open[number] = house
        for old in sorted(self._open)[:-MOST_OPEN]:
            del self._open[old]
        return number


def _entered(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "house", "seed"} or {"ask": "house", "sheet": text}: a house as found, or one worked before."""
    text = asked.get("sheet")
    house = House(str(asked["seed"]), reveals=not desk.graded) if text is None else resumed(text, reveals=not desk.graded)
    return {
        "number": desk.houses.admitted(house),
        "house": _brief(house),
        "answers": house.answers,
        **_seen(house, narrow=desk.narrow),
    }


def _acted(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "house act", "number", "act"}: one act."""
    house = desk.houses.house(asked)
    house.step(asked["act"])
    return _seen(house, narrow=desk.narrow)


def _said(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "house answers", "number", "answers"}: what is said so far, kept in place of what was said before."""
    house = desk.houses.house(asked)
    house.said(asked["answers"])
    return {"answers": house.answers}


def _kept(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "house sheet", "number"}: the sheet's text, to keep or to hand in."""
    return {"sheet": written(desk.houses.house(asked))}


def _handed_in(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "house hand in", "number", "answers"}: the answers stand from now on, and the house is closed."""
    house = desk.houses.house(asked)
    house.said(asked["answers"])
    house.hand_in()
    return _seen(house, narrow=desk.narrow)


def _marked(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "house marks", "number"}: marks with reasons, once the answers are handed in."""
    if desk.graded:
        raise JobError("marks for graded work come from your instructor")
    marks = desk.houses.house(asked).marks()
    lines = [
        {"criterion": line.criterion, "points": line.points, "out_of": line.out_of, "reasons": list(line.reasons)}
        for line in marks.lines
    ]
    return {"points": marks.points, "lines": lines}


def _brief(house: House) -> dict[str, object]:
    """What a screen needs once: the story and the questions. Nothing in it tells an answer."""
    task = house.task
    valves = {part.name: part for part in task.parts if isinstance(part, Valve)}
    asked = [question.valve for question in task.questions if isinstance(question, Leads)]
    return {
        "id": task.id,
        "seed": house.seed,
        "title": f"{task.title[:1].upper()}{task.title[1:]}",
        "story": task.brief,
        "minutes": task.minutes,
        "parts": [{"name": part.name, "kind": type(part).__name__} for part in house.installation.parts if part.terminals],
        "wires": [wire.name for wire in house.installation.conductors],
        "roles": list(ROLES),
        "zones": [{"id": zone, "words": zone.replace("zone", "zone ")} for zone in house.zones],
        "leads": [
            {
                "valve": name,
                "words": f"Which lead of {part_words(name)} is which?",
                "leads": list(leads_found(valves[name], house.seed)),
                "names": sorted(valves[name].LEADS[valves[name].leads]),
            }
            for name in asked
        ],
        "tidy": [{"id": id, "words": words} for id, words in TIDY.items()],
        "tie": {"words": TIE.words, "choices": list(TIE.choices)},
        "fault": fault_words(injected(task, task.found, house.seed)),
    }


def _seen(house: House, *, narrow: bool) -> dict[str, object]:
    """What is seen of a house now, with its drawing and its words."""
    drawn, state = house.drawn()
    names = house.points()
    readings = house.readings()
    return {
        "view": {
            "clock": state.time,
            "note": house.note,
            "points": list(names),
            "lifted": list(state.lifted),
            "calls": {part.name: state.of(part.name).calling for part in drawn.parts if isinstance(part, Stat)},
            "supplies": {part.name: state.of(part.name).on for part in drawn.parts if isinstance(part, Transformer | Boiler)},
            "valves": [part.name for part in drawn.parts if isinstance(part, Valve)],
            "log": [{"act": dict(line.act), "clock": line.clock, "text": line.text, "misuse": line.misuse} for line in house.log],
            "predicted": None if house.predicted is None else list(house.predicted),
            "closed": house.handed_in,
        },
        "drawing": wires(drawn, state=state, values={wire.name: wire.name for wire in drawn.conductors}, narrow=narrow),
        "drawing_words": wires_words(drawn),
        "conductors": [
            {
                "name": wire.name,
                "ends": f"{point_words(wire.a)} to {point_words(wire.b)}",
                "signs": ", ".join((wire.colour, f"labelled {wire.label}" if wire.label else "no label", f"{wire.gauge} AWG")),
                "readings": readings[wire.name],
            }
            for wire in drawn.conductors
        ],
        "point_words": {name: point_words(name) for name in names},
        "part_words": {part.name: part_words(part.name) for part in drawn.parts},
    }


ASKS: Mapping[str, Callable[[object, Mapping[str, object]], dict[str, object]]] = {
    "house": _entered,
    "house act": _acted,
    "house answers": _said,
    "house hand in": _handed_in,
    "house marks": _marked,
    "house sheet": _kept,
}
"""What a screen may ask of its houses as found."""
