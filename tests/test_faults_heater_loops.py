"""Heater loops: every row shows what the trade says it shows. Values: common practice and memory, no source."""

import math
from dataclasses import replace

import pytest
from reference_circuits import REF_A, REF_E, zone_of
from small_benches import across, amps, calling, changed, cooling, times

from solvers.circuit import OPEN, ohms_reading
from solvers.faults.fault import suspects
from solvers.faults.heater_loops import HEATER_LOOP_ROWS
from solvers.faults.planting import planted
from solvers.jobs.acts import World, acted, arrival, checked
from solvers.jobs.objectives import OBJECTIVES
from solvers.plant.heads import under_head
from solvers.plant.panels import one_stat, relay_panel
from solvers.plant.parts import Boiler, HeatMotorValve, SpringReturnValve, Valve, WaxActuator
from solvers.plant.running import at_rest, called, lifted, network, opener_set, switched, waited
from solvers.plant.senses import sensed
from solvers.plant.topologies import four_wire, two_wire

ROWS = {row.id: row for row in HEATER_LOOP_ROWS}

SUPPLY = {name: REF_A.part(name) for name in ("transformer", "fuse", "boiler")}

NEVER = math.inf

IDS = (
    *(f"HL-{number:02}" for number in range(1, 15)),
    "HL-14b",
    "HL-15",
    "HL-15b",
    *(f"HL-{number:02}" for number in range(16, 31)),
    "NF-05",
)
"""Every row of the trade's table; two of them are two kinds of one thing, and have two."""


def _zones(*valves):
    return [replace(zone_of(valve.leads), valve=valve) for valve in valves]


def _head(**fields):
    return replace(zone_of().valve, **fields)


def _a(*valves, **others):
    return four_wire("reference A with other valves", _zones(*valves), **{**SUPPLY, **others})


TWO = _a(_head(), _head())
LIMIT = _a(_head(limit="fitted"))
BONDED = _a(_head(body=True), transformer=replace(REF_A.part("transformer"), grounded=True))
WAX = _a(WaxActuator("valve", ambient_degC=20.0))
MOTOR = _a(SpringReturnValve("valve"), SpringReturnValve("valve"))
ONE_STAT = one_stat("reference A, one stat", zone_of(), [zone_of()], **SUPPLY)
TWO_WIRE = two_wire("reference A, two-wire", _zones(_head(leads=2)), **{**SUPPLY, "boiler": Boiler("boiler", keeps_hot=True)})
PANEL = relay_panel("reference A, a relay for each zone", _zones(_head(), _head()), **SUPPLY)

DESIGNS = (REF_A, TWO, REF_E, LIMIT, BONDED, WAX, MOTOR, ONE_STAT, TWO_WIRE, PANEL)


def _stiff(volts):
    """Reference A with so much electromotive force that its heater has exactly these volts on call."""
    here = changed(REF_A, "transformer", emf=volts)
    state, _ = calling(here, 0.0, "zone1.stat")
    return changed(REF_A, "transformer", emf=volts**2 / across(here, state, "zone1.valve.HA", "zone1.valve.HB"))


def _fault(row, size=None, place=""):
    return ROWS[row].at("zone1", next(one for one in ROWS[row].places if one.words.startswith(place)), size)


def _fits(row):
    """Every design and place of zone 1 that a row fits."""
    return [(design, place) for design in DESIGNS for place in ROWS[row].places if ROWS[row].fits(design, "zone1", place)]


def _made(events):
    return next(iter(times(events, "zone1.valve end switch makes")), NEVER)


def _ohms(here, state, first, second, *off):
    """What an ohmmeter shows with both supplies switched off and some leads lifted."""
    state = switched(here, switched(here, state, "transformer", False), "boiler", False)
    for terminal in off:
        state = lifted(here, state, terminal)
    return ohms_reading(network(here, state), network(here, state, 0), first, second).value


# the rows as data -----------------------------------------------------------------------------------------------------


def test_the_rows_are_those_of_the_trade():
    """Every row of the heater loops is there once, in order."""
    assert IDS == tuple(row.id for row in HEATER_LOOP_ROWS)


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_every_row_is_whole(row):
    """A row has its texts, weights in range, known objectives, and a customer who names the room and not the cause."""
    whole = ROWS[row]
    assert all((whole.claim, whole.complaint, whole.noticed, whole.repair, whole.misdiagnosis))
    assert "{room}" in whole.complaint
    assert 0 <= whole.severity < 5
    assert 1 <= whole.prevalence <= 10
    assert set(whole.objectives) <= set(OBJECTIVES)
    assert (whole.kind == "intermittent") == bool(whole.trigger)
    assert (whole.kind == "nothing wrong") == (not whole.repairs and not whole.refer)


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_every_row_can_be_planted_and_suspected(row):
    """Where a row fits, planting leaves the design alone and differs from it, and the row is among the suspects."""
    found = _fits(row)
    assert found
    for design, place in found:
        before = repr(design)
        for fault in ROWS[row].suspect("zone1", place).family:
            assert (planted(design, fault) == design) == (not fault.changes)
        assert before == repr(design)
        offered = [one for suspect in suspects(design, "zone1", HEATER_LOOP_ROWS) for one in suspect.rows]
        assert ROWS[row] in offered


