"""An installation told as found, in sentences: every terminal of every part and what is joined to it."""

from __future__ import annotations

from collections.abc import Iterable

from ..plant.naming import cable_words, part_words, point_words, wire_words
from ..plant.wiring import Conductor, Enclosure, Installation

__all__ = ["by_name", "enclosure_words", "landed", "signs", "wires_words"]


def wires_words(installation: Installation) -> str:
    """The same in sentences, part by part: which terminal is joined to which, by which conductor."""
    sentences, there = [], landed(installation)
    for part in installation.parts:
        if not part.terminals:
            continue
        told = []
        for terminal in part.terminals:
            mark = terminal.removeprefix(f"{part.name}.")
            joined = [_joined(wire, terminal) for wire in there[terminal]]
            told.append(f"{mark} to {' and to '.join(joined)}" if joined else f"{mark} not connected")
        words = part_words(part.name)
        sentences.append(f"{words[:1].upper()}{words[1:]}: {'; '.join(told)}.")
    sentences += [f"In the {enclosure_words(box)}." for box in installation.enclosures]
    return " ".join(sentences)


def enclosure_words(box: Enclosure) -> str:
    """What stands in an enclosure, in a sentence without its full stop."""
    parted = "with a barrier" if box.barrier else "without a barrier"
    return f"{box.name}, {parted}: {', '.join(part_words(part) for part in box.parts)}"


def by_name(conductors: Iterable[Conductor]) -> list[Conductor]:
    """Conductors in an order that does not tell in which order they were laid."""
    return sorted(conductors, key=lambda wire: wire.name)


def landed(installation: Installation) -> dict[str, list[Conductor]]:
    """The conductors at every terminal."""
    found: dict[str, list[Conductor]] = {terminal: [] for terminal in installation.terminals}
    for wire in by_name(installation.conductors):
        found[wire.a].append(wire)
        found[wire.b].append(wire)
    return found


def _joined(wire: Conductor, terminal: str) -> str:
    """The other end of a conductor, its name, and what can be seen on it."""
    return f"{point_words(wire.b if wire.a == terminal else wire.a)} by {', '.join([wire_words(wire.name), *signs(wire)])}"


def signs(wire: Conductor) -> list[str]:
    """What a look at a conductor tells: its colour, what is written on it, its cable, and that it is for line voltage."""
    written = (wire.label and f"labelled {wire.label}", wire.cable and f"in {cable_words(wire.cable)}")
    found = (wire.colour, *written, "line voltage" if wire.line else "")
    return [sign for sign in found if sign]
