"""Mistakes around relays: isolation, pilot, hot-water priority, a circulator's own."""

from __future__ import annotations

from collections.abc import Iterator

from ..plant.line_voltage import Circulator
from ..plant.parts import Boiler, Fuse, Relay, Valve
from .findings import Evidence, listed, said
from .mistake import Mistake
from .places import Places

__all__ = ["at_relays", "priority_and_pump"]


def at_relays(evidence: Evidence, at: Places) -> Iterator[Mistake]:
    """What is wrong at the coil or the contacts of a relay."""
    boilers = _of(evidence, Boiler)
    for relay in _of(evidence, Relay):
        first, second = relay.coil_pair
        for number in range(1, relay.poles + 1):
            nc = relay.pole(number)[2]
            if any(terminal.startswith(f"{boiler.name}.T") for boiler in boilers for terminal in at.beside(nc)):
                words = (
                    f"T-T is on NC of {said(relay.name)}: the boiler runs while every valve is shut, and stops when one opens."
                )
                yield Mistake("relay on NC", words, (relay.name, *(boiler.name for boiler in boilers)))
        c_ends, r_ends = at.is_c(first) + at.is_c(second), at.is_r(first) + at.is_r(second)
        on_line = any(_across_c(evidence, at, valve) for end in (first, second) for valve in at.switches_at(end))
        if c_ends == 1 and on_line:
            words = f"The coil of {said(relay.name)} stands between switch line and C: the end switches can only short it."
            yield Mistake("coil across the switch", words, (relay.name,))
        elif c_ends == 1 and r_ends == 1:
            yield Mistake(
                "coil across R and C",
                f"The coil of {said(relay.name)} stands between R and C: pulled in for good.",
                (relay.name,),
            )
        elif any(at.is_w(end) for end in (first, second)) and evidence.switched_valves and at.calls_boiler(relay):
            words = f"The coil of {said(relay.name)} hangs on W: it pulls with the stat, before any valve has opened."
            yield Mistake("relay pulled by the stat", words, (relay.name, *(boiler.name for boiler in boilers)))
        elif carried := [valve for end in (first, second) if at.is_w(end) for valve in at.valves_at(end)]:
            valves = listed(said(name) for name in carried)
            words = f"W feeds {valves} beside the coil of {said(relay.name)}: the stat carries it all."
            yield Mistake("stat carries the valves", words, (relay.name, *evidence.stats))


def _across_c(evidence: Evidence, at: Places, valve: str) -> bool:
    """Whether an end switch has one of its leads on C."""
    return any(at.is_c(end) for end in evidence.installation.part(valve).switch_pair)


def priority_and_pump(evidence: Evidence, at: Places) -> Iterator[Mistake]:
    """What hot-water priority and a circulator's relay are wired for."""
    for box in evidence.whole.mixed():
        yield Mistake("line in the class 2 box", f"Line voltage ends in the {box}, beside class 2 conductors.", (box,))
    coils = {end: relay for relay in _of(evidence, Relay) for end in relay.coil_pair}
    pumps = {part.name for part in _of(evidence, Circulator)}
    for relay in _of(evidence, Relay):
        contacts = [end for number in range(1, relay.poles + 1) for end in relay.pole(number)]
        drives = any(other.rpartition(".")[0] in pumps for end in contacts for other in at.beside(end))
        if drives and any(at.is_w(end) for end in relay.coil_pair):
            words = f"The coil of {said(relay.name)} hangs on a W: the circulator runs before any valve is open."
            yield Mistake("circulator on the stat", words, (relay.name, *pumps))
    zones = [stat for stat in evidence.stats if f"{stat.removesuffix('.stat')}.valve" in evidence.named(Valve)]
    others = [stat for stat in evidence.stats if stat not in zones]
    tanks = {relay.name: relay for stat in others for end, relay in coils.items() if at.same(end, f"{stat}.W")}
    fused = [end for fuse in _of(evidence, Fuse) for end in fuse.terminals]
    for relay in tanks.values():
        for number in range(1, relay.poles + 1):
            _, normally_open, _ = relay.pole(number)
            on_no = [stat for stat in zones if at.same(f"{stat}.R", normally_open)]
            if on_no:
                stats = listed(said(stat) for stat in on_no)
                words = f"R of {stats} is on NO of {said(relay.name)}: alive only while the tank calls."
                yield Mistake("priority on NO", words, (relay.name, *on_no))
        past = [stat for stat in zones if any(at.same(f"{stat}.R", end) for end in fused)]
        if past:
            words = f"R of {listed(said(stat) for stat in past)} does not go through {said(relay.name)}."
            yield Mistake("priority passed by", f"{words} Hot water takes nothing from it.", (relay.name, *past))


def _of(evidence: Evidence, kind: type) -> list:
    return [part for part in evidence.installation.parts if isinstance(part, kind)]