@pytest.mark.parametrize("row", [row for row in ROWS if ROWS[row].repairs], ids=str)
def test_every_repair_ends_it(row):
    """After the acts of a repair the valve and every conductor and joint are as designed, and the lever is in auto."""
    for design, place in _fits(row):
        fault = ROWS[row].suspect("zone1", place).family[0]
        there = planted(design, fault)
        assert _condition(World(design, there, at_rest(there))) != _condition(World(design, design, at_rest(design)))
        for acts in ROWS[row].repaired_by("zone1", place):
            world = World(design, there, at_rest(there))
            for act in acts:
                world, _ = acted(world, checked(act))
            assert _condition(World(design, design, at_rest(design))) == _condition(world)


def _condition(world):
    """What is there: valves and loops as parts, everything else by what it puts into the circuit, and the levers."""
    parts = {
        part.name: replace(part, engaged=False) if isinstance(part, Valve) else part.branches(part.initial(), 60.0)
        for part in world.installation.parts
    }
    levers = {name: state.engaged for name, state in world.state.parts.items() if hasattr(state, "engaged")}
    return parts, {wire.name: wire for wire in world.installation.conductors}, levers


SHOWN = {
    "cold": lambda seen, due: seen["flow on call"] == 0,
    "slow": lambda seen, due: seen["open after"] > 1.15 * due["open after"],
    "too warm": lambda seen, due: seen["pipe without"] > due["pipe without"] + 10,
    "dead": lambda seen, due: seen["fuse blown"],
    "boiler runs": lambda seen, due: seen["boiler without"],
    "odd": lambda seen, due: True,
}
"""What the first word of a complaint says of a zone, against what its design does."""


@pytest.mark.parametrize("row", [row for row in ROWS if not ROWS[row].trigger and ROWS[row].repairs], ids=str)
def test_the_customer_is_right(row):
    """Wherever a row that needs a repair fits, at either end of its range, the zone does what its symptom says.

    An hour of a second zone's call shows how warm the pipe gets without one here; a slow valve may never open at all.
    """
    for design, place in _fits(row):
        due = _behaviour(design, design)
        family = ROWS[row].suspect("zone1", place).family
        for fault in dict.fromkeys((family[0], family[-1])):
            assert SHOWN[ROWS[row].symptom](_behaviour(design, planted(design, fault)), due), (
                design.name,
                place.words,
                fault.size,
            )


def _behaviour(design, here):
    found = arrival(design, here).state
    others = [f"{zone}.stat" for zone in here.zones if zone != "zone1"]
    without, _ = calling(here, 3600, *others, state=found) if others else (found, ())
    on_call, events = calling(here, 3600, "zone1.stat", state=found)
    opened = [event.time for event in events if event.name in ("zone1.valve end switch makes", "zone1.valve is fully open")]
    return {
        "flow on call": on_call.of("zone1.valve").flow,
        "pipe without": without.values["zone1.loop.supply"],
        "open after": next(iter(opened), NEVER),
        "boiler without": found.of("boiler").called,
        "fuse blown": found.of("fuse").blown,
    }


def test_a_new_head_under_a_weeping_stem_is_no_cure():
    """HL-21 wants its stem tight: with a new head alone the next look shows water still."""
    there = planted(BONDED, _fault("HL-21", 20.0))
    world, _ = acted(World(BONDED, there, at_rest(there)), {"do": "fit", "part": "zone1.valve"})
    assert OPEN == world.installation.part("zone1.valve").insulation_ohms
    assert "weeps" in acted(world, {"do": "look", "part": "zone1.valve"})[1].text


def test_what_no_reading_parts_is_one_answer():
    """An open heater and a limit that stays open are one answer; a welded limit is another."""
    offered = suspects(LIMIT, "zone1", HEATER_LOOP_ROWS)
    together = [{row.id for row in suspect.rows} for suspect in offered if len(suspect.rows) > 1]
    assert [{"HL-01", "HL-15"}, {"HL-23", "NF-05"}] == together
    assert ["HL-01"] == [row.id for suspect in suspects(REF_A, "zone1", [ROWS["HL-01"]]) for row in suspect.rows]


