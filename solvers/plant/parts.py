"""The trade's parts: what each shows at its terminals at a frequency, and how its state moves on.

A part is frozen data. `branches(state, hz)` are its branches between its own terminals, `part.terminal` by name; an
ohmmeter sees hz = 0. Parts that move have `laws`, `guards`, `fired` and `followed` for the coupled run.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from ..circuit import OPEN, Approach, Branch, Guard, Law, Ramp
from . import facts

__all__ = [
    "Boiler",
    "BoilerState",
    "Fuse",
    "FuseState",
    "HeatMotorValve",
    "Part",
    "PartState",
    "Splice",
    "Stat",
    "StatState",
    "Transformer",
    "TransformerState",
    "ValveState",
]


@dataclass(frozen=True, slots=True)
class TransformerState:
    """Whether the transformer's own feed is on."""

    on: bool = True


@dataclass(frozen=True, slots=True)
class Transformer:
    """A 120/24 V class 2 transformer, secondary only: volts behind a resistance."""

    name: str
    emf: float = facts.TRANSFORMER_EMF.value  # volts rms, open circuit
    ohms: float = facts.TRANSFORMER_OHMS.value  # source impedance
    dc_ohms: float = facts.TRANSFORMER_DC_OHMS.value
    va: float = facts.TRANSFORMER_VA.value  # nameplate

    @property
    def terminals(self) -> tuple[str, ...]:
        return (f"{self.name}.R", f"{self.name}.C")

    def initial(self) -> TransformerState:
        return TransformerState()

    def branches(self, state: TransformerState, hz: float) -> tuple[Branch, ...]:
        r, c = self.terminals
        if hz == 0:
            return (Branch(f"{self.name}.winding", r, c, self.dc_ohms),)
        return (Branch(f"{self.name}.winding", r, c, self.ohms, emf=self.emf if state.on else 0.0),)


@dataclass(frozen=True, slots=True)
class FuseState:
    """Whether the link has opened."""

    blown: bool = False


@dataclass(frozen=True, slots=True)
class Fuse:
    """A fuse in the R leg with a time-current law. Source: facts.FUSE_CURVE."""

    name: str
    amps: float = facts.FUSE_AMPS.value
    ohms: float = facts.FUSE_OHMS.value
    blown: bool = False  # as found

    @property
    def terminals(self) -> tuple[str, ...]:
        return (f"{self.name}.in", f"{self.name}.out")

    def initial(self) -> FuseState:
        return FuseState(self.blown)

    def start_values(self) -> dict[str, float]:
        return {f"{self.name}.used": 0.0}

    def branches(self, state: FuseState, hz: float) -> tuple[Branch, ...]:
        return (Branch(f"{self.name}.link", *self.terminals, OPEN if state.blown else self.ohms),)

    def laws(self, state: FuseState, amps: Mapping[str, float]) -> dict[str, Law]:
        seconds = math.inf if state.blown else self.seconds_at(amps[f"{self.name}.link"])
        # A fuse that is not being used up cools within a minute or so.
        return {f"{self.name}.used": Approach(0.0, 60.0) if seconds == math.inf else Ramp(1 / seconds)}

    def guards(self, state: FuseState) -> tuple[Guard, ...]:
        return () if state.blown else (Guard(f"{self.name} opens", f"{self.name}.used", 1.0, True),)

    def fired(self, state: FuseState, guard: Guard) -> FuseState:
        return FuseState(blown=True)

    def seconds_at(self, amps: float) -> float:
        """Seconds from cold to open at a steady current; inf below 1.35 times the rating."""
        times = amps / self.amps
        (first, longest), *_, (last, shortest) = facts.FUSE_CURVE
        if times < first:
            return math.inf
        if times >= last:
            return shortest
        for (x0, t0), (x1, t1) in zip(facts.FUSE_CURVE, facts.FUSE_CURVE[1:], strict=False):
            if times < x1:
                return t0 * (t1 / t0) ** (math.log(times / x0) / math.log(x1 / x0))
        return longest


@dataclass(frozen=True, slots=True)
class StatState:
    """Whether the thermostat calls."""

    calling: bool = False


@dataclass(frozen=True, slots=True)
class Stat:
    """A thermostat that needs no supply: a contact in series, R to W."""

    name: str
    ohms: float = facts.STAT_OHMS.value

    @property
    def terminals(self) -> tuple[str, ...]:
        return (f"{self.name}.R", f"{self.name}.W")

    def initial(self) -> StatState:
        return StatState()

    def branches(self, state: StatState, hz: float) -> tuple[Branch, ...]:
        return (Branch(f"{self.name}.contact", *self.terminals, self.ohms if state.calling else OPEN),)


