"""Transformers: volts behind an impedance, how they protect themselves, and the line side that feeds them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import ClassVar

from ..circuit import OPEN, Approach, Branch, Guard, Law
from . import facts
from .part import Part, Seen
from .protection import opening_law

__all__ = ["GROUND", "PROTECTIONS", "Transformer", "TransformerState"]

GROUND = "earth"
"""The building's ground, which bonds and the neutral end at: the same node that every leak ends at."""

PROTECTIONS = ("breaker", "fuse", "inherent", "one-shot")
"""What keeps a short from burning a transformer: its own breaker, a fuse outside, its impedance, a link in its primary."""

SPLIT_ABOVE = 130.0  # V; more than this is two legs against each other, each at half the volts to ground
JOINT_REMAKES = 0.3  # share of the heat that parted a loose feed joint at which it touches again; source: model
NO_VOLTS = 0.01  # V; less than this on a dead primary is stray and not worth a state of its own


@dataclass(frozen=True, slots=True)
class TransformerState:
    """What can change in a transformer without a tool, and the damage that stays."""

    on: bool = True  # the switch of its own feed
    opened: bool = False  # the one-shot in its primary, for good
    tripped: bool = False  # its breaker, until it is reset
    fed_back: float = 0.0  # V on its tap while its own feed is off and another supply drives its secondary
    unfed: bool = False  # the switch that its feed hangs on is off
    parted: bool = False  # a loose joint in its feed, by the warmth of the box
    moved: bool = False  # the same joint, by a nudge; the next one joins it


