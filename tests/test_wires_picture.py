"""The wires as found are drawn as the data has them, stay readable, and nothing moves when a wire is added."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations, pairwise, product
from math import hypot
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reference_circuits import REF_A, REF_B, REF_C, REF_D, REF_E
from test_topologies import BUILDERS

from solvers.pictures.ladder import ladder
from solvers.pictures.sheet import text_width
from solvers.pictures.wires import wires, wires_words
from solvers.plant.panels import relay_panel
from solvers.plant.parts import (
    Boiler,
    Breaker,
    Fuse,
    HeatMotorValve,
    OpenCloseValve,
    Relay,
    Splice,
    SpringReturnValve,
    Stat,
    Transformer,
    WaxActuator,
)
from solvers.plant.running import at_rest, called, lifted, opener_set, points, switched
from solvers.plant.thermostats import CPoweredStat
from solvers.plant.topologies import Zone, four_wire
from solvers.plant.two_sources import shared_return
from solvers.plant.wiring import Conductor, Enclosure, Installation, NoSuchPart, NoSuchTerminal

SVG = "{http://www.w3.org/2000/svg}"
RING = 5.0
COLOURS = ("red", "white", "green", "blue", "yellow", "orange", "brown", "black", "two-tone")


def _zone(valve=None) -> Zone:
    return Zone(valve or HeatMotorValve("valve", 4))


SIX = four_wire(
    "six zones, mixed",
    [
        _zone(),
        _zone(SpringReturnValve("valve", 4)),
        _zone(HeatMotorValve("valve", 2)),
        _zone(WaxActuator("valve", 4)),
        Zone(HeatMotorValve("valve", 4), CPoweredStat("stat")),
        _zone(),
    ],
)
BAG = (
    Transformer("transformer"),
    Fuse("fuse"),
    Stat("zone1.stat"),
    HeatMotorValve("zone1.valve", 3),
    Stat("zone2.stat"),
    HeatMotorValve("zone2.valve", 3),
    Boiler("boiler"),
    Splice("splice 1", ("1", "2", "3")),
    Splice("splice 2", ("1", "2", "3", "4", "5")),
)
HALF = Installation(
    "half wired",
    BAG,
    (
        Conductor("wire 1", "transformer.R", "fuse.in", 0.01, colour="red", label="R"),
        Conductor("wire 2", "fuse.out", "splice 1.1", 0.01, colour="red", label="R"),
        Conductor("wire 3", "splice 1.2", "zone1.stat.R", 0.01, colour="white"),
        Conductor("wire 4", "zone1.stat.W", "zone1.valve.H", 0.01, label="W1"),
    ),
)
ODD = Installation(
    "one of each kind, and one conductor across them all",
    (
        Transformer("transformer 2", protection="breaker", line_side=True),
        Breaker("breaker"),
        CPoweredStat("zone1.stat"),
        OpenCloseValve("zone1.valve"),
        HeatMotorValve("zone2.valve", 4, body=True),
        Relay("zone1.relay", poles=2),
        Relay("relay"),
        Boiler("boiler", lends=True),
        Splice("splice 1", ("1", "2", "3", "4", "5", "6")),
    ),
    (Conductor("wire 1", "transformer 2.C", "zone1.valve.HA", 0.01), Conductor("wire 2", "boiler.C", "breaker.in", 0.01)),
)
PANEL = relay_panel("three zones on a relay panel", [_zone()] * 3)
RETURN = shared_return("two sources, one return", [_zone()] * 2, [_zone()])
EVERY = {house.name: house for house in (REF_A, REF_B, REF_C, REF_D, REF_E, SIX, PANEL, RETURN, HALF, ODD)}


def coloured(house: Installation) -> Installation:
    """The same house, every conductor with a colour and its own short label."""
    named = enumerate(house.conductors)
    return replace(
        house, conductors=tuple(replace(wire, colour=COLOURS[i % len(COLOURS)], label=f"{i}" * (i % 2)) for i, wire in named)
    )


@st.composite
def wirings(draw: st.DrawFn) -> Installation:
    """Any parts of a bag, joined in any way at all by up to thirty conductors."""
    house = draw(st.sampled_from([HALF, REF_E, ODD, PANEL]))
    ends = st.lists(st.sampled_from(house.terminals), min_size=2, max_size=2, unique=True)
    pairs = draw(st.lists(ends, max_size=30))
    return replace(house, conductors=tuple(Conductor(f"wire {n}", a, b, 0.01) for n, (a, b) in enumerate(pairs, 1)))


class Read:
    """A drawing read back from its SVG: rings, boxes, conductors as corner points, texts as rectangles."""

    def __init__(self, svg: str) -> None:
        self.root = ElementTree.fromstring(svg)
        _, _, self.width, self.height = (float(number) for number in self.root.get("viewBox").split())
        self.rings, self.letters = {}, {}
        for group in self.groups("point"):
            circle = group.find(f"{SVG}circle")
            assert group.get("data-point") not in self.rings
            assert float(circle.get("r")) == RING
            self.rings[group.get("data-point")] = (float(circle.get("cx")), float(circle.get("cy")))
            self.letters[group.get("data-point")] = group.findall(f"{SVG}text")[0].text
        self.wires = {g.get("data-wire"): _corners(g.findall(f"{SVG}path")[0]) for g in self.groups("wire")}
        self.boxes = {g.get("data-part"): _span(s) for g in self.groups("part") for s in g.iter() if s.get("fill") == SHEET_FILL}
        self.texts = [(text.text, _box(text)) for text in self.root.iter(f"{SVG}text")]

    def groups(self, kind: str) -> list[ElementTree.Element]:
        return [group for group in self.root.iter(f"{SVG}g") if group.get("class", "").split()[:1] == [kind]]


SHEET_FILL = "var(--sheet, none)"


def _corners(path: ElementTree.Element) -> list[tuple[float, float]]:
    """The corners of a line, each rounded one put back to the point it rounds."""
    words = path.get("d").split()
    found, place = [], 0
    while place < len(words):
        take = {"M": 2, "L": 2, "Q": 4}[words[place]]
        numbers = [float(word) for word in words[place + 1 : place + 1 + take]]
        found.append((numbers[0], numbers[1]))
        place += 1 + take
    return found


def _span(shape: ElementTree.Element) -> tuple[float, float, float, float]:
    numbers = [float(number) for number in shape.get("points").replace(",", " ").split()]
    return min(numbers[::2]), min(numbers[1::2]), max(numbers[::2]), max(numbers[1::2])


def _box(text: ElementTree.Element) -> tuple[float, float, float, float]:
    size, x, y = (float(text.get(key)) for key in ("font-size", "x", "y"))
    wide = text_width(text.text, size)
    left = {"start": x, "end": x - wide, "middle": x - wide / 2}[text.get("text-anchor")]
    return left, y - 0.7 * size, left + wide, y + 0.15 * size


def _meet(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _stretch(a: tuple[float, float], b: tuple[float, float], room: float = 0.0) -> tuple[float, float, float, float]:
    return min(a[0], b[0]) - room, min(a[1], b[1]) - room, max(a[0], b[0]) + room, max(a[1], b[1]) + room


def problems(house: Installation, svg: str) -> list[str]:
    """What a careful reader would complain of."""
    read, found = Read(svg), []
    ends = {wire.name: {wire.a, wire.b} for wire in house.conductors}
    for (one, box), (other, another) in combinations(read.texts, 2):
        if _meet(box, another):
            found.append(f"{one!r} on {other!r}")
    for words, box in read.texts:
        if box[0] < 0 or box[1] < 0 or box[2] > read.width or box[3] > read.height:
            found.append(f"{words!r} is off the sheet")
        found += [f"{words!r} on ring {name}" for name, at in read.rings.items() if _meet(box, _stretch(at, at, RING))]
    for name, line in read.wires.items():
        for a, b in pairwise(line):
            span = _stretch(a, b, 0.5)
            if abs(a[0] - b[0]) > 0.01 and abs(a[1] - b[1]) > 0.01:
                found.append(f"{name} runs aslant from {a} to {b}")
            if span[0] < 0 or span[1] < 0 or span[2] > read.width or span[3] > read.height:
                found.append(f"{name} leaves the sheet")
            found += [f"{name} through the box of {part}" for part, box in read.boxes.items() if _meet(span, box)]
            found += [f"{name} through {words!r}" for words, box in read.texts if _meet(span, box)]
            found += [
                f"{name} through ring {ring}"
                for ring, at in read.rings.items()
                if ring.removesuffix(" lead") not in ends[name] and _meet(span, _stretch(at, at, RING))
            ]
    for (one, line), (other, another) in combinations(read.wires.items(), 2):
        if any(_along(*pair, *rival) for pair in pairwise(line) for rival in pairwise(another)):
            found.append(f"{one} along {other}")
    return found


def _along(a, b, c, d) -> bool:
    """Whether two stretches lie on each other for more than a point."""
    for level, run in ((0, 1), (1, 0)):
        if max(abs(a[level] - end[level]) for end in (b, c, d)) < 0.05:
            return min(max(a[run], b[run]), max(c[run], d[run])) - max(min(a[run], b[run]), min(c[run], d[run])) > 0.1
    return False


def landed(house: Installation, svg: str, off: tuple[str, ...] = ()) -> None:
    """Fail unless every conductor is drawn from the edge of one of its rings to the edge of the other."""
    read = Read(svg)
    assert sorted(wire.name for wire in house.conductors) == sorted(read.wires)
    for wire in house.conductors:
        line = read.wires[wire.name]
        for terminal, (x, y) in ((wire.a, line[0]), (wire.b, line[-1])):
            at = read.rings[f"{terminal} lead" if terminal in off else terminal]
            assert RING == pytest.approx(hypot(x - at[0], y - at[1]), abs=0.02), (wire.name, terminal)


@pytest.mark.parametrize("name", EVERY)
def test_every_terminal_and_part_is_there_once(name):
    """Each terminal is one ring of radius 5 with its letter, each part with terminals one group."""
    house = EVERY[name]
    read = Read(wires(house))
    assert sorted(house.terminals) == sorted(read.rings)
    assert sorted(part.name for part in house.parts if part.terminals) == sorted(g.get("data-part") for g in read.groups("part"))
    for terminal, letter in read.letters.items():
        assert letter in (terminal.rpartition(".")[2], terminal.rpartition(".")[2].removeprefix("zone"))


@pytest.mark.parametrize("name", EVERY)
def test_conductors_end_where_the_data_says(name):
    """Each conductor runs from ring to ring of exactly the two terminals it lands on."""
    landed(EVERY[name], wires(EVERY[name]))


@pytest.mark.parametrize("name", EVERY)
def test_wires_can_be_read(name):
    """No conductor crosses a part, a word or a ring or lies along another, with colours and labels too."""
    assert [] == problems(EVERY[name], wires(EVERY[name]))
    house = coloured(EVERY[name])
    assert [] == problems(house, wires(house))


@pytest.mark.parametrize("zones", range(1, 7))
@pytest.mark.parametrize("kind", BUILDERS)
def test_every_topology_can_be_read(kind, zones):
    """One to six zones of every topology, wide and narrow, plain and with colours: nothing lies on anything."""
    house = BUILDERS[kind](zones)
    for seen, narrow in product((house, coloured(house)), (False, True)):
        svg = wires(seen, narrow=narrow)
        landed(seen, svg)
        assert [] == problems(seen, svg)


@pytest.mark.parametrize("kind", BUILDERS)
def test_six_zones_are_read_without_zooming(kind):
    """A table's drawing of 840 px shows all six zones across with letters of 10 px; a narrow one is half as wide."""
    house = BUILDERS[kind](6)
    read, narrow = Read(wires(house)), Read(wires(house, narrow=True))
    sizes = [float(text.get("font-size")) for text in (*read.root.iter(f"{SVG}text"), *narrow.root.iter(f"{SVG}text"))]
    assert 10 <= min(sizes) * 840 / read.width
    assert 12 <= min(sizes)
    assert narrow.width < 0.62 * read.width


