"""Every physical number of the plant: value, unit, range and where it comes from. Nothing else."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = [
    "ANTICIPATOR_AMPS",
    "ANTICIPATOR_BURNS_S",
    "ANTICIPATOR_BURNS_TIMES",
    "ANTICIPATOR_MARKS",
    "ANTICIPATOR_RESISTANCE",
    "ANTICIPATOR_WATTS",
    "BOILER_BOARD_CALLS_AMPS",
    "BOILER_BOARD_OHMS",
    "BOILER_BOARD_RELEASES_AMPS",
    "BOILER_BOARD_VOLTS",
    "BOILER_BURNT_INPUT_OHMS",
    "BOILER_COOLING_TAU",
    "BOILER_DC_OHMS",
    "BOILER_DIFFERENTIAL",
    "BOILER_DROP_VOLTS",
    "BOILER_EMF",
    "BOILER_EMITTING_TAU",
    "BOILER_FIRED_DEGC",
    "BOILER_FIRED_TAU",
    "BOILER_GAS_HOLDS_VOLTS",
    "BOILER_INPUT_BURNS_VOLTS",
    "BOILER_INPUT_OHMS",
    "BOILER_OWN_LOAD_OHMS",
    "BOILER_PULL_VOLTS",
    "BOILER_RETURN_DEGC",
    "BOILER_SOURCE_OHMS",
    "BOILER_STANDBY_DEGC",
    "BOILER_WATER_DEGC",
    "BOND_OHMS",
    "BREAKER_AMPS",
    "BREAKER_OHMS",
    "CASE_RESISTANCE",
    "CELLS_BLANK_VOLTS",
    "CELLS_DROP_VOLTS",
    "CELLS_REST_VOLTS",
    "CELLS_VOLTS",
    "CELLS_WARN_VOLTS",
    "CIRCULATOR_OHMS",
    "CLASS_2_AMPS",
    "CLASS_2_FAULT_VA",
    "CLASS_2_FAULT_VA_LOW",
    "CLASS_2_HIGH_AMPS",
    "CLASS_2_LOW_AMPS",
    "CLASS_2_NAMEPLATE_VA",
    "CLASS_2_PEAK_VOLTS",
    "CLASS_2_VOLTS",
    "CLASS_2_VOLT_AMPS",
    "CLASS_2_VOLT_AMPS_DC",
    "CLASS_2_WET_PEAK_VOLTS",
    "CLASS_2_WET_VOLTS",
    "COPPER_ALPHA",
    "COPPER_LAY",
    "COPPER_OHMS_PER_KFT",
    "COPPER_RESISTIVITY",
    "CORE_EXPONENT",
    "CYCLE_RATES",
    "C_STAT_BLANK_VOLTS",
    "C_STAT_HOLDS_S",
    "C_STAT_OHMS",
    "FALSE_HEAT_TAU",
    "FUSE_AMPS",
    "FUSE_BOX",
    "FUSE_CURVE",
    "FUSE_MOST_TIMES",
    "FUSE_OHMS",
    "FUSE_SIZES",
    "HEATER_BURNS_DEGC",
    "HEATER_COOL_DEGC",
    "HEATER_LEAD_REMAKES_DEGC",
    "HEATER_OHMS",
    "HEATER_WARM_DEGC",
    "IEC_OHMS_PER_KM",
    "INDOOR_DEGC",
    "LAMP_OHMS",
    "LEAK_OHMS",
    "LEAST_OFF_S",
    "LIMIT_OPENS_ABOVE_END",
    "LIMIT_REMAKES_ABOVE_END",
    "LINE_OHMS",
    "LINE_VOLTS",
    "LOW_DRAW_CLOSES_DEGC",
    "LOW_DRAW_COLD_OHMS",
    "LOW_DRAW_FULL_DEGC",
    "LOW_DRAW_HOT_OHMS",
    "LOW_DRAW_MOVES_DEGC",
    "LOW_DRAW_RESISTANCE",
    "LOW_DRAW_SHUT_DEGC",
    "LOW_DRAW_TAU",
    "LOW_DRAW_TURNS_COLD_DEGC",
    "LOW_DRAW_TURNS_HOT_DEGC",
    "MAGNETISING_SHARE",
    "METRES_PER_FOOT",
    "MILD_DEGC",
    "MOTOR_BURNS_VOLTS",
    "MOTOR_DC_OHMS",
    "MOTOR_DRIVES_VOLTS",
    "MOTOR_HOLDS_VOLTS",
    "MOTOR_OHMS",
    "MOTOR_OPENS_S",
    "MOTOR_REACTANCE",
    "MOTOR_SHUTS_S",
    "MOTOR_SWITCH_MAKES_AT",
    "MOTOR_SWITCH_OPENS_AT",
    "NO_LOAD_WATTS",
    "ONE_SHOT_OPENS",
    "OUTDOOR_DEGC",
    "OXIDE_DRY_OHMS",
    "PIPE_COOLING_TAU",
    "PIPE_RETURN_LOSS",
    "PIPE_RETURN_TAU",
    "PIPE_STILL_GAIN",
    "PIPE_STILL_TAU",
    "PIPE_SUPPLY_LOSS",
    "PIPE_TAU",
    "PRIMARY_DC_OHMS",
    "PRIMARY_OHMS_EXPONENT",
    "RELAY_CONTACT_OHMS",
    "RELAY_DROP_VOLTS",
    "RELAY_OHMS",
    "RELAY_PULL_VOLTS",
    "RELAY_REACTANCE",
    "REVERSING_CAM",
    "REVERSING_DC_OHMS",
    "REVERSING_OHMS",
    "REVERSING_REACTANCE",
    "REVERSING_TRAVEL_S",
    "ROOM_GAIN",
    "ROOM_TAU",
    "SCREEN_RETURNS_S",
    "SERVICE_SHARES",
    "SET_BACK_DEGC",
    "SET_DEGC",
    "SHORTED_TURNS_EXPONENT",
    "SHORTED_TURNS_POWER_FACTOR",
    "SHORTED_TURNS_TIMES",
    "SOURCES",
    "SPLICE_OHMS",
    "STAT_DIFFERENTIAL",
    "STAT_OHMS",
    "STEALING_LEAST_AMPS",
    "STEALING_OHMS",
    "STEALING_STARVES_S",
    "STRAY_FARADS_PER_METRE",
    "SWITCH_LEAST_TRAVEL",
    "SWITCH_OHMS",
    "SWITCH_REMAKES_BELOW",
    "TRANSFORMER_DC_OHMS",
    "TRANSFORMER_EMF",
    "TRANSFORMER_HEAT_TAU",
    "TRANSFORMER_OHMS",
    "TRANSFORMER_SIZES",
    "TRANSFORMER_VA",
    "TRANSFORMER_VOLTS",
    "TRIAC_OFF_OHMS",
    "TRIAC_ON_OHMS",
    "VACATION_DEGC",
    "WAX_CLOSING_SPAN",
    "WAX_END_DEGC",
    "WAX_MOVES_BELOW_END",
    "WAX_OPENS_BELOW_END",
    "WAX_RESISTANCE",
    "WAX_TAU",
    "WINDING_BURNS_S",
    "WINDING_COOLS_TAU",
    "ZERO_OHMS",
    "Fact",
]

SOURCES = {
    "memory": "typical, from memory; no maker's data",
    "common practice": "common practice, no source",
    "ASTM B258": "ASTM B258 diameters with IEC 60028 copper, 0.017241 ohm mm2/m at 20 degC",
    "IEC 60028": "IEC 60028 standard annealed copper, 58 MS/m at 20 degC, read in copies",
    "IEC 60228": "IEC 60228 largest ohms at 20 degC, plain copper, read in copies",
    "NEC table 11": "NFPA 70 (2017) chapter 9 tables 11(A) and 11(B) with their notes, read in a copy",
    "ANSI C84.1": "ANSI C84.1 range A, read at second hand",
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
FUSE_BOX = (1.0, 2.0, 3.0, 3.5, 4.0, 5.0, 7.0, 10.0)  # A; what a van carries, right or wrong; source: common practice
FUSE_SIZES = (2.0, 3.0, 3.5)  # A; 4 A only where it is marked; source: common practice
FUSE_MOST_TIMES = _fixed(1.8, "", "common practice")  # of the transformer's rated amperes
BREAKER_AMPS = Fact(3.0, "A", 3.0, 4.0, "memory")  # push to reset, in the secondary
BREAKER_OHMS = Fact(0.06, "ohm", 0.03, 0.1, "memory")
TRANSFORMER_SIZES = (10.0, 20.0, 30.0, 40.0, 50.0, 75.0, 100.0)  # VA; source: common practice
TRANSFORMER_VOLTS = _fixed(24.0, "V", "common practice")  # at rated load
TRANSFORMER_HEAT_TAU = _fixed(1560.0, "s", "model")  # 26 min
ONE_SHOT_OPENS = _fixed(1.54, "", "model")  # heat of rated load is 1
NO_LOAD_WATTS = Fact(4.0, "W", 2.0, 6.0, "memory")
MAGNETISING_SHARE = _fixed(0.22, "var/VA", "model")  # no-load vars for each VA of nameplate
CORE_EXPONENT = _fixed(5.0, "", "model")  # no-load VA over flux: 6/5 of the flux is 2.5 times the heat
CASE_RESISTANCE = Fact(6.0, "K/W", 5.0, 8.0, "model")
SHORTED_TURNS_EXPONENT = _fixed(2.6, "", "model")  # source ohms over the share of turns left
SHORTED_TURNS_TIMES = _fixed(2.7, "", "model")  # VA in the ring, times nameplate and share
SHORTED_TURNS_POWER_FACTOR = _fixed(0.25, "", "model")
LINE_VOLTS = Fact(120.0, "V", 108.0, 126.0, "memory")
LINE_OHMS = Fact(0.3, "ohm", 0.1, 0.5, "memory")  # panel and house wiring
PRIMARY_DC_OHMS = Fact(20.0, "ohm", 12.0, 30.0, "memory")  # 40 VA, 120 V lead to common
PRIMARY_OHMS_EXPONENT = _fixed(1.07, "", "model")  # outer turns are longer: 208 V lead 1.8, 240 V lead 2.1 times the 120 V one
BOND_OHMS = _fixed(0.01, "ohm", "model")  # C or neutral to ground
CLASS_2_AMPS = _fixed(8.0, "A", "NEC table 11")  # inherently limited, after a minute, up to 30 V
CLASS_2_HIGH_AMPS = _fixed(0.005, "A", "NEC table 11")  # inherently limited, over 30 to 150 V AC
CLASS_2_LOW_AMPS = _fixed(5.0, "A", "NEC table 11")  # nameplate and overcurrent device up to 20 V
CLASS_2_NAMEPLATE_VA = _fixed(100.0, "VA", "NEC table 11")  # over 20 V
CLASS_2_FAULT_VA = _fixed(250.0, "VA", "NEC table 11")  # not inherently limited
CLASS_2_FAULT_VA_LOW = _fixed(350.0, "VA", "NEC table 11")  # the same up to 15 V
CLASS_2_VOLT_AMPS = _fixed(1000.0, "VA", "NEC table 11")  # not inherently limited: Imax times Vmax
CLASS_2_VOLT_AMPS_DC = _fixed(150.0, "VA", "NEC table 11")  # inherently limited DC over 30 to 60 V: Imax times Vmax
CLASS_2_PEAK_VOLTS = _fixed(42.4, "V", "NEC table 11")  # not sinusoidal, dry
CLASS_2_VOLTS = _fixed(30.0, "V", "NEC table 11")  # sinusoidal, dry
CLASS_2_WET_PEAK_VOLTS = _fixed(21.2, "V", "NEC table 11")  # not sinusoidal, wet contact likely
CLASS_2_WET_VOLTS = _fixed(15.0, "V", "NEC table 11")  # sinusoidal, wet contact likely
SERVICE_SHARES = (0.95, 1.05)  # of nominal volts at the service; source: ANSI C84.1
STAT_OHMS = Fact(0.05, "ohm", 0.02, 0.1, "memory")
SPLICE_OHMS = Fact(0.004, "ohm", 0.001, 0.01, "memory")  # a good one, both sides together
ZERO_OHMS = _fixed(0.001, "ohm", "model")  # a conductor of no length to speak of
SWITCH_OHMS = Fact(0.1, "ohm", 0.05, 0.2, "memory")  # end switch, made
OXIDE_DRY_OHMS = _fixed(20_000.0, "ohm", "model")  # an oxidised contact to milliamperes that do not burn through
CIRCULATOR_OHMS = Fact(160.0, "ohm", 100.0, 250.0, "memory")  # a small wet-rotor pump on 120 V, taken as a resistor
LAMP_OHMS = Fact(29.0, "ohm", 24.0, 36.0, "common practice")  # a 24 V lamp of about 20 W, hot
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
COPPER_RESISTIVITY = _fixed(1 / 58e6, "ohm m", "IEC 60028")  # 20 degC
COPPER_ALPHA = _fixed(0.00393, "1/K", "IEC 60028")  # of the ohms at 20 degC
COPPER_LAY = Fact(1.02, "", 1.0, 1.03, "memory")  # stranded over solid: the strands run in a helix
IEC_OHMS_PER_KM = {  # mm2: (solid, flexible); source: IEC 60228 classes 1 and 5
    0.5: (36.0, 39.0),
    0.75: (24.5, 26.0),
    1.0: (18.1, 19.5),
    1.5: (12.1, 13.3),
    2.5: (7.41, 7.98),
}
STRAY_FARADS_PER_METRE = Fact(80e-12, "F/m", 50e-12, 100e-12, "memory")  # conductor to neighbour in one cable
LEAK_OHMS = _fixed(1e9, "ohm", "model")  # every terminal to earth
SET_DEGC = Fact(20.0, "degC", 18.0, 22.0, "common practice")
STAT_DIFFERENTIAL = Fact(0.8, "K", 0.5, 1.5, "memory")
FALSE_HEAT_TAU = _fixed(300.0, "s", "model")
ANTICIPATOR_AMPS = Fact(0.8, "A", 0.1, 1.2, "memory")  # setting
ANTICIPATOR_WATTS = _fixed(0.12, "W", "memory")  # at its setting
ANTICIPATOR_RESISTANCE = _fixed(12.0, "K/W", "model")  # false heat for each watt
ANTICIPATOR_BURNS_TIMES = _fixed(5.0, "", "model")  # times the set amperes
ANTICIPATOR_BURNS_S = _fixed(0.5, "s", "model")
ANTICIPATOR_MARKS = (0.1, 0.2, 0.3, 0.4, 0.6, 0.8, 1.0, 1.2)  # A, printed on its scale; common practice
LEAST_OFF_S = (0.0, 60.0, 120.0, 180.0, 240.0, 300.0)  # what a menu offers; common practice
CYCLE_RATES = (1.0, 2.0, 3.0, 4.0, 5.0, 6.0)  # an hour, what a menu offers; common practice
SET_BACK_DEGC = Fact(16.0, "degC", 14.0, 18.0, "common practice")
VACATION_DEGC = Fact(10.0, "degC", 7.0, 13.0, "common practice")
CELLS_VOLTS = Fact(3.0, "V", 2.7, 3.2, "memory")
CELLS_REST_VOLTS = Fact(3.1, "V", 2.9, 3.3, "memory")  # both fresh, nothing drawn
CELLS_WARN_VOLTS = Fact(2.5, "V", 2.4, 2.6, "memory")
CELLS_DROP_VOLTS = Fact(2.1, "V", 2.0, 2.3, "memory")  # the relay no longer closes
CELLS_BLANK_VOLTS = _fixed(1.6, "V", "model")
C_STAT_OHMS = Fact(480.0, "ohm", 180.0, 1300.0, "memory")  # R to C
C_STAT_BLANK_VOLTS = _fixed(16.0, "V", "model")
C_STAT_HOLDS_S = _fixed(2.0, "s", "model")  # lives on its own store
SCREEN_RETURNS_S = _fixed(3.0, "s", "model")  # from starved to alive again
STEALING_OHMS = Fact(1000.0, "ohm", 490.0, 2500.0, "memory")  # R to W while off
STEALING_LEAST_AMPS = _fixed(0.001, "A", "model")
STEALING_STARVES_S = _fixed(60.0, "s", "model")
TRIAC_ON_OHMS = Fact(1.2, "ohm", 0.9, 1.8, "memory")
TRIAC_OFF_OHMS = Fact(10_000.0, "ohm", 5_000.0, 50_000.0, "memory")
OUTDOOR_DEGC = Fact(-5.0, "degC", -15.0, 8.0, "common practice")
MILD_DEGC = _fixed(18.0, "degC", "memory")  # outdoors, when a boiler with a warm-weather shutdown waits
ROOM_TAU = Fact(36_000.0, "s", 18_000.0, 72_000.0, "model")
ROOM_GAIN = Fact(0.75, "", 0.6, 0.95, "model")
HEATER_WARM_DEGC = _fixed(55.0, "degC", "model")  # wax at which a heater that is given cold ohms takes its hot ones
HEATER_COOL_DEGC = _fixed(50.0, "degC", "model")  # and takes the cold ones again
HEATER_LEAD_REMAKES_DEGC = Fact(65.0, "degC", 60.0, 70.0, "model")  # a lead that heat opens comes back
LIMIT_OPENS_ABOVE_END = _fixed(15.0, "K", "model")  # internal limit contact of a heat motor
LIMIT_REMAKES_ABOVE_END = _fixed(5.0, "K", "model")
SWITCH_REMAKES_BELOW = _fixed(5.0, "K", "model")  # an end switch that heat opens comes back so far below
SWITCH_LEAST_TRAVEL = _fixed(0.8, "", "common practice")  # share of the stroke without which no end switch is reached
LOW_DRAW_COLD_OHMS = Fact(80.0, "ohm", 60.0, 100.0, "memory")
LOW_DRAW_HOT_OHMS = Fact(260.0, "ohm", 190.0, 380.0, "memory")
LOW_DRAW_TURNS_HOT_DEGC = _fixed(85.0, "degC", "model")
LOW_DRAW_TURNS_COLD_DEGC = _fixed(55.0, "degC", "model")
LOW_DRAW_RESISTANCE = _fixed(32.0, "K/W", "model")
LOW_DRAW_TAU = _fixed(400.0, "s", "model")
LOW_DRAW_MOVES_DEGC = _fixed(60.0, "degC", "model")
LOW_DRAW_FULL_DEGC = _fixed(82.0, "degC", "model")  # and its switch makes
LOW_DRAW_CLOSES_DEGC = _fixed(72.0, "degC", "model")  # and its switch opens
LOW_DRAW_SHUT_DEGC = _fixed(55.0, "degC", "model")
MOTOR_OHMS = Fact(54.0, "ohm", 45.0, 72.0, "memory")  # 75 to 120 ohm in all, power factor 0.5 to 0.7
MOTOR_REACTANCE = Fact(72.0, "ohm", 60.0, 96.0, "memory")  # at 60 Hz
MOTOR_DC_OHMS = Fact(40.0, "ohm", 20.0, 60.0, "memory")
MOTOR_OPENS_S = Fact(15.0, "s", 6.0, 25.0, "memory")
MOTOR_SHUTS_S = Fact(6.0, "s", 3.0, 10.0, "memory")  # by its spring
MOTOR_DRIVES_VOLTS = _fixed(19.0, "V", "model")
MOTOR_HOLDS_VOLTS = _fixed(16.0, "V", "model")  # below it a spring wins
MOTOR_SWITCH_MAKES_AT = _fixed(0.9, "", "model")  # share of the stroke
MOTOR_SWITCH_OPENS_AT = _fixed(0.8, "", "model")
MOTOR_BURNS_VOLTS = _fixed(32.0, "V", "model")
REVERSING_OHMS = Fact(100.0, "ohm", 75.0, 170.0, "memory")  # each winding of a motor-open, motor-close valve: 2 to 5 VA
REVERSING_REACTANCE = Fact(130.0, "ohm", 100.0, 225.0, "memory")  # at 60 Hz
REVERSING_CAM = _fixed(0.05, "", "model")  # share of the travel over which a cam keeps a winding off
REVERSING_DC_OHMS = Fact(75.0, "ohm", 55.0, 130.0, "memory")
REVERSING_TRAVEL_S = Fact(30.0, "s", 15.0, 60.0, "memory")  # each way
WINDING_BURNS_S = _fixed(600.0, "s", "model")  # of over-voltage, for motors and relay inputs
WINDING_COOLS_TAU = _fixed(600.0, "s", "model")
RELAY_OHMS = Fact(70.0, "ohm", 45.0, 110.0, "memory")  # coil, what an ohmmeter reads
RELAY_REACTANCE = Fact(187.0, "ohm", 130.0, 258.0, "memory")  # at 60 Hz
RELAY_PULL_VOLTS = Fact(18.5, "V", 17.0, 20.0, "memory")
RELAY_DROP_VOLTS = Fact(7.0, "V", 4.0, 10.0, "memory")
RELAY_CONTACT_OHMS = Fact(0.05, "ohm", 0.02, 0.1, "memory")
BOILER_BOARD_VOLTS = Fact(12.0, "V", 5.0, 24.0, "memory")  # of direct current, open
BOILER_BOARD_OHMS = Fact(2400.0, "ohm", 1200.0, 4800.0, "memory")  # 2 to 10 mA closed
BOILER_BOARD_CALLS_AMPS = _fixed(0.002, "A", "model")
BOILER_BOARD_RELEASES_AMPS = _fixed(0.0015, "A", "model")
BOILER_INPUT_BURNS_VOLTS = _fixed(39.0, "V", "model")
BOILER_BURNT_INPUT_OHMS = _fixed(10_000.0, "ohm", "model")  # what stays across the input once its winding is open
BOILER_OWN_LOAD_OHMS = Fact(24.0, "ohm", 19.0, 30.0, "memory")  # gas valve, igniter control, damper on its own transformer
BOILER_GAS_HOLDS_VOLTS = _fixed(20.4, "V", "common practice")  # 85 % of 24 V: below it the gas valve drops out
PIPE_SUPPLY_LOSS = _fixed(0.03, "", "model")  # of the heat per pass at full flow, boiler to the pipe beyond the valve
PIPE_RETURN_LOSS = _fixed(0.2, "", "model")  # transfer units of the emitters at full flow
PIPE_RETURN_TAU = _fixed(150.0, "s", "model")  # the round of the loop
PIPE_STILL_GAIN = _fixed(0.8, "", "model")  # how nearly a pipe full of air and still water takes the header's warmth
PIPE_STILL_TAU = _fixed(300.0, "s", "model")
