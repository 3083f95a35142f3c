"""What the meter shows: loading, ghosts, misuse, rounding, overload, turns through the clamp."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from oracles import exact_reading
from strategies import networks, pairs

from solvers.circuit import (
    ACCURACY,
    FUNCTIONS,
    OPEN,
    THRESHOLDS,
    Branch,
    CircuitError,
    FloatingNodes,
    Meter,
    Network,
    NoSuchBranch,
    NoSuchNode,
    Reading,
    amps_reading,
    beeper_reading,
    currents,
    direct_volts,
    jack_reading,
    millivolts_reading,
    ohms_reading,
    uncertainty,
    volts_between,
    volts_dc_reading,
    volts_reading,
)
from solvers.circuit.meter import shown

IDEAL = 1e-6  # ohms, in place of a source's own impedance
STRAY = complex(0, -1 / (2 * math.pi * 60 * 1e-9))  # ohms of 1 nF between the conductors of a cable, 60 Hz


def loop(contact: float = 0.02, *, volts: float = 27.5, coil: complex = 70 + 187j) -> Network:
    """A transformer, a thermostat contact and a heater, and beside them a lifted relay coil."""
    return Network(
        [
            Branch("transformer", "R", "C", 1.2, volts),
            Branch("stat", "R", "W", contact),
            Branch("heater", "W", "C", 26.0),
            Branch("R.leak", "R", "earth", 1e9),
            Branch("C.leak", "C", "earth", 1e9),
            Branch("relay.coil", "A", "B", coil),
            Branch("A.leak", "A", "earth", 1e9),
            Branch("B.leak", "B", "earth", 1e9),
        ]
    )


DEAD = loop(volts=0, coil=70.0)
"""The same circuit with the supply off, as an ohmmeter's direct current meets it."""


# Volts


def test_a_meter_loads_what_it_measures() -> None:
    """24 V over two 250 megohms is 12 V on each, but a 10 megohm meter reads 0.8889 V and shows 0.889 V."""
    divider = Network([Branch("source", "1", "0", IDEAL, 24.0), Branch("R1", "1", "2", 250e6), Branch("R2", "2", "0", 250e6)])
    assert 0.8889 == pytest.approx(volts_between(divider, "2", "0", Meter().volts_ohms), abs=0.00005)
    assert Reading("volts", 0.889, 0.001, "0.889 V") == volts_reading(divider, "2", "0")
    assert 12.0 == pytest.approx(volts_between(divider, "2", "0", 1e15), rel=1e-6)


@given(networks(leaky=True), st.data(), st.sampled_from([3e3, 10e6]))
def test_a_reading_is_the_exact_one_rounded(network: Network, data: st.DataObject, ohms: float) -> None:
    """The display is at most half a digit from the 50-digit volts with the meter's own resistance on the pair."""
    first, second = data.draw(pairs(network))
    reading = volts_reading(network, first, second, low_z=ohms == 3e3)
    exact = float(exact_reading(network, first, second, ohms))
    assert reading.value == pytest.approx(exact, rel=0, abs=reading.step / 2 + 1e-9)


@given(networks(leaky=True), st.data())
def test_probes_may_be_swapped(network: Network, data: st.DataObject) -> None:
    """An AC meter reads the same with its probes the other way round."""
    first, second = data.draw(pairs(network))
    there, back = (volts_between(network, *pair, 10e6) for pair in ((first, second), (second, first)))
    assert there == pytest.approx(back, rel=1e-9, abs=1e-9)


def test_low_impedance_kills_a_ghost() -> None:
    """A wire that only stray capacitance reaches reads volts on 10 megohms and next to none on 3 kilohms."""
    ghost = loop() + [
        Branch("stray", "R", "spare", STRAY),
        Branch("spare.leak", "spare", "earth", 1e9),
    ]
    high, low = volts_reading(ghost, "spare", "C"), volts_reading(ghost, "spare", "C", low_z=True)
    divided = abs(27.5 * 26.02 / 27.22 * 10e6 / (10e6 + STRAY))
    assert divided == pytest.approx(high.value, rel=1e-3)
    assert ("volts", "", 0.03, "volts low-Z") == (high.function, high.note, round(low.value, 2), low.function)
    assert "under 0.5 V: no supply here" == low.note


