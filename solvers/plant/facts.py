"""Every physical number of the plant: value, unit, range and where it comes from. Nothing else."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = [
    "BOILER_COOLING_TAU",
    "BOILER_DC_OHMS",
    "BOILER_DIFFERENTIAL",
    "BOILER_DROP_VOLTS",
    "BOILER_EMF",
    "BOILER_EMITTING_TAU",
    "BOILER_FIRED_DEGC",
    "BOILER_FIRED_TAU",
    "BOILER_INPUT_OHMS",
    "BOILER_PULL_VOLTS",
    "BOILER_RETURN_DEGC",
    "BOILER_SOURCE_OHMS",
    "BOILER_STANDBY_DEGC",
    "BOILER_WATER_DEGC",
    "COPPER_OHMS_PER_KFT",
    "FUSE_AMPS",
    "FUSE_CURVE",
    "FUSE_OHMS",
    "HEATER_BURNS_DEGC",
    "HEATER_OHMS",
    "INDOOR_DEGC",
    "LEAK_OHMS",
    "METRES_PER_FOOT",
    "PIPE_COOLING_TAU",
    "PIPE_TAU",
    "SOURCES",
    "SPLICE_OHMS",
    "STAT_OHMS",
    "STRAY_FARADS_PER_METRE",
    "SWITCH_OHMS",
    "TRANSFORMER_DC_OHMS",
    "TRANSFORMER_EMF",
    "TRANSFORMER_OHMS",
    "TRANSFORMER_VA",
    "WAX_CLOSING_SPAN",
    "WAX_END_DEGC",
    "WAX_MOVES_BELOW_END",
    "WAX_OPENS_BELOW_END",
    "WAX_RESISTANCE",
    "WAX_TAU",
    "ZERO_OHMS",
    "Fact",
]

SOURCES = {
    "memory": "typical, from memory; no maker's data",
    "common practice": "common practice, no source",
    "ASTM B258": "ASTM B258 diameters with IEC 60028 copper, 0.017241 ohm mm2/m at 20 degC",
    "definition": "by definition",
    "model": "a choice of this model, fitted to the typical ranges",
}
"""What each source key stands for."""


@dataclass(frozen=True, slots=True)
class Fact:
    """One number of the trade with the range that demo installations draw from."""

    value: float
    unit: str
    low: float
    high: float
    source: str  # a key of SOURCES


def _fixed(value: float, unit: str, source: str) -> Fact:
    return Fact(value, unit, value, value, source)


TRANSFORMER_VA = _fixed(40, "VA", "common practice")
TRANSFORMER_EMF = Fact(27.5, "V", 26.6, 28.4, "memory")  # open circuit, 40 VA at 120 V line
TRANSFORMER_OHMS = Fact(2.1, "ohm", 1.6, 2.4, "memory")  # source impedance, 40 VA
TRANSFORMER_DC_OHMS = Fact(0.9, "ohm", 0.6, 1.2, "memory")  # secondary winding to an ohmmeter
FUSE_AMPS = _fixed(3.0, "A", "common practice")
FUSE_OHMS = Fact(0.05, "ohm", 0.03, 0.07, "memory")
FUSE_CURVE = (  # times rated current, seconds to open; straight lines on log-log paper between; source: model
    (1.35, 3600.0),
    (2.0, 60.0),
    (3.0, 1.0),
    (5.0, 0.2),
    (10.0, 0.05),
)
STAT_OHMS = Fact(0.05, "ohm", 0.02, 0.1, "memory")
SPLICE_OHMS = Fact(0.004, "ohm", 0.001, 0.01, "memory")  # a good one, both sides together
ZERO_OHMS = _fixed(0.001, "ohm", "model")  # a conductor of no length to speak of
SWITCH_OHMS = Fact(0.1, "ohm", 0.05, 0.2, "memory")  # end switch, made
HEATER_OHMS = Fact(30.0, "ohm", 26.0, 34.0, "memory")  # heat motor, hot
HEATER_BURNS_DEGC = _fixed(250.0, "degC", "model")
WAX_RESISTANCE = Fact(6.0, "K/W", 5.6, 6.4, "memory")
WAX_TAU = Fact(110.0, "s", 95.0, 125.0, "memory")
WAX_END_DEGC = Fact(90.0, "degC", 87.0, 92.0, "memory")  # end switch makes, valve fully open
WAX_MOVES_BELOW_END = _fixed(15.0, "K", "memory")  # starts to move this far below
WAX_OPENS_BELOW_END = _fixed(10.0, "K", "memory")  # end switch opens again this far below
WAX_CLOSING_SPAN = _fixed(20.0, "K", "memory")  # from first closing to fully shut
BOILER_EMF = Fact(26.0, "V", 24.8, 27.4, "memory")
BOILER_SOURCE_OHMS = Fact(2.0, "ohm", 1.6, 2.4, "memory")
BOILER_DC_OHMS = Fact(0.9, "ohm", 0.6, 1.2, "memory")
BOILER_INPUT_OHMS = Fact(120.0, "ohm", 110.0, 150.0, "memory")
BOILER_PULL_VOLTS = _fixed(18.5, "V", "model")
BOILER_DROP_VOLTS = _fixed(7.0, "V", "model")
BOILER_WATER_DEGC = Fact(75.0, "degC", 65.0, 80.0, "common practice")
BOILER_STANDBY_DEGC = _fixed(45.0, "degC", "model")  # water before the first call of the day
BOILER_FIRED_DEGC = _fixed(110.0, "degC", "model")  # where firing would take the water, were there no limit
BOILER_FIRED_TAU = _fixed(240.0, "s", "model")
BOILER_RETURN_DEGC = _fixed(35.0, "degC", "model")  # where the emitters take it without firing
BOILER_EMITTING_TAU = _fixed(900.0, "s", "model")
BOILER_COOLING_TAU = _fixed(5400.0, "s", "model")
BOILER_DIFFERENTIAL = Fact(10.0, "K", 5.0, 15.0, "memory")
PIPE_COOLING_TAU = Fact(600.0, "s", 400.0, 900.0, "memory")
PIPE_TAU = Fact(90.0, "s", 60.0, 120.0, "memory")
INDOOR_DEGC = Fact(20.0, "degC", 16.0, 24.0, "common practice")
COPPER_OHMS_PER_KFT = {14: 2.525, 16: 4.015, 18: 6.385, 20: 10.152, 22: 16.143}  # one conductor, 20 degC; ASTM B258
METRES_PER_FOOT = _fixed(0.3048, "m", "definition")
STRAY_FARADS_PER_METRE = Fact(80e-12, "F/m", 50e-12, 100e-12, "memory")  # conductor to neighbour in one cable
LEAK_OHMS = _fixed(1e9, "ohm", "model")  # every terminal to earth
