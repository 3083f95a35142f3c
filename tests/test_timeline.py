"""A timeline is the run it was drawn from: curves, events and words follow the plant's laws, not a template."""

from __future__ import annotations

from itertools import pairwise
from math import exp, log
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reference_circuits import REF_A, REF_E, zone_of

from solvers.circuit import OPEN, CircuitError
from solvers.pictures.sheet import text_width
from solvers.pictures.timeline import timeline, timeline_words
from solvers.pictures.timeline_run import recorded
from solvers.plant.parts import Fuse, HeatMotorValve, SpringReturnValve
from solvers.plant.running import at_rest, called, lifted, waited
from solvers.plant.topologies import Zone, four_wire, two_wire
from solvers.plant.wiring import NoSuchPart

SVG = "{http://www.w3.org/2000/svg}"


def calling(house, *zones):
    """The house at rest, some of its thermostats turned up."""
    state = at_rest(house)
    for zone in zones:
        state = called(house, state, f"{zone}.stat", True)
    return state


def drawn(svg: str) -> dict[str, list[tuple[float, float]]]:
    """The curve of each strip, by the strip's name."""
    found = {}
    for group in ElementTree.fromstring(svg).iter(f"{SVG}g"):
        if group.get("class") == "strip":
            curve = [shape for shape in group if shape.get("stroke-width") == "2.4"][-1]
            words = (curve.get("d") or curve.get("points")).replace(",", " ").split()
            numbers = [float(word) for word in words if word not in "ML"]
            found[group.get("data-about")] = list(zip(numbers[::2], numbers[1::2], strict=True))
    return found


def texts(svg: str) -> list[tuple[str, tuple[float, float, float, float]]]:
    """Every text with its rectangle."""
    found = []
    for text in ElementTree.fromstring(svg).iter(f"{SVG}text"):
        size, x, y = (float(text.get(key)) for key in ("font-size", "x", "y"))
        wide = text_width(text.text, size)
        left = {"start": x, "end": x - wide, "middle": x - wide / 2}[text.get("text-anchor")]
        found.append((text.text, (left, y - 0.7 * size, left + wide, y + 0.15 * size)))
    return found


def test_wax_follows_its_law():
    """Up to the end switch the wax rises as ambient + 6 K/W times V²/R, with 110 s: reference E, zone 1, 28.4 ohm."""
    record = recorded(REF_E, calling(REF_E, "zone1"), 80.0, zone="zone1")
    volts = record.samples[0].volts
    assert 24.8 == pytest.approx(volts, abs=0.1)
    for sample in record.samples:
        assert 20 + 6.0 * volts**2 / 28.4 * (1 - exp(-sample.time / 110)) == pytest.approx(sample.wax_degC, abs=1e-6)


def test_stroke_and_switch_come_when_the_wax_does():
    """The stem starts at 75 degC and is up at 90, where the switch makes and the boiler starts; both times in closed form."""
    record = recorded(REF_E, calling(REF_E, "zone1"), 120.0, zone="zone1")
    rise = 6.0 * record.samples[0].volts ** 2 / 28.4
    starts, full = (-110 * log(1 - (degC - 20) / rise) for degC in (75.0, 90.0))
    assert ["valve 1 begins to open", "valve 1 end switch makes, boiler starts"] == [event.words for event in record.happenings]
    assert [starts, full] == pytest.approx([event.time for event in record.happenings], abs=1e-6)
    for sample in record.samples:
        assert min(1, max(0, (sample.wax_degC - 75) / 15)) == pytest.approx(sample.stroke, abs=1e-9)
        assert (sample.time >= full - 1e-6) == sample.made == sample.called


@settings(max_examples=15, deadline=None)
@given(st.floats(5.0, 2000.0), st.sampled_from([(), ("zone1",), ("zone2",), ("zone1", "zone2")]))
def test_looking_changes_nothing(seconds, zones):
    """A record ends where one unbroken run ends, and its events are that run's."""
    start = calling(REF_E, *zones)
    end, events = waited(REF_E, start, seconds)
    record = recorded(REF_E, start, seconds, zone="zone1")
    last = record.samples[-1]
    assert seconds == pytest.approx(record.seconds)
    assert end.values["zone1.valve.wax"] == pytest.approx(last.wax_degC, abs=1e-6)
    assert (end.of("zone1.valve").made, end.of("boiler").firing) == (last.made, last.firing)
    mine = sorted({round(event.time, 6) for event in events if not event.name.startswith(("zone2.", "zone1.loop"))})
    assert mine == pytest.approx([event.time for event in record.happenings], abs=2e-6)


