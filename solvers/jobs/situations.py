"""The standard round: the situations in which a job is worth reading, each reached by acts from the one before."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from ..plant.light_switch import LightSwitch
from ..plant.parts import Boiler, Breaker, Fuse, Loop, Relay, Room, Splice, Stat, Transformer, Valve
from ..plant.wiring import Installation

__all__ = ["Situation", "looked_at", "pairs", "situations"]

WARM_S = 600  # a healthy valve has opened and the pipe behind it is hot
COOL_S = 300

Act = Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Situation:
    """One moment of the round: what has been done since the moment before, in words and as acts."""

    words: str
    acts: tuple[Act, ...]
    after: int = -1  # the situation it follows; -1 for arrival
    reads: tuple[Act, ...] | None = None  # the only readings worth taking here; None for the whole round of volts and senses
    further: bool = False  # more trouble than the plain round


def situations(design: Installation, zone: str) -> tuple[Situation, ...]:
    """Idle, on call cold, on call with time, all zones together, afterwards; then apart, dead, and by another hand."""
    others = [name for name in design.zones if name != zone]
    number = zone.removeprefix("zone")
    found = [
        Situation("before anything is touched", ()),
        Situation(f"at once after zone {number} calls", ({"do": "call", "stat": f"{zone}.stat", "on": True},), 0),
        Situation(f"with zone {number} on call for ten minutes", ({"do": "wait", "seconds": WARM_S},), 1),
    ]
    if others:
        acts = (*({"do": "call", "stat": f"{name}.stat", "on": True} for name in others), {"do": "wait", "seconds": WARM_S})
        found.append(Situation("with all zones on call for ten minutes", acts, 2))
    off = [{"do": "call", "stat": f"{name}.stat", "on": False} for name in design.zones]
    found.append(Situation("five minutes after the last call", (*off, {"do": "wait", "seconds": COOL_S}), len(found) - 1))
    last = len(found) - 1
    for name in others:
        acts = ({"do": "call", "stat": f"{name}.stat", "on": True}, {"do": "wait", "seconds": WARM_S})
        found.append(Situation(f"with zone {name.removeprefix('zone')} alone on call for ten minutes", acts, 0, None, True))
    found += [replace(one, further=True) for one in _dead(design, zone, last)]
    return tuple(found)


def pairs(design: Installation) -> tuple[tuple[str, str], ...]:
    """Where volts are worth reading: across whatever can open or drop, and from every terminal to its source's C."""
    across: list[tuple[str, str]] = []
    to_common: list[tuple[str, str]] = []
    sources = [part for part in design.parts if isinstance(part, Transformer)]
    for part in design.parts:
        if isinstance(part, Splice) and len(part.ways) > 2:
            across += [(part.terminals[0], other) for other in part.terminals[1:]]
        elif isinstance(part, Valve):
            across += [pair for pair in (part.drive_pair, part.switch_pair) if pair]
        elif isinstance(part, Transformer):
            across.append(part.secondary_pair)
        elif isinstance(part, Relay):
            across += [part.coil_pair, *(part.pole(number)[:2] for number in range(1, part.poles + 1))]
        elif len(part.terminals) >= 2:
            across.append((part.terminals[0], part.terminals[1]))
        to_common += [(terminal, f"{sources[0].name}.C") for terminal in part.terminals if terminal != f"{sources[0].name}.C"]
    across += [(f"{one.name}.R", f"{other.name}.R") for one, other in pairwise(sources)]
    return tuple(dict.fromkeys(across + to_common))


def looked_at(design: Installation) -> tuple[tuple[str, str], ...]:
    """Where eyes, ears and hands are worth using."""
    found = []
    for part in design.parts:
        if isinstance(part, Valve):
            found += [("look", part.name), ("feel", part.name), ("listen", part.name)]
        elif isinstance(part, Boiler):
            found += [("look", part.name), ("listen", part.name)]
        elif isinstance(part, Fuse | Breaker | Stat | Room):
            found.append(("look", part.name))
        elif isinstance(part, Transformer):
            found += [("look", part.name), ("feel", part.name)]
        elif isinstance(part, Relay):
            found += [("look", part.name), ("listen", part.name)]
        elif isinstance(part, Loop) or (isinstance(part, Splice) and len(part.ways) == 2):
            found += [("look", part.name), ("feel", part.name)]
    return tuple(found)


