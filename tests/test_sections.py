"""Valves in section say what their state says, and can be read."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree

import pytest
from read_drawings import SVG, readable_section

from solvers.pictures import cutaway, cutaway_words
from solvers.pictures.examples import valve_cold, valve_open
from solvers.plant.demos import bungalow
from solvers.plant.parts import HeatMotorValve, MotorState, OpenCloseValve, SpringReturnValve, ValveState, WaxActuator
from solvers.plant.wiring import WiringError

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
    lost = replace(VALVE, charge=0.0)
    hot = lost.followed(lost.initial(), {f"{VALVE.name}.wax": 95.0})
    assert shut == depth(cutaway(lost, hot, 95.0, heating=True))


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
        readable_section(svg, words)


MOTOR = SpringReturnValve("zone1.valve")
MOTOR_STATES = [
    MotorState(),
    MotorState(stroke=0.4, drive="opening", lifted=True),
    MotorState(stroke=0.6, drive="opening", lifted=True),
    MotorState(stroke=0.95, made=True, drive="holding", lifted=True),
    MotorState(stroke=0.4, drive="shutting", lifted=True),
    MotorState(engaged=True),
    MotorState(burnt=True),
]


def test_each_state_of_a_motor_looks_different():
    """What a motor does, how far the rack has come and whether it is burnt shows in picture and words, for every lead count."""
    for leads in (2, 3, 4):
        valve = SpringReturnValve("zone1.valve", leads=leads)
        drawn = [cutaway(valve, state) for state in MOTOR_STATES]
        said = [cutaway_words(valve, state) for state in MOTOR_STATES]
        assert len(MOTOR_STATES) == len(set(drawn)) == len(set(said))
        for svg, words in zip(drawn, said, strict=True):
            readable_section(svg, words)
            letters = {text.text for text in ElementTree.fromstring(svg).iter(f"{SVG}text")}
            assert {terminal.rpartition(".")[2] for terminal in valve.terminals} <= letters
            assert ("end switch" in words) == (leads > 2)


def test_a_motor_s_plug_moves_with_its_travel():
    """Shut, half and open: the plug goes the way of the rack."""
    shut, half, full = (depth(cutaway(MOTOR, MotorState(stroke=stroke))) for stroke in (0.0, 0.5, 1.0))
    assert (shut + full) / 2 == pytest.approx(half)
    assert shut < full


@pytest.mark.parametrize("leads", [2, 4])
def test_a_wax_actuator_in_section(leads):
    """A wax actuator says that its heater is a PTC one, and its wax fills up to its own end of travel."""
    valve = WaxActuator("zone1.valve", leads=leads)
    end = valve.travel.full
    cases = [(ValveState(), 20.0, False), (ValveState(), 20.0, True), (ValveState(stroke=0.5), end - 5, True)]
    cases += [(ValveState(stroke=1.0, made=True), end, True), (ValveState(burnt=True), 20.0, False)]
    drawn = [cutaway(valve, state, wax, heating=heating) for state, wax, heating in cases]
    said = [cutaway_words(valve, state, wax, heating=heating) for state, wax, heating in cases]
    assert len(cases) == len(set(drawn)) == len(set(said))
    for svg, words in zip(drawn, said, strict=True):
        readable_section(svg, words)
    assert "PTC heater on." in said[1]
    assert depth(drawn[0]) < depth(drawn[2]) < depth(drawn[3])


def test_a_valve_without_a_section_is_refused():
    """A kind of valve that is not drawn in section raises an error that names it and what there is."""
    with pytest.raises(WiringError, match=r"'zone1.valve' is a OpenCloseValve.*HeatMotorValve"):
        cutaway(OpenCloseValve("zone1.valve"), MotorState())


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
