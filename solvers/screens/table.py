"""The wiring table behind a screen: a learner's wiring tried out with the clock and handed in. JSON in, JSON out."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace

from ..jobs.acts import WITHOUT_TOOLS, World, acted, checked
from ..jobs.behaviour import Progress, judged_as, poses
from ..jobs.bench import entry
from ..jobs.findings import Finding, said
from ..jobs.injected import Injected, injected
from ..jobs.job import JobError
from ..jobs.sheet import MOST_ENTRIES, Entry
from ..jobs.wireups import WireUp, wire_up
from ..jobs.wiring_answer import FEWEST_WAYS, MOST_WAYS, Wiring, parsed, written
from ..jobs.wiring_kept import Kept, answered, kept_of
from ..jobs.wiring_marks import marked
from ..jobs.wiring_questions import Choice, Leads, Question, Reading, lead_ohms, leads_found
from ..pictures.elements import bare
from ..pictures.wires import wires, wires_words
from ..plant.electrics import electrics
from ..plant.naming import part_words, point_words
from ..plant.parts import Boiler, Breaker, Fuse, Splice, Stat, Transformer, Valve
from ..plant.running import PlantState, at_rest, points, switched, waited
from ..plant.wiring import Installation

__all__ = ["ASKS", "LONG_ASKS", "Table", "Tables", "predicting"]

MOST_OPEN = 8  # tables a screen

A_CURRENT = 0.01  # A; less than this is what a meter and the strays draw


class Table:
    """One wire-up being worked. Holds the only mutable state: what is joined, the world that this makes, the log."""

    def __init__(self, task: WireUp, wiring: Wiring, kept: Kept = Kept(), *, graded: bool = False) -> None:
        self.task = task
        self.graded = graded  # then nothing is judged here
        self.wiring = wiring
        self.kept = kept
        self.log: list[Entry] = []
        self.findings: tuple[Finding, ...] = ()  # of the last hand-in
        self.note = ""
        installation = task.made(wiring)
        state = at_rest(installation)
        for name in _supplies(installation):
            state = switched(installation, state, name, False)
        self.world = World(installation, installation, state)

    @property
    def powered(self) -> bool:
        """Whether any supply is on."""
        state = self.world.state
        return any(state.of(name).on for name in _supplies(self.world.installation))

    @property
    def seed(self) -> str:
        """Of what is drawn for one learner: the order of unmarked leads, the fault that is put in."""
        return self.kept.seed

    @property
    def asked(self) -> tuple[str, ...]:
        """The ids of what is asked before power."""
        return tuple(question.id for question in self.task.questions)

    def answered(self, answers: object) -> None:
        """Take answers to what is asked before power; raises BadKept, also for a change after the wiring has been run."""
        self.kept = answered(self.kept, answers, self.asked)

    def run(self) -> None:
        """From here on the answers before power stand."""
        self.kept = replace(self.kept, stands=True)

    def rewired(self, wiring: Wiring) -> None:
        """Join the parts differently; each stays as it is, warm, calling or blown. Raises JobError while power is on."""
        if self.powered:
            raise JobError("the power is on; switch it off before you move a wire")
        installation = self.task.made(wiring)
        before, fresh = self.world.state, at_rest(installation)
        kept = {name: state for name, state in before.parts.items() if name in fresh.parts}
        values = {name: value for name, value in before.values.items() if name in fresh.values}
        state = PlantState(before.time, {**fresh.parts, **kept}, {**fresh.values, **values})
        state, _ = waited(installation, state, 0.0)
        self.world, self.wiring, self.findings = World(installation, installation, state), wiring, ()

    def step(self, act: object) -> None:
        """Do one act of `acts.ACTS`, or {"do": "power", "on"} for every supply at once; raises JobError."""
        if len(self.log) >= MOST_ENTRIES:
            raise JobError(f"the log is full: {MOST_ENTRIES} acts are more than any wire-up needs")
        before = self.world
        if isinstance(act, Mapping) and act.get("do") == "power":
            world, outcome = _all_switched(before, act)
        else:
            world, outcome = acted(before, checked(act, WITHOUT_TOOLS))
        opened = _opened(world) - _opened(before)
        told = [f"The {part_words(name)} has opened." for name in sorted(opened)]
        blown = sum(isinstance(world.installation.part(name), Fuse) for name in opened)
        self.kept = replace(self.kept, spent=self.kept.spent + blown)
        self.world = world
        if self.powered:
            self.run()
        line = entry(act, world.state.time, outcome)
        self.log.append(replace(line, text=" ".join([line.text, *told])))
        self.note = "" if outcome.reading is None else outcome.reading.note

    def lit(self) -> tuple[str, ...]:
        """The branches that carry current now."""
        here, state = self.world.installation, self.world.state
        amps = electrics(here, state.parts, state.lifted).amps
        return tuple(name for name, current in amps.items() if current >= A_CURRENT)

    def at_finding(self, finding: Finding, *, narrow: bool = False) -> dict[str, object]:
        """What lies on the table, drawn at the moment of a finding with its current path lit."""
        there = judged_as(self.task.made(self.wiring))
        drawing = wires(there, state=poses(there, finding.calls).state, lit=finding.path, narrow=narrow)
        return {**self.laid(narrow=narrow), "drawing": drawing}

    def brief(self) -> dict[str, object]:
        """What a screen needs once. Nothing in it tells how to join anything."""
        task = self.task
        return {
            "id": task.id,
            "title": task.title[0].upper() + task.title[1:],
            "story": task.brief,
            "minutes": task.minutes,
            "gauges": list(task.gauges),
            "ways": list(range(FEWEST_WAYS, MOST_WAYS + 1)),
            "questions": [_asked(question, task, self.seed) for question in task.questions],
        }

    def view(self) -> dict[str, object]:
        """What lies on the table and what it shows now, as JSON data."""
        here, state = self.world.installation, self.world.state
        return {
            "clock": state.time,
            "powered": self.powered,
            "spent": self.kept.spent,
            "stands": self.kept.stands,
            "answers": dict(self.kept.answers),
            "note": self.note,
            "points": list(points(here, state)),
            "lifted": list(state.lifted),
            "calls": {part.name: state.of(part.name).calling for part in here.parts if isinstance(part, Stat)},
            "supplies": {name: state.of(name).on for name in _supplies(here)},
            "valves": [part.name for part in here.parts if isinstance(part, Valve)],
            "opened": sorted(_opened(self.world)),
            "chattering": list(state.chattering),
            "log": [{"act": dict(line.act), "clock": line.clock, "text": line.text, "misuse": line.misuse} for line in self.log],
        }

    def laid(self, lit: tuple[str, ...] = (), *, narrow: bool = False) -> dict[str, object]:
        """The drawing, its words, and everything on the table by name."""
        here, state = self.world.installation, self.world.state
        bodies = {end for part in here.parts if not isinstance(part, Transformer) for end in bare(part)}
        return {
            "wiring": written(self.wiring),
            "drawing": wires(here, state=state, lit=lit, narrow=narrow),
            "drawing_words": wires_words(here),
            "parts": [{"name": part.name, "kind": type(part).__name__} for part in here.parts if part.terminals],
            "wires": [wire.name for wire in here.conductors],
            "terminals": [
                {"name": terminal, "holds": part.holds(terminal)}
                for part in here.parts
                for terminal in part.terminals
                if terminal not in bodies
            ],
            "point_words": _words(here, points(here, state)),
            "part_words": {part.name: part_words(part.name) for part in here.parts},
        }


def _asked(question: Question, task: WireUp, seed: str) -> dict[str, object]:
    """A question as a screen shows it; the answer is not in it."""
    if isinstance(question, Leads):
        valve = next(part for part in task.parts if part.name == question.valve)
        return {
            "id": question.id,
            "kind": "leads",
            "words": f"{part_words(valve.name).capitalize()} comes with unmarked leads. Which is which?",
            "leads": sorted(leads_found(valve, seed)),
            "names": list(valve.LEADS[valve.leads]),
            "switched": valve.switch_pair is not None,
        }
    if isinstance(question, Choice):
        return {"id": question.id, "kind": "choice", "words": question.words, "choices": list(question.choices)}
    return {"id": question.id, "kind": "number", "words": question.words, "unit": "V" if isinstance(question, Reading) else "ohm"}


def _supplies(installation: Installation) -> tuple[str, ...]:
    return tuple(part.name for part in installation.parts if isinstance(part, Transformer | Boiler))


def _all_switched(world: World, act: Mapping[str, object]) -> tuple[World, object]:
    on = act.get("on")
    if not isinstance(on, bool) or set(act) != {"do", "on"}:
        raise JobError(f"act 'power' takes 'on', true or false; got {dict(act)!r}")
    for name in _supplies(world.installation):
        world, outcome = acted(world, {"do": "switch", "part": name, "on": on})
    return world, replace(outcome, text="The power is on." if on else "The power is off.")


def _opened(world: World) -> set[str]:
    """Fuses and breakers that have opened."""
    state = world.state
    blown = {part.name for part in world.installation.parts if isinstance(part, Fuse) and state.of(part.name).blown}
    tripped = {part.name for part in world.installation.parts if isinstance(part, Breaker) and state.of(part.name).tripped}
    return blown | tripped


def _words(installation: Installation, names: tuple[str, ...]) -> dict[str, str]:
    """Every place for a probe as a technician would say it; the ways of a splice from the bag by their numbers."""
    ways = {end for part in installation.parts if isinstance(part, Splice) for end in part.terminals}
    return {name: said(name) if name in ways else point_words(name) for name in names}


def _laid(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "table", "task", "wiring": text or null, "kept": what `wiring_kept` reads}: parts and bag, laid out."""
    task, text = wire_up(asked["task"]), asked.get("wiring")
    wiring = (task.found or Wiring()) if text is None else parsed(text)
    table = Table(task, wiring, kept_of(asked.get("kept"), [question.id for question in task.questions]))
    return {"number": desk.tables.admitted(table), "task": table.brief(), "view": table.view(), **table.laid(narrow=desk.narrow)}