@settings(max_examples=80, deadline=None)
@given(wirings(), st.booleans())
def test_any_wiring_is_drawn_as_it_is(house, narrow):
    """Whatever a learner joins, each conductor ends on its rings and the drawing stays readable."""
    svg = wires(house, narrow=narrow)
    landed(house, svg)
    assert [] == problems(house, svg)


@settings(max_examples=40, deadline=None)
@given(wirings())
def test_no_wire_moves_a_part(house):
    """Rings and boxes stand where they stand without any conductor."""
    bare, full = Read(wires(replace(house, conductors=()))), Read(wires(house))
    assert bare.rings == full.rings
    assert bare.boxes == full.boxes
    assert bare.width == full.width


@settings(max_examples=30, deadline=None)
@given(wirings(), st.randoms(use_true_random=False))
def test_the_order_of_wires_does_not_show(house, random):
    """The same conductors in another order give the same drawing, byte for byte."""
    shuffled = random.sample(house.conductors, len(house.conductors))
    assert wires(house) == wires(replace(house, conductors=tuple(shuffled)))


@pytest.mark.parametrize("name", EVERY)
def test_columns_go_by_role(name):
    """Supplies and thermostats stand left of splices, these left of valves; the boiler is in the valves' column."""
    house = EVERY[name]
    rings = Read(wires(house)).rings
    lefts = {
        kind: [rings[end] for part in house.parts if isinstance(part, kind) for end in part.terminals]
        for kind in (Transformer, Stat, Splice, HeatMotorValve, Boiler)
    }
    assert max(x for x, _ in lefts[Transformer]) < min(x for x, _ in lefts[HeatMotorValve])
    assert max(y for _, y in lefts[Transformer]) < min(y for _, y in lefts[Stat])
    for kind in (Splice, HeatMotorValve, Boiler):
        assert max(x for x, _ in lefts[Stat]) < min((x for x, _ in lefts[kind]), default=9e9)
    boxes = Read(wires(house)).boxes
    assert {boxes["boiler"][::2]} == {box[::2] for part, box in boxes.items() if part.endswith("valve")}


