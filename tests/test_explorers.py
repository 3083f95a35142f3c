"""The explorers: what they show against sums done another way, their charts, and what they refuse."""

import itertools
import math
import re
from xml.etree import ElementTree

import pytest

from solvers.chapters.explorer import Pick, Slider
from solvers.chapters.explorers import EXPLORERS, explorer
from solvers.jobs.job import JobError
from solvers.pictures.chart import chart
from solvers.screens.exploring import explorer_chart

SVG = "{http://www.w3.org/2000/svg}"


def shown(name, **changed):
    one = explorer(name)
    return one.shown({**one.defaults, **changed})


def number(shown, label):
    """The first number of a reading."""
    text = next(each.text for each in shown.readings if each.label == label)
    return float(re.match(r"-?[\d.]+", text)[0])


def text(shown, label):
    return next(each.text for each in shown.readings if each.label == label)


def seconds(text):
    if text == "never":
        return math.inf
    found = re.fullmatch(r"(?:(\d+) min )?(\d+) s", text)
    return 60 * int(found[1] or 0) + int(found[2])


# One transformer, more zones. Worked problem 2 of the trade's check values: common practice and memory, no source.


@pytest.mark.parametrize(
    ("zones", "amps", "secondary", "heater", "percent"),
    [(1, 0.839, 25.74, 25.16, 54), (2, 1.576, 24.19, 23.65, 95), (3, 2.230, 22.82, 22.30, 127), (4, 2.814, 21.59, 21.11, 152)]
    + [(6, 3.812, 19.50, 19.06, 186)],
)
def test_sag_is_that_of_the_worked_problem(zones, amps, secondary, heater, percent):
    """Volts, amperes and load of one to six zones on 40 VA are those of the divider worked by hand."""
    found = shown("sag", zones=zones)
    assert number(found, "from the transformer") == pytest.approx(amps, abs=0.01)
    assert number(found, "R to C, behind the fuse") == pytest.approx(secondary, abs=0.06)
    assert number(found, "across each heater") == pytest.approx(heater, abs=0.06)
    assert text(found, "load").endswith(f", {percent} %")


@pytest.mark.parametrize(("va", "emf", "ohms"), [("20 VA", 28.0, 4.6), ("75 VA", 27.0, 0.96), ("100 VA", 26.5, 0.55)])
def test_sag_of_other_sizes_is_a_divider(va, emf, ohms):
    """Three zones on any size are one divider of source and branches, each 30.69 ohms."""
    amps = emf / (ohms + 30.69 / 3)
    assert number(shown("sag", zones=3, va=va), "across each heater") == pytest.approx(amps / 3 * 30, abs=0.06)


@pytest.mark.parametrize(
    ("zones", "air", "expected"), [(6, 20, 365), (4, 5, 339), (5, 5, math.inf), (6, 5, math.inf), (1, 20, 89)]
)
def test_the_cold_and_the_sag_add_up(zones, air, expected):
    """What opens at 20 °C with six zones never opens at 5 °C with five."""
    found = seconds(text(shown("sag", zones=zones, air=air), "end switches make"))
    # Close to never, hundredths of a volt are seconds; the sum by hand leaves out a few thousandths of an ohm.
    assert found == expected if math.isinf(expected) else found == pytest.approx(expected, rel=0.02)


def test_a_fuse_that_opens_is_said():
    """Six zones on 100 VA draw more than a 3 A fuse holds, and its opening is told with its time."""
    found = shown("sag", zones=6, va="100 VA")
    assert number(found, "from the transformer") > 1.35 * 3
    assert text(found, "fuse of 3 A").startswith("opens after")
    assert "The fuse opens" in found.words
    assert text(shown("sag", zones=6, va="40 VA"), "fuse of 3 A") == "holds"


# From call to click. The table of the trade's reference values: typical, from memory; and the law in closed form.

TABLE = [
    (25.2, (122, 88, 55)),
    (24.0, (147, 103, 63)),
    (22.3, (212, 134, 77)),
    (21.0, (365, 174, 92)),
    (20.0, (math.inf, 229, 108)),
    (19.0, (math.inf, 384, 130)),
    (18.0, (math.inf, math.inf, 162)),
    (16.0, (math.inf, math.inf, 413)),
]