@dataclass(frozen=True, slots=True)
class Splice:
    """A joint of two or more conductors: each way has its own contact resistance to the middle."""

    name: str
    ways: tuple[str, ...] = ("1", "2")
    ohms: tuple[float, ...] = ()  # one a way; empty for a good joint

    @property
    def terminals(self) -> tuple[str, ...]:
        return tuple(f"{self.name}.{way}" for way in self.ways)

    def initial(self) -> None:
        return None

    def branches(self, state: None, hz: float) -> tuple[Branch, ...]:
        each = self.ohms or (facts.SPLICE_OHMS.value / 2,) * len(self.ways)
        return tuple(
            Branch(terminal, terminal, f"{self.name} middle", ohms) for terminal, ohms in zip(self.terminals, each, strict=True)
        )

    def with_way(self, way: str, ohms: float) -> Splice:
        """The same joint with one way at so many ohms, or OPEN; raises ValueError for an unknown way."""
        if way not in self.ways:
            raise ValueError(f"{self.name} has no way {way!r}; it has {list(self.ways)}")
        each = self.ohms or (facts.SPLICE_OHMS.value / 2,) * len(self.ways)
        return replace(self, ohms=tuple(ohms if name == way else z for name, z in zip(self.ways, each, strict=True)))


@dataclass(frozen=True, slots=True)
class ValveState:
    """What a valve's head stands at, besides the temperature of its wax."""

    made: bool = False  # end switch, as the wax drives it
    stroke: float = 0.0  # 0 shut to 1 open, as the wax drives it
    engaged: bool = False  # manual opener
    burnt: bool = False  # heater open for good


@dataclass(frozen=True, slots=True)
class HeatMotorValve:
    """A heat-motor zone valve: heater, wax, spring, end switch, manual opener; three or four leads.

    The wax follows a first-order law toward ambient plus watts times `wax_resistance`. No time of travel is a field.
    Four-wire leads are HA HB (heater) and EA EB (end switch); three-wire leads are H, S (shared) and E.
    """

    name: str
    leads: int = 4  # 3 or 4
    heater_ohms: float = facts.HEATER_OHMS.value
    switch_ohms: float = facts.SWITCH_OHMS.value
    ambient_degC: float = facts.INDOOR_DEGC.value
    wax_resistance: float = facts.WAX_RESISTANCE.value  # K/W
    wax_tau: float = facts.WAX_TAU.value  # s
    end_degC: float = facts.WAX_END_DEGC.value
    heat_share: float = 1.0  # share of the heater's watts that reaches the wax
    charge: float = 1.0  # share of the stroke that the wax still gives; 0 when it is lost
    opener: str = "by hand"  # "by itself", "by hand", "by hand, makes the switch"
    engaged: bool = False  # manual opener as found

    def __post_init__(self) -> None:
        if self.leads not in (3, 4):
            raise ValueError(f"{self.name} has {self.leads!r} leads; a heat-motor valve has 3 or 4")
        if self.opener not in ("by itself", "by hand", "by hand, makes the switch"):
            raise ValueError(f"{self.name} has opener {self.opener!r}")

    @property
    def terminals(self) -> tuple[str, ...]:
        return tuple(f"{self.name}.{lead}" for lead in (("HA", "HB", "EA", "EB") if self.leads == 4 else "HSE"))

    @property
    def heater_pair(self) -> tuple[str, str]:
        """The two leads of the heater."""
        return self.terminals[0], self.terminals[1]

    @property
    def switch_pair(self) -> tuple[str, str]:
        """The two leads of the end switch; a three-wire valve shares S."""
        return self.terminals[-2], self.terminals[-1]

    def initial(self) -> ValveState:
        return ValveState(engaged=self.engaged)

    def start_values(self) -> dict[str, float]:
        return {f"{self.name}.wax": self.ambient_degC}

    def refitted(self, new: HeatMotorValve) -> HeatMotorValve:
        """A new head where this one stands: the surroundings stay."""
        return replace(new, ambient_degC=self.ambient_degC)

    def switch_made(self, state: ValveState) -> bool:
        """Whether the end switch conducts, by the wax or by an opener of the kind that makes it."""
        return state.made or (state.engaged and self.opener == "by hand, makes the switch")

    def opening(self, state: ValveState) -> float:
        """How far the valve lets water through, 0 to 1."""
        return 1.0 if state.engaged else state.stroke * self.charge

    def branches(self, state: ValveState, hz: float) -> tuple[Branch, ...]:
        heater = OPEN if state.burnt else self.heater_ohms
        return (
            Branch(f"{self.name}.heater", *self.heater_pair, heater),
            Branch(f"{self.name}.switch", *self.switch_pair, self.switch_ohms if self.switch_made(state) else OPEN),
        )

    def laws(self, state: ValveState, amps: Mapping[str, float]) -> dict[str, Law]:
        through = amps[f"{self.name}.heater"]
        watts = through**2 * self.heater_ohms * self.heat_share if through else 0.0
        return {f"{self.name}.wax": Approach(self.ambient_degC + watts * self.wax_resistance, self.wax_tau)}

    def guards(self, state: ValveState) -> tuple[Guard, ...]:
        wax = f"{self.name}.wax"
        found = []
        if not state.burnt:
            found.append(Guard(f"{self.name} heater burns open", wax, facts.HEATER_BURNS_DEGC.value, True))
        if self.charge:
            if state.made:
                opens = self.end_degC - facts.WAX_OPENS_BELOW_END.value
                found.append(Guard(f"{self.name} end switch opens", wax, opens, False))
            else:
                found.append(Guard(f"{self.name} end switch makes", wax, self.end_degC, True))
        return tuple(found)

    def fired(self, state: ValveState, guard: Guard) -> ValveState:
        if guard.level == facts.HEATER_BURNS_DEGC.value:
            return replace(state, burnt=True)
        engaged = state.engaged and not (guard.rising and self.opener == "by itself")
        return replace(state, made=guard.rising, engaged=engaged)

    def followed(self, state: ValveState, values: Mapping[str, float]) -> ValveState:
        """The state with the stroke that the wax has now reached, play between opening and closing included."""
        wax = values[f"{self.name}.wax"]
        up = (wax - self.end_degC + facts.WAX_MOVES_BELOW_END.value) / facts.WAX_MOVES_BELOW_END.value
        closes = self.end_degC - facts.WAX_OPENS_BELOW_END.value - facts.WAX_CLOSING_SPAN.value
        down = (wax - closes) / facts.WAX_CLOSING_SPAN.value
        return replace(state, stroke=max(_share(up), min(state.stroke, _share(down))))


