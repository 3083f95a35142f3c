"""The sums that the page on step-down power works out: sizes, fuses, source impedance. Each name is called without arguments."""

from __future__ import annotations

from collections.abc import Sequence

from ..plant import facts, sizing
from ..plant.parts import Fuse
from ..plant.sizing import Load
from .explorer import span_text
from .explorers_supply import SUPPLIES
from .printed import Printed
from .step_down_house import HEALTHY, SHORTED, staged
from .visits import ohms_text, volts_text

__all__ = [
    "big_open_volts",
    "bigger_fuse",
    "bigger_opens",
    "both_predicted",
    "ceiling_big",
    "ceiling_mill",
    "full_volts",
    "fuse_rule",
    "fuse_size",
    "fuse_times",
    "fuses_big",
    "fuses_mill",
    "heater_ohms",
    "heater_va",
    "idle_fine",
    "lost_one",
    "mixed_over",
    "mixed_phasor",
    "mixed_size",
    "mixed_sum",
    "mixed_wanted",
    "motor_va",
    "motors_size",
    "motors_sum",
    "motors_wanted",
    "one_fine",
    "own_opens",
    "regulation",
    "regulation_other",
    "relay_va",
    "share",
    "short_bound",
    "source_ohms",
    "stat_va",
    "stats_size",
    "stats_sum",
    "stats_wanted",
    "three_amps_nominal",
    "three_amps_share",
    "three_fuse_share",
    "three_size",
    "three_sum",
    "three_wanted",
    "touch_limit",
    "turns",
    "two_size",
    "two_sum",
    "two_wanted",
    "unit_amps",
    "unit_size",
]

R, C = "transformer.R", "transformer.C"
SHARE = 0.8  # of the nameplate that a load may fill; common practice, no source
SIZE_WITH_ROOM = "100 VA"
BIGGER_FUSE = 5.0  # A, what somebody in a hurry fits
MOTOR = Load(6.5, 0.6)  # a motor-driven valve; typical, from memory
RELAY = Load(3.0, 0.4)  # an isolation relay's coil; typical, from memory
STAT = Load(sizing.heater_va(facts.C_STAT_OHMS.value))  # a C-powered stat

_UNIT = HEALTHY.house.part("transformer")
_HEATER = HEALTHY.house.part("zone1.valve").heater_ohms
_FEED = {"do": "clamp", "wire": "R feed", "turns": 10}


def _heaters(count: int) -> Load:
    return Load(sizing.heater_va(_HEATER), count=count)


def _feed(zones: int) -> float:
    return staged(zones).shown(_FEED).reading.value


# Volt-amperes, then a size.
def heater_ohms() -> str:
    """Each heater of the mill."""
    return ohms_text(_HEATER)


def heater_va() -> str:
    """What one of them takes at 24 volts."""
    return f"{sizing.heater_va(_HEATER):.1f} VA"


def relay_va() -> str:
    """A relay's coil."""
    return f"{RELAY.va:g} VA"


def motor_va() -> str:
    """A motor-driven valve."""
    return f"{MOTOR.va:g} VA"


def stat_va() -> str:
    """The supply of a C-powered stat."""
    return f"{STAT.va:.1f} VA"


def share() -> str:
    """The most that a load should fill."""
    return f"{100 * SHARE:.0f} %"


def _sized(loads: Sequence[Load]) -> tuple[Printed, Printed, Printed]:
    """VA in all; that over the share; the smallest usual size that is left room in."""
    va = sizing.plain_va(loads)
    return lambda: f"{va:.1f} VA", lambda: f"{va / SHARE:.1f} VA", lambda: f"{sizing.nameplate(va, SHARE):g} VA"


THREE_AND_RELAY = (_heaters(3), RELAY)
MIXED = (_heaters(2), Load(MOTOR.va, MOTOR.power_factor, 3), RELAY)

two_sum, two_wanted, two_size = _sized((_heaters(2),))
three_sum, three_wanted, three_size = _sized(THREE_AND_RELAY)
stats_sum, stats_wanted, stats_size = _sized((_heaters(2), Load(STAT.va, count=2)))
motors_sum, motors_wanted, motors_size = _sized((Load(MOTOR.va, MOTOR.power_factor, 4), RELAY))
mixed_sum, mixed_wanted, mixed_size = _sized(MIXED)


def mixed_phasor() -> str:
    """The same load with watts and vars added each for itself."""
    return f"{abs(sizing.phasor_va(MIXED)):.1f} VA"


def mixed_over() -> str:
    """How much the plain sum is above that."""
    return f"{100 * (sizing.plain_va(MIXED) / abs(sizing.phasor_va(MIXED)) - 1):.0f} %"


def unit_size() -> str:
    """The mill's transformer."""
    return f"{_UNIT.va:g} VA"


def unit_amps() -> str:
    """Its rated amperes."""
    return f"{_UNIT.rated_amps:.2f} A"


