"""Second opinions for the engine: the same questions answered another way, more exactly or by another program.

The engine eliminates nodes by the star-mesh rule in double precision. Here a circuit is solved by modified nodal
analysis (sources as unknown currents) through mpmath's pivoted LU at 50 digits, or by ngspice; and a run between
events is repeated in 40 digits, or stepped by Euler's rule.
"""

from __future__ import annotations

import math
import re
import subprocess
import tempfile
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import mpmath

from solvers.circuit import OPEN, Approach, Branch, Event, Guard, Law, Network

__all__ = [
    "exact_reading",
    "exact_run",
    "exact_thevenin",
    "exact_volts",
    "ngspice_cards",
    "ngspice_volts",
    "stepped_run",
]

DIGITS = 50


def exact_volts(network: Network, reference: str, *, injected: Mapping[str, float] | None = None) -> dict:
    """Potential of every node against `reference` in 50 digits, with amperes injected into nodes if given."""
    with mpmath.workdps(DIGITS):
        row = {node: number for number, node in enumerate(node for node in network.nodes if node != reference)}
        conducting = [branch for branch in network if branch.z != OPEN]
        sources = [branch for branch in conducting if branch.emf]
        size = len(row) + len(sources)
        matrix, right = mpmath.zeros(size), mpmath.zeros(size, 1)
        for branch in conducting:
            if branch.emf:
                continue
            siemens = 1 / mpmath.mpmathify(branch.z)
            for here, there in ((branch.a, branch.b), (branch.b, branch.a)):
                if here in row:
                    matrix[row[here], row[here]] += siemens
                    if there in row:
                        matrix[row[here], row[there]] -= siemens
        for number, branch in enumerate(sources, len(row)):
            for node, sign in ((branch.a, 1), (branch.b, -1)):
                if node in row:
                    matrix[row[node], number] += sign
                    matrix[number, row[node]] += sign
            matrix[number, number] = -mpmath.mpmathify(branch.z)
            right[number] = mpmath.mpmathify(branch.emf)
        for node, amperes in (injected or {}).items():
            if node in row:
                right[row[node]] += amperes
        volts = mpmath.lu_solve(matrix, right)
        return {reference: mpmath.mpf(0)} | {node: volts[number] for node, number in row.items()}


def exact_thevenin(network: Network, a: str, b: str) -> tuple:
    """Open-circuit volts of a against b and source ohms between them, in 50 digits."""
    silent = Network(Branch(branch.name, branch.a, branch.b, branch.z) for branch in network)
    return exact_volts(network, b)[a], exact_volts(silent, b, injected={a: 1})[a]


def exact_reading(network: Network, first: str, second: str, ohms: float) -> float:
    """Volts across a pair with a meter of that resistance on it, in 50 digits."""
    return abs(exact_volts(network + [Branch("the oracle's meter", first, second, ohms)], second)[first])


def ngspice_volts(program: str, network: Network, reference: str, hz: float) -> dict[str, complex]:
    """Potential of every node against `reference` by `ngspice -b`; hz = 0 asks for the DC operating point."""
    number, cards = ngspice_cards(network, reference, hz)
    asked = [node for node in number if node != reference]
    lines = [
        "circuit",
        *cards,
        ".control",
        "set numdgt=16",
        f"ac lin 1 {hz!r} {hz!r}" if hz else "op",
        *(f"print v({number[node]})" for node in asked),
        "quit",
        ".endc",
        ".end",
    ]
    with tempfile.TemporaryDirectory() as folder:
        Path(folder, "circuit.cir").write_text("\n".join(lines) + "\n")
        ended = subprocess.run(
            [program, "-b", "circuit.cir"], cwd=folder, capture_output=True, text=True, timeout=60, check=False
        )
    said = dict(re.findall(r"^v\((\d+)\) = (\S+)", ended.stdout, re.MULTILINE))
    if len(said) != len(asked):
        raise RuntimeError(f"ngspice answered {sorted(said)} of {len(asked)} nodes: {ended.stdout}{ended.stderr}")
    return {reference: 0j} | {node: complex(*map(float, said[str(number[node])].split(","))) for node in asked}


