"""What eyes, ears and hands tell: derived from the state, in words that a small difference does not change."""

import inspect
import itertools
import re
from dataclasses import fields, replace
from typing import get_type_hints

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_circuits import REF_A, REF_C, REF_E, zone_of
from small_benches import at_volts, calling, changed, cooling, on_call

from solvers.circuit import OPEN, Event
from solvers.jobs.differences import signals_apart
from solvers.plant import lamps, light_switch, pacing, parts, running, thermostats
from solvers.plant.impressions import AIR, WARMTH, Place, Scale, agree, graded
from solvers.plant.lamps import Lamp
from solvers.plant.light_switch import LightSwitch, LightSwitchState
from solvers.plant.part import Part
from solvers.plant.parts import (
    Boiler,
    BoilerState,
    Breaker,
    BreakerState,
    Fuse,
    FuseState,
    HeatedState,
    HeatedValve,
    HeatMotorValve,
    Loop,
    MotorState,
    MotorValve,
    OpenCloseValve,
    Relay,
    RelayState,
    Room,
    Splice,
    SpringReturnValve,
    Stat,
    StatState,
    Transformer,
    TransformerState,
    Valve,
    WaxActuator,
)
from solvers.plant.running import at_rest, called, opener_set, switched, waited
from solvers.plant.senses import SENSES, heard, noticed, sensed, telling
from solvers.plant.sounds import HAPPENINGS
from solvers.plant.thermostats import (
    AnticipatorStat,
    BatteryStat,
    CPoweredStat,
    PowerStealingStat,
    TriacStat,
    TwoSupplyStat,
)
from solvers.plant.topologies import four_wire
from solvers.plant.touches import HEAD_SHARE, case_degC
from solvers.plant.weather import lived_in
from solvers.plant.wiring import Conductor, Installation, NoSuchPart

KINDS = (
    Boiler("part"),
    Boiler("part", input="board-sensed"),
    Boiler("part", keeps_hot=True, circulator="always"),
    Breaker("part"),
    Fuse("part"),
    Lamp("part"),
    LightSwitch("part"),
    HeatMotorValve("part"),
    HeatMotorValve("part", leads=2),
    HeatMotorValve("part", backwards=True),
    HeatMotorValve("part", limit="fitted", cold_ohms=27.0, lead_opens_degC=100.0, switch_opens_degC=100.0),
    Loop("part", valve="valve"),
    OpenCloseValve("part"),
    OpenCloseValve("part", leads=3),
    Relay("part"),
    Room("part", loop="loop"),
    Splice("part"),
    SpringReturnValve("part"),
    SpringReturnValve("part", leads=2),
    Stat("part"),
    Stat("part", room="room"),
    AnticipatorStat("part"),
    BatteryStat("part"),
    CPoweredStat("part"),
    PowerStealingStat("part"),
    TriacStat("part"),
    TwoSupplyStat("part"),
    Transformer("part"),
    Transformer("part", protection="breaker"),
    Transformer("part", feed_parts=0.05),
    Transformer("part", protection="one-shot", taps=(120.0, 208.0), line_side=True),
    WaxActuator("part"),
    WaxActuator("part", leads=2),
)
"""Every kind of part in every make that has happenings of its own."""


def _look(here, state, part):
    return sensed(here, state, "look", part)


def _listen(here, state, part):
    return sensed(here, state, "listen", part)


def _feel(here, state, part):
    return sensed(here, state, "feel", part)


def _alone(part, *more):
    here = Installation("a part alone", (part, *more), ())
    return here, at_rest(here)


def _words(sense, what):
    """The words that a signal has for one thing."""
    things = dict(thing.split(": ", 1) for thing in sense.signal.split("; "))
    return things[what].split("|")


# every kind ------------------------------------------------------------------------------------------------------------


def test_every_kind_of_part_is_here():
    """The kinds tried below are all that stand on the shelf, those that only others are made of left out."""
    shelf = {name: getattr(module, name) for module in (parts, thermostats, lamps, light_switch) for name in module.__all__}
    kinds = {kind for kind in shelf.values() if inspect.isclass(kind) and issubclass(kind, Part)}
    assert kinds - {Part, Valve, HeatedValve, MotorValve} == {type(part) for part in KINDS}


@pytest.mark.parametrize("how", SENSES)
@pytest.mark.parametrize("part", KINDS, ids=lambda part: type(part).__name__)
def test_every_sense_has_a_sentence_and_a_signal_for_every_kind(how, part):
    """Whatever is looked at, listened to or felt gives whole sentences, and a signal of things and words."""
    room, loop, boiler = Room("room", loop="loop"), Loop("loop", valve="valve"), Boiler("boiler")
    others = [one for one in (HeatMotorValve("valve"), loop, boiler, room) if one.name != part.name]
    here, state = _alone(part, *others)
    sense = sensed(here, state, how, "part")
    assert re.fullmatch(r"([A-Z][^.]*(\.\d[^.]*)*\. ?)+", sense.text)
    assert all(re.fullmatch(r"[a-z ]+: [^;|]+(\|[^;|]+)*", thing) for thing in sense.signal.split("; "))
    assert len(sense.text) < 400
    assert len(sense.signal) < 400


