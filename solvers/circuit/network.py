"""Circuits as frozen data: every named conductor, contact, winding and load is a branch between two named nodes."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

__all__ = ["OPEN", "Branch", "CircuitError", "Network", "NoSuchBranch", "NoSuchNode"]

OPEN = math.inf
"""The impedance of a contact that does not conduct at all."""


class CircuitError(ValueError):
    """A circuit that cannot be built or solved; the message names the physical cause."""


class NoSuchBranch(CircuitError):
    """A branch was asked for by a name that the circuit does not have."""


class NoSuchNode(CircuitError):
    """A node was asked for by a name that the circuit does not have."""


@dataclass(frozen=True, slots=True)
class Branch:
    """One two-terminal element: `V(a) - V(b) = emf + i z`, with `i` counted from a to b.

    A source has its plus at `a` and its own impedance in `z`. An impedance of zero is refused:
    give a wire its real ohms, so that the current in it has one answer.
    """

    name: str
    a: str  # node
    b: str  # node
    z: complex  # ohms at the network's frequency, or OPEN
    emf: complex = 0.0  # volts rms

    def __post_init__(self) -> None:
        if self.a == self.b:
            raise CircuitError(f"branch {self.name!r} begins and ends at {self.a!r}")
        if self.z != OPEN and not (math.isfinite(abs(self.z)) and abs(self.z) > 0 and complex(self.z).real >= 0):
            raise CircuitError(
                f"branch {self.name!r} has impedance {self.z!r}; give ohms above zero (a short wire is 0.001), or OPEN"
            )
        if not math.isfinite(abs(self.emf)):
            raise CircuitError(f"branch {self.name!r} has emf {self.emf!r}; give finite volts")

    @property
    def admittance(self) -> complex:
        """Siemens; 0 for an open branch."""
        return 0.0 if self.z == OPEN else 1 / self.z


@dataclass(frozen=True, slots=True)
class Network:
    """An ordered tuple of branches with unique names. Order never changes a result."""

    branches: tuple[Branch, ...] = ()

    def __init__(self, branches: Iterable[Branch] = ()) -> None:
        object.__setattr__(self, "branches", tuple(branches))
        seen: set[str] = set()
        for branch in self.branches:
            if branch.name in seen:
                raise CircuitError(f"two branches are called {branch.name!r}")
            seen.add(branch.name)

    def __iter__(self) -> Iterator[Branch]:
        return iter(self.branches)

    def __len__(self) -> int:
        return len(self.branches)

    def __add__(self, more: Iterable[Branch]) -> Network:
        return Network(self.branches + tuple(more))

    @property
    def nodes(self) -> tuple[str, ...]:
        """Node names in the order in which they first appear."""
        return tuple(dict.fromkeys(node for branch in self.branches for node in (branch.a, branch.b)))

    def branch(self, name: str) -> Branch:
        """The branch of that name; raises NoSuchBranch with the names there are."""
        for branch in self.branches:
            if branch.name == name:
                return branch
        raise NoSuchBranch(f"no branch {name!r}; there are {sorted(branch.name for branch in self.branches)}")

    def edited(self, name: str, **changes: object) -> Network:
        """The same network but for fields of one branch; raises NoSuchBranch."""
        changed = replace(self.branch(name), **changes)
        return Network(changed if branch.name == name else branch for branch in self.branches)

    def without(self, name: str) -> Network:
        """The same network with one branch taken out; raises NoSuchBranch."""
        self.branch(name)
        return Network(branch for branch in self.branches if branch.name != name)
