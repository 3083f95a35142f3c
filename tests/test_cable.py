"""Copper in runs: laws that hold for every gauge, what is refused, and the book-keeping with the facts."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solvers.plant import cable, facts

GAUGES = st.integers(cable.THICKEST, cable.THINNEST)
CONTROL = range(14, 25)


@given(gauge=st.integers(cable.THICKEST, cable.THINNEST - 1))
def test_every_step_of_gauge_is_one_ratio(gauge):
    """39 equal steps lead from 4/0 to No. 36: each is the 39th root of 92 in diameter."""
    assert 92 ** (1 / 39) == pytest.approx(cable.diameter_mm(gauge) / cable.diameter_mm(gauge + 1), rel=1e-12)


@given(gauge=GAUGES, feet=st.floats(0, 1e4), degC=st.floats(-40, 90))
def test_ohms_by_the_cross_section(gauge, feet, degC):
    """Length times resistivity over area, warmed up, is what a run says."""
    by_hand = feet * 0.3048 / 58e6 / (math.pi / 4 * (cable.diameter_mm(gauge) / 1000) ** 2) * (1 + 0.00393 * (degC - 20))
    assert by_hand == pytest.approx(cable.run(gauge, feet, degC), rel=1e-12)


@given(gauge=GAUGES)
def test_a_gauge_is_found_again_by_its_area(gauge):
    """The thinnest gauge of at least its own circular mils is the gauge itself; a little more asks for the next one."""
    mils = cable.circular_mils(gauge)
    assert gauge == cable.gauge_for(mils)
    if gauge > cable.THICKEST:
        assert gauge - 1 == cable.gauge_for(mils * 1.001)


@given(mm2=st.sampled_from(sorted(facts.IEC_OHMS_PER_KM)), flexible=st.booleans())
def test_metric_limits_lie_above_plain_copper(mm2, flexible):
    """The standard's largest ohms leave a few percent over plain copper of the nominal area, and flexible more than solid."""
    over = cable.metric_run(mm2, 1.0, flexible=flexible) / cable.wire_ohms(1.0, mm2)
    assert 1.0 < over < 1.17
    assert cable.metric_run(mm2, 1.0, flexible=True) > cable.metric_run(mm2, 1.0)


@given(there=st.floats(-40, 150), start=st.floats(0.01, 100))
def test_there_and_back_by_temperature(there, start):
    """Carried to another temperature and back by that temperature's own coefficient, the ohms are what they were."""
    away = cable.at_temperature(start, there)
    back = cable.at_temperature(away, 20.0, reference_degC=there, alpha=cable.alpha_at(there))
    assert start == pytest.approx(back, rel=1e-9)


def test_the_facts_for_drawings_agree():
    """The short table that installations are drawn from is the formula to its printed digits."""
    for gauge, ohms in facts.COPPER_OHMS_PER_KFT.items():
        assert ohms == pytest.approx(1000 * cable.ohms_per_foot(gauge), rel=2e-4)


@pytest.mark.parametrize(("gauge", "kft"), [(14, 2.525), (16, 4.016), (18, 6.385), (20, 10.15), (22, 16.14)])
def test_the_trade_table(gauge, kft):
    """Ohms per 1000 ft of one conductor as the course prints them, to the last digit."""
    assert f"{kft:.4g}" == f"{1000 * cable.ohms_per_foot(gauge):.4g}"


def test_a_drop_is_both_conductors():
    """100 ft of 18 AWG and back is 1.277 ohm, 1.149 V at 0.9 A."""
    assert 1.277 == pytest.approx(2 * cable.run(18, 100), abs=5e-4)
    assert 1.149 == pytest.approx(cable.drop(18, 100, 0.9), abs=5e-4)


def test_warm_wire_has_more_ohms():
    """A run in a 60 degC attic has 15.7 % more ohms than at 20 degC."""
    assert 1.1572 == pytest.approx(cable.run(18, 50, 60) / cable.run(18, 50), abs=1e-6)


def test_stray_capacitance_makes_ghost_volts():
    """15 m beside R and beside C equally, at 80 pF to the metre each, looks like about 1.1 megohm at 60 Hz."""
    farads = cable.stray_farads(15 / 0.3048)
    assert 1.2e-9 == pytest.approx(farads, rel=1e-9)
    assert 1.1e6 == pytest.approx(1 / (2 * math.pi * 60 * 2 * farads), rel=0.01)


@pytest.mark.parametrize(("gauge", "name"), [(18, "18 AWG"), (1, "1 AWG"), (0, "1/0 AWG"), (-1, "2/0 AWG"), (-3, "4/0 AWG")])
def test_names_of_gauges(gauge, name):
    """Above No. 1 gauges are counted in noughts."""
    assert name == cable.gauge_name(gauge)


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (lambda: cable.run(50, 10), "from -3 .* to 40"),
        (lambda: cable.run(18.5, 10), "whole number"),
        (lambda: cable.run(18, -1), "zero or more"),
        (lambda: cable.run(18, math.inf), "zero or more"),
        (lambda: cable.metric_run(0.6, 10), "there are"),
        (lambda: cable.gauge_for(3e5), "thickest"),
    ],
)
def test_what_cannot_be_asked(asked, words):
    """A gauge, size or length that there is not is refused with the value and the choices."""
    with pytest.raises(ValueError, match=words):
        asked()
