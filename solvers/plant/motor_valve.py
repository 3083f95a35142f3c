"""Motor-driven zone valves: those that a spring shuts, and those that a second winding shuts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import ClassVar

from ..circuit import OPEN, Branch, Guard, Law, Ramp
from . import facts
from .part import Seen
from .stroke import share
from .valves import Valve, ValveState
from .windings import ageing, impedance, volts_across

__all__ = ["MotorState", "MotorValve", "OpenCloseValve", "SpringReturnValve"]


@dataclass(frozen=True, slots=True)
class MotorState(ValveState):
    """What a motor-driven valve stands at, besides its travel."""

    drive: str = "resting"  # "opening", "holding", "shutting" or "resting"
    cam: str = ""  # the winding that a cam has taken off at its end of the travel, "open" or "shut"


@dataclass(frozen=True, slots=True, kw_only=True)
class MotorValve(Valve):
    """What motor-driven valves share: a travel from 0 to 1 at a constant rate, and windings that over-voltage burns.

    The switch makes at 0.9 of the travel and opens at 0.8. Synchronous motors run with the line: at 50 Hz they take a
    fifth longer, and as their reactance is less they draw more. Source: typical, from memory; model.
    """

    motor_ohms: float = facts.MOTOR_OHMS.value  # OPEN for an open winding
    reactance: float = facts.MOTOR_REACTANCE.value  # ohm at 60 Hz
    dc_ohms: float = facts.MOTOR_DC_OHMS.value
    opens_s: float = facts.MOTOR_OPENS_S.value  # shut to open at 60 Hz
    gear: float = 1.0  # share of the motor's travel that its gear passes on; 0 when it is stripped
    found: float = 0.0  # where it stands as found, 0 shut to 1 open

    answers: ClassVar[bool] = True

    def initial(self) -> MotorState:
        made = self.found >= facts.MOTOR_SWITCH_MAKES_AT.value
        at_rest = MotorState(made=made, stroke=self.found, engaged=self.engaged, lifted=self.found > 0)
        return self.passed(at_rest)

    def start_values(self) -> dict[str, float]:
        return {f"{self.name}.travel": self.found, f"{self.name}.used": 0.0}

    def windings(self) -> tuple[str, ...]:
        """The names of the windings' branches."""
        return (f"{self.name}.motor",)

    def winding_ohms(self, hz: float) -> complex:
        """Impedance of one winding at a frequency; its resistance to an ohmmeter."""
        if hz == 0:
            return OPEN if self.motor_ohms == OPEN else self.dc_ohms
        return impedance(self.motor_ohms, self.reactance, hz)

    def felt(self, winding: str, seen: Seen) -> float:
        """Volts rms across a winding as its amperes tell them."""
        return volts_across(seen.amps, winding, self.winding_ohms(seen.hz))

    def hums(self, state: MotorState) -> bool:
        """Whether its motor is powered enough to be heard, turning or stalled."""
        return state.drive != "resting" and not (state.drive == "shutting" and len(self.windings()) == 1)

    def rate(self, state: MotorState, seen: Seen) -> float:
        """Travel a second, positive toward open."""
        raise TypeError(f"{type(self).__name__} does not say how fast it travels")

    def laws(self, state: MotorState, seen: Seen) -> dict[str, Law]:
        most = max(self.felt(winding, seen) for winding in self.windings())
        at_end = state.stroke >= 1 if state.drive == "opening" else state.stroke <= 0
        rate = self.rate(state, seen) if self.free and not at_end else 0.0
        return {f"{self.name}.travel": Ramp(rate), f"{self.name}.used": ageing(most, facts.MOTOR_BURNS_VOLTS.value)}

    def guards(self, state: MotorState) -> tuple[Guard, ...]:
        found = [] if state.burnt else [Guard(f"{self.name} motor burns open", f"{self.name}.used", 1.0, True, self.name)]
        if state.made:
            found.append(self._at_travel(self._words("opens"), facts.MOTOR_SWITCH_OPENS_AT.value, False))
        else:
            found.append(self._at_travel(self._words("makes"), facts.MOTOR_SWITCH_MAKES_AT.value, True))
        if state.drive == "opening" and state.stroke < 1:
            found.append(self._at_travel("is fully open", 1.0, True))
        if state.drive == "shutting" and state.lifted:
            found.append(self._at_travel(self.shutting, 0.0, False))
        return tuple(found)

    def fired(self, state: MotorState, guard: Guard) -> MotorState:
        if guard.variable == f"{self.name}.used":
            return replace(state, burnt=True)
        happening = guard.name.removeprefix(f"{self.name} ")
        if happening == "is fully open":
            return replace(state, engaged=state.engaged and self.opener != "by itself")
        if happening == self.shutting:
            return replace(state, lifted=False)
        return replace(state, made=guard.rising)

    def followed(self, state: MotorState, values: Mapping[str, float]) -> MotorState:
        """The state with the travel that the motor or spring has now reached."""
        return self.passed(replace(state, stroke=share(values[f"{self.name}.travel"])))

    def driven(self, state: MotorState, drive: str) -> MotorState:
        """The state with its motor doing something else; one that begins to open leaves its seat at once."""
        lifted = state.lifted or (drive == "opening" and self.free and self.gear > 0)
        return self.passed(replace(state, drive=drive, lifted=lifted))

    def _words(self, what: str) -> str:
        return f"end switch {what}" if self.switch_pair else {"makes": "is nearly open", "opens": "begins to shut"}[what]

    def _at_travel(self, happening: str, level: float, rising: bool) -> Guard:
        return Guard(f"{self.name} {happening}", f"{self.name}.travel", level, rising, self.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class SpringReturnValve(MotorValve):
    """A motor that winds the valve open and stalls there, drawing as much as before, and a spring that shuts it.

    From 19 V it drives, from 16 V it holds and hums, below that the spring wins. The spring does not ask for the
    line's frequency.
    """

    shuts_s: float = facts.MOTOR_SHUTS_S.value  # open to shut, by the spring
    spring: float = 1.0  # share of the spring's rate that is left; 0 when it is broken

    def branches(self, state: MotorState, hz: float) -> tuple[Branch, ...]:
        z = OPEN if state.burnt else self.winding_ohms(hz)
        return (Branch(f"{self.name}.motor", *self.drive_pair, z), *self.body_branches(), *self.switch_branches(state, hz))

    def settled(self, state: MotorState, seen: Seen) -> MotorState:
        """The state once the motor has answered to its volts: drives, holds, or lets the spring have it."""
        volts = self.felt(f"{self.name}.motor", seen)
        drives, holds = volts >= facts.MOTOR_DRIVES_VOLTS.value, volts >= facts.MOTOR_HOLDS_VOLTS.value
        drive = "opening" if drives else "holding" if holds else "shutting" if state.lifted else "resting"
        return self.driven(state, drive)

    def rate(self, state: MotorState, seen: Seen) -> float:
        if state.drive == "opening":
            return self.gear * seen.hz / 60 / self.opens_s
        return -self.spring / self.shuts_s if state.drive == "shutting" else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenCloseValve(MotorValve):
    """A valve with one winding to open it and one to shut it; without power it stays where it is.

    HA to HB opens, HC to HB shuts; a cam takes either winding off at its end and puts it on again a little way back. It
    needs a double-throw control: a plain two-wire thermostat opens it and never shuts it. With six leads it has a
    double-throw switch: EA to EB made when it is open, EA to EC made when it is not.
    """

    leads: int = 6
    motor_ohms: float = facts.REVERSING_OHMS.value
    reactance: float = facts.REVERSING_REACTANCE.value
    dc_ohms: float = facts.REVERSING_DC_OHMS.value
    opens_s: float = facts.REVERSING_TRAVEL_S.value  # and as long to shut

    LEADS: ClassVar[Mapping[int, tuple[str, ...]]] = {3: ("HA", "HB", "HC"), 6: ("HA", "HB", "HC", "EA", "EB", "EC")}

    @property
    def shut_pair(self) -> tuple[str, str]:
        """The two leads that shut the valve when they are powered."""
        return f"{self.name}.HC", f"{self.name}.HB"

    @property
    def switch_pair(self) -> tuple[str, str] | None:
        return (f"{self.name}.EA", f"{self.name}.EB") if self.leads == 6 else None

    def initial(self) -> MotorState:
        return replace(MotorValve.initial(self), cam={0.0: "shut", 1.0: "open"}.get(self.found, ""))

    def guards(self, state: MotorState) -> tuple[Guard, ...]:
        off = facts.REVERSING_CAM.value
        cams = []
        if state.cam == "open" and state.drive == "shutting":
            cams.append(self._at_travel("cam lets the opening winding in", 1 - off, False))
        if state.cam == "shut" and state.drive == "opening":
            cams.append(self._at_travel("cam lets the shutting winding in", off, True))
        return (*MotorValve.guards(self, state), *cams)

    def fired(self, state: MotorState, guard: Guard) -> MotorState:
        happening = guard.name.removeprefix(f"{self.name} ")
        if happening.startswith("cam"):
            return replace(state, cam="")
        after = MotorValve.fired(self, state, guard)
        return replace(after, cam={"is fully open": "open", self.shutting: "shut"}.get(happening, state.cam))

    def windings(self) -> tuple[str, ...]:
        return f"{self.name}.motor open", f"{self.name}.motor shut"

    def branches(self, state: MotorState, hz: float) -> tuple[Branch, ...]:
        whole = OPEN if state.burnt else self.winding_ohms(hz)
        opens, shuts = self.windings()
        found = [
            Branch(opens, *self.drive_pair, OPEN if state.cam == "open" else whole),
            Branch(shuts, *self.shut_pair, OPEN if state.cam == "shut" else whole),
            *self.body_branches(),
            *self.switch_branches(state, hz),
        ]
        if self.switch_pair:
            away = OPEN if state.made or self.switch == "welded" else self.switch_ohms
            found.append(Branch(f"{self.name}.switch shut", f"{self.name}.EA", f"{self.name}.EC", away))
        return tuple(found)

    def settled(self, state: MotorState, seen: Seen) -> MotorState:
        """The state once the windings have answered: both at once stall it, and less than enough only hums."""
        opens, shuts = (self.felt(winding, seen) for winding in self.windings())
        enough, hums = facts.MOTOR_DRIVES_VOLTS.value, facts.MOTOR_HOLDS_VOLTS.value
        if max(opens, shuts) < hums:
            return self.driven(state, "resting")
        if (opens >= hums and shuts >= hums) or max(opens, shuts) < enough:
            return self.driven(state, "holding")
        return self.driven(state, "opening" if opens > shuts else "shutting")

    def rate(self, state: MotorState, seen: Seen) -> float:
        way = {"opening": 1, "shutting": -1}.get(state.drive, 0)
        return way * self.gear * seen.hz / 60 / self.opens_s
