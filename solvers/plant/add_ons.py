"""What somebody has hung on a thermostat without drawing it: a second valve, or a relay that calls the boiler."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar

from ..circuit import Branch, Guard, Law
from . import facts
from .motor_valve import MotorState, SpringReturnValve
from .part import Seen
from .relays import Relay, RelayState
from .strays import Stray

__all__ = ["CallRelay", "SecondValve"]


@dataclass(frozen=True, slots=True)
class SecondValve(Stray):
    """A quick motor-driven valve, its motor from W (`a`) to C (`b`), its end switch beside the others, `first` to `second`.

    It is a stray as no drawing has it, and it has no terminals of its own. Source: common practice.
    """

    first: str = ""  # terminal
    second: str = ""  # terminal
    valve: SpringReturnValve = field(default_factory=lambda: SpringReturnValve("second valve"))  # of the stray's own name

    answers: ClassVar[bool] = True

    def initial(self) -> MotorState:
        return self.valve.initial()

    def start_values(self) -> dict[str, float]:
        return self.valve.start_values()

    def branches(self, state: MotorState, hz: float) -> tuple[Branch, ...]:
        ends = zip(self.valve.terminals, (self.a, self.b, self.first, self.second), strict=True)
        leads = (Branch(f"{inner} lead", inner, outer, facts.ZERO_OHMS.value) for inner, outer in ends)
        return (*self.valve.branches(state, hz), *leads)

    def laws(self, state: MotorState, seen: Seen) -> dict[str, Law]:
        return self.valve.laws(state, seen)

    def guards(self, state: MotorState) -> tuple[Guard, ...]:
        return self.valve.guards(state)

    def fired(self, state: MotorState, guard: Guard) -> MotorState:
        return self.valve.fired(state, guard)

    def followed(self, state: MotorState, values: Mapping[str, float]) -> MotorState:
        return self.valve.followed(state, values)

    def settled(self, state: MotorState, seen: Seen) -> MotorState:
        return self.valve.settled(state, seen)

    def noticed(self, before: MotorState, after: MotorState) -> tuple[str, ...]:
        return self.valve.noticed(before, after)


@dataclass(frozen=True, slots=True)
class CallRelay(Stray):
    """A relay whose coil hangs on a thermostat, W (`a`) to C (`b`), and whose contact calls the boiler, `first` to `second`.

    It is a stray as no drawing has it, and it has no terminals of its own. Source: common practice.
    """

    first: str = ""  # terminal
    second: str = ""  # terminal

    answers: ClassVar[bool] = True

    def initial(self) -> RelayState:
        return self._relay.initial()

    def branches(self, state: RelayState, hz: float) -> tuple[Branch, ...]:
        relay = self._relay
        common, normally_open, _ = relay.pole()
        ends = zip((*relay.coil_pair, common, normally_open), (self.a, self.b, self.first, self.second), strict=True)
        leads = (Branch(f"{inner} lead", inner, outer, facts.ZERO_OHMS.value) for inner, outer in ends)
        return (*relay.branches(state, hz), *leads)

    def settled(self, state: RelayState, seen: Seen) -> RelayState:
        return self._relay.settled(state, seen)

    def noticed(self, before: RelayState, after: RelayState) -> tuple[str, ...]:
        return self._relay.noticed(before, after)

    @property
    def _relay(self) -> Relay:
        return Relay(self.name)