# electrical readings --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("row", "size", "heater", "current", "r_c", "makes"),
    [
        ("HL-01", None, 27.5, 0.0, 27.5, NEVER),
        ("HL-02", 3.0, None, 4.7, 17.5, NEVER),
        ("HL-02", 1.0, None, 7.3, 12.3, NEVER),
        ("HL-03", 50.0, 26.0, 0.52, None, 216),
        ("HL-03", 60.0, None, 0.44, None, NEVER),
        ("HL-05", None, 25.2, 0.84, 25.7, NEVER),
        ("HL-06", None, 25.2, 0.84, 25.7, NEVER),
        ("HL-07", None, 25.2, 0.84, 25.7, 89),
        ("HL-08", None, 25.2, 0.84, 25.7, 89),
        ("HL-09", 3.0, 23.1, None, None, 118),
        ("HL-09", 8.0, 20.2, 0.674, None, 213),
        ("HL-09", 12.0, None, None, None, NEVER),
        ("HL-10", None, 0.0, 0.0, 27.5, NEVER),
        ("HL-12", None, 0.0, 0.0, 27.5, NEVER),
        ("HL-14", 720.0, None, 0.04, None, NEVER),
        ("HL-14b", 8.0, None, 2.5, None, 28),
        ("HL-17", 120.0, 22.9, None, None, 121),
        ("HL-22", None, 25.2, 0.84, 25.7, 89),
        ("HL-23", None, 25.2, 0.84, 25.7, 89),
        ("HL-24", None, 25.2, 0.84, 25.7, 89),
        ("HL-25", 0.1, 25.2, 0.84, 25.7, 89),
        ("HL-27", 0.1, 25.2, 0.84, 25.7, 89),
        ("HL-30", None, 25.2, 0.84, 25.7, 89),
    ],
)
def test_on_call(row, size, heater, current, r_c, makes):
    """On reference A with its zone calling, volts, amperes and the moment of the end switch are the trade's.

    The trade reckons a shorted heater without the fuse's 0.05 ohm, which is worth 2 % at 7 A; 8 ohm is the middle of its
    range for a 12 V head. Its 28 s are 52 W by the law of the wax.
    """
    here = planted(REF_A, _fault(row, size))
    state, _ = calling(here, 0.0, "zone1.stat")
    if heater is not None:
        assert heater == pytest.approx(across(here, state, "zone1.valve.HA", "zone1.valve.HB"), abs=0.1)
    if current is not None:
        assert current == pytest.approx(amps(here, state, "zone1.W leg"), rel=0.025, abs=0.005)
    if r_c is not None:
        assert r_c == pytest.approx(across(here, state, "R bus.fuse", "transformer.C"), abs=0.25)
    _, events = calling(here, 3600, "zone1.stat")
    assert makes == pytest.approx(_made(events), abs=2)


@pytest.mark.parametrize(("ohms", "drop"), [(3.0, 2.3), (8.0, 5.4), (12.0, 7.4)])
def test_a_bad_joint_shows_under_load_only(ohms, drop):
    """A high-resistance joint drops volts on call; idle, the stat still reads the whole source."""
    here = planted(REF_A, _fault("HL-09", ohms, "W splice"))
    state, _ = calling(here, 0.0, "zone1.stat")
    assert drop == pytest.approx(across(here, state, "zone1.W splice.1", "zone1.W splice.2"), abs=0.06)
    assert 27.5 == pytest.approx(across(here, at_rest(here), "zone1.stat.R", "zone1.stat.W"), abs=0.06)


def test_a_bad_joint_in_the_cold():
    """8 ohm that open the valve after 213 s at 20 degC never do at 5."""
    design = changed(REF_A, "zone1.valve", ambient_degC=5.0)
    _, events = calling(planted(design, _fault("HL-09", 8.0)), 7200, "zone1.stat")
    assert NEVER == _made(events)


def test_an_open_joint_has_all_the_volts():
    """On call the whole source stands across the open splice."""
    here = planted(REF_A, _fault("HL-10", place="C splice"))
    state, _ = calling(here, 0.0, "zone1.stat")
    assert 27.5 == pytest.approx(across(here, state, "zone1.C splice.1", "zone1.C splice.2"), abs=0.01)


def test_a_shorted_heater_opens_the_fuse():
    """3 ohm opens a 3 A fuse in minutes, 1 ohm in about ten seconds."""
    for ohms, low, high in ((3.0, 300, 900), (1.0, 5, 15)):
        _, events = calling(planted(REF_A, _fault("HL-02", ohms)), 3600, "zone1.stat")
        assert low < times(events, "fuse opens")[0] < high


