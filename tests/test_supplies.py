"""What feeds the circuit: transformers, fuses, breakers. Trade values: common practice and memory, no source."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from supplied import REF_A, changed, on_call, readings, volts

from solvers.circuit import OPEN, Branch, Network, currents, ohms_reading, potentials
from solvers.plant import facts, sizing
from solvers.plant.parts import Transformer
from solvers.plant.running import EARTH, at_rest, network, switched, waited
from solvers.plant.transformers import GROUND, PROTECTIONS
from solvers.plant.wiring import Conductor, Installation

MULTI = (120.0, 208.0, 240.0)


def loaded(transformer, ohms):
    """Volts at a fed transformer's terminals, and its amperes, with plain ohms across it."""
    load = Branch("load", f"{transformer.name}.R", f"{transformer.name}.C", ohms)
    circuit = Network([*transformer.branches(transformer.initial(), transformer.line_hz), load])
    common = f"{transformer.name}.C"
    return abs(potentials(circuit, common)[f"{transformer.name}.R"]), abs(currents(circuit, common)["load"])


class TestNameplate:
    @given(va=st.sampled_from(facts.TRANSFORMER_SIZES), regulation=st.floats(0.07, 0.2), protection=st.sampled_from(PROTECTIONS))
    def test_rated_load_gets_rated_volts(self, va, regulation, protection):
        """Whatever protects it, rated resistive load stands at rated volts, and without a load it rises by its regulation."""
        try:
            made = Transformer.from_nameplate("t", va, 24.0, regulation, protection=protection)
        except ValueError:
            # Only a big stiff unit that should hold its own short is impossible.
            assert (protection, True) == ("inherent", 24 * (1 + regulation) / ((24 * regulation) / (va / 24)) > 8)
            return
        own = facts.BREAKER_OHMS.value if protection == "breaker" else 0.0
        rated = 24.0**2 / va  # at the winding; its own breaker stands between winding and load
        _, amps = loaded(made, rated - own)
        assert 24.0 == pytest.approx(amps * rated, rel=1e-9)
        assert regulation == pytest.approx(sizing.regulation(loaded(made, 1e12)[0], amps * rated), rel=1e-6)
        assert protection != "inherent" or loaded(made, 1e-6)[1] <= 8.0

    @pytest.mark.parametrize(
        ("va", "least", "most"), [(20, 3.8, 5.5), (40, 1.6, 2.4), (50, 1.2, 1.8), (75, 0.6, 1.0), (100, 0.4, 0.7)]
    )
    def test_source_ohms_lie_where_the_trade_says(self, va, least, most):
        """The middle of a size's usual regulation gives a source impedance within the trade's range for the size."""
        middle = {20: 0.16, 40: 0.14, 50: 0.125, 75: 0.105, 100: 0.095}[va]
        assert least <= Transformer.from_nameplate("t", va, 24.0, middle).ohms <= most

    def test_an_inherently_limited_unit_holds_a_dead_short(self):
        """A dead short draws 8 A, 13 A without the reactance; rated resistive load loses under 1.5 % of its volts to it."""
        limited = Transformer("t", protection="inherent")
        plain = Transformer("t")
        assert 8.0 == pytest.approx(loaded(limited, 1e-6)[1], rel=1e-5)
        assert 13.1 == pytest.approx(loaded(plain, 1e-6)[1], abs=0.05)
        rated = 24.0**2 / 40
        assert loaded(plain, rated)[0] == pytest.approx(loaded(limited, rated)[0], rel=0.015)

    def test_a_big_stiff_unit_cannot_hold_its_own_short(self):
        """100 VA with 10 % regulation has no ohms left for its winding and says so."""
        with pytest.raises(ValueError, match=r"100 VA with 10\.0% regulation cannot hold a short to 8 A"):
            Transformer.from_nameplate("t", 100, 24.0, 0.10, protection="inherent")

    @pytest.mark.parametrize(
        ("field", "value", "words"),
        [
            ("protection", "luck", "there are"),
            ("taps", (240.0, 120.0), "rising order"),
            ("taps", (), "rising order"),
            ("tap", 208.0, r"there are \[120\.0\]"),
            ("bare", (120.0,), "unused are"),
            ("line_volts", 0.0, "above zero"),
            ("va", float("inf"), "above zero"),
            ("shorted_turns", 1.0, "share"),
        ],
    )
    def test_what_cannot_be_is_refused(self, field, value, words):
        """A field that no transformer can have is refused with the value and the choices."""
        with pytest.raises(ValueError, match=words):
            Transformer("t", **{field: value})

    def test_the_ground_is_the_node_of_the_leaks(self):
        """Bonds end at the node that every leak ends at."""
        assert EARTH == GROUND

    def test_no_drawn_unit_exceeds_class_2_volts(self):
        """The highest open-circuit volts that a job draws stay within 30 V on a line at the top of its ordinary range."""
        most = Transformer("t", emf=facts.TRANSFORMER_EMF.high, line_volts=sizing.service_range()[1])
        assert most.open_volts <= facts.CLASS_2_VOLTS.value


