"""Drawings and their words say what the data says, and can be read."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from itertools import combinations, pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest
import schemdraw
from drawn_houses import EVERY, FOUR, KINDS, MISWIRED, TOPOLOGIES, TWO, Bell
from hypothesis import given, settings
from hypothesis import strategies as st
from read_drawings import RING, SVG, Read, landed, meet, problems, span
from reference_circuits import REF_A, REF_C, REF_E

import solvers
from solvers.circuit import OPEN
from solvers.pictures import ladder, ladder_words, part_words, point_words, wire_words
from solvers.pictures.examples import four_wire_ladder, heater_loop_ladder, valve_cold, valve_open
from solvers.pictures.routing import Grid, crossings
from solvers.pictures.sheet import Sheet
from solvers.pictures.trace import traced
from solvers.plant import facts
from solvers.plant.demos import bungalow, workshop
from solvers.plant.parts import (
    Boiler,
    BreakerState,
    Fuse,
    FuseState,
    HeatMotorValve,
    MotorState,
    RelayState,
    Stat,
    Transformer,
    Valve,
    ValveState,
)
from solvers.plant.running import at_rest, called, lifted, points, waited
from solvers.plant.wiring import Conductor, Installation

SMALL = [name for name in TOPOLOGIES if name.endswith(("1", "2", "3"))]


@st.composite
def landings(draw: st.DrawFn) -> Installation:
    """A house with one conductor end moved to any other terminal at all."""
    house = draw(st.sampled_from([TWO, FOUR, *KINDS.values(), *(TOPOLOGIES[name] for name in SMALL)]))
    wire = draw(st.sampled_from(house.conductors))
    terminal = draw(st.sampled_from([terminal for terminal in house.terminals if terminal not in (wire.a, wire.b)]))
    return house.with_conductor(wire.name, **{draw(st.sampled_from("ab")): terminal})


def test_every_test_point_is_one_ring_with_its_letter():
    """Each terminal has exactly one ring, about 5 px in radius, and one letter that is not on it."""
    for house in EVERY.values():
        read = Read(ladder(house))
        assert sorted(house.terminals) == sorted(read.rings)
        for group in read.groups("point"):
            assert 1 == len(group.findall(f"{SVG}text"))
            assert 4 <= float(group.find(f"{SVG}circle").get("r")) <= 6


def test_letters_are_the_marks_on_the_terminals():
    """A ring's letter is what the terminal is called on its part; a way of a bus goes by its zone's number."""
    read = Read(ladder(TWO))
    letters = {group.get("data-point"): group.find(f"{SVG}text").text for group in read.groups("point")}
    assert {"zone1.stat.W": "W", "zone2.valve.E": "E", "C bus.zone2": "2", "boiler.T1": "T1"}.items() <= letters.items()


def test_every_part_has_its_group():
    """A screen finds each part by name; a four-wire valve's heater and end switch are two groups of one part."""
    for house in EVERY.values():
        named = [group.get("data-part") for group in Read(ladder(house)).groups("part")]
        assert {part.name for part in house.parts if part.terminals} == set(named)
    assert 2 == [group.get("data-part") for group in Read(ladder(FOUR)).groups("part")].count("zone1.valve")


@pytest.mark.parametrize("name", EVERY)
def test_conductors_end_where_the_data_says(name):
    """Each conductor is drawn from ring to ring of exactly the two terminals it lands on."""
    landed(EVERY[name], ladder(EVERY[name]))


@pytest.mark.parametrize("name", EVERY)
def test_ladders_can_be_read(name):
    """No words overlap, no line runs through a ring or a word or along another line, all lines are at right angles."""
    assert [] == problems(EVERY[name], ladder(EVERY[name], title="The title of the drawing"))


@settings(max_examples=60)
@given(landings())
def test_any_one_landing_is_drawn_as_it_is(house):
    """Wherever one conductor is moved, the drawing follows and stays readable."""
    svg = ladder(house)
    landed(house, svg)
    assert [] == problems(house, svg)


@settings(max_examples=60)
@given(landings())
def test_what_is_not_connected_says_so(house):
    """Each terminal that holds no conductor, and no other, carries the words "not connected"."""
    notes = Read(ladder(house)).groups("note")
    bare = {terminal for part in house.parts for terminal in part.terminals if _is_bare(part, terminal)}
    loose = [terminal for terminal in house.terminals if not house.landed(terminal) and terminal not in bare]
    assert sorted(loose) == sorted(note.get("data-about") for note in notes)
    for note in notes:
        assert "not connected" == " ".join(text.text for text in note.iter(f"{SVG}text"))