@dataclass(frozen=True, slots=True)
class BoilerState:
    """Whether the boiler has power, and whether its input relay is pulled."""

    on: bool = True
    called: bool = False


@dataclass(frozen=True, slots=True)
class Boiler:
    """A boiler's T-T input: its own supply behind a resistance, in series with its input relay."""

    name: str
    emf: float = facts.BOILER_EMF.value
    ohms: float = facts.BOILER_SOURCE_OHMS.value
    dc_ohms: float = facts.BOILER_DC_OHMS.value
    input_ohms: float = facts.BOILER_INPUT_OHMS.value
    water_degC: float = facts.BOILER_WATER_DEGC.value

    @property
    def terminals(self) -> tuple[str, ...]:
        return (f"{self.name}.T1", f"{self.name}.T2")

    def initial(self) -> BoilerState:
        return BoilerState()

    def branches(self, state: BoilerState, hz: float) -> tuple[Branch, ...]:
        inside, (first, second) = f"{self.name} inside", self.terminals
        source = (
            Branch(f"{self.name}.source", first, inside, self.dc_ohms)
            if hz == 0
            else Branch(f"{self.name}.source", first, inside, self.ohms, emf=self.emf if state.on else 0.0)
        )
        return source, Branch(f"{self.name}.input", inside, second, self.input_ohms)

    def settled(self, state: BoilerState, amps: Mapping[str, float]) -> BoilerState:
        """The state once the input relay has answered to its volts: pulls, drops, or keeps what it had."""
        volts = amps[f"{self.name}.input"] * self.input_ohms
        keeps = state.called and volts > facts.BOILER_DROP_VOLTS.value
        return replace(state, called=state.on and (volts >= facts.BOILER_PULL_VOLTS.value or keeps))


Part = Transformer | Fuse | Stat | Splice | HeatMotorValve | Boiler
PartState = TransformerState | FuseState | StatState | ValveState | BoilerState | None


def _share(x: float) -> float:
    return min(1.0, max(0.0, x))
