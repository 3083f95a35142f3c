"""The explorers of the book by name."""

from __future__ import annotations

from collections.abc import Mapping

from ..jobs.job import JobError
from .explorer import Explorer
from .explorers_meter import BEEPER, SWITCH
from .explorers_phase import PHASE
from .explorers_supply import CABLE, SAG
from .explorers_warm_up import WARM_UP

__all__ = ["EXPLORERS", "explorer"]

EXPLORERS: Mapping[str, Explorer] = {each.name: each for each in (SAG, WARM_UP, CABLE, SWITCH, BEEPER, PHASE)}


def explorer(name: object) -> Explorer:
    """The explorer of that name; raises JobError with the names there are."""
    if not isinstance(name, str) or name not in EXPLORERS:
        raise JobError(f"no explorer {name!r}; there are {list(EXPLORERS)}")
    return EXPLORERS[name]
