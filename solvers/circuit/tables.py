"""All faults x all states x all probe pairs at once, in numpy: one inverse a state, and every fault a rank-1 update of it.

The unknowns are the voltages along a spanning tree of the largest admittances, beyond the emfs in the tree. Whatever lies
beside the tree is small against it, so the matrix is well conditioned (2 to 100, not 1e9), and nothing is found by
subtracting large numbers: not the ohms of a pair, which are summed along the tree between its nodes, and not 1 - y z of
a conductor that alone holds an island, which comes from the branches beside the tree. One BLAS thread suits matrices
this small best (OPENBLAS_NUM_THREADS=1 before numpy is imported).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from .codes import FINEST_VOLTS, NO_CODE, OHMS_STEP, SPAN
from .network import OPEN, CircuitError, Network, NoSuchBranch, NoSuchNode
from .nodal import RESONANCE, solved

__all__ = ["ohms_codes", "ohms_table", "table", "volts_codes"]

CIRCUITS_AT_ONCE = 512
"""Circuits (states x faults) whose numbers for a row of pairs stay in the processor's cache."""

READINGS_AT_ONCE = 16_384
"""The same where pairs are gathered one by one."""

STEEPEST = 1e6
"""How far one update may divide the ohms that a branch looks into: each factor of ten costs a digit. Steeper ones, a
gigohm of insulation bridged by a milliohm for instance, are solved as circuits of their own."""

CANCELLED = 1e-13
"""Share of themselves below which two parts of a sum have met as a resonance; without reactances they only add."""

_Fault = tuple[str, complex] | None  # a branch and the ohms it has instead of its own, or nothing wrong
_Pair = tuple[str, str]
_Block = tuple[object, object, slice]  # indices of the first nodes, of the second nodes, and where the pairs stand


def table(
    states: Sequence[Network],
    faults: Sequence[_Fault],
    pairs: Sequence[_Pair] | None = None,
    *,
    ohms: float = 10e6,
    dtype: type = np.float64,
) -> np.ndarray:
    """Volts rms on a meter of so many ohms: an array [state, fault, pair].

    States differ in impedances and emfs alone; a fault is a branch's name and its ohms (or OPEN), or None for no fault;
    without `pairs` they are `itertools.combinations(states[0].nodes, 2)`. Within 1e-8 V of 50-digit arithmetic;
    np.float32 halves the memory, saves no time, and rounds to 6e-8 of the reading. Raises CircuitError for states that
    differ in more, NoSuchBranch, NoSuchNode, and FloatingNodes where nodes are left without any path.
    """
    if dtype not in (np.float64, np.float32):
        raise CircuitError(f"dtype {dtype!r}; readings are np.float64 or np.float32")
    if not 0 < ohms < OPEN:
        raise CircuitError(f"a meter of {ohms!r} ohms; give ohms above zero, 10e6 for instance")
    return _filled(_circuits(states, faults), pairs, ohms, dtype)


def ohms_table(states: Sequence[Network], faults: Sequence[_Fault], pairs: Sequence[_Pair] | None = None) -> np.ndarray:
    """Ohms between two nodes with every emf silent: an array [state, fault, pair], as of `table`.

    Within 1e-8 of the ohms. Raises as `table` does, and CircuitError for a reactance: an ohmmeter uses direct current.
    """
    circuits = _circuits(states, faults)
    if np.iscomplexobj(circuits.y):
        raise CircuitError("an impedance has a reactance; give the circuit as an ohmmeter's direct current meets it")
    return _filled(circuits, pairs, 0.0, np.float64)


@dataclass(frozen=True, slots=True)
class _Circuits:
    """What all states share, what each has of its own, and the faults."""

    states: Sequence[Network]
    faults: Sequence[_Fault]
    nodes: tuple[str, ...]
    a: np.ndarray  # [branch], number of the node it begins at
    b: np.ndarray  # [branch], and ends at
    y: np.ndarray  # [state, branch], siemens
    emf: np.ndarray  # [state, branch], volts
    faulty: np.ndarray  # [fault], number of the branch; 0 for no fault
    y_faulty: np.ndarray  # [fault], siemens; nan for no fault


@dataclass(frozen=True, slots=True)
class _Bases:
    """Each state once inverted, and what each fault does to it."""

    volts: np.ndarray  # [node, state, fault]
    z: np.ndarray  # [node, node, state], ohms between two nodes, healthy
    rise: np.ndarray  # [node, state, fault], volts for an ampere through the faulty branch
    share: np.ndarray  # [state, fault], siemens: a fault takes share x (difference of rise) squared off the ohms
    steep: np.ndarray  # [state, fault], true where one update loses too many digits


