"""When a house has come to rest after an act, so that the next one begins where anybody's would."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache

from ..circuit import Event
from ..plant.hands import FELT
from ..plant.parts import BoilerState, StatState, TransformerState, ValveState
from ..plant.sounds import IN_TURN
from .world import World

__all__ = ["HANDS", "SETTLE_S", "at_rest_after", "same_house", "settled_state", "settled_states", "stirring"]

SETTLE_S = 1200.0
"""Twenty minutes: heat motors have moved and their wax is within a thousandth of where it goes. Source: model."""

STILL = 0.05
"""K of wax, or share of a motor's travel, that is no motion. Source: model."""

MOVING = (".wax", ".travel")

PIPE_STILL = 15.0
"""K of a pipe: more than a boiler between its limits moves it. Source: model."""

PIPES = (".supply", ".return")

HANDS = "hands"

_FREE = ("stroke", "opening", "flow")
"""Fields of a valve's state that move with its wax or motor."""


def stirring(events: Sequence[Event]) -> tuple[Event, ...]:
    """What happens but for what comes and goes by itself, and for what only a hand tells."""
    return tuple(event for event in events if not event.name.endswith((*IN_TURN, FELT)))


def at_rest_after(before: Mapping[str, float], after: Mapping[str, float], events: Sequence[Event]) -> bool:
    """Whether an act has moved nothing that takes time: no event, no wax, motor or pipe under way."""
    if stirring(events):
        return False
    return not any(
        abs(after[name] - value) > still
        for kinds, still in ((MOVING, STILL), (PIPES, PIPE_STILL))
        for name, value in before.items()
        if name.endswith(kinds)
    )


def same_house(one: World, other: World) -> bool:
    """Whether an act has left everything as it was."""
    return (
        one.installation == other.installation
        and one.state.lifted == other.state.lifted
        and settled_states(one) == settled_states(other)
    )


def settled_states(world: World) -> tuple:
    """The states of all parts, as far as they make a settled house the one it is."""
    return tuple((name, settled_state(state)) for name, state in world.state.parts.items() if name != HANDS)


@lru_cache(maxsize=4096)
def settled_state(state: object) -> object:
    """A part's state without what comes and goes by itself."""
    if isinstance(state, BoilerState):
        return replace(state, firing=False)
    if isinstance(state, StatState) and not state.calling:
        return replace(state, turned="down")
    if isinstance(state, TransformerState):
        return replace(state, fed_back=round(state.fed_back))
    if isinstance(state, ValveState):
        return replace(state, **{slot: round(getattr(state, slot), 2) for slot in _FREE})
    return state
