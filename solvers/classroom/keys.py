"""The key of an assignment: what the instructor knows of each learner's lab. It lies in `keys/` and nowhere else."""

from __future__ import annotations

import json
import random
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path

from ..chapters.drawing import candidate
from ..chapters.quiz import asked, kinds
from ..chapters.shelf import ENDLESS
from ..jobs.job import Job, JobError
from ..jobs.questions import Question
from ..jobs.strict import fields, listed, shortened, text_of, whole_json
from ..jobs.wireup import WireUp
from ..jobs.wiring_task import task_named
from .errors import ClassroomError, NoSuchAssignment, NotEnrolled
from .files import contents
from .labs import KINDS, LabPlan
from .seeds import learner_id, seed_of, wiring_draw

__all__ = [
    "FORMAT",
    "BadKey",
    "Held",
    "Key",
    "draw_held",
    "job_held",
    "key_of",
    "key_path",
    "keys_of",
    "kinds_asked",
    "parsed",
    "questions_held",
    "task_held",
    "written",
]

FORMAT = "call-for-heat key 1"
LARGEST = 20_000_000  # bytes
MOST_LEARNERS = 5_000
_ENDING = ".key.json"


class BadKey(ClassroomError, JobError):
    """A key that cannot be read; the message says where and what was expected."""


@dataclass(frozen=True, slots=True)
class Held:
    """What the instructor knows of one learner's lab."""

    seed: str  # secret
    attempt: int = 0  # which draw from it; of a job, of chapters.drawing.candidate
    kept: tuple[str, ...] = ()  # of a job: ids of the suspects offered
    difficulty: float = 0.0  # index
    digest: str = ""  # sha256 of the lab file that was handed out


@dataclass(frozen=True, slots=True)
class Key:
    """An assignment as it was made."""

    assignment: str
    kind: str  # one of labs.KINDS
    chapter: str
    level: int
    title: str
    due: str = ""  # ISO time, or ""
    task: str = ""  # of a wire-up: its id, or "drawn:3"
    count: int = 0  # of questions
    held: Mapping[str, Held] = field(default_factory=dict)  # by learner id

    @property
    def plan(self) -> LabPlan:
        """What it was made by."""
        return LabPlan(self.assignment, self.kind, self.chapter, self.level, self.title, self.due, self.task, self.count)

    def of(self, learner: str) -> Held:
        """What is held of one learner; raises NotEnrolled with those there are, or BadLearner."""
        name = learner_id(learner)
        if name not in self.held:
            raise NotEnrolled(f"{name!r} has no lab in {self.assignment}; those who have one: {', '.join(self.held) or 'nobody'}")
        return self.held[name]


def key_path(course: Path, assignment: str) -> Path:
    """Where the key of an assignment lies."""
    return Path(course) / "keys" / f"{assignment}{_ENDING}"


def keys_of(course: Path) -> tuple[str, ...]:
    """The assignments that have a key, in order."""
    found = (Path(course) / "keys").glob(f"*{_ENDING}")
    return tuple(sorted(path.name.removesuffix(_ENDING) for path in found if not path.name.startswith(".")))


def key_of(course: Path, assignment: str) -> Key:
    """The key of an assignment; raises NoSuchAssignment with the names there are, BadKey for one that is damaged."""
    names = keys_of(course)
    if assignment not in names:
        there = ", ".join(names) or "none yet: make one with labs new"
        raise NoSuchAssignment(f"no assignment {assignment!r}; there are {there}")
    path = key_path(course, assignment)
    try:
        key = parsed(contents(path, LARGEST))
    except BadKey as problem:
        raise BadKey(f"{path.name}: {problem}; put back your copy") from None
    if key.assignment != assignment:
        raise BadKey(f"{path.name} is the key of {key.assignment!r}; give it back its own name")
    return key


def job_held(key: Key, learner: str) -> Job:
    """The job of one learner, under its public name, without a proof; raises NotEnrolled, and BadKey where it draws no more.

    A package that draws another job than the one that made the key cannot mark it.
    """
    _check_kind(key, "job")
    held = key.of(learner)
    job = candidate(ENDLESS[key.chapter].PLAN, held.seed, key.level, held.attempt)
    offered = () if job is None else tuple(suspect for suspect in job.suspects if suspect.id in held.kept)
    if not offered or len(offered) < len(held.kept):
        raise BadKey(f"the job of {learner} in {key.assignment} is not what its key says; grade with the version that made it")
    return replace(job, seed=seed_of(key.assignment, learner), suspects=offered, difficulty=held.difficulty)


def questions_held(key: Key, learner: str) -> tuple[Question, ...]:
    """The questions of one learner with their answers, in order; raises NotEnrolled."""
    _check_kind(key, "questions")
    held = key.of(learner)
    return _asked(key.chapter, key.assignment, key.count, key.level, f"{held.seed}/{held.attempt}")


