"""All loaded pairs of one circuit against ngspice, which solves the circuit again for every place of the meter."""

from __future__ import annotations

import itertools
import statistics
import time

from benchmarks.circuits import plant_state
from benchmarks.ngspice_library import Library
from benchmarks.timing import Row, side_by_side
from oracles import ngspice_cards, ngspice_volts

from solvers.circuit import Branch, Network
from solvers.circuit.tables import table

__all__ = ["every_pair", "every_pair_by_process", "one_call"]

METER = 10e6  # ohms
HZ = 60.0


def one_call(zones: int) -> Network:
    """The plant's four-wire circuit, zone 1 calling."""
    return plant_state(zones, (True,) + (False,) * (zones - 1), hz=HZ)


def every_pair(library: Library, zones: int, *, repeat: int = 9, sample: int = 25) -> Row:
    """One circuit, every two nodes, against the library: a sample of readings is timed and counted for all pairs."""
    circuit = one_call(zones)
    pairs = list(itertools.combinations(circuit.nodes, 2))
    places = [round(share * (len(pairs) - 1) / (sample - 1)) for share in range(sample)]
    whole, bare, apart = [], [], []
    readings = table([circuit], [None])[0, 0]
    numbers, cards = ngspice_cards(circuit, "earth", HZ)

    def asked() -> None:
        for place in places:
            red, black = (numbers[node] for node in pairs[place])
            start = time.process_time()
            library.load(["circuit", *cards, f"Rmeter {red} {black} {METER!r}", ".end"])
            middle = time.process_time()
            library.command(f"ac lin 1 {HZ!r} {HZ!r}")
            solved = time.process_time()
            shown = abs(library.volts(red) - library.volts(black))
            end = time.process_time()
            library.command("destroy all")
            whole.append(end - start)
            bare.append(solved - middle)
            apart.append(abs(shown - readings[place]))

    times = max(1, 8 // zones)  # a row of calls on either side, so that both find their own data in the cache
    ours, _ = side_by_side(lambda: [table([circuit], [None]) for _ in range(times)], asked, repeat=repeat)
    ours /= times
    once, command = statistics.median(whole), statistics.median(bare)
    return Row(
        f"all loaded pairs of one circuit, zones {zones}: {len(circuit.nodes)} nodes, {len(pairs)} pairs",
        ours,
        f"ngspice's library: circuit handed over, `ac lin 1`, two vectors read, for every pair ({once * 1e6:.0f} us each)",
        once * len(pairs),
        ratio_goal=150.0,
        error=max(apart),
        unit="V apart",
        note=f"against its `ac` command alone ({command * 1e6:.0f} us), as if the meter moved for nothing, the ratio is "
        f"{command * len(pairs) / ours:.0f}",
    )


def every_pair_by_process(program: str, zones: int, *, repeat: int = 5, sample: int = 3) -> Row:
    """The same against one `ngspice -b` a reading, where the library is not installed. Wall time, not CPU time."""
    circuit = one_call(zones)
    pairs = list(itertools.combinations(circuit.nodes, 2))
    readings = table([circuit], [None])[0, 0]
    spans, apart, ours = [], [], []
    for count in range(max(repeat, sample)):
        place = count * (len(pairs) - 1) // max(repeat, sample)
        red, black = pairs[place]
        start = time.perf_counter()
        volts = ngspice_volts(program, circuit + [Branch("the meter", red, black, METER)], "earth", HZ)
        middle = time.perf_counter()
        table([circuit], [None])
        ours.append(time.perf_counter() - middle)
        spans.append(middle - start)
        apart.append(abs(abs(volts[red] - volts[black]) - readings[place]))
    return Row(
        f"all loaded pairs of one circuit, zones {zones}: {len(circuit.nodes)} nodes, {len(pairs)} pairs",
        statistics.median(ours),
        f"one `ngspice -b` a reading ({statistics.median(spans) * 1e3:.1f} ms each)",
        statistics.median(spans) * len(pairs),
        ratio_goal=1000.0,
        error=float(max(apart)),
        unit="V apart",
    )