@pytest.mark.parametrize(
    ("volts", "air", "expected"), [(volts, air, time) for volts, row in TABLE for air, time in zip((5, 20, 40), row, strict=True)]
)
def test_warm_up_is_that_of_the_table(volts, air, expected):
    """Every cell of the reference table of volts and air."""
    assert seconds(text(shown("warm-up", volts=volts, air=air), "end switch makes")) == pytest.approx(expected, abs=1)


@pytest.mark.parametrize(("volts", "air"), list(itertools.product((14.0, 18.0, 21.7, 28.0), (-10, 0, 33, 60))))
def test_warm_up_is_the_first_order_law(volts, air):
    """Watts, where the wax would end, and the time to 90 °C by the logarithm."""
    found = shown("warm-up", volts=volts, air=air)
    watts = volts**2 / 30
    assert number(found, "heat in the heater") == pytest.approx(watts, abs=0.051)
    end = air + 6 * watts
    assert number(found, "the wax would end at") == pytest.approx(end, abs=0.51)
    time = 110 * math.log((end - air) / (end - 90)) if end > 90 else math.inf
    assert seconds(text(found, "end switch makes")) == pytest.approx(time, rel=1e-3, abs=0.6)
    assert ("Never" in found.words) == math.isinf(time)


def test_the_warm_up_curve_goes_through_the_reading():
    """The curve is drawn by the law, the mark by the run of the plant; they meet."""
    plot = shown("warm-up", volts=22.0, air=15).plot
    assert dict(plot.curves[0][1])[15.0] == pytest.approx(plot.here[1], abs=1e-6)


# The drop along a cable. Worked problem 4, and the same divider in general.


@pytest.mark.parametrize(
    ("gauge", "loop", "estimate", "lost", "load"),
    [
        ("16 AWG", 0.964, 0.77, 0.75, 23.25),
        ("18 AWG", 1.532, 1.23, 1.17, 22.83),
        ("20 AWG", 2.436, 1.95, 1.80, 22.20),
        ("22 AWG", 3.874, 3.10, 2.74, 21.26),
    ],
)
def test_the_cable_is_that_of_the_worked_problem(gauge, loop, estimate, lost, load):
    """Loop, estimate at a steady current, true drop and volts at the load, 120 ft one way."""
    found = shown("cable", gauge=gauge, feet=120, amps=0.8)
    assert number(found, "copper, out and back") == pytest.approx(loop, rel=0.005)
    assert number(found, "lost, if the current stayed") == pytest.approx(estimate, abs=0.011)
    assert number(found, "lost in the cable") == pytest.approx(lost, abs=0.011)
    assert number(found, "at the load") == pytest.approx(load, abs=0.011)


def test_twice_the_length_loses_less_than_twice_the_volts():
    """A longer cable leaves less current, so its drop grows more slowly than its length."""
    short, long = (number(shown("cable", feet=feet, amps=2.0), "lost in the cable") for feet in (100, 200))
    assert short < long < 2 * short


# Across a switch


@pytest.mark.parametrize(
    ("stat", "fuse", "across", "supply"),
    [("open: nobody calls", "in", 27.5, 27.5), ("closed: a call", "in", 0.04, 25.7), ("closed: a call", "blown", 0.0, 0.0)]
    + [("open: nobody calls", "blown", 0.0, 0.0)],
)
def test_a_switch_reads_as_the_reference_house(stat, fuse, across, supply):
    """Idle 27.5 V, called 0.04 V, and with a blown fuse nothing either way: the reference house of one zone."""
    found = shown("switch", stat=stat, fuse=fuse)
    assert number(found, "across the stat, R to W") == pytest.approx(across, abs=0.05)
    assert number(found, "behind the fuse, R to C") == pytest.approx(supply, abs=0.05)


def test_a_ghost_looks_like_a_closed_switch_until_the_meter_loads_it():
    """Open stat, broken heater: on the usual input W has ghost volts and the stat reads nothing; on low impedance W is dead."""
    ghost = shown("switch", heater="broken inside")
    loaded = shown("switch", heater="broken inside", meter="low-impedance volts")
    assert number(ghost, "at the stat, W to C") > 5
    assert number(loaded, "at the stat, W to C") < 0.5
    assert "it is open" in ghost.words
    assert "ghost" in ghost.words
    assert "the switch is open" in loaded.words