def test_line_voltage_leaves_on_the_other_side():
    """Primary leads stand on the left of a transformer, its secondary on the right."""
    rings = Read(wires(ODD)).rings
    right = rings["transformer 2.R"][0]
    for mark in "RCX":
        assert right == rings[f"transformer 2.{mark}"][0]
    for mark in ("P0", "P120", "L"):
        assert right - 90 > rings[f"transformer 2.{mark}"][0]


def test_no_conductor_hides_another():
    """Where conductors share a ring, none clears the sheet beside it there; elsewhere each does where it passes over others."""
    house = replace(HALF, conductors=tuple(Conductor(f"wire {n}", "fuse.out", f"splice 2.{n}", 0.01) for n in range(1, 5)))
    read = Read(wires(house))
    x, y = read.rings["fuse.out"]
    for group in read.groups("clear"):
        clear, line = _corners(group.find(f"{SVG}path")), read.wires[group.get("data-about")]
        assert hypot(line[0][0] - x, line[0][1] - y) == pytest.approx(RING, abs=0.02)
        assert clear[0][0] - x > 4 * RING
        assert line[-1] == clear[-1]


def test_nothing_wired_is_boxes_only():
    """Parts without a conductor are drawn all the same, and the words say that nothing is connected."""
    bare = replace(HALF, conductors=())
    assert [] == Read(wires(bare)).groups("wire")
    assert wires_words(bare).count("not connected") == len(bare.terminals)