def ngspice_cards(network: Network, reference: str, hz: float) -> tuple[dict[str, int], list[str]]:
    """Number of every node, 0 for `reference`, and ngspice's input lines.

    Impedances become a resistance with an inductance or a capacitance in series.
    """
    number = {reference: 0}
    for node in network.nodes:
        number.setdefault(node, len(number))
    cards, spare = [], len(number)
    for count, branch in enumerate(network):
        if branch.z == OPEN:
            continue
        if hz == 0 and complex(branch.z).imag:
            raise ValueError(f"branch {branch.name!r} has impedance {branch.z!r} at DC")
        pieces = _pieces(branch, hz)
        here = number[branch.a]
        for place, (letter, value) in enumerate(pieces):
            there = spare if place + 1 < len(pieces) else number[branch.b]
            spare += place + 1 < len(pieces)
            cards.append(f"{letter}{count}{'abc'[place]} {here} {there} {value}")
            here = there
    return number, cards


def _pieces(branch: Branch, hz: float) -> list[tuple[str, str]]:
    z, emf = complex(branch.z), complex(branch.emf)
    pieces = []
    if emf:
        degrees = math.degrees(math.atan2(emf.imag, emf.real))
        pieces.append(("V", f"dc {emf.real!r} ac {abs(emf)!r} {degrees!r}"))
    if z.real:
        pieces.append(("R", repr(z.real)))
    if z.imag > 0:
        pieces.append(("L", repr(z.imag / (2 * math.pi * hz))))
    if z.imag < 0:
        pieces.append(("C", repr(-1 / (2 * math.pi * hz * z.imag))))
    return pieces


Laws = Callable[[object], Mapping[str, Law]]
Guards = Callable[[object], Sequence[Guard]]
Fired = Callable[[object, Guard], object]


def exact_run(
    values: Mapping[str, float], state: object, *, stop: float, laws: Laws, guards: Guards, fired: Fired
) -> list[tuple]:
    """Events (time, name) from 0 to `stop` in 40 digits, for variables whose guards never tie or lie behind them."""
    with mpmath.workdps(40):
        now, held, events = mpmath.mpf(0), {name: mpmath.mpf(x) for name, x in values.items()}, []
        while True:
            moving = laws(state)
            waits = [
                (wait, guard)
                for guard in guards(state)
                if (wait := _exact_wait(moving[guard.variable], held[guard.variable], guard)) is not None
            ]
            if not waits or now + min(waits, key=lambda due: due[0])[0] > stop:
                return events
            wait, due = min(waits, key=lambda due: due[0])
            now += wait
            held = {name: _exact_at(moving[name], x, wait) for name, x in held.items()}
            held[due.variable] = mpmath.mpf(due.level)
            state = fired(state, due)
            events.append((now, due.name))


def _exact_wait(law: Law, x, guard: Guard):
    if isinstance(law, Approach):
        share = (mpmath.mpf(guard.level) - law.target) / (x - law.target)
        return -law.tau * mpmath.log(share) if 0 < share < 1 else None
    wait = (mpmath.mpf(guard.level) - x) / law.rate
    return wait if wait > 0 else None


def _exact_at(law: Law, x, wait):
    if isinstance(law, Approach):
        return law.target + (x - law.target) * mpmath.exp(-wait / law.tau)
    return x + law.rate * wait


def stepped_run(
    values: Mapping[str, float], state: object, *, stop: float, step: float, laws: Laws, guards: Guards, fired: Fired
) -> list[Event]:
    """Events from 0 to `stop` by Euler's rule, each found late by up to one step."""
    held, events = dict(values), []
    moving = laws(state)
    for count in range(round(stop / step)):
        for name, law in moving.items():
            slope = (law.target - held[name]) / law.tau if isinstance(law, Approach) else law.rate
            held[name] += slope * step
        for guard in guards(state):
            x = held[guard.variable]
            if x >= guard.level if guard.rising else x <= guard.level:
                state = fired(state, guard)
                moving = laws(state)
                events.append(Event((count + 1) * step, guard.name))
                break
    return events
