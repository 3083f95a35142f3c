"""One learner's wire-up as a file to hand out, and the sheet that comes back: the wiring, the answers, what it cost.

Nothing in the task tells a wiring that works. What is drawn for the learner (sizes, the order of unmarked leads, the fault
that is put in at the end) follows from `draw`, which stands in the file because the learner's own table is built from it.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field

from . import wiring_answer
from .job import JobError
from .strict import fields, listed, shortened, text_of, whole_json
from .wireup import WireUp
from .wireups import IDS, wire_up
from .wiring_answer import BadWiring, Wiring
from .wiring_draws import MOST_ZONES, drawn
from .wiring_kept import BadKept, Kept, kept_of

__all__ = [
    "FORMAT",
    "LARGEST",
    "SHEET_FORMAT",
    "BadWireUp",
    "WireUpSheet",
    "WiringTask",
    "opened",
    "sheet_parsed",
    "sheet_written",
    "task_named",
    "written",
]

FORMAT = "call-for-heat wire-up 1"
SHEET_FORMAT = "call-for-heat wire-up sheet 1"
LARGEST = 300_000  # bytes
LONGEST_TEXT = 4_000  # characters
MOST_PREDICTED = 12  # zones


class BadWireUp(JobError):
    """A task or a sheet of one that cannot be read; the message says where and what was expected."""


@dataclass(frozen=True, slots=True)
class WiringTask:
    """One learner's wire-up."""

    learner: str
    seed: str  # the public name
    chapter: str
    task: str  # an id of wireups.IDS, or "drawn:3" for one drawn with so many zones
    draw: str  # the seed of sizes, of the order of leads, of the fault that is put in

    @property
    def made(self) -> WireUp:
        """The parts on the bench and what they have to do."""
        return task_named(self.task, self.draw)


@dataclass(frozen=True, slots=True)
class WireUpSheet:
    """What a learner hands in: the wiring, and about the fault that is put into it at the end zones, volts or nothing."""

    learner: str
    seed: str
    wiring: Wiring
    kept: Kept = field(default_factory=Kept)
    prediction: tuple[str, ...] | float | None = None
    thinking_s: float = 0.0  # time at the screen
    explanation: str = ""

    @property
    def answers(self) -> dict[str, object]:
        """All answers as `wiring_marks.marked` takes them."""
        return {**self.kept.answers, "prediction": self.prediction}


def task_named(task: str, draw: str = "") -> WireUp:
    """The wire-up of an id, or one drawn for "drawn:3"; raises BadWireUp with the choices.

    >>> task_named("W7").title
    'three three-wire valves on one common'
    """
    if task in IDS:
        return wire_up(task)
    kind, _, zones = task.partition(":") if isinstance(task, str) else ("", "", "")
    if kind != "drawn" or zones not in map(str, range(1, MOST_ZONES + 1)):
        raise BadWireUp(f"no wire-up {shortened(task)}; there are {', '.join(IDS)} and drawn:1 to drawn:{MOST_ZONES}")
    return drawn(draw, int(zones))


def written(task: WiringTask) -> str:
    """The task as JSON text, readable by `opened` and by a person: its title and brief stand in it too."""
    made = task.made
    body = {
        "format": FORMAT,
        "learner": task.learner,
        "seed": task.seed,
        "chapter": task.chapter,
        "task": task.task,
        "draw": task.draw,
        "title": made.title,
        "brief": made.brief,
        "minutes": made.minutes,
    }
    return json.dumps(body, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def opened(text: str | bytes) -> WiringTask:
    """A task read from JSON text; raises BadWireUp with the path of the first field that is not as it must be."""
    body = whole_json(text, "wire-up", LARGEST, BadWireUp)
    names = {"format", "learner", "seed", "chapter", "task", "draw", "title", "brief", "minutes"}
    fields(body, "wire-up", names, BadWireUp)
    if body["format"] != FORMAT:
        raise BadWireUp(f"format is {shortened(body['format'])}; this program reads {FORMAT!r}")
    words = {name: text_of(body[name], name, 200, BadWireUp) for name in ("learner", "seed", "chapter", "task", "draw")}
    task = WiringTask(**words)
    made = task.made
    for name in ("title", "brief", "minutes"):
        if body[name] != getattr(made, name):
            raise BadWireUp(f"{name} is {shortened(body[name])}; the wire-up {task.task} has {shortened(getattr(made, name))}")
    return task


def sheet_written(sheet: WireUpSheet) -> str:
    """The sheet as JSON text, readable by a person and by `sheet_parsed`."""
    kept = sheet.kept
    body = {
        "format": SHEET_FORMAT,
        "learner": sheet.learner,
        "seed": sheet.seed,
        "wiring": json.loads(wiring_answer.written(sheet.wiring)),
        "kept": {"seed": kept.seed, "spent": kept.spent, "stands": kept.stands, "answers": dict(kept.answers)},
        "prediction": list(sheet.prediction) if isinstance(sheet.prediction, tuple) else sheet.prediction,
        "thinking_s": sheet.thinking_s,
        "explanation": sheet.explanation,
    }
    return json.dumps(body, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def sheet_parsed(text: str | bytes, task: WireUp) -> WireUpSheet:
    """A sheet of this task read from JSON text; raises BadWireUp with the path of the first field that is not as it must be.

    Whether its wires go anywhere is seen when it is marked: `task.made(sheet.wiring)` raises BadWiring.
    """
    body = whole_json(text, "sheet", LARGEST, BadWireUp)
    names = {"format", "learner", "seed", "wiring", "kept", "prediction", "thinking_s", "explanation"}
    fields(body, "sheet", names, BadWireUp)
    if body["format"] != SHEET_FORMAT:
        raise BadWireUp(f"format is {shortened(body['format'])}; this program reads {SHEET_FORMAT!r}")
    try:
        wiring = wiring_answer.parsed(json.dumps(body["wiring"]))
        kept = kept_of(body["kept"], [question.id for question in task.questions])
    except (BadWiring, BadKept) as problem:
        raise BadWireUp(str(problem)) from None
    return WireUpSheet(
        learner=text_of(body["learner"], "learner", 200, BadWireUp),
        seed=text_of(body["seed"], "seed", 200, BadWireUp),
        wiring=wiring,
        kept=kept,
        prediction=_prediction(body["prediction"]),
        thinking_s=_number(body["thinking_s"], "thinking_s"),
        explanation=text_of(body["explanation"], "explanation", LONGEST_TEXT, BadWireUp),
    )


def _prediction(value: object) -> tuple[str, ...] | float | None:
    if isinstance(value, list):
        named = listed(value, "prediction", MOST_PREDICTED, BadWireUp)
        return tuple(text_of(one, f"prediction[{at}]", 60, BadWireUp) for at, one in enumerate(named))
    return None if value is None else _number(value, "prediction")


def _number(value: object, path: str) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < 1e12:
        raise BadWireUp(f"{path} must be a number; got {shortened(value)}")
    return value
