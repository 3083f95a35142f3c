"""What a meter shows in each electrical state of a tape, on every pair of points and round every wire, as rows of codes."""

from __future__ import annotations

from array import array
from collections.abc import Sequence
from itertools import combinations

from ..circuit import Meter
from ..circuit.codes import AMPS_STEP, NO_CODE
from ..circuit.tables import ohms_codes, ohms_table, table, volts_codes
from ..plant.electrics import electrics, lead, network
from .tape import wires_of
from .world import World, places

__all__ = ["Circuits", "metered"]


class Circuits:
    """The rows of a tape's circuits: those of the points that are always there, and those of lifted leads."""

    def __init__(self) -> None:
        self.rows: list[array] = []
        self.lead_rows: dict[int, list[array]] = {}  # by number of leads
        self.place: list[tuple[int, int, int]] = []  # by circuit: row, number of leads, row among those


def metered(circuits: Sequence[World], meter: Meter = Meter()) -> Circuits:
    """Every circuit's rows; circuits that show the same share them."""
    found = Circuits()
    found.place = [(0, 0, 0)] * len(circuits)
    rows: dict[bytes, int] = {}
    lead_rows: dict[tuple[int, bytes], int] = {}
    groups: dict[tuple[int, tuple[str, ...]], list[int]] = {}
    for number, world in enumerate(circuits):
        groups.setdefault((id(world.installation), tuple(sorted(world.state.lifted))), []).append(number)
    for (_, lifted), numbers in groups.items():
        worlds = [circuits[number] for number in numbers]
        here, states = worlds[0].installation, [world.state for world in worlds]
        leads = tuple(lead(terminal) for terminal in lifted)
        always = [point for point in places(worlds[0]) if point not in leads]
        pairs = list(combinations(always, 2))
        more = [(one, point) for place, one in enumerate(leads) for point in (*always, *leads[:place])]
        ac = [network(here, state.parts, lifted) for state in states]
        dc = [network(here, state.parts, lifted, 0) for state in states]
        read = _read(ac, dc, [*pairs, *more], meter)
        for place, number in enumerate(numbers):
            amps = _amps(worlds[place])
            every = [column[place] for column in read]
            row = array("H", [code for column in every for code in column[: len(pairs)]] + amps)
            extra = array("H", [code for column in every for code in column[len(pairs) :]])
            at = rows.setdefault(row.tobytes(), len(rows))
            if at == len(found.rows):
                found.rows.append(row)
            kept = found.lead_rows.setdefault(len(leads), [])
            there = lead_rows.setdefault((len(leads), extra.tobytes()), len(kept))
            if there == len(kept):
                kept.append(extra)
            found.place[number] = (at, len(leads), there)
    return found


def _read(ac: Sequence, dc: Sequence, pairs: Sequence[tuple[str, str]], meter: Meter) -> list[list[list[int]]]:
    """By function and circuit: the codes of every pair. A live pair has no ohms, and its code is 0."""
    volts = table(ac, [None], pairs, ohms=meter.volts_ohms)[:, 0]
    low = table(ac, [None], pairs, ohms=meter.low_z_ohms)[:, 0]
    ohms = ohms_codes(ohms_table(dc, [None], pairs)[:, 0] + meter.lead_ohms)
    ohms[low > meter.live_above] = 0
    return [volts_codes(volts).tolist(), volts_codes(low).tolist(), ohms.tolist()]


def _amps(world: World) -> list[int]:
    """By wire: amperes in steps, or the code for a wire that is not there."""
    currents = electrics(world.installation, world.state.parts, world.state.lifted).solved.currents()
    inside: dict[str, complex] = {}
    for wire in world.installation.conductors:
        for name in {wire.name, wire.cable} - {""}:
            inside[name] = inside.get(name, 0.0) + currents[wire.name]
    return [_step(inside.get(name)) for name in wires_of(world.design)]


def _step(current: complex | None) -> int:
    return NO_CODE if current is None else min(NO_CODE - 1, round(abs(current) / AMPS_STEP))
