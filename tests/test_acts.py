"""Acts at the bench beyond the plainest: breakers, ground, meters that load, what is told at once and while one waits."""

import json
import math
from dataclasses import replace

import pytest
from reference_circuits import REF_A, REF_C
from small_benches import acted_out, changed, on_call, world_of

from solvers.circuit import FUNCTIONS, OPEN, Meter, Reading
from solvers.jobs.acts import ACTS, LONGEST_TOLD, acted, arrival, checked, replayed
from solvers.jobs.bench import entry
from solvers.jobs.differences import LEAST, apart, readings_apart
from solvers.jobs.job import JobError
from solvers.jobs.sheet import Sheet, parsed, written
from solvers.jobs.world import places
from solvers.plant.electrics import electrics
from solvers.plant.parts import Boiler, Breaker, HeatMotorValve, Relay
from solvers.plant.protection import opening_seconds
from solvers.plant.thermostats import CPoweredStat, PowerStealingStat
from solvers.plant.weather import lived_in
from solvers.plant.wiring import Conductor, Installation, NoSuchPart


def _measure(function, first, second):
    return {"do": "measure", "function": function, "first": first, "second": second}


def _call(on=True, stat="zone1.stat"):
    return {"do": "call", "stat": stat, "on": on}


def _wait(seconds):
    return {"do": "wait", "seconds": seconds}


def _amps(world, branch):
    return electrics(world.installation, world.state.parts, world.state.lifted).amps[branch]


# breakers --------------------------------------------------------------------------------------------------------------

SHORTED = changed(REF_A.with_part(Breaker("fuse")), "zone1.valve", heater_ohms=0.5, heat_share=0.0)
OWN_BREAKER = changed(changed(REF_A, "transformer", protection="breaker"), "zone1.valve", heater_ohms=0.5, heat_share=0.0)


@pytest.mark.parametrize(
    ("installation", "name"), [(SHORTED, "fuse"), (OWN_BREAKER, "transformer")], ids=["breaker", "own breaker"]
)
def test_a_breaker_is_reset_and_trips_again_on_the_same_short(installation, name):
    """It clicks out on the short, stands out, goes back in when it has cooled, and clicks out again; off call it holds."""
    if name == "transformer":
        installation = changed(installation, "fuse", amps=100.0)
    world, outcome = acted_out(world_of(installation), _call(), _wait(60))
    assert [words for _, words in outcome.events] == [f"the {'breaker of the transformer' if name != 'fuse' else 'fuse'} clicks"]
    assert "The button of its breaker is out." in acted(world, {"do": "look", "part": name})[1].text
    assert 0 == pytest.approx(_amps(world, "zone1.valve.heater"), abs=0.01)
    world, outcome = acted_out(world, {"do": "reset", "part": name})
    assert "The button is in." == outcome.text
    assert _amps(world, "zone1.valve.heater") > 7
    again, outcome = acted_out(world, _wait(60))
    assert 1 == len(outcome.events)
    assert again.state.of(name).tripped
    held, outcome = acted_out(again, _call(False), {"do": "reset", "part": name}, _wait(60))
    assert () == outcome.events
    assert not held.state.of(name).tripped


def test_a_breaker_that_is_still_hot_comes_out_at_once():
    """Pushed in the moment it has tripped, the button does not stay; a minute later it does."""
    calls, outcome = acted_out(world_of(SHORTED), _call(), _wait(60))
    at = outcome.events[0][0]
    hot, _ = acted_out(world_of(SHORTED), _call(), _wait(at))
    after, outcome = acted_out(hot, {"do": "reset", "part": "fuse"})
    assert "The button comes out again at once." == outcome.text
    assert after.state.of("fuse").tripped
    assert "The button is in." == acted_out(calls, {"do": "reset", "part": "fuse"})[1].text


def test_what_has_no_button_is_not_reset():
    """A boiler, and a transformer behind a fuse, have nothing to push; the message names what has."""
    world = world_of(changed(SHORTED, "transformer", protection="breaker"))
    for part in ("boiler", "zone1.valve"):
        with pytest.raises(JobError, match=r"has no button to reset; there are \['transformer', 'fuse'\]"):
            acted(world, {"do": "reset", "part": part})
    with pytest.raises(JobError, match=r"'transformer' has no button to reset; there are \[\]"):
        acted(world_of(REF_A), {"do": "reset", "part": "transformer"})
    with pytest.raises(NoSuchPart, match="no part 'cat'"):
        acted(world, {"do": "reset", "part": "cat"})