class TestLineAndTaps:
    @pytest.mark.parametrize(
        ("line", "tap", "open_volts"),
        [
            (120, 208, 15.9),
            (120, 240, 13.75),
            (240, 120, 55.0),
            (105, 120, 24.1),
            (208, 240, 23.8),
            (208, 120, 47.7),
            (230, 240, 26.4),
        ],
    )
    def test_open_volts_follow_line_over_tap(self, line, tap, open_volts):
        """SP-08, 09, 10, 13, 17 and wiring task 11: idle volts of the 27.5 V unit on a line and a tap."""
        here = changed(REF_A, taps=MULTI, tap=float(tap), line_volts=float(line))
        assert open_volts == pytest.approx(readings(here)[0], abs=0.06)

    @pytest.mark.parametrize(
        ("fields", "heater"),
        [
            ({"taps": MULTI, "tap": 208.0}, 14.5),
            ({"taps": MULTI, "tap": 240.0}, 12.6),
            ({"line_volts": 105.0}, 22.0),
            ({"line_volts": 100.0}, 21.0),
            ({"shorted_turns": 0.218}, 18.6),
        ],
        ids=["SP-08", "SP-09", "SP-13 at 105 V", "SP-13 at 100 V", "SP-14"],
    )
    def test_heater_volts_on_call(self, fields, heater):
        """The catalogue's supply rows: what the heater gets on call. The trade reckons without the fuse's 0.05 ohm."""
        assert heater == pytest.approx(readings(changed(REF_A, **fields))[2], abs=0.08)

    def test_twice_the_line_makes_84_watts(self):
        """SP-10: 240 V on the 120 V tap gives a 30 ohm heater 84 W, and it burns open within about a minute."""
        here = changed(REF_A, line_volts=240.0)
        watts = readings(here)[2] ** 2 / 30
        assert 84 == pytest.approx(watts, abs=1)
        _, events = waited(here, on_call(here), 300)
        assert ["zone1.valve heater burns open"] == [event.name for event in events if event.time < 75 and "burns" in event.name]

    def test_shorted_turns(self):
        """SP-14: idle 21.5 V, source impedance about 4 ohms, and its heat without a load is that of rated load."""
        bad = changed(REF_A, shorted_turns=0.218)
        idle, calling, _ = readings(bad)
        found = sizing.source_ohms(
            (idle, 0.0), (calling + 0.05 * 0.62, abs(currents(network(bad, on_call(bad)), EARTH)["fuse.link"]))
        )
        assert (21.5, 4.0) == pytest.approx((idle, found), abs=0.1)
        transformer = bad.part("transformer")
        assert 1 == pytest.approx(transformer.start_values()["transformer.heat"], abs=0.1)
        assert 75 < transformer.case_degC(transformer.start_values()["transformer.heat"])

    @pytest.mark.parametrize(
        "fields",
        [{"primary_open": True}, {"protection": "one-shot", "one_shot_open": True}, {"feed_on": False}, {"feed_open": True}],
    )
    def test_no_drive_no_volts(self, fields):
        """SP-01 to SP-04: primary open, one-shot open, feed off or its joint open, R to C is 0 V in every state."""
        assert (0, 0, 0) == pytest.approx(readings(changed(REF_A, **fields)), abs=0.01)

    def test_an_open_secondary_is_dead_to_the_ohmmeter_as_well(self):
        """An open secondary gives no volts, and no ohms between R and C where a good one shows 0.9."""
        for broken, ohms in ((False, 0.9 + 0.2), (True, float("inf"))):
            here = switched_off(changed(REF_A, secondary_open=broken))
            assert ohms == pytest.approx(ohms_of(*here, "transformer.R", "transformer.C"), abs=0.05)
        assert 0 == pytest.approx(readings(changed(REF_A, secondary_open=True))[0], abs=0.01)

    def test_a_60_hertz_unit_on_50_hertz_runs_hot(self):
        """SP-17: volts are normal, and the heat without a load is two to three times as much; a 50 Hz unit is not troubled."""
        wrong, right = Transformer("t", line_hz=50.0), Transformer("t", line_hz=50.0, rated_hz=50.0)
        assert 2 < wrong.no_load.real / right.no_load.real < 3
        assert wrong.open_volts == right.open_volts
        assert wrong.case_degC(wrong.start_values()["t.heat"]) > 75

    def test_a_healthy_case_is_warm(self):
        """NF-06: without a load a healthy case stands between 40 and 60 degC."""
        healthy = Transformer("t")
        assert 40 <= healthy.case_degC(healthy.start_values()["t.heat"]) <= 60


