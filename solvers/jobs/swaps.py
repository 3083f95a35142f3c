"""New parts and cables in a log: which of them replaced something good, and which were fitted before anything was read."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from ..plant.loose import LooseJoint
from ..plant.parts import Fuse, Splice
from ..plant.strays import Stray
from ..plant.wiring import Installation
from .evidence import Case
from .job import Job
from .sheet import Entry
from .survey import cost_of
from .treating import series_of
from .working import Worked

__all__ = ["Swap", "swaps", "wasted"]


@dataclass(frozen=True, slots=True)
class Swap:
    """One new part or cable."""

    line: int  # of the log
    name: str
    good: bool  # what it replaced was as it should be, and no repair of this job asks for it
    tested: bool  # something had been read at it, or the readings had left one cause
    cheap: bool  # a connector or a fuse


def wasted(job: Job, done: Worked) -> tuple[int, ...]:
    """The lines at which something good was replaced: a new one cures nothing, it was not spoilt, and no repair asks for it."""
    asked = {
        act.get("part", act.get("cable"))
        for slot in range(len(job.faults))
        for series in series_of(job, slot)
        for act in series
        if act["do"] in ("fit", "fit size", "new cable")
    }
    return tuple(line for line, name in done.fitted if name not in asked and line not in done.for_cause and _sound(job, name))


def swaps(job: Job, done: Worked, standing: Sequence[Mapping[str, Case]], fruitless: Collection[int]) -> tuple[Swap, ...]:
    """Every new part or cable of a log, in order; `fruitless` are the lines of those that replaced something good."""
    found = []
    for line, name in done.fitted:
        read = any(_reads(job.design, one, name) for one in done.entries[:line])
        left = min(sum(case.falls >= line for case in known.values()) for known in standing)
        part = next((part for part in job.design.parts if part.name == name), None)
        found.append(Swap(line, name, line in fruitless, read or left == 1, isinstance(part, Splice | Fuse)))
    return tuple(found)


def _sound(job: Job, name: str) -> bool:
    """Whether a new part or cable would change nothing: it is there as drawn, or what is wrong with it stays with the place."""
    design, actual = job.design, job.actual
    if any(isinstance(part, Stray) and part.belongs == name for part in actual.parts):
        return False
    wires = {wire.name: wire for wire in actual.conductors}
    drawn = [wire for wire in design.conductors if wire.cable == name]
    if drawn:
        return all(wires.get(wire.name) == wire for wire in drawn)
    part = design.part(name)
    if any(isinstance(one, LooseJoint) and one.terminal in part.terminals for one in actual.parts):
        return False
    return actual.part(name).refitted(part) == actual.part(name)


def _reads(design: Installation, line: Entry, name: str) -> bool:
    """Whether a line is a reading at a part or cable: a sense on it, a probe on a terminal, the clamp on a wire of it."""
    act = line.act
    if not cost_of(act["do"]) or act["do"] == "wait":
        return False
    if act["do"] == "clamp":
        near = [wire for wire in design.conductors if act["wire"] in (wire.name, wire.cable)]
        return any(wire.cable == name or name in (_owner(wire.a), _owner(wire.b)) for wire in near)
    if act["do"] == "measure":
        ends = {wire.cable for point in (act["first"], act["second"]) for wire in design.landed(point.removesuffix(" lead"))}
        return name in ends or name in {_owner(act["first"]), _owner(act["second"])}
    return name in (act.get("part"), act.get("valve"))


def _owner(terminal: str) -> str:
    return terminal.removesuffix(" lead").rpartition(".")[0]