# ground ----------------------------------------------------------------------------------------------------------------


def test_ground_is_a_test_point_and_what_is_joined_to_it_is_read():
    """With C bonded, ground is C and R stands at full volts over it (SP-20); with nothing joined only ghosts are read."""
    world = world_of(changed(REF_A, "transformer", grounded=True))
    assert 0 == acted(world, _measure("volts", "transformer.C", "earth"))[1].reading.value
    assert "27.50 V" == acted(world, _measure("volts", "transformer.R", "earth"))[1].text
    world, _ = acted_out(world, {"do": "switch", "part": "transformer", "on": False})
    assert acted(world, _measure("ohms", "transformer.C", "earth"))[1].reading.value < 0.5
    free = world_of(REF_A)
    for terminal in ("transformer.R", "transformer.C"):
        assert acted(free, _measure("volts low-Z", terminal, "earth"))[1].reading.value < 0.01
        off, _ = acted_out(free, {"do": "switch", "part": "transformer", "on": False})
        assert acted(off, _measure("ohms", terminal, "earth"))[1].reading.value > 1e7


def test_ground_gives_no_bond_away():
    """What a probe can touch is the same list whether or not something is joined to ground, leads lifted or not."""
    for acts in ([], [{"do": "lift", "terminal": "zone1.stat.W"}]):
        bonded, free = (acted_out(world_of(one), *acts)[0] for one in (changed(REF_A, "transformer", grounded=True), REF_A))
        assert places(bonded) == places(free)


def test_a_metal_body_is_joined_to_ground():
    """A valve whose body can be probed makes ground a point, and a heater that leaks to it is read there (HL-04)."""
    leaky = changed(REF_A, "zone1.valve", insulation_ohms=20.0, insulation_at=0.0, body=True)
    world, _ = acted_out(world_of(leaky), {"do": "switch", "part": "transformer", "on": False})
    for terminal in ("zone1.valve.HA", "zone1.valve.HB"):
        world, _ = acted_out(world, {"do": "lift", "terminal": terminal})
    assert 20.2 == pytest.approx(acted(world, _measure("ohms", "zone1.valve.HA", "earth"))[1].reading.value, abs=0.1)


# meters that load ------------------------------------------------------------------------------------------------------

SENSED = Installation("a sensed input", (Boiler("boiler", input="board-sensed"),), ())


def test_low_impedance_across_a_sensed_input_is_a_call():
    """Its 3 kilohms pass 2.2 mA: the boiler starts while the probes are on and stops when they come off; volts do not."""
    world, outcome = acted_out(world_of(SENSED), _measure("volts low-Z", "boiler.T1", "boiler.T2"))
    assert outcome.text == "0.000 V, the boiler starts while the probes are on"
    assert "The boiler starts." == outcome.signal
    assert not world.state.of("boiler").called
    for function in ("volts", "volts DC", "millivolts"):
        world, outcome = acted_out(world_of(SENSED), _measure(function, "boiler.T1", "boiler.T2"))
        assert ("", False) == (outcome.signal, world.state.of("boiler").called)
    assert "12.00 V DC" == acted(world_of(SENSED), _measure("volts DC", "boiler.T1", "boiler.T2"))[1].text


def test_low_impedance_leaves_an_input_with_its_own_supply_alone():
    """26 V behind 122 ohms read 25 V on 3 kilohms, and nothing answers."""
    world, outcome = acted_out(world_of(REF_A), _measure("volts low-Z", "boiler.T1", "boiler.T2"))
    assert 26 * 3000 / 3122 == pytest.approx(outcome.reading.value, abs=0.02)
    assert ("", False) == (outcome.signal, world.state.of("boiler").called)


def test_a_weak_board_is_not_called_by_the_meter():
    """A board with more ohms passes too little through the meter for a call."""
    weak = changed(SENSED, "boiler", board_ohms=4800.0)
    assert "" == acted(world_of(weak), _measure("volts low-Z", "boiler.T1", "boiler.T2"))[1].signal