def _is_bare(part, terminal):
    """Metal bodies, and a transformer's leads other than R and C, wait for no conductor."""
    own = isinstance(part, Transformer) and terminal.rpartition(".")[2] not in "RC"
    return own or (isinstance(part, Valve) and terminal.endswith(".body"))


WORDED = ["three-wire direct 1", "three-wire relay 1", "one stat 1", "priority 1", "relay panel 1", "double throw"]


@pytest.mark.parametrize("name", WORDED)
def test_no_two_landings_read_the_same(name):
    """Moving any conductor's end anywhere changes the words, and no two such moves give the same words."""
    house = EVERY[name]
    said = {ladder_words(house): "as it was"}
    for wire in house.conductors:
        for side in "ab":
            for terminal in house.terminals:
                if terminal in (wire.a, wire.b):
                    continue
                moved = house.with_conductor(wire.name, **{side: terminal})
                joined = tuple(sorted(tuple(sorted((one.a, one.b))) for one in moved.conductors))
                assert joined == said.setdefault(ladder_words(moved), joined)


def test_changing_one_landing_changes_the_drawing():
    """Moving the E lead of valve 2 from the E bus to the C bus shows in the picture and in its text alternative."""
    moved = TWO.with_conductor("zone2.E lead", b="C bus.zone2")
    before, after = Read(ladder(TWO)), Read(ladder(moved))
    assert before.wires["zone2.E lead"] != after.wires["zone2.E lead"]
    assert before.root.find(f"{SVG}desc").text != after.root.find(f"{SVG}desc").text


def test_names_do_not_decide_what_is_drawn():
    """With the parts listed in another order, the same connections are drawn."""
    shuffled = replace(TWO, parts=TWO.parts[::-1], conductors=TWO.conductors[::-1])
    landed(shuffled, ladder(shuffled))
    assert [] == problems(shuffled, ladder(shuffled))


def test_rungs_are_traced_from_rail_to_rail():
    """Each zone's rung holds, in this order, what its current passes from R to C."""
    _, chain = traced(FOUR).rungs[0]
    assert ["joint", "stat", "joint", "heater", "joint"] == [step.element.kind for step in chain.steps]
    _, chain = traced(MISWIRED["S and E exchanged"]).rungs[1]
    assert ["joint", "stat", "joint", "heater", "switch"] == [step.element.kind for step in chain.steps]


@pytest.mark.parametrize("name", EVERY)
def test_a_trace_holds_everything_once(name):
    """Every element is in one chain or hangs on one, and every conductor is in one chain or apart."""
    house, trace = EVERY[name], traced(EVERY[name])
    chains = [*trace.supplies, *(chain for _, chain in trace.rungs), *trace.strays, *trace.feeds]
    found = [step.element for chain in chains for step in chain.steps] + list(trace.hung)
    assert len(set(found)) == len(found)
    wide = {terminal for bus in trace.buses for terminal in bus.ways}
    lone = {terminal for terminals in trace.lone.values() for terminal in terminals}
    assert set(house.terminals) - wide == {end for element in found for end in (element.a, element.b)} | lone
    wires = [wire for chain in chains for wire in (*chain.wires, chain.first, chain.last) if wire] + list(trace.apart)
    assert sorted(wire.name for wire in house.conductors) == sorted(wires)


def test_relay_contacts_stand_where_they_are_wired():
    """A panel's relay is a coil on its stat's rung, a contact on its valve's and one on T-T, each with its name."""
    house = TOPOLOGIES["relay panel 2"]
    rungs = [[step.element.kind for step in chain.steps] for zone, chain in traced(house).rungs if zone == "zone2"]
    assert [["joint", "stat", "joint", "coil"], ["contact", "heater", "joint"]] == rungs
    assert ["contact", "contact", "boiler"] == [chain.steps[0].element.kind for chain in traced(house).feeds]
    named = [group for group in Read(ladder(house)).groups("part") if group.get("data-part") == "zone2.relay"]
    assert ["relay 2", "relay 2", "relay 2 coil"] == sorted(text.text for group in named for text in group.iter(f"{SVG}text"))


