"""What opens by itself: one-shots, fuses, breakers. Trade values: common practice and memory, no source."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from supplied import REF_A, changed, on_call, readings, volts

from solvers.plant import facts
from solvers.plant.parts import Breaker, Fuse, HeatMotorValve, Seen, Stat, Transformer
from solvers.plant.protection import opening_seconds
from solvers.plant.running import called, switched, waited
from solvers.plant.topologies import Zone, four_wire
from solvers.plant.wiring import Installation


def house(count, **supply):
    """Zones alike, 30 ohms and 0.69 ohm of wiring each, as the trade's worked numbers have them."""
    zone = Zone(
        HeatMotorValve("valve", heater_ohms=30.0, ambient_degC=20.0),
        Stat("stat", 0.05),
        r_leg_ohms=0.32,
        w_leg_ohms=0.32,
        return_ohms=0.001,
    )
    return four_wire("alike", [zone] * count, **({"fuse": Fuse("fuse", ohms=0.001)} | supply))


class TestOneShot:
    @pytest.mark.parametrize(("percent", "minutes"), [(125, 110), (134, 51), (150, 30), (169, 20), (229, 9), (790, 0.7)])
    def test_time_from_cold(self, percent, minutes):
        """Minutes from cold to open at a steady load in percent of rated amperes."""
        unit = Transformer("t", protection="one-shot")
        amps = {"t.winding": percent / 100 * unit.rated_amps}
        law = unit.laws(unit.initial(), Seen(amps, {}, {}, {}))["t.heat"]
        assert minutes == pytest.approx(law.time_to(0.0, facts.ONE_SHOT_OPENS.value) / 60, rel=0.08)

    def test_rated_load_is_carried_for_ever(self):
        """At 120 % of rated amperes it never opens."""
        unit = Transformer("t", protection="one-shot")
        law = unit.laws(unit.initial(), Seen({"t.winding": 1.2 * unit.rated_amps}, {}, {}, {}))["t.heat"]
        assert float("inf") == law.time_to(0.0, facts.ONE_SHOT_OPENS.value)

    def test_six_heaters_on_40_va(self):
        """MZ-07 leads to SP-04: nine minutes into an all-zones call the one-shot opens for good, while a 3 A fuse holds."""
        here = house(6, transformer=Transformer("transformer", protection="one-shot"))
        state, events = waited(here, on_call(here), 1200)
        opened = [event.time / 60 for event in events if event.name == "transformer one-shot opens"]
        assert [9] == pytest.approx(opened, abs=0.3)
        assert (True, False) == (state.of("transformer").opened, state.of("fuse").blown)
        for on in (False, True):
            state = switched(here, state, "transformer", on)
        state, _ = waited(here, state, 3600)
        assert 0 == pytest.approx(volts(here, state, "transformer.R", "transformer.C"), abs=0.01)

    def test_a_hopeless_feed_is_found_open(self):
        """SP-10 on a one-shot unit: by the time anybody comes it has opened."""
        assert Transformer("t", protection="one-shot", line_volts=240.0).initial().opened
        assert not Transformer("t", protection="one-shot").initial().opened

    def test_a_new_unit_stands_on_the_same_feed(self):
        """A new transformer is whole, and line volts, switch and bond are still the place's."""
        old = Transformer("t", primary_open=True, line_volts=105.0, grounded=True)
        new = old.refitted(Transformer("t"))
        assert (False, 105.0, True) == (new.primary_open, new.line_volts, new.grounded)


CURVE = [  # ohms in a loop on 27.5 V with a 3 A fuse; seconds as printed, half a unit of the last digit
    (5.79, 660, 30),  # HL-02 at 3 ohms: 4.7 A, 11 min
    (5.328, 300, 30),  # 100 ft of 22 AWG shorted: 5.2 A, 5 min
    (3.79, 9, 0.5),  # HL-02 at 1 ohm: 7.3 A
    (3.377, 3, 0.5),  # 100 ft of 18 AWG shorted: 8.1 A
    (2.79, 0.8, 0.0501),  # C and W exchanged: 9.9 A
    (27.5 / 14.8, 0.2, 0.05),
]