def switched_off(installation):
    return installation, switched(installation, at_rest(installation), "transformer", False)


def ohms_of(installation, state, first, second):
    return ohms_reading(network(installation, state), network(installation, state, 0), first, second).value


class TestPrimary:
    LINE = changed(REF_A, taps=MULTI, line_side=True)

    def test_the_line_side_changes_nothing_on_the_secondary(self):
        """Showing the primary leads leaves every 24-volt reading as it was."""
        assert readings(REF_A) == pytest.approx(readings(self.LINE), rel=1e-7)

    @pytest.mark.parametrize(
        ("fields", "panel", "lead"),
        [
            ({}, 120, 120),
            ({"feed_on": False}, 120, 0),
            ({"feed_open": True}, 120, 0),
            ({"primary_open": True}, 120, 120),
            ({"line_volts": 105.0}, 105, 105),
        ],
        ids=["healthy", "SP-01", "SP-02", "SP-03", "SP-13"],
    )
    def test_primary_volts(self, fields, panel, lead):
        """120 V at the panel side always; at the leads only when switch and joint are closed, winding open or not."""
        here = changed(self.LINE, **fields)
        state = at_rest(here)
        assert (panel, lead) == pytest.approx(
            (volts(here, state, "transformer.L", "transformer.P0"), volts(here, state, "transformer.P120", "transformer.P0")),
            abs=0.1,
        )

    def test_spare_taps_are_live(self):
        """By auto-transformer action the unused 208 and 240 V leads stand at their volts, to common and to ground."""
        state = at_rest(self.LINE)
        for tap in (208, 240):
            for other in ("transformer.P0", EARTH):
                assert tap == pytest.approx(volts(self.LINE, state, f"transformer.P{tap}", other), abs=0.5)

    def test_a_line_on_the_upper_tap_divides_down(self):
        """208 V on the 208 lead stands at 120 V on the 120 lead and at 240 V on the 240 lead."""
        here = changed(self.LINE, tap=208.0, line_volts=208.0)
        state = at_rest(here)
        found = [volts(here, state, f"transformer.P{tap}", "transformer.P0") for tap in (120, 208, 240)]
        assert [120, 208, 240] == pytest.approx(found, abs=0.5)
        assert 27.5 == pytest.approx(readings(here)[0], abs=0.01)

    def test_two_legs_stand_half_to_ground(self):
        """A 240 V line is two legs of 120 V each to ground, both dead once the two-pole switch is off."""
        here = changed(self.LINE, tap=240.0, line_volts=240.0)
        for on, each in ((True, 120), (False, 0)):
            state = switched(here, at_rest(here), "transformer", on)
            assert [each, each] == pytest.approx([volts(here, state, f"transformer.P{tap}", EARTH) for tap in (0, 240)], abs=0.5)

    def test_primary_ohms_with_the_feed_off(self):
        """12 to 30 ohms on the 120 V tap, 1.8 and 2.1 times that on 208 and 240; an open winding or one-shot reads OL."""
        here, state = switched_off(self.LINE)
        found = {tap: ohms_of(here, state, f"transformer.P{tap}", "transformer.P0") - 0.2 for tap in (120, 208, 240)}
        assert {120: 20, 208: 36, 240: 42} == pytest.approx(found, abs=0.2)
        for fields in ({"primary_open": True}, {"protection": "one-shot", "one_shot_open": True}):
            broken = switched_off(changed(self.LINE, **fields))
            assert float("inf") == ohms_of(*broken, "transformer.P120", "transformer.P0")

    def test_ohms_on_a_live_primary_are_refused(self):
        """With the feed on the pair carries voltage and the ohmmeter gives no number."""
        assert ohms_of(self.LINE, at_rest(self.LINE), "transformer.P120", "transformer.P0") is None

    def test_no_load_amperes(self):
        """A healthy 40 VA primary takes well under 0.2 A without a load; one with shorted turns several times that."""
        healthy, bad = (
            abs(currents(network(here, at_rest(here)), EARTH)["transformer.primary 120"])
            for here in (self.LINE, changed(self.LINE, shorted_turns=0.25))
        )
        assert healthy < 0.2
        assert 2 < bad / healthy < 6