@pytest.mark.parametrize(
    ("share", "source", "secondary", "lead"), [(0.1, 4.7, None, None), (0.5, 1.55, 24.3, 23.2), (0.9, 0.92, None, None)]
)
def test_a_heater_that_touches_its_body(share, source, secondary, lead):
    """With C bonded it draws by where it touches, and a lifted lead reads less than 130 ohm to the pipe (HL-04).

    The trade reckons without the fuse's 0.05 ohm.
    """
    here = planted(BONDED, _fault("HL-04", share))
    state, _ = calling(here, 0.0, "zone1.stat")
    assert source == pytest.approx(amps(here, state, "transformer.winding"), rel=0.01)
    if secondary:
        assert secondary == pytest.approx(across(here, state, "transformer.R", "transformer.C"), abs=0.1)
        assert lead == pytest.approx(across(here, state, "zone1.valve.HA", "zone1.valve.HB"), abs=0.15)
    assert 130 > _ohms(here, at_rest(here), "zone1.valve.HA", "zone1.valve.body", "zone1.valve.HA", "zone1.valve.HB")
    sound = _ohms(BONDED, at_rest(BONDED), "zone1.valve.HA", "zone1.valve.body", "zone1.valve.HA", "zone1.valve.HB")
    assert math.inf == sound


def test_a_heater_that_touches_near_its_first_lead_burns_before_the_fuse():
    """A tenth of the ohms takes 66 W: 250 degC after 95 s by the law of the wax, where 4.7 A need minutes for a 3 A fuse."""
    _, events = calling(planted(BONDED, _fault("HL-04", 0.1)), 3600, "zone1.stat")
    assert [pytest.approx(95, abs=3)] == times(events, "zone1.valve heater burns open")
    assert [] == times(events, "fuse opens")


def test_a_wet_actuator():
    """20 ohm from HA to the body with C bonded: 1.86 A, 22.3 V, and a look shows water and crust (HL-21)."""
    here = planted(BONDED, _fault("HL-21", 20.0))
    state, _ = calling(here, 0.0, "zone1.stat")
    # The trade reckons without the fuse's 0.05 ohm.
    assert 1.86 == pytest.approx(amps(here, state, "transformer.winding"), abs=0.01)
    assert 22.3 == pytest.approx(across(here, state, "zone1.valve.HA", "zone1.valve.HB"), abs=0.1)
    assert "weeps" in sensed(here, state, "look", "zone1.valve").text
    assert 20.2 == pytest.approx(
        _ohms(here, at_rest(here), "zone1.valve.HA", "zone1.valve.body", "zone1.valve.HA", "zone1.valve.HB"), abs=0.1
    )


@pytest.mark.parametrize("size", [92.0, 105.0])
def test_a_lead_that_lets_go_when_hot(size):
    """Amperes go after 90 to 120 s and all volts stand at the heater; the end switch opens before the lead remakes (HL-11)."""
    here = planted(REF_A, _fault("HL-11", size))
    _, events = calling(here, 1800, "zone1.stat")
    gone, back = times(events, "zone1.valve heater lead opens"), times(events, "zone1.valve heater lead remakes")
    assert 90 < gone[0] < 124
    state, _ = calling(here, gone[0] + 1, "zone1.stat")
    assert (27.5, 0.0) == pytest.approx(
        (across(here, state, "zone1.valve.HA", "zone1.valve.HB"), amps(here, state, "zone1.W leg")), abs=0.01
    )
    assert gone[0] < times(events, "zone1.valve end switch opens")[0] < back[0]


def test_both_leads_on_one_side():
    """On W each lead reads full volts to C; on C each reads nothing, and W reads full volts to C (HL-12)."""
    here = planted(REF_A, _fault("HL-12", place="W"))
    state, _ = calling(here, 0.0, "zone1.stat")
    for lead in ("HA", "HB"):
        assert 27.5 == pytest.approx(across(here, state, f"zone1.valve.{lead}", "transformer.C"), abs=0.05)
    here = planted(REF_A, _fault("HL-12", place="C"))
    state, events = calling(here, 600, "zone1.stat")
    for lead in ("HA", "HB"):
        assert 0 == pytest.approx(across(here, state, f"zone1.valve.{lead}", "transformer.C"), abs=0.05)
    assert 27.5 == pytest.approx(across(here, state, "zone1.W splice.2", "transformer.C"), abs=0.05)
    assert NEVER == _made(events)


