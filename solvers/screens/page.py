"""The bench behind a screen: one JSON request in, one JSON response out; the same for the page and the notebook."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping

from ..chapters.shelf import CHAPTERS, drawn, job_of
from ..jobs.bench import Bench
from ..jobs.job import JobError
from ..jobs.marking import mark
from ..jobs.sheet import parsed, written
from ..pictures.cutaway import cutaway, cutaway_words
from ..pictures.ladder import ladder
from ..pictures.words import ladder_words, part_words, point_words
from ..plant.electrics import electrics
from ..plant.parts import HeatMotorValve
from .table import ASKS, Tables

__all__ = ["Desk", "handle"]

HEATING_AMPS = 0.05  # more than strays and leaks, far less than any heater


class Desk:
    """The jobs and wiring tables that one screen has open. Requests name one by the number that opening it gave.

    A graded desk shows no valve from inside and gives no marks: those come from the instructor.
    """

    def __init__(self, *, graded: bool = False) -> None:
        self.graded = graded
        self.tables = Tables()
        self._open: dict[int, Bench] = {}
        self._next = 1

    def handle(self, request: str) -> str:
        """Answer one request; what cannot be done comes back as {"error": a sentence}, never as an exception."""
        try:
            asked = json.loads(request)
            if not isinstance(asked, dict) or asked.get("ask") not in _ASKS:
                raise JobError(f"no request {asked!r}; a screen may ask for {sorted(_ASKS)}")
            answer = _ASKS[asked["ask"]](self, asked)
        except (ValueError, KeyError, TypeError) as problem:
            answer = {"error": str(problem)}
        return json.dumps(answer, allow_nan=False)

    def bench(self, asked: Mapping[str, object]) -> Bench:
        """The open job that a request names; raises JobError."""
        number = asked.get("number")
        if number not in self._open:
            raise JobError(f"no open job {number!r}; there are {sorted(self._open)}")
        return self._open[number]

    def admitted(self, bench: Bench) -> int:
        """The number under which a job is open from now on. A screen keeps few open at a time."""
        number, self._next = self._next, self._next + 1
        self._open[number] = bench
        for old in sorted(self._open)[:-4]:
            del self._open[old]
        return number


def _opened(desk: Desk, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "open", "chapter", "level", "seed", "learner"}: a new job."""
    job = drawn(asked["chapter"], asked["seed"], asked.get("level", 1))
    return _first(desk, Bench(job, str(asked.get("learner", ""))))


def _resumed(desk: Desk, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "resume", "sheet": text}: a saved sheet, worked through again up to where it stands."""
    sheet = parsed(asked["sheet"])
    bench = Bench(job_of(sheet), sheet.learner)
    for line in sheet.log:
        bench.step(line.act)
    if sheet.verdict is not None:
        claim = sheet.verdict
        bench.step(
            {
                "do": "verdict",
                "suspect": claim.suspect,
                "proof": list(claim.proof),
                "explanation": claim.explanation,
                "customer": claim.customer,
            }
        )
    return _first(desk, bench)


def _first(desk: Desk, bench: Bench) -> dict[str, object]:
    design = bench.job.design
    names = list(bench.view()["points"])
    return {
        "number": desk.admitted(bench),
        "job": bench.brief(),
        "view": bench.view(),
        "ladder": ladder(design),
        "ladder_words": ladder_words(design),
        "point_words": {name: point_words(name) for name in names},
        "part_words": {part.name: part_words(part.name) for part in design.parts},
    }


def _stepped(desk: Desk, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "act", "number", "act"}: one act on an open job."""
    bench = desk.bench(asked)
    view = bench.step(asked["act"])
    answer = {"view": view, "point_words": {name: point_words(name) for name in view["points"]}}
    if bench.log and not view["closed"] and bench.log[-1].act["do"] == "call":
        answer["ladder"] = ladder(bench.job.design, state=bench.world.state)  # calling stats are drawn closed
    return answer


def _inside(desk: Desk, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "inside", "number"}: the valves cut open as they are now; for practice, and after the verdict."""
    bench = desk.bench(asked)
    if desk.graded:
        raise JobError("graded work does not look inside a valve")
    world, found = bench.world, []
    amps = electrics(world.installation, world.state.parts, world.state.lifted).amps
    for valve in _valves(bench):
        state, wax = world.state.of(valve.name), world.state.values[f"{valve.name}.wax"]
        # Amperes heat, volts do not: an open heater has the whole source across it and stays cold.
        heating = amps[f"{valve.name}.heater"] > HEATING_AMPS
        found.append(
            {
                "part": valve.name,
                "svg": cutaway(valve, state, wax, heating=heating),
                "words": cutaway_words(valve, state, wax, heating=heating),
            }
        )
    return {"valves": found}


def _marked(desk: Desk, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "marks", "number"}: marks with reasons, once the verdict has been given."""
    bench = desk.bench(asked)
    if desk.graded:
        raise JobError("marks for graded work come from your instructor")
    if bench.verdict is None:
        raise JobError("marks come with the verdict; this job is still open")
    marks = mark(bench.job, bench.sheet())
    return {
        "points": marks.points,
        "readings": marks.readings,
        "par": marks.par,
        "right": marks.right,
        "argued": marks.argued,
        "answer": bench.job.suspect(bench.job.answer).words,
        "lines": [
            {"criterion": line.criterion, "points": line.points, "out_of": line.out_of, "reasons": list(line.reasons)}
            for line in marks.lines
        ],
        "flags": list(marks.flags),
    }


def _sheet(desk: Desk, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "sheet", "number", "learner", "thinking_s"}: the sheet's text, to keep or to hand in."""
    bench = desk.bench(asked)
    bench.learner = str(asked.get("learner", bench.learner))
    return {"sheet": written(bench.sheet(float(asked.get("thinking_s", 0.0))))}


def _chapters(desk: Desk, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "chapters"}: what there is to practise."""
    return {"chapters": {name: list(module.LEVELS) for name, module in CHAPTERS.items()}}


def _valves(bench: Bench) -> list[HeatMotorValve]:
    return [part for part in bench.world.installation.parts if isinstance(part, HeatMotorValve)]


_ASKS: Mapping[str, Callable[[Desk, Mapping[str, object]], dict[str, object]]] = {
    "act": _stepped,
    "chapters": _chapters,
    "inside": _inside,
    "marks": _marked,
    "open": _opened,
    "resume": _resumed,
    "sheet": _sheet,
    **ASKS,
}

_DESK = Desk()


def handle(request: str) -> str:
    """The page's one entry: answers on a desk that lives as long as the worker does."""
    return _DESK.handle(request)
