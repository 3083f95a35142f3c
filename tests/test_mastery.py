"""A learner's progress: when an objective counts, and that a file is taken strictly and never loses what was there."""

import json
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solvers.jobs.mastery import STATES, BadProgress, Progress, Showing, counts, merged, noted, parsed, state_of, written
from solvers.jobs.objectives import OBJECTIVES

DAY = 86_400.0
NOW = 1.7e9


def showing(seed="one", at=NOW, shown=True, gate=False, objective="3.1"):
    return Showing(at, objective, seed, shown, gate)


@pytest.mark.parametrize(
    ("showings", "state"),
    [
        ((), "not tried"),
        ((showing(shown=False),), "tried"),
        ((showing(gate=True),), "tried"),
        ((showing(),), "shown once"),
        ((showing(), showing(at=NOW + 2 * DAY)), "shown once"),
        ((showing(), showing("two", NOW + DAY - 1)), "shown twice"),
        ((showing(), showing("two", NOW + DAY)), "counts"),
        ((showing(), showing("two", NOW + DAY, gate=True)), "shown once"),
        ((showing(), showing("two", NOW + DAY, shown=False)), "shown once"),
        ((showing(), showing("two", NOW + 60), showing("three", NOW + DAY + 30)), "counts"),
        ((showing(), showing("two", NOW + DAY, objective="3.2")), "shown once"),
    ],
)
def test_an_objective_counts_when_it_was_shown_twice_apart(showings, state):
    """Twice, on different seeds, a day or more apart, no gate: nothing less, whatever the order of the showings."""
    for order in permutations(showings):
        progress = Progress(order)
        assert state_of(progress, "3.1") == state
        assert counts(progress, "3.1") == (state == "counts")


def test_states_run_from_nothing_to_counting():
    """Five states, and every objective of the course begins at the first."""
    assert STATES == ("not tried", "tried", "shown once", "shown twice", "counts")
    assert {state_of(Progress(), number) for number in OBJECTIVES} == {"not tried"}
    assert len(OBJECTIVES) == 35


def test_a_job_notes_each_of_its_objectives():
    """One marked job may show several; the same job shown again makes none of them more."""
    once = noted(Progress(), ["3.1", "5.2"], seed="heater-loops/1/x", at=NOW, shown=True)
    assert [state_of(once, number) for number in ("3.1", "5.2", "3.2")] == ["shown once", "shown once", "not tried"]
    again = noted(once, ["3.1", "5.2"], seed="heater-loops/1/x", at=NOW + 2 * DAY, shown=True)
    assert [state_of(again, number) for number in ("3.1", "5.2", "3.2")] == ["shown once", "shown once", "not tried"]


def test_many_tries_do_not_fill_the_file():
    """However often one job is worked again, the file holds its first and its last time."""
    progress = Progress()
    for number in range(50):
        progress = noted(progress, ["3.1"], seed="s", at=NOW + number, shown=True)
    assert [each.at for each in progress.showings] == [NOW, NOW + 49]


times = st.floats(0, 1e12)
showings = st.builds(Showing, times, st.sampled_from(sorted(OBJECTIVES)), st.sampled_from("abc"), st.booleans(), st.booleans())
kept = st.lists(showings, max_size=12).map(lambda each: merged(Progress(), Progress(tuple(each))))


@given(kept)
def test_what_is_written_is_read(progress):
    """Text and back gives the same."""
    assert parsed(written(progress)) == progress


@given(kept, kept, kept)
def test_files_are_taken_in_whatever_the_order(one, two, three):
    """Taking in files again, or in another order, gives the same progress."""
    assert merged(one, two) == merged(two, one)
    assert merged(merged(one, two), three) == merged(one, merged(two, three))
    assert merged(one, one) == one


@given(kept, kept)
def test_taking_in_a_file_never_takes_a_step_back(one, two):
    """No seed that showed an objective is lost; nothing goes back to not tried or tried."""
    for number in OBJECTIVES:
        shown = {each.seed for each in (*one.of(number), *two.of(number)) if each.shown and not each.gate}
        after = {each.seed for each in merged(one, two).of(number) if each.shown and not each.gate}
        assert after == shown


def test_an_objective_that_counts_counts_after_an_import():
    """The later showing on one seed may be what makes it count; taking in an earlier one does not undo that."""
    counting = Progress((showing("one", NOW), showing("two", NOW + DAY)))
    other = Progress((showing("two", NOW - 60),))
    assert counts(merged(counting, other), "3.1")


GOOD = {"at": 5.0, "objective": "3.1", "seed": "s", "shown": True, "gate": False}


def file(*showings, format="call-for-heat progress 1"):
    return json.dumps({"format": format, "showings": list(showings)})


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "damaged"),
        ("3", "one JSON object"),
        (b"\xff\xfe", "UTF-8"),
        (file(GOOD, format="1"), "format is '1'"),
        (json.dumps({"format": "call-for-heat progress 1"}), "missing ['showings']"),
        (json.dumps({"format": "call-for-heat progress 1", "showings": {}}), "showings must be a list"),
        (file(GOOD, {**GOOD, "objective": "9.9"}), "showings[1].objective is '9.9'"),
        (file({**GOOD, "objective": ["3.1"]}), "showings[0].objective"),
        (file({**GOOD, "shown": 1}), "showings[0].shown is 1"),
        (file({**GOOD, "gate": None}), "showings[0].gate is None"),
        (file({**GOOD, "at": "today"}), "showings[0].at is 'today'"),
        (file({**GOOD, "at": True}), "showings[0].at is True"),
        (file({**GOOD, "at": -1}), "showings[0].at is -1"),
        (file({**GOOD, "seed": "x" * 201}), "showings[0].seed"),
        (file({**GOOD, "more": 1}), "unknown ['more']"),
        (file("x"), "showings[0] must be an object"),
        (" " * 2_000_001, "larger than"),
    ],
)
def test_a_bad_file_is_refused_in_a_sentence(text, said):
    """Each refusal names the field and the value or what was expected."""
    with pytest.raises(BadProgress) as refused:
        parsed(text)
    assert said in str(refused.value)


@pytest.mark.parametrize("objective", ["9.9", "", None, 3])
def test_an_objective_that_there_is_not_is_refused(objective):
    """Neither noted nor asked for."""
    with pytest.raises(BadProgress):
        noted(Progress(), [objective], seed="s", at=NOW, shown=True)
    with pytest.raises(BadProgress):
        state_of(Progress(), objective)