def test_pairs_exchanged():
    """The heater sits across T-T: T-T 5.1 V idle, the input held in at 20.5 V; W is live and carries nothing (HL-13).

    30 ohm stand on the pair that ought to be the switch, and an opener that makes the switch puts it from W to C.
    """
    here = planted(changed(REF_A, "zone1.valve", opener="by hand, makes the switch"), _fault("HL-13"))
    idle = at_rest(here)
    assert 5.1 == pytest.approx(across(here, idle, "boiler.T1", "boiler.T2"), abs=0.06)
    assert 20.5 == pytest.approx(amps(here, idle, "boiler.input") * 120, abs=0.06)
    assert idle.of("boiler").called
    state, _ = calling(here, 0.0, "zone1.stat")
    assert 27.5 == pytest.approx(across(here, state, "zone1.valve.EA", "zone1.C splice.1"), abs=0.05)
    assert 0 == pytest.approx(amps(here, state, "zone1.W leg"), abs=1e-4)
    assert 30.2 == pytest.approx(_ohms(here, idle, "zone1.valve.HA", "zone1.valve.HB", "zone1.valve.HA"), abs=0.1)
    _, events = waited(here, opener_set(here, state, "zone1.valve", True), 60)
    assert 1 == len(times(events, "fuse opens"))


@pytest.mark.parametrize(("row", "size", "volts"), [("HL-14", 720.0, "120 V"), ("HL-14b", 8.0, "12 V")])
def test_a_head_for_other_volts_says_so(row, size, volts):
    """Its nameplate shows it; the one for line voltage never warms, the one for 12 V burns open after 147 s (HL-14)."""
    here = planted(REF_A, _fault(row, size))
    state, events = calling(here, 3600, "zone1.stat")
    assert f"says {volts}" in sensed(here, state, "look", "zone1.valve").text
    burnt = times(events, "zone1.valve heater burns open")
    # The fuse's 0.05 ohm costs the 12 V head 1 % of its amperes, and some seconds.
    assert burnt == ([] if row == "HL-14" else [pytest.approx(147, abs=4)])


def test_a_limit_that_stays_open_and_one_that_has_welded():
    """Open it reads as an open heater; welded it lets 0.84 A flow for ever and the head grows too hot (HL-15)."""
    here = planted(LIMIT, _fault("HL-15"))
    state, events = calling(here, 900, "zone1.stat")
    assert (27.5, 0.0) == pytest.approx(
        (across(here, state, "zone1.valve.HA", "zone1.valve.HB"), amps(here, state, "zone1.W leg")), abs=0.01
    )
    assert NEVER == _made(events)
    here = planted(LIMIT, _fault("HL-15b"))
    state, events = calling(here, 7200, "zone1.stat")
    assert 0.84 == pytest.approx(amps(here, state, "zone1.W leg"), abs=0.005)
    assert 20 + 0.84**2 * 30 * 6 == pytest.approx(state.values["zone1.valve.wax"], abs=1)
    assert [] == times(events, "zone1.valve limit opens")


def test_a_limit_that_comes_and_goes_is_healthy():
    """24 s on and 14 s off at full stroke, and the end switch stays made (NF-05)."""
    here = planted(LIMIT, _fault("NF-05"))
    state, events = calling(here, 900, "zone1.stat")
    opens, remakes = times(events, "zone1.valve limit opens"), times(events, "zone1.valve limit remakes")
    assert [24, 14] == [pytest.approx(opens[5] - remakes[4], abs=0.5), pytest.approx(remakes[4] - opens[4], abs=0.5)]
    assert [] == times(events, "zone1.valve end switch opens")
    assert state.of("boiler").called


@pytest.mark.parametrize(("volts", "makes"), [(24.0, 147), (21.0, 365), (20.0, NEVER)])
def test_a_cold_crawlspace(volts, makes):
    """At 5 degC 24 V take 147 s and 21 V 365 s; 20 V never do it (HL-16)."""
    here = planted(_stiff(volts), _fault("HL-16", 5.0))
    state, events = calling(here, 7200, "zone1.stat")
    assert volts == pytest.approx(across(here, state, "zone1.valve.HA", "zone1.valve.HB"), abs=0.01)
    assert makes == pytest.approx(_made(events), abs=2)
    assert "The air beside the head is cold" in sensed(here, state, "look", "zone1.valve").text


def test_a_hot_closet_closes_slowly():
    """At 45 degC, from reference A's steady state, the end switch opens after 141 s and the valve is shut after 235 s (HL-29)."""
    here = planted(REF_A, _fault("HL-29", 45.0))
    state, _ = calling(here, 7200, "zone1.stat")
    _, events = cooling(here, state, 900, "zone1.stat")
    assert [pytest.approx(141, abs=1)] == [when - 7200 for when in times(events, "zone1.valve end switch opens")]
    assert [pytest.approx(235, abs=1)] == [when - 7200 for when in times(events, "zone1.valve is shut")]