def test_each_source_has_a_section_of_its_own():
    """With two sources the rails of the second stand under those of the first, at the same place across the sheet."""
    rails = Read(ladder(TOPOLOGIES["separate commons 4"])).rails
    for letter in "RC":
        first, second = ([end for line in rails[name] for end in line] for name in (f"{letter} bus", f"{letter} bus 2"))
        assert {x for x, _ in first} == {x for x, _ in second}
        assert max(y for _, y in first) < min(y for _, y in second)


def test_buses_ahead_of_the_rails_stand_outside():
    """The joint before a priority relay stands left of the zones' R bus, the joint of two commons right of the C bus."""
    priority, shared = (Read(ladder(TOPOLOGIES[name])).rails for name in ("priority 2", "shared return 3"))
    assert priority["R joint"][0][0][0] < priority["R bus"][0][0][0]
    assert shared["C bus"][0][0][0] < shared["C joint"][0][0][0]


def test_several_valves_on_one_stat_hang_on_its_splice():
    """Each valve of one stat has a row of its own that begins below the splice they share."""
    house = TOPOLOGIES["one stat 4"]
    read = Read(ladder(house))
    begins = [read.wires[name][0][0] for name in ("zone1.HA lead", "zone1b.HA lead", "zone1c.HA lead", "zone1d.HA lead")]
    x, y, low = read.spread("zone1.W splice.2")
    assert (x + RING, y) == begins[0]
    assert [x] * 3 == [at[0] for at in begins[1:]]
    assert sorted({at[1] for at in begins[1:]}) == [at[1] for at in begins[1:]]
    assert low == begins[-1][1]


def test_nothing_of_a_whole_house_is_told_by_words_alone():
    """In a house as it should be every conductor is drawn as a line."""
    assert not [name for name, house in (TOPOLOGIES | KINDS).items() if Read(ladder(house)).referred]


def test_a_conductor_without_a_way_is_told_at_both_ends():
    """Where a terminal has no side left, the conductor is a word at each of its ends, and the sheet stays readable."""
    taken = ("zone1.W splice.1", "zone1.C splice.2", "R bus.zone2", "C bus.zone2")
    house = FOUR.with_conductors([Conductor(f"stray {end}", "boiler.T1", end, 1.0) for end in taken])
    svg = ladder(house)
    assert Read(svg).referred
    landed(house, svg)
    assert [] == problems(house, svg)


def _texts(house, part):
    groups = [group for group in Read(ladder(house)).groups("part") if group.get("data-part") == part]
    return {text.text for group in groups for text in group.iter(f"{SVG}text")}


@pytest.mark.parametrize(
    ("house", "part", "words"),
    [
        ("thermostats", "zone1.stat", {"stat 1", "anticipator"}),
        ("thermostats", "zone2.stat", {"stat 2", "battery"}),
        ("thermostats", "zone3.stat", {"stat 3", "contact", "electronics"}),
        ("thermostats", "zone4.stat", {"stat 4", "triac", "electronics"}),
        ("thermostats", "zone5.stat", {"stat 5", "power-stealing"}),
        ("thermostats", "zone2.valve", {"valve 2 heater", "+t°", "valve 2 end switch"}),
        ("thermostats", "zone3.valve", {"valve 3 motor", "M", "valve 3 end switch"}),
        ("thermostats", "zone4.valve", {"valve 4 heater"}),
        ("motors", "zone1.valve", {"valve 1", "M", "motor", "end switch"}),
        ("double throw", "zone1.valve", {"valve 1", "M", "opens", "shuts", "valve 1 end switch"}),
        ("double throw", "breaker", {"breaker, 3 A"}),
        ("line side", "boiler", {"boiler", "own supply", "board"}),
        ("line side and breaker", "boiler", {"boiler", "input"}),
        ("boiler lends", "boiler", {"boiler", "own supply", "input", "boiler, own transformer", "line voltage"}),
        ("priority 1", "priority", {"priority relay", "priority relay coil"}),
    ],
)
def test_each_kind_says_what_it_is(house, part, words):
    """Each kind of part has its own words beside its symbol."""
    assert words == _texts(EVERY[house], part)


