"""What eyes, ears, nose and hands tell about a part, derived from the state of the plant and nothing else."""

from __future__ import annotations

from ..circuit import Event
from .impressions import Place, Sense
from .looks import looked
from .running import PlantState
from .sounds import heard, listen, telling
from .touches import feel
from .wiring import Installation

__all__ = ["SENSES", "Sense", "heard", "noticed", "sensed", "telling"]

SENSES = ("look", "listen", "feel")
"""What can be asked of a part; whoever comes close enough to look also smells."""


def sensed(installation: Installation, state: PlantState, how: str, part: str, *, thermometer: bool = True) -> Sense:
    """What one sense tells about one part; raises NoSuchPart, and ValueError for an unknown sense."""
    if how not in SENSES:
        raise ValueError(f"sense {how!r}; there are {list(SENSES)}")
    thing = installation.part(part)
    return {"look": looked, "listen": listen, "feel": feel}[how](thing, Place(installation, state, thermometer))


def noticed(installation: Installation, before: PlantState, after: PlantState, *, apart_from: str = "") -> tuple[str, ...]:
    """What a person hears or sees in the moment in which one state becomes another, by no time passing.

    `apart_from` names a part whose own change is what the person's hand has done.
    """
    happenings = [
        f"{part.name} {words}"
        for part in installation.parts
        if part.name != apart_from
        for words in part.noticed(before.parts[part.name], after.parts[part.name])
    ]
    happenings += [f"{name} chatters" for name in after.chattering if name not in before.chattering]
    words = (heard(Event(after.time, happening)) for happening in happenings)
    return tuple(dict.fromkeys(word for word in words if word))
