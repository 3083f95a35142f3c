"""Two explorers of what is lost on the way: a transformer's sag with more and more zones, and the drop along a cable."""

from __future__ import annotations

import math
from functools import lru_cache

from ..circuit import Branch, Network, solved_once
from ..plant import cable, facts
from ..plant.electrics import electrics
from ..plant.parts import Fuse, HeatMotorValve, Stat, Transformer
from ..plant.running import PlantState, at_rest, called, waited
from ..plant.sizing import percent_va
from ..plant.topologies import Zone, four_wire
from ..plant.wiring import Installation
from .explorer import Explorer, Pick, Plot, Shown, Slider, Told, both_air, both_feet, span_text
from .visits import amps_text, ohms_text, volts_text

__all__ = ["CABLE", "MOST_ZONES", "SAG", "SUPPLIES"]

MOST_ZONES = 6
LONG = 3600.0  # s; a valve that is not open by then never will be

SUPPLIES: dict[str, tuple[float, float]] = {
    "20 VA": (28.0, 4.6),
    "40 VA": (facts.TRANSFORMER_EMF.value, facts.TRANSFORMER_OHMS.value),
    "50 VA": (27.2, 1.5),
    "75 VA": (27.0, 0.96),
    "100 VA": (26.5, 0.55),
}
"""Volts without load and source ohms by nameplate: typical, from memory; no maker's data."""


@lru_cache(maxsize=32)
def _house(va: str, ambient_degC: float, zones: int) -> Installation:
    """So many equal zones on one transformer and one 3 A fuse; all heaters alike, the valves beside the transformer."""
    emf, ohms = SUPPLIES[va]
    valve = HeatMotorValve("valve", 4, ambient_degC=ambient_degC)
    return four_wire(
        f"{zones} zones on {va}",
        [Zone(valve, Stat("stat")) for _ in range(zones)],
        transformer=Transformer("transformer", emf=emf, ohms=ohms, va=float(va.split()[0])),
        fuse=Fuse("fuse", ohms=facts.ZERO_OHMS.value),
    )


@lru_cache(maxsize=128)
def _calling(house: Installation, zones: int) -> PlantState:
    """The first so many zones begin to call, all of them cold."""
    state = at_rest(house)
    for number in range(1, zones + 1):
        state = called(house, state, f"zone{number}.stat", True)
    return state


@lru_cache(maxsize=128)
def _loaded(va: str, zones: int) -> tuple[float, float, float]:
    """Volts behind the fuse, volts across each heater, amperes in all, with so many zones calling."""
    house = _house(va, facts.INDOOR_DEGC.value, MOST_ZONES)
    now = electrics(house, _calling(house, zones).parts)
    volts = now.solved.volts
    behind = abs(volts["fuse.out"] - volts["transformer.C"])
    heater = abs(volts["zone1.valve.HA"] - volts["zone1.valve.HB"])
    return behind, heater, now.amps["transformer.winding"]


def _sag(zones: float, va: str, air: float) -> Shown:
    count = int(zones)
    behind, heater, amps = _loaded(va, count)
    rated = float(va.split()[0])
    share = percent_va(behind, amps, rated)
    house = _house(va, air, count)
    _, events = waited(house, _calling(house, count), LONG)
    opens = next((event.time for event in events if event.name == "zone1.valve end switch makes"), math.inf)
    blown = next((event.time for event in events if event.name.startswith("fuse ")), math.inf)
    valve = house.part("zone1.valve")
    least = math.sqrt(max(0.0, valve.travel.full - air) / valve.wax_resistance * valve.heater_ohms)
    number = "One zone calls" if count == 1 else f"{count} zones call"
    words = [f"{number}: each heater gets {heater:.1f} V."]
    words.append(f"The transformer gives {behind * amps:.1f} VA, {share:.0f} % of its nameplate.")
    if share > 100:
        words.append("That is an overload: it may work for an hour, and the transformer ages all the while.")
    if blown < LONG:
        words.append(f"The fuse opens after {span_text(blown)}.")
    if math.isinf(opens):
        words.append(f"In {_air(air)} no valve ever gets to its end switch.")
    else:
        words.append(f"In {_air(air)} the end switches make after {span_text(opens)}.")
    curves = tuple(
        (name, tuple((float(n), _loaded(name, n)[1]) for n in range(1, MOST_ZONES + 1)))
        for name in (va, *(other for other in ("40 VA", "100 VA") if other != va))
    )
    plot = Plot(
        title=f"Each heater's volts, {va}",
        across="zones that call",
        up="V across each heater",
        curves=curves,
        here=(zones, heater),
        here_words=f"{heater:.1f} V",
        levels=((f"least that opens it: {least:.1f} V", least),),
        base=10.0,
    )
    listed = ", ".join(f"{y:.1f} V with {x:.0f}" for x, y in curves[0][1])
    drawn = f"Volts across each heater on {va}: {listed}. Below {least:.1f} V no valve opens in {_air(air)}."
    return Shown(
        (
            Told("R to C, behind the fuse", volts_text(behind)),
            Told("across each heater", volts_text(heater)),
            Told("from the transformer", amps_text(amps)),
            Told("load", f"{behind * amps:.1f} VA, {share:.0f} %"),
            Told("end switches make", span_text(opens)),
            Told("fuse of 3 A", "holds" if blown >= LONG else f"opens after {span_text(blown)}"),
        ),
        " ".join(words),
        plot,
        drawn,
    )