def test_colours_are_words_too():
    """Every conductor with a colour carries its name in letters, so that a print in black and white loses nothing."""
    for house in EVERY.values():
        house = coloured(house)
        said = {group.get("data-about"): group.find(f"{SVG}text").text for group in Read(wires(house)).groups("label")}
        for wire in house.conductors:
            assert wire.colour in said[wire.name]


def test_text_is_never_small():
    """No text is smaller than 12 units."""
    for house in EVERY.values():
        assert min(float(text.get("font-size")) for text in Read(wires(coloured(house))).root.iter(f"{SVG}text")) >= 12


@pytest.mark.parametrize(
    "off", [("zone1.valve.H",), ("C bus.zone2", "zone2.W splice.1"), ("boiler.T1", "fuse.in", "zone2.valve.E")]
)
def test_a_lifted_lead_has_a_ring_of_its_own(off):
    """A lifted terminal stays, its lead ends in a ring beside it, and the conductors go to the lead."""
    state = at_rest(REF_E)
    for terminal in off:
        state = lifted(REF_E, state, terminal)
    svg = wires(REF_E, state=state)
    assert sorted(points(REF_E, state)) == sorted(Read(svg).rings)
    landed(REF_E, svg, off)
    assert [] == problems(REF_E, svg)


@pytest.mark.parametrize("house", [REF_C, REF_E, RETURN, HALF, ODD], ids=lambda house: house.name)
def test_any_lead_can_be_lifted(house):
    """Whichever terminal's conductors are lifted, wide or narrow, lead, word and letter stay clear of all else."""
    for terminal in house.terminals:
        if any(terminal in (wire.a, wire.b) for wire in house.conductors):
            for narrow in (False, True):
                svg = wires(house, state=lifted(house, at_rest(house), terminal), narrow=narrow)
                landed(house, svg, (terminal,))
                assert [] == problems(house, svg)