def test_leads_in_the_current_jack_cost_the_meter_its_fuse():
    """Across R and C the meter's fuse goes in the time of its own curve; the house's survives, and the misuse is named."""
    world, outcome = acted_out(world_of(REF_A), _measure("amps jack", "R bus.fuse", "transformer.C"))
    assert ("the meter's fuse has blown", "current jacks across a source") == (outcome.text, outcome.misuse)
    amps = 27.5 / (2.1 + 0.05 + 0.1)
    assert opening_seconds(amps / 0.4) == pytest.approx(world.state.time, rel=0.01)
    assert not world.state.of("fuse").blown
    assert 0 < world.state.values["fuse.used"] < 1
    world, outcome = acted_out(world, _measure("amps jack", "R bus.fuse", "transformer.C"))
    assert ("0.0 mA", True) == (outcome.text, world.meter.jack_blown)
    assert "27.50 V" == acted(world, _measure("volts", "R bus.fuse", "transformer.C"))[1].text
    world, outcome = acted_out(world, {"do": "meter fuse"}, _measure("amps jack", "R bus.fuse", "transformer.C"))
    assert "the meter's fuse has blown" == outcome.text


def test_leads_in_the_current_jack_jump_t_t():
    """Across T-T they pass the input's own current and the boiler runs for as long, which is a misuse as well."""
    world, outcome = acted_out(world_of(REF_A), _measure("amps jack", "boiler.T1", "boiler.T2"))
    assert 26 / 122.1 == pytest.approx(outcome.reading.value, abs=0.001)
    assert outcome.text.endswith("the boiler starts while the probes are on")
    assert "current jacks across a source" == outcome.misuse
    assert not world.state.of("boiler").called
    assert not world.meter.jack_blown
    _, outcome = acted_out(world_of(REF_A), _measure("amps jack", "zone1.valve.HA", "zone1.valve.HB"))
    assert ("0.0 mA", "") == (outcome.text, outcome.misuse)


def test_millivolts_across_a_closed_contact():
    """A 0.05 ohm contact under 0.84 A drops 42 mV: the amperes times the ohms."""
    world, _ = acted_out(world_of(REF_A), _call())
    _, outcome = acted_out(world, _measure("millivolts", "zone1.stat.R", "zone1.stat.W"))
    assert _amps(world, "zone1.stat.contact") * 0.05 == pytest.approx(outcome.reading.value, abs=0.6e-4)
    assert outcome.text.endswith(" mV")
    assert "OL" == acted(world_of(REF_A), _measure("millivolts", "zone1.stat.R", "zone1.stat.W"))[1].text


def test_a_clamp_round_a_whole_cable_reads_nothing():
    """Both conductors of the stat's cable cancel, one of them shows the heater's amperes."""
    world, _ = acted_out(world_of(REF_A), _call())
    both = acted(world, {"do": "clamp", "wire": "zone1 stat cable", "turns": 1})[1]
    one = acted(world, {"do": "clamp", "wire": "zone1.W leg", "turns": 10})[1]
    assert "0.00 A" == both.text
    assert _amps(world, "zone1.valve.heater") == pytest.approx(one.reading.value, abs=0.001)
    with pytest.raises(NoSuchPart, match="no conductor 'zone9 stat cable'; there are"):
        acted(world, {"do": "clamp", "wire": "zone9 stat cable", "turns": 1})


def test_the_meter_in_hand_is_the_learners_own():
    """Another threshold changes what beeps: a 30 ohm heater, lifted and dead, is silent on a meter of 20."""
    world = acted_out(
        world_of(REF_A), {"do": "switch", "part": "transformer", "on": False}, {"do": "lift", "terminal": "zone1.valve.HA"}
    )[0]
    act = _measure("beeper", "zone1.valve.HA", "zone1.valve.HB")
    assert acted(world, act)[1].text.startswith("beep")
    assert acted(replace(world, meter=Meter(beeps_below=20.0)), act)[1].text.startswith("silent")


# what is told ----------------------------------------------------------------------------------------------------------


def test_a_relay_is_heard_when_a_hand_makes_it_answer():
    """A call that pulls a relay in clicks, one that leaves it between its levels buzzes, and switching off clicks again."""
    here = on_call(Relay("relay"), Relay("relay").coil_pair)
    world, outcome = acted_out(world_of(here), _call(stat="stat"))
    assert "The thermostat is turned up. The relay clicks." == outcome.text
    assert "The relay clicks." == outcome.signal
    assert "The relay clicks." == acted_out(world, {"do": "switch", "part": "transformer", "on": False})[1].signal
    weak = on_call(Relay("relay"), Relay("relay").coil_pair, emf=15.0)
    assert "The relay buzzes." == acted_out(world_of(weak), _call(stat="stat"))[1].signal


