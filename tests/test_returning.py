"""Spaced return: what was missed comes back after growing gaps, and nothing that is kept is lost or misread."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solvers.jobs.returning import GAPS_S, BadReturning, Missed, Returning, answered, chosen, due, parsed, written

DAY = 86_400.0
NOW = 1.7e9


def missed(kind="a", now=NOW):
    return answered(Returning(), kind, False, now)


def test_the_gaps_are_those_that_the_page_states():
    """Ten minutes, then one, three and eight days."""
    assert GAPS_S == (600.0, DAY, 3 * DAY, 8 * DAY)


def test_a_miss_comes_back_after_the_first_gap():
    """Not a second earlier."""
    kept = missed()
    assert due(kept, NOW + 599) == ()
    assert due(kept, NOW + 600) == ("a",)


def test_right_answers_in_time_let_it_go():
    """Answered right each time it is due, a kind passes all the gaps, each longer than the last, and is gone."""
    kept, now = missed(), NOW
    for gap, following in zip(GAPS_S, (*GAPS_S[1:], None), strict=True):
        assert due(kept, now + gap - 1) == ()
        now += gap
        assert due(kept, now) == ("a",)
        kept = answered(kept, "a", True, now)
        assert kept == (Returning() if following is None else Returning({"a": kept.missed["a"]}))
        if following is not None:
            assert kept.missed["a"].due == now + following
    assert kept == Returning()


def test_a_right_answer_too_early_changes_nothing():
    """Right at once after a miss proves little: the kind stays where it is."""
    kept = missed()
    assert answered(kept, "a", True, NOW + 10) == kept


def test_a_second_miss_begins_again():
    """However far a kind has come, a miss takes it back to the first gap."""
    kept = Returning({"a": Missed(3, NOW)})
    assert answered(kept, "a", False, NOW) == Returning({"a": Missed(0, NOW + GAPS_S[0])})


def test_a_right_answer_to_what_was_never_missed_keeps_nothing():
    """Only misses return."""
    assert answered(Returning(), "a", True, NOW) == Returning()


def test_what_is_due_comes_first_and_what_waits_last():
    """The longest overdue leads; then kinds that were not missed; those whose time has not come fill up at the end."""
    kept = Returning({"late": Missed(0, NOW - 5), "later": Missed(1, NOW - 50), "waits": Missed(2, NOW + 50)})
    kinds = ["waits", "new", "late", "later", "other"]
    found = chosen(kept, kinds, 5, NOW, "seed")
    assert found[:2] == ("later", "late")
    assert set(found[2:4]) == {"new", "other"}
    assert found[4:] == ("waits",)
    assert chosen(kept, kinds, 3, NOW, "seed")[:2] == ("later", "late")


def test_chance_follows_from_the_seed_alone():
    """The same seed gives the same order, and some other seed gives another one."""
    kinds = [str(number) for number in range(8)]
    orders = {chosen(Returning(), kinds, 8, NOW, f"seed {number}") for number in range(6)}
    assert chosen(Returning(), kinds, 8, NOW, "seed 0") in orders
    assert len(orders) > 1


names = st.text(st.characters(codec="utf-8"), max_size=30)
keeping = st.builds(Returning, st.dictionaries(names, st.builds(Missed, st.integers(0, 3), st.floats(0, 1e12)), max_size=8))


@given(keeping)
def test_what_is_written_is_read(kept):
    """Text and back gives the same, kinds that the course may no longer have included."""
    assert parsed(written(kept)) == kept


@given(keeping, names, st.booleans(), st.floats(0, 1e11))
def test_an_answer_touches_its_own_kind_only(kept, kind, right, now):
    """Every other kind stays as it was, and the kept value that was handed in is not changed."""
    before = dict(kept.missed)
    after = answered(kept, kind, right, now)
    assert dict(kept.missed) == before
    assert {name: one for name, one in after.missed.items() if name != kind} == {
        name: one for name, one in before.items() if name != kind
    }


GOOD = {"format": "call-for-heat returning 1", "missed": {"a": {"box": 0, "due": 5.0}}}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "damaged"),
        ("[]", "one JSON object"),
        ("{", "damaged"),
        (b"\xff", "UTF-8"),
        (json.dumps({**GOOD, "format": "call-for-heat returning 2"}), "format"),
        (json.dumps({"missed": {}}), "format"),
        (json.dumps({**GOOD, "more": 1}), "more"),
        (json.dumps({**GOOD, "missed": []}), "missed must be an object"),
        (json.dumps({**GOOD, "missed": {"a": {"box": 4, "due": 1}}}), "box is 4"),
        (json.dumps({**GOOD, "missed": {"a": {"box": True, "due": 1}}}), "box is True"),
        (json.dumps({**GOOD, "missed": {"a": {"box": 0, "due": -1}}}), "due is -1"),
        (json.dumps({**GOOD, "missed": {"a": {"box": 0, "due": "soon"}}}), "due is 'soon'"),
        ('{"format": "call-for-heat returning 1", "missed": {"a": {"box": 0, "due": NaN}}}', "no number"),
        ('{"format": "call-for-heat returning 1", "missed": {"a": {"box": 0, "due": 1e999}}}', "due is inf"),
        (json.dumps({**GOOD, "missed": {"a": {"box": 0}}}), "missing ['due']"),
        (json.dumps({**GOOD, "missed": {"a" * 201: {"box": 0, "due": 1}}}), "at most 200 characters"),
        (" " * 200_001, "larger than"),
    ],
)
def test_what_cannot_be_read_is_refused_in_a_sentence(text, said):
    """Each refusal names the field and what was expected; none is taken for something else."""
    with pytest.raises(BadReturning) as refused:
        parsed(text)
    assert said in str(refused.value)