@lru_cache(maxsize=64)
def _asked(chapter: str, assignment: str, count: int, level: int, begins: str) -> tuple[Question, ...]:
    chosen = kinds_asked(chapter, assignment, count)
    return tuple(asked(chapter, kind, f"{begins}/{number}", level) for number, kind in enumerate(chosen, 1))


def task_held(key: Key, learner: str) -> WireUp:
    """The wire-up of one learner; raises NotEnrolled."""
    return task_named(key.task, draw_held(key, learner))


def draw_held(key: Key, learner: str) -> str:
    """The seed of a wire-up's sizes, leads and fault put in, as the learner's file shows it; raises NotEnrolled."""
    _check_kind(key, "wire-up")
    held = key.of(learner)
    return wiring_draw(held.seed, held.attempt)


def kinds_asked(chapter: str, assignment: str, count: int) -> tuple[str, ...]:
    """The kinds of question that everybody is asked in one assignment, in the chapter's order; none twice while others wait."""
    every = kinds(chapter)
    left, stream = [], random.Random(f"{chapter}/{assignment}/kinds")
    while len(left) < count:
        left += stream.sample(every, len(every))
    return tuple(sorted(left[:count], key=every.index))


def written(key: Key) -> str:
    """The key as JSON text, readable by `parsed`."""
    body = {
        "format": FORMAT,
        "assignment": key.assignment,
        "kind": key.kind,
        "chapter": key.chapter,
        "level": key.level,
        "title": key.title,
        "due": key.due,
        "task": key.task,
        "count": key.count,
        "held": {
            learner: {
                "seed": held.seed,
                "attempt": held.attempt,
                "kept": list(held.kept),
                "difficulty": held.difficulty,
                "digest": held.digest,
            }
            for learner, held in key.held.items()
        },
    }
    return json.dumps(body, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def parsed(text: str | bytes) -> Key:
    """A key read from JSON text; raises BadKey with the path of the first field that is not as it must be."""
    body = whole_json(text, "key", LARGEST, BadKey)
    names = {"format", "assignment", "kind", "chapter", "level", "title", "due", "task", "count", "held"}
    fields(body, "key", names, BadKey)
    if body["format"] != FORMAT:
        raise BadKey(f"format is {shortened(body['format'])}; this program reads {FORMAT!r}")
    for name, choices in (("kind", KINDS), ("chapter", tuple(ENDLESS))):
        if body[name] not in choices:
            raise BadKey(f"{name} is {shortened(body[name])}; there are {', '.join(choices)}")
    if body["level"] not in ENDLESS[body["chapter"]].LEVELS:
        raise BadKey(f"level is {shortened(body['level'])}; there are {list(ENDLESS[body['chapter']].LEVELS)}")
    held = body["held"]
    if not isinstance(held, dict) or len(held) > MOST_LEARNERS:
        raise BadKey(f"held must be an object of at most {MOST_LEARNERS} learners; got {shortened(held)}")
    words = {name: text_of(body[name], name, 200, BadKey) for name in ("assignment", "title", "due", "task")}
    return Key(
        kind=body["kind"],
        chapter=body["chapter"],
        level=_whole(body["level"], "level"),
        count=_whole(body["count"], "count"),
        held={learner_id(learner): _held(one, f"held[{learner!r}]") for learner, one in held.items()},
        **words,
    )


def _held(body: object, path: str) -> Held:
    fields(body, path, {"seed", "attempt", "kept", "difficulty", "digest"}, BadKey)
    seed = text_of(body["seed"], f"{path}.seed", 64, BadKey)
    if len(seed) != 64 or set(seed) - set("0123456789abcdef"):
        raise BadKey(f"{path}.seed is no seed; it has 64 hexadecimal figures")
    difficulty = body["difficulty"]
    if isinstance(difficulty, bool) or not isinstance(difficulty, int | float) or not 0 <= difficulty < 100:
        raise BadKey(f"{path}.difficulty is {shortened(difficulty)}; give an index from 0 to 100")
    kept = listed(body["kept"], f"{path}.kept", 40, BadKey)
    return Held(
        seed=seed,
        attempt=_whole(body["attempt"], f"{path}.attempt"),
        kept=tuple(text_of(one, f"{path}.kept[{at}]", 200, BadKey) for at, one in enumerate(kept)),
        difficulty=float(difficulty),
        digest=text_of(body["digest"], f"{path}.digest", 64, BadKey),
    )


def _whole(value: object, path: str) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= 10**6:
        raise BadKey(f"{path} must be a whole number from 0 to a million; got {shortened(value)}")
    return value


def _check_kind(key: Key, kind: str) -> None:
    if key.kind != kind:
        raise ClassroomError(f"{key.assignment} is of kind {key.kind!r}, not {kind!r}")