def _circuits(states: Sequence[Network], faults: Sequence[_Fault]) -> _Circuits:
    if not states:
        raise CircuitError("a table of no states; give at least one network")
    if not len(states[0]):
        raise CircuitError("state 0 has no branches; give a circuit")
    ends = [(branch.name, branch.a, branch.b) for branch in states[0]]
    for number, state in enumerate(states):
        if len(state) != len(ends):
            raise CircuitError(f"state {number} has {len(state)} branches, state 0 {len(ends)}; only ohms and volts may differ")
        for branch, (name, a, b) in zip(state, ends, strict=True):
            if branch.name != name or branch.a != a or branch.b != b:
                raise CircuitError(
                    f"state {number} has {branch.name!r} from {branch.a!r} to {branch.b!r} where state 0 has {name!r} "
                    f"from {a!r} to {b!r}; only ohms and volts may differ"
                )
    place = {name: number for number, (name, _, _) in enumerate(ends)}
    for fault in faults:
        if fault and fault[0] not in place:
            raise NoSuchBranch(f"no branch {fault[0]!r}; there are {sorted(place)}")
    nodes = states[0].nodes
    index = {node: number for number, node in enumerate(nodes)}
    changed = [replace(states[0].branches[place[fault[0]]], z=fault[1]).admittance if fault else np.nan for fault in faults]
    y, y_faulty = np.array([[branch.admittance for branch in state] for state in states]), np.array(changed)
    reactive = y.imag.any() or y_faulty.imag.any()
    y, y_faulty = (y.astype(complex), y_faulty.astype(complex)) if reactive else (y.real, y_faulty.real)
    return _Circuits(
        states,
        faults,
        nodes,
        np.array([index[a] for _, a, _ in ends], int),
        np.array([index[b] for _, _, b in ends], int),
        y,
        np.array([[branch.emf for branch in state] for state in states]),
        np.array([place[fault[0]] if fault else 0 for fault in faults], int),
        y_faulty,
    )