def test_the_kinds_of_one_thing_look_different():
    """Drives, thermostats and boiler inputs of different kinds have different symbols, their names aside."""

    def symbol(house: Installation, part: str) -> list[tuple[str, int, str]]:
        group = next(group for group in Read(ladder(house)).groups("part") if group.get("data-part") == part)
        marks = [mark for mark in group if mark.tag.removeprefix(SVG) not in ("title", "text")]
        return [(mark.tag, len(mark.get("d", "").split()), mark.get("stroke")) for mark in marks]

    kinds = KINDS["thermostats"]
    drives = [symbol(kinds, f"zone{number}.valve") for number in (1, 2, 3)]
    stats = [symbol(kinds, f"zone{number}.stat") for number in (1, 2, 3)]
    boilers = [symbol(KINDS[name], "boiler") for name in ("thermostats", "line side", "line side and breaker")]
    for found in (drives, stats, boilers):
        assert not [pair for pair in combinations(found, 2) if pair[0] == pair[1]]


def test_a_lifted_lead_has_a_ring_of_its_own():
    """A lifted terminal stays, its lead ends in a ring beside it, and the conductor goes to the lead."""
    for off in (("zone1.valve.H",), ("C bus.zone2", "zone2.W splice.1"), ("boiler.T1", "fuse.in", "zone2.valve.E")):
        state = at_rest(TWO)
        for terminal in off:
            state = lifted(TWO, state, terminal)
        svg = ladder(TWO, state=state)
        assert sorted(points(TWO, state)) == sorted(Read(svg).rings)
        landed(TWO, svg, off)
        assert [] == problems(TWO, svg)


def test_a_thermostat_is_drawn_as_it_stands():
    """A call closes the contact in the drawing, for that zone and for no other."""
    calling = called(TWO, at_rest(TWO), "zone1.stat", True)
    idle, call = Read(ladder(TWO, state=at_rest(TWO))), Read(ladder(TWO, state=calling))
    changed = [
        before.get("data-part")
        for before, after in zip(idle.groups("part"), call.groups("part"), strict=True)
        if ElementTree.tostring(before) != ElementTree.tostring(after)
    ]
    assert ["zone1.stat"] == changed
    assert ladder(TWO) == ladder(TWO, state=at_rest(TWO))


def test_covers_stay_on_unless_asked():
    """End switches, blown fuses, burnt heaters and open conductors show only with `inside`."""
    broken = FOUR.with_conductor("zone1.R leg", ohms=OPEN).with_part(FOUR.part("zone1.W splice").with_way("1", OPEN))
    state = at_rest(broken)
    parts = state.parts | {"fuse": FuseState(True), "zone1.valve": ValveState(made=True), "zone2.valve": ValveState(burnt=True)}
    state = replace(state, parts=parts)
    assert ladder(FOUR) == ladder(broken, state=state)
    sound, opened = Read(ladder(FOUR)), Read(ladder(broken, state=state, inside=True))
    changed = [
        (before.get("class"), before.get("data-part") or before.get("data-wire"))
        for kind in ("part", "wire")
        for before, after in zip(sound.groups(kind), opened.groups(kind), strict=True)
        if ElementTree.tostring(before) != ElementTree.tostring(after)
    ]
    expected = {("part", name) for name in ("fuse", "zone1.valve", "zone2.valve", "zone1.W splice")} | {("wire", "zone1.R leg")}
    assert expected == set(changed)


def test_relays_are_drawn_at_rest_unless_asked():
    """At rest NC is made and NO open; pulled in, the arm lies on the other throw, for those who look inside."""
    house = TOPOLOGIES["priority 1"]
    state = at_rest(house)
    pulled = replace(state, parts=state.parts | {"priority": RelayState(pulled=True)})
    assert ladder(house) == ladder(house, state=pulled) == ladder(house, state=state, inside=True)
    assert ["priority"] == _changed(house, state, pulled)


def test_what_is_broken_inside_is_drawn_so():
    """A tripped breaker, a burnt motor, heater or anticipator, an open coil and an open winding each show inside."""
    house = KINDS["double throw"]
    state = at_rest(house)
    for part, now in (("breaker", BreakerState(tripped=True)), ("zone1.valve", MotorState(burnt=True))):
        assert [part] == _changed(house, state, replace(state, parts=state.parts | {part: now}))
    for part, field in (("zone1.relay", "coil_ohms"), ("zone1.valve", "motor_ohms")):
        assert [part] == _changed(house, state, state, house.with_part(replace(house.part(part), **{field: OPEN})))
    stats = KINDS["thermostats"]
    state = at_rest(stats)
    for part in ("zone1.stat", "zone2.valve"):
        burnt = replace(state, parts=state.parts | {part: replace(state.of(part), burnt=True)})
        assert [part] == _changed(stats, state, burnt)


