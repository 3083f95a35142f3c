"""An installation written as JSON data comes back the same, and nothing else comes in."""

from __future__ import annotations

import json

import pytest

from solvers.chapters.shelf import ENDLESS, drawn
from solvers.plant.wiring import WiringError
from solvers.plant.written import data_of, installation_of


@pytest.mark.parametrize("chapter", list(ENDLESS))
@pytest.mark.parametrize("level", [1, 2, 3])
def test_every_drawing_comes_back(chapter, level):
    """Drawings of every chapter and level, and the houses with their faults, are the same after a round through JSON."""
    for seed in range(1, 6):
        job = drawn(chapter, f"practice/{seed}", level)
        for house in (job.design, job.actual):
            told = json.dumps(data_of(house), allow_nan=False)
            assert house == installation_of(json.loads(told))


DESIGN = data_of(drawn("heater-loops", "practice/1", 1).design)
PART = DESIGN["parts"][0]


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ({}, "of kind None"),
        ([], "no installation"),
        ("text", "no installation"),
        ({"kind": "os.system"}, "of kind 'os.system'"),
        ({"kind": ["Fuse"]}, "of kind"),
        ({**DESIGN, "colour": "red"}, r"has \['colour'\]"),
        ({**DESIGN, "parts": [{**PART, "kind": "Part "}]}, r"installation.parts\[0\] is of kind 'Part '"),
        ({**DESIGN, "parts": [PART, PART]}, "used twice"),
        ({**DESIGN, "parts": []}, "terminals are"),
        ({"kind": "Installation"}, "is no Installation"),
        ({"kind": "Fuse", "name": "fuse"}, "no installation"),
    ],
)
def test_anything_else_is_refused_with_its_place(data, words):
    """An unknown kind or field, or parts that cannot stand together, are named with where they stand."""
    with pytest.raises(WiringError, match=words):
        installation_of(data)