def test_low_impedance_leaves_a_real_supply_alone() -> None:
    """A supply that can drive a load reads the same on both inputs, to the display's digit."""
    high, low = volts_reading(loop(), "W", "C"), volts_reading(loop(), "W", "C", low_z=True)
    assert ("26.27 V", "26.26 V", "") == (high.text, low.text, low.note)


def test_both_probes_on_one_node_read_nothing() -> None:
    """Two probes on the same terminal read 0 V, and the leads alone in ohms."""
    assert 0.0 == volts_reading(loop(), "W", "W").value
    assert Meter().lead_ohms == ohms_reading(loop(), DEAD, "W", "W").value


@pytest.mark.parametrize(
    "measured",
    [
        lambda circuit, a, b: volts_between(circuit, a, b, 10e6),
        lambda circuit, a, b: volts_reading(circuit, a, b),
        lambda circuit, a, b: volts_reading(circuit, a, b, low_z=True),
        lambda circuit, a, b: volts_dc_reading(circuit, a, b),
        lambda circuit, a, b: millivolts_reading(circuit, a, b),
        lambda circuit, a, b: jack_reading(circuit, circuit, a, b),
        lambda circuit, a, b: ohms_reading(circuit, circuit, a, b),
        lambda circuit, a, b: beeper_reading(circuit, circuit, a, b),
    ],
    ids=["volts between", "volts", "volts low-Z", "volts DC", "millivolts", "amps jack", "ohms", "beeper"],
)
@pytest.mark.parametrize("pair", [("X", "C"), ("C", "X"), ("X", "X")])
def test_a_probe_on_an_unknown_terminal_is_refused(measured, pair: tuple[str, str]) -> None:
    """A misspelt terminal never reads 0 V: it is named, with the terminals there are."""
    with pytest.raises(NoSuchNode, match=r"no node 'X'; there are \['A', 'B', 'C', 'R', 'W', 'earth'\]"):
        measured(loop(), *pair)


# Direct current


def board(volts: float = 12.0) -> Network:
    """An input that a board senses with direct current."""
    return Network([Branch("board", "T1", "T2", 2400.0, volts), Branch("leak", "T2", "earth", 1e9)])


def test_each_of_two_functions_follows_its_own_current() -> None:
    """Volts show nothing of 12 V DC and volts DC nothing of 27.5 V AC; each shows its own, loaded by its 10 megohms."""
    assert "0.000 V" == volts_reading(board(0.0), "T1", "T2").text
    assert Reading("volts DC", 12.0, 0.01, "12.00 V DC") == volts_dc_reading(board(), "T1", "T2")
    assert "0.000 V DC" == volts_dc_reading(DEAD, "R", "C").text
    assert 12.0 * 10e6 / (10e6 + 2400) == pytest.approx(direct_volts(board(), "T1", "T2", 10e6), rel=1e-12)


def test_direct_volts_have_a_sign() -> None:
    """With the probes the wrong way round the same digits stand behind a minus, and as far off."""
    there, back = volts_dc_reading(board(), "T1", "T2"), volts_dc_reading(board(), "T2", "T1")
    assert ("12.00 V DC", "-12.00 V DC") == (there.text, back.text)
    assert there.value == -back.value
    assert uncertainty(there) == uncertainty(back) == pytest.approx(0.005 * 12 + 2 * 0.01)


@given(networks(leaky=True), st.data())
def test_a_direct_reading_is_the_real_part_of_the_exact_one(network: Network, data: st.DataObject) -> None:
    """Its size is that of the 50-digit volts wherever nothing in the circuit is reactive."""
    flat = Network(Branch(b.name, b.a, b.b, b.z if b.z == OPEN else abs(b.z), complex(b.emf).real) for b in network)
    first, second = data.draw(pairs(flat))
    reading = volts_dc_reading(flat, first, second)
    assert abs(reading.value) == pytest.approx(
        float(exact_reading(flat, first, second, 10e6)), rel=0, abs=reading.step / 2 + 1e-9
    )


# Millivolts


