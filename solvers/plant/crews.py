"""Who in an installation has anything to say to what, and what follows at once from the states of its parts."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from ..circuit import Guard, Law
from . import electrics as electrical
from .part import Part, PartState, Seen
from .parts import Loop, Room, Stat
from .wiring import Installation

__all__ = ["Crew", "answered", "crew_of", "felt", "followed", "forgotten", "guarded", "noticed_of"]

MOST_SETTLINGS = 40
MOST_REMEMBERED = 64  # installations
MOST_GUARDED = 2048  # states of the parts of one installation whose guards are kept


@dataclass(slots=True, eq=False, weakref_slot=True)
class Crew:
    """The parts by what they answer to; what is not in a list keeps the answers of a plain part. And what they answered."""

    installation: Installation
    owners: Mapping[str, Part]
    moving: tuple[Part, ...]  # in the order in which their laws are asked for
    guarded: tuple[Part, ...]
    following: tuple[Part, ...]
    answering: tuple[Part, ...]
    telling: tuple[Part, ...]
    loops: tuple[Loop, ...]
    direct: bool
    steady: tuple[Part, ...]  # of those moving, the ones whose laws follow from states and amperes alone
    laid: tuple[Part, ...]  # and the ones that follow the water, from the values of the moment
    simple: bool  # whether there are no others
    follows: Mapping[str, Part]  # variable -> the part whose state follows it
    guards: dict[tuple[str, PartState], tuple[Guard, ...]] = field(default_factory=dict)
    emitting: tuple[Mapping[str, PartState], Mapping[str, float]] | None = None  # of the states asked about last
    felt: tuple[object, Seen] | None = None  # the same of what was felt


_CREWS: OrderedDict[int, Crew] = OrderedDict()


def crew_of(installation: Installation) -> Crew:
    """The crew of an installation, the same one as long as it is remembered."""
    known = _CREWS.get(id(installation))
    if known is not None and known.installation is installation:
        _CREWS.move_to_end(id(installation))
        return known
    parts = installation.parts

    def saying(what: str) -> tuple[Part, ...]:
        return tuple(part for part in parts if getattr(type(part), what) is not getattr(Part, what))

    moving = tuple(sorted(saying("laws"), key=lambda part: part.tier))
    steady = tuple(part for part in moving if part.tier == 0 or (isinstance(part, Stat) and not part.room))
    laid = tuple(part for part in moving if type(part) in (Loop, Room))
    following = saying("followed")
    known = _CREWS[id(installation)] = Crew(
        installation,
        {part.name: part for part in parts},
        moving,
        saying("guards"),
        following,
        tuple(part for part in parts if part.answers),
        saying("noticed"),
        tuple(part for part in parts if isinstance(part, Loop)),
        any(part.direct for part in parts),
        steady,
        laid,
        len(steady) + len(laid) == len(moving),
        {name: part for part in following for name in part.start_values()},
    )
    while len(_CREWS) > MOST_REMEMBERED:
        _CREWS.popitem(last=False)
    return known


def forgotten(installation: Installation) -> None:
    """Let go of what is remembered of an installation that nobody will ask about again."""
    _CREWS.pop(id(installation), None)
    electrical.forgotten(installation)


def felt(
    crew: Crew,
    parts: Mapping[str, PartState],
    values: Mapping[str, float],
    lifted: tuple[str, ...],
    laws: Mapping[str, Law],
) -> Seen:
    """What every part feels of the plant with its parts in these states."""
    here = crew.installation
    now = electrical.electrics(here, parts, lifted)
    direct = electrical.electrics(here, parts, lifted, 0.0).amps if crew.direct else {}
    if crew.emitting is None or crew.emitting[0] is not parts:
        seen = Seen(now.amps, direct, parts, values, laws, {}, here.hz)
        crew.emitting = (parts, {part.name: part.heat_share(seen) for part in crew.loops})
    return Seen(now.amps, direct, parts, values, laws, crew.emitting[1], here.hz)


def guarded(crew: Crew, name: str, state: PartState) -> tuple[Guard, ...]:
    """One part's guards. They follow from its state alone, and most parts come back to the same few."""
    known = crew.guards.get((name, state))
    if known is None:
        if len(crew.guards) > MOST_GUARDED:
            crew.guards.clear()
        known = crew.guards[name, state] = crew.owners[name].guards(state)
    return known


def noticed_of(crew: Crew, before: Mapping[str, PartState], now: Mapping[str, PartState]) -> Iterable[str]:
    """What a person would call the changes between two states, part by part."""
    for part in crew.telling:
        was, is_ = before[part.name], now[part.name]
        if was is not is_ and was != is_:
            for words in part.noticed(was, is_):
                yield f"{part.name} {words}"


def followed(
    crew: Crew, following: Iterable[Part], parts: Mapping[str, PartState], values: Mapping[str, float]
) -> Mapping[str, PartState]:
    """The states with what merely follows the variables brought up to date; a new mapping only where one is another."""
    changed = {}
    for part in following:
        before = parts[part.name]
        after = part.followed(before, values)
        if after is not before and after != before:
            changed[part.name] = after
    return {**parts, **changed} if changed else parts


def answered(
    crew: Crew, parts: Mapping[str, PartState], values: Mapping[str, float], lifted: tuple[str, ...]
) -> tuple[Mapping[str, PartState], tuple[str, ...]]:
    """The states once every relay has answered, until none moves, and the names of those that chatter.

    They answer one at a time, in order. One that comes back to a state it was in without time passing chatters: it is
    left in the state it was found in last. The mapping of states is a new one only where a state is another.
    """
    met: list[Mapping[str, PartState]] = []
    chattering: tuple[str, ...] = ()
    for _ in range(MOST_SETTLINGS):
        seen = felt(crew, parts, values, lifted, {})
        moved = None
        for part in crew.answering:
            if part.name not in chattering:
                before = parts[part.name]
                after = part.settled(before, seen)
                if after is not before and after != before:
                    moved = {**parts, part.name: after}
                    break
        if moved is None:
            break
        if moved in met:
            chattering = (*chattering, part.name)
            continue
        met.append(parts)
        parts = moved
    return parts, chattering
