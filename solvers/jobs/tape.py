"""A tape: the states in which a house rests, what each shows, and what every declared act leads to from there."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from ..circuit import Reading
from ..plant.parts import Valve
from ..plant.senses import SENSES
from ..plant.wiring import Installation
from .rows import Rows
from .world import Outcome

__all__ = ["Edge", "Moment", "Node", "Tape", "outcome_in", "outcome_out", "slots_of", "wires_of"]


@dataclass(frozen=True, slots=True)
class Moment:
    """What is there from a moment on: a circuit, and a row of senses."""

    after: float  # s since the act
    circuit: int
    senses: int


@dataclass(frozen=True, slots=True)
class Edge:
    """One act from one node: what it shows, what follows, and where it ends."""

    outcomes: tuple[Outcome, ...]  # of each act that it stands for
    lasts: float  # s that the act itself takes
    rests: float  # s after which the next act may begin
    heard: tuple[tuple[float, str, bool], ...]  # (s since the act, words, whether they may be held against a claim)
    moments: tuple[Moment, ...]  # the first of them at once
    node: int


@dataclass(frozen=True, slots=True)
class Node:
    """A state in which the house rests."""

    circuit: int
    senses: int
    repaired: tuple[str, ...]  # what has been repaired, as keys of acts
    calls: tuple[bool, ...]  # by stat
    supplies: tuple[bool, ...]
    strays: tuple[tuple[str, str, str], ...]  # (name, words, where a look shows it)
    line: tuple[Outcome, ...]  # by transformer and kind of line reading; none while something stands apart or calls
    stop: Outcome


@dataclass(frozen=True, slots=True)
class Tape:
    """Everything that a sealed job can show."""

    points: tuple[str, ...]  # that are always there
    senses: tuple[tuple[str, str], ...]  # (text, signal)
    sense_rows: Rows  # by slot
    circuits: tuple[tuple[int, int, int], ...]  # row, number of leads, row among those of so many
    rows: Rows  # volts, low-impedance volts and ohms of every pair of points, and amperes of every wire
    lead_rows: Mapping[int, Rows]  # the same of the pairs with a lifted lead, by number of leads
    acts: tuple[Mapping[str, object], ...]
    nodes: tuple[Node, ...]
    edges: tuple[Mapping[int, Edge | str], ...]  # by node: act -> edge, or why it cannot be done


def slots_of(design: Installation) -> tuple[tuple[str, str], ...]:
    """Each (sense, part) in the order in which a row of senses holds them."""
    slots = [(how, part.name) for part in design.parts for how in SENSES]
    return (*slots, *(("head off", part.name) for part in design.parts if isinstance(part, Valve)))


def wires_of(design: Installation) -> tuple[str, ...]:
    """What a clamp can be put round, in the order in which a row of readings holds them: wires, then cables."""
    cables = sorted({wire.cable for wire in design.conductors if wire.cable})
    return tuple(dict.fromkeys([*(wire.name for wire in design.conductors), *cables]))


def outcome_out(outcome: Outcome) -> list[object]:
    """An outcome as data that JSON can hold."""
    reading = outcome.reading
    told = None
    if reading is not None:
        value = "OL" if reading.value == math.inf else reading.value
        told = [reading.function, value, reading.step, reading.text, reading.note, reading.misuse]
    return [outcome.text, outcome.signal, outcome.misuse, [list(event) for event in outcome.events], told]


def outcome_in(data: list) -> Outcome:
    """The outcome that such data tells of; raises ValueError or TypeError for anything else."""
    text, signal, misuse, events, told = data
    reading = None
    if told is not None:
        function, value, step, shown, note, wrong = told
        reading = Reading(function, math.inf if value == "OL" else value, step, shown, note, wrong)
    return Outcome(text, reading, signal, tuple((float(time), str(words)) for time, words in events), misuse)
