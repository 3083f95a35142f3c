"""Rows kept as what they differ in read back number by number, and codes hold a reading to the display's digit."""

from __future__ import annotations

import json
from array import array

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solvers.circuit import displayed_millivolts, displayed_ohms, displayed_volts
from solvers.circuit.codes import NO_CODE, SPAN, amps_of, ohms_of, volts_of
from solvers.circuit.tables import ohms_codes, volts_codes
from solvers.jobs.job import JobError
from solvers.jobs.rows import packed, squeezed, unpacked, unsqueezed

ROWS = st.integers(0, 6).flatmap(
    lambda width: st.lists(st.lists(st.integers(0, 65_535), min_size=width, max_size=width), min_size=1, max_size=80)
)


def _unchecked(data, path):
    """No check of the fields."""


@given(ROWS)
@settings(deadline=None)
def test_rows_come_back(rows):
    """Whatever the rows hold, each number of each row comes back through JSON."""
    found = unpacked(json.loads(json.dumps(packed([array("H", row) for row in rows]))), "rows", 10_000, _unchecked)
    assert len(rows) == len(found)
    assert rows == [[found.at(number, place) for place in range(found.width)] for number in range(len(rows))]


def test_rows_that_are_alike_take_little():
    """A thousand rows that differ in one number each take less than a byte a number."""
    rows = [array("H", [number if place == number % 90 else 7 * place for place in range(100)]) for number in range(1000)]
    assert len(json.dumps(packed(rows))) < 100 * 1000 / 4


def test_a_place_outside_a_row_is_refused():
    """A row ends where it ends, however many follow it."""
    found = unpacked(packed([array("H", [1, 2]), array("H", [3, 4])]), "rows", 100, _unchecked)
    for place in (-1, 2):
        with pytest.raises(IndexError):
            found.at(0, place)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"width": -1}, "width is -1"),
        ({"width": True}, "width is True"),
        ({"width": 60}, "holds 120 numbers"),
        ({"after": [-1, 1]}, "rows.after"),
        ({"after": [-1, True]}, "rows.after"),
        ({"low": 5}, "rows.low must be text"),
        ({"low": "~"}, "damaged"),
        ({"high": squeezed(b"\0" * 3)}, "another size"),
        ({"high": squeezed(b"\0" * 10_000_000)}, "more than"),
    ],
)
def test_damaged_rows_are_refused(changes, words):
    """What does not fit is told in a sentence with its field, before more is unpacked than may be."""
    data = packed([array("H", [1, 2]), array("H", [1, 3])])
    with pytest.raises(JobError, match=words):
        unpacked({**data, **changes}, "rows", 100, _unchecked)


def test_no_more_is_unpacked_than_asked_for():
    """A text that would unpack to very much is refused at the limit."""
    assert unsqueezed(squeezed(b"abc"), "text", 3) == b"abc"
    with pytest.raises(JobError, match="more than 2 bytes"):
        unsqueezed(squeezed(b"abc"), "text", 2)


@given(st.floats(1e-6, 590.0))
@settings(deadline=None)
def test_volts_keep_the_digits_of_the_display(volts):
    """A code shows what the display shows of the volts it was made of, to one digit, in volts and in millivolts."""
    (code,) = volts_codes(np.array([volts])).tolist()
    for look in (displayed_volts, displayed_millivolts):
        true, told = look(volts), look(volts_of(code))
        assert true.value == told.value or abs(true.value - told.value) <= 1.01 * true.step


@given(st.floats(1e-3, 1e10))
@settings(deadline=None)
def test_ohms_keep_the_digits_of_the_display(ohms):
    """The same for ohms; what is beyond the display is OL."""
    (code,) = ohms_codes(np.array([ohms])).tolist()
    true, told = displayed_ohms(ohms), displayed_ohms(ohms_of(code))
    assert true.value == told.value or abs(true.value - told.value) <= 1.01 * true.step


def test_codes_run_on_from_range_to_range():
    """Codes rise with the reading, ranges follow one another without a gap, and none is the code of nothing."""
    values = [volts_of(code) for code in range(1, 4 * SPAN) if code % SPAN >= SPAN // 10 or code < SPAN]
    assert values == sorted(values)
    assert ohms_of(NO_CODE) == float("inf")
    assert amps_of(1234) == pytest.approx(1.234)
