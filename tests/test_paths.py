"""Variables that follow one another: crossings and cascades against forty digits and against a fine scan."""

import math

import mpmath
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solvers.circuit import Approach, Path, added, following

TAUS = st.floats(1.0, 5000.0)
PATHS = st.builds(Path, st.floats(-5, 5), st.lists(st.tuples(st.floats(-8, 8), TAUS), min_size=1, max_size=4).map(tuple))


@given(PATHS, st.floats(-4, 4))
def test_the_first_crossing_is_found(path, level):
    """No sign changes before the time that is given, and at that time the path is on the level."""
    found = path.time_to(0.0, level)
    start = path.at(0.0, 0.0) - level
    end = min(found, 60_000.0) - 1e-6
    for step in range(400):
        t = end * (step / 400) ** 3
        if t > 0 and abs(start) > 1e-9:
            assert start * (path.at(0.0, t) - level) > -1e-9
    if math.isfinite(found):
        slope = sum(abs(amplitude) / tau for amplitude, tau in path.terms)
        assert path.at(0.0, found) == pytest.approx(level, abs=1e-9 * slope + 1e-12)


@given(PATHS, st.floats(-4, 4), st.floats(0.1, 10_000))
def test_a_quick_no_is_never_wrong(path, level, within):
    """Asked only about the next so many seconds, a path gives the same crossing, or inf when it comes later than that."""
    whole, quick = path.time_to(0.0, level), path.time_to(0.0, level, within)
    assert quick == whole or (quick == math.inf and whole > within * (1 - 1e-9))


@pytest.mark.parametrize("tau", [50.0, 200.0, 200.0 * (1 + 1e-9), 3600.0])
def test_a_cascade_is_the_integral(tau):
    """What follows a sum of exponentials obeys its own equation, also where both have the same time constant."""
    water = added((Approach(110.0, 240.0).path(45.0), Path(2.0, ((-3.0, 200.0),))))
    start, gain, base = 18.0, 0.7, -4.0
    room = following(water, start=start, tau=tau, gain=gain, base=base)
    assert start == pytest.approx(room.at(0.0, 0.0), abs=1e-8)
    with mpmath.workdps(30):
        for t in (1.0, 60.0, 900.0):
            driven = mpmath.quad(lambda u, t=t: (base + gain * water.at(0.0, float(u))) * mpmath.exp((u - t) / tau) / tau, [0, t])
            exact = start * mpmath.exp(-t / tau) + driven
            assert float(exact) == pytest.approx(room.at(0.0, t), abs=2e-4 if tau == pytest.approx(200.0) else 1e-8)


def test_paths_add_term_by_term():
    """The sum of two paths is their sum at every moment."""
    one, other = Path(1.0, ((2.0, 10.0),)), Path(-3.0, ((4.0, 70.0), (-1.0, 5.0)))
    for t in (0.0, 3.0, 100.0):
        assert one.at(0.0, t) + other.at(0.0, t) == pytest.approx(added((one, other)).at(0.0, t))


def test_a_path_on_its_level_never_leaves_is_no_crossing():
    """A constant has no crossing, and a path that only nears its level has none."""
    assert math.inf == Path(3.0).time_to(0.0, 3.0)
    assert math.inf == Path(3.0, ((-1.0, 10.0),)).time_to(0.0, 3.0)
