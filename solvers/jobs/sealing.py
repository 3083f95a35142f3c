"""Sealing a job: its story, its drawing and a tape of what its house shows, as a file that holds no fault."""

from __future__ import annotations

import json
from array import array
from collections.abc import Callable, Mapping, Sequence

from ..plant.written import data_of
from .declared import declared
from .graded import NotSealable
from .job import Job
from .metered import metered
from .rows import packed, squeezed
from .sealed import FORMAT, LARGEST
from .tape import Edge, Node, outcome_out
from .taping import Taping, taped
from .world import Outcome, places

__all__ = ["sealed"]


def sealed(job: Job, *, name: str, learner: str = "") -> bytes:
    """The file that a learner gets, by the public name that its sheet will bear in the place of a seed.

    The suspects go by numbers. Raises NotSealable for a job that no tape can hold, or whose tape is too large to send.
    """
    rules = declared(job)
    tape = taped(job, rules)
    circuits = metered(tape.circuits)
    body = {
        "format": FORMAT,
        "job": {"chapter": job.chapter, "level": job.level, "seed": name},
        "learner": learner,
        "title": job.title,
        "story": job.story,
        "zone": job.zone,
        "rooms": dict(job.rooms),
        "drawing": job.drawing,
        "suspects": [suspect.words for suspect in job.suspects],
        "repairs": [[dict(act) for act in series] for series in rules.series],
        "design": data_of(job.design),
        "tape": squeezed(_json(_told(tape, circuits.place))),
        "sense_rows": packed([array("H", row) for row in tape.sense_rows]),
        "rows": packed(circuits.rows),
        "lead_rows": {str(count): packed(rows) for count, rows in sorted(circuits.lead_rows.items()) if count},
    }
    data = _json(body)
    if len(data) > LARGEST:
        raise NotSealable(f"a sealed job of {len(data)} bytes; at most {LARGEST} are sent")
    return data


def _told(tape: Taping, place: Sequence[tuple[int, int, int]]) -> dict[str, object]:
    """The tape as data, everything that comes twice written once."""
    outcomes, words, errors, edges = _Numbered(outcome_out), _Numbered(str), _Numbered(str), _Numbered(list)

    def edge(one: Edge | str) -> list[object]:
        if isinstance(one, str):
            return [errors.number(one)]
        heard = [[at, words.number(text), int(telling)] for at, text, telling in one.heard]
        moments = [[moment.after, moment.circuit, moment.senses] for moment in one.moments]
        shown = [outcomes.number(outcome) for outcome in one.outcomes]
        return [edges.number((shown, one.lasts, one.rests, heard, moments)), one.node]

    def node(one: Node) -> list[object]:
        line, stop = [outcomes.number(outcome) for outcome in one.line], outcomes.number(one.stop)
        calls, supplies = [int(on) for on in one.calls], [int(on) for on in one.supplies]
        return [one.circuit, one.senses, list(one.repaired), calls, supplies, [list(stray) for stray in one.strays], line, stop]

    nodes = [node(one) for one in tape.nodes]
    after = [[[act, *edge(one)] for act, one in each.items()] for each in tape.edges]
    return {
        "points": list(places(tape.circuits[0])),
        "senses": [[sense.text, sense.signal] for sense in tape.senses],
        "circuits": [list(one) for one in place],
        "acts": [dict(act) for act in tape.acts],
        "nodes": nodes,
        "after": after,
        "edges": edges.told,
        "outcomes": outcomes.told,
        "words": words.told,
        "errors": errors.told,
    }


class _Numbered:
    """Things told once, and a number for each."""

    def __init__(self, out: Callable[[object], object]) -> None:
        self.told: list[object] = []
        self._out = out
        self._known: dict[str, int] = {}

    def number(self, thing: Outcome | str | tuple) -> int:
        told = self._out(thing)
        key = json.dumps(told)
        if key not in self._known:
            self._known[key] = len(self.told)
            self.told.append(told)
        return self._known[key]


def _json(data: Mapping[str, object]) -> bytes:
    return json.dumps(data, ensure_ascii=False, allow_nan=False, separators=(",", ":")).encode()
