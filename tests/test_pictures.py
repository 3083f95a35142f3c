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
from hypothesis import given, settings
from hypothesis import strategies as st
from reference_circuits import REF_A, REF_E

import solvers
from solvers.circuit import OPEN
from solvers.pictures import cutaway, cutaway_words, ladder, ladder_words, part_words, point_words, wire_words
from solvers.pictures.examples import four_wire_ladder, heater_loop_ladder, valve_cold, valve_open
from solvers.pictures.routing import Grid, crossings
from solvers.pictures.sheet import Sheet, text_width
from solvers.pictures.trace import traced
from solvers.plant import facts
from solvers.plant.demos import bungalow, workshop
from solvers.plant.parts import Boiler, Fuse, FuseState, HeatMotorValve, Stat, Transformer, ValveState
from solvers.plant.running import at_rest, called, lifted, points, waited
from solvers.plant.topologies import Zone, four_wire, three_wire_direct
from solvers.plant.wiring import Installation, WiringError

SVG = "{http://www.w3.org/2000/svg}"
RING = 5.0
TOPOLOGIES = {
    f"{build.__name__} {count}": build(f"{count} zones", [Zone(HeatMotorValve("valve", leads)) for _ in range(count)])
    for build, leads in ((three_wire_direct, 3), (four_wire, 4))
    for count in (1, 2, 3, 4)
}
TWO = TOPOLOGIES["three_wire_direct 2"]
FOUR = TOPOLOGIES["four_wire 2"]


def exchanged(house: Installation, one: tuple[str, str], other: tuple[str, str]) -> Installation:
    """The same house with two conductor ends, each given as (conductor, "a" or "b"), exchanged."""
    (first, this), (second, that) = one, other
    here, there = getattr(house.conductor(first), this), getattr(house.conductor(second), that)
    return house.with_conductor(first, **{this: there}).with_conductor(second, **{that: here})


MISWIRED = {
    "S and E exchanged": exchanged(TWO, ("zone2.S lead", "a"), ("zone2.E lead", "a")),
    "H and E exchanged": exchanged(TWO, ("zone2.H lead", "b"), ("zone2.E lead", "a")),
    "H and S exchanged": exchanged(TWO, ("zone1.H lead", "b"), ("zone1.S lead", "a")),
    "S lead on the E bus": TWO.with_conductor("zone1.S lead", b="E bus.zone1"),
    "pairs exchanged": exchanged(
        exchanged(FOUR, ("zone1.HA lead", "b"), ("zone1.EA leg", "a")), ("zone1.HB lead", "a"), ("zone1.EB leg", "a")
    ),
    "both heater leads on W": FOUR.with_conductor("zone2.HB lead", b="zone2.W splice.2"),
    "stat reversed": exchanged(FOUR, ("zone1.R leg", "b"), ("zone1.W leg", "b")),
    "W legs crossed": exchanged(TWO, ("zone1.W leg", "a"), ("zone2.W leg", "a")),
    "T-T reversed": exchanged(TWO, ("T-T cable E", "b"), ("T-T cable S", "b")),
    "C trunk on the E bus": TWO.with_conductor("C trunk", a="E bus.zone1"),
    "R leg past the stat": TWO.with_conductor("zone1.R leg", b="zone1.stat.W"),
}
EVERY = TOPOLOGIES | MISWIRED


@st.composite
def landings(draw: st.DrawFn) -> Installation:
    """A house with one conductor end moved to any other terminal at all."""
    house = draw(st.sampled_from([TWO, FOUR, TOPOLOGIES["three_wire_direct 1"], TOPOLOGIES["four_wire 3"]]))
    wire = draw(st.sampled_from(house.conductors))
    terminal = draw(st.sampled_from([terminal for terminal in house.terminals if terminal not in (wire.a, wire.b)]))
    return house.with_conductor(wire.name, **{draw(st.sampled_from("ab")): terminal})


class Read:
    """A drawing read back from its SVG: rings, lines as corner points, texts as boxes."""

    def __init__(self, svg: str) -> None:
        self.root = ElementTree.fromstring(svg)
        _, _, self.width, self.height = (float(number) for number in self.root.get("viewBox").split())
        self.rings = {}
        for group in self.groups("point"):
            circle = group.find(f"{SVG}circle")
            assert group.get("data-point") not in self.rings
            self.rings[group.get("data-point")] = (float(circle.get("cx")), float(circle.get("cy")))
        self.wires = {g.get("data-wire"): [_corners(p) for p in g.iter(f"{SVG}path")] for g in self.groups("wire")}
        self.rails = {
            g.get("data-part"): [_corners(path) for path in g.iter(f"{SVG}path")]
            for g in self.groups("part")
            if g.get("data-part").endswith(" bus")
        }
        self.texts = [(text.text, _box(text)) for text in self.root.iter(f"{SVG}text")]

    def groups(self, kind: str) -> list[ElementTree.Element]:
        return [group for group in self.root.iter(f"{SVG}g") if group.get("class") == kind]

    @property
    def lines(self) -> list[tuple[str, list[tuple[float, float]]]]:
        return [(name, line) for name, lines in (*self.wires.items(), *self.rails.items()) for line in lines]