def _changed(house, before, after, other=None):
    """The parts that look different from inside in two states, or in another house."""
    pairs = zip(
        Read(ladder(house, state=before, inside=True)).groups("part"),
        Read(ladder(other or house, state=after, inside=True)).groups("part"),
        strict=True,
    )
    changed = [one.get("data-part") for one, two in pairs if ElementTree.tostring(one) != ElementTree.tostring(two)]
    return list(dict.fromkeys(changed))


def every_drawing() -> list[str]:
    return [heater_loop_ladder(), four_wire_ladder(), valve_cold(), valve_open(), ladder(MISWIRED["both heater leads on W"])]


def test_colours_are_variables_with_a_fallback():
    """Every colour is a CSS variable that falls back to the text colour or to nothing, so any page and print can set it."""
    seen = set()
    for svg in every_drawing():
        for mark in ElementTree.fromstring(svg).iter():
            assert mark.get("style") is None
            seen |= {mark.get("stroke"), mark.get("fill")} - {None, "none"}
    assert {"ink", "soft-ink", "heat", "water", "sheet"} == {colour[6:].partition(",")[0] for colour in seen}
    assert {"currentcolor", "none"} == {colour.partition(", ")[2].rstrip(")").lower() for colour in seen}


def test_sheets_scale_and_letters_are_large_enough():
    """A drawing has a viewBox and no fixed size, no text under 11, and few line weights."""
    weights = set()
    for svg in every_drawing():
        root = ElementTree.fromstring(svg)
        assert root.get("width") is None
        assert root.get("height") is None
        assert float(root.get("viewBox").split()[2]) <= 960
        assert 11 <= min(float(text.get("font-size")) for text in root.iter(f"{SVG}text"))
        weights |= {mark.get("stroke-width") for mark in root.iter()} - {None}
    assert len(weights) <= 4


def test_a_drawing_carries_its_words():
    """Title and text alternative are inside the SVG, and what they say is safe from markup."""
    svg = ladder(TWO, title='R & D "hall" <b> $x_1$')
    root = ElementTree.fromstring(svg)
    assert 'R & D "hall" <b> $x_1$' == root.find(f"{SVG}title").text
    assert ladder_words(TWO) == root.find(f"{SVG}desc").text
    assert 'R & D "hall" <b> $x_1$' in [text.text for text in root.iter(f"{SVG}text")]


def test_a_part_without_a_symbol_is_a_namedbox_of():
    """A part of an unknown kind shows its name, its kind and all its terminals; one without terminals shows nothing."""
    house = replace(TWO, parts=(*TWO.parts, Bell("bell", ("1", "2", "3", "G")), Bell("sign", ())))
    read = Read(ladder(house))
    (group,) = [group for group in read.groups("part") if group.get("data-part") == "bell"]
    assert ["bell", "bell"] == [text.text for text in group.iter(f"{SVG}text")]
    assert {"bell.1", "bell.2", "bell.3", "bell.G"} <= set(read.rings)
    assert "sign" not in {group.get("data-part") for group in read.groups("part")}
    assert "Not connected: bell 1; bell 2; bell 3; bell G." in ladder_words(house)


