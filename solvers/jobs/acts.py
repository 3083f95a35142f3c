"""Everything a learner can do on a job, as data; doing it on a world gives another world and an outcome."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping

from . import covers, handling, metering, repairing
from .handling import LONGEST_TOLD
from .job import JobError
from .world import Outcome, World, arrival

__all__ = [
    "ACTS",
    "AFTER_STOP",
    "LONGEST_TOLD",
    "WITHOUT_TOOLS",
    "Outcome",
    "World",
    "acted",
    "arrival",
    "check_stopped",
    "checked",
    "replayed",
]

ACTS: Mapping[str, Mapping[str, tuple[type, ...]]] = {
    "switch": {"part": (str,), "on": (bool,)},
    "call": {"stat": (str,), "on": (bool,)},
    "measure": {"function": (str,), "first": (str,), "second": (str,)},
    "clamp": {"wire": (str,), "turns": (int,)},
    "lift": {"terminal": (str,)},
    "land": {"terminal": (str,)},
    "opener": {"valve": (str,), "engaged": (bool,)},
    "wait": {"seconds": (int, float)},
    "look": {"part": (str,)},
    "listen": {"part": (str,)},
    "feel": {"part": (str,)},
    "nudge": {"part": (str,)},
    "head off": {"valve": (str,)},
    "line reading": {"part": (str,), "what": (str,)},
    "jumper": {"first": (str,), "second": (str,), "on": (bool,)},
    "reset": {"part": (str,)},
    "meter fuse": {},
    "fit": {"part": (str,)},
    "fit size": {"part": (str,), "size": (int, float)},
    "new cable": {"cable": (str,)},
    "run wire": {"wire": (str,)},
    "move wire": {"wire": (str,), "end": (str,), "terminal": (str,)},
    "exchange": {"first": (str,), "second": (str,)},
    "remake": {"terminal": (str,)},
    "take off": {"what": (str,)},
    "set": {"part": (str,), "what": (str,), "value": (str, bool, int, float)},
    "cells": {"stat": (str,)},
    "seat head": {"valve": (str,)},
    "free stem": {"valve": (str,)},
    "bleed": {"loop": (str,)},
    "service valve": {"loop": (str,), "open": (bool,)},
    "covers": {},
    "stop": {},
    "refer": {"to": (str,)},
}
"""Every act by name with its fields and their types. A clamp's wire may be a whole cable."""

AFTER_STOP = ("refer",)
"""What is left to do once everything has been made safe; the verdict is no act on the house."""

WITHOUT_TOOLS = (
    "switch",
    "call",
    "measure",
    "clamp",
    "lift",
    "land",
    "opener",
    "wait",
    "look",
    "listen",
    "feel",
    "fit",
    "reset",
    "meter fuse",
)
"""Acts that leave every conductor where it belongs: what is done where a wiring is judged and not repaired."""

_DONE: Mapping[str, Callable[[World, Mapping[str, object]], tuple[World, Outcome]]] = {
    "switch": handling.supply_switched,
    "call": handling.call_turned,
    "measure": metering.measured,
    "clamp": metering.clamped,
    "lift": handling.lead_lifted,
    "land": handling.lead_landed,
    "opener": handling.opener_moved,
    "wait": handling.waited_for,
    "look": handling.sensed_at,
    "listen": handling.sensed_at,
    "feel": handling.sensed_at,
    "nudge": handling.nudged,
    "head off": repairing.head_off,
    "line reading": metering.line_reading,
    "jumper": handling.jumpered,
    "reset": handling.reset,
    "meter fuse": metering.meter_fused,
    "fit": repairing.fitted,
    "fit size": repairing.fitted_in_size,
    "new cable": repairing.cable_renewed,
    "run wire": repairing.wire_run,
    "move wire": repairing.wire_moved,
    "exchange": repairing.exchanged,
    "remake": repairing.remade_at,
    "take off": repairing.taken_off,
    "set": repairing.set_to,
    "cells": repairing.cells_renewed,
    "seat head": repairing.head_seated,
    "free stem": repairing.stem_freed,
    "bleed": repairing.bled,
    "service valve": handling.service_valve_turned,
    "covers": covers.covers_on,
    "stop": handling.stopped,
    "refer": handling.referred,
}


def checked(act: object, among: Collection[str] = tuple(ACTS)) -> dict[str, object]:
    """An act with its fields proven, one of those `among`; raises JobError that names the field and the choices."""
    if not isinstance(act, Mapping):
        raise JobError(f"an act is an object with a field 'do'; got {act!r}")
    name = act.get("do")
    if not isinstance(name, str) or name not in among:
        raise JobError(f"no act {name!r}; there are {list(among)}")
    wanted = ACTS[name]
    extra, missing = sorted(set(act) - set(wanted) - {"do"}), sorted(set(wanted) - set(act))
    if extra or missing:
        raise JobError(f"act {name!r} takes {list(wanted)}; unknown {extra}, missing {missing}")
    for slot, kinds in wanted.items():
        value = act[slot]
        if not isinstance(value, kinds) or (isinstance(value, bool) and bool not in kinds):
            raise JobError(f"act {name!r}: {slot} is {value!r}; give {' or '.join(kind.__name__ for kind in kinds)}")
    return dict(act)


def acted(world: World, act: object) -> tuple[World, Outcome]:
    """The world and what is seen once an act is done. Raises JobError, or what the plant raises, and changes nothing."""
    act = checked(act)
    if world.stopped:
        check_stopped(act)
    return _DONE[act["do"]](covers.uncovered(world, act), act)


def check_stopped(act: Mapping[str, object]) -> None:
    """Raise JobError for an act that is not done any more once everything has been made safe."""
    if act["do"] not in AFTER_STOP:
        raise JobError(f"everything has been made safe; no {act['do']!r} after that, only {list(AFTER_STOP)} and the verdict")


def replayed(world: World, acts: Iterable[object]) -> tuple[Outcome, ...]:
    """What each act of a log shows when it is done on this world."""
    outcomes = []
    for act in acts:
        world, outcome = acted(world, act)
        outcomes.append(outcome)
    return tuple(outcomes)