# Ohms and beeps


def test_a_broken_heater_beeps_in_its_circuit():
    """With the stat closed the way round through the winding beeps whatever the heater is; lifted, the truth comes out."""
    # 0.9 winding + 0.05 fuse + 0.64 legs + 0.05 stat, and 0.2 for the leads
    around = 0.9 + 0.05 + 0.64 + 0.05
    broken = shown("continuity", part="broken heater")
    assert number(broken, "ohms") == pytest.approx(around + 0.2, abs=0.1)
    assert text(broken, "beeper") == "beep"
    assert text(broken, "the part alone, lead lifted") == "OL"
    good = shown("continuity", part="good heater")
    assert number(good, "ohms") == pytest.approx(30 * around / (30 + around) + 0.2, abs=0.1)
    assert number(good, "the part alone, lead lifted") == pytest.approx(30.2, abs=0.05)


@pytest.mark.parametrize(("beeps_below", "heard"), [("20 ohms", "silent"), ("40 ohms", "beep"), ("150 ohms", "beep")])
def test_a_good_heater_beeps_or_not_by_the_meter(beeps_below, heard):
    """30.2 ohms are above one meter's threshold and below another's."""
    assert text(shown("continuity", lead="one lead lifted", beeper=beeps_below), "beeper") == heard


def test_an_open_end_switch_beeps_through_the_boiler():
    """In circuit the boiler's input stands beside an open end switch, about 121 ohms; a meter of 150 calls that closed."""
    found = shown("continuity", part="end switch, open", beeper="150 ohms")
    assert number(found, "ohms") == pytest.approx(121, abs=1.5)
    assert text(found, "beeper") == "beep"
    assert text(shown("continuity", part="end switch, open", lead="one lead lifted", beeper="150 ohms"), "beeper") == "silent"


def test_ohms_on_a_pair_that_the_boiler_feeds_are_no_number():
    """The boiler's own volts stand on an open end switch: the display gives no number and the words say why."""
    found = shown("continuity", part="end switch, open", supplies="transformer off, boiler on")
    assert text(found, "ohms") == "OL, unsteady"
    assert "carries voltage" in found.words


# Two transformers


@pytest.mark.parametrize(("turned", "expected"), [(0, 0.0), (1, 55.0), (2, 0.0), (3, 55.0)])
def test_phase_is_the_parity_of_what_was_turned(turned, expected):
    """Each exchange of leads or legs turns one transformer over; two of them undo each other. 2 x 27.5 V or nothing."""
    turns = {"primary": "exchanged", "secondary": "exchanged", "leg": "the other leg"}
    for some in itertools.combinations(turns, turned):
        found = shown("phase", **{name: turns[name] for name in some})
        assert number(found, "R of 1 to R of 2, volts") == pytest.approx(expected, abs=0.1)


def test_nothing_can_be_read_while_nothing_joins_the_circuits():
    """Commons apart: what stands between opposed Rs is a ghost of a few volts that low impedance takes away."""
    found = shown("phase", leg="the other leg", commons="apart")
    assert number(found, "R of 1 to R of 2, volts") < 10
    assert text(found, "R of 1 to R of 2, low impedance") in ("0 V", "1 mV")


# Every explorer


def settings(one):
    """Every choice, and both ends and the middle of every slider."""
    spans = []
    for each in one.inputs:
        if isinstance(each, Pick):
            spans.append(each.choices)
        else:
            middle = each.low + each.step * round((each.high - each.low) / each.step / 2)
            spans.append((each.low, middle, each.high))
    names = [each.name for each in one.inputs]
    return [dict(zip(names, values, strict=True)) for values in itertools.product(*spans)]


@pytest.mark.parametrize("name", EXPLORERS)
def test_every_setting_has_readings_words_and_a_chart(name):
    """Ends, middles and all choices: no setting fails, and each has readings with texts, a sentence, and points to draw."""
    one = explorer(name)
    for values in settings(one):
        found = one.shown(values)
        assert all(each.label and each.text for each in found.readings), values
        assert found.words.endswith("."), values
        assert found.drawn.endswith("."), values
        assert len({x for _, points in found.plot.curves for x, _ in points}) > 1, values


