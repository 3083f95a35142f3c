"""Rows that a story has in a shape of its own: the same cause and cure in a house that the catalogue's row does not fit."""

from __future__ import annotations

from dataclasses import replace

from ..faults.catalogue import CATALOGUE
from ..faults.changes import Landed, Undersized

__all__ = ["LONE_OPENER", "SIX_ON_ONE"]

LONE_OPENER = replace(CATALOGUE["HL-08"], needs=("opener stays",))
"""The opener of a house with one zone, where the boiler runs because this opener makes the end switch."""

SIX_ON_ONE = replace(
    CATALOGUE["MZ-07"],
    claim="All zones hang on the first transformer, which is of 40 VA; the second one feeds nothing.",
    changes=(
        Undersized("transformer", 40.0),
        Landed("R bus 2 feed", "a", "fuse.out"),
        Landed("C trunk 2", "b", "transformer.C"),
    ),
    noticed="Its mark says 40 VA. The second transformer hums along with nothing on it. With all on call the first one is hot.",
    repair="Bring the added zones to the transformer that was meant for them, and give each side one that has VA to spare.",
    needs=("separate commons", "high draw"),
    repairs=(
        (
            {"do": "switch", "part": "transformer", "on": False},
            {"do": "fit", "part": "transformer"},
            {"do": "move wire", "wire": "R bus 2 feed", "end": "a", "terminal": "fuse 2.out"},
            {"do": "move wire", "wire": "C trunk 2", "end": "b", "terminal": "transformer 2.C"},
            {"do": "switch", "part": "transformer", "on": True},
        ),
    ),
)
"""More zones than one transformer of any size could carry within class 2: the cure is the second one."""
