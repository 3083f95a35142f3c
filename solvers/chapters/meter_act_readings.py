"""Every reading of currents, times, jumpers and leaks that the page on the meter prints; none takes arguments."""

from __future__ import annotations

from .explorer import both_air, span_text
from .heater_loop_house import Scene
from .meter_house import (
    AIR_BOUND,
    BOARD,
    DEAD_FEED,
    GROUNDED,
    HEALTHY,
    LAMP_FOR_FUSE,
    LAMP_FOR_FUSE_SHORTED,
    LOOSE,
    NICKED,
    OPEN_STAT,
    PHASED,
    PHASED_OPPOSED,
    SHORTED,
    TERRACE,
    THIN_TRUNK,
    UNPHASED_OPPOSED,
    WEAK,
    WELDED,
)
from .printed import Printed, amps, display, ohms, said, volts
from .visits import ohms_text

__all__ = [
    "after_slip",
    "against",
    "against_apart",
    "air_cold",
    "air_there",
    "board_ac",
    "board_dc",
    "board_low_z",
    "board_low_z_heard",
    "call_at_source",
    "clamp_cable",
    "clamp_foreseen",
    "clamp_one",
    "clamp_ten_display",
    "clamp_true",
    "click_alone",
    "click_both",
    "click_cold",
    "click_weak",
    "click_weak_cold",
    "field_pair",
    "good_branch",
    "ground_bonded",
    "ground_good",
    "ground_nicked",
    "heater_1",
    "heater_2",
    "heater_3",
    "heater_4",
    "heater_alone",
    "heater_both",
    "heater_weak",
    "idle_at_source",
    "in_phase",
    "jumped_amps",
    "jumped_at_panel",
    "jumped_dead_feed",
    "lamp_amps",
    "lamp_bright",
    "lamp_dim",
    "loose_again",
    "loose_first",
    "loose_joint",
    "loose_nudged",
    "pipes_after",
    "refit_amps",
    "return_air",
    "return_good_pipe",
    "short_branch",
    "slipped",
    "source_0",
    "source_1",
    "source_2",
    "source_3",
    "source_4",
    "source_ohms",
    "stuck_amps",
    "supply_air",
    "supply_good",
    "terrace_size",
    "trunk_drop",
    "trunk_heater_1",
    "trunk_heater_2",
    "trunk_heater_3",
    "trunk_heater_4",
    "trunk_source_0",
    "trunk_source_1",
    "trunk_source_2",
    "trunk_source_3",
    "trunk_source_4",
    "tt_amps",
    "tt_jumped",
    "tt_made",
    "tt_open",
    "weak_at_source",
    "weak_ohms",
    "welded",
    "welded_first_lifted",
    "welded_second_lifted",
]

C = "transformer.C"
R = "fuse.out"
STAT = "zone1.stat.R", "zone1.stat.W"
HEATER = "zone1.valve.HA", "zone1.valve.HB"
TT = "boiler.T1", "boiler.T2"
FIELD = "boiler.T1 lead", "boiler.T2 lead"
SUPPLIES = "fuse.out", "fuse 2.out"
W_LEG = "zone1.W leg"
COLD_DEGC = 5.0
OPENS_S = 600.0  # long after every valve of the workshop has opened
PIPES_S = 300.0

_CALL = HEALTHY.calling(1)


def _jumper(first: str, second: str) -> dict[str, object]:
    return {"do": "jumper", "first": first, "second": second, "on": True}


# 12: the clamp.
clamp_one = amps(_CALL, W_LEG, 1)
clamp_true = amps(_CALL, W_LEG)
clamp_cable = amps(_CALL, "zone1 stat cable", 1)


def clamp_ten_display() -> str:
    """The display with ten turns of W, before it is divided."""
    return f"{10 * _CALL.amps(turns=10):.2f} A"


def clamp_foreseen() -> str:
    """Volts across heater 1 over its ohms."""
    return f"{_CALL.volts(*HEATER) / HEALTHY.house.part('zone1.valve').heater_ohms:.3g} A"


# 16: a jumper from R to W.
stuck_amps = amps(OPEN_STAT.calling(1), W_LEG)
jumped_amps = amps(OPEN_STAT.after(_jumper(*STAT)), W_LEG)
jumped_dead_feed = amps(DEAD_FEED.after(_jumper(*STAT)), W_LEG)
jumped_at_panel = amps(DEAD_FEED.after(_jumper("R bus.zone1", "zone1.W splice.1")), "zone1.HA lead")
slipped = said(HEALTHY, _jumper(R, C))
after_slip = volts(HEALTHY.after(_jumper(R, C)), R, C)

# 17 to 19: the boiler's input.
tt_open = volts(HEALTHY, *TT)
tt_made = volts(_CALL.waited(OPENS_S), *TT)
tt_amps = amps(_CALL.waited(OPENS_S), "T-T cable A")
tt_jumped = said(HEALTHY, _jumper(*TT))
field_pair = volts(HEALTHY.lifted(TT[0]).lifted(TT[1]), *FIELD)
board_ac = display(BOARD.lifted(TT[0]).lifted(TT[1]), "volts", *TT)
board_dc = display(BOARD.lifted(TT[0]).lifted(TT[1]), "volts DC", *TT)
_board_low_z = display(BOARD.lifted(TT[0]).lifted(TT[1]), "volts low-Z", *TT)
welded = volts(WELDED, *TT)
welded_first_lifted = volts(WELDED.lifted("zone1.valve.EA"), *TT)
welded_second_lifted = volts(WELDED.lifted("zone2.valve.EA"), *TT)