def _dead(design: Installation, zone: str, last: int) -> list[Situation]:
    """Switched off: ohms with both leads lifted; and what takes another hand, a licence, or a nudge."""
    number = zone.removeprefix("zone")
    off = tuple(
        {"do": "switch", "part": part.name, "on": False} for part in design.parts if isinstance(part, Transformer | Boiler)
    )
    valve = design.part(f"{zone}.valve")
    found = []
    for words, pair in (("heater", valve.drive_pair), ("end switch", valve.switch_pair)):
        if pair:
            lifts = tuple({"do": "lift", "terminal": terminal} for terminal in pair if design.landed(terminal))
            found.append(Situation(f"power off, both leads of the {words} lifted", (*off, *lifts), last, (_ohms(*pair),)))
    stat = design.part(f"{zone}.stat")
    lifts = tuple({"do": "lift", "terminal": terminal} for terminal in stat.terminals[:2])
    found.append(Situation(f"power off, stat {number} off its base", (*off, *lifts), last, (_ohms(*stat.terminals[:2]),)))
    for relay in (part for part in design.parts if isinstance(part, Relay)):
        lifts = tuple({"do": "lift", "terminal": terminal} for terminal in relay.coil_pair if design.landed(terminal))
        found.append(Situation(f"power off, the coil of {relay.name} lifted", (*off, *lifts), last, (_ohms(*relay.coil_pair),)))
    boiler = next(part for part in design.parts if isinstance(part, Boiler))
    field = [wire.a if wire.b in boiler.terminals else wire.b for wire in _tt(design, boiler)]
    lifts = tuple({"do": "lift", "terminal": terminal} for terminal in boiler.terminals[:2] if design.landed(terminal))
    reads = [_volts(*boiler.terminals[:2]), _volts(*boiler.terminals[:2], "volts DC")]
    if len(field) == 2:
        reads += [_volts(*field), _volts(*field, "volts low-Z"), {"do": "look", "part": boiler.name}]
    found.append(Situation("both T-T wires lifted at the boiler", lifts, last, tuple(reads)))
    found.append(
        Situation(
            "with a jumper across T-T",
            ({"do": "jumper", "first": boiler.terminals[0], "second": boiler.terminals[1], "on": True},),
            last,
            ({"do": "look", "part": boiler.name}, {"do": "listen", "part": boiler.name}),
        )
    )
    fuse = next((part for part in design.parts if isinstance(part, Fuse)), None)
    if fuse is not None:
        found += _short_hunt(design, zone, off, fuse.terminals[1])
    found += _by_hand(design, zone, last)
    return found


def _short_hunt(design: Installation, zone: str, off: tuple[Act, ...], out: str) -> list[Situation]:
    """Power off: ohms of everything behind the fuse, with no stat closed and with this one, C whole and lifted."""
    call = {"do": "call", "stat": f"{zone}.stat", "on": True}
    apart = ({"do": "lift", "terminal": out}, {"do": "lift", "terminal": "transformer.C"})
    load, back = f"{out} lead", "transformer.C lead"
    found = []
    for words, acts in (("", ()), (f", stat {zone.removeprefix('zone')} closed", (call,))):
        reads = (_ohms(load, back), _ohms(load, "transformer.C"))
        found.append(Situation(f"power off, the load side lifted{words}", (*acts, *off, *apart), 0, reads))
    stat = design.part(f"{zone}.stat")
    lifts = tuple({"do": "lift", "terminal": terminal} for terminal in stat.terminals)
    reads = tuple(_ohms(f"{terminal} lead", "transformer.C") for terminal in stat.terminals)
    found.append(Situation(f"power off, every lead of stat {zone.removeprefix('zone')} lifted", (*off, *lifts), 0, reads))
    return found


def _by_hand(design: Installation, zone: str, last: int) -> list[Situation]:
    number = zone.removeprefix("zone")
    r, w = design.part(f"{zone}.stat").supply_terminal, f"{zone}.stat.W"
    found = [
        Situation(
            f"a minute after a jumper from R to W at stat {number}",
            ({"do": "jumper", "first": r, "second": w, "on": True}, {"do": "wait", "seconds": 60}),
            last,
            ({"do": "clamp", "wire": f"{zone}.W leg", "turns": 10}, {"do": "feel", "part": f"{zone}.valve"}),
        ),
        Situation("with the head taken off", (), last, ({"do": "head off", "valve": f"{zone}.valve"},)),
    ]
    for part in design.parts:
        if isinstance(part, LightSwitch):
            dark = ({"do": "switch", "part": part.name, "on": False},)
            found.append(Situation("with the light off", dark, 0, (_volts("transformer.R", "transformer.C"),)))
    for source in (part for part in design.parts if isinstance(part, Transformer)):
        what = ("panel volts", "primary volts", "primary ohms")
        reads = tuple({"do": "line reading", "part": source.name, "what": one} for one in what)
        found.append(Situation(f"by a licensed hand, at the line side of the {source.name}", (), last, reads))
    on_call = ({"do": "call", "stat": f"{zone}.stat", "on": True}, {"do": "wait", "seconds": 60})
    for name in (f"{zone}.stat", f"{zone}.valve", "transformer", f"{zone}.R splice", f"{zone}.W splice"):
        reads = ({"do": "clamp", "wire": f"{zone}.W leg", "turns": 10},)
        found.append(Situation(f"on call, after a nudge at {name}", (*on_call, {"do": "nudge", "part": name}), last, reads))
    return found


def _tt(design: Installation, boiler: Boiler) -> Sequence:
    return [wire for end in boiler.terminals[:2] for wire in design.landed(end)]


def _ohms(first: str, second: str) -> Act:
    return {"do": "measure", "function": "ohms", "first": first, "second": second}


def _volts(first: str, second: str, function: str = "volts") -> Act:
    return {"do": "measure", "function": function, "first": first, "second": second}


def keyed(act: Act) -> str:
    """An act as one text, for a key."""
    return json.dumps(act)