def three_amps_nominal() -> str:
    """Three heaters and a relay at 24 volts."""
    return f"{sizing.plain_va(THREE_AND_RELAY) / facts.TRANSFORMER_VOLTS.value:.2f} A"


# A fuse for it.
def fuse_size() -> str:
    """The mill's fuse."""
    return f"{HEALTHY.house.part('fuse').amps:g} A"


def fuse_rule() -> str:
    """The most that the teaching rule allows behind the mill's transformer."""
    return f"{facts.FUSE_MOST_TIMES.value * _UNIT.rated_amps:.2f} A"


def fuse_times() -> str:
    """That rule's factor."""
    return f"{facts.FUSE_MOST_TIMES.value:g} times"


def ceiling_mill() -> str:
    """The class 2 ceiling at the mill's volts without load."""
    return f"{sizing.fuse_ceiling(_UNIT.open_volts):.2f} A"


def fuses_mill() -> str:
    """The usual fuses that may stand behind it with both zones on."""
    return _listed(sizing.fuses(_feed(2), _UNIT.va, _UNIT.open_volts))


def big_open_volts() -> str:
    """A transformer of the next size with room, without load."""
    return volts_text(SUPPLIES[SIZE_WITH_ROOM][0])


def ceiling_big() -> str:
    """The class 2 ceiling there."""
    return f"{sizing.fuse_ceiling(SUPPLIES[SIZE_WITH_ROOM][0]):.2f} A"


def fuses_big() -> str:
    """The usual fuses for three heaters and a relay behind it."""
    amps = sizing.plain_va(THREE_AND_RELAY) / facts.TRANSFORMER_VOLTS.value
    return _listed(sizing.fuses(amps, float(SIZE_WITH_ROOM.split()[0]), SUPPLIES[SIZE_WITH_ROOM][0]))


def _listed(sizes: Sequence[float]) -> str:
    return " or ".join(f"{size:g} A" for size in sizes)


def three_fuse_share() -> str:
    """Three zones on the mill's transformer, as a share of its fuse."""
    return f"{100 * _feed(3) / HEALTHY.house.part('fuse').amps:.0f} %"


def three_amps_share() -> str:
    """The same as a share of what the transformer is rated for."""
    return f"{sizing.percent_amps(_feed(3), _UNIT.va):.0f} %"


def bigger_fuse() -> str:
    """What somebody in a hurry fits."""
    return f"{BIGGER_FUSE:g} A"


def _opens(amps: float) -> Printed:
    def printed() -> str:
        short = SHORTED.after({"do": "fit", "part": "fuse"}).calling(1)
        return span_text(Fuse("fuse", amps).seconds_at(short.shown({"do": "clamp", "wire": "R feed", "turns": 1}).reading.value))

    return printed


own_opens, bigger_opens = _opens(HEALTHY.house.part("fuse").amps), _opens(BIGGER_FUSE)


# Source impedance from two readings, and what follows.
def _readings() -> tuple[float, float, float, float]:
    """Volts idle, volts with zone 1, its amperes, ohms of the source."""
    idle, one, amps = HEALTHY.volts(R, C), HEALTHY.calling(1).volts(R, C), HEALTHY.calling(1).shown(_FEED).reading.value
    return idle, one, amps, sizing.source_ohms((idle, 0.0), (one, amps))


def idle_fine() -> str:
    """R to C with nobody calling, to a hundredth."""
    return f"{_readings()[0]:.2f} V"


def one_fine() -> str:
    """R to C with zone 1 on call, to a hundredth."""
    return f"{_readings()[1]:.2f} V"


def lost_one() -> str:
    """What the source lost between the two."""
    idle, one, *_ = _readings()
    return f"{idle - one:.2f} V"


def source_ohms() -> str:
    """Its ohms."""
    return f"{_readings()[3]:.2f} ohms"


def both_predicted() -> str:
    """R to C with both zones, by those ohms and the clamp."""
    idle, _, _, ohms = _readings()
    return volts_text(idle - ohms * _feed(2))


def _full() -> tuple[float, float]:
    idle, _, _, ohms = _readings()
    return idle, idle - ohms * _UNIT.rated_amps


def full_volts() -> str:
    """R to C at the rated amperes."""
    return volts_text(_full()[1])


def regulation() -> str:
    """No load less full load, as a share of full load."""
    return f"{100 * sizing.regulation(*_full()):.1f} %"


def regulation_other() -> str:
    """The same as a share of no load."""
    return f"{100 * sizing.regulation_of_no_load(*_full()):.1f} %"


def short_bound() -> str:
    """The most that a dead short at its screws could draw, by those ohms."""
    idle, _, _, ohms = _readings()
    return f"{sizing.short_amps(idle, ohms):.1f} A"


# The ratio.
def turns() -> str:
    """Volts of the line for each volt of the secondary without load."""
    return f"{_UNIT.tap / _UNIT.emf:.1f}"


def touch_limit() -> str:
    """Class 2: the most volts of a sine where it may be touched dry."""
    return f"{sizing.class_2_touch_volts(wet=False, sinusoidal=True):g} V"