def _rewired(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "table wiring", "number", "wiring": text}: everything joined as the text says, in place of how it was."""
    table = desk.tables.table(asked)
    table.rewired(parsed(asked["wiring"]))
    return {"view": table.view(), **table.laid(narrow=desk.narrow)}


def _acted(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "table act", "number", "act", "light"}: one act; with `light` the current path is drawn lit."""
    table = desk.tables.table(asked)
    table.step(asked["act"])
    return {"view": table.view(), **table.laid(table.lit() if asked.get("light") is True else (), narrow=desk.narrow)}


def _lighted(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "table light", "number", "light"}: the drawing with the current path of this moment lit, or not.

    With {"finding": number} in place of "light" it shows the moment of a finding of the last hand-in, its path lit.
    """
    table = desk.tables.table(asked)
    if "finding" not in asked:
        return table.laid(table.lit() if asked.get("light") is True else (), narrow=desk.narrow)
    number = asked["finding"]
    if not isinstance(number, int) or not 0 <= number < len(table.findings):
        raise JobError(f"no finding {number!r}; the last hand-in had {len(table.findings)}. Hand the wiring in again")
    return table.at_finding(table.findings[number], narrow=desk.narrow)


def _leads(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "table leads", "number", "question", "first", "second", "made"}: ohms between two unmarked leads."""
    table = desk.tables.table(asked)
    there = {question.id: question for question in table.task.questions if isinstance(question, Leads)}
    if asked.get("question") not in there:
        raise JobError(f"no question about leads {asked.get('question')!r}; there are {list(there)}")
    valve = next(part for part in table.task.parts if part.name == there[asked["question"]].valve)
    for end in (asked["first"], asked["second"]):
        if end not in leads_found(valve, table.seed):
            raise JobError(f"no lead {end!r}; there are {sorted(leads_found(valve, table.seed))}")
    ohms = lead_ohms(valve, table.seed, asked["first"], asked["second"], made=asked.get("made") is True)
    return {"text": "OL" if ohms == math.inf else f"{ohms:.1f} ohm"}