@pytest.mark.parametrize(
    ("contact", "text"),
    [(0.02, "20.2 mV"), (0.3, "300.0 mV"), (0.6, "593.5 mV"), (0.62, "OL"), (OPEN, "OL")],
)
def test_millivolts_tell_a_contact_under_load(contact: float, text: str) -> None:
    """Tenths of a millivolt up to 600: the drop of a closed contact at 27.5 V over what is in series; above it OL."""
    reading = millivolts_reading(loop(contact), "R", "W")
    assert text == reading.text
    if text != "OL":
        assert reading.value == pytest.approx(27.5 * contact / (1.2 + contact + 26.0), abs=0.5e-4)
        assert 1e-4 == pytest.approx(reading.step)
    else:
        assert (math.inf, "600 mV or more: turn to volts") == (reading.value, reading.note)


def test_the_volts_range_cannot_tell_what_millivolts_can() -> None:
    """20 and 20.4 mV are one display in volts and two in millivolts."""
    good, worse = loop(0.0198), loop(0.0202)
    assert volts_reading(good, "R", "W").text == volts_reading(worse, "R", "W").text
    assert millivolts_reading(good, "R", "W").text != millivolts_reading(worse, "R", "W").text


# The current jack


def test_leads_in_the_current_jack_are_a_short() -> None:
    """Across R and C more than 20 A would flow: the meter's fuse is gone, and the misuse is named."""
    reading = jack_reading(loop(), DEAD, "R", "C")
    assert (None, "the meter's fuse has blown", "current jacks across a source") == (reading.value, reading.text, reading.misuse)


def test_the_jack_shows_what_its_fuse_stands() -> None:
    """Across 26 V behind 122 ohms it shows 26/122.1 A, still a misuse; between two dead points it shows nothing."""
    t_t = Network([Branch("source", "T1", "T2", 122.0, 26.0)])
    reading = jack_reading(t_t, t_t.edited("source", emf=0), "T1", "T2")
    assert (round(26 / 122.1, 4), "212.9 mA") == (pytest.approx(reading.value), reading.text)
    assert "current jacks across a source" == reading.misuse
    dead = jack_reading(loop(), DEAD, "A", "B")
    assert ("0.0 mA", "") == (dead.text, dead.misuse)


@pytest.mark.parametrize(("amps", "stands"), [(1.0, True), (1.09, True), (1.11, False), (20.0, False)])
def test_the_jacks_fuse_goes_at_2_75_times_its_rating(amps: float, stands: bool) -> None:
    """0.4 A times 2.75 is 1.1 A: more opens it before the display can be read."""
    source = Network([Branch("source", "R", "C", 0.9, amps)])  # with the jack's 0.1 ohm, one ohm
    assert stands == (jack_reading(source, source, "R", "C").value is not None)


def test_a_blown_jack_shows_nothing_anywhere() -> None:
    """With its fuse gone the jack reads 0 across a live pair: it loads nothing, and looks like no current."""
    blown = Meter(jack_blown=True)
    reading = jack_reading(loop(), DEAD, "R", "C", meter=blown)
    assert (0.0, "0.0 mA") == (reading.value, reading.text)
    assert "fuse behind this jack has blown" in reading.note


# Ohms and continuity


@pytest.mark.parametrize("measured", [ohms_reading, beeper_reading])
@pytest.mark.parametrize(("ac", "dc"), [(27.5, 0), (0, 24.0)], ids=["AC on the pair", "DC on the pair"])
def test_ohms_on_a_live_pair_gives_no_number_and_names_the_misuse(measured, ac: float, dc: float) -> None:
    """On a pair that carries voltage there is no number, no OL to rely on, and the misuse is named."""
    reading = measured(loop(volts=ac), loop(volts=dc, coil=70.0), "W", "C")
    assert (None, "the pair carries voltage") == (reading.value, reading.note)
    assert {ohms_reading: "ohms on a live pair", beeper_reading: "continuity on a live pair"}[measured] == reading.misuse
    assert 0.0 == uncertainty(reading)


def test_ohms_on_a_dead_pair_is_right_while_the_rest_is_powered() -> None:
    """A lifted coil of 70 ohms DC reads 70.2 with the leads, though the heater beside it has 26 V, AC or DC."""
    assert 26.27 == volts_reading(loop(), "W", "C").value
    assert Reading("ohms", 70.2, 0.1, "70.2 ohm") == ohms_reading(loop(), DEAD, "A", "B")
    assert Reading("ohms", 70.2, 0.1, "70.2 ohm") == ohms_reading(loop(), loop(coil=70.0), "A", "B")


