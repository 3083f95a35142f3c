"""The boiler: its T-T input of whatever kind, what may keep it from firing, its circulator and its water."""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass, replace
from typing import ClassVar

from ..circuit import OPEN, Approach, Branch, Guard, Law
from . import facts
from .part import Part, Seen
from .windings import ageing

__all__ = ["CIRCULATORS", "INPUTS", "SAFETIES", "Boiler", "BoilerState"]

INPUTS = ("own supply", "board-sensed", "fed from outside")
"""The kinds of T-T input: a relay on the boiler's own 24 V, a board that senses direct current, a relay to be fed."""

SAFETIES = ("high limit", "low-water cutoff", "spill switch", "pressure switch")
"""What stands in series after the call."""

CIRCULATORS = ("on call", "always", "seized")
"""When the circulator runs."""


@dataclass(frozen=True, slots=True)
class BoilerState:
    """Whether the boiler has power, what its input tells it, and whether it fires."""

    on: bool = True
    called: bool = False
    firing: bool = False
    buzzing: bool = False  # the input relay has too few volts to be quiet
    burnt: bool = False  # the winding of the input relay is open for good
    starved: bool = False  # its own transformer is too low for its gas valve
    circulating: bool = False


@dataclass(frozen=True, slots=True)
class Boiler(Part):
    """A boiler that fires, while it is called, between two water temperatures.

    Input "own supply": its own source in series with its input relay. "board-sensed": direct current through a board,
    which takes enough of it for a call. "fed from outside": the relay alone, dead until 24 V is brought to it. With
    `lends`, R and C of its own transformer are terminals, beside the boiler's own load. Source: memory and model.
    """

    emf: float = facts.BOILER_EMF.value
    ohms: float = facts.BOILER_SOURCE_OHMS.value
    dc_ohms: float = facts.BOILER_DC_OHMS.value
    input_ohms: float = facts.BOILER_INPUT_OHMS.value
    water_degC: float = facts.BOILER_WATER_DEGC.value  # operating limit: stops firing here
    _: KW_ONLY
    input: str = "own supply"  # one of INPUTS
    board_volts: float = facts.BOILER_BOARD_VOLTS.value  # direct current, open
    board_ohms: float = facts.BOILER_BOARD_OHMS.value
    input_sound: bool = True  # False: the call arrives and nothing answers
    dead: bool = False  # its own transformer, or the fuse of it, has failed
    safety: str = ""  # the one of SAFETIES that stands open; "" for none
    circulator: str = "on call"  # one of CIRCULATORS
    held_off: bool = False  # by its warm-weather shutdown: it waits, call or not, while the day is mild
    keeps_hot: bool = False  # holds its water temperature without a call
    lends: bool = False
    load_ohms: float = facts.BOILER_OWN_LOAD_OHMS.value  # what it needs itself of the transformer that it lends

    answers: ClassVar[bool] = True

    def __post_init__(self) -> None:
        for what, known in (("input", INPUTS), ("safety", ("", *SAFETIES)), ("circulator", CIRCULATORS)):
            if getattr(self, what) not in known:
                raise ValueError(f"{self.name} has {what} {getattr(self, what)!r}; there are {list(known)}")
        if self.lends and self.input != "own supply":
            raise ValueError(f"{self.name} has input {self.input!r}; only one with its own supply lends R and C")

    @property
    def terminals(self) -> tuple[str, ...]:
        more = (f"{self.name}.R", f"{self.name}.C") if self.lends else ()
        return (f"{self.name}.T1", f"{self.name}.T2", *more)

    @property
    def direct(self) -> bool:
        """Whether it puts direct current on its T-T wires."""
        return self.input == "board-sensed"

    def initial(self) -> BoilerState:
        return BoilerState(circulating=self.circulator == "always" and not self.dead)

    def start_values(self) -> dict[str, float]:
        kept = self.water_degC - facts.BOILER_DIFFERENTIAL.value / 2
        return {f"{self.name}.water": kept if self.keeps_hot else facts.BOILER_STANDBY_DEGC.value, f"{self.name}.used": 0.0}

    def powered(self, state: BoilerState) -> bool:
        """Whether its own 24 V is there."""
        return state.on and not self.dead

    def winding_ohms(self, state: BoilerState) -> float:
        """What stands across the input: a relay's winding, what is left once that has burnt open, or a board."""
        if state.burnt:
            return facts.BOILER_BURNT_INPUT_OHMS.value
        return self.board_ohms if self.input == "board-sensed" else self.input_ohms

    def branches(self, state: BoilerState, hz: float) -> tuple[Branch, ...]:
        (first, second), name, ohms = self.terminals[:2], self.name, self.winding_ohms(state)
        if self.input == "fed from outside":
            return (Branch(f"{name}.input", first, second, ohms),)
        if self.input == "board-sensed":
            volts = self.board_volts if hz == 0 and self.powered(state) else 0.0
            return (Branch(f"{name}.input", first, second, ohms, emf=volts),)
        emf, source = (0.0, self.dc_ohms) if hz == 0 else (self.emf if self.powered(state) else 0.0, self.ohms)
        if not self.lends:
            inside = f"{name} inside"
            return Branch(f"{name}.source", first, inside, source, emf=emf), Branch(f"{name}.input", inside, second, ohms)
        r, c = self.terminals[2:]
        return (
            Branch(f"{name}.source", r, c, source, emf=emf),
            Branch(f"{name}.load", r, c, self.load_ohms),
            Branch(f"{name}.feed", r, first, facts.ZERO_OHMS.value),
            Branch(f"{name}.input", c, second, ohms),
        )

    def settled(self, state: BoilerState, seen: Seen) -> BoilerState:
        """The state once input, own transformer and burner control have answered to their volts and amperes."""
        called, buzzing = self._felt(state, seen)
        powered = self.powered(state)
        called = called and powered and self.input_sound
        starved = self.lends and seen.amps[f"{self.name}.load"] * self.load_ohms < facts.BOILER_GAS_HOLDS_VOLTS.value
        after = _with(state, called=called, buzzing=buzzing, starved=starved)
        begins = called and not state.called and seen.values[f"{self.name}.water"] < self.water_degC
        firing = self._may_fire(after) and (state.firing or begins)
        turns = powered and self.circulator != "seized" and ((called and not self.held_off) or self.circulator == "always")
        return _with(after, firing=firing, circulating=turns)

    def laws(self, state: BoilerState, seen: Seen) -> dict[str, Law]:
        if state.firing:
            water = Approach(facts.BOILER_FIRED_DEGC.value, facts.BOILER_FIRED_TAU.value)
        elif state.circulating:
            water = Approach(facts.BOILER_RETURN_DEGC.value, facts.BOILER_EMITTING_TAU.value)
        else:
            water = Approach(facts.BOILER_STANDBY_DEGC.value, facts.BOILER_COOLING_TAU.value)
        # A board's resistor stands what a relay's winding does not.
        volts = 0.0 if self.direct or state.burnt else seen.amps[f"{self.name}.input"] * self.input_ohms
        return {f"{self.name}.water": water, f"{self.name}.used": ageing(volts, facts.BOILER_INPUT_BURNS_VOLTS.value)}

    def guards(self, state: BoilerState) -> tuple[Guard, ...]:
        found = []
        if not (self.direct or state.burnt):
            found.append(Guard(f"{self.name} input burns open", f"{self.name}.used", 1.0, True, self.name))
        if state.firing:
            found.append(self._at_water("stops on its limit", self.water_degC, True))
        elif self._may_fire(state):
            found.append(self._at_water("fires again", self.water_degC - facts.BOILER_DIFFERENTIAL.value, False))
        return tuple(found)

    def fired(self, state: BoilerState, guard: Guard) -> BoilerState:
        if guard.variable == f"{self.name}.used":
            return replace(state, burnt=True)
        return replace(state, firing=not guard.rising)

    def display(self, state: BoilerState) -> str:
        """What its lamps or its screen say, fault words included; empty when it is dark."""
        if not self.powered(state):
            return ""
        if not (state.called or self.keeps_hot):
            return "no call"
        call = "call" if state.called else "keeping hot"
        if self.held_off:
            return f"{call}, held off: outdoor {facts.MILD_DEGC.value:g} °C ({facts.MILD_DEGC.value * 1.8 + 32:.0f} °F)"
        if self.safety:
            return f"{call}, no fire: {self.safety} open"
        if state.starved:
            return f"{call}, no fire: low control voltage"
        return f"{call}, firing" if state.firing else f"{call}, water hot"

    def noticed(self, before: BoilerState, after: BoilerState) -> tuple[str, ...]:
        told = [] if before.called == after.called else ["starts" if after.called else "stops"]
        if after.buzzing and not before.buzzing:
            told.append("buzzes")
        return tuple(told)

    def _felt(self, state: BoilerState, seen: Seen) -> tuple[bool, bool]:
        """Whether the input takes what it feels for a call, and whether its relay buzzes."""
        branch = f"{self.name}.input"
        if self.direct:
            amps = seen.direct_amps[branch]
            least = facts.BOILER_BOARD_RELEASES_AMPS if state.called else facts.BOILER_BOARD_CALLS_AMPS
            return amps >= least.value, False
        volts = 0.0 if state.burnt or self.input_ohms == OPEN else seen.amps[branch] * self.input_ohms
        weak = facts.BOILER_DROP_VOLTS.value < volts < facts.BOILER_PULL_VOLTS.value
        return volts >= facts.BOILER_PULL_VOLTS.value or (weak and state.called), weak

    def _may_fire(self, state: BoilerState) -> bool:
        wanted = state.called or self.keeps_hot
        held = self.held_off or bool(self.safety) or state.starved
        return wanted and self.powered(state) and not held

    def _at_water(self, happening: str, degC: float, rising: bool) -> Guard:
        return Guard(f"{self.name} {happening}", f"{self.name}.water", degC, rising, self.name)


def _with(state: BoilerState, **changed: bool) -> BoilerState:
    """The state but for what has changed; the same object where nothing has."""
    if all(getattr(state, name) == value for name, value in changed.items()):
        return state
    return replace(state, **changed)
