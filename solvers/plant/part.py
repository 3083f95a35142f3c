"""What every part of the plant can be asked; a part that does not move keeps these answers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar

from ..circuit import Branch, Guard, Law

__all__ = ["Part", "PartState", "Seen"]

PartState = object
"""A frozen dataclass of the part's own, or None for a part without a state."""


@dataclass(frozen=True, slots=True)
class Seen:
    """What a part feels of the rest of the plant at one moment."""

    amps: Mapping[str, float]  # A rms in every branch at line frequency
    direct_amps: Mapping[str, float]  # A in every branch of direct current, for inputs that a board senses
    parts: Mapping[str, PartState]  # the state of every part
    values: Mapping[str, float]  # every variable: degC, shares, seconds
    laws: Mapping[str, Law] = field(default_factory=dict)  # those found so far, of parts in an earlier tier
    emitting: Mapping[str, float] = field(default_factory=dict)  # loop -> share of full output that its emitters give
    hz: float = 60.0  # line frequency


@dataclass(frozen=True, slots=True)
class Part:
    """A part by name, with its terminals `name.terminal`.

    `branches` are its own, for a frequency: an ohmmeter sees hz = 0. `laws` say how its variables move, `guards` what
    happens when one reaches a level, `fired` what state follows. `followed` brings up to date what merely follows the
    variables, `settled` what answers at once to volts and amperes, as relays do. Parts of a later tier see the laws of
    those before: water is tier 0, loops 1, rooms 2, thermostats 3.
    """

    name: str

    tier: ClassVar[int] = 0
    answers: ClassVar[bool] = False  # whether `settled` ever moves it
    direct: ClassVar[bool] = False  # whether it puts direct current on the wires
    hidden: ClassVar[bool] = False  # whether its terminals are no places for a probe

    @property
    def terminals(self) -> tuple[str, ...]:
        """Where conductors can be landed."""
        return ()

    def holds(self, terminal: str) -> int:
        """How many conductors a terminal takes."""
        return 2

    def refitted(self, new: Part) -> Part:
        """A new part in this one's place: what belongs to the place stays."""
        return new

    def settings(self) -> Mapping[str, tuple]:
        """What can be set on it without a tool, each with the values it can be set to."""
        return {}

    def with_setting(self, name: str, value: object) -> Part:
        """The same part with one thing set; raises ValueError with the choices."""
        choices = self.settings()
        if name not in choices:
            raise ValueError(f"{self.name} has no setting {name!r}; there are {list(choices)}")
        if value not in choices[name]:
            raise ValueError(f"{self.name} has no {name} {value!r}; there are {list(choices[name])}")
        return self.set_to(name, value)

    def set_to(self, name: str, value: object) -> Part:
        """The same part with one of its own settings at one of its values; for `with_setting` alone."""
        raise TypeError(f"{type(self).__name__} offers {name!r} and does not say how it is set")

    def initial(self) -> PartState:
        """The state as found, after hours at rest."""
        return None

    def start_values(self) -> dict[str, float]:
        """The part's variables as found."""
        return {}

    def branches(self, state: PartState, hz: float) -> tuple[Branch, ...]:
        """The part's branches in a state at a frequency."""
        return ()

    def laws(self, state: PartState, seen: Seen) -> dict[str, Law]:
        """How the part's variables move from now on."""
        return {}

    def guards(self, state: PartState) -> tuple[Guard, ...]:
        """What will happen at which level of which variable."""
        return ()

    def fired(self, state: PartState, guard: Guard) -> PartState:
        """The state once a guard of this part has fired."""
        return state

    def resets(self, guard: Guard) -> dict[str, float]:
        """Variables that start anew when a guard of this part fires."""
        return {}

    def followed(self, state: PartState, values: Mapping[str, float]) -> PartState:
        """The state with everything that merely follows the variables."""
        return state

    def settled(self, state: PartState, seen: Seen) -> PartState:
        """The state once whatever answers at once to volts and amperes has answered."""
        return state

    def nudged(self, state: PartState, values: Mapping[str, float]) -> PartState:
        """The state after a hand has moved it a little."""
        return state

    def noticed(self, before: PartState, after: PartState) -> tuple[str, ...]:
        """What a person would call the change from one state to another: 'starts', 'pulls in', 'blanks'."""
        return ()