def pair(*, joined=(), second=None, **first):
    """Two transformers, with conductors of given ohms between named terminals."""
    one = Transformer("T1", emf=27.5, line_side=True, **first)
    two = replace(Transformer("T2", emf=26.5), **(second or {}))
    wires = tuple(Conductor(f"tie {number}", a, b, ohms) for number, (a, b, ohms) in enumerate(joined, 1))
    return Installation("two transformers", (one, two), wires)


class TestTwoSources:
    @pytest.mark.parametrize(("opposed", "between"), [(False, 1.0), (True, 54.0)])
    def test_phasing_through_a_kilohm(self, opposed, between):
        """Technique 20: commons joined through 1 kilohm, R to R is about 0 V in phase and about 55 V opposed."""
        here = pair(joined=[("T1.C", "T2.C", 1000.0)], second={"opposed": opposed})
        assert between == pytest.approx(volts(here, at_rest(here), "T1.R", "T2.R"), abs=0.05)

    @pytest.mark.parametrize(("opposed", "least", "most"), [(False, 0.2, 0.5), (True, 12.0, 13.5)])
    def test_paralleled_secondaries(self, opposed, least, most):
        """MZ-08 and MZ-09: in phase some tenths of an ampere circulate, opposed about 13 A."""
        here = pair(joined=[("T1.R", "T2.R", 0.001), ("T1.C", "T2.C", 0.001)], second={"opposed": opposed})
        assert least < abs(currents(network(here, at_rest(here)), EARTH)["tie 1"]) < most

    def test_a_dead_primary_is_fed_back(self):
        """MZ-09: with its own feed off, 110 to 120 V stand on the primary of a paralleled unit, spare tap and all."""
        here = pair(joined=[("T1.R", "T2.R", 0.001), ("T1.C", "T2.C", 0.001)], taps=MULTI)
        state = switched(here, at_rest(here), "T1", False)
        assert 110 < volts(here, state, "T1.P120", "T1.P0") < 120
        assert 1.73 == pytest.approx(volts(here, state, "T1.P208", "T1.P0") / volts(here, state, "T1.P120", "T1.P0"), abs=0.01)
        assert () == state.chattering
        both = switched(here, state, "T2", False)
        assert 0 == pytest.approx(volts(here, both, "T1.P120", "T1.P0"), abs=0.1)

    def test_a_dead_unit_is_a_choke_and_no_short(self):
        """Paralleled and off, the secondary draws a few tenths of an ampere for its core, not amperes through its ohms."""
        here = pair(joined=[("T1.R", "T2.R", 0.001), ("T1.C", "T2.C", 0.001)])
        state = switched(here, at_rest(here), "T1", False)
        assert 0.1 < abs(currents(network(here, state), EARTH)["T1.winding"]) < 0.6

    def test_an_open_primary_stays_dead_from_behind(self):
        """An open primary winding carries nothing back to its leads."""
        here = pair(joined=[("T1.R", "T2.R", 0.001), ("T1.C", "T2.C", 0.001)], primary_open=True)
        state = switched(here, at_rest(here), "T1", False)
        assert 0 == pytest.approx(volts(here, state, "T1.P120", "T1.P0"), abs=0.1)