def _filled(circuits: _Circuits, pairs: Sequence[_Pair] | None, ohms: float, dtype: type) -> np.ndarray:
    states, faults, nodes = circuits.states, circuits.faults, circuits.nodes
    probes = None if pairs is None else _probed(nodes, pairs)
    count = len(nodes) * (len(nodes) - 1) // 2 if probes is None else len(probes[0])
    # In memory pairs come first: the readings of all circuits on one pair are one run of the processor.
    found = np.empty((count, len(states), len(faults)), dtype)
    steep: list[tuple[int, int]] = []
    step = max(1, CIRCUITS_AT_ONCE // max(1, len(faults)))
    for start in range(0, len(states), step):
        part = slice(start, start + step)
        bases = _inverted(circuits, part, ohms)
        blocks = _blocks(len(nodes), probes, bases.share.size)
        (_volts_read if ohms else _ohms_read)(bases, blocks, ohms, found[:, part])
        steep += [(start + state, fault) for state, fault in np.argwhere(bases.steep).tolist()]
    if steep:
        changed = [states[state].edited(faults[fault][0], z=faults[fault][1]) for state, fault in steep]
        again = _filled(_circuits(changed, [None]), pairs, ohms, dtype)
        for number, (state, fault) in enumerate(steep):
            found[:, state, fault] = again[number, 0]
    return np.moveaxis(found, 0, 2)


def _probed(nodes: tuple[str, ...], pairs: Sequence[_Pair]) -> tuple[np.ndarray, np.ndarray]:
    index = {node: number for number, node in enumerate(nodes)}
    for node in (node for pair in pairs for node in pair):
        if node not in index:
            raise NoSuchNode(f"no node {node!r}; there are {sorted(nodes)}")
    return np.array([index[a] for a, _ in pairs], int), np.array([index[b] for _, b in pairs], int)


def _blocks(nodes: int, probes: tuple[np.ndarray, np.ndarray] | None, circuits: int) -> Iterator[_Block]:
    """The pairs in portions: whole rows of one node against all later ones, or gathered where that is too little or not so."""
    if probes is None and circuits * nodes > READINGS_AT_ONCE // 4:
        start = 0
        for first in range(nodes - 1):
            yield first, slice(first + 1, nodes), slice(start, start := start + nodes - 1 - first)
        return
    red, black = np.triu_indices(nodes, 1) if probes is None else probes
    step = max(1, READINGS_AT_ONCE // max(1, circuits))
    for start in range(0, len(red), step):
        where = slice(start, start + step)
        yield red[where], black[where], where


def _volts_read(bases: _Bases, blocks: Iterator[_Block], ohms: float, found: np.ndarray) -> None:
    """|V| Rm / |Rm + Z - share x rise^2| for every pair, in real arithmetic: it is all additions and products."""
    v_re, v_im = _split(bases.volts * ohms)
    u_re, u_im = _split(bases.rise * np.sqrt(bases.share.astype(complex)))
    z_re, z_im = _split(bases.z[..., None])
    for first, second, where in blocks:
        square, other = v_re[second] - v_re[first], v_im[second] - v_im[first]
        square *= square
        other *= other
        square += other
        re, im = u_re[second] - u_re[first], u_im[second] - u_im[first]
        np.multiply(re, im, out=other)
        other *= 2
        re *= re
        im *= im
        re -= im
        re -= z_re[first, second] + ohms
        other -= z_im[first, second]
        re *= re
        other *= other
        re += other
        square /= re
        np.sqrt(square, out=found[where])


def _ohms_read(bases: _Bases, blocks: Iterator[_Block], ohms: float, found: np.ndarray) -> None:
    for first, second, where in blocks:
        taken = bases.rise[second] - bases.rise[first]
        taken *= taken
        taken *= bases.share
        np.subtract(bases.z[first, second, :, None], taken, out=found[where])


def _split(values: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    return np.ascontiguousarray(values.real), np.ascontiguousarray(values.imag)


def _inverted(circuits: _Circuits, part: slice, ohms: float) -> _Bases:
    """Invert the states of a part in the coordinates of their trees, each voltage in units of 1 / sqrt |y| of its branch."""
    y, emf, a, b = circuits.y[part], circuits.emf[part], circuits.a, circuits.b
    first = part.start
    trees, paths = _trees(circuits, first, y)
    rows = np.arange(len(y))[:, None]
    crossed = paths[:, a] - paths[:, b]  # [state, branch, coordinate]: +1, -1 or 0
    along = crossed[rows, trees, np.arange(trees.shape[1])]  # whether a tree branch counts as its coordinate does
    y_tree, emf_tree = y[rows, trees], along * emf[rows, trees]
    beside = y.copy()
    beside[rows, trees] = 0
    size = np.sqrt(np.abs(y_tree))
    scaled = crossed / size[:, None]
    across = scaled.transpose(0, 2, 1)
    matrix = _product(across, beside[..., None] * scaled)
    whole = matrix.copy()
    np.einsum("skk->sk", whole)[...] += y_tree / size**2
    try:
        inverse = np.linalg.inv(whole)
    except np.linalg.LinAlgError:
        raise CircuitError(RESONANCE) from None

    # The healthy states. Between the tree's own emfs only what lies beside it drives anything: stiff sources keep their digits.
    beyond = emf - _times(crossed, emf_tree)
    excess = _times(inverse, _times(across, beside * beyond))
    drop = _times(scaled, excess) - beyond  # volts across each branch less its emf
    volts = _times(paths, emf_tree + excess / size)

    # Ohms between every two nodes: what a path has of its own against what the other has, the shared part left out.
    lifted = _product(paths / size[:, None], inverse) / size[:, None]  # [state, node, coordinate]: volts for an ampere in it
    own = paths * lifted
    half = _product(1 - paths, own.transpose(0, 2, 1)) - _product(paths, (lifted - own).transpose(0, 2, 1))
    z = half + half.transpose(0, 2, 1)

    # The faults. `left` is 1 - y z, which is nothing but rounding unless taken from beside the tree.
    left = 1 - y * z[:, a, b]
    left[rows, trees] = (inverse * matrix).sum(-1)
    faulty = circuits.faulty
    y_old, rise = y[:, faulty], lifted @ crossed[:, faulty].transpose(0, 2, 1)
    y_new = np.where(np.isnan(circuits.y_faulty), y_old, circuits.y_faulty)
    looked = z[:, a[faulty], b[faulty]]
    kept, added = left[:, faulty], y_new * looked
    divided = kept + added
    for state, fault in np.argwhere(np.abs(divided) <= CANCELLED * (np.abs(kept) + np.abs(added))).tolist():
        _impossible(circuits, first + state, circuits.faults[fault])
    share = (y_new - y_old) / divided
    volts = volts[..., None] - rise * (share * drop[:, faulty])[:, None]
    return _Bases(
        np.ascontiguousarray(volts.transpose(1, 0, 2)),
        np.ascontiguousarray(z.transpose(1, 2, 0)),
        np.ascontiguousarray(rise.transpose(1, 0, 2)),
        share,
        (share != 0) & (np.abs(divided) > STEEPEST) & (np.abs(looked) > STEEPEST * ohms),
    )


def _product(real: np.ndarray, values: np.ndarray) -> np.ndarray:
    """Real matrices times real or complex ones, the complex ones taken as pairs of reals."""
    return (real @ np.ascontiguousarray(values).view(float)).view(values.dtype)


def _times(matrices: np.ndarray, vectors: np.ndarray) -> np.ndarray:
    return (matrices @ vectors[..., None])[..., 0]


def _trees(circuits: _Circuits, first: int, y: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Each state's spanning tree of largest |y|: its branches [state, coordinate], and paths [state, node, coordinate].

    Coordinate k is the voltage of the k-th node that the tree reaches from node 0, against the node it is reached from.
    """
    a, b = circuits.a.tolist(), circuits.b.tolist()
    count = len(circuits.nodes)
    trees, paths = [], []
    for number, (order, conducts) in enumerate(
        zip(np.argsort(-np.abs(y), axis=1, kind="stable").tolist(), np.count_nonzero(y, axis=1).tolist(), strict=True), first
    ):
        near = _joined(order[:conducts], a, b, count)
        tree, reached = [], {0: bytearray(count - 1)}
        edge = [0]
        while edge:
            here = edge.pop()
            for there, branch in near[here]:
                if there not in reached:
                    reached[there] = path = bytearray(reached[here])
                    path[len(tree)] = 1
                    tree.append(branch)
                    edge.append(there)
        if len(reached) < count:
            _impossible(circuits, number, None)
        trees.append(tree)
        paths.append(b"".join([reached[node] for node in range(count)]))
    shape = len(y), count, count - 1
    return np.array(trees, int), np.frombuffer(b"".join(paths), np.uint8).reshape(shape).astype(float)


def _joined(order: list[int], a: list[int], b: list[int], count: int) -> list[list[tuple[int, int]]]:
    """Each node's neighbours (node, branch) in the tree that takes branches in this order unless they close a ring."""
    group = list(range(count))
    near: list[list[tuple[int, int]]] = [[] for _ in group]
    missing = count - 1
    for branch in order:
        one, other = here, there = a[branch], b[branch]
        while group[one] != one:
            group[one] = one = group[group[one]]
        while group[other] != other:
            group[other] = other = group[group[other]]
        if one != other:
            group[one] = other
            near[here].append((there, branch))
            near[there].append((here, branch))
            missing -= 1
            if not missing:
                break
    return near


def _impossible(circuits: _Circuits, number: int, fault: _Fault) -> None:
    """Raise what the plain solve says of a circuit that has no answer, with its place in the table."""
    network = circuits.states[number]
    changed = network.edited(fault[0], z=fault[1]) if fault else network
    what = f"state {number} with {fault[0]!r} at {fault[1]} ohms" if fault else f"state {number}"
    try:
        solved(changed, circuits.nodes[0])
    except CircuitError as error:
        raise type(error)(f"{what}: {error}") from None
    raise CircuitError(f"{what}: {RESONANCE}")


def volts_codes(volts: np.ndarray) -> np.ndarray:
    """Volts as the codes of `codes.volts_of`, unsigned and of sixteen bits."""
    return _coded(volts, FINEST_VOLTS)


def ohms_codes(ohms: np.ndarray) -> np.ndarray:
    """Ohms as the codes of `codes.ohms_of`; what is beyond the display has none."""
    return np.where(ohms > 6000 * 1e4, NO_CODE, _coded(ohms, OHMS_STEP)).astype(np.uint16)


def _coded(values: np.ndarray, step: float) -> np.ndarray:
    """The code in the first range that holds the value; a value that rounds up to the end of one begins the next."""
    ranges = np.clip(np.ceil(np.log10(np.maximum(values, step) / (step * (SPAN - 0.5)))), 0, None)
    steps = np.round(values / (step * 10.0**ranges))
    return (ranges * SPAN + np.minimum(steps, SPAN - 1)).astype(np.uint16)
