"""What all zone valves share: a body that water passes, a manual opener, and an end switch; whatever drives the head."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import ClassVar

from ..circuit import OPEN, Branch
from . import facts
from .part import Part, Seen
from .transformers import GROUND

__all__ = ["OPENERS", "STEMS", "SWITCHES", "Valve", "ValveState"]

OPENERS = ("by itself", "by hand", "by hand, makes the switch")
"""How a manual opener is released, and whether it makes the end switch while it is engaged."""

STEMS = ("free", "stuck shut", "stuck open")
"""What the stem in the body may be."""

SWITCHES = ("follows", "open", "welded", "none")
"""Whether the contact of an end switch follows the head; "none" is a head that came without one, in place of one with."""


@dataclass(frozen=True, slots=True)
class ValveState:
    """What a valve stands at, besides the variable that drives it."""

    made: bool = False  # end switch, as the head drives it
    stroke: float = 0.0  # 0 shut to 1 open, what the head does
    engaged: bool = False  # manual opener
    burnt: bool = False  # heater or motor open for good
    opening: float = 0.0  # how far water can pass, 0 to 1
    lifted: bool = False  # off its seat, as the head drives it
    flow: float = 0.0  # share of full flow that it lets through: full as soon as it is off its seat
    parted: bool = False  # the end switch's contact has been pulled apart by heat


@dataclass(frozen=True, slots=True, kw_only=True)
class Valve(Part):
    """A zone valve as wires, water and hands meet it. Kinds add the drive.

    Leads are HA HB (heater or motor) and EA EB (end switch), or H, S (shared) and E. A valve of two leads has no end
    switch. Water sees `opening` and `flow` of the state; the head's own travel is `stroke`. Source: common practice.
    """

    leads: int = field(default=4, kw_only=False)
    switch_ohms: float = facts.SWITCH_OHMS.value  # the contact, made
    dry_ohms: float = 0.0  # more of it, at the few milliamperes of an ohmmeter or a sensing board: oxide
    switch: str = "follows"  # one of SWITCHES
    ambient_degC: float = facts.INDOOR_DEGC.value
    opener: str = "by hand"  # one of OPENERS
    engaged: bool = False  # manual opener as found
    stem: str = "free"  # one of STEMS
    latched: bool = True  # the head sits on the body
    leak: float = 0.0  # share of full flow that passes the shut seat
    backwards: bool = False  # the body stands in the pipe against its arrow
    weeps: bool = False  # water comes out past the stem
    slips: bool = False  # a nudge moves the manual opener
    nameplate_volts: float = facts.TRANSFORMER_VOLTS.value  # what the head says it is made for
    body: bool = False  # whether the metal body is a place to probe
    pipe_ohms: float = facts.BOND_OHMS.value  # from the body by way of metal pipe to ground; OPEN for plastic pipe

    LEADS: ClassVar[Mapping[int, tuple[str, ...]]] = {2: ("HA", "HB"), 3: ("H", "S", "E"), 4: ("HA", "HB", "EA", "EB")}

    def __post_init__(self) -> None:
        if self.leads not in self.LEADS:
            raise ValueError(f"{self.name} has {self.leads!r} leads; a {type(self).__name__} has one of {list(self.LEADS)}")
        for what, known in (("opener", OPENERS), ("stem", STEMS), ("switch", SWITCHES)):
            if getattr(self, what) not in known:
                raise ValueError(f"{self.name} has {what} {getattr(self, what)!r}; there are {list(known)}")
        if not 0 <= self.leak <= 1:
            raise ValueError(f"{self.name} has leak {self.leak!r}; it is a share of full flow, 0 to 1")

    @property
    def terminals(self) -> tuple[str, ...]:
        return tuple(f"{self.name}.{lead}" for lead in (*self.LEADS[self.leads], *(("body",) if self.body else ())))

    @property
    def drive_pair(self) -> tuple[str, str]:
        """The two leads that open the valve when they are powered."""
        first, second, *_ = self.LEADS[self.leads]
        return f"{self.name}.{first}", f"{self.name}.{second}"

    @property
    def switch_pair(self) -> tuple[str, str] | None:
        """The two leads of the end switch, None where there is none; a three-wire valve shares S."""
        if self.leads == 2:
            return None
        return (f"{self.name}.S", f"{self.name}.E") if self.leads == 3 else (f"{self.name}.EA", f"{self.name}.EB")

    @property
    def free(self) -> bool:
        """Whether the head can travel: the stem gives, or the head is not on it."""
        return self.stem != "stuck shut" or not self.latched

    def refitted(self, new: Valve) -> Valve:
        """A new head where this one stands: the surroundings, the body and what is wrong inside it stay."""
        body = {name: getattr(self, name) for name in ("ambient_degC", "stem", "leak", "backwards", "weeps")}
        return replace(new, **body)

    def reseated(self) -> Valve:
        """The same head on a body whose stem is free and tight and whose seat is clean; one that stands backwards still leaks."""
        return replace(self, stem="free", weeps=False, leak=self.leak if self.backwards else 0.0)

    def seated(self) -> Valve:
        """The same valve with its head latched on the body."""
        return replace(self, latched=True)

    def nudged(self, state: ValveState, values: Mapping[str, float]) -> ValveState:
        """The state after a nudge, which moves an opener that slips."""
        return self.passed(replace(state, engaged=not state.engaged)) if self.slips else state

    @property
    def shutting(self) -> str:
        """What the moment of shutting is called: flow against the arrow slams the last of it. Source: common practice."""
        return "bangs shut" if self.backwards else "is shut"

    def switch_made(self, state: ValveState) -> bool:
        """Whether the end switch conducts: driven by the head, by an opener of the kind that makes it, or welded."""
        if self.switch != "follows":
            return self.switch == "welded"
        driven = state.made or (state.engaged and self.opener == "by hand, makes the switch")
        return driven and not state.parted

    def switch_branches(self, state: ValveState, hz: float) -> tuple[Branch, ...]:
        """The end switch as a branch; none for a valve without one."""
        if self.switch_pair is None:
            return ()
        made = self.switch_ohms + (self.dry_ohms if hz == 0 else 0.0)
        return (Branch(f"{self.name}.switch", *self.switch_pair, made if self.switch_made(state) else OPEN),)

    def body_branches(self) -> tuple[Branch, ...]:
        """The way from the metal body to ground, where the body has a part in the circuit or can be probed."""
        return (Branch(f"{self.name}.pipe", f"{self.name}.body", GROUND, self.pipe_ohms),) if self.body else ()

    def contact_watts(self, state: ValveState, seen: Seen) -> float:
        """Watts of heat in the contact of the end switch."""
        return seen.amps[f"{self.name}.switch"] ** 2 * self.switch_ohms if self.switch_pair and self.switch_made(state) else 0.0

    def opening(self, state: ValveState) -> float:
        """How far the valve lets water through, 0 to 1."""
        return self._let_through(1.0 if state.engaged else state.stroke)

    def passed(self, state: ValveState) -> ValveState:
        """The state with what water sees of it."""
        flow, opening = self._let_through(1.0 if state.engaged or state.lifted else 0.0), self.opening(state)
        if flow == state.flow and opening == state.opening:
            return state  # the same object, so that whoever remembers it knows it again
        return replace(state, opening=opening, flow=flow)

    def _let_through(self, head: float) -> float:
        if self.stem == "stuck open":
            return 1.0
        if self.stem == "stuck shut" or not self.latched:
            return self.leak
        return max(self.leak, head)
