"""Relays: a coil that pulls its contacts over, and lets them go at a lower voltage than it took."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from ..circuit import OPEN, Branch
from . import facts
from .part import Part, Seen
from .windings import impedance, volts_across

__all__ = ["CONTACTS", "Relay", "RelayState"]

CONTACTS = ("follow", "welded")
"""Whether the contacts of a relay follow its coil; welded ones stay as pulled in."""


@dataclass(frozen=True, slots=True)
class RelayState:
    """Whether a relay is pulled in, and whether its coil has too few volts to be quiet."""

    pulled: bool = False
    buzzing: bool = False


@dataclass(frozen=True, slots=True)
class Relay(Part):
    """A plug-in relay of one or two poles: an isolation relay, or one card of a relay panel.

    The coil is A1 to A2; each pole has COM, NO and NC, numbered when there are two. It pulls in at `pull_volts`, drops
    at `drop_volts`, and between the two keeps what it has and buzzes. An ohmmeter meets `coil_ohms` alone.
    """

    poles: int = 1
    coil_ohms: float = facts.RELAY_OHMS.value  # OPEN for an open coil
    reactance: float = facts.RELAY_REACTANCE.value  # ohm at 60 Hz
    pull_volts: float = facts.RELAY_PULL_VOLTS.value
    drop_volts: float = facts.RELAY_DROP_VOLTS.value
    contact_ohms: float = facts.RELAY_CONTACT_OHMS.value  # NC, made
    no_ohms: float = facts.RELAY_CONTACT_OHMS.value  # NO, made; OPEN for a contact that never conducts
    contacts: str = "follow"  # one of CONTACTS

    answers: ClassVar[bool] = True

    def __post_init__(self) -> None:
        if self.poles not in (1, 2):
            raise ValueError(f"{self.name} has {self.poles!r} poles; a relay here has 1 or 2")
        if self.contacts not in CONTACTS:
            raise ValueError(f"{self.name} has contacts {self.contacts!r}; there are {list(CONTACTS)}")
        if not self.drop_volts < self.pull_volts:
            raise ValueError(f"{self.name} drops at {self.drop_volts!r} V and pulls at {self.pull_volts!r} V; it drops lower")

    @property
    def terminals(self) -> tuple[str, ...]:
        return (*self.coil_pair, *(terminal for pole in range(1, self.poles + 1) for terminal in self.pole(pole)))

    @property
    def coil_pair(self) -> tuple[str, str]:
        """The two terminals of the coil."""
        return f"{self.name}.A1", f"{self.name}.A2"

    def pole(self, number: int = 1) -> tuple[str, str, str]:
        """COM, NO and NC of a pole; raises ValueError for one it has not."""
        if not 1 <= number <= self.poles:
            raise ValueError(f"{self.name} has no pole {number!r}; it has {self.poles}")
        tag = "" if self.poles == 1 else str(number)
        return f"{self.name}.COM{tag}", f"{self.name}.NO{tag}", f"{self.name}.NC{tag}"

    def initial(self) -> RelayState:
        return RelayState()

    def branches(self, state: RelayState, hz: float) -> tuple[Branch, ...]:
        over = state.pulled or self.contacts == "welded"
        found = [Branch(f"{self.name}.coil", *self.coil_pair, impedance(self.coil_ohms, self.reactance, hz))]
        for number in range(1, self.poles + 1):
            common, normally_open, normally_closed = self.pole(number)
            found += [
                Branch(normally_open, common, normally_open, self.no_ohms if over else OPEN),
                Branch(normally_closed, common, normally_closed, OPEN if over else self.contact_ohms),
            ]
        return tuple(found)

    def coil_volts(self, seen: Seen) -> float:
        """Volts rms across the coil; an open coil feels none."""
        return volts_across(seen.amps, f"{self.name}.coil", impedance(self.coil_ohms, self.reactance, seen.hz))

    def settled(self, state: RelayState, seen: Seen) -> RelayState:
        """The state once the coil has answered to its volts."""
        volts = self.coil_volts(seen)
        weak = self.drop_volts < volts < self.pull_volts
        return RelayState(pulled=volts >= self.pull_volts or (weak and state.pulled), buzzing=weak)

    def noticed(self, before: RelayState, after: RelayState) -> tuple[str, ...]:
        told = [] if before.pulled == after.pulled else ["pulls in" if after.pulled else "drops out"]
        if after.buzzing and not before.buzzing:
            told.append("buzzes")
        return tuple(told)