class TestGround:
    @pytest.mark.parametrize(
        ("grounded", "r_ground", "c_ground"), [(True, 27.5, 0.0), (False, 0.5 * 27.5 * 0.01, 0.5 * 27.5 * 0.01)]
    )
    def test_a_bond_gives_the_pipe_a_meaning(self, grounded, r_ground, c_ground):
        """C bonded: R to ground is the source and C to ground nothing; floating, both are strays that a 3 kilohm input kills."""
        here = changed(REF_A, grounded=grounded)
        state = at_rest(here)
        found = [volts(here, state, point, EARTH, 3e3) for point in ("transformer.R", "transformer.C")]
        assert [r_ground, c_ground] == pytest.approx(found, abs=0.15)

    def test_a_second_ground_on_r_is_a_short(self):
        """SP-20: with C bonded and R to ground through nothing the fuse opens; with C floating the same tie is harmless."""
        for grounded, blown in ((True, True), (False, False)):
            here = changed(REF_A, grounded=grounded)
            tie = replace(Transformer("tie", emf=1e-9, ohms=0.05, feed_on=False), secondary_open=True)  # only its terminals
            here = Installation(
                here.name,
                (*here.parts, replace(tie, grounded=True)),
                (*here.conductors, Conductor("pipe", "R bus.fuse", "tie.C", 0.5)),
            )
            state, _ = waited(here, at_rest(here), 60)
            assert blown == state.of("fuse").blown


class TestTechniques:
    def test_source_impedance_from_two_readings(self):
        """Technique 19: idle and loaded volts at the transformer with the clamped amperes give its 2.1 ohms back."""
        idle, calling = at_rest(REF_A), on_call(REF_A)
        amps = abs(currents(network(REF_A, calling), EARTH)["transformer.winding"])
        pairs = (
            (volts(REF_A, idle, "transformer.R", "transformer.C"), 0.0),
            (volts(REF_A, calling, "transformer.R", "transformer.C"), amps),
        )
        assert 2.1 == pytest.approx(sizing.source_ohms(*pairs), abs=0.001)

    @pytest.mark.parametrize(("heater", "bright"), [(0.5, True), (30.0, False)])
    def test_a_lamp_in_the_fuse_clips(self, heater, bright):
        """Technique 21: a 29 ohm lamp for the fuse is at full volts on a short, and at about half on a healthy heater."""
        here = changed(changed(REF_A, "fuse", ohms=29.0), "zone1.valve", heater_ohms=heater)
        across = volts(here, on_call(here), "fuse.in", "fuse.out")
        assert bright == (across > 20)
        assert across == pytest.approx(24.6 if bright else 12.9, abs=0.3)

    @pytest.mark.parametrize(("leak", "least", "most"), [(OPEN, 1e6, float("inf")), (5e3, 4.9e3, 5.3e3)])
    def test_insulation_to_ground(self, leak, least, most):
        """Technique 22: both ends lifted, a sound conductor reads over a megohm to ground and a wet one its leak."""
        circuit = Network([Branch("wet", "lead", EARTH, leak), Branch("leak", "lead", EARTH, facts.LEAK_OHMS.value)])
        assert least <= ohms_reading(circuit, circuit, "lead", EARTH).value <= most