def test_the_ladder_in_words():
    """The text alternative follows the current from rail to rail and names what hangs on each valve."""
    said = ladder_words(REF_E)
    assert (
        "Zone 1: R bus through R splice, stat 1, W splice to H of valve 1; S of valve 1 to the C bus; E of valve 1 to the E bus."
        in said
    )
    assert "T-T circuit: E bus to T1 of the boiler; T2 of the boiler to the C bus." in said
    said = ladder_words(REF_A)
    assert "HB of valve 1 through C splice to the C bus." in said
    assert "EA bus to EA of valve 1, its end switch; EB of valve 1 to the EB bus" in said
    assert "Not connected: zone 2 C splice, side 1." in ladder_words(MISWIRED["both heater leads on W"])
    assert "to E of valve 2, its end switch; S of valve 2 to the C bus; H of valve 2 to the E bus" in ladder_words(
        MISWIRED["H and E exchanged"]
    )
    assert "stat 1 from W to R" in ladder_words(MISWIRED["stat reversed"])


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("three-wire relay 1", "R bus to A1 of the relay, its coil; A2 of the relay to the E bus."),
        ("three-wire relay 1", "T-T circuit: boiler T1 to COM of the relay, its contact; NO of the relay to boiler T2."),
        ("relay panel 1", "Zone 1 also: R bus to COM1 of relay 1, its contact; NO1 of relay 1 to HA of valve 1;"),
        ("relay panel 1", "EA bus to COM2 of relay 1, its contact; NO2 of relay 1 to the EB bus"),
        ("priority 1", "Tank: R joint through tank stat to A1 of the priority relay, its coil;"),
        ("priority 1", "R joint to COM of the priority relay, its contact; NC of the priority relay to the R bus."),
        ("one stat 1", "zone 1 W splice, side 2 to HA of valve 1b; HB of valve 1b through zone 1b C splice to the C bus"),
        ("separate commons 2", "Supply: R bus 2 through fuse 2 to R of transformer 2; C of transformer 2 to C bus 2."),
        ("shared return 2", "C trunk from the C bus to the C joint"),
        ("stats with C", "C of stat 1 to the C bus (zone 1 way)"),
        ("thermostats", "stat 1 (anticipator), W splice to HA of valve 1;"),
        ("thermostats", "W splice to HA of valve 2, its PTC heater;"),
        ("thermostats", "W splice to HA of valve 3, its motor;"),
        ("two-wire 1", "Not connected: boiler T1; boiler T2."),
        ("double throw", "bell 2; bell G."),
        ("switches in series", "EB of valve 1 to EA of valve 1b, its end switch; EB of valve 1b to EA of valve 1c"),
    ],
)
def test_every_topology_in_words(name, words):
    """The text alternative tells of relays, second sources, branches and kinds as the drawing does."""
    assert words in ladder_words(EVERY[name])


def test_reference_c_in_words():
    """The isolation relay's house, from R to T-T, in one breath."""
    said = ladder_words(REF_C)
    assert said.startswith("Supply: R bus through the fuse to R of the transformer; C of the transformer to the C bus. Zone 1:")
    assert said.endswith("NO of the relay to boiler T2. Not connected: relay NC.")


@pytest.mark.parametrize(
    ("point", "words"),
    [
        ("zone1.stat.W", "stat 1 W"),
        ("zone12.valve.HA", "valve 12 HA"),
        ("zone1.W splice.1", "zone 1 W splice, side 1"),
        ("fuse.out", "fuse out"),
        ("transformer.C", "transformer C"),
        ("C bus.zone2", "C bus, zone 2 way"),
        ("E bus.T-T", "E bus, T-T way"),
        ("zone2.valve.H lead", "lead lifted off valve 2 H"),
        ("zone1b.valve.HA", "valve 1b HA"),
        ("zone2.relay.COM1", "relay 2 COM1"),
        ("R bus 2.zone3", "R bus 2, zone 3 way"),
        ("R bus.zone1 relay", "R bus, zone 1 relay way"),
        ("C joint.transformer 2", "C joint, transformer 2 way"),
        ("priority.A1", "priority relay A1"),
        ("tank.stat.R", "tank stat R"),
        ("transformer 2.P120", "transformer 2 P120"),
        ("bell.1", "bell 1"),
        ("splice 1.2", "splice 1, side 2"),
    ],
)
def test_points_in_words(point, words):
    """A test point is named as a technician would say it."""
    assert words == point_words(point)


def test_parts_and_conductors_in_words():
    """Parts and conductors are named the same way."""
    names = ("zone1.valve", "zone2.W splice", "C bus", "boiler", "zone3.relay", "zone1b.valve", "tank.stat", "zone1.loop")
    said = ["valve 1", "zone 2 W splice", "C bus", "boiler", "relay 3", "valve 1b", "tank stat", "zone 1 loop"]
    assert said == [part_words(name) for name in names]
    assert ["zone 1 W leg", "C trunk"] == [wire_words(name) for name in ("zone1.W leg", "C trunk")]
    for house in EVERY.values():
        said = [point_words(terminal) for terminal in house.terminals]
        assert len(set(said)) == len(said)


