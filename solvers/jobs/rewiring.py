"""Hands on conductors, as installations: ends landed as drawn or elsewhere, joints made tight, strays taken away."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import replace

from ..plant.loose import LooseJoint
from ..plant.parts import Splice
from ..plant.strays import Stray
from ..plant.wiring import Conductor, Installation

__all__ = ["landed_at", "relaid", "remade", "tightened", "without_strays"]


def tightened(installation: Installation, terminals: Collection[str] | None = None) -> Installation:
    """The installation with every loose joint at these terminals gone, its conductors landed on them; None for all.

    A joint that no conductor ends in any longer is gone too.
    """
    loose = [part for part in installation.parts if isinstance(part, LooseJoint)]
    if not loose:
        return installation
    gone = [joint for joint in loose if terminals is None or joint.terminal in terminals or not installation.landed(joint.lead)]
    ends = {joint.lead: joint.terminal for joint in gone}
    wires = tuple(replace(wire, a=ends.get(wire.a, wire.a), b=ends.get(wire.b, wire.b)) for wire in installation.conductors)
    return replace(installation, parts=tuple(part for part in installation.parts if part not in gone), conductors=wires)


def without_strays(installation: Installation, gone: Callable[[Stray], bool]) -> Installation:
    """The installation without the stray paths that `gone` picks."""
    kept = tuple(part for part in installation.parts if not (isinstance(part, Stray) and gone(part)))
    return installation if len(kept) == len(installation.parts) else replace(installation, parts=kept)


def landed_at(installation: Installation, terminal: str) -> tuple[Conductor, ...]:
    """The conductors that somebody finds at a terminal, under a loose screw too."""
    leads = [part.lead for part in installation.parts if isinstance(part, LooseJoint) and part.terminal == terminal]
    return tuple(wire for end in (terminal, *leads) for wire in installation.landed(end))


def relaid(installation: Installation, design: Installation, wires: Collection[str]) -> Installation:
    """The installation with these conductors new, landed as drawn; all stand in the order of the drawing."""
    order = {wire.name: place for place, wire in enumerate(design.conductors)}
    kept = [wire for wire in installation.conductors if wire.name not in wires]
    new = [wire for wire in design.conductors if wire.name in wires]
    every = sorted([*kept, *new], key=lambda wire: order.get(wire.name, len(order)))
    return tightened(replace(installation, conductors=tuple(every)), ())


def remade(installation: Installation, design: Installation, terminal: str) -> Installation:
    """The installation with a terminal made anew: what belongs there is landed there, tight, on clean metal.

    A conductor that is missing stays so, and one that belongs elsewhere stays where it is.
    """
    here = tightened(installation, (terminal,))
    drawn = {wire.name: wire for wire in design.landed(terminal)}
    wires = tuple(_landed(wire, drawn[wire.name], terminal) if wire.name in drawn else wire for wire in here.conductors)
    name, _, way = terminal.rpartition(".")
    parts = tuple(_clean(part, design, way) if part.name == name and isinstance(part, Splice) else part for part in here.parts)
    return tightened(replace(here, parts=parts, conductors=wires), ())


def _landed(wire: Conductor, drawn: Conductor, terminal: str) -> Conductor:
    ends = {"a": drawn.a if drawn.a == terminal else wire.a, "b": drawn.b if drawn.b == terminal else wire.b}
    if ends["a"] == ends["b"]:  # its other end had been landed here in its place
        ends = {"a": drawn.a, "b": drawn.b}
    return replace(wire, **ends)


def _clean(part: Splice, design: Installation, way: str) -> Splice:
    meant = design.part(part.name)
    ohms = {branch.name: branch.z for branch in meant.branches(None, 0.0)}
    after = part.with_way(way, ohms[f"{part.name}.{way}"])
    return meant if type(after) is type(meant) and after.ohms == tuple(ohms.values()) else after
