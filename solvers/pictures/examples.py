"""The book's drawings: functions without arguments that its drawing directive calls, each an SVG of an invented house."""

from __future__ import annotations

from ..plant.demos import bungalow, workshop
from ..plant.parts import HeatMotorValve
from ..plant.running import PlantState, at_rest, called, waited
from .cutaway import cutaway
from .ladder import ladder

__all__ = ["four_wire_ladder", "heater_loop_ladder", "valve_cold", "valve_open"]

ALONE_S = 300.0  # long enough for any of the demo valves to open


def heater_loop_ladder() -> str:
    """The bungalow's ladder: two zones, three-wire valves."""
    return ladder(bungalow(), title="A bungalow: two zones, three-wire valves")


def four_wire_ladder() -> str:
    """The workshop's ladder: two zones, four-wire valves, a T-T circuit of its own."""
    return ladder(workshop(), title="A workshop: two zones, four-wire valves")


def valve_cold() -> str:
    """Valve 1 of the bungalow before any call."""
    return _section(at_rest(bungalow()), heating=False)


def valve_open() -> str:
    """Valve 1 of the bungalow at the moment its end switch makes, on a call that goes on."""
    house = bungalow()
    start = called(house, at_rest(house), "zone1.stat", True)
    _, events = waited(house, start, ALONE_S)
    makes = next(event.time for event in events if event.name == "zone1.valve end switch makes")
    state, _ = waited(house, start, makes + 0.5)
    return _section(state, heating=True)


def _section(state: PlantState, *, heating: bool) -> str:
    name = "zone1.valve"
    valve = bungalow().part(name)
    assert isinstance(valve, HeatMotorValve)
    return cutaway(valve, state.of(name), state.values[f"{name}.wax"], heating=heating)