def test_a_lead_off_a_line_side_tap():
    """A lead lifted off any line-side lead of a transformer is held outside the box, and its letter stays readable."""
    for mark in ("P0", "P120", "L"):
        tap = f"transformer 2.{mark}"
        house = ODD.with_conductors([Conductor("line", tap, "breaker.out", 0.01, line=True)])
        svg = wires(house, state=lifted(house, at_rest(house), tap))
        read = Read(svg)
        assert [] == problems(house, svg)
        assert read.rings[f"{tap} lead"][0] + 2 * RING < read.rings[tap][0]
        assert mark == read.letters[tap]


def test_a_cable_has_one_name():
    """Each cable of two conductors is one loop around both where they share a part, and its name stands there once."""
    for house in (REF_E, SIX, PANEL):
        for narrow in (False, True):
            read = Read(wires(house, narrow=narrow))
            cables = {group.get("data-about"): group for group in read.groups("cable")}
            assert {wire.cable for wire in house.conductors if wire.cable} == set(cables)
            for name, group in cables.items():
                own = [wire.name for wire in house.conductors if wire.cable == name]
                (text,) = group.findall(f"{SVG}text")
                assert name.replace("zone", "zone ") == text.text
                loops = [_corners(path) for path in group.findall(f"{SVG}path") if path.get("d").count("Q") == 4]
                assert len(loops) in (1, len(own))
                spans = [_stretch(min(loop), max(loop)) for loop in loops]
                for wire in own:
                    stretches = [_stretch(*pair) for pair in pairwise(read.wires[wire])]
                    assert any(_meet(span, stretch) for span in spans for stretch in stretches)


def test_stat_wires_lie_in_one_sheath():
    """The R and W legs to a thermostat pass through one loop, side by side."""
    for group in Read(wires(REF_E)).groups("cable"):
        assert 1 == len([path for path in group.findall(f"{SVG}path") if path.get("d").count("Q") == 4])


BOXED = replace(
    HALF, enclosures=(Enclosure("panel", ("fuse", "splice 2", "zone1.stat")), Enclosure("pump box", ("boiler",), barrier=True))
)


def test_an_enclosure_is_an_outline():
    """Each enclosure is one named outline around its own parts and no other, with its conductors still readable."""
    for narrow in (False, True):
        svg = wires(BOXED, narrow=narrow)
        read = Read(svg)
        assert [] == problems(BOXED, svg)
        landed(BOXED, svg)
        areas = {group.get("data-about"): group for group in read.groups("area")}
        assert ["panel", "pump box"] == sorted(areas)
        assert "pump box, barrier" == areas["pump box"].find(f"{SVG}text").text
        for box in BOXED.enclosures:
            left, top, right, bottom = _span(areas[box.name].find(f"{SVG}polygon"))
            for terminal, (x, y) in read.rings.items():
                assert (left < x < right and top < y < bottom) == (terminal.rpartition(".")[0] in box.parts)
    assert "In the panel, without a barrier: fuse, splice 2, stat 1." in wires_words(BOXED)


def test_buses_alone_are_drawn():
    """An installation of buses only is drawn, and so is one of nothing."""
    parts = (Splice("R bus", ("zone1", "zone2")), Splice("C bus", ("a", "b", "c")))
    house = Installation("buses", parts, (Conductor("tie", "R bus.zone1", "C bus.a", 0.01),))
    for narrow in (False, True):
        svg = wires(house, narrow=narrow)
        assert [] == problems(house, svg)
        landed(house, svg)
        assert {} == Read(wires(Installation("nothing", (), ()), narrow=narrow)).rings


def test_a_calling_stat_is_drawn_made():
    """A thermostat's contact lies open at rest and joins its two leads while it calls."""
    resting = wires(REF_E, state=at_rest(REF_E))
    calling = wires(REF_E, state=called(REF_E, at_rest(REF_E), "zone1.stat", True))
    drawn = []
    for svg in (resting, calling):
        (group,) = [group for group in Read(svg).groups("part") if group.get("data-part") == "zone1.stat"]
        lines = [re.findall(r"[\d.]+", path.get("d")) for path in group.findall(f"{SVG}path")]
        drawn.append([(float(line[0]), float(line[-2])) for line in lines])
    (upper, open_arm), (same, made_arm) = drawn
    assert upper == same
    assert upper[1] == made_arm[0] > open_arm[0]