def test_a_boiler_is_heard_as_before():
    """Engaging an opener that makes its switch starts the boiler, auto stops it, in the same words as ever."""
    here = changed(REF_A, "zone1.valve", opener="by hand, makes the switch")
    world, outcome = acted_out(world_of(here), {"do": "opener", "valve": "zone1.valve", "engaged": True})
    assert ("The opener is engaged. The boiler starts.", "The boiler starts.") == (outcome.text, outcome.signal)
    _, outcome = acted_out(world, {"do": "opener", "valve": "zone1.valve", "engaged": False})
    assert "The boiler stops." == outcome.signal


def test_a_screen_that_goes_blank_is_told_while_one_waits():
    """Two seconds after C is lifted the screen is blank; landed again it comes back (TS-12)."""
    here = on_call(HeatMotorValve("valve")).with_part(CPoweredStat("stat"))
    here = here.with_conductors([Conductor("C leg", "stat.C", "transformer.C", 0.3)])
    world, outcome = acted_out(world_of(here), {"do": "lift", "terminal": "stat.C"}, _wait(60))
    assert "1 min later. After 2 s the screen of the stat goes blank." == outcome.text
    assert [(2.0, "the screen of the stat goes blank")] == [(round(time, 6), words) for time, words in outcome.events]
    _, outcome = acted_out(world, {"do": "land", "terminal": "stat.C"}, _wait(60))
    assert ["the screen of the stat comes back"] == [words for _, words in outcome.events]


def test_clicks_and_starts_are_told_in_order():
    """A wait over a warm-up tells the click, the boiler, and its burner as it reaches its limit."""
    _, outcome = acted_out(world_of(REF_A), _call(), _wait(600))
    assert ["valve 1 clicks", "the boiler starts"] == [words for _, words in outcome.events]
    assert "After 89 s valve 1 clicks. After 89 s the boiler starts." in outcome.text
    assert "the burner of the boiler stops." in outcome.text
    assert outcome.text.index("starts.") < outcome.text.index("the burner")


def test_a_long_wait_stays_readable():
    """An hour of a stat that starves over and over fits a sheet: the text is cut, and four moments of a kind are kept."""
    house = REF_A.with_part(PowerStealingStat("zone1.stat"))
    house = changed(house, "zone1.valve", limit="fitted")
    world, outcome = acted_out(world_of(house), _call(), _wait(3600), _wait(3600))
    assert len(outcome.text) <= LONGEST_TOLD + 20
    counts = {words: sum(said == words for _, said in outcome.events) for _, words in outcome.events}
    assert all(count <= 4 for count in counts.values())
    line = entry(_wait(3600), world.state.time, outcome)
    sheet = Sheet("ada", "heater-loops", 1, "seed", (line,), None)
    assert sheet == parsed(written(sheet))


def test_what_keeps_repeating_is_kept_four_times():
    """A heater lead that heat opens clicks its switch all afternoon: four clicks stand as evidence, the rest is told."""
    here = changed(REF_A, "zone1.valve", lead_opens_degC=95.0)
    _, outcome = acted_out(world_of(here), _call(), _wait(3600))
    clicks = [time for time, words in outcome.events if words == "valve 1 clicks"]
    assert 4 == len(clicks)
    assert outcome.text.count("valve 1 clicks") > 4
    assert " And more." not in outcome.text or len(outcome.text) <= LONGEST_TOLD + 20


def test_a_stat_that_calls_by_itself_is_told():
    """In a cooling house the stat is heard of as it calls; turned by hand it is not."""
    world = world_of(lived_in(REF_A, outdoor_degC=-20.0))
    for _ in range(3):
        world, outcome = acted_out(world, _wait(3600))
        if outcome.events:
            break
    assert ("stat 1 calls for heat") == outcome.events[0][1]
    assert "calls for heat" not in acted(world_of(REF_A), _call())[1].text


# fitting ---------------------------------------------------------------------------------------------------------------


def test_a_new_supply_is_as_dead_as_the_old_one_was_made():
    """Fitted with the switch off, transformer and boiler stay off until somebody switches them on."""
    world = world_of(changed(REF_A, "transformer", primary_open=True), REF_A)
    for part in ("transformer", "boiler"):
        world, _ = acted_out(world, {"do": "switch", "part": part, "on": False}, {"do": "fit", "part": part})
        assert not world.state.of(part).on
    assert 0 == acted(world, _measure("volts", "transformer.R", "transformer.C"))[1].reading.value
    world, _ = acted_out(world, {"do": "switch", "part": "transformer", "on": True})
    assert "27.50 V" == acted(world, _measure("volts", "transformer.R", "transformer.C"))[1].text