def test_what_is_not_there_is_named():
    """An unknown part or sense is refused with what there is."""
    with pytest.raises(NoSuchPart, match="no part 'cat'; there are"):
        _look(REF_A, at_rest(REF_A), "cat")
    with pytest.raises(ValueError, match=r"sense 'taste'; there are \['look', 'listen', 'feel'\]"):
        sensed(REF_A, at_rest(REF_A), "taste", "fuse")


# words -----------------------------------------------------------------------------------------------------------------


@given(st.floats(-30, 130), st.floats(-30, 130), st.sampled_from([AIR, WARMTH, Scale(("a", "b", "c"), (0.0, 1.0), 0.4)]))
def test_only_values_that_lie_apart_are_told_apart(one, other, scale):
    """Values within twice the doubt share a word; with a level between, each further off than the doubt, they share none."""
    shared = set(scale.spoken(one)) & set(scale.spoken(other))
    low, high = sorted((one, other))
    if high - low <= 2 * scale.doubt:
        assert shared
    if any(low + scale.doubt < level <= high - scale.doubt for level in scale.levels):
        assert not shared


@given(st.floats(-20, 60, allow_subnormal=False), st.floats(-0.9, 0.9))
def test_a_thermometer_is_read_to_its_step(x, off):
    """Two readings of a dial less than twice the doubt apart always share a step, and a step holds its value."""
    assert set(graded(x, 2.0, 0.5)) & set(graded(x + off, 2.0, 0.5))
    low, high = (float(edge) for edge in graded(x, 2.0, 0.0)[0].split(" to "))
    assert low <= x < high


def test_signals_agree_thing_by_thing():
    """One thing without a word in common, or a thing that only one of them has, sets two signals apart."""
    assert agree("head: hot; pipe: warm|hot", "head: warm|hot; pipe: hot")
    assert not agree("head: hot; pipe: cold", "head: hot; pipe: warm")
    assert not agree("head: hot", "head: hot; pipe: warm")
    assert agree("", "")
    assert not agree("The boiler starts.", "")
    assert signals_apart("head: warm", "head: hot")
    assert not signals_apart("The boiler starts.", "The boiler starts.")


SMALL = (
    ("transformer", "emf"),
    ("transformer", "ohms"),
    ("zone1.valve", "heater_ohms"),
    ("zone1.valve", "wax_resistance"),
    ("zone1.valve", "wax_tau"),
    ("zone1.valve", "ambient_degC"),
    ("zone1.valve", "end_degC"),
    ("boiler", "input_ohms"),
    ("boiler", "water_degC"),
    ("zone1.stat", "ohms"),
)


@pytest.mark.parametrize(("part", "field"), SMALL)
@pytest.mark.parametrize("share", [0.99, 1.01])
def test_a_hundredth_more_or_less_changes_no_signal(part, field, share):
    """At any of many moments of a call and after it, one percent of one value sets no signal apart."""
    there = changed(REF_A, part, **{field: share * getattr(REF_A.part(part), field)})
    mine, yours = at_rest(REF_A), at_rest(there)
    for act, seconds in ((True, (5, 20, 60, 45, 100, 170, 300, 900)), (False, (5, 30, 60, 120, 300, 600, 1200))):
        mine, yours = called(REF_A, mine, "zone1.stat", act), called(there, yours, "zone1.stat", act)
        for wait in seconds:
            mine, yours = waited(REF_A, mine, wait)[0], waited(there, yours, wait)[0]
            for how in SENSES:
                for thing in ("transformer", "fuse", "boiler", "zone1.loop", "zone1.stat", "zone1.W splice"):
                    one, other = sensed(REF_A, mine, how, thing), sensed(there, yours, how, thing)
                    assert not signals_apart(one.signal, other.signal), (mine.time, how, thing)
            one, other = _feel(REF_A, mine, "zone1.valve"), _feel(there, yours, "zone1.valve")
            assert not signals_apart(one.signal, other.signal), mine.time


@pytest.mark.parametrize("level", WARMTH.levels[1:])
@pytest.mark.parametrize("share", [0.99, 1.01])
def test_at_the_very_edge_of_a_word_a_hundredth_changes_no_signal(level, share):
    """In the moment in which a head or a pipe passes from one word to the next, one percent of a heater is not felt."""
    there = changed(REF_A, "zone1.valve", heater_ohms=share * 30.0)
    mine, yours = (called(here, at_rest(here), "zone1.stat", True) for here in (REF_A, there))

    def warmth(what, seconds):
        values = waited(REF_A, mine, seconds)[0].values
        wax = values["zone1.valve.wax"]
        return {"head": 20.0 + HEAD_SHARE * (wax - 20.0), "pipe": values["zone1.loop.supply"]}[what]

    for what in ("head", "pipe"):
        early, late = 0.0, 600.0
        assert warmth(what, early) < level < warmth(what, late)
        for _ in range(40):
            middle = (early + late) / 2
            early, late = (middle, late) if warmth(what, middle) < level else (early, middle)
        felt = [_feel(here, waited(here, state, early)[0], "zone1.valve") for here, state in ((REF_A, mine), (there, yours))]
        assert 2 == len(_words(felt[0], what))
        assert not signals_apart(felt[0].signal, felt[1].signal)