@pytest.mark.parametrize("name", EXPLORERS)
def test_a_chart_says_in_words_what_it_draws(name):
    """The drawing is one SVG with a name and its text alternative inside, and with no text beyond its edges."""
    root = ElementTree.fromstring(explorer_chart(name))
    assert root.tag == f"{SVG}svg"
    assert root.find(f"{SVG}title").text
    assert len(root.find(f"{SVG}desc").text) > 20
    width = float(root.get("viewBox").split()[2])
    for mark in root.iter(f"{SVG}text"):
        assert 0 <= float(mark.get("x")) <= width, mark.text


@pytest.mark.parametrize("name", EXPLORERS)
def test_defaults_can_be_set(name):
    """Every input stands at a value that it takes itself, and says it with its unit."""
    one = explorer(name)
    assert one.taken(one.defaults) == one.defaults
    assert all(each.text(each.default) for each in one.inputs)


def test_units_are_said_both_ways():
    """Feet with metres, Celsius with Fahrenheit."""
    by_name = {each.name: each for each in (*explorer("cable").inputs, *explorer("warm-up").inputs)}
    assert by_name["feet"].text(120) == "120 ft (36.6 m)"
    assert by_name["air"].text(-10) == "-10 °C (14 °F)"
    assert by_name["volts"].text(24) == "24.0 V"


@pytest.mark.parametrize(
    ("values", "said"),
    [
        (None, "give an object with"),
        ([], "give an object with"),
        ({}, "missing"),
        ({"volts": 24.0, "air": 20, "extra": 1}, "unknown"),
        ({"volts": "24", "air": 20}, "give a number from 14 to 28"),
        ({"volts": True, "air": 20}, "give a number"),
        ({"volts": math.nan, "air": 20}, "give a number"),
        ({"volts": math.inf, "air": 20}, "give a number"),
        ({"volts": 13.9, "air": 20}, "goes from 14 to 28"),
        ({"volts": 24.05, "air": 20}, "in steps of 0.1"),
        ({"volts": 24.0, "air": 20.5}, "in steps of 1"),
    ],
)
def test_bad_values_are_refused_in_a_sentence(values, said):
    """Whatever is no setting is refused, and the sentence shows the value or the choices."""
    with pytest.raises(JobError, match=re.escape(said)):
        explorer("warm-up").shown(values)


@pytest.mark.parametrize("name", [None, 3, "", "sags", ["sag"]])
def test_an_unknown_explorer_is_refused(name):
    """The refusal lists the explorers there are."""
    with pytest.raises(JobError, match="continuity"):
        explorer(name)


def test_a_choice_that_there_is_not_is_refused():
    """The refusal lists the choices."""
    with pytest.raises(JobError, match="75 VA"):
        shown("sag", va="60 VA")


def test_a_slider_takes_what_rounding_leaves():
    """Tenths added up in floating point still stand on a step."""
    slider = Slider("volts", "volts", "V", 14.0, 28.0, 0.1, 24.0)
    assert slider.taken(14.0 + 0.1 * 3) == 14.3


# The chart itself


def test_a_chart_keeps_to_its_scale():
    """A point twice as high is drawn twice as far above the base line; what is above the limit is not drawn."""
    svg = chart("t", "w", across="x", up="y", curves=[("c", [(0, 0), (1, 2), (2, 4), (3, 400)])], highest=10)
    line = next(group for group in ElementTree.fromstring(svg).iter(f"{SVG}g") if group.get("class") == "curve")[0]
    drawn = [tuple(map(float, pair.split(","))) for pair in re.findall(r"[\d.]+,[\d.]+", line.get("points") or line.get("d"))]
    assert len(drawn) == 3
    (x0, y0), (x1, y1), (x2, y2) = drawn
    assert x1 - x0 == pytest.approx(x2 - x1, abs=0.01)  # drawn to a thousandth of a pixel
    assert y0 - y2 == pytest.approx(2 * (y0 - y1), abs=0.01)


def test_a_chart_of_nothing_is_refused():
    """One place, or no height at all, is no chart."""
    with pytest.raises(ValueError, match="nothing to draw"):
        chart("t", "w", across="x", up="y", curves=[("c", [(1, 2)])])
    with pytest.raises(ValueError, match="nothing to draw"):
        chart("t", "w", across="x", up="y", curves=[("c", [(1, None), (2, None)])])