def _air(degC: float) -> str:
    return f"air of {both_air(degC)}"


SAG = Explorer(
    "sag",
    "One transformer, more and more zones",
    "One zone opens in a minute and a half. Will six zones open as fast on the same transformer, and on the coldest day?",
    (
        Slider("zones", "zones that call", "", 1, MOST_ZONES, 1, 2),
        Pick("va", "transformer", tuple(SUPPLIES), "40 VA"),
        Slider("air", "air at the valves", "degC", -5, 45, 1, 20),
    ),
    _sag,
)

GAUGES = (14, 16, 18, 20, 22, 24)
SUPPLY_VOLTS = facts.TRANSFORMER_VOLTS.value
FURTHEST = 300.0  # ft


@lru_cache(maxsize=1024)
def _run(gauge: int, feet: float, amps: float) -> tuple[float, float]:
    """Amperes, and volts at the load, through both conductors of a run from a source that holds its volts.

    The load is a plain resistance that takes so many amperes at the full volts.
    """
    wire = max(cable.run(gauge, feet), facts.ZERO_OHMS.value)
    network = Network(
        [
            Branch("source", "R", "C", facts.ZERO_OHMS.value / 1000, SUPPLY_VOLTS),
            Branch("out", "R", "near", wire),
            Branch("load", "near", "far", SUPPLY_VOLTS / amps),
            Branch("back", "far", "C", wire),
        ]
    )
    solved = solved_once(network, "C")
    return abs(solved.currents()["load"]), abs(solved.volts["near"] - solved.volts["far"])


def _cable(gauge: str, feet: float, amps: float) -> Shown:
    size = int(gauge.split()[0])
    loop = 2 * cable.run(size, feet)
    flows, there = _run(size, feet, amps)
    lost, guess = SUPPLY_VOLTS - there, cable.drop(size, feet, amps)
    share = 100 * lost / SUPPLY_VOLTS
    words = (
        f"Out and back the current passes {both_feet(2 * feet)} of copper. The load gets {there:.2f} V of {SUPPLY_VOLTS:.1f}: "
        f"{share:.1f} % is lost. "
    )
    if guess - lost >= 0.01:
        words += (
            f"Reckoned with {amps:.1f} A all the same it would be {guess:.2f} V: too much, because with less volts less flows. "
        )
    words += (
        "More than 5 % is too long a run (common practice, no source)."
        if share > 5
        else "Up to 5 % is usual practice (no source)."
    )
    steps = [FURTHEST * part / 30 for part in range(31)]
    others = [other for other in GAUGES if other != size]
    curves = tuple(
        (f"{name} AWG", tuple((one_way, _run(name, one_way, amps)[1]) for one_way in steps)) for name in (size, *others)
    )
    level = 0.95 * SUPPLY_VOLTS
    plot = Plot(
        title=f"What the cable keeps, {gauge}",
        across="one way, ft (m)",
        up="V lost in the cable",
        curves=tuple((name, tuple((x, SUPPLY_VOLTS - y) for x, y in points)) for name, points in curves),
        here=(feet, lost),
        here_words=f"{lost:.2f} V lost",
        levels=((f"5 %: {SUPPLY_VOLTS - level:.1f} V", SUPPLY_VOLTS - level),),
        ticks=tuple((float(n), f"{n} ({n * facts.METRES_PER_FOOT.value:.0f})") for n in range(0, 301, 100)),
        highest=6.0,
    )
    drawn = (
        f"Volts lost against length for each gauge, at a load of {amps:.1f} A. {gauge} over {both_feet(feet)} loses {lost:.2f} V."
    )
    return Shown(
        (
            Told("copper, out and back", ohms_text(loop)),
            Told("current", f"{flows:.3f} A"),
            Told("lost in the cable", f"{lost:.2f} V"),
            Told("at the load", f"{there:.2f} V"),
            Told("lost, if the current stayed", f"{guess:.2f} V"),
        ),
        words,
        plot,
        drawn,
    )


CABLE = Explorer(
    "cable",
    "The drop along a cable",
    "A heater hangs on a long thin cable. Does twice the length lose twice the volts? And what does the next thicker gauge save?",
    (
        Pick("gauge", "conductors", tuple(f"{gauge} AWG" for gauge in GAUGES), "18 AWG"),
        Slider("feet", "one way", "ft", 0, FURTHEST, 5, 120),
        Slider("amps", "load, at full volts", "A", 0.1, 4.0, 0.1, 0.8),
    ),
    _cable,
)