@dataclass(frozen=True, slots=True)
class Transformer(Part):
    """A class 2 transformer: secondary volts behind a source impedance, R against C.

    The volts follow line over tap. With the feed off or the primary open the secondary is a choke. The line side joins the
    network when `line_side` says so: panel side L, common lead P0 and a lead for each tap (P120, P208), spare ones live. It
    shows true volts and ohms; its amperes are those of no load, for the load's are not mirrored in it.
    """

    emf: float = facts.TRANSFORMER_EMF.value  # volts rms, open circuit, with a tap's own volts on that tap
    ohms: float = facts.TRANSFORMER_OHMS.value  # source impedance to a resistive load
    dc_ohms: float = facts.TRANSFORMER_DC_OHMS.value  # secondary
    va: float = facts.TRANSFORMER_VA.value  # nameplate
    rated_volts: float = facts.TRANSFORMER_VOLTS.value  # nameplate, at rated load
    protection: str = "fuse"  # one of PROTECTIONS
    breaker_amps: float = facts.BREAKER_AMPS.value  # where it has its own
    tripped: bool = False  # breaker as found
    one_shot_open: bool = False  # as found
    taps: tuple[float, ...] = (120.0,)  # rated volts of each primary lead against the common one, rising
    tap: float = 120.0  # the lead that the line is on
    bare: tuple[float, ...] = ()  # unused leads without a cap
    line_volts: float = facts.LINE_VOLTS.value
    line_hz: float = 60.0
    rated_hz: float = 60.0  # lowest frequency that the core is made for
    no_load_watts: float = facts.NO_LOAD_WATTS.value
    primary_dc_ohms: float = facts.PRIMARY_DC_OHMS.value  # first tap against common
    feed_on: bool = True  # switch as found
    feed_open: bool = False  # a joint between the switch and the primary lead
    feed_parts: float = math.inf  # heat, of that at rated load, at which that joint parts; below infinity a nudge parts it too
    fed_through: str = ""  # the switch of something else that its feed hangs on
    primary_open: bool = False  # winding
    secondary_open: bool = False  # winding
    reversed: bool = False  # the line was landed on its secondary, and one moment of that destroyed both windings
    shorted_turns: float = 0.0  # share of the secondary's turns
    opposed: bool = False  # leads or leg such that the secondary stands against the others'
    grounded: bool = False  # C bonded to ground
    line_side: bool = False  # whether probes reach the primary leads

    answers: ClassVar[bool] = True

    def __post_init__(self) -> None:
        if self.protection not in PROTECTIONS:
            raise ValueError(f"{self.name} has protection {self.protection!r}; there are {list(PROTECTIONS)}")
        if not self.taps or list(self.taps) != sorted(set(self.taps)) or self.taps[0] <= 0:
            raise ValueError(f"{self.name} has taps {self.taps!r}; give volts above zero in rising order")
        if self.tap not in self.taps:
            raise ValueError(f"{self.name} has its line on tap {self.tap!r}; there are {list(self.taps)}")
        if not set(self.bare) <= set(self.taps) - {self.tap}:
            raise ValueError(f"{self.name} has bare leads {self.bare!r}; unused are {list(self.spare_taps)}")
        for field in ("va", "rated_volts", "line_volts", "line_hz", "rated_hz", "no_load_watts", "primary_dc_ohms"):
            if not 0 < getattr(self, field) < math.inf:
                raise ValueError(f"{self.name} has {field} {getattr(self, field)!r}; give a number above zero")
        if not 0 <= self.shorted_turns < 1:
            raise ValueError(f"{self.name} has shorted turns {self.shorted_turns!r}; give a share from 0 to below 1")

    @classmethod
    def from_nameplate(
        cls,
        name: str,
        va: float,
        rated_volts: float = facts.TRANSFORMER_VOLTS.value,
        regulation: float = 0.146,
        **others: object,
    ) -> Transformer:
        """A transformer that gives its rated volts at its rated resistive load and rises by `regulation` without load.

        `regulation` is (no load - full load) / full load. One that is inherently limited spends part of it on its leakage
        reactance; raises ValueError where nothing is left for the winding's ohms, as with big sizes.
        """
        emf, amps = rated_volts * (1 + regulation), va / rated_volts
        ohms = (emf - rated_volts) / amps
        short = emf / facts.CLASS_2_AMPS.value
        if others.get("protection") == "inherent" and ohms < short:
            # the whole impedance is `short`; what is not winding is reactance, at right angles to it
            ohms = (emf**2 - rated_volts**2 - (amps * short) ** 2) / (2 * rated_volts * amps)
        if ohms <= 0:
            raise ValueError(
                f"{va:g} VA with {regulation:.1%} regulation cannot hold a short to {facts.CLASS_2_AMPS.value:g} A by itself; "
                f"choose another protection of {list(PROTECTIONS)}"
            )
        return cls(name, emf=emf, ohms=ohms, va=va, rated_volts=rated_volts, **others)

    @property
    def terminals(self) -> tuple[str, ...]:
        own = (f"{self.name}.R", f"{self.name}.C")
        ahead = (f"{self.name}.X",) if self.protection == "breaker" else ()
        return own + ahead + ((*self._leads(), f"{self.name}.L") if self.line_side else ())

    @property
    def secondary_pair(self) -> tuple[str, str]:
        """R and C, whatever other terminals there are."""
        return self.terminals[0], self.terminals[1]

    @property
    def rated_amps(self) -> float:
        """Nameplate amperes of the secondary."""
        return self.va / self.rated_volts

    @property
    def spare_taps(self) -> tuple[float, ...]:
        """The primary leads that the line is not on: live all the same, and to be capped one by one."""
        return tuple(tap for tap in self.taps if tap != self.tap)

    @property
    def open_volts(self) -> float:
        """Volts of the fed secondary without a load; linear, where a real core far above its tap saturates."""
        return abs(self.emf) * (1 - self.shorted_turns) * self.line_volts / self.tap

    @property
    def leakage_ohms(self) -> float:
        """Reactance at 60 Hz with which an inherently limited unit holds a dead short to 8 A; else none."""
        if self.protection != "inherent":
            return 0.0
        return math.sqrt(max(0.0, (self.emf / facts.CLASS_2_AMPS.value) ** 2 - self.ohms**2))

    @property
    def no_load(self) -> complex:
        """Watts and vars that the fed primary takes without a load: core, and a ring of shorted turns."""
        flux = self.line_volts / self.tap * self.rated_hz / self.line_hz
        pf = facts.SHORTED_TURNS_POWER_FACTOR.value
        ring = facts.SHORTED_TURNS_TIMES.value * self.va * self.shorted_turns * complex(pf, math.sqrt(1 - pf**2))
        return self._core * flux**facts.CORE_EXPONENT.value + ring * (self.line_volts / self.tap) ** 2

    def case_degC(self, heat: float, ambient_degC: float = facts.INDOOR_DEGC.value) -> float:
        """Temperature of a fed transformer's case at a heat (1 is that of rated load); 40 to 60 degC is normal."""
        watts = self.no_load_watts + heat * self.rated_amps**2 * self.ohms
        return ambient_degC + facts.CASE_RESISTANCE.value * watts

    def energised(self, state: TransformerState) -> bool:
        """Whether the line drives the core."""
        return self._fed(state) and not self._primary_open(state)

    def nudged(self, state: TransformerState, values: Mapping[str, float]) -> TransformerState:
        """The state after a nudge at its box."""
        return replace(state, moved=not state.moved) if self.feed_parts < math.inf else state

    def refitted(self, new: Transformer) -> Transformer:
        """A new transformer on the same feed: line, switch, joint and bond stay."""
        place = ("line_volts", "line_hz", "feed_on", "feed_open", "feed_parts", "fed_through", "grounded")
        return replace(new, **{name: getattr(self, name) for name in place})

    def initial(self) -> TransformerState:
        gone = self.protection == "one-shot" and self._idle_heat >= facts.ONE_SHOT_OPENS.value
        return TransformerState(on=self.feed_on, opened=self.one_shot_open or gone, tripped=self.tripped)

    def start_values(self) -> dict[str, float]:
        values = {f"{self.name}.heat": self._idle_heat if self.energised(self.initial()) else 0.0}
        return values | ({f"{self.name}.used": 0.0} if self.protection == "breaker" else {})

    def branches(self, state: TransformerState, hz: float) -> tuple[Branch, ...]:
        r, c = f"{self.name}.R", f"{self.name}.C"
        live = hz > 0 and self.energised(state)
        volts = self.open_volts * (-1 if self.opposed else 1) * math.copysign(1, self.emf) if live else 0.0
        z = OPEN if self.secondary_open or self.reversed else self._secondary_z(hz, live)
        if self.protection == "breaker":
            x = f"{self.name}.X"
            breaker = OPEN if state.tripped else facts.BREAKER_OHMS.value
            found = [Branch(f"{self.name}.winding", x, c, z, volts), Branch(f"{self.name}.breaker", x, r, breaker)]
        else:
            found = [Branch(f"{self.name}.winding", r, c, z, volts)]
        if self.grounded:
            found.append(Branch(f"{self.name}.bond", c, GROUND, facts.BOND_OHMS.value))
        return (*found, *self._line(state, hz)) if self.line_side else tuple(found)

    def settled(self, state: TransformerState, seen: Seen) -> TransformerState:
        """The state with its feed as another switch has it, and the volts that a driven secondary puts on a dead primary."""
        unfed = bool(self.fed_through) and not seen.parts[self.fed_through].on
        if unfed != state.unfed:
            return replace(state, unfed=unfed)
        if self.energised(state) or self.secondary_open or self._primary_open(state):
            volts = 0.0
        else:
            inner = seen.amps[f"{self.name}.winding"] * abs(self._core_z(self.emf, self.line_hz))
            volts = inner / abs(self.emf) * self.tap
        # No core carries much more than its tap is made for; wired to its own primary it would otherwise climb for ever.
        volts = min(volts, 2 * self.tap) if volts > NO_VOLTS else 0.0
        return state if math.isclose(volts, state.fed_back, rel_tol=1e-6) else replace(state, fed_back=volts)

    def laws(self, state: TransformerState, seen: Seen) -> dict[str, Law]:
        share = (seen.amps[f"{self.name}.winding"] / self.rated_amps) ** 2
        target = share + (self._idle_heat if self.energised(state) else 0.0)
        found: dict[str, Law] = {f"{self.name}.heat": Approach(target, facts.TRANSFORMER_HEAT_TAU.value)}
        if self.protection == "breaker":
            found[f"{self.name}.used"] = opening_law(seen.amps[f"{self.name}.breaker"] / self.breaker_amps)
        return found

    def guards(self, state: TransformerState) -> tuple[Guard, ...]:
        heat, found = f"{self.name}.heat", []
        if self.protection == "one-shot" and not state.opened:
            found.append(Guard(f"{self.name} one-shot opens", heat, facts.ONE_SHOT_OPENS.value, True, self.name))
        if self.protection == "breaker" and not state.tripped:
            found.append(Guard(f"{self.name} breaker trips", f"{self.name}.used", 1.0, True, self.name))
        if self.feed_parts < math.inf:
            what, level = ("touches again", JOINT_REMAKES) if state.parted else ("parts", 1.0)
            name = f"{self.name} feed joint {what}"
            found.append(Guard(name, heat, level * self.feed_parts, not state.parted, self.name))
        return tuple(found)

    def fired(self, state: TransformerState, guard: Guard) -> TransformerState:
        if "feed joint" in guard.name:
            return replace(state, parted=guard.rising)
        return replace(state, opened=True) if self.protection == "one-shot" else replace(state, tripped=True)

    def reset(self, state: TransformerState) -> TransformerState:
        """The state after its breaker's button has been pushed in; raises ValueError where there is none."""
        if self.protection != "breaker":
            raise ValueError(f"{self.name} has no breaker to reset; its protection is {self.protection!r}")
        return replace(state, tripped=False)

    @property
    def _core(self) -> complex:
        """Watts and vars of the core at its tap's own volts and rated frequency."""
        return complex(self.no_load_watts, facts.MAGNETISING_SHARE.value * self.va)

    @property
    def _idle_heat(self) -> float:
        """Heat beyond a healthy core's, without a load, in units of the heat of rated load."""
        extra = self.no_load.real - self.no_load_watts
        return max(0.0, extra / (self.rated_amps**2 * self.ohms))

    def _fed(self, state: TransformerState) -> bool:
        """Whether the line reaches the primary leads."""
        apart = self.feed_parts < math.inf and (state.parted or state.moved)
        return state.on and not (state.unfed or self.feed_open or apart)

    def _primary_open(self, state: TransformerState) -> bool:
        return self.primary_open or self.reversed or state.opened

    def _core_z(self, volts: float, hz: float) -> complex:
        z = volts**2 / self._core.conjugate()
        return complex(z.real, z.imag * hz / 60)

    def _secondary_z(self, hz: float, live: bool) -> complex:
        if hz == 0:
            return self.dc_ohms
        ohms = self.ohms / (1 - self.shorted_turns) ** facts.SHORTED_TURNS_EXPONENT.value
        z = complex(ohms, self.leakage_ohms * hz / 60) if self.leakage_ohms else ohms
        return z if live else z + self._core_z(self.emf, hz)

    def _leads(self) -> tuple[str, ...]:
        return tuple(f"{self.name}.P{volts:g}" for volts in (0.0, *self.taps))

    def _line(self, state: TransformerState, hz: float) -> list[Branch]:
        """Panel, switch and primary: each section of the winding between two leads is a branch."""
        common, hot = f"{self.name}.P0", f"{self.name}.L"
        volts, ohms, bond = self.line_volts if hz else 0.0, facts.LINE_OHMS.value, facts.BOND_OHMS.value
        if self.line_volts > SPLIT_ABOVE:
            other = ohms / 2 if state.on else OPEN  # its switch has two poles
            found = [
                Branch(f"{self.name}.line", hot, GROUND, ohms / 2, volts / 2),
                Branch(f"{self.name}.other leg", common, GROUND, other, -volts / 2),
            ]
        else:
            found = [
                Branch(f"{self.name}.line", hot, common, ohms, volts),
                Branch(f"{self.name}.neutral", common, GROUND, bond),
            ]
        used = f"{self.name}.P{self.tap:g}"
        found.append(Branch(f"{self.name}.feed", hot, used, facts.ZERO_OHMS.value if self._fed(state) else OPEN))
        return found + self._primary(state, hz)

    def _primary(self, state: TransformerState, hz: float) -> list[Branch]:
        """Sections that the line drives are chokes; all others are driven by the core and stand behind their ohms."""
        live, broken = self.energised(state), self._primary_open(state)
        driven = self.line_volts if live else state.fed_back
        found, before = [], 0.0
        for number, (volts, a, b) in enumerate(zip(self.taps, self._leads()[1:], self._leads(), strict=False)):
            name, turns = f"{self.name}.primary {volts:g}", (volts - before) / self.tap
            dc = self._primary_ohms(volts) - self._primary_ohms(before)
            if broken and number == 0:
                branch = Branch(name, a, b, OPEN)
            elif hz == 0 or broken:
                branch = Branch(name, a, b, dc)
            elif volts <= self.tap and not state.fed_back:
                branch = Branch(name, a, b, self._primary_z(live, hz) * turns)
            else:
                branch = Branch(name, a, b, dc, driven * turns)
            found.append(branch)
            before = volts
        return found

    def _primary_ohms(self, volts: float) -> float:
        return self.primary_dc_ohms * (volts / self.taps[0]) ** facts.PRIMARY_OHMS_EXPONENT.value

    def _primary_z(self, live: bool, hz: float) -> complex:
        """What the line meets between common and tap; its turns are coupled, so each section has its share."""
        return self.line_volts**2 / self.no_load.conjugate() if live else self._core_z(self.tap, hz)