def test_a_hot_closet_from_24_volts():
    """At 45 degC, from a steady 24 V, it is 131 s and 224 s."""
    here = planted(_stiff(24.0), _fault("HL-29", 45.0))
    state, _ = calling(here, 7200, "zone1.stat")
    _, events = cooling(here, state, 900, "zone1.stat")
    assert [pytest.approx(131, abs=1)] == [when - 7200 for when in times(events, "zone1.valve end switch opens")]
    assert [pytest.approx(224, abs=1)] == [when - 7200 for when in times(events, "zone1.valve is shut")]


def test_a_long_thin_cable_drops_its_volts_on_the_way():
    """120 ft of 22 AWG are 3.9 ohm there and back, 3.0 V on call (HL-17)."""
    here = planted(REF_A, _fault("HL-17", 120.0))
    legs = [here.conductor(f"zone1.{leg} leg").ohms for leg in "RW"]
    assert 3.9 == pytest.approx(sum(legs), abs=0.05)
    state, _ = calling(here, 0.0, "zone1.stat")
    assert 3.0 == pytest.approx(sum(legs) * amps(here, state, "zone1.W leg"), abs=0.06)


def test_exchanged_leads_change_nothing():
    """Every ampere of the circuit is what it was (HL-22)."""
    here = planted(REF_A, _fault("HL-22"))
    (was, _), (now, _) = (calling(one, 300, "zone1.stat") for one in (REF_A, here))
    for wire in REF_A.conductors:
        assert amps(REF_A, was, wire.name) == pytest.approx(amps(here, now, wire.name), abs=1e-6)


def test_two_heaters_in_series():
    """0.44 A, 13.1 V and 5.8 W each; they end near 55 degC and never open (HL-26)."""
    here = planted(ONE_STAT, _fault("HL-26"))
    state, events = calling(here, 7200, "zone1.stat")
    assert 0.44 == pytest.approx(amps(here, state, "zone1.W leg"), abs=0.005)
    for valve in ("zone1.valve", "zone1b.valve"):
        volts = across(here, state, f"{valve}.HA", f"{valve}.HB")
        assert 13.1 == pytest.approx(volts, abs=0.05)
        assert 5.8 == pytest.approx(volts**2 / 30, abs=0.1)
        assert 55 == pytest.approx(state.values[f"{valve}.wax"], abs=1)
    assert [] == times(events, "zone1.valve end switch makes")


def test_an_actuator_that_holds_on_too_little():
    """It holds on 63 mA and not on 105, and in the cold its end switch opens in the middle of a call (HL-28)."""
    for here, milliamperes in ((WAX, 105), (planted(WAX, _fault("HL-28")), 63)):
        state, _ = calling(here, 3600, "zone1.stat")
        assert milliamperes == pytest.approx(1000 * amps(here, state, "zone1.W leg"), abs=0.6)
    cold = changed(WAX, "zone1.valve", ambient_degC=5.0)
    for here, count in ((cold, 0), (planted(cold, _fault("HL-28")), 1)):
        _, events = calling(here, 7200, "zone1.stat")
        assert count == len(times(events, "zone1.valve end switch opens"))


@pytest.mark.parametrize(
    ("row", "size", "design", "pair", "lift", "in_place", "alone"),
    [
        ("HL-01", None, REF_A, ("HA", "HB"), "HA", 1.8, math.inf),
        ("HL-02", 3.0, REF_A, ("HA", "HB"), "HA", 1.3, 3.2),
        ("HL-15", None, LIMIT, ("HA", "HB"), "HA", 1.8, math.inf),
        ("HL-18", None, MOTOR, ("HA", "HB"), "HA", 1.8, math.inf),
        ("HL-04", 0.5, BONDED, ("HA", "body"), "HA", 1.7, 15.2),
        ("HL-21", 100.0, BONDED, ("HA", "body"), "HA", 1.8, 100.2),
        ("HL-13", None, REF_A, ("HA", "HB"), "HA", 24.3, 30.2),
    ],
)
def test_a_parallel_path_misleads_an_ohmmeter(row, size, design, pair, lift, in_place, alone):
    """With the call left on and the supply off, a row in parallel reads wrong in place, and right with a lead lifted.

    In place the rest of the loop stands beside it: secondary 0.9, leg, stat, leg and fuse 0.75 ohm, probes 0.2; for the
    exchanged pairs T-T's 120.9 ohm. HL-21 lifts HB too, or the heater's 30 ohm stand beside its 100.
    """
    assert ROWS[row].parallel
    here = planted(design, _fault(row, size))
    calling_ = called(here, at_rest(here), "zone1.stat", True)
    first, second = (f"zone1.valve.{end}" for end in pair)
    also = ("zone1.valve.HB",) if "body" in pair else ()
    assert in_place == pytest.approx(_ohms(here, calling_, first, second), abs=0.15)
    assert alone == pytest.approx(_ohms(here, calling_, first, second, f"zone1.valve.{lift}", *also), abs=0.15)


