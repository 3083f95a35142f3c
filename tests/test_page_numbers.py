"""The numbers that the pages print: computed, right by independent arithmetic, and never typed."""

import importlib
import math
import re
from pathlib import Path

import pytest

from solvers.chapters import heater_loop_readings, heater_loop_times

BOOK = Path(__file__).resolve().parent.parent / "book"
PAGES = sorted(BOOK.glob("*.md"))
ROLE = re.compile(r"\{reading\}`([^`]*)`")
FENCED = re.compile(
    r"^(?P<ticks>`{3,})\{?(?P<kind>[\w-]*)\}?(?P<rest>[^\n]*)\n(?P<body>.*?)^(?P=ticks)[ \t]*$",
    re.MULTILINE | re.DOTALL,
)
NUMBER = re.compile(r"\d+(?:\.\d+)?")
PROSE = ("admonition", "dropdown")  # fences whose body is text for a reader
SHOWN_OPTION = re.compile(r"^:(?:alt|caption):(.*)$", re.MULTILINE)
TYPED = re.compile(
    r"\d[\d.,]*[\s-]*(?:m?V|VA|volts?|m?A|amps?|amperes?|W|watts?|ohms?|\u2126|\u03a9|s|seconds?|\u00b0\s*[CF]|deg[CF]|percent|%|ft|feet|m|metres?)\b"
)
PLACE = re.compile(r"\b(?:stat|valve|zone|heater) \d+\b", re.IGNORECASE)  # "stat 1 W" is a screw and no power
NOMINAL = {
    "24-volt": "what such circuits are called",
    "24 volts": "the same, without an article",
    "120 V": "the line beside them, a hazard",
}


def _prose(text):
    """What a reader reads of a page's source: no roles, no code, no addresses of drawings; their captions stay."""

    def kept(fence):
        if fence["kind"] in PROSE:
            return _prose(f"{fence['rest']}\n{fence['body']}")
        return "\n".join(SHOWN_OPTION.findall(fence["body"])) if fence["kind"] == "drawing" else ""

    return re.sub(r"(\{[\w-]+\})?`[^`\n]*`", " ", FENCED.sub(kept, text))


def _typed(text):
    found = [" ".join(one.split()) for one in TYPED.findall(PLACE.sub(" ", _prose(text)))]
    return [one for one in found if one not in NOMINAL]


def _targets(page):
    """Every module and name that a page asks for a reading."""
    return [target.partition(":")[::2] for target in ROLE.findall(page.read_text(encoding="utf-8"))]


def _printed(name):
    module = heater_loop_times if name in heater_loop_times.__all__ else heater_loop_readings
    return getattr(module, name)()


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_no_reading_is_typed(page):
    """No page states volts, amperes, watts, ohms, seconds, temperatures or lengths in digits, but for nominal names."""
    assert [] == _typed(page.read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("It reads 25.1 V now.", ["25.1 V"]),
        ("about 27 volts", ["27 volts"]),
        ("0.87 A, 85 s and 28.4 ohms", ["0.87 A", "85 s", "28.4 ohms"]),
        ("at 20 \u00b0C (68 \u00b0F)", ["20 \u00b0C", "68 \u00b0F"]),
        ("```{dropdown} After 85 s\nIt drops 5.6 V.\n```", ["85 s", "5.6 V"]),
        ("````{admonition} Why\n:class: why\n```{dropdown} A\n3 W\n```\n````", ["3 W"]),
        ("```{drawing} solvers.pictures.ladder:x\n:caption: At 24.8 V\n```", ["24.8 V"]),
        ("| a | 3.9 W |", ["3.9 W"]),
        ("across stat 1 W and C", []),
        ("a 24-volt circuit beside 120 V", []),
        ("{reading}`solvers.chapters.heater_loop_readings:ghost` on line 3", []),
        ('```{drawing} solvers.pictures.ladder:x\n:alt: one zone\n{"volts": 12}\n```', []),
    ],
)
def test_a_typed_reading_is_found(text, found):
    """The search finds a typed reading wherever a reader would see it, and only there."""
    assert found == _typed(text)


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_every_reading_on_a_page_can_be_had(page):
    """Each reading that a page asks for is public in its module and gives a text."""
    for module_name, name in _targets(page):
        module = importlib.import_module(module_name)
        assert name in module.__all__, f"{module_name}:{name}"
        assert getattr(module, name)().strip(), f"{module_name}:{name}"


def test_no_reading_is_kept_for_nothing():
    """Every public name of a module that pages take readings from stands on a page."""
    used = {target for page in PAGES for target in _targets(page)}
    modules = sorted({module for module, _ in used})
    assert {heater_loop_readings.__name__, heater_loop_times.__name__} <= set(modules)
    assert [] == [
        (module, name) for module in modules for name in importlib.import_module(module).__all__ if (module, name) not in used
    ]