def _answered(desk: object, asked: Mapping[str, object]) -> dict[str, object]:
    """{"ask": "table answers", "number", "answers"}: answers to what is asked before power, taken until the wiring is run."""
    table = desk.tables.table(asked)
    table.answered(asked.get("answers"))
    return {"view": table.view()}


def _judged(desk: object, asked: Mapping[str, object], progress: Progress) -> dict[str, object]:
    """{"ask": "table hand in", "number", "prediction"}: what the wiring was found to do, and marks with reasons.

    Handing in runs the wiring: the answers before power stand from then on. A wiring that does what was asked is marked
    only once "prediction" has an answer; until then the question comes back. `progress` hears how far the run has come.
    """
    table, prediction = desk.tables.table(asked), asked.get("prediction")
    if table.graded:
        raise JobError("marks for graded work come from your instructor")
    table.run()
    answers = {**table.kept.answers, "prediction": prediction}
    marks = marked(table.task, table.wiring, answers, seed=table.seed, fuses_lost=table.kept.spent, progress=progress)
    judgement = marks.judgement
    table.findings = _told_once((*judgement.findings, *judgement.untidy))
    found = {
        "works": judgement.accepted,
        "right": [criterion.asks() for criterion in judgement.right],
        "findings": [{"words": each.words, "lit": bool(each.path), "severity": each.severity} for each in table.findings],
        "view": table.view(),
    }
    if judgement.accepted and prediction is None:
        return {**found, "prediction": predicting(injected(table.task, table.wiring, table.seed), table.task)}
    lines = [
        {"criterion": line.criterion, "points": line.points, "out_of": line.out_of, "reasons": list(line.reasons)}
        for line in marks.lines
    ]
    return {**found, "points": marks.points, "lines": lines}


