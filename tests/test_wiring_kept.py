"""What is kept beside a wiring: read strictly, written plainly, and unmoved once it stands."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solvers.jobs.wiring_kept import FORMAT, LARGEST, BadKept, Kept, answered, parsed, written

ASKED = ("leads 1", "open stat", "travel")
ANSWERS = st.one_of(
    st.none(),
    st.text(max_size=60),
    st.integers(-(10**6), 10**6),
    st.floats(allow_nan=False, allow_infinity=False),
    st.dictionaries(st.text(max_size=60), st.text(max_size=60), max_size=8),
)
KEPT = st.builds(
    Kept, st.text(max_size=200), st.integers(0, 10_000), st.booleans(), st.dictionaries(st.sampled_from(ASKED), ANSWERS)
)
GOOD = {"format": FORMAT, "seed": "a", "spent": 0, "stands": False, "answers": {}}


@given(kept=KEPT)
def test_what_is_written_is_read_again(kept):
    """Whatever a table may hold comes back from its file as it was."""
    assert kept == parsed(written(kept), ASKED)


@given(kept=KEPT, id=st.sampled_from(ASKED), answer=ANSWERS)
def test_answers_change_only_until_they_stand(kept, id, answer):
    """Before the wiring is run an answer takes the place of the one before; afterwards only what is so already is taken."""
    if not kept.stands:
        assert answered(kept, {id: answer}, ASKED).answers == {**kept.answers, id: answer}
    elif kept.answers.get(id) == answer:
        assert answered(kept, {id: answer}, ASKED).stands
    else:
        with pytest.raises(BadKept, match="stays as it is"):
            answered(kept, {id: answer}, ASKED)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"format": "call-for-heat wiring 1"}, "not in the format"),
        ({"more": 1}, r"unknown \['more'\]"),
        ({"seed": 1}, "kept.seed must be text"),
        ({"spent": 1.0}, "kept.spent is 1.0"),
        ({"stands": None}, "kept.stands is None"),
        ({"answers": {"leads 2": ""}}, "'leads 2', which is no question"),
        ({"answers": {"leads 1": {"lead a": 1}}}, r"\['lead a'\] must be text"),
        ({"answers": {"leads 1": {str(n): "" for n in range(9)}}}, "names 9 leads"),
        ({"answers": {"travel": True}}, "is True"),
        ({"answers": {"travel": "x" * 61}}, "at most 60 characters"),
    ],
)
def test_what_no_table_wrote_is_refused(change, words):
    """A field too many, of another kind or too long is refused with its path."""
    with pytest.raises(BadKept, match=words):
        parsed(json.dumps({**GOOD, **change}), ASKED)


@pytest.mark.parametrize("text", ["", "[]", "{", "{}", '{"answers": NaN}', "x" * (LARGEST + 1)])
def test_what_is_no_file_of_answers_is_refused(text):
    """A text that is damaged, too large or something else is refused and nothing else is raised."""
    with pytest.raises(BadKept):
        parsed(text, ASKED)
