"""A log gone through again on the real circuit: what each act truly showed, what it cost, and what was spoilt."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from dataclasses import dataclass

from ..plant.parts import FuseState, Valve
from .acts import acted, arrival
from .bench import entry
from .job import Job
from .sheet import Entry
from .survey import cost_of
from .world import World

__all__ = ["REPAIRS", "Worked", "replays", "worked"]

REPAIRS = frozenset(
    (
        "fit",
        "fit size",
        "new cable",
        "run wire",
        "move wire",
        "exchange",
        "remake",
        "take off",
        "set",
        "cells",
        "seat head",
        "free stem",
        "bleed",
        "service valve",
        "opener",
        "reset",
    )
)
"""Acts that change what is there, so that a zone must be proven again after them."""

HALF_SECOND = 0.5
"""As finely as a clock that shows seconds tells times apart."""

OPEN_SHARE = 0.9  # of full travel


@dataclass(frozen=True, slots=True)
class Worked:
    """A log replayed."""

    entries: tuple[Entry, ...]  # what each act really shows
    world: World  # as it was left
    counts: tuple[float, ...]  # what each line counts against par
    fuses_lost: int  # new fuses that opened again
    second_resets: int  # of a breaker that had been reset before
    fitted: tuple[tuple[int, str], ...]  # (line, part or cable)
    for_cause: frozenset[int]  # lines at which what was replaced had melted, burnt or opened
    worlds: tuple[World, ...]  # after each line
    repaired_at: int  # the last line that changed what is there; -1 for none
    proven: tuple[str, ...]  # zones seen to open their valve on a call after that


def worked(job: Job, log: Sequence[Entry]) -> tuple[Worked, tuple[str, ...]]:
    """Replay a log, and say in sentences where it does not replay. What follows an impossible act is left out."""
    world = arrival(job.design, job.actual)
    entries: list[Entry] = []
    counts: list[float] = []
    flags: list[str] = []
    seen: set[str] = set()
    fitted: list[tuple[int, str]] = []
    resets: list[str] = []
    lost, new_fuse, repaired_at = 0, False, -1
    proven: set[str] = set()
    for_cause: set[int] = set()
    worlds: list[World] = []
    for number, line in enumerate(log):
        before = world.state
        try:
            world, outcome = acted(world, line.act)
        except ValueError as problem:
            flags.append(f"Log line {number + 1} cannot be done on this job ({problem}); it and what follows were left out.")
            break
        real = entry(line.act, world.state.time, outcome)
        if not replays(real, line) and not flags:
            flags.append(f"Log line {number + 1} says {line.text!r} where this job shows {real.text!r}: talk it over.")
        entries.append(real)
        worlds.append(world)
        kind = line.act["do"]
        if not cost_of(kind) or kind == "wait":
            seen.clear()  # the same place may be read again once something has changed
        key = json.dumps(line.act, sort_keys=True)
        cost = 0.0 if kind == "wait" else cost_of(kind)
        counts.append(cost / 2 if key in seen else cost)
        seen.add(key)
        if kind == "new cable":
            fitted.append((number, line.act["cable"]))
        if kind in ("fit", "fit size"):
            fitted.append((number, line.act["part"]))
            old = before.parts[line.act["part"]]
            for_cause |= {number} if any(getattr(old, harm, False) for harm in ("blown", "burnt", "opened")) else set()
            new_fuse = new_fuse or isinstance(world.state.parts[line.act["part"]], FuseState)
        if kind == "reset":
            resets.append(line.act["part"])
        if kind in REPAIRS:
            repaired_at, proven = number, set()
        proven |= _open(job, world)
        blown = any(isinstance(state, FuseState) and state.blown for state in world.state.parts.values())
        if new_fuse and blown:
            lost, new_fuse = lost + 1, False
    second = len(resets) - len(set(resets))
    found = Worked(
        entries=tuple(entries),
        world=world,
        counts=tuple(counts),
        fuses_lost=lost,
        second_resets=second,
        fitted=tuple(fitted),
        for_cause=frozenset(for_cause),
        worlds=tuple(worlds),
        repaired_at=repaired_at,
        proven=tuple(sorted(proven)),
    )
    return found, tuple(flags)


def _open(job: Job, world: World) -> set[str]:
    """The zones that are on call with their valve open, and not by hand."""
    found = set()
    for zone in job.design.zones:
        valve = world.installation.part(f"{zone}.valve")
        if not isinstance(valve, Valve):
            continue
        state = world.state.of(valve.name)
        if world.state.of(f"{zone}.stat").calling and state.opening >= OPEN_SHARE and not state.engaged:
            found.add(zone)
    return found


def replays(real: Entry, line: Entry) -> bool:
    """Whether a log line is what the job shows, to one digit of the display and half a second."""
    if real.value is None or line.value is None or math.isinf(real.value) or math.isinf(line.value):
        same = real.value == line.value
    else:
        same = abs(real.value - line.value) <= 1.01 * real.step
    told = [words for _, words in real.events] == [words for _, words in line.events]
    on_time = all(abs(mine - yours) < HALF_SECOND for (mine, _), (yours, _) in zip(real.events, line.events, strict=False))
    return same and told and on_time and real.signal == line.signal and abs(real.clock - line.clock) < HALF_SECOND
