"""The numbers that the page on the model prints; each name is called without arguments."""

from __future__ import annotations

from ..circuit.meter import Meter
from ..plant import facts
from ..plant.facts import Fact
from ..plant.protection import opening_seconds

__all__ = [
    "beeps_below",
    "capacitance",
    "fuse_at_five",
    "fuse_at_two",
    "fuse_holds",
    "heater_burns",
    "heater_range",
    "leak",
    "motor_drives",
    "motor_holds",
    "rated_amps",
    "relay_drops",
    "relay_pulls",
    "short_amps",
    "source_ohms",
    "source_volts",
    "wax_end",
    "wax_rise",
    "wax_tau",
    "wire_ohms",
]


def source_volts() -> str:
    """Volts of the typical transformer with nothing on it."""
    return f"{facts.TRANSFORMER_EMF.value:.1f} V"


def source_ohms() -> str:
    """Ohms that it keeps for itself."""
    return f"{facts.TRANSFORMER_OHMS.value:.2g} ohms"


def rated_amps() -> str:
    """Amperes at its nameplate."""
    return f"{facts.TRANSFORMER_VA.value / facts.TRANSFORMER_VOLTS.value:.3g} A"


def short_amps() -> str:
    """Amperes that it would drive into a dead short."""
    return f"{facts.TRANSFORMER_EMF.value / facts.TRANSFORMER_OHMS.value:.3g} A"


def heater_range() -> str:
    """Ohms that heaters of heat motors are drawn from."""
    return f"{_range(facts.HEATER_OHMS)} ohms"


def wax_rise() -> str:
    """How far a steady watt lifts the wax above the air."""
    return f"{facts.WAX_RESISTANCE.value:.2g} \u00b0C ({1.8 * facts.WAX_RESISTANCE.value:.3g} \u00b0F)"


def wax_tau() -> str:
    """Seconds in which wax goes most of the way to where it is heading."""
    return f"{facts.WAX_TAU.value:.0f} s"


def wax_end() -> str:
    """Temperature of the wax at the end of the stroke."""
    return _degrees(facts.WAX_END_DEGC.value)


def heater_burns() -> str:
    """Temperature of the wax at which a heater opens for good."""
    return _degrees(facts.HEATER_BURNS_DEGC.value)


def motor_drives() -> str:
    """Volts from which a motor drives."""
    return f"{facts.MOTOR_DRIVES_VOLTS.value:.0f} V"


def motor_holds() -> str:
    """Volts from which it holds."""
    return f"{facts.MOTOR_HOLDS_VOLTS.value:.0f} V"


def relay_pulls() -> str:
    """Volts at which a relay pulls in."""
    return f"{facts.RELAY_PULL_VOLTS.value:.3g} V"


def relay_drops() -> str:
    """Volts at which it lets go."""
    return f"{facts.RELAY_DROP_VOLTS.value:.3g} V"


def fuse_holds() -> str:
    """Times its rating that a fuse just holds."""
    return f"{facts.FUSE_CURVE[0][0]:g} times"


def fuse_at_two() -> str:
    """Seconds at twice its rating."""
    return f"{opening_seconds(2.0):.3g} s"


def fuse_at_five() -> str:
    """Seconds at five times its rating."""
    return f"{opening_seconds(5.0):.3g} s"


def beeps_below() -> str:
    """Ohms below which the bench's meter beeps."""
    return f"{Meter().beeps_below:.0f} ohms"


def capacitance() -> str:
    """Capacitance of a conductor to its neighbour for each metre and each foot of cable."""
    farads = facts.STRAY_FARADS_PER_METRE.value
    return f"{farads * 1e12:.0f} pF a metre ({farads * facts.METRES_PER_FOOT.value * 1e12:.0f} pF a foot)"


def leak() -> str:
    """Ohms from every terminal to earth."""
    return f"{facts.LEAK_OHMS.value / 1e6:.0f} megohms"


def wire_ohms() -> str:
    """Ohms of one conductor of the usual cable."""
    ohms = facts.COPPER_OHMS_PER_KFT[18]
    metres = 1000 * facts.METRES_PER_FOOT.value
    return f"{ohms:.2f} ohms in 1000 ft ({ohms / metres * 100:.2f} ohms in 100 m)"


def _range(fact: Fact) -> str:
    return f"{fact.low:g} to {fact.high:g}"


def _degrees(celsius: float) -> str:
    return f"{celsius:.0f} \u00b0C ({1.8 * celsius + 32:.0f} \u00b0F)"
