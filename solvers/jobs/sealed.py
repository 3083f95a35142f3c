"""A sealed job as its learner has it: read strictly from a file, and worked on the same bench as any other."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ..plant.wiring import Installation, WiringError
from ..plant.written import installation_of
from .bench import Bench, entry
from .declared import Declared, declared_for
from .job import Job, JobError
from .rows import Rows, unpacked, unsqueezed
from .sheet import Entry, Sheet
from .strict import fields, listed, text_of, whole_json
from .tape import Edge, Moment, Node, Tape, outcome_in, slots_of, wires_of
from .taped_house import TapedHouse
from .working import replays

__all__ = ["FORMAT", "LARGEST", "BadSealed", "Choice", "SealedBench", "SealedJob", "named", "opened", "unlike"]

FORMAT = "call-for-heat sealed job 1"
LARGEST = 500_000  # bytes
LARGEST_TAPE = 30_000_000  # characters, unpacked
MOST_NUMBERS = 60_000_000  # in rows


class BadSealed(JobError):
    """A sealed job that cannot be read; the message says where and what was expected."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One of the causes that a learner can claim."""

    id: str  # its number in the list
    words: str


@dataclass(frozen=True, slots=True)
class SealedJob:
    """What a sealed file tells: everything of a job but its fault."""

    chapter: str
    level: int
    seed: str  # the public name
    learner: str
    title: str
    story: str
    zone: str
    rooms: Mapping[str, str]
    drawing: str
    suspects: tuple[Choice, ...]
    design: Installation
    rules: Declared
    tape: Tape

    @property
    def id(self) -> str:
        """What a sheet names the job by."""
        return f"{self.chapter}/{self.level}/{self.seed}"

    def suspect(self, id: str) -> Choice:
        """The suspect of that number; raises JobError with the numbers there are."""
        for one in self.suspects:
            if one.id == id:
                return one
        raise JobError(f"no suspect {id!r}; there are {[one.id for one in self.suspects]}")


class SealedBench(Bench):
    """The bench on a sealed job. What it refuses, and what it waits for by itself, is what the graded bench does."""

    def __init__(self, job: SealedJob, learner: str = "") -> None:
        super().__init__(job, learner or job.learner, TapedHouse(job.design, job.rules, job.tape))


def opened(data: bytes | str) -> SealedJob:
    """The sealed job that a file's content holds; raises BadSealed with the path of the first thing that is not as it must be."""
    body = whole_json(data, "sealed job", LARGEST, BadSealed)
    top = ("job", "learner", "title", "story", "zone", "rooms", "drawing", "suspects", "repairs", "design", "tape")
    fields(body, "sealed job", ("format", *top, "sense_rows", "rows", "lead_rows"), BadSealed)
    if body["format"] != FORMAT:
        raise BadSealed(f"format is {body['format']!r}; this program reads {FORMAT!r}")
    job, rooms = body["job"], body["rooms"]
    fields(job, "job", ("chapter", "level", "seed"), BadSealed)
    if not isinstance(rooms, dict):
        raise BadSealed(f"rooms must be an object; got {rooms!r}")
    try:
        design = installation_of(body["design"])
        series = tuple(tuple(dict(act) for act in acts) for acts in listed(body["repairs"], "repairs", 200, BadSealed))
        rules = declared_for(design, series)
        tape = _tape(body, design)
    except BadSealed:
        raise
    except (WiringError, JobError) as problem:
        raise BadSealed(str(problem)) from None
    except (ValueError, TypeError, KeyError, IndexError, AttributeError, StopIteration) as problem:
        raise BadSealed(f"the sealed job is damaged ({type(problem).__name__}: {problem})") from None
    words = listed(body["suspects"], "suspects", 100, BadSealed)
    text = {name: text_of(body[name], name, 4_000, BadSealed) for name in ("learner", "title", "story", "zone", "drawing")}
    return SealedJob(
        chapter=text_of(job["chapter"], "job.chapter", 100, BadSealed),
        level=job["level"],
        seed=text_of(job["seed"], "job.seed", 200, BadSealed),
        rooms={str(zone): str(room) for zone, room in rooms.items()},
        suspects=tuple(Choice(str(at), text_of(one, f"suspects[{at - 1}]", 500, BadSealed)) for at, one in enumerate(words, 1)),
        design=design,
        rules=rules,
        tape=tape,
        **text,
    )


def named(sheet: Sheet, job: Job) -> Sheet:
    """A sheet of a sealed job with the ids of the job's suspects in the place of their numbers; raises JobError."""
    if sheet.verdict is None:
        return sheet
    known = {str(at): suspect.id for at, suspect in enumerate(job.suspects, 1)}
    for one in sheet.verdict.suspects:
        if one not in known:
            raise JobError(f"no suspect {one!r}; there are {list(known)}")
    return replace(sheet, verdict=replace(sheet.verdict, suspects=tuple(known[one] for one in sheet.verdict.suspects)))