def board_low_z() -> str:
    """What low-impedance volts show on a board-sensed pair."""
    return _board_low_z().partition(", ")[0]


def board_low_z_heard() -> str:
    """What is heard while they do."""
    return _board_low_z().partition(", ")[2].removesuffix(" while the probes are on")


# 13: the watch.
def _click(scene: Scene, *zones: int) -> Printed:
    return lambda: span_text(scene.calling(*zones).seconds_to_click())


click_alone = _click(HEALTHY, 1)
click_both = _click(HEALTHY, 1, 2)
click_cold = _click(HEALTHY.in_air(COLD_DEGC), 1)
click_weak = _click(WEAK, 1)
click_weak_cold = _click(WEAK.in_air(COLD_DEGC), 1)
heater_alone = volts(_CALL, *HEATER)
heater_both = volts(HEALTHY.calling(1, 2), *HEATER)
heater_weak = volts(WEAK.calling(1), *HEATER)


def air_there() -> str:
    """The air at valve 1 of the workshop."""
    return both_air(HEALTHY.house.part("zone1.valve").ambient_degC)


def air_cold() -> str:
    """The same valve in a cold crawlspace."""
    return both_air(COLD_DEGC)


# 14: zones added one at a time.
def _staged(scene: Scene, zones: int) -> Scene:
    return scene.calling(*range(1, zones + 1))


source_0 = volts(TERRACE, R, C)
source_1, source_2, source_3, source_4 = (volts(_staged(TERRACE, zones), R, C) for zones in (1, 2, 3, 4))
heater_1, heater_2, heater_3, heater_4 = (volts(_staged(TERRACE, zones), *HEATER) for zones in (1, 2, 3, 4))
trunk_source_0 = volts(THIN_TRUNK, R, C)
trunk_source_1, trunk_source_2, trunk_source_3, trunk_source_4 = (
    volts(_staged(THIN_TRUNK, zones), R, C) for zones in (1, 2, 3, 4)
)
trunk_heater_1, trunk_heater_2, trunk_heater_3, trunk_heater_4 = (
    volts(_staged(THIN_TRUNK, zones), *HEATER) for zones in (1, 2, 3, 4)
)
trunk_drop = volts(_staged(THIN_TRUNK, 4), "C bus.trunk", C)


def terrace_size() -> str:
    """What its transformer is marked with."""
    return f"{TERRACE.house.part('transformer').va:.0f} VA"


# 15: the source's own ohms.
def _source_ohms(scene: Scene) -> Printed:
    def printed() -> str:
        call = scene.calling(1)
        return ohms_text((scene.volts("fuse.in", C) - call.volts("fuse.in", C)) / call.amps())

    return printed


source_ohms = _source_ohms(HEALTHY)
weak_ohms = _source_ohms(WEAK)
idle_at_source = volts(HEALTHY, "fuse.in", C)
call_at_source = volts(_CALL, "fuse.in", C)
weak_at_source = volts(WEAK.calling(1), "fuse.in", C)

# 20: phase.
in_phase = volts(PHASED, *SUPPLIES)
against = volts(PHASED_OPPOSED, *SUPPLIES)
against_apart = volts(UNPHASED_OPPOSED, *SUPPLIES)


# 21: a short, found without feeding fuses.
def _branch(zone: int) -> Printed:
    return ohms(SHORTED.dead().lifted(f"zone{zone}.stat.W"), f"zone{zone}.W splice.1", C)


short_branch = _branch(1)
good_branch = _branch(2)
lamp_bright = volts(LAMP_FOR_FUSE_SHORTED.calling(1), "fuse.in", R)
lamp_dim = volts(LAMP_FOR_FUSE.calling(1), "fuse.in", R)
lamp_amps = amps(LAMP_FOR_FUSE_SHORTED.calling(1), "R bus feed")
refit_amps = amps(SHORTED.after({"do": "fit", "part": "fuse"}).calling(1), "R feed", 1)


# 22: to ground.
def _to_ground(scene: Scene) -> Printed:
    lifted = scene.dead().lifted("zone1.W splice.2").lifted("zone1.stat.W")
    return display(lifted, "ohms", "zone1.W splice.1", "earth")


ground_good = _to_ground(HEALTHY)
ground_nicked = _to_ground(NICKED)
ground_bonded = display(GROUNDED.dead(), "ohms", STAT[1], "earth")


# 23: pipes.
def _pipe(scene: Scene, which: str) -> Printed:
    def printed() -> str:
        call = scene.calling(1)
        after = call.waited(call.seconds_to_click() + PIPES_S)
        return both_air(after.world().state.values[f"zone1.loop.{which}"])

    return printed


supply_good, return_good_pipe = _pipe(HEALTHY, "supply"), _pipe(HEALTHY, "return")
supply_air, return_air = _pipe(AIR_BOUND, "supply"), _pipe(AIR_BOUND, "return")


def pipes_after() -> str:
    """How long after the click they are felt."""
    return f"{PIPES_S / 60:.0f} min"


# 24: what comes and goes.
def _nudged(times: int) -> Scene:
    scene = LOOSE.calling(1)
    for _ in range(times):
        scene = scene.after({"do": "nudge", "part": "zone1.stat"})
    return scene


loose_first = volts(_nudged(0), *HEATER)
loose_nudged = volts(_nudged(1), *HEATER)
loose_again = volts(_nudged(2), *HEATER)
loose_joint = volts(_nudged(1), "zone1.W splice.1", STAT[1])