def _corners(path: ElementTree.Element) -> list[tuple[float, float]]:
    """The corners of a line: a rounded corner is put back to the point it rounds, a bow is left out."""
    words = path.get("d").split()
    found, place = [], 0
    while place < len(words):
        take = {"M": 2, "L": 2, "Q": 4, "C": 6}[words[place]]
        numbers = [float(word) for word in words[place + 1 : place + 1 + take]]
        found.append((numbers[0], numbers[1]) if words[place] == "Q" else (numbers[-2], numbers[-1]))
        place += 1 + take
    return found


def _box(text: ElementTree.Element) -> tuple[float, float, float, float]:
    size, x, y = (float(text.get(key)) for key in ("font-size", "x", "y"))
    wide = text_width(text.text, size)
    left = {"start": x, "end": x - wide, "middle": x - wide / 2}[text.get("text-anchor")]
    return left, y - 0.75 * size, left + wide, y + 0.2 * size


def _meet(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _span(a: tuple[float, float], b: tuple[float, float], room: float) -> tuple[float, float, float, float]:
    return min(a[0], b[0]) - room, min(a[1], b[1]) - room, max(a[0], b[0]) + room, max(a[1], b[1]) + room


def problems(house: Installation, svg: str) -> list[str]:
    """What a careful reader would complain of: collisions of words, lines and rings, and whatever is off the sheet."""
    read = Read(svg)
    found = []
    ends = {wire.name: {wire.a, wire.b} for wire in house.conductors}
    ends |= {part.name: set(part.terminals) for part in house.parts}
    for (one, box), (other, another) in combinations(read.texts, 2):
        if _meet(box, another):
            found.append(f"{one!r} on {other!r}")
    for words, box in read.texts:
        if box[0] < 0 or box[1] < 0 or box[2] > read.width or box[3] > read.height:
            found.append(f"{words!r} is off the sheet")
        found += [f"{words!r} on ring {name}" for name, at in read.rings.items() if _meet(box, _span(at, at, RING))]
        found += [
            f"{words!r} on {name}" for name, line in read.lines if any(_meet(box, _span(*pair, 1)) for pair in pairwise(line))
        ]
    for name, line in read.lines:
        for a, b in pairwise(line):
            if abs(a[0] - b[0]) > 0.01 and abs(a[1] - b[1]) > 0.01:
                found.append(f"{name} runs aslant")
            others = [ring for ring in read.rings if ring.removesuffix(" lead") not in ends[name]]
            found += [
                f"{name} through ring {ring}"
                for ring in others
                if _meet(_span(a, b, 1), _span(read.rings[ring], read.rings[ring], RING))
            ]
    for (one, line), (other, another) in combinations(read.lines, 2):
        if any(_along(*pair, *rival) for pair in pairwise(line) for rival in pairwise(another)):
            found.append(f"{one} along {other}")
    return found


def _along(a, b, c, d) -> bool:
    """Whether two stretches lie on each other for more than a point."""
    for level, run in ((0, 1), (1, 0)):
        if max(abs(a[level] - end[level]) for end in (b, c, d)) < 0.01:
            return min(max(a[run], b[run]), max(c[run], d[run])) - max(min(a[run], b[run]), min(c[run], d[run])) > 0.1
    return False


def landed(house: Installation, svg: str, off: tuple[str, ...] = ()) -> None:
    """Fail unless every conductor is drawn from the edge of one of its rings to the edge of the other."""
    read = Read(svg)
    assert {wire.name for wire in house.conductors} == set(read.wires)
    for wire in house.conductors:
        (line,) = read.wires[wire.name]
        for terminal, (x, y) in ((wire.a, line[0]), (wire.b, line[-1])):
            at = read.rings[f"{terminal} lead" if terminal in off else terminal]
            assert RING == pytest.approx(abs(x - at[0]) + abs(y - at[1]), abs=0.01), (wire.name, terminal)


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
        assert {part.name for part in house.parts} == set(named)
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
    loose = [terminal for terminal in house.terminals if not house.landed(terminal)]
    assert sorted(loose) == sorted(note.get("data-about") for note in notes)
    for note in notes:
        assert "not connected" == " ".join(text.text for text in note.iter(f"{SVG}text"))


@pytest.mark.parametrize("house", [TOPOLOGIES["three_wire_direct 1"], FOUR], ids=lambda house: house.conductors[-1].name)
def test_no_two_landings_read_the_same(house):
    """Moving any conductor's end anywhere changes the words, and no two such moves give the same words."""
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
    assert set(house.terminals) - wide == {end for element in found for end in (element.a, element.b)}
    wires = [wire for chain in chains for wire in (*chain.wires, chain.first, chain.last) if wire] + list(trace.apart)
    assert sorted(wire.name for wire in house.conductors) == sorted(wires)


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


def test_a_part_without_a_symbol_is_refused():
    """A part of an unknown kind raises an error that names it and what there is."""

    class Bell(Stat):
        """A kind of part that no ladder knows."""

    bell = Bell("bell")
    house = replace(TWO, parts=(*TWO.parts, bell))
    with pytest.raises(WiringError, match=r"'bell' is a Bell.*Transformer"):
        ladder(house)


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
    ],
)
def test_points_in_words(point, words):
    """A test point is named as a technician would say it."""
    assert words == point_words(point)