# The bungalow worked by hand: one loop in series, ohms from the fuse round to the transformer's C.
LEG = 35 * 6.385 / 1000 + 0.004  # 35 ft of 18 AWG and a splice
EMF, SOURCE, FUSE, STAT, HEATER, RETURN, TRUNK = 26.9, 2.2, 0.04, 0.04, 29.3, 0.02, 0.02
WINDING_DC, METER_LEADS = 0.8, 0.2
REST = SOURCE + FUSE + LEG + STAT + LEG + RETURN + TRUNK
AMPS = EMF / (REST + HEATER)
WATTS = AMPS**2 * HEATER
AMPS_BAD = EMF / (REST + HEATER + 8.0)
WATTS_BAD = AMPS_BAD**2 * HEATER
BACK = REST - SOURCE + WINDING_DC  # what an ohmmeter finds beside the heater
AIR, RESISTANCE, TAU, END = 18.0, 6.1, 104.0, 88.5  # degC, K/W, s, degC


def _to_click(watts, air):
    """First-order wax, from the air's temperature to the end of its stroke."""
    final = air + RESISTANCE * watts
    return f"{TAU * math.log((final - air) / (final - END)):.0f} s" if final > END else "never"


def _to_shut(air):
    """First-order wax from its steady state down to 30 K below the end of its stroke."""
    return f"{TAU * math.log(RESISTANCE * WATTS / (END - 30.0 - air)):.0f} s"


def _ghost():
    """The W wire floats: its capacitance to R, 80 pF a metre over 35 ft, against the meter's 10 megohms."""
    stray = 1 / (2j * math.pi * 60 * 80e-12 * 35 * 0.3048)
    return EMF * abs(10e6 / (10e6 + stray))


BY_HAND = {
    "heater_healthy": f"{AMPS * HEATER:.1f} V",
    "amps_healthy": f"{AMPS:.3f} A",
    "amps_by_nameplate": f"{24 / HEATER:.3f} A",
    "heater_watts": f"{WATTS:.1f} W",
    "fuse_out_idle": f"{EMF:.1f} V",
    "fuse_out_calling": f"{EMF - AMPS * (SOURCE + FUSE):.1f} V",
    "h_calling": f"{AMPS * (HEATER + RETURN + TRUNK):.1f} V",
    "stat_across_calling": f"{AMPS * STAT:.2f} V",
    "heater_open_heater": f"{EMF:.1f} V",
    "heater_open_return": "0 V",
    "s_open_return": f"{EMF:.1f} V",
    "amps_open_heater": "0 A",
    "joint_bad": f"{AMPS_BAD * 8.0:.1f} V",
    "joint_watts": f"{AMPS_BAD**2 * 8.0:.1f} W",
    "amps_bad_joint": f"{AMPS_BAD:.3f} A",
    "heater_bad_joint": f"{AMPS_BAD * HEATER:.1f} V",
    "fewer_volts": f"{100 * (1 - AMPS_BAD / AMPS):.0f} %",
    "fewer_watts": f"{100 * (1 - WATTS_BAD / WATTS):.0f} %",
    "in_place_good": f"{1 / (1 / HEATER + 1 / BACK) + METER_LEADS:.1f} ohms",
    "in_place_open": f"{BACK + METER_LEADS:.1f} ohms",
    "lifted_good": f"{HEATER + METER_LEADS:.1f} ohms",
    "lifted_open": "OL",
    "ghost": f"{_ghost():.1f} V",
    "cable_length": "35 ft (11 m)",
    "end_wax": "88.5 \u00b0C (191 \u00b0F)",
    "click_cold": _to_click(WATTS, 5.0),
    "click_indoors": _to_click(WATTS, AIR),
    "click_hot": _to_click(WATTS, 40.0),
    "click_bad_joint_cold": _to_click(WATTS_BAD, 5.0),
    "click_bad_joint_indoors": _to_click(WATTS_BAD, AIR),
    "click_bad_joint_hot": _to_click(WATTS_BAD, 40.0),
    "shut_after_indoors": _to_shut(AIR),
    "shut_after_hot": _to_shut(40.0),
}


@pytest.mark.parametrize("name", BY_HAND)
def test_readings_agree_with_ohms_law_and_the_first_order_law(name):
    """What the page prints is what one series loop and one exponential give by hand, within one of its last digit."""
    by_hand, printed = BY_HAND[name], _printed(name)
    assert NUMBER.sub("#", by_hand) == NUMBER.sub("#", printed)
    for mine, other in zip(NUMBER.findall(by_hand), NUMBER.findall(printed), strict=True):
        assert float(mine) == pytest.approx(float(other), abs=1.01 * 10.0 ** -len(other.partition(".")[2]))


def test_the_page_argues_from_readings_that_hold():
    """The comparisons that the page makes in words are true of the readings it prints."""

    def number(name):
        return float(_printed(name).split()[0])

    assert number("heater_open_heater") > number("heater_healthy")
    assert abs(number("amps_by_nameplate") - number("amps_healthy")) < 0.1 * number("amps_healthy")
    assert _printed("stat_across_idle") == _printed("stat_across_bad_joint_idle")
    assert number("joint_bad") > 0.5 > 0.1 > number("joint_good")
    assert abs(number("in_place_good") - number("in_place_open")) < 0.5
    assert number("ghost") > 20 > 0.5 > number("ghost_low_z")
    assert _printed("beep_open_stat").startswith("beep")
    assert _printed("beep_bad_joint").startswith("beep")
    assert _printed("heard_lost_stroke") == "nothing"
    assert number("click_warm_valve") < number("click_indoors") < 180