RANGES = {
    (Transformer, "emf"): facts.TRANSFORMER_EMF,
    (Transformer, "ohms"): facts.TRANSFORMER_OHMS,
    (Transformer, "dc_ohms"): facts.TRANSFORMER_DC_OHMS,
    (Fuse, "ohms"): facts.FUSE_OHMS,
    (Stat, "ohms"): facts.STAT_OHMS,
    (HeatMotorValve, "heater_ohms"): facts.HEATER_OHMS,
    (HeatMotorValve, "switch_ohms"): facts.SWITCH_OHMS,
    (HeatMotorValve, "ambient_degC"): facts.INDOOR_DEGC,
    (HeatMotorValve, "wax_resistance"): facts.WAX_RESISTANCE,
    (HeatMotorValve, "wax_tau"): facts.WAX_TAU,
    (HeatMotorValve, "end_degC"): facts.WAX_END_DEGC,
    (Boiler, "emf"): facts.BOILER_EMF,
    (Boiler, "ohms"): facts.BOILER_SOURCE_OHMS,
    (Boiler, "dc_ohms"): facts.BOILER_DC_OHMS,
    (Boiler, "input_ohms"): facts.BOILER_INPUT_OHMS,
    (Boiler, "water_degC"): facts.BOILER_WATER_DEGC,
}


@pytest.mark.parametrize("house", [bungalow(), workshop()], ids=lambda house: house.name.split(",")[0])
def test_demo_houses_are_ordinary_and_work(house):
    """Every value lies within its range, none repeats a reference circuit, and a call opens the valve and fires the boiler."""
    for part in house.parts:
        for (kind, field), fact in RANGES.items():
            if isinstance(part, kind):
                assert fact.low <= getattr(part, field) <= fact.high
    told = {part.heater_ohms for ref in (REF_A, REF_E) for part in ref.parts if isinstance(part, HeatMotorValve)}
    assert not told & {part.heater_ohms for part in house.parts if isinstance(part, HeatMotorValve)}
    for zone in house.zones:
        state, _ = waited(house, called(house, at_rest(house), f"{zone}.stat", True), 300)
        assert state.of(f"{zone}.valve").made
        assert state.of("boiler").called


def test_a_router_goes_round_and_crosses_squarely():
    """A path goes round a block, crosses a line only straight over, and there is none out of a closed box."""
    grid = Grid(200, 200, 10)
    grid.block(80, 20, 100, 160)
    path = grid.path((40, 100), (160, 100))
    assert (40, 100) == path[0]
    assert (160, 100) == path[-1]
    assert not [(a, b) for a, b in pairwise(path) if meet(span(a, b, 1), (80, 20, 100, 160))]
    over = Grid(200, 200, 10)
    over.run([(100, 10), (100, 190)])
    assert [(40.0, 100.0), (160.0, 100.0)] == over.path((40, 100), (160, 100))
    assert [(100, 100)] == crossings([(100, 10), (100, 190)], [[(40, 100), (160, 100)]])
    shut = Grid(200, 200, 10)
    for side in ((80, 80, 120, 80), (80, 120, 120, 120), (80, 80, 80, 120), (120, 80, 120, 120)):
        shut.block(*side)
    assert shut.path((100, 100), (160, 160)) is None


def test_a_group_holds_its_marks_in_order():
    """Marks made inside a group end up in it, later ones on top, with the data that a screen looks for."""
    sheet = Sheet(100, 50)
    with sheet.group("part", part="bell", title="the bell"):
        sheet.disc((10, 10), 5)
        sheet.text("x", 10, 10)
    (group,) = ElementTree.fromstring(sheet.svg("t", "w")).findall(f"{SVG}g")
    assert ("part", "bell", "the bell") == (group.get("class"), group.get("data-part"), group.find(f"{SVG}title").text)
    assert ["title", "circle", "text"] == [mark.tag.removeprefix(SVG) for mark in group]


def test_drawings_need_schemdraw_alone():
    """With everything refused that a browser does not have, and schemdraw's optional helpers too, all drawings are drawn."""
    blocked = ("matplotlib", "numpy", "ziafont", "ziamath", "latex2mathml", "PIL", "scipy")
    program = f"""
import sys
class Refuse:
    def find_spec(self, name, path=None, target=None):
        if name.partition(".")[0] in {blocked!r}:
            raise ImportError(name)
sys.meta_path.insert(0, Refuse())
import schemdraw
schemdraw.use("svg")
from solvers.pictures import examples
assert all("<svg" in getattr(examples, name)() for name in examples.__all__)
assert not [name for name in sys.modules if name.partition(".")[0] in {blocked!r}]
"""
    folders = [str(Path(solvers.__file__).parent.parent), str(Path(schemdraw.__file__).parent.parent)]
    ran = subprocess.run(
        [sys.executable, "-c", program],
        env={"PYTHONPATH": os.pathsep.join(folders)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert "" == ran.stderr
    assert 0 == ran.returncode
