"""The bench behind a screen: one JSON request in, one JSON response out; the same for the page and the notebook."""

from __future__ import annotations

import json
import re
import secrets
import time
from collections.abc import Callable, Mapping

from ..chapters.drawing import Level
from ..chapters.proven import practice
from ..chapters.shelf import CHAPTERS, drawn, job_of
from ..jobs.behaviour import Progress
from ..jobs.bench import Bench
from ..jobs.job import JobError
from ..jobs.marking import mark
from ..jobs.objectives import OBJECTIVES
from ..jobs.sheet import parsed, written
from ..pictures.cutaway import SECTIONS, cutaway, cutaway_words
from ..pictures.ladder import ladder
from ..pictures.wires import wires, wires_words
from ..pictures.words import ladder_words
from ..plant.electrics import electrics
from ..plant.naming import cable_words, part_words, point_words, spoken, wire_words
from ..plant.parts import HeatedValve
from .exploring import ASKS as LIVE_ASKS
from .found import ASKS as HOUSE_ASKS
from .found import Houses
from .table import ASKS, LONG_ASKS, Tables

__all__ = ["LAB_ASKS", "Desk", "handle", "laid_out"]

LAB_ASKS = ("lab", "lab resume", "questions sheet", "table question", "table sheet")
"""What `labs` answers, which is imported once the first of them is asked."""

TOLD_EVERY_S = 0.25
HEATING_AMPS = 0.05  # more than strays and leaks, far less than any heater


class Desk:
    """The jobs, wiring tables and houses that one screen has open. Requests name one by the number that opening it gave.

    A graded desk gives no marks for a house as found: those come from the instructor.
    """

    def __init__(self, *, graded: bool = False) -> None:
        self.graded = graded
        self.narrow = False  # whether the screen that asked last is a narrow one
        self.tables = Tables()
        self.houses = Houses()
        self._open: dict[int, Bench] = {}
        self._next = 1

    def handle(self, request: str, progress: Progress | None = None) -> str:
        """Answer one request; what cannot be done comes back as {"error": a sentence}, never as an exception.

        What takes long tells `progress` how much is done, and of how much: a few times a second and at its end, and not
        at all if it is over before that.
        """
        try:
            asked = json.loads(request)
            name = asked.get("ask") if isinstance(asked, dict) else None
            self.narrow = isinstance(asked, dict) and asked.pop("narrow", False) is True
            if name in LONG_ASKS:
                answer = LONG_ASKS[name](self, asked, _seldom(progress))
            elif name in _ASKS:
                answer = _ASKS[name](self, asked)
            elif name in LAB_ASKS:
                answer = _of_lab(self, asked)
            else:
                raise JobError(f"no request {asked!r}; a screen may ask for {sorted([*_ASKS, *LAB_ASKS, *LONG_ASKS])}")
        except KeyError as problem:
            answer = {"error": f"this request lacks {problem}"}
        except (ValueError, TypeError) as problem:
            answer = {"error": str(problem)}
        except Exception as problem:  # a learner gets a sentence whatever breaks, and the job stands as it was
            answer = {"error": f"something unexpected happened, and nothing was changed ({type(problem).__name__}: {problem})"}
        return json.dumps(answer, allow_nan=False)

    def bench(self, asked: Mapping[str, object]) -> Bench:
        """The open job that a request names; raises JobError."""
        number = asked.get("number")
        if number not in self._open:
            raise JobError(f"no open job {number!r}; there are {sorted(self._open)}")
        return self._open[number]

    def works_on(self, job: str) -> bool:
        """Whether the job of that id is open here."""
        return any(bench.job.id == job for bench in self._open.values())

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
    return laid_out(desk, Bench(job, str(asked.get("learner", ""))))


def _practised(desk: Desk, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "practice", "chapter", "level", "learner"}: a job by chance, one shown to be solvable where there are such."""
    chapter, level = asked["chapter"], asked.get("level", 1)
    known = practice(chapter, level) if isinstance(chapter, str) and isinstance(level, int) else ()
    fixed = getattr(CHAPTERS.get(chapter), "SEEDS", ()) if isinstance(chapter, str) else ()
    seeds = [seed for seed in known or fixed if not desk.works_on(f"{chapter}/{level}/{seed}")]
    seed = secrets.choice(seeds) if seeds else f"practice-{secrets.token_hex(5)}"
    return _opened(desk, {**asked, "seed": seed})


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
                "suspects": list(claim.suspects),
                "proof": list(claim.proof),
                "explanation": claim.explanation,
                "customer": claim.customer,
            }
        )
    return laid_out(desk, bench)


def laid_out(desk: Desk, bench: Bench) -> dict[str, object]:
    """A job from now on open on a desk, with everything that a screen needs once."""
    design, view = bench.job.design, bench.view()
    cables = {wire.cable for wire in design.conductors if wire.cable}
    return {
        "number": desk.admitted(bench),
        "job": bench.brief(),
        "view": view,
        "drawing": _picture(bench, narrow=desk.narrow),
        "drawing_words": wires_words(design) if bench.job.drawing == "wires" else ladder_words(design),
        "point_words": {name: point_words(name) for name in (*design.terminals, *view["points"])},
        "part_words": {part.name: part_words(part.name) for part in design.parts},
        "wire_words": {wire.name: {"words": wire_words(wire.name), "a": wire.a, "b": wire.b} for wire in design.conductors},
        "cable_words": {cable: cable_words(cable) for cable in sorted(cables)},
    }


def _stepped(desk: Desk, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "act", "number", "act"}: one act on an open job."""
    bench = desk.bench(asked)
    before = bench.house.stands().outside
    try:
        view = bench.step(asked["act"])
    except ValueError as problem:
        raise JobError(_plainly(bench, str(problem))) from None
    answer = {"view": view, "point_words": {name: point_words(name) for name in view["points"]}}
    if bench.house.stands().outside != before:
        answer["drawing"] = _picture(bench, narrow=desk.narrow)
    return answer


