"""Class 2 limits as NFPA 70 (2017) prints them in chapter 9, tables 11(A) and 11(B) with their notes.

Read at second hand in an unofficial copy; the notes also in pages on the 2005 edition. Figures only. Numbers that are
computed from a row are marked C and are no citation. Article numbers of later editions are known from memory only and are
no gate here. Rows that are rules without a number we compute (listing, separation, cable types, separate safety
equipment) are taught and not tested.
"""

from __future__ import annotations

import pytest
from published.printed import given

from solvers.plant import facts, sizing
from solvers.plant.parts import Transformer
from solvers.plant.sizing import Class2, class_2

SOURCE = "NFPA 70 (2017) table"


def ac(volts: float) -> Class2:
    return class_2(volts, inherently_limited=True)


def fused(volts: float) -> Class2:
    return class_2(volts, inherently_limited=False)


def dc(volts: float, *, limited: bool = True) -> Class2:
    return class_2(volts, inherently_limited=limited, direct=True)


ROWS = [
    *given(
        "V2",
        f"{SOURCE} 11(A), inherently limited",
        ("A at 20 V and below", "8.0", lambda: ac(20).fault_amps),
        ("A at 12 V", "8.0", lambda: ac(12).fault_amps),
        ("nameplate A at 12 V", "5.0", lambda: ac(12).nameplate_amps),
        ("nameplate VA at 12 V, 5.0 times the volts", "60", lambda: ac(12).nameplate_va, 1e-9),
        ("A over 20 to 30 V", "8.0", lambda: ac(24).fault_amps),
        ("A at 30 V", "8.0", lambda: ac(30).fault_amps),
        ("nameplate VA over 20 to 30 V", "100", lambda: ac(27.5).nameplate_va, 1e-9),
        ("A over 30 to 150 V", "0.005", lambda: ac(120).fault_amps),
        ("nameplate VA at 120 V, 0.005 times the volts", "0.6", lambda: ac(120).nameplate_va, 1e-9),
    ),
    *given(
        "V2",
        f"{SOURCE} 11(A), not inherently limited",
        ("VA at 18 V", "250", lambda: fused(18).fault_va, 1e-9),
        ("A at 20 V, 1000 over the volts", "50", lambda: fused(20).fault_amps, 1e-9),
        ("A of the overcurrent device at 18 V", "5.0", lambda: fused(18).fuse_amps),
        ("nameplate VA at 18 V, 5.0 times the volts", "90", lambda: fused(18).nameplate_va, 1e-9),
        ("nameplate A at 18 V", "5.0", lambda: fused(18).nameplate_amps),
        ("VA over 20 to 30 V", "250", lambda: fused(27).fault_va, 1e-9),
        ("nameplate VA over 20 to 30 V", "100", lambda: fused(27).nameplate_va, 1e-9),
        ("VA of a transformer up to 15 V, note 3", "350", lambda: fused(15).fault_va, 1e-9),
    ),
    *given(
        "V2",
        f"{SOURCE} 11(B), direct current",
        ("A over 20 to 30 V, inherently limited", "8.0", lambda: dc(24).fault_amps),
        ("A at 50 V, inherently limited, 150 over the volts", "3", lambda: dc(50).fault_amps, 1e-9),
        ("nameplate VA over 20 V", "100", lambda: dc(48).nameplate_va, 1e-9),
        ("nameplate A at 50 V, 100 over the volts", "2", lambda: dc(50).nameplate_amps, 1e-9),
        ("VA over 20 to 60 V, not inherently limited", "250", lambda: dc(60, limited=False).fault_va, 1e-9),
        ("A at 50 V, not inherently limited, 1000 over the volts", "20", lambda: dc(50, limited=False).fault_amps, 1e-9),
        ("A of the fuse at 50 V, not inherently limited, 100 over the volts", "2", lambda: dc(50, limited=False).fuse_amps, 1e-9),
    ),
    *given(
        "V2",
        f"{SOURCE} 11, note 2",
        ("V rms where wet contact is likely", "15", lambda: sizing.class_2_touch_volts(wet=True, sinusoidal=True), 1e-9),
        ("V peak of another wave, wet", "21.2", lambda: sizing.class_2_touch_volts(wet=True, sinusoidal=False)),
        ("V peak of another wave, dry", "42.4", lambda: sizing.class_2_touch_volts(wet=False, sinusoidal=False)),
    ),
    *given(
        "V2",
        "UL 5085-3 class 2 transformer, a test laboratory's listing page and secondary pages",
        (
            "V rms of the secondary under any load or none",
            "30",
            lambda: sizing.class_2_touch_volts(wet=False, sinusoidal=True),
            1e-9,
        ),
        ("VA of the largest size", "100", lambda: facts.TRANSFORMER_SIZES[-1], 1e-9),
    ),
    *given(
        "C",
        f"from {SOURCE} 11(A), not inherently limited",
        ("A of the fuse at 30 V", "3.333", lambda: sizing.fuse_ceiling(30)),
        ("A of the fuse at 27 V", "3.704", lambda: sizing.fuse_ceiling(27)),
        ("A of the fuse at 24 V", "4.167", lambda: sizing.fuse_ceiling(24)),
        ("A of Imax at 24 V", "41.67", lambda: fused(24).fault_amps),
    ),
    *given(
        "C",
        "from usual nameplates (common practice) at 24 V",
        ("A of 40 VA", "1.667", lambda: sizing.rated_amps(40)),
        ("A of 50 VA", "2.083", lambda: sizing.rated_amps(50)),
        ("A of 75 VA", "3.125", lambda: sizing.rated_amps(75)),
        ("A of 100 VA", "4.167", lambda: Transformer("t", va=100.0).rated_amps),
    ),
]


@pytest.mark.parametrize("row", ROWS, ids=str)
def test_the_limits_are_what_is_printed(row) -> None:
    """Each limit comes out to the digits printed."""
    assert row.expected == pytest.approx(row.solved(), rel=0, abs=row.tolerance)


def test_what_limits_itself_needs_no_fuse() -> None:
    """V2: table 11(A) asks for no overcurrent device where the source is inherently limited, and for one where it is not."""
    assert (None, None) == (ac(12).fuse_amps, ac(27.5).fuse_amps)
    assert None not in (fused(12).fuse_amps, fused(27.5).fuse_amps)


def test_the_ceiling_counts_the_most_volts_and_not_the_nominal_ones() -> None:
    """V2: note 1 takes Vmax regardless of load, so a real "24 V" unit's fuse stays below 100 over 24."""
    assert sizing.fuse_ceiling(Transformer("t").open_volts) < 100 / 24


@pytest.mark.parametrize("volts", [12.0, 24.0, 27.5, 30.0])
def test_an_inherently_limited_transformer_keeps_within_the_table(volts) -> None:
    """V2: a dead short on one, at rated line, draws no more than the table's amperes after a minute."""
    unit = Transformer("t", emf=volts, ohms=0.9, protection="inherent")
    assert volts / abs(complex(unit.ohms, unit.leakage_ohms)) <= ac(volts).fault_amps * (1 + 1e-9)


@pytest.mark.parametrize(
    ("volts", "limited", "direct"),
    [(0, True, False), (151, True, False), (31, False, False), (12, True, True), (61, False, True)],
)
def test_outside_the_checked_rows_there_is_no_answer(volts, limited, direct) -> None:
    """Where no figure has been read, none is given."""
    with pytest.raises(ValueError, match="the figures here run from"):
        class_2(volts, inherently_limited=limited, direct=direct)