def predicting(fault: Injected, task: WireUp) -> dict[str, object]:
    """The fault that is put in, as a question."""
    asked = {"id": "prediction", "words": fault.words}
    if fault.asks == "volts":
        return {**asked, "kind": "number", "unit": "V"}
    zones = [part.name.removesuffix(".stat") for part in task.parts if isinstance(part, Stat)]
    return {**asked, "kind": "zones", "zones": [{"id": zone, "words": zone.replace("zone", "zone ")} for zone in zones]}


def _told_once(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The findings without those that only follow from a mistake that an earlier one has told already."""
    told: list[str] = []
    kept = []
    for finding in findings:
        if not finding.mistake or finding.mistake not in told:
            kept.append(finding)
            told.append(finding.mistake)
    return tuple(kept)


class Tables:
    """The tables that one screen has open, by number."""

    def __init__(self) -> None:
        self._open: dict[int, Table] = {}
        self._next = 1

    def table(self, asked: Mapping[str, object]) -> Table:
        """The open table that a request names; raises JobError."""
        number = asked.get("number")
        if number not in self._open:
            raise JobError(f"no open table {number!r}; there are {sorted(self._open)}")
        return self._open[number]

    def admitted(self, table: Table) -> int:
        """The number under which a table is open from now on. A screen keeps few open at a time."""
        number, self._next = self._next, self._next + 1
        self._open[number] = table
        for old in sorted(self._open)[:-MOST_OPEN]:
            del self._open[old]
        return number


ASKS: Mapping[str, Callable[[object, Mapping[str, object]], dict[str, object]]] = {
    "table": _laid,
    "table act": _acted,
    "table answers": _answered,
    "table leads": _leads,
    "table light": _lighted,
    "table wiring": _rewired,
}
"""What a screen may ask of its tables."""

LONG_ASKS: Mapping[str, Callable[[object, Mapping[str, object], Progress], dict[str, object]]] = {"table hand in": _judged}
"""What takes long enough to say how far it has come."""