# valves ----------------------------------------------------------------------------------------------------------------


def test_a_head_warms_with_its_wax():
    """On a call a head goes from room temperature by way of warm to hot, and the same word never comes back."""
    here = on_call(HeatMotorValve("valve", 4, 30.0, ambient_degC=20.0))
    state, told = called(here, at_rest(here), "stat", True), []
    for _ in range(40):
        told += _words(_feel(here, state, "valve"), "head")
        state, _ = waited(here, state, 2.0)
    assert [word for word, _ in itertools.groupby(dict.fromkeys(told))] == ["at room temperature", "warm", "hot"]
    assert "The head is hot." in _feel(here, state, "valve").text


def test_an_open_heater_stays_at_room_temperature():
    """A head without current is as warm as its air however long it calls, in a cold place and in a hot one (HL-01)."""
    for ambient, word in ((5.0, "cold"), (20.0, "at room temperature"), (38.0, "warm")):
        here = on_call(HeatMotorValve("valve", 4, OPEN, ambient_degC=ambient))
        state, _ = calling(here, 900)
        assert [word] == _words(_feel(here, state, "valve"), "head")


def test_lost_stroke_is_hot_and_its_pipe_is_not():
    """A head that heats without a stroke is hot over a cool pipe; a healthy one is hot over a hot one (HL-05)."""
    for charge, pipe in ((1.0, ["hot"]), (0.0, ["at room temperature"])):
        here = changed(REF_A, "zone1.valve", charge=charge)
        state, _ = calling(here, 900, "zone1.stat")
        felt = _feel(here, state, "zone1.valve")
        assert (["hot"], pipe) == (_words(felt, "head"), _words(felt, "pipe"))


def test_a_pipe_thermometer_shows_the_water_in_both_units():
    """The digits in the text are the state's own temperature, in degrees Celsius and Fahrenheit."""
    state, _ = calling(REF_A, 700, "zone1.stat")
    text = _feel(REF_A, state, "zone1.loop").text
    shown = [(int(c), int(f)) for c, f in re.findall(r"(-?\d+) °C \((-?\d+) °F\)", text)]
    pipes = [state.values[f"zone1.loop.{pipe}"] for pipe in ("supply", "return")]
    assert [(round(degC), round(degC * 9 / 5 + 32)) for degC in pipes] == shown
    assert f"{round(pipes[0])} °C" in _feel(REF_A, state, "zone1.valve").text


def test_supply_and_return_tell_air_from_a_shut_service_valve():
    """Air-bound the supply is warm and the return not; shut both are cool and the handle says so (MZ-20, MZ-23)."""
    felt = {}
    for name, changes in (("flows", {}), ("air", {"air_bound": True}), ("shut", {"flows": False})):
        here = changed(REF_A, "zone1.loop", **changes)
        state, _ = calling(here, 1500, "zone1.stat")
        sense = _feel(here, state, "zone1.loop")
        felt[name] = (_words(sense, "supply"), _words(sense, "return"))
        assert ["shut" if name == "shut" else "open"] == _words(_look(here, state, "zone1.loop"), "service valve")
    cool = ["at room temperature"]
    assert cool == felt["air"][1] == felt["shut"][0] == felt["shut"][1]
    assert cool not in (felt["flows"][0], felt["flows"][1], felt["air"][0])


def test_the_lever_is_seen_on_every_kind_of_valve():
    """An engaged opener shows on any valve, and back in auto it shows as well."""
    for valve in (HeatMotorValve("valve"), WaxActuator("valve"), SpringReturnValve("valve"), OpenCloseValve("valve")):
        here = on_call(valve)
        state = at_rest(here)
        assert "The lever is in auto." in _look(here, state, "valve").text
        engaged = opener_set(here, state, "valve", True)
        assert "The lever is held in the open position." in _look(here, engaged, "valve").text
        assert signals_apart(_look(here, state, "valve").signal, _look(here, engaged, "valve").signal)
        if isinstance(valve, MotorValve):
            assert ["open"] == _words(_look(here, engaged, "valve"), "travel")


def test_the_travel_of_a_motor_valve_is_seen():
    """Its mark goes from shut by way of part way to open and comes back; a stripped gear never moves it, and both hum."""
    for gear, marks in ((1.0, [["shut"], ["part way"], ["open"]]), (0.0, [["shut"]] * 3)):
        here = on_call(SpringReturnValve("valve", gear=gear))
        seen, state = [_words(_look(here, at_rest(here), "valve"), "travel")], at_rest(here)
        for seconds in (7, 30):
            state, _ = calling(here, seconds, state=state)
            seen.append(_words(_look(here, state, "valve"), "travel"))
            assert "Its motor hums." == _listen(here, state, "valve").text
            assert ["hums"] == _words(_listen(here, state, "valve"), "sound") == _words(_feel(here, state, "valve"), "motor")
        assert marks == seen
        state, _ = cooling(here, state, 30)
        assert ["shut"] == _words(_look(here, state, "valve"), "travel")
        assert "Nothing to hear." == _listen(here, state, "valve").text


