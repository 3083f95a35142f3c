"""A learner's wiring as a file: what goes in comes out, what is wrong is named by its place."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st
from wirings import RIGHT

from solvers.jobs.wireups import IDS, wire_up
from solvers.jobs.wiring_answer import FORMAT, GAUGES, BadWiring, Joint, Wire, Wiring, line_terminals, parsed, wired, written
from solvers.plant.cable import run
from solvers.plant.parts import Splice, Transformer

NAMES = st.text(min_size=1, max_size=20)


@given(
    ways=st.lists(st.integers(2, 6), max_size=5),
    wires=st.lists(
        st.tuples(NAMES, NAMES, st.sampled_from(GAUGES), st.text(max_size=40), st.text(max_size=60), st.floats(0, 1000)),
        max_size=8,
    ),
)
def test_what_is_written_is_read_back(ways, wires):
    """Any wiring that can be written is read back as it was."""
    wiring = Wiring(
        tuple(Joint(f"splice {number}", count) for number, count in enumerate(ways)),
        tuple(Wire(f"wire {number}", *fields) for number, fields in enumerate(wires)),
    )
    assert wiring == parsed(written(wiring))


def _body(**changes):
    wire = {"name": "wire 1", "a": "transformer.R", "b": "fuse.in", "gauge": 18, "colour": "", "label": "R", "feet": 10}
    body = {"format": FORMAT, "splices": [{"name": "splice 1", "ways": 3}], "wires": [wire]}
    return json.dumps({**body, **changes})


def _wire(**changes):
    wire = {"name": "wire 1", "a": "transformer.R", "b": "fuse.in", "gauge": 18, "colour": "", "label": "R", "feet": 10}
    return [{**wire, **changes}]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("{", "not whole JSON"),
        ("[]", "one JSON object"),
        (b"\xff", "not UTF-8"),
        (_body(format="other"), "format is 'other'; this program reads"),
        (_body(extra=1), "unknown ['extra']"),
        (_body(wires={}), "wires must be a list"),
        (_body(splices=[{"name": "splice 1", "ways": 7}]), "splices[0].ways is 7; a connector has 2 to 6 ways"),
        (_body(splices=[{"name": "splice 1", "ways": True}]), "splices[0].ways is True"),
        (
            _body(splices=[{"name": "x", "ways": 2}, {"name": "x", "ways": 2}]),
            "splices[1].name is 'x', which splices[0] has already",
        ),
        (_body(wires=_wire(gauge=17)), "wires[0].gauge is 17; there are [14, 16, 18, 20, 22]"),
        (_body(wires=_wire(feet=-1)), "wires[0].feet is -1"),
        (_body(wires=_wire(feet=True)), "wires[0].feet is True"),
        (_body(wires=_wire(label=3)), "wires[0].label must be text"),
        (_body(wires=_wire(a="")), "wires[0].a must be text of 1 to 60"),
        (_body(wires=_wire(more=1)), "wires[0] takes"),
        (_body().replace("10}", "NaN}"), "holds NaN"),
    ],
)
def test_a_file_that_is_no_wiring(text, message):
    """The first field that is not as it must be is named, with what was expected."""
    with pytest.raises(BadWiring) as caught:
        parsed(text)
    assert message in str(caught.value)


def _two(*wires, splices=()):
    return Wiring(splices, tuple(Wire(f"wire {number}", a, b) for number, (a, b) in enumerate(wires)))


@pytest.mark.parametrize(
    ("wiring", "message"),
    [
        (
            _two(("transformer.R", "fuse.inn")),
            "wires[0].b is 'fuse.inn'; terminals are ['transformer.R', 'transformer.C', 'fuse.in'",
        ),
        (_two(("fuse.in", "fuse.in")), "wires[0] begins and ends at 'fuse.in'"),
        (_two(splices=(Joint("fuse", 2),)), "splices[0].name is 'fuse', which is a part"),
        (Wiring((), (Wire("lamp", "fuse.in", "fuse.out"),)), "wires[0].name is 'lamp', which is a part"),
    ],
)
def test_a_wiring_that_does_not_fit_the_parts(wiring, message):
    """A terminal that is not there, a wire to nowhere and a name that is taken are named by their place."""
    with pytest.raises(BadWiring) as caught:
        wire_up("W15").made(wiring)
    assert message in str(caught.value)


def test_copper_has_its_ohms():
    """A wire has the ohms of its gauge and length, and a connector its ways."""
    wiring = Wiring((Joint("splice 1", 3),), (Wire("wire 1", "transformer.R", "splice 1.2", 20, feet=50.0),))
    here = wired(wire_up("W1").parts, wiring)
    assert run(20, 50.0) == here.conductor("wire 1").ohms
    assert isinstance(here.part("splice 1"), Splice)
    assert ("splice 1.1", "splice 1.2", "splice 1.3") == here.part("splice 1").terminals


@pytest.mark.parametrize(("lead", "volts"), [("P120", 47.7), ("P208", 27.5), ("P240", 23.8)])
def test_the_line_decides_the_tap(lead, volts):
    """The primary lead that the line is landed on is the tap, and 208 V on it give the printed volts without load."""
    here = wire_up("W11").made(_two(("transformer.L", f"transformer.{lead}")))
    assert volts == pytest.approx(here.part("transformer").open_volts, abs=0.05)
    assert here.conductor("wire 0").line


def test_no_line_no_feed():
    """Without a conductor to a primary lead the transformer has no feed."""
    assert wire_up("W11").made(Wiring()).part("transformer").feed_open


def test_line_voltage_is_known_by_its_terminals():
    """Primary leads carry line voltage, secondaries do not."""
    found = line_terminals((Transformer("transformer", line_side=True), Transformer("plain")))
    assert {"transformer.P0", "transformer.P120", "transformer.L"} == found


@pytest.mark.parametrize("id", IDS)
def test_every_right_wiring_can_be_written(id):
    """The wirings that the tests know go through a file unchanged."""
    for wiring in RIGHT[id].values():
        assert wiring == parsed(written(wiring))


def test_untidy_things_are_counted():
    """Unlabelled wires and connectors without a wire are named."""
    wiring = Wiring((Joint("splice 1", 2),), (Wire("wire 1", "fuse.in", "transformer.R", label=" "),))
    assert ("wire 1",) == wiring.unlabelled()
    assert ("splice 1",) == wiring.idle_splices()
    assert () == wiring.without("wire 1").wires
    with pytest.raises(BadWiring, match="no wire 'x'"):
        wiring.without("x")
