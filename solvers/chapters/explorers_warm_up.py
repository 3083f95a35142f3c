"""An explorer of time: how long a heat motor takes from its call to its end switch, against volts and air."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache

from ..circuit import Approach
from ..plant import facts
from ..plant.electrics import electrics
from ..plant.parts import HeatMotorValve, Stat, Transformer
from ..plant.running import PlantState, at_rest, called, seen, waited
from ..plant.topologies import Zone, four_wire
from ..plant.wiring import Installation
from .explorer import Explorer, Plot, Shown, Slider, Told, both_air, span_text
from .visits import amps_text

__all__ = ["WARM_UP"]

VALVE = "zone1.valve"
LONG = 7200.0  # s; far beyond any time at which a wax of 110 s still moves
AIRS = tuple(float(degC) for degC in range(-10, 61))
ENOUGH_S = 480.0  # on the chart; a valve slower than that is as good as never on a call


def _built(emf: float, air: float) -> Installation:
    """One zone with the usual heater on a source that hardly sags."""
    return four_wire(
        "one valve on set volts",
        [Zone(HeatMotorValve("valve", 4, ambient_degC=air), Stat("stat"))],
        transformer=Transformer("transformer", emf=emf, ohms=facts.ZERO_OHMS.value),
    )


@lru_cache(maxsize=1)
def _per_volt() -> float:
    """Volts of the source for each volt across the heater; the circuit is linear."""
    emf = facts.TRANSFORMER_VOLTS.value
    house, state = _called(_built(emf, facts.INDOOR_DEGC.value))
    volts = electrics(house, state.parts).solved.volts
    return emf / abs(volts[f"{VALVE}.HA"] - volts[f"{VALVE}.HB"])


def _called(house: Installation) -> tuple[Installation, PlantState]:
    return house, called(house, at_rest(house), "zone1.stat", True)


@lru_cache(maxsize=128)
def _started(volts: float, air: float) -> tuple[Installation, PlantState]:
    """The zone at the moment of its call, so many volts across the heater and everything as cold as the air."""
    return _called(_built(volts * _per_volt(), air))


def _law(volts: float, air: float) -> Approach:
    """How the wax warms."""
    house, state = _started(volts, facts.INDOOR_DEGC.value)
    valve = replace(house.part(VALVE), ambient_degC=air)
    return valve.laws(state.of(VALVE), seen(house, state))[f"{VALVE}.wax"]


def _moment(volts: float, air: float, happening: str) -> float:
    """Seconds from the call to something that the valve does; inf if it never does."""
    house, state = _started(volts, air)
    _, events = waited(house, state, LONG)
    return next((event.time for event in events if event.name == f"{VALVE} {happening}"), math.inf)


@lru_cache(maxsize=256)
def _curve(volts: float) -> tuple[tuple[float, float | None], ...]:
    """Seconds to the end switch over the temperature of the air."""
    full = _started(volts, facts.INDOOR_DEGC.value)[0].part(VALVE).travel.full
    times = [(air, _law(volts, air).time_to(air, full)) for air in AIRS]
    return tuple((air, None if math.isinf(time) else time) for air, time in times)


def _warm_up(volts: float, air: float) -> Shown:
    house, state = _started(volts, air)
    now = electrics(house, state.parts)
    amps = now.amps[f"{VALVE}.heater"]
    valve = house.part(VALVE)
    watts = valve.watts(state.of(VALVE), seen(house, state))
    ends = _law(volts, air).target
    moves, makes = _moment(volts, air, "begins to open"), _moment(volts, air, "end switch makes")
    if math.isinf(makes):
        short = valve.travel.full - ends
        words = (
            f"Never: the heater's {watts:.1f} W would carry the wax to {both_air(ends)} and no further, {short:.0f} K "
            f"({short * 1.8:.0f} °F) short of the end of its travel. No waiting helps; more volts or warmer air would."
        )
    elif makes > 180:
        words = (
            f"Slow: {span_text(makes)}. The wax ends little above what the travel needs, so every volt and every degree counts. "
            "A slow valve here is no bad valve."
        )
    else:
        words = f"The end switch makes after {span_text(makes)}. Give it that time by your watch before you judge it."
    reference = facts.TRANSFORMER_VOLTS.value
    others = tuple((f"{v:g} V", _curve(v)) for v in (reference, 20.0) if abs(v - volts) > 0.05)
    here = (air, makes) if makes <= ENOUGH_S else None
    plot = Plot(
        title=f"From call to click at {volts:.1f} V",
        across="air at the valve, °C (°F)",
        up="seconds to the end switch",
        curves=((f"{volts:.1f} V", _curve(volts)), *others),
        here=here,
        here_words=span_text(makes),
        levels=(("three minutes", 180.0),),
        ticks=tuple((float(degC), f"{degC} ({degC * 1.8 + 32:.0f})".replace("-", "\u2212")) for degC in range(-10, 61, 10)[::2]),
        highest=ENOUGH_S,
    )
    told = ", ".join(
        f"{span_text(_law(volts, degC).time_to(degC, valve.travel.full))} at {both_air(degC)}" for degC in (5.0, 20.0, 40.0)
    )
    return Shown(
        (
            Told("through the heater", amps_text(amps)),
            Told("heat in the heater", f"{watts:.1f} W"),
            Told("the wax would end at", both_air(ends)),
            Told("valve begins to open", span_text(moves)),
            Told("end switch makes", span_text(makes)),
        ),
        words,
        plot,
        f"Seconds from call to click over the temperature of the air, at {volts:.1f} V: {told}.",
    )


WARM_UP = Explorer(
    "warm-up",
    "From call to click",
    "The same valve, the same heater. By how much do two volts less slow it down, and where in the building must it "
    "hang never to open?",
    (
        Slider("volts", "volts across the heater", "V", 14.0, 28.0, 0.1, 24.0),
        Slider("air", "air at the valve", "degC", -10, 60, 1, 20),
    ),
    _warm_up,
)