def test_curves_are_smooth_enough():
    """Nowhere does the drawn wax leave its exponential by half a pixel, and volts hold until the moment they change."""
    svg = timeline(REF_E, calling(REF_E, "zone1"), 80.0, zone="zone1")
    curve, rise = (
        drawn(svg)["wax"],
        6.0 * recorded(REF_E, calling(REF_E, "zone1"), 80.0, zone="zone1").samples[0].volts ** 2 / 28.4,
    )
    (left, bottom), (right, top) = curve[0], curve[-1]
    across, up = 80.0 / (right - left), (rise * (1 - exp(-80 / 110))) / (bottom - top)
    for (ax, ay), (bx, by) in pairwise(curve):
        middle = ((ax + bx) / 2 - left) * across
        assert rise * (1 - exp(-middle / 110)) / up == pytest.approx(bottom - (ay + by) / 2, abs=0.5)


def test_another_heater_is_another_picture():
    """Nothing is canned: an open heater stays cold under full volts, a weak one opens later, a lifted lead has no volts."""
    valve = REF_E.part("zone1.valve")
    start = calling(REF_E, "zone1")
    dead = REF_E.with_part(HeatMotorValve("zone1.valve", 3, heater_ohms=OPEN))
    record = recorded(dead, calling(dead, "zone1"), 300.0, zone="zone1")
    assert {0.0} == {sample.stroke for sample in record.samples}
    assert record.samples[0].volts > 26
    slow = REF_E.with_part(HeatMotorValve("zone1.valve", 3, heater_ohms=1.3 * valve.heater_ohms))
    usual, later = (recorded(house, calling(house, "zone1"), 300.0, zone="zone1") for house in (REF_E, slow))
    assert later.happenings[0].time > usual.happenings[0].time + 10
    cold = recorded(REF_E, lifted(REF_E, start, "zone1.valve.H"), 300.0, zone="zone1")
    assert max(sample.volts for sample in cold.samples) < 1.0
    assert drawn(timeline(REF_E, start, 300.0, zone="zone1")) != drawn(
        timeline(slow, calling(slow, "zone1"), 300.0, zone="zone1")
    )


def test_a_blown_fuse_shows_as_volts_that_end():
    """When the fuse opens in the run, the heater's volts fall to nothing at exactly that moment."""
    house = REF_A.with_part(Fuse("fuse", 0.5))
    record = recorded(house, calling(house, "zone1"), 600.0, zone="zone1")
    opens = next(event.time for event in record.happenings if "fuse" in event.words)
    for sample in record.samples:
        assert (sample.time < opens - 1e-6) == (sample.volts > 20)


def test_strips_follow_the_kind_of_valve():
    """A motor has no wax, a two-wire valve no end switch; the axis of time is shared by all strips."""
    motor = four_wire("a motor", [Zone(SpringReturnValve("valve", 4))])
    plain = two_wire("no switch", [Zone(HeatMotorValve("valve", 2))])
    strips = drawn(timeline(motor, calling(motor, "zone1"), 60.0, zone="zone1"))
    assert ["thermostat", "volts across the motor", "stroke", "end switch", "boiler call", "burner"] == list(strips)
    assert "wax" in drawn(timeline(plain, calling(plain, "zone1"), 60.0, zone="zone1"))
    assert "end switch" not in drawn(timeline(plain, calling(plain, "zone1"), 60.0, zone="zone1"))
    assert 1 == len({(curve[0][0], curve[-1][0]) for curve in strips.values()})


def test_other_zones_stay_out():
    """Events of another zone are not marked; the boiler's are, whoever called it."""
    start = calling(REF_E, "zone2")
    record = recorded(REF_E, start, 300.0, zone="zone1")
    assert not any("valve" in event.words for event in record.happenings)
    assert "boiler starts" in [event.words for event in record.happenings]


