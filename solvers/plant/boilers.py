"""The boiler as its T-T input sees it, and its water."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from ..circuit import Approach, Branch, Guard, Law
from . import facts
from .part import Part, Seen

__all__ = ["Boiler", "BoilerState"]


@dataclass(frozen=True, slots=True)
class BoilerState:
    """Whether the boiler has power, whether its input relay is pulled, and whether it fires."""

    on: bool = True
    called: bool = False
    firing: bool = False


@dataclass(frozen=True, slots=True)
class Boiler(Part):
    """A boiler whose T-T input is its own supply in series with its input relay; it fires between two water temperatures."""

    emf: float = facts.BOILER_EMF.value
    ohms: float = facts.BOILER_SOURCE_OHMS.value
    dc_ohms: float = facts.BOILER_DC_OHMS.value
    input_ohms: float = facts.BOILER_INPUT_OHMS.value
    water_degC: float = facts.BOILER_WATER_DEGC.value  # operating limit: stops firing here

    answers: ClassVar[bool] = True

    @property
    def terminals(self) -> tuple[str, ...]:
        return (f"{self.name}.T1", f"{self.name}.T2")

    def initial(self) -> BoilerState:
        return BoilerState()

    def start_values(self) -> dict[str, float]:
        return {f"{self.name}.water": facts.BOILER_STANDBY_DEGC.value}

    def branches(self, state: BoilerState, hz: float) -> tuple[Branch, ...]:
        inside, (first, second) = f"{self.name} inside", self.terminals
        source = (
            Branch(f"{self.name}.source", first, inside, self.dc_ohms)
            if hz == 0
            else Branch(f"{self.name}.source", first, inside, self.ohms, emf=self.emf if state.on else 0.0)
        )
        return source, Branch(f"{self.name}.input", inside, second, self.input_ohms)

    def settled(self, state: BoilerState, seen: Seen) -> BoilerState:
        """The state once the input relay has answered to its volts: pulls, drops, or keeps what it had."""
        volts = seen.amps[f"{self.name}.input"] * self.input_ohms
        keeps = state.called and volts > facts.BOILER_DROP_VOLTS.value
        called = state.on and (volts >= facts.BOILER_PULL_VOLTS.value or keeps)
        begins = called and not state.called and seen.values[f"{self.name}.water"] < self.water_degC
        return replace(state, called=called, firing=called and (state.firing or begins))

    def laws(self, state: BoilerState, seen: Seen) -> dict[str, Law]:
        if state.firing:
            law = Approach(facts.BOILER_FIRED_DEGC.value, facts.BOILER_FIRED_TAU.value)
        elif state.called:
            law = Approach(facts.BOILER_RETURN_DEGC.value, facts.BOILER_EMITTING_TAU.value)
        else:
            law = Approach(facts.BOILER_STANDBY_DEGC.value, facts.BOILER_COOLING_TAU.value)
        return {f"{self.name}.water": law}

    def guards(self, state: BoilerState) -> tuple[Guard, ...]:
        water = f"{self.name}.water"
        if state.firing:
            return (Guard(f"{self.name} stops on its limit", water, self.water_degC, True, self.name),)
        if state.called:
            again = self.water_degC - facts.BOILER_DIFFERENTIAL.value
            return (Guard(f"{self.name} fires again", water, again, False, self.name),)
        return ()

    def fired(self, state: BoilerState, guard: Guard) -> BoilerState:
        return replace(state, firing=not guard.rising)

    def noticed(self, before: BoilerState, after: BoilerState) -> tuple[str, ...]:
        if before.called == after.called:
            return ()
        return ("starts",) if after.called else ("stops",)