def _plainly(bench: Bench, refusal: str) -> str:
    """A refusal as a technician would say it, its lists without brackets."""
    plain = re.sub(r"\bzone(?=\d)", "zone ", spoken(bench.job.design)(refusal))
    return re.sub(r"\[(.*?)\]", lambda found: found[1].replace("'", ""), plain)


def _picture(bench: Bench, *, narrow: bool) -> str:
    """What the learner has been given: the ladder, or the wires as found and no ladder. Either shows calls and lifted leads."""
    if bench.job.drawing == "wires":
        return wires(bench.job.design, state=bench.house.stands().outside, narrow=narrow)
    return ladder(bench.job.design, state=bench.house.stands().outside)


def _inside(desk: Desk, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "inside", "number"}: the valves cut open as they are now; for practice, and after the verdict."""
    bench = desk.bench(asked)
    if bench.repairs() is not None:
        raise JobError("graded work does not look inside a valve")
    world, found = bench.world, []
    amps = electrics(world.installation, world.state.parts, world.state.lifted).amps
    for valve in (part for part in world.installation.parts if isinstance(part, SECTIONS)):
        state, wax, heating = world.state.of(valve.name), 0.0, False
        if isinstance(valve, HeatedValve):
            wax = world.state.values[f"{valve.name}.wax"]
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
    if bench.repairs() is not None:
        raise JobError("marks for graded work come from your instructor")
    if bench.verdict is None:
        raise JobError("marks come with the verdict; this job is still open")
    marks, plain = mark(bench.job, bench.sheet()), spoken(bench.job.design)
    return {
        "points": marks.points,
        "readings": marks.readings,
        "par": marks.par,
        "right": marks.right,
        "argued": marks.argued,
        "answers": [bench.job.suspect(answer).words for answer in bench.job.answers],
        "feedback": [plain(words) for words in marks.feedback],
        "objectives": [{"number": number, "words": OBJECTIVES[number]} for number in marks.objectives],
        "lines": [
            {
                "criterion": line.criterion,
                "points": line.points,
                "out_of": line.out_of,
                "reasons": [plain(words) for words in line.reasons],
            }
            for line in marks.lines
        ],
        "flags": [plain(words) for words in marks.flags],
        "gates": [plain(words) for words in marks.gates],
        "cap": marks.cap,
        "callback": {"risk": marks.closing.risk, "grade": marks.closing.grade},
    }


def _sheet(desk: Desk, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "sheet", "number", "learner", "thinking_s"}: the sheet's text, to keep or to hand in."""
    bench = desk.bench(asked)
    bench.learner = str(asked.get("learner", bench.learner))
    return {"sheet": written(bench.sheet(float(asked.get("thinking_s", 0.0))))}


def _of_lab(desk: Desk, asked: Mapping[str, object]) -> dict[str, object]:
    from .labs import ASKS as OF_LABS  # a first start does without

    return OF_LABS[asked["ask"]](desk, asked)


def _chapters(desk: Desk, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "chapters"}: what there is to practise, and each chapter's levels in words."""
    return {
        "chapters": {name: list(module.LEVELS) for name, module in CHAPTERS.items()},
        "words": {name: {str(n): _level(rules) for n, rules in module.PLAN.levels.items()} for name, module in CHAPTERS.items()},
    }


def _level(rules: Level) -> str:
    drawing = "the wires as found" if rules.drawing == "wires" else "the ladder drawing"
    faults = ("nothing wrong", "one fault", "two faults")
    _, two, none = rules.faults
    found = [words for words, there in zip(faults, (none, True, two), strict=True) if there]
    return f"{drawing}; {' or '.join(found)}" + ("; some come and go" if rules.intermittent else "")


_ASKS: Mapping[str, Callable[[Desk, Mapping[str, object]], dict[str, object]]] = {
    "act": _stepped,
    "chapters": _chapters,
    "inside": _inside,
    "marks": _marked,
    "open": _opened,
    "practice": _practised,
    "resume": _resumed,
    "sheet": _sheet,
    **ASKS,
    **HOUSE_ASKS,
    **LIVE_ASKS,
}

_DESK = Desk()


def handle(request: str, progress: Progress | None = None) -> str:
    """The page's one entry: answers on a desk that lives as long as the worker does."""
    return _DESK.handle(request, progress)


def _seldom(progress: Progress | None) -> Progress:
    """The same progress told no more often than a screen can use, the end always once it has been told at all."""
    begun = told = time.monotonic()

    def tell(done: int, total: int) -> None:
        nonlocal told
        now = time.monotonic()
        if progress and (now - told >= TOLD_EVERY_S or (done == total and told > begun)):
            told = now
            progress(done, total)

    return tell