def test_an_open_motor_winding_does_not_hum():
    """Full volts and silence: the winding is open (HL-18)."""
    here = on_call(SpringReturnValve("valve", motor_ohms=OPEN))
    state, _ = calling(here, 30)
    assert ["none"] == _words(_listen(here, state, "valve"), "sound")


def test_a_broken_spring_leaves_the_mark_open_without_a_hum():
    """With power gone the mark still stands open and nothing hums (HL-20)."""
    here = on_call(SpringReturnValve("valve", spring=0.0))
    state, _ = calling(here, 60)
    state, _ = cooling(here, state, 60)
    assert (["open"], ["none"]) == (
        _words(_look(here, state, "valve"), "travel"),
        _words(_listen(here, state, "valve"), "sound"),
    )


def test_a_motor_is_heard_from_the_volts_that_hold_it():
    """17 V hum without travel, 15 V do neither; at the very level one may hear it or not."""
    for volts, sound in ((17.0, ["hums"]), (15.0, ["none"]), (16.1, ["hums", "none"])):
        here = at_volts(SpringReturnValve("valve"), volts)
        state, _ = calling(here, 10)
        assert (sound, ["shut"]) == (
            _words(_listen(here, state, "valve"), "sound"),
            _words(_look(here, state, "valve"), "travel"),
        )


def test_wax_hides_its_travel():
    """Neither a heat motor nor a wax actuator lets its travel be seen, nor anything be heard."""
    for valve in (HeatMotorValve("valve"), WaxActuator("valve")):
        here = on_call(valve)
        state, _ = calling(here, 600)
        assert "travel" not in _look(here, state, "valve").signal
        assert "Nothing to hear." == _listen(here, state, "valve").text


def test_a_burnt_heater_smells_for_good():
    """A head that 50 V have burnt smells of it, while it happens and long after (HL-14)."""
    here = on_call(HeatMotorValve("valve", 4, 30.0), emf=58.0, ohms=0.5)
    state, events = calling(here, 300)
    assert "a smell of burning from the valve" in [heard(event) for event in events]
    state, _ = cooling(here, state, 3600)
    assert "It smells burnt." in _look(here, state, "valve").text
    assert "smells" not in _look(here, at_rest(here), "valve").text


def test_the_air_beside_a_valve_is_told():
    """Crawl space, room and closet, with the temperature in both units."""
    for ambient, word, shown in (
        (3.0, "cold", "3 °C (37 °F)"),
        (20.0, "at room temperature", "20 °C (68 °F)"),
        (45.0, "hot", "45 °C"),
    ):
        here, state = _alone(HeatMotorValve("valve", ambient_degC=ambient))
        assert [word] == _words(_look(here, state, "valve"), "air")
        assert shown in _look(here, state, "valve").text


def test_a_loose_head_and_missing_leads_are_noticed():
    """A hand finds a head that is not latched (HL-24), an eye counts the leads (MZ-14)."""
    here, state = _alone(HeatMotorValve("valve", latched=False, leads=2))
    assert "The head is loose on its body." in _feel(here, state, "valve").text
    assert ["2"] == _words(_look(here, state, "valve"), "leads")
    here, state = _alone(HeatMotorValve("valve"))
    assert "loose" not in _feel(here, state, "valve").text


# relays and boilers ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("volts", "sound", "touch"),
    [
        (24.0, ["hums"], ["is still"]),
        (18.6, ["buzzes", "hums"], ["shakes", "is still"]),
        (15.0, ["buzzes"], ["shakes"]),
        (5.0, ["none"], ["is still"]),
    ],
)
def test_a_relay_hums_pulled_and_buzzes_between_its_levels(volts, sound, touch):
    """Enough volts hum, too few buzz, next to none are silent; at the level itself either may be said."""
    here = at_volts(Relay("relay"), volts, Relay("relay").coil_pair)
    state, _ = calling(here)
    assert (sound, touch) == (_words(_listen(here, state, "relay"), "sound"), _words(_feel(here, state, "relay"), "armature"))
    assert ["in" if volts > 18.5 else "off"] == _words(_look(here, state, "relay"), "armature")


def test_a_chattering_relay_is_called_so():
    """A relay fed through its own NC contact chatters, to the ear and to the finger; the one beside it hums."""
    feed = [
        Conductor("through itself", "relay.NC", "relay.A1", 0.001),
        Conductor("other feed", "stat.W", "other.A1", 0.001),
        Conductor("other return", "other.A2", "transformer.C", 0.001),
    ]
    here = on_call(Relay("relay"), ("relay.COM", "relay.A2"), more=(Relay("other"),), wires=feed)
    before = at_rest(here)
    state, _ = calling(here)
    assert (["chatters"], ["beats"]) == (
        _words(_listen(here, state, "relay"), "sound"),
        _words(_feel(here, state, "relay"), "armature"),
    )
    assert ["hums"] == _words(_listen(here, state, "other"), "sound")
    assert "the relay chatters" in noticed(here, before, state)