def test_what_belongs_to_the_place_stays():
    """A new head on the same body in the same closet: stem and air stay, the heater is new; a new transformer keeps its line."""
    bad = changed(REF_A, "zone1.valve", heater_ohms=OPEN, stem="stuck shut", ambient_degC=41.0)
    bad = changed(bad, "transformer", line_volts=108.0, shorted_turns=0.2)
    off = {"do": "switch", "part": "transformer", "on": False}
    world, _ = acted_out(world_of(bad, REF_A), {"do": "fit", "part": "zone1.valve"}, off, {"do": "fit", "part": "transformer"})
    valve, transformer = world.installation.part("zone1.valve"), world.installation.part("transformer")
    assert (30.0, "stuck shut", 41.0) == (valve.heater_ohms, valve.stem, valve.ambient_degC)
    assert (108.0, 0.0) == (transformer.line_volts, transformer.shorted_turns)


def test_a_new_part_is_heard_to_answer():
    """A new relay in a calling circuit clicks as it pulls in (ES-10)."""
    here = changed(REF_C, "relay", coil_ohms=OPEN)
    world, _ = acted_out(world_of(here, REF_C), _call(), _wait(300))
    assert not world.state.of("relay").pulled
    world, outcome = acted_out(world, {"do": "fit", "part": "relay"})
    assert world.state.of("relay").pulled
    assert {"The relay clicks.", "The boiler starts."} == {f"{words}." for words in outcome.signal.removesuffix(".").split(". ")}


def test_pipes_and_rooms_are_not_fitted():
    """A loop is no spare part; the message names what is one."""
    with pytest.raises(JobError, match=r"'zone1.loop' is nothing to replace; there are \['transformer', "):
        acted(world_of(REF_A), {"do": "fit", "part": "zone1.loop"})


# evidence --------------------------------------------------------------------------------------------------------------


def test_every_function_has_a_least_difference():
    """Whatever two probes can read can be held against a claim, in its own unit."""
    assert set(LEAST) == set(FUNCTIONS)


def test_too_many_millivolts_are_only_more_than_the_range():
    """OL in millivolts differs from 300 mV, not from 590: the display only says at least 600."""
    assert apart(math.inf, 0.3, "millivolts", 0.003)
    assert not apart(math.inf, 0.59, "millivolts", 0.006)
    assert not apart(math.inf, math.inf, "millivolts", 0.0)
    assert apart(math.inf, 0.59, "ohms", 0.006)


def test_a_beep_is_told_from_silence_only_where_the_ohms_differ():
    """39.9 ohms beep and 40.1 do not, which proves nothing; 5 and 90 do; two beeps never differ."""

    def heard(ohms):
        return Reading("beeper", ohms, 0.1, f"{'beep' if ohms < 40 else 'silent'}, {ohms} ohm")

    assert not readings_apart(heard(39.9), heard(40.1))
    assert readings_apart(heard(5.0), heard(90.0))
    assert not readings_apart(heard(1.0), heard(39.0))
    assert readings_apart(heard(5.0), Reading("beeper", None, 0.1, "stutters"))


@pytest.mark.parametrize("act", ["reset", "meter fuse"])
def test_the_new_acts_are_checked_as_the_others_are(act):
    """Their fields are proven, and a refused act changes nothing."""
    fields = dict.fromkeys(ACTS[act], "fuse")
    assert {"do": act, **fields} == checked({"do": act, **fields})
    with pytest.raises(JobError, match=r"unknown \['hammer'\]"):
        checked({"do": act, **fields, "hammer": 1})


def test_a_log_of_everything_replays():
    """The same acts on the same world show the same, meter's fuse and breakers included."""
    acts = [
        _call(),
        _measure("amps jack", "transformer.R", "transformer.C"),
        _measure("amps jack", "boiler.T1", "boiler.T2"),
        {"do": "meter fuse"},
        _wait(200),
        _measure("millivolts", "zone1.stat.R", "zone1.stat.W"),
        *({"do": how, "part": part.name} for part in SHORTED.parts for how in ("look", "listen", "feel")),
        {"do": "reset", "part": "fuse"},
    ]
    world = arrival(SHORTED, SHORTED)
    once, twice = replayed(world, acts), replayed(world, json.loads(json.dumps(acts)))
    assert once == twice
    assert "0.0 mA" == once[2].text