def test_ohms_reads_everything_between_the_probes() -> None:
    """A heater in circuit reads in parallel with the path round through the transformer, not on its own."""
    beside = 1 / (1 / 26.0 + 1 / (0.02 + 1.2)) + 0.2
    assert pytest.approx(beside, abs=0.05) == ohms_reading(DEAD, DEAD, "W", "C").value
    lifted = DEAD.edited("stat", z=OPEN)
    assert 26.2 == ohms_reading(lifted, lifted, "W", "C").value


def test_a_live_pair_is_one_above_half_a_volt_on_low_impedance() -> None:
    """A pair with 0.49 V on 3 kilohms is measured in ohms, one with 0.51 V is refused."""
    for volts, expected in ((0.49, ""), (0.51, "ohms on a live pair")):
        pair = Network([Branch("source", "R", "C", 5.0, volts), Branch("load", "R", "C", 1e9)])
        assert expected == ohms_reading(pair, pair.edited("source", emf=0), "R", "C").misuse


def test_a_ghost_does_not_make_a_pair_live() -> None:
    """A floating wire that shows volts on 10 megohms has no supply behind it, so ohms to common is no misuse."""
    leak = Branch("spare.leak", "spare", "earth", 1e9)
    ghost = loop() + [Branch("stray", "R", "spare", STRAY), leak]
    assert volts_reading(ghost, "spare", "C").value > 20
    assert Reading("ohms", math.inf, 0.1, "OL", "no path") == ohms_reading(ghost, DEAD + [leak], "spare", "C")


@pytest.mark.parametrize(
    ("ohms", "expected"),
    [
        (59.0e6, Reading("ohms", 59.0e6, 1e4, "59.00 Mohm")),
        (61.0e6, Reading("ohms", math.inf, 0.1, "OL", "no path")),
        (1e9, Reading("ohms", math.inf, 0.1, "OL", "no path")),
    ],
)
def test_more_than_sixty_megohms_is_overload(ohms: float, expected: Reading) -> None:
    """What lies above the last range shows OL, which is infinity as a value."""
    pair = Network([Branch("part", "A", "B", ohms)])
    assert expected == ohms_reading(pair, pair, "A", "B")


def test_an_open_contact_shows_overload_only_where_leakage_is_given() -> None:
    """Across an open contact with its leaks the meter shows OL; a part with no path at all is named, not read."""
    cut = DEAD.edited("stat", z=OPEN).edited("heater", z=OPEN)
    leaking = cut + [Branch("W.leak", "W", "earth", 1e9)]
    assert "OL" == ohms_reading(leaking, leaking, "R", "W").text
    with pytest.raises(FloatingNodes, match=r"no path from \['W'\] to 'C'"):
        ohms_reading(cut, cut, "R", "C")


@pytest.mark.parametrize(
    ("ohms", "expected"),
    [
        (0.1, "beep, 0.3 ohm"),
        (26.0, "beep, 26.2 ohm"),  # a healthy heater
        (39.7, "beep, 39.9 ohm"),
        (39.8, "silent, 40.0 ohm"),
        (200.0, "silent, 200.2 ohm"),
        (1e9, "silent, OL"),
    ],
)
def test_the_beeper_sounds_below_its_threshold(ohms: float, expected: str) -> None:
    """Continuity beeps below 40 ohms with the leads counted in, so a healthy heater beeps and OL never does."""
    pair = Network([Branch("part", "A", "B", ohms)])
    assert expected == beeper_reading(pair, pair, "A", "B").text


def test_the_threshold_and_the_leads_belong_to_the_meter() -> None:
    """Another meter with 1 ohm leads and a 20 ohm threshold stays silent on the same heater."""
    pair = Network([Branch("part", "A", "B", 26.0)])
    assert "silent, 27.0 ohm" == beeper_reading(pair, pair, "A", "B", meter=Meter(lead_ohms=1.0, beeps_below=20.0)).text


@pytest.mark.parametrize(
    ("ohms", "beeps"), [(15.0, (True, True, True)), (30.0, (False, True, True)), (100.0, (False, False, True))]
)
def test_three_meters_beep_at_three_thresholds(ohms: float, beeps: tuple[bool, ...]) -> None:
    """A rotten joint of 15 ohms beeps on every meter, a good heater on two of three: the beep alone proves neither."""
    pair = Network([Branch("part", "A", "B", ohms)])
    found = [beeper_reading(pair, pair, "A", "B", meter=Meter(beeps_below=below)).text.startswith("beep") for below in THRESHOLDS]
    assert list(beeps) == found
    assert Meter().beeps_below in THRESHOLDS