def test_welded_contacts_hold_the_armature_in():
    """With a dead coil the armature of a welded relay still stands pulled in, and it is silent (ES-12)."""
    here, state = _alone(Relay("relay", contacts="welded"))
    assert ["in"] == _words(_look(here, state, "relay"), "armature")
    assert ["none"] == _words(_listen(here, state, "relay"), "sound")


BOILERS = {
    "off": ({}, False, "Its display is dark.", ["dark"]),
    "dead": ({"dead": True}, True, "Its display is dark.", ["dark"]),
    "limit": (
        {"safety": "high limit"},
        True,
        "Its display says: call, no fire: high limit open.",
        ["call, no fire: high limit open"],
    ),
    "well": ({}, True, "Its display says: call, firing.", ["call"]),
}


@pytest.mark.parametrize("name", BOILERS)
def test_a_boiler_says_what_keeps_it(name):
    """The display is dark without power, names a safety that stands open, and otherwise shows the call."""
    fields, on, text, words = BOILERS[name]
    here = Installation("bridged", (Boiler("boiler", **fields),), (Conductor("bridge", "boiler.T1", "boiler.T2", 0.1),))
    state = switched(here, at_rest(here), "boiler", on)
    look = _look(here, state, "boiler")
    assert (text, words) == (look.text, _words(look, "display"))
    runs = [_words(_listen(here, state, "boiler"), what) for what in ("burner", "circulator")]
    assert runs == [["runs" if name == "well" else "rests"], ["runs" if name in ("well", "limit") else "still"]]


def test_low_control_voltage_is_on_the_display():
    """A boiler that lends its transformer to three zones cannot hold its gas valve, and says so (MZ-17)."""
    here = Installation(
        "lent",
        (Boiler("boiler", lends=True), HeatMotorValve("valve", heater_ohms=9.0)),
        (
            Conductor("R", "boiler.R", "valve.HA", 0.3),
            Conductor("C", "valve.HB", "boiler.C", 0.01),
            Conductor("bridge", "boiler.T1", "boiler.T2", 0.1),
        ),
    )
    assert "low control voltage" in _look(here, at_rest(here), "boiler").text


def test_between_its_limits_a_burner_may_run_or_rest():
    """From standby the burner surely runs; once hot it does either in turn, and its moment is no evidence."""
    cold = calling(REF_A, 120, "zone1.stat")[0]
    assert ["runs"] == _words(_listen(REF_A, cold, "boiler"), "burner")
    state, seen = waited(REF_A, cold, 180)[0], set()
    for _ in range(60):
        state, _ = waited(REF_A, state, 30)
        seen.add(state.of("boiler").firing)
        assert {"runs", "rests"} == set(_words(_listen(REF_A, state, "boiler"), "burner"))
        assert ["call"] == _words(_look(REF_A, state, "boiler"), "display")
    assert {True, False} == seen


def test_a_seized_circulator_is_still_on_a_hot_boiler():
    """The boiler's own pipe is hot, the circulator stands, the zone's pipe is cool (ES-22)."""
    here = changed(REF_A, "boiler", circulator="seized")
    state, _ = calling(here, 900, "zone1.stat")
    felt = _feel(here, state, "boiler")
    assert (["hot"], ["still"]) == (_words(felt, "pipe"), _words(felt, "circulator"))
    assert ["at room temperature"] == _words(_feel(here, state, "zone1.loop"), "supply")


def test_a_starved_input_relay_buzzes():
    """Too few volts at the input are heard, and enough are not (ES-03)."""
    for ohms, sound in ((0.1, ["none"]), (60.0, ["buzzes"]), (5000.0, ["none"])):
        here = Installation("bridged", (Boiler("boiler"),), (Conductor("bridge", "boiler.T1", "boiler.T2", ohms),))
        state = at_rest(here)
        assert sound == _words(_listen(here, state, "boiler"), "input relay")
        assert ("Its input relay buzzes." in _listen(here, state, "boiler").text) == (sound == ["buzzes"])


# supplies --------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("heater", "sound"), [(30.0, ["hums faintly"]), (3.0, ["hums hard"]), (8.2, ["hums faintly", "hums hard"])]
)
def test_a_transformer_hums_with_its_load(heater, sound):
    """One heater hums faintly, a near short hard, and about one and a half times its rating is neither."""
    here = on_call(HeatMotorValve("valve", 4, heater))
    state, _ = calling(here)
    assert sound == _words(_listen(here, state, "transformer"), "sound")
    assert "hums faintly" in _listen(here, at_rest(here), "transformer").text
    assert "Silent." == _listen(here, switched(here, state, "transformer", False), "transformer").text