def test_an_open_joint_reads_the_rest_of_its_loop():
    """With the call left on and the supply off, an open splice reads the loop's 31.8 ohm in place, and OL alone (HL-10)."""
    assert ROWS["HL-10"].parallel
    here = planted(REF_A, _fault("HL-10", place="W"))
    state, ends = called(here, at_rest(here), "zone1.stat", True), ("zone1.W splice.1", "zone1.W splice.2")
    assert 31.8 == pytest.approx(_ohms(here, state, *ends), abs=0.1)
    assert math.inf == _ohms(here, state, *ends, ends[0])


# mechanics ------------------------------------------------------------------------------------------------------------


def test_lost_stroke_and_a_stuck_stem_part_under_the_head():
    """Both are hot, silent and shut; with the head off a pin is slack, or a stem does not move (HL-05, HL-06)."""
    signals = {}
    for row in ("HL-05", "HL-06", "HL-23"):
        here = planted(REF_A, _fault(row))
        state, _ = calling(here, 1200, "zone1.stat")
        valve = here.part("zone1.valve")
        assert 100 < state.values["zone1.valve.wax"]
        assert (row == "HL-23") == bool(state.of("zone1.valve").flow) == state.of("boiler").called
        signals[row] = under_head(valve, state.of("zone1.valve")).signal
    assert {
        "HL-05": "pin: slack; stem: free; smell: none",
        "HL-06": "pin: firm; stem: stuck shut; smell: none",
        "HL-23": "pin: firm; stem: free; smell: none",
    } == signals


def test_under_the_head_of_a_motor():
    """A stripped gear and a broken spring are found by turning the shaft, and a burnt head by its smell."""
    signals = []
    for row in ("HL-18", "HL-19", "HL-20"):
        here = planted(MOTOR, _fault(row))
        signals.append(under_head(here.part("zone1.valve"), at_rest(here).of("zone1.valve")).signal)
    assert [
        "gear: whole; spring: whole; stem: free; smell: none",
        "gear: stripped; spring: whole; stem: free; smell: none",
        "gear: whole; spring: broken; stem: free; smell: none",
    ] == signals
    here = planted(REF_A, _fault("HL-14b", 8.0))
    state, _ = calling(here, 600, "zone1.stat")
    assert "burnt" in under_head(here.part("zone1.valve"), state.of("zone1.valve")).text


def test_what_passes_a_valve_that_does_not_call():
    """With zone 2 running: stuck open 1, leaking its share, lever engaged 1; idle volts are 0 and the pipe is warm."""
    for row, size, flow in (("HL-07", None, 1.0), ("HL-27", 0.1, 0.1), ("HL-08", None, 1.0), ("HL-23", None, 0.0)):
        here = planted(TWO, _fault(row, size))
        state, _ = calling(here, 3600, "zone2.stat")
        assert 0 == pytest.approx(across(here, state, "zone1.valve.HA", "zone1.valve.HB"), abs=0.005)
        assert flow == state.of("zone1.valve").flow
        assert (row != "HL-23") == (state.values["zone1.loop.supply"] > 30)
    assert (
        "held in the open position"
        in sensed(planted(TWO, _fault("HL-08")), at_rest(planted(TWO, _fault("HL-08"))), "look", "zone1.valve").text
    )


@pytest.mark.parametrize(("opener", "volts"), [("by hand", 26.0), ("by hand, makes the switch", 0.02)])
def test_a_lever_left_open_and_the_boiler(opener, volts):
    """Idle, T-T reads 26 V, or 0.02 V where the opener makes the end switch, and then the boiler runs (HL-08)."""
    here = planted(changed(REF_A, "zone1.valve", opener=opener), _fault("HL-08"))
    idle = at_rest(here)
    assert volts == pytest.approx(across(here, idle, "boiler.T1", "boiler.T2"), abs=0.005)
    assert (volts < 1) == idle.of("boiler").called
    released = changed(TWO, "zone1.valve", opener="by itself")
    assert not ROWS["HL-08"].fits(released, "zone1", ROWS["HL-08"].places[0])