def test_a_bench_finds_its_targets():
    """Parts, points and conductors carry the same names that a ladder's do."""
    for house in (REF_A, REF_C, REF_E):
        mine, other = (ElementTree.fromstring(svg) for svg in (wires(house), ladder(house)))
        for kind in ("part", "point", "wire"):
            names = [{g.get(f"data-{kind}") for g in root.iter(f"{SVG}g") if g.get("class") == kind} for root in (mine, other)]
            assert names[0] == names[1]


def test_a_look_from_outside_shows():
    """A call, a supply that is off and a set opener show on their own part, and nothing else changes."""
    state = called(REF_E, at_rest(REF_E), "zone1.stat", True)
    state = opener_set(REF_E, switched(REF_E, state, "transformer", False), "zone2.valve", True)
    before, after = Read(wires(REF_E, state=at_rest(REF_E))), Read(wires(REF_E, state=state))
    changed = {
        old.get("data-part"): [text.text for text in new.iter(f"{SVG}text")][-1]
        for old, new in zip(before.groups("part"), after.groups("part"), strict=True)
        if ElementTree.tostring(old) != ElementTree.tostring(new)
    }
    assert {"zone1.stat": "calls", "transformer": "off", "zone2.valve": "opener set"} == changed
    assert wires(REF_E) == wires(REF_E, state=at_rest(REF_E))


def test_what_is_lit_is_marked_and_nothing_else():
    """Named conductors, and the parts whose branches are named, get the class lit and copper; lines stay where they are."""
    lit = ("R feed", "zone1.R leg", "zone1.stat.contact", "C bus.zone1")
    read = Read(wires(REF_E, lit=lit))
    glowing = [group for group in read.root.iter(f"{SVG}g") if "lit" in group.get("class", "").split()]
    names = {group.get("data-wire") or group.get("data-part") for group in glowing}
    assert {"R feed", "zone1.R leg", "zone1.stat", "C bus"} == names
    copper = [group for group in read.root.iter(f"{SVG}g") if any("copper" in shape.get("stroke", "") for shape in group)]
    assert copper == glowing
    assert Read(wires(REF_E)).wires == read.wires


def test_values_stand_beside_what_they_belong_to():
    """A value is drawn in its point's group, near the ring, or about its conductor; unknown names are refused."""
    values = dict.fromkeys(REF_E.terminals, "25.2 V") | {"C trunk": "0.84 A"}
    svg = wires(REF_E, values=values)
    assert [] == problems(REF_E, svg)
    read = Read(svg)
    for group in read.groups("point"):
        value = group.findall(f"{SVG}text")[1]
        x, y = read.rings[group.get("data-point")]
        assert "25.2 V" == value.text
        tied = group.find(f"{SVG}path") is not None  # a leader
        assert hypot(float(value.get("x")) - x, float(value.get("y")) - y) < (120 if tied else 50)
    assert ["C trunk"] == [group.get("data-about") for group in read.groups("value")]
    with pytest.raises(NoSuchTerminal, match=r"zone9\.stat\.R"):
        wires(REF_E, values={"zone9.stat.R": "0 V"})
    with pytest.raises(NoSuchPart, match="feeder"):
        wires(REF_E, values={"feeder": "0 A"})


def test_words_tell_every_end_of_every_conductor():
    """Each conductor is named at both its terminals, with its colour and label, and what is loose is said to be."""
    words = wires_words(HALF)
    assert "Stat 1: R to splice 1, side 2 by wire 3, white; W to valve 1 H by wire 4, labelled W1." in words
    assert "Boiler: T1 not connected; T2 not connected." in words
    assert wires(HALF).count(words) == 1


def test_no_two_landings_read_the_same():
    """Moving any conductor's end anywhere changes the words, and no two such moves give the same words."""
    said = {}
    for wire in HALF.conductors:
        for side in "ab":
            for terminal in HALF.terminals:
                if terminal in (wire.a, wire.b):
                    continue
                moved = HALF.with_conductor(wire.name, **{side: terminal})
                joined = tuple(sorted((one.name, *sorted((one.a, one.b))) for one in moved.conductors))
                assert joined == said.setdefault(wires_words(moved), joined)
    assert wires_words(HALF) not in said


def test_words_of_a_part_survive_markup():
    """Names and labels with markup in them come out as text."""
    house = HALF.with_conductor("wire 1", label='<b>&"', colour="<i>")
    read = Read(wires(house, values={"wire 1": "<0.5 V & falling"}))
    said = [text for text, _ in read.texts]
    assert "<0.5 V & falling" in said
    assert any("<i>" in text for text in said)