@pytest.mark.parametrize(
    "fields", [{"shorted_turns": 0.2}, {"line_hz": 50.0}, {"line_volts": 240.0}], ids=["shorted", "50 Hz", "wrong tap"]
)
def test_a_core_in_trouble_hums_hard_without_a_load(fields):
    """Shorted turns, a 60 Hz unit on 50 Hz, twice the volts on a tap: each is heard (SP-10, SP-14, SP-17)."""
    here, state = _alone(Transformer("transformer", **fields))
    assert ["hums hard"] == _words(_listen(here, state, "transformer"), "sound")


def test_a_core_fed_from_behind_hums_with_its_switch_off():
    """Two secondaries in parallel: the one that is switched off still hums (MZ-09)."""
    ties = (Conductor("R tie", "one.R", "two.R", 0.001), Conductor("C tie", "one.C", "two.C", 0.001))
    here = Installation("paralleled", (Transformer("one"), Transformer("two")), ties)
    state = switched(here, at_rest(here), "one", False)
    assert "It hums faintly, although no line feeds it." == _listen(here, state, "one").text
    state = switched(here, state, "two", False)
    assert "Silent." == _listen(here, state, "one").text


def test_a_transformer_is_as_warm_as_its_losses_make_it():
    """Warm without a load is normal; hours of overload are too hot for a hand and smell, by the case's own formula."""
    zones = four_wire("four zones", [zone_of() for _ in range(4)], transformer=Transformer("transformer", emf=27.5, ohms=2.1))
    idle = at_rest(zones)
    assert 40 < case_degC(zones.part("transformer"), Place(zones, idle))[0] < 60
    assert (["warm"], "Nothing is scorched.") == (
        _words(_feel(zones, idle, "transformer"), "case"),
        _look(zones, idle, "transformer").text.partition(". ")[2],
    )
    busy, _ = calling(zones, 9000, *(f"{zone}.stat" for zone in zones.zones))
    assert ["too hot to hold a hand on"] == _words(_feel(zones, busy, "transformer"), "case")
    assert "It smells of hot varnish." in _look(zones, busy, "transformer").text
    assert (
        zones.part("transformer").case_degC(busy.values["transformer.heat"])
        == case_degC(zones.part("transformer"), Place(zones, busy))[0]
    )


def test_a_case_that_has_just_been_switched_off_is_cooling():
    """How long the switch has been off is not in the state: the words cover it; a primary open for ever is cold."""
    here = on_call(HeatMotorValve("valve", 4, 30.0))
    off = switched(here, calling(here, 9000)[0], "transformer", False)
    felt = _feel(here, off, "transformer")
    assert "Its case is cooling down." == felt.text
    assert {"warm", "at room temperature"} <= set(_words(felt, "case"))
    here, state = _alone(Transformer("transformer", primary_open=True))
    assert ["at room temperature"] == _words(_feel(here, state, "transformer"), "case")


def test_taps_and_caps_are_seen_with_the_box_open():
    """With its primary leads in reach the lead in use and the caps are seen (SP-08), otherwise only a bare end is (SP-11)."""
    multi = Transformer("transformer", taps=(120.0, 208.0), tap=208.0, bare=(120.0,), line_side=True)
    here, state = _alone(multi)
    text = _look(here, state, "transformer").text
    assert "The line is on its 208 V lead." in text
    assert "An unused lead has no cap" in text
    here, state = _alone(replace(multi, bare=()))
    assert "Each unused lead has its cap." in _look(here, state, "transformer").text
    here, state = _alone(replace(multi, line_side=False))
    text = _look(here, state, "transformer").text
    assert ("An unused lead has no cap" in text, "The line is on" in text) == (True, False)
    here, state = _alone(replace(multi, line_side=False, bare=()))
    assert "lead" not in _look(here, state, "transformer").text


def test_a_melted_link_and_its_mark_are_seen():
    """A fuse shows whether its link is whole and what is printed on it (SP-06)."""
    here, state = _alone(Fuse("fuse", amps=2.0, blown=True))
    assert "The link has melted. It is marked 2 A." == _look(here, state, "fuse").text
    here, state = _alone(Fuse("fuse"))
    assert "The link is whole. It is marked 3 A." == _look(here, state, "fuse").text
    assert ["3 A"] == _words(_look(here, state, "fuse"), "mark")


@pytest.mark.parametrize(("volts", "glow"), [(24.0, ["bright"]), (12.0, ["dim"]), (1.0, ["dark"]), (17.0, ["dim", "bright"])])
def test_a_lamp_glows_with_its_watts(volts, glow):
    """Full volts are bright, half are a quarter of the watts and dim, the volts along a wire are dark (technique 21)."""
    here = at_volts(Lamp("lamp"), volts, ("lamp.A", "lamp.B"))
    assert ["dark"] == _words(_look(here, at_rest(here), "lamp"), "lamp")
    state, _ = calling(here)
    assert glow == _words(_look(here, state, "lamp"), "lamp")