# The display


@pytest.mark.parametrize(
    ("true", "first_range", "expected"),
    [
        (0.0, 6.0, (0.0, 0.001)),
        (5.9994, 6.0, (5.999, 0.001)),
        (5.9996, 6.0, (6.0, 0.01)),
        (27.4568, 6.0, (27.46, 0.01)),
        (59.996, 6.0, (60.0, 0.1)),
        (119.96, 6.0, (120.0, 0.1)),
        (0.26, 600.0, (0.3, 0.1)),
        (599.94, 600.0, (599.9, 0.1)),
        (600.4, 600.0, (600.0, 1.0)),
        (12346.0, 600.0, (12350.0, 10.0)),
        (9615384.6, 600.0, (9620000.0, 10000.0)),
    ],
)
def test_a_display_of_six_thousand_counts_rounds(true: float, first_range: float, expected: tuple) -> None:
    """Each range holds 5999 digits; what rounds to 6000 goes to the next range."""
    assert pytest.approx(expected, rel=1e-12) == shown(true, first_range, 6000)


@given(st.floats(0, 6e8), st.sampled_from([6.0, 600.0]))
def test_a_display_never_shows_more_than_its_counts(true: float, first_range: float) -> None:
    """At most 5999 digits stand there, they are whole, and they are the nearest to the truth."""
    value, step = shown(true, first_range, 6000)
    digits = value / step
    assert round(digits) == pytest.approx(digits, abs=1e-6)
    assert digits < 5999.5
    assert value == pytest.approx(true, rel=1e-12, abs=step / 2)
    assert 10.0 ** round(math.log10(step)) == pytest.approx(step, rel=1e-12)


@given(st.floats(0, 6e8), st.floats(0, 6e8), st.sampled_from([6.0, 600.0]))
def test_a_display_keeps_the_order_of_its_values(one: float, other: float, first_range: float) -> None:
    """More never shows as less, across ranges too."""
    low, high = sorted([one, other])
    assert shown(low, first_range, 6000)[0] <= shown(high, first_range, 6000)[0]


@pytest.mark.parametrize(
    ("ohms", "text"),
    [
        (0.04, "0.2 ohm"),
        (599.6, "599.8 ohm"),
        (900.0, "900 ohm"),
        (999.4, "1.000 kohm"),
        (1234.0, "1.234 kohm"),
        (12346.0, "12.35 kohm"),
        (123456.0, "123.5 kohm"),
        (1.2346e6, "1.235 Mohm"),
        (9615385.0, "9.62 Mohm"),
    ],
)
def test_ohms_are_shown_with_their_prefix_and_four_digits(ohms: float, text: str) -> None:
    """The display switches to kilohms and megohms and never shows more digits than it has."""
    pair = Network([Branch("part", "A", "B", ohms)])
    assert text == ohms_reading(pair, pair, "A", "B").text


# The clamp


def test_the_clamp_counts_every_turn() -> None:
    """One turn shows 0.35 A in 0.01 A steps; ten turns show 3.47 A and give 0.347 A a turn."""
    circuit = Network([Branch("source", "R", "C", 2.0, 25.0), Branch("load", "R", "C", 70.0)])
    amperes = 25.0 / 72.0
    one, ten = amps_reading(circuit, "load"), amps_reading(circuit, "load", turns=10)
    assert ("0.35 A", "3.47 A over 10 turns: 0.347 A") == (one.text, ten.text)
    assert (pytest.approx(0.35), pytest.approx(0.347)) == (one.value, ten.value)
    assert (pytest.approx(0.01), pytest.approx(0.001)) == (one.step, ten.step)
    assert abs(ten.value - amperes) < abs(one.value - amperes) <= 0.005
    assert one.value == amps_reading(circuit, "source").value


@pytest.mark.parametrize("turns", [0, -1, 11, 2.5, math.nan, None, "3"], ids=repr)
def test_turns_are_one_to_ten(turns) -> None:
    """Any other number of turns is refused with the value and what is allowed."""
    with pytest.raises(CircuitError, match="wind 1 to 10 turns through the jaw") as refused:
        amps_reading(loop(), "heater", turns=turns)
    assert repr(turns) in str(refused.value)


