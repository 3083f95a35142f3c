"""Sets of questions to hand out and the sheets that come back: nothing of an answer goes out, nothing odd comes in."""

import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solvers.chapters.quiz import KINDS, asked
from solvers.jobs.job import JobError
from solvers.jobs.question_set import (
    OUT_OF,
    BadQuestions,
    QuestionSet,
    QuestionSheet,
    asked_of,
    marked,
    opened,
    sheet_parsed,
    sheet_written,
    taken,
    written,
)

QUESTIONS = tuple(asked(chapter, kind, "set/1", 1) for chapter in KINDS for kind in KINDS[chapter])


def questions(count=8):
    """A set as it is handed out."""
    return QuestionSet("anna", "03-q/anna", "heater-loops", 1, "Questions", tuple(map(asked_of, QUESTIONS[:count])))


def right(question):
    """Its answer as a sheet holds it."""
    return list(question.expected) if isinstance(question.expected, tuple) else question.expected


def test_a_set_is_read_as_it_was_written():
    """Every kind of question of the course survives the way through a file."""
    for at in range(0, len(QUESTIONS), 8):
        one = replace(questions(), questions=tuple(map(asked_of, QUESTIONS[at : at + 8])))
        assert one == opened(written(one).encode())


@pytest.mark.parametrize("question", QUESTIONS, ids=lambda one: f"{one.chapter} {one.kind}")
def test_nothing_of_an_answer_goes_out(question):
    """A file holds neither the working nor the hints nor the traps, and of a number nothing that is not in the question."""
    text = written(replace(questions(), questions=(asked_of(question),)))
    body = json.loads(text)["questions"][0]
    assert {"kind", "form", "words", "unit", "choices", "given"} == set(body)
    shown = json.dumps([question.words, question.given, question.choices])
    for secret in (question.why, question.hint, *question.traps.values()):
        assert secret in shown or json.dumps(secret)[1:-1] not in text
    if question.form == "number":
        assert repr(question.expected) not in text.replace(shown, "") or repr(question.expected) in shown


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda body: body.update(format="x"), "format is 'x'"),
        (lambda body: body.update(expected=3), "unknown \\['expected'\\]"),
        (lambda body: body.pop("title"), "missing \\['title'\\]"),
        (lambda body: body.update(level=True), "level must be a whole number"),
        (lambda body: body.update(questions=[]), "questions is empty"),
        (lambda body: body["questions"][0].update(form="essay"), "questions\\[0\\].form is 'essay'; there are"),
        (lambda body: body["questions"][0].update(choices=["a"]), "questions\\[0\\].choices has 1"),
        (lambda body: body["questions"][1].update(given=[["a"]]), "questions\\[1\\].given\\[0\\] must be a name and a value"),
        (lambda body: body["questions"][0].update(why="since"), "questions\\[0\\] takes .*unknown \\['why'\\]"),
    ],
)
def test_a_set_that_is_not_as_it_must_be_is_refused_with_the_place(change, words):
    """The message names the field that is wrong and what it may be."""
    body = json.loads(written(questions()))
    change(body)
    with pytest.raises(BadQuestions, match=words):
        opened(json.dumps(body))


@pytest.mark.parametrize("data", [b"", b"\xff\xfe", b"[]", b"{", b"null", b'{"a": NaN}', b"[" * 100_000, b" " * 500_000])
@pytest.mark.parametrize("reader", [opened, sheet_parsed])
def test_what_is_no_file_of_ours_is_refused(data, reader):
    """Empty, cut short, in a wrong encoding, nested without end or huge: one error, never another."""
    with pytest.raises(BadQuestions):
        reader(data)


ANSWER = st.one_of(
    st.floats(-1e6, 1e6, allow_nan=False),
    st.integers(-1000, 1000),
    st.text(max_size=30),
    st.lists(st.text(max_size=9), max_size=5),
)


@settings(deadline=None)
@given(st.dictionaries(st.integers(1, 40), ANSWER, max_size=40), st.text(max_size=50))
def test_a_sheet_is_read_as_it_was_written(answers, explanation):
    """Whatever can be answered survives the way through a file."""
    sheet = QuestionSheet("anna", "03-q/anna", answers, 12.5, explanation)
    assert sheet == sheet_parsed(sheet_written(sheet))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda body: body.update(points=90), "unknown \\['points'\\]"),
        (lambda body: body.update(format="call-for-heat sheet 2"), "this program reads"),
        (lambda body: body.update(answers=[1]), "answers must be an object"),
        (lambda body: body["answers"].update({"0": 1}), "answers holds '0'"),
        (lambda body: body["answers"].update({"41": 1}), "answers holds '41'"),
        (lambda body: body["answers"].update({"1": True}), "answers\\['1'\\] must be a number"),
        (lambda body: body["answers"].update({"1": {}}), "answers\\['1'\\] must be a number"),
        (lambda body: body["answers"].update({"2": [1]}), "answers\\['2'\\]\\[0\\] must be text"),
        (lambda body: body.update(thinking_s="long"), "thinking_s must be a number"),
        (lambda body: body.update(explanation="x" * 4001), "explanation must be text of at most 4000"),
    ],
)
def test_a_sheet_that_is_not_as_it_must_be_is_refused_with_the_place(change, words):
    """The message names the field that is wrong and what it may be."""
    body = json.loads(sheet_written(QuestionSheet("anna", "03-q/anna", {1: 2.0})))
    change(body)
    with pytest.raises(BadQuestions, match=words):
        sheet_parsed(json.dumps(body))


def test_right_answers_have_full_points_and_none_has_none():
    """The whole course answered right has all points, unanswered it has none, and each question has its own sentence."""
    answers = {number: right(question) for number, question in enumerate(QUESTIONS, 1)}
    line = marked(QUESTIONS, answers)
    assert (OUT_OF, len(QUESTIONS)) == (line.points, len(line.reasons))
    assert all(reason.endswith(": right.") for reason in line.reasons)
    nothing = marked(QUESTIONS, {})
    assert 0 == nothing.points
    assert all(reason.endswith(": no answer.") for reason in nothing.reasons)


def test_points_go_with_the_share_of_right_answers():
    """Three of four right have three quarters of the points, and the reasons say which is not."""
    four = QUESTIONS[:4]
    answers = {number: right(question) for number, question in enumerate(four, 1)}
    answers[2] = 1e9 if four[1].form == "number" else "nonsense"
    line = marked(four, answers)
    assert 0.75 * OUT_OF == line.points
    assert [True, False, True, True] == [reason.endswith(": right.") for reason in line.reasons]


@settings(deadline=None)
@given(st.dictionaries(st.integers(1, 8), ANSWER, max_size=8))
def test_no_answer_stops_the_marking_or_learns_a_value(answers):
    """Whatever stands in a sheet is marked within 0 and the most, and no reason holds the working of a question."""
    line = marked(QUESTIONS[:8], answers)
    assert 0 <= line.points <= OUT_OF
    assert not [reason for reason in line.reasons for question in QUESTIONS[:8] if question.why in reason]


def test_an_answer_is_taken_in_its_question_s_form_only():
    """The screen learns at once what is no answer, and nothing of right or wrong."""
    for question in QUESTIONS:
        answer = right(question)
        assert answer == taken(asked_of(question), answer)
        with pytest.raises(JobError):
            taken(asked_of(question), {"odd": 1})