def test_a_tripped_button_stands_out():
    """A breaker in the R leg and one in a transformer show their button; a transformer with a fuse has none."""
    for part in (Breaker("part"), Transformer("part", protection="breaker")):
        for tripped, way in ((False, "in"), (True, "out")):
            here, state = _alone(replace(part, tripped=tripped))
            assert [way] == _words(_look(here, state, "part"), "button")
    here, state = _alone(Transformer("part"))
    assert "button" not in _look(here, state, "part").signal


def test_a_bad_joint_is_warm_under_load_only():
    """8 ohms of joint are warm on a call and not without one; a good joint never is (HL-09)."""
    for ohms, word in ((8.0, "warm"), (0.004, "at room temperature")):
        here = REF_A.with_part(REF_A.part("zone1.W splice").with_way("2", ohms))
        assert ["at room temperature"] == _words(_feel(here, at_rest(here), "zone1.W splice"), "joint")
        state, _ = calling(here, 60, "zone1.stat")
        assert [word] == _words(_feel(here, state, "zone1.W splice"), "joint")


# thermostats and rooms -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", thermostats.__all__)
def test_every_thermostat_shows_its_own_screen(kind):
    """What is seen of a thermostat begins with what its screen says, calling and not."""
    stat = getattr(thermostats, kind)("stat")
    here, state = _alone(stat)
    for up in (True, False):
        turned = called(here, state, "stat", up)
        screen = stat.screen(turned.of("stat"), turned.values)
        assert _look(here, turned, "stat").text.startswith(screen)
        assert [screen] == _words(_look(here, turned, "stat"), "screen")


@pytest.mark.parametrize(
    ("volts", "text"),
    [
        (3.0, "It does not call for heat."),
        (2.3, "It does not call for heat. A battery sign shows."),
        (1.2, "The screen is blank."),
    ],
)
def test_cells_are_seen_on_the_screen(volts, text):
    """A battery sign before the relay gives up, a blank screen long after."""
    here, state = _alone(BatteryStat("stat", cell_volts=volts))
    assert [text] == _words(_look(here, state, "stat"), "screen")


def test_a_thermostat_without_its_c_wire_goes_blank():
    """Two seconds after C is lifted the screen is blank, which is heard of while one waits (TS-12)."""
    here = on_call(HeatMotorValve("valve")).with_part(CPoweredStat("stat"))
    here = here.with_conductors([Conductor("C leg", "stat.C", "transformer.C", 0.3)])
    cut = here.with_conductor("C leg", ohms=OPEN)
    state, events = waited(cut, at_rest(cut), 10)
    assert ["the screen of the stat goes blank"] == [heard(event) for event in events if heard(event)]
    assert "The screen is blank." == _look(cut, state, "stat").text
    assert ["It does not call for heat."] == _words(_look(here, waited(here, at_rest(here), 10)[0], "stat"), "screen")


def test_an_anticipator_shows_its_setting_and_whether_it_is_burnt():
    """The pointer stands at a mark (TS-06), and an element that a short has burnt through is seen (TS-05)."""
    here = on_call(HeatMotorValve("valve", 4, 0.5))
    here = here.with_part(AnticipatorStat("stat", set_amps=0.4))
    assert ["0.4 A"] == _words(_look(here, at_rest(here), "stat"), "anticipator")
    assert ["whole"] == _words(_look(here, at_rest(here), "stat"), "element")
    state, events = calling(here, 5)
    assert "The element is burnt through." in _look(here, state, "stat").text
    assert "a smell of burning from the stat" in [heard(event) for event in events]


def test_a_missing_jumper_is_seen():
    """Between Rc and Rh there is a jumper or there is none (TS-14)."""
    for jumper, words in ((True, ["in place"]), (False, ["missing"])):
        here, state = _alone(TwoSupplyStat("stat", jumper=jumper))
        assert words == _words(_look(here, state, "stat"), "jumper")


def test_a_stat_that_senses_too_much_disagrees_with_the_room():
    """The dial of an offset stat shows more than the thermometer beside it (TS-07); a true one agrees with it."""
    here = lived_in(REF_A)
    for offset in (0.0, 2.5):
        there = changed(here, "zone1.stat", offset=offset)
        state, _ = waited(there, at_rest(there), 3000)
        room, dial = _look(there, state, "zone1.room").text, _look(there, state, "zone1.stat").text
        shown = [float(re.search(r"shows (-?[\d.]+) °C", text)[1]) for text in (room, dial)]
        assert offset == pytest.approx(shown[1] - shown[0], abs=0.11)
        assert state.values["zone1.room.air"] == pytest.approx(shown[0], abs=0.051)
    assert "It is set to 20.0 °C (68 °F)." in dial
    turned = called(there, state, "zone1.stat", True)
    assert "It has been turned up all the way." in _look(there, turned, "zone1.stat").text


# what happens ----------------------------------------------------------------------------------------------------------

STATES = {
    BoilerState: {},
    BreakerState: {},
    FuseState: {},
    HeatedState: {},
    LightSwitchState: {},
    MotorState: {"drive": ("opening", "holding", "shutting", "resting"), "cam": ("", "open", "shut")},
    RelayState: {},
    StatState: {"turned": ("", "up", "down")},
    TransformerState: {},
}


