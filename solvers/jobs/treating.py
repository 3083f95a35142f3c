"""Whether a fault is gone: what it changed is as it was meant to be, or a repair of its row has been done and has lasted."""

from __future__ import annotations

from collections.abc import Mapping

from ..faults.fault import Row
from ..plant.wiring import Installation
from .job import Job
from .working import REPAIRS, Worked
from .world import World

__all__ = ["ended", "row_of", "series_of", "treated"]

_BY_STATE = ("switch", "opener", "reset", "call")
"""Repairs that change no part, so that only the state tells of them."""

Act = Mapping[str, object]


def treated(job: Job, done: Worked, slot: int) -> bool:
    """Whether one of the job's faults is gone at the end, or in the hands of those whose work it is."""
    row = row_of(job, slot)
    if row.refer and row.refer == done.world.referred:
        return True
    if not row.repairs:
        return not row.refer
    return bool(done.entries) and _gone(job, done, slot, len(done.entries) - 1)


def ended(job: Job, done: Worked, slot: int) -> int | None:
    """The first line after which a fault was gone for good by the learner's hand; None where none was."""
    if not row_of(job, slot).repairs or not done.entries or not _gone(job, done, slot, len(done.entries) - 1):
        return None
    acts = [number for number, line in enumerate(done.entries) if line.act["do"] in (*REPAIRS, *_BY_STATE)]
    found = None
    for line in reversed(acts):
        if not _gone(job, done, slot, line):
            break
        found = line
    return found


def row_of(job: Job, slot: int) -> Row:
    """The row of one of the job's faults."""
    return next(row for row in job.suspect(job.answers[slot]).rows if row.id == job.faults[slot].row)


def series_of(job: Job, slot: int) -> tuple[tuple[Act, ...], ...]:
    """The series of acts any of which ends one of the job's faults."""
    return job.repairs_of(row_of(job, slot), job.faults[slot])


def _gone(job: Job, done: Worked, slot: int, line: int) -> bool:
    """Whether the fault is gone after this line."""
    meant, planted = job.given(slot), job.actual
    changed = _changed(meant, planted)
    if changed and all(thing == _thing(meant, name) for name, thing in _things(done.worlds[line].installation, changed)):
        return True
    return any(_lasted(series, done, changed, line) for series in series_of(job, slot))


def _lasted(series: tuple[Act, ...], done: Worked, changed: frozenset[str], line: int) -> bool:
    """Whether a series of acts has been done by this line, and nothing has undone it since."""
    if not series:
        return False
    last = -1
    for act in series:
        if act["do"] in _BY_STATE:
            if not _stands(act, done.worlds[line]):
                return False
            continue
        acts = [number for number in range(line + 1) if done.entries[number].act == dict(act)]
        if not acts:
            return False
        last = max(last, acts[0])
    return last < 0 or _things(done.worlds[last].installation, changed) == _things(done.worlds[line].installation, changed)


def _stands(act: Act, world: World) -> bool:
    """Whether things are as a movement of the hand leaves them."""
    name = next(str(value) for key, value in act.items() if key in ("part", "valve", "stat"))
    state = world.state.of(name)
    match act["do"]:
        case "switch":
            return state.on == act["on"]
        case "opener":
            return state.engaged == act["engaged"]
        case "call":
            return state.calling == act["on"]
        case _:
            return not state.tripped


def _changed(meant: Installation, planted: Installation) -> frozenset[str]:
    """The names of parts and conductors in which two installations differ."""
    names = {one.name for there in (meant, planted) for one in (*there.parts, *there.conductors)}
    return frozenset(name for name in names if _thing(meant, name) != _thing(planted, name))


def _things(there: Installation, names: frozenset[str]) -> list[tuple[str, object]]:
    return [(name, _thing(there, name)) for name in sorted(names)]


def _thing(there: Installation, name: str) -> tuple[object, ...]:
    """What goes by a name: a part and a conductor may share one."""
    return tuple(one for one in (*there.parts, *there.conductors) if one.name == name)
