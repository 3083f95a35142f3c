"""The mistakes that a wiring can show, by name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

__all__ = ["MISTAKES", "Mistake"]

MISTAKES: Mapping[str, str] = {
    "line on class 2": "line voltage is joined to class 2 conductors",
    "fuse bypassed": "the fuse is not in R, or something is joined to R ahead of it",
    "fuse in C": "the fuse stands in the common",
    "stat across R and C": "a stat bridges the source and shorts it on a call",
    "C and W exchanged": "C and W are exchanged at a stat that lives on C",
    "secondaries tied": "two secondaries are in parallel, in phase",
    "secondaries tied, opposed": "two secondaries are in parallel, opposed",
    "commons tied": "the commons of two transformers are joined",
    "return on the other source": "a zone takes R from one transformer and returns to the other",
    "H and E exchanged": "H and E of a three-wire valve are exchanged",
    "S and E exchanged": "S and E of a three-wire valve are exchanged",
    "H and S exchanged": "H and S of a three-wire valve are exchanged",
    "pairs exchanged": "heater pair and switch pair of a four-wire valve are exchanged",
    "T-T fed, in phase": "T-T is fed from the valve transformer, in phase with the boiler's own supply",
    "T-T fed, opposed": "T-T is fed from the valve transformer, opposed to the boiler's own supply",
    "heater on one side": "both leads of a heater are on the same conductor",
    "stats crossed": "stats open each other's valves",
    "Ws tied": "the Ws of two zones are joined",
    "common lost, sneak path": "a common is lost and current sneaks back through two end switches",
    "return missing": "a heater has no way back to C",
    "relay on NC": "T-T is on the relay's NC contact",
    "coil across the switch": "the relay's coil stands between the switch line and C",
    "coil across R and C": "the relay's coil stands between R and C and is always pulled in",
    "relay pulled by the stat": "the relay's coil is fed by a stat instead of by the end switches",
    "circulator on the stat": "the circulator's relay is fed by a stat instead of by the end switches",
    "switches in series": "end switches are in series",
    "end switch not landed": "an end switch has a lead that is landed nowhere",
    "T-T jumpered": "T-T is closed by a conductor",
    "stat bypassed": "a load has R without a stat in between",
    "wrong primary lead": "the line is on the wrong lead of the primary",
    "stat carries the valves": "the stat carries the valves instead of the relay's coil",
    "source overloaded": "too many valves hang on one transformer",
    "priority on NO": "the zones' R is on NO of the priority relay: they live only while the tank calls",
    "priority passed by": "R of some zones does not go through the priority relay",
    "line in the class 2 box": "a line-voltage conductor ends in the class 2 box",
    "switch line on T-T": "the switch line of three-wire valves is joined to T-T past the relay",
    "part left out": "a part or a lead of it is landed nowhere",
}
"""Every mistake by name, with what it is."""


@dataclass(frozen=True, slots=True)
class Mistake:
    """A mistake as it was found: where, and what it does there."""

    name: str  # one of MISTAKES
    words: str
    parts: tuple[str, ...] = ()