class TestFuse:
    @pytest.mark.parametrize(("ohms", "seconds", "within"), CURVE)
    def test_time_to_open(self, ohms, seconds, within):
        """Seconds to open of a 3 A fuse, as the trade rounds them; a 3 A breaker takes as long."""
        amps = 27.5 / ohms
        assert seconds == pytest.approx(Fuse("fuse").seconds_at(amps), abs=within)
        law = Breaker("breaker").laws(Breaker("breaker").initial(), Seen({"breaker.contact": amps}, {}, {}, {}))["breaker.used"]
        assert Fuse("fuse").seconds_at(amps) == pytest.approx(law.time_to(0.0, 1.0))

    def test_what_it_carries_for_ever(self):
        """110 % for ever, 135 % within an hour, 200 % within two minutes, 300 % about a second."""
        assert float("inf") == opening_seconds(1.10)
        assert (True, True, 1.0) == (opening_seconds(1.35) <= 3600, opening_seconds(2.0) <= 120, opening_seconds(3.0))

    @given(low=st.floats(0, 20), high=st.floats(0, 20))
    def test_more_current_never_takes_longer(self, low, high):
        """The law falls all the way."""
        low, high = sorted((low, high))
        assert opening_seconds(low) >= opening_seconds(high)

    def test_an_aged_link_opens_on_less(self):
        """SP-06: a link with 0.8 of its rating left opens at 0.8 of the amperes in the same time."""
        aged = Fuse("f", left=0.8)
        assert Fuse("f").seconds_at(6.0) == pytest.approx(aged.seconds_at(4.8))
        law = aged.laws(aged.initial(), Seen({"f.link": 4.8}, {}, {}, {}))["f.used"]
        assert aged.seconds_at(4.8) == pytest.approx(law.time_to(0.0, 1.0))

    def test_a_rest_lets_it_forget(self):
        """Half used up, it opens in half the time; after five quiet minutes it takes as long as a new one, to 1 %."""
        fuse = Fuse("f")
        hot, idle = (fuse.laws(fuse.initial(), Seen({"f.link": amps}, {}, {}, {}))["f.used"] for amps in (6.0, 1.0))
        assert 30 == pytest.approx(hot.time_to(0.5, 1.0), rel=1e-9)
        assert 60 == pytest.approx(hot.time_to(idle.at(0.5, 300.0), 1.0), rel=0.01)

    def test_blown_stays_blown(self):
        """HL-02 blows it; hours later the source stands across it while a zone calls, and the load side is dead."""
        here = changed(REF_A, "zone1.valve", heater_ohms=1.0)
        state, _ = waited(here, on_call(here), 60)
        state, _ = waited(here, state, 7200)
        assert state.of("fuse").blown
        assert 27.5 == pytest.approx(volts(here, state, "fuse.in", "fuse.out"), abs=0.05)
        idle = called(here, state, "zone1.stat", False)
        assert volts(here, idle, "fuse.in", "fuse.out", 3e3) < 0.5

    def test_a_hot_clip_drops_under_load_only(self):
        """SP-07 at 4 ohms: 27.5 V both sides idle; on call 25.9 V before, 22.9 V after, 3.0 V across."""
        here = changed(REF_A, "fuse", ohms=4.0)
        assert 27.5 == pytest.approx(readings(here)[0], abs=0.01)
        state = on_call(here)
        found = [
            volts(here, state, *pair)
            for pair in (("transformer.R", "transformer.C"), ("fuse.out", "transformer.C"), ("fuse.in", "fuse.out"))
        ]
        assert [25.9, 22.9, 3.0] == pytest.approx(found, abs=0.06)


class TestBreaker:
    @pytest.mark.parametrize("built_in", [True, False])
    def test_trips_stays_and_can_be_reset(self, built_in):
        """SP-19: a short trips it; it stays out; pushed in on the short it trips again, with the short gone it holds."""
        if built_in:
            here, name, across = changed(REF_A, protection="breaker"), "transformer", ("transformer.X", "transformer.R")
        else:
            parts = tuple(Breaker("breaker") if part.name == "fuse" else part for part in REF_A.parts)
            moved = {"fuse.in": "breaker.in", "fuse.out": "breaker.out"}
            wires = tuple(replace(wire, a=moved.get(wire.a, wire.a), b=moved.get(wire.b, wire.b)) for wire in REF_A.conductors)
            here, name, across = Installation("with a breaker", parts, wires), "breaker", ("breaker.in", "breaker.out")
        bad = changed(here, "zone1.valve", heater_ohms=0.5)
        if built_in:
            bad = changed(bad, "fuse", amps=100.0)
        state, events = waited(bad, on_call(bad), 3600)
        assert 1 == sum("trips" in event.name for event in events)
        assert state.of(name).tripped
        assert 27.5 == pytest.approx(volts(bad, state, *across), abs=0.06)

        def pushed_in(installation):
            reset = installation.part(name).reset(state.of(name))
            after, told = waited(installation, replace(state, parts={**state.parts, name: reset}), 3600)
            return after.of(name).tripped, sum("trips" in event.name for event in told)

        assert (True, 1) == pushed_in(bad)
        assert (False, 0) == pushed_in(here)

    def test_nothing_to_push(self):
        """A transformer without a breaker refuses to be reset and names its protection."""
        unit = Transformer("t", protection="one-shot")
        with pytest.raises(ValueError, match="no breaker to reset; its protection is 'one-shot'"):
            unit.reset(unit.initial())