def test_motor_valves():
    """Open: all volts, 0 A, silent. Stripped: 0.25 to 0.3 A, hums, stays shut. No spring: stays open, T-T 0.02 V idle."""
    here = planted(MOTOR, _fault("HL-18"))
    state, events = calling(here, 60, "zone1.stat")
    assert (27.5, 0.0) == pytest.approx(
        (across(here, state, "zone1.valve.HA", "zone1.valve.HB"), amps(here, state, "zone1.W leg")), abs=0.01
    )
    assert "sound: none" == sensed(here, state, "listen", "zone1.valve").signal
    here = planted(MOTOR, _fault("HL-19"))
    state, events = calling(here, 60, "zone1.stat")
    assert 0.25 <= amps(here, state, "zone1.valve.motor") <= 0.301
    assert ("sound: hums", 0.0, NEVER) == (
        sensed(here, state, "listen", "zone1.valve").signal,
        state.of("zone1.valve").flow,
        _made(events),
    )
    here = planted(MOTOR, _fault("HL-20"))
    idle = arrival(MOTOR, here).state
    assert 0 == pytest.approx(across(here, idle, "zone1.valve.HA", "zone1.valve.HB"), abs=0.005)
    assert 0.02 == pytest.approx(across(here, idle, "boiler.T1", "boiler.T2"), abs=0.005)
    assert "travel: open" in sensed(here, idle, "look", "zone1.valve").signal


def test_a_head_that_is_not_latched():
    """The head works, the end switch makes, the boiler fires; nothing flows, and a tug finds it loose (HL-24)."""
    here = planted(REF_A, _fault("HL-24"))
    state, _ = calling(here, 1200, "zone1.stat")
    assert (True, True, 0.0) == (state.of("zone1.valve").made, state.of("boiler").called, state.of("zone1.valve").flow)
    assert state.values["zone1.loop.supply"] < 25
    assert "seat: loose" in sensed(here, state, "feel", "zone1.valve").signal


@pytest.mark.parametrize("design", [REF_A, MOTOR], ids=["heat motor", "spring return"])
def test_a_body_that_stands_backwards(design):
    """It bangs once as it shuts, leaks its share, and its arrow shows it; a freed stem does not turn it round (HL-25)."""
    for here, bangs in ((design, 0), (planted(design, _fault("HL-25", 0.1)), 1)):
        state, _ = calling(here, 600, "zone1.stat")
        state, events = cooling(here, state, 900, "zone1.stat")
        assert (bangs, 1 - bangs) == tuple(len(times(events, f"zone1.valve {word} shut")) for word in ("bangs", "is"))
        assert 0.1 * bangs == state.of("zone1.valve").flow
        assert bool(bangs) == ("against the flow" in sensed(here, state, "look", "zone1.valve").text)
    freed = here.part("zone1.valve").reseated()
    assert (True, 0.1) == (freed.backwards, freed.leak)
    assert (True, 0.1) == (here.part("zone1.valve").refitted(_head()).backwards, here.part("zone1.valve").refitted(_head()).leak)


def test_an_opener_that_slips():
    """Untouched it is as designed; a nudge engages it and the next one lets it go; a healthy one does not mind (HL-30)."""
    here = planted(TWO, _fault("HL-30"))
    world = arrival(TWO, here)
    assert arrival(TWO, TWO).state.parts == world.state.parts
    assert "The lever gives at a touch." in sensed(here, world.state, "feel", "zone1.valve").text
    for flow in (1.0, 0.0):
        world, _ = acted(world, {"do": "nudge", "part": "zone1.valve"})
        assert (bool(flow), flow) == (world.state.of("zone1.valve").engaged, world.state.of("zone1.valve").flow)
    sound, _ = acted(arrival(TWO, TWO), {"do": "nudge", "part": "zone1.valve"})
    assert not sound.state.of("zone1.valve").engaged


def test_a_heat_motor_wants_its_time():
    """After half a minute it is warming on 25.2 V (25.1 behind a fuse) and 0.84 A, and has not moved (HL-23)."""
    here = planted(REF_A, _fault("HL-23"))
    state, _ = calling(here, 30, "zone1.stat")
    assert (25.2, 0.84) == pytest.approx(
        (across(here, state, "zone1.valve.HA", "zone1.valve.HB"), amps(here, state, "zone1.W leg")), abs=0.1
    )
    assert (0.0, False) == (state.of("zone1.valve").stroke, state.of("zone1.valve").made)
    assert isinstance(here.part("zone1.valve"), HeatMotorValve)
