"""The bench: a job being worked, act by act, with its log. JSON in, JSON out."""

from __future__ import annotations

import math
from collections.abc import Mapping

from ..plant.parts import Part, Valve
from .admitting import admitting
from .handling import TRADES
from .house import House, LiveHouse
from .job import Job, JobError
from .metering import LINE_READINGS
from .repairing import sizes
from .sheet import LONGEST_TEXT, MOST_ENTRIES, MOST_PROOF, MOST_SUSPECTS, Entry, Sheet, Verdict
from .world import World

__all__ = ["Bench", "entry"]


class Bench:
    """One job on the bench. Holds the only mutable state of a job: the house as it is now, and the log."""

    def __init__(self, job: Job, learner: str = "", house: House | None = None) -> None:
        self.job = job
        self.learner = learner
        self.house: House = LiveHouse(job) if house is None else house
        self.log: list[Entry] = []
        self.verdict: Verdict | None = None
        self.note = ""  # what a good technician would notice about the last reading
        self.shown: list[str] = []  # what looks have shown that nobody drew

    @property
    def world(self) -> World:
        """The world as it is, where the house is a live one."""
        return self.house.world

    def step(self, act: object) -> dict[str, object]:
        """Do one act and return the view; a refused act raises JobError (or what the plant says) and changes nothing.

        Besides the acts of `acts.ACTS` there is the verdict: {"do": "verdict", "suspects", "proof", "explanation",
        "customer"}; it closes the job.
        """
        if self.verdict is not None:
            raise JobError("this job is closed: its verdict has been given")
        if isinstance(act, Mapping) and act.get("do") == "verdict":
            self.verdict = _verdict(self.job, act, self.log)
            return self.view()
        if len(self.log) >= MOST_ENTRIES:
            raise JobError(f"the log is full: {MOST_ENTRIES} acts are more than any job needs")
        self._check_seen(act)
        for done in self.house.done(act):
            self.log.append(entry(done.act, done.clock, done.outcome))
            self.note = "" if done.outcome.reading is None else done.outcome.reading.note
        self._see(act)
        return self.view()

    def sheet(self, thinking_s: float = 0.0) -> Sheet:
        """The sheet as it stands."""
        job = self.job
        return Sheet(self.learner, job.chapter, job.level, job.seed, tuple(self.log), self.verdict, thinking_s)

    def brief(self) -> dict[str, object]:
        """What a screen needs once: the story, the choices, the parts. Nothing in it tells the fault."""
        job, design = self.job, self.job.design
        return {
            "id": job.id,
            "chapter": job.chapter,
            "level": job.level,
            "seed": job.seed,
            "title": job.title,
            "story": job.story,
            "drawing": job.drawing,
            "rooms": dict(job.rooms),
            "suspects": [{"id": suspect.id, "words": suspect.words} for suspect in job.suspects],
            "parts": [_part(part) for part in design.parts if not part.hidden],
            "wires": [wire.name for wire in design.conductors],
            "cables": sorted({wire.cable for wire in design.conductors if wire.cable}),
            "terminals": list(design.terminals),
            "line_readings": list(LINE_READINGS),
            "trades": list(TRADES),
            "repairs": self.repairs(),
        }

    def repairs(self) -> list[dict[str, object]] | None:
        """The repairs that the job lists, where it lists any: then there are no others."""
        rules = self.house.rules
        return None if rules is None else [dict(act) for act in rules.repairs]

    def view(self) -> dict[str, object]:
        """What a learner sees now, as JSON data. Nothing in it tells the fault."""
        stands = self.house.stands()
        last = self.log[-1] if self.log else None
        return {
            "clock": stands.clock,
            "shows": None if last is None else _shown(last),
            "note": self.note,
            "points": list(stands.points),
            "lifted": list(stands.lifted),
            "jumpers": [list(pair) for pair in stands.jumpers],
            "seen": [{"name": name, "words": words} for name, words, _ in stands.strays if name in self.shown],
            "uncovered": list(stands.uncovered),
            "stopped": stands.stopped,
            "referred": stands.referred,
            "calls": dict(stands.calls),
            "supplies": dict(stands.supplies),
            "valves": [part.name for part in self.job.design.parts if isinstance(part, Valve)],
            "log": [_shown(line) for line in self.log],
            "closed": self.verdict is not None,
        }

    def _check_seen(self, act: object) -> None:
        """Only what a look has shown can be taken off; raises JobError with what that is."""
        if isinstance(act, Mapping) and act.get("do") == "take off" and act.get("what") not in self.shown:
            raise JobError(f"no look has shown {act.get('what')!r}; looks have shown {self.shown}")

    def _see(self, act: Mapping[str, object]) -> None:
        if act["do"] == "look":
            there = [name for name, _, seen_at in self.house.stands().strays if seen_at == act["part"]]
            self.shown += [name for name in there if name not in self.shown]


def entry(act: object, clock: float, outcome: object) -> Entry:
    """A log line from an act and its outcome."""
    reading = outcome.reading
    return Entry(
        act=dict(act),
        clock=round(clock, 3),
        text=outcome.text,
        value=None if reading is None else reading.value,
        step=0.0 if reading is None else reading.step,
        signal=outcome.signal,
        events=tuple((round(time, 3), words) for time, words in outcome.events),
        misuse=outcome.misuse,
    )


def _shown(line: Entry) -> dict[str, object]:
    value = "OL" if line.value == math.inf else line.value
    return {"act": dict(line.act), "clock": line.clock, "text": line.text, "value": value, "misuse": line.misuse}


def _part(part: Part) -> dict[str, object]:
    """A part as a screen needs it: its kind, the acts it admits, its settings, and the sizes it comes in."""
    return {
        "name": part.name,
        "kind": type(part).__name__,
        "wired": bool(part.terminals),
        "acts": list(admitting(part)),
        "settings": {what: list(values) for what, values in part.settings().items()},
        "sizes": list(sizes(part)),
    }


def _verdict(job: Job, act: Mapping[str, object], log: list[Entry]) -> Verdict:
    unknown = sorted(set(act) - {"do", "suspects", "proof", "explanation", "customer"})
    if unknown:
        raise JobError(f"a verdict takes suspects, proof, explanation and customer; unknown {unknown}")
    named = act.get("suspects")
    if not isinstance(named, list | tuple) or not 1 <= len(named) <= MOST_SUSPECTS:
        raise JobError(f"suspects is {named!r}; give the ids of one or of {MOST_SUSPECTS}")
    suspects = tuple(job.suspect(id).id for id in named)
    if len(set(suspects)) < len(suspects):
        raise JobError(f"suspects is {named!r}; name each only once")
    proof = act.get("proof", [])
    if not isinstance(proof, list | tuple) or len(proof) > MOST_PROOF:
        raise JobError(f"proof is {proof!r}; give the numbers of at most {MOST_PROOF} log lines")
    for line in proof:
        if isinstance(line, bool) or not isinstance(line, int) or not 0 <= line < len(log):
            raise JobError(f"proof names log line {line!r}; there are {len(log)} lines, counted from 0")
    if len(set(proof)) < len(proof):
        raise JobError(f"proof is {proof!r}; name each log line only once")
    words = {slot: act.get(slot, "") for slot in ("explanation", "customer")}
    for slot, text in words.items():
        if not isinstance(text, str) or len(text) > LONGEST_TEXT:
            raise JobError(f"{slot} must be text of at most {LONGEST_TEXT} characters")
    return Verdict(suspects, tuple(proof), **words)