def test_parts_and_conductors_in_words():
    """Parts and conductors are named the same way."""
    assert ["valve 1", "zone 2 W splice", "C bus", "boiler"] == [
        part_words(name) for name in ("zone1.valve", "zone2.W splice", "C bus", "boiler")
    ]
    assert ["zone 1 W leg", "C trunk"] == [wire_words(name) for name in ("zone1.W leg", "C trunk")]
    for house in EVERY.values():
        said = [point_words(terminal) for terminal in house.terminals]
        assert len(set(said)) == len(said)


VALVE = HeatMotorValve("zone1.valve", 3)


def depth(svg: str) -> float:
    """How low the plug stands: the upper edge of the one shape that is as wide as the plug."""
    shapes = [
        [tuple(map(float, pair.split(","))) for pair in mark.get("points").split()]
        for mark in ElementTree.fromstring(svg).iter(f"{SVG}polygon")
    ]
    plugs = [shape for shape in shapes if len(shape) == 4 and shape[1][0] - shape[0][0] == 60]
    (plug,) = plugs
    return plug[0][1]


def test_the_plug_moves_with_the_stroke():
    """Half a stroke takes the plug half the way, whole stroke and manual opener the whole way, lost wax nowhere."""
    shut, half, full = (depth(cutaway(VALVE, ValveState(stroke=stroke), 80.0, heating=True)) for stroke in (0, 0.5, 1))
    assert shut < full
    assert (shut + full) / 2 == pytest.approx(half)
    assert full == depth(cutaway(VALVE, ValveState(engaged=True), 20.0, heating=False))
    assert shut == depth(cutaway(replace(VALVE, charge=0.0), ValveState(stroke=1.0), 95.0, heating=True))


def test_the_wax_fills_with_warmth():
    """The filling grows with the wax's temperature, from its surroundings to the end of the stroke and no further."""

    def filling(wax: float) -> float:
        svg = ElementTree.fromstring(cutaway(VALVE, ValveState(), wax, heating=True))
        (mark,) = [mark for mark in svg.iter() if mark.get("fill-opacity") and "heat" in mark.get("fill")]
        return float(mark.get("fill-opacity"))

    levels = [filling(wax) for wax in (VALVE.ambient_degC, 40, 60, VALVE.end_degC)]
    assert sorted(set(levels)) == levels
    assert levels[0] == filling(-10)
    assert levels[-1] == filling(200)


def test_each_state_of_a_valve_looks_different():
    """Heater on or off, switch made or open, opener, burnt heater, temperature: each shows in picture and words."""
    states = [
        (ValveState(), 20.0, False),
        (ValveState(), 20.0, True),
        (ValveState(), 70.0, True),
        (ValveState(stroke=1.0), 89.0, True),
        (ValveState(stroke=1.0, made=True), 90.0, True),
        (ValveState(engaged=True), 20.0, False),
        (ValveState(burnt=True), 20.0, False),
    ]
    drawn = [cutaway(VALVE, state, wax, heating=heating) for state, wax, heating in states]
    said = [cutaway_words(VALVE, state, wax, heating=heating) for state, wax, heating in states]
    assert len(states) == len(set(drawn)) == len(set(said))
    for svg, words in zip(drawn, said, strict=True):
        assert words == ElementTree.fromstring(svg).find(f"{SVG}desc").text
        boxes = [_box(text) for text in ElementTree.fromstring(svg).iter(f"{SVG}text")]
        assert not [pair for pair in combinations(boxes, 2) if _meet(*pair)]


def test_an_opener_that_makes_the_switch_is_drawn_so():
    """The end switch is drawn as it conducts, not as the wax stands."""
    kind = replace(VALVE, opener="by hand, makes the switch")
    assert "The end switch is made." in cutaway_words(kind, ValveState(engaged=True), 20.0, heating=False)
    assert "The end switch is open." in cutaway_words(VALVE, ValveState(engaged=True), 20.0, heating=False)


def test_the_open_valve_of_the_book_is_computed():
    """The book's open valve is the demo house's after its own warm-up: end switch made at its own end temperature."""
    end = bungalow().part("zone1.valve").end_degC
    said = ElementTree.fromstring(valve_open()).find(f"{SVG}desc").text
    assert "Heater on." in said
    assert end - 1 < float(said.partition("The wax is at ")[2].partition(" ")[0]) < end + 1
    assert "fully open" in said
    assert "The end switch is made." in said
    assert "The valve is shut" in ElementTree.fromstring(valve_cold()).find(f"{SVG}desc").text


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
    assert not [(a, b) for a, b in pairwise(path) if _meet(_span(a, b, 1), (80, 20, 100, 160))]
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