def unlike(job: SealedJob, log: Sequence[Entry]) -> tuple[str, ...]:
    """Where a log is not what this file shows: a sentence on the first such line; nothing for a log that replays."""
    bench, at = SealedBench(job), 0
    while at < len(log):
        try:
            done = bench.house.done(log[at].act)
        except ValueError as problem:
            return (f"Log line {at + 1} cannot be done in this job ({problem}).",)
        for one in done:
            shown = entry(one.act, one.clock, one.outcome)
            if at >= len(log) or log[at].act != shown.act:
                return (f"Log line {at + 1} is not what follows line {at} on this bench.",)
            if not replays(shown, log[at]):
                return (f"Log line {at + 1} says {log[at].text!r} where this job shows {shown.text!r}.",)
            at += 1
    return ()


def _tape(body: Mapping[str, object], design: Installation) -> Tape:
    told = json.loads(unsqueezed(body["tape"], "tape", LARGEST_TAPE))
    check = lambda data, path: fields(data, path, ("width", "after", "low", "high"), BadSealed)  # noqa: E731
    outcomes = [outcome_in(one) for one in told["outcomes"]]
    edges = [_edge(one, outcomes, told["words"]) for one in told["edges"]]
    errors = told["errors"]
    after = tuple(
        {act: replace(edges[rest[0]], node=rest[1]) if len(rest) == 2 else errors[rest[0]] for act, *rest in each}
        for each in told["after"]
    )
    rows = {name: unpacked(body[name], name, MOST_NUMBERS, check) for name in ("sense_rows", "rows")}
    leads = {int(count): unpacked(one, f"lead_rows.{count}", MOST_NUMBERS, check) for count, one in body["lead_rows"].items()}
    tape = Tape(
        points=tuple(told["points"]),
        senses=tuple((text, signal) for text, signal in told["senses"]),
        sense_rows=rows["sense_rows"],
        circuits=tuple((row, count, lead) for row, count, lead in told["circuits"]),
        rows=rows["rows"],
        lead_rows=leads,
        acts=tuple(told["acts"]),
        nodes=tuple(_node(one, outcomes) for one in told["nodes"]),
        edges=after,
    )
    _check(tape, design)
    return tape


def _edge(data: list, outcomes: Sequence, words: Sequence[str]) -> Edge:
    shown, lasts, rests, heard, moments = data
    return Edge(
        tuple(outcomes[one] for one in shown),
        float(lasts),
        float(rests),
        tuple((float(at), words[text], bool(telling)) for at, text, telling in heard),
        tuple(Moment(float(at), circuit, senses) for at, circuit, senses in moments),
        0,
    )


def _node(data: list, outcomes: Sequence) -> Node:
    circuit, senses, repaired, calls, supplies, strays, line, stop = data
    return Node(
        circuit,
        senses,
        tuple(repaired),
        tuple(map(bool, calls)),
        tuple(map(bool, supplies)),
        tuple((name, words, at) for name, words, at in strays),
        tuple(outcomes[one] for one in line),
        outcomes[stop],
    )


def _check(tape: Tape, design: Installation) -> None:
    """Prove that whatever points somewhere points at something; raises BadSealed."""
    points, wires = len(tape.points), len(wires_of(design))
    for wrong, words in (
        (tape.rows.width != 3 * (points * (points - 1) // 2) + wires, "a row of readings has another width than its points"),
        (tape.sense_rows.width != len(slots_of(design)), "a row of senses has another width than the drawing's parts"),
        (len(tape.nodes) != len(tape.edges) or not tape.nodes, "there is not one list of acts for every state"),
        (not all(_sound(one, tape) for one in tape.circuits), "a circuit has a row that is not there"),
        (not all(_there(node.circuit, node.senses, tape) for node in tape.nodes), "a state shows something that is not there"),
    ):
        if wrong:
            raise BadSealed(f"tape: {words}")
    for each in tape.edges:
        for act, edge in each.items():
            if not 0 <= act < len(tape.acts):
                raise BadSealed(f"tape: no act {act!r}; there are {len(tape.acts)}")
            if isinstance(edge, str):
                continue
            there = edge.moments and all(_there(moment.circuit, moment.senses, tape) for moment in edge.moments)
            if not there or not 0 <= edge.node < len(tape.nodes):
                raise BadSealed("tape: an act leads to something that is not there")


def _sound(circuit: tuple[int, int, int], tape: Tape) -> bool:
    row, leads, lead_row = circuit
    more = tape.lead_rows.get(leads, Rows(0, b"", b"", ()))
    return 0 <= row < len(tape.rows) and (not leads or 0 <= lead_row < len(more))


def _there(circuit: int, senses: int, tape: Tape) -> bool:
    return 0 <= circuit < len(tape.circuits) and 0 <= senses < len(tape.sense_rows)