def test_marks_are_lines_at_their_time():
    """Events and put marks are numbered by time; each line meets the axis where its time is."""
    start = calling(REF_E, "zone1")
    svg = timeline(REF_E, start, 300.0, zone="zone1", marks=[(75.0, "predicted: open")])
    curve = drawn(svg)["wax"]
    left, right = curve[0][0], curve[-1][0]
    marks = [g for g in ElementTree.fromstring(svg).iter(f"{SVG}g") if g.get("class", "").startswith("mark")]
    assert ["mark", "mark put", "mark", "mark"] == [group.get("class") for group in marks]
    times = [75.0, *(event.time for event in recorded(REF_E, start, 300.0, zone="zone1").happenings)]
    for group, time in zip(marks, sorted(times), strict=True):
        (line,) = [shape for shape in group if shape.get("stroke-dasharray")]
        x = float(line.get("d").replace(",", " ").split()[-2])
        assert left + (right - left) * time / 300 == pytest.approx(x, abs=0.05)
    with pytest.raises(CircuitError, match=r"400.*0 to 300"):
        timeline(REF_E, start, 300.0, zone="zone1", marks=[(400.0, "too late")])


@pytest.mark.parametrize("seconds", [0.0, -5.0, float("inf"), float("nan")])
def test_no_time_is_refused(seconds):
    """A record needs a finite time above zero."""
    with pytest.raises(CircuitError, match="above zero"):
        timeline(REF_E, at_rest(REF_E), seconds, zone="zone1")


def test_an_unknown_zone_is_refused():
    """A zone without a valve is refused with the names that there are."""
    with pytest.raises(NoSuchPart, match=r"zone7\.valve.*zone1\.valve"):
        timeline(REF_E, at_rest(REF_E), 60.0, zone="zone7")


@pytest.mark.parametrize("seconds", [1.0, 60.0, 300.0, 3600.0, 86400.0])
def test_timelines_can_be_read(seconds):
    """No text lies on another or leaves the sheet, and none is smaller than 11 units, from a second to a day."""
    house = four_wire("two zones with limits", [zone_of(4), Zone(HeatMotorValve("valve", 4, limit="fitted", cold_ohms=25.0))])
    svg = timeline(house, calling(house, "zone1", "zone2"), seconds, zone="zone2", marks=[(seconds / 2, "here <half> & half")])
    root = ElementTree.fromstring(svg)
    _, _, width, height = (float(number) for number in root.get("viewBox").split())
    found = texts(svg)
    for words, box in found:
        assert box[0] >= 0, words
        assert box[1] >= 0, words
        assert box[2] <= width, words
        assert box[3] <= height, words
    for place, (words, box) in enumerate(found):
        for others, other in found[place + 1 :]:
            meet = box[0] < other[2] and other[0] < box[2] and box[1] < other[3] and other[1] < box[3]
            assert not meet, (words, others)
    assert min(float(text.get("font-size")) for text in root.iter(f"{SVG}text")) >= 11


def test_words_tell_the_same_run():
    """Every event is in the words at its time, and the picture carries the words as its text alternative."""
    start = calling(REF_E, "zone1")
    words = timeline_words(REF_E, start, 300.0, zone="zone1", marks=[(75.0, "predicted: open")])
    for event in recorded(REF_E, start, 300.0, zone="zone1").happenings:
        minutes, seconds = divmod(round(event.time), 60)
        assert f"At {minutes}:{seconds:02d} {event.words}." in words
    assert "At 1:15 predicted: open (marked)." in words
    assert "Volts across the heater: 24.8 V throughout." in words
    assert (
        words
        == ElementTree.fromstring(timeline(REF_E, start, 300.0, zone="zone1", marks=[(75.0, "predicted: open")]))
        .find(f"{SVG}desc")
        .text
    )


def test_what_comes_again_is_marked_once():
    """A boiler that cycles for hours has the first stop and the first start marked, and the rest counted."""
    start = calling(REF_E, "zone1")
    everything = recorded(REF_E, start, 14400.0, zone="zone1").happenings
    kinds = list(dict.fromkeys(event.words for event in everything))
    root = ElementTree.fromstring(timeline(REF_E, start, 14400.0, zone="zone1"))
    titles = [group.find(f"{SVG}title").text for group in root.iter(f"{SVG}g") if group.get("class") == "mark"]
    assert kinds == [title.partition(": ")[2] for title in titles]
    words = timeline_words(REF_E, start, 14400.0, zone="zone1")
    assert f"And {len(everything) - len(kinds)} more, mostly of the same." in words
