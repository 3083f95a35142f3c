"""What tests of supplies share: reference A with fields changed, and its readings."""

from reference_circuits import REF_A

from solvers.circuit import volts_between
from solvers.faults.changes import PartField
from solvers.plant.running import at_rest, called, network

__all__ = ["REF_A", "TEN_MEG", "changed", "on_call", "readings", "volts"]

TEN_MEG = 10e6


def changed(installation, part="transformer", **values):
    for name, value in values.items():
        installation = PartField(part, name, value).made(installation)
    return installation


def on_call(installation, *zones):
    state = at_rest(installation)
    for zone in zones or installation.zones:
        state = called(installation, state, f"{zone}.stat", True)
    return state


def volts(installation, state, first, second, ohms=TEN_MEG):
    return volts_between(network(installation, state), first, second, ohms)


def readings(installation):
    """Idle R to C, and R to C and heater on call."""
    idle, calling = at_rest(installation), on_call(installation, "zone1")
    return (
        volts(installation, idle, "R bus.fuse", "transformer.C"),
        volts(installation, calling, "R bus.fuse", "transformer.C"),
        volts(installation, calling, *installation.part("zone1.valve").heater_pair),
    )
