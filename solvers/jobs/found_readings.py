"""What readings prove of a house as found: which conductor they tell from what else it could be. Solved, not looked up."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..plant.parts import Splice, Valve
from ..plant.running import lead
from ..plant.wiring import Conductor, Installation
from .acts import Outcome, World, acted
from .differences import readings_apart

__all__ = ["Against", "Take", "told_apart", "touched"]


@dataclass(frozen=True, slots=True)
class Take:
    """One reading of a log, and the world that it was taken in."""

    line: int  # of the log, from 0
    world: World
    act: Mapping[str, object]  # a "measure"
    outcome: Outcome


@dataclass(frozen=True, slots=True)
class Against:
    """A reading that tells a conductor from one other thing, and what it would have shown of that."""

    line: int
    shown: str
    would: str


def touched(installation: Installation, lifted: Sequence[str], act: Mapping[str, object]) -> dict[str, str]:
    """The conductors that a measuring act says something of: each by name with the slot of the probe that stood on it.

    The other probe has to stand on a terminal that is known by its letter, at another point than the conductor's own
    ends. A probe at a joint says something of everything in that joint.
    """
    found: dict[str, str] = {}
    for slot, other in (("first", "second"), ("second", "first")):
        point, reference = str(act[slot]), str(act[other])
        if reference not in _known(installation):
            continue
        here = _joint(installation, point)
        for wire in installation.conductors:
            ends = _ends(wire, lifted)
            if set(ends) & here and reference not in ends:
                found.setdefault(wire.name, slot)
    return found


def told_apart(installation: Installation, roles: Mapping[str, str], takes: Sequence[Take]) -> dict[str, dict[str, Against]]:
    """For every conductor, what it is told apart from by at least one reading, and by which.

    A reading tells a conductor from a role when the same probe on any conductor of that role would have shown something
    else, in the same state, by more than a meter's doubt. A misused meter proves nothing.
    """
    found: dict[str, dict[str, Against]] = {name: {} for name in roles}
    for take in takes:
        if take.outcome.reading is None or take.outcome.misuse:
            continue
        lifted = take.world.state.lifted
        points = _points(installation, roles, lifted)
        seen: dict[tuple[str, str], Outcome] = {}  # by slot and place, the same reading with that probe elsewhere
        for name, slot in touched(installation, lifted, take.act).items():
            reference = take.act["second" if slot == "first" else "first"]
            for role, groups in points.items():
                if role == roles[name] or role in found[name]:
                    continue
                would = []
                for group in groups:
                    place = next((place for place in group if place != reference), None)
                    if place is None:
                        continue  # both probes on one place are no reading
                    if (slot, place) not in seen:
                        seen[slot, place] = acted(take.world, {**take.act, slot: place})[1]
                    would.append(seen[slot, place])
                if would and all(readings_apart(take.outcome.reading, other.reading) for other in would):
                    found[name][role] = Against(take.line, take.outcome.text, would[0].text)
    return found


def _known(installation: Installation) -> tuple[str, ...]:
    """The terminals whose letters can be read: of everything but joints and the unmarked leads of valves."""
    return tuple(end for part in installation.parts if not isinstance(part, Splice | Valve) for end in part.terminals)


def _joint(installation: Installation, point: str) -> set[str]:
    """Every place of the joint that a probe stands at: all ways of a splice, or the terminal itself."""
    for part in installation.parts:
        if isinstance(part, Splice) and point in part.terminals:
            return set(part.terminals)
    return {point}


def _ends(wire: Conductor, lifted: Sequence[str]) -> tuple[str, str]:
    """Where a probe meets a conductor: at its terminals, or at the ends that are held clear of them."""
    return tuple(lead(end) if end in lifted else end for end in (wire.a, wire.b))


def _points(installation: Installation, roles: Mapping[str, str], lifted: Sequence[str]) -> dict[str, list[tuple[str, ...]]]:
    """For every role the groups of places where its conductors can be met; a lifted lead parts a group in two."""
    of: dict[str, str] = {}

    def top(place: str) -> str:
        while of.setdefault(place, place) != place:
            place = of[place]
        return place

    for wire in installation.conductors:
        a, b = _ends(wire, lifted)
        of[top(a)] = top(b)
    for part in installation.parts:
        if isinstance(part, Splice):
            for way in part.terminals[1:]:
                of[top(part.terminals[0])] = top(way)
    found: dict[str, dict[str, list[str]]] = {}
    for wire in installation.conductors:
        for end in _ends(wire, lifted):
            group = found.setdefault(roles[wire.name], {}).setdefault(top(end), [])
            if end not in group:
                group.append(end)
    return {role: [tuple(group) for group in groups.values()] for role, groups in found.items()}
