"""A figure as a book prints it beside the same figure as the engine solves it.

Status V: read in the source's own text or drawing. V2: read in a copy, mirror or transcription of the source.
Nothing that rests on memory alone is among the rows. Each book's circuits use that book's own constants.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from solvers.circuit import Approach, Branch, Guard, Network, currents, potentials, run, thevenin

__all__ = ["Printed", "across", "amps", "circuit", "coupled", "fitted", "given", "ohms", "turns", "wait", "watts"]

IDEAL = 1e-6
"""Ohms that stand for the books' ideal sources, which the engine does not have."""


@dataclass(frozen=True, slots=True)
class Printed:
    """One printed figure; `solved` may differ by half a unit of its last digit unless the row says otherwise."""

    status: str  # V or V2
    what: str  # the row in plain words, with the unit
    figure: str  # digit for digit
    solved: Callable[[], float]
    within: float | None = None  # where the book has rounded on its way

    def __str__(self) -> str:
        return f"{self.status}: {self.what} is {self.figure}"

    @property
    def expected(self) -> float:
        return float(self.figure)

    @property
    def tolerance(self) -> float:
        return 0.5 * 10.0 ** Decimal(self.figure).as_tuple().exponent if self.within is None else self.within


def given(status: str, heading: str, *rows: tuple) -> list[Printed]:
    """Rows of one example: (what, figure, solved) or (what, figure, solved, within) each."""
    return [Printed(status, f"{heading}, {what}", *row) for what, *row in rows]


def circuit(cards: str) -> Network:
    """A network from cards such as `V 1 0 24; R1 1 2 100`: V or B and two nodes and volts, else ohms.

    >>> [(branch.name, branch.z, branch.emf) for branch in circuit("B 1 0 6; R1 1 0 5")]
    [('B', 1e-06, 6.0), ('R1', 5.0, 0.0)]
    """
    branches = []
    for card in cards.split(";"):
        name, a, b, value = card.split()
        source = name[0] in "VB"
        branches.append(Branch(name, a, b, IDEAL if source else float(value), float(value) if source else 0.0))
    return Network(branches)


def across(network: Network, a: str, b: str = "0") -> complex:
    """Volts of one node against another."""
    return potentials(network, b)[a]


def amps(network: Network, name: str) -> complex:
    """Amperes in a branch, from its first node to its second."""
    return currents(network, network.branch(name).b)[name]


def ohms(network: Network, a: str, b: str = "0") -> float:
    """Resistance between two nodes."""
    return thevenin(network, a, b).z.real


def watts(network: Network, name: str) -> float:
    """Watts that a branch takes from the circuit; negative for a source that gives."""
    branch, through = network.branch(name), complex(amps(network, name))
    return ((branch.emf + through * branch.z) * through.conjugate()).real


def coupled(primary: float, secondary: float, k: float, *, hz: float = 60.0) -> list[Branch]:
    """Two coils of so many henries from nodes p and s to a common return 0, as the equivalent T of inductances."""
    mutual = k * (primary * secondary) ** 0.5
    omega = 2j * 3.141592653589793 * hz
    return [
        Branch("coil.p", "p", "core", omega * (primary - mutual)),
        Branch("coil.m", "core", "0", omega * mutual),
        Branch("coil.s", "core", "s", omega * (secondary - mutual)),
    ]


def turns(primary: float, secondary: float, load: float) -> list[Branch]:
    """A nearly ideal transformer by its turns, with ohms on its secondary.

    The secondary's reactance is a thousand times the load and the coupling 1 - 1e-6, so that magnetizing current and
    leakage change volts and amperes by a few millionths.
    """
    henries = 1000 * load / (2 * 3.141592653589793 * 60)
    return [*coupled(henries * (primary / secondary) ** 2, henries, 1 - 1e-6), Branch("load", "s", "0", load)]


def fitted(x: float, target: float, later: float, after: float) -> float:
    """The time constant with which x comes to `later` on its way to a target, in the unit of `after`."""
    return after / Approach(target, 1.0).time_to(x, later)


def wait(x: float, target: float, tau: float, level: float) -> float:
    """Time from x to a level by an event-driven run, in the unit of tau."""
    ended = run(
        {"x": x},
        "under way",
        start=0,
        stop=1000 * tau,
        laws=lambda state: {"x": Approach(target, tau)},
        guards=lambda state: [Guard("there", "x", level, rising=level > x)] if state == "under way" else [],
        fired=lambda state, guard: guard.name,
    )
    return ended.events[0].time