def test_the_clamp_round_an_unknown_conductor_is_refused() -> None:
    """A misspelt conductor is named with the conductors there are."""
    with pytest.raises(NoSuchBranch, match=r"no branch 'haeter'; there are \['A.leak', 'B.leak', 'C.leak', 'R.leak', 'heat"):
        amps_reading(loop(), "haeter")


def test_the_clamp_round_an_open_conductor_reads_nothing() -> None:
    """A conductor that ends at an open contact carries 0.00 A."""
    assert "0.00 A" == amps_reading(loop(OPEN), "stat").text


def test_the_clamp_round_a_whole_cable_reads_next_to_nothing() -> None:
    """Out by one conductor and back by the other cancel; two that run the same way add, and phase counts."""
    circuit = Network(
        [
            Branch("source", "R", "C", 2.0, 25.0),
            Branch("out", "R", "W", 0.5),
            Branch("load", "W", "X", 30.0),
            Branch("back", "C", "X", 0.5),  # counted away from the source, as its neighbour in the cable is
            Branch("coil", "R", "C", complex(70, 187)),
        ]
    )
    assert "0.00 A" == amps_reading(circuit, "out", "back").text
    assert amps_reading(circuit, "out").value == amps_reading(circuit, "back").value
    one, other = (currents(circuit, "C")[name] for name in ("out", "coil"))
    assert abs(one) == pytest.approx(amps_reading(circuit, "out").value, abs=0.005)
    both = abs(one + other)
    assert abs(abs(one) + abs(other) - both) > 0.02
    assert both == pytest.approx(amps_reading(circuit, "out", "coil", turns=10).value, abs=0.0005)
    with pytest.raises(NoSuchBranch, match="no branch 'bakc'"):
        amps_reading(circuit, "out", "bakc")


# Uncertainty


@pytest.mark.parametrize(
    ("reading", "expected"),
    [
        (Reading("volts", 27.46, 0.01, "27.46 V"), 0.2746 + 0.03),
        (Reading("volts DC", -12.0, 0.01, "-12.00 V DC"), 0.06 + 0.02),
        (Reading("millivolts", 0.0202, 0.0001, "20.2 mV"), 0.000202 + 0.0003),
        (Reading("millivolts", math.inf, 0.0001, "OL"), 0.0),
        (Reading("amps jack", 0.2129, 0.0001, "212.9 mA"), 0.0031935 + 0.0003),
        (Reading("volts low-Z", 0.027, 0.001, "0.027 V"), 0.00027 + 0.003),
        (Reading("ohms", 26.2, 0.1, "26.2 ohm"), 0.262 + 0.3),
        (Reading("beeper", 26.2, 0.1, "beep, 26.2 ohm"), 0.262 + 0.3),
        (Reading("clamp", 0.35, 0.01, "0.35 A"), 0.007 + 0.03),
        (Reading("clamp", 0.347, 0.001, "3.47 A over 10 turns: 0.347 A"), 0.00694 + 0.003),
        (Reading("ohms", math.inf, 0.1, "OL"), 0.0),
        (Reading("ohms", None, 0.1, "OL, unsteady"), 0.0),
    ],
    ids=lambda given: given.text if isinstance(given, Reading) else "",
)
def test_uncertainty_is_percent_and_digits(reading: Reading, expected: float) -> None:
    """1 % + 3 digits for volts and ohms, less for DC, 2 % + 3 steps for the clamp, nothing where no number stands."""
    assert expected == pytest.approx(uncertainty(reading), rel=1e-12)


def test_every_reading_names_a_function_of_the_meter() -> None:
    """Each way of measuring says which setting it used, and together they are all settings there are."""
    ac = loop()
    used = [
        volts_reading(ac, "W", "C"),
        volts_reading(ac, "W", "C", low_z=True),
        volts_dc_reading(DEAD, "W", "C"),
        millivolts_reading(ac, "R", "W"),
        ohms_reading(DEAD, DEAD, "A", "B"),
        beeper_reading(DEAD, DEAD, "A", "B"),
        amps_reading(ac, "heater"),
        jack_reading(DEAD, DEAD, "A", "B"),
    ]
    assert list(FUNCTIONS) == [reading.function for reading in used]
    assert list(FUNCTIONS) == list(ACCURACY)