def _states(kind):
    """Every state of a kind, numbers at nought and one."""
    hints, known = get_type_hints(kind), STATES[kind]
    values = [(False, True) if hints[slot.name] is bool else known.get(slot.name, (0.0, 1.0)) for slot in fields(kind)]
    return [kind(*each) for each in itertools.product(*values)]


def _happenings(part):
    """Everything that a part can report: its guards in every state, and what is noticed of every single change."""
    if part.initial() is None:
        return set()
    states, found = _states(type(part.initial())), set()
    for state in states:
        found |= {guard.name for guard in part.guards(state)}
        if type(part).noticed is not Part.noticed:
            changed_once = (
                replace(state, **{slot.name: getattr(other, slot.name)})
                for slot in fields(state)
                for other in (states[0], states[-1])
            )
            found |= {f"part {words}" for after in changed_once for words in part.noticed(state, after)}
    return {name.removeprefix("part ") for name in found}


def test_everything_that_can_happen_has_its_words():
    """The table of happenings holds what the parts report in any of their states, and nothing that none reports."""
    found = {"chatters"}.union(*(_happenings(part) for part in KINDS))
    assert sorted(found) == sorted(HAPPENINGS)


def test_chatter_is_what_running_calls_it():
    """The one happening that no part reports by itself stands so in the code of the run."""
    assert "chatters" in inspect.getsource(running.plainly_waited)
    assert "chatters" in inspect.getsource(pacing.paced)


@pytest.mark.parametrize(
    ("event", "words"),
    [
        ("zone1.valve end switch makes", "valve 1 clicks"),
        ("zone12.valve end switch opens", "valve 12 clicks"),
        ("zone1b.valve end switch makes", "valve 1b clicks"),
        ("zone1.valve heater lead opens", ""),
        ("zone1.valve is shut", ""),
        ("zone2.valve heater burns open", "a smell of burning from valve 2"),
        ("boiler starts", "the boiler starts"),
        ("boiler stops", "the boiler stops"),
        ("boiler stops on its limit", "the burner of the boiler stops"),
        ("boiler buzzes", "the boiler buzzes"),
        ("relay pulls in", "the relay clicks"),
        ("zone3.relay drops out", "relay 3 clicks"),
        ("priority drops out", "the priority relay clicks"),
        ("tank.stat stops calling", "the tank stat stops calling"),
        ("transformer 2 breaker trips", "the breaker of the transformer 2 clicks"),
        ("transformer 2 one-shot opens", ""),
        ("fuse opens", ""),
        ("fuse 2 opens", ""),
        ("breaker trips", "the breaker clicks"),
        ("zone1.stat screen goes blank", "the screen of stat 1 goes blank"),
        ("relay chatters", "the relay chatters"),
        ("something unheard of", ""),
    ],
)
def test_events_are_told_as_a_person_hears_them(event, words):
    """A happening is told by the name a technician has for the part, and a silent one not at all."""
    assert words == heard(Event(0.0, event))


def test_a_burner_in_its_turn_is_no_evidence():
    """Clicks, starts and screens may be held against a claim; silence and a burner's own cycles may not."""
    assert telling(Event(0.0, "boiler starts"))
    assert telling(Event(0.0, "zone1.stat screen goes blank"))
    assert not telling(Event(0.0, "boiler stops on its limit"))
    assert not telling(Event(0.0, "boiler fires again"))
    assert not telling(Event(0.0, "fuse opens"))


def test_what_a_hand_did_itself_is_left_out():
    """Turning a stat up pulls in what it feeds: the relay is noticed, and the stat only when it is not the hand's own."""
    here = on_call(Relay("relay"), Relay("relay").coil_pair)
    before = at_rest(here)
    after = called(here, before, "stat", True)
    assert ("the stat calls for heat", "the relay clicks") == noticed(here, before, after)
    assert ("the relay clicks",) == noticed(here, before, after, apart_from="stat")
    assert () == noticed(here, after, after)


@pytest.mark.parametrize("installation", [REF_A, REF_C, REF_E], ids=lambda here: here.name)
def test_senses_follow_the_state_alone(installation):
    """Two ways to the same state tell the same, part by part, and asking changes nothing."""
    direct, _ = calling(installation, 500, "zone1.stat")
    steps = called(installation, at_rest(installation), "zone1.stat", True)
    for seconds in (100, 250, 150):
        steps, _ = waited(installation, steps, seconds)
    for part in installation.parts:
        for how in SENSES:
            assert not signals_apart(
                sensed(installation, direct, how, part.name).signal, sensed(installation, steps, how, part.name).signal
            )
            assert sensed(installation, direct, how, part.name) == sensed(installation, direct, how, part.name)


def test_the_shelf_and_the_kinds_agree():
    """Every state that a part on the shelf can have is tried above."""
    shelf = (*vars(parts).values(), *vars(light_switch).values())
    assert {kind for kind in shelf if inspect.isclass(kind) and kind.__name__.endswith("State")} >= set(STATES)
