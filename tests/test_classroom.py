"""The classroom: ids, files, what may not be trusted, and points and reasons that a gradebook can hold."""

import html
import json
import os
import re
from pathlib import Path
from types import SimpleNamespace

import nbformat
import pytest
from courses import KEYS, LAB, made, sheet_of
from hostile_words import BAD_SHEETS, NASTY, SCRIPT, Tags
from hypothesis import given
from nbconvert.filters import markdown2html
from players import lucky

from solvers.classroom import BadLearner, learner_id, scoring, seed_of
from solvers.classroom import handed_in as cell
from solvers.classroom.errors import Refused
from solvers.classroom.feedback import explanation_cell, mark_page
from solvers.classroom.files import contents, saved
from solvers.classroom.labs import criteria_of
from solvers.classroom.marked_notebooks import filled
from solvers.classroom.scoring import Result, scored
from solvers.classroom.submissions import MOST_ACTS, submission
from solvers.classroom.words import escaped, plain
from solvers.jobs.marks import MarkLine


@pytest.fixture(scope="module")
def released(tmp_path_factory):
    """A course with the lab generated and nothing handed in."""
    return made(tmp_path_factory.mktemp("released"))


# ids and seeds


@pytest.mark.parametrize(("given_id", "expected"), [("anna", "anna"), (" Anna.K ", "anna.k"), ("07_b-2", "07_b-2")])
def test_an_id_is_written_one_way(given_id, expected):
    """Spaces around an id and capitals do not make another learner."""
    assert expected == learner_id(given_id)
    assert f"{LAB}/{expected}" == seed_of(LAB, given_id)


@pytest.mark.parametrize("bad", ["", " ", "..", ".x", "-x", "a/b", "a\\b", "a b", "a\0", "jörg", "a" * 65, None, 7, "<b>"])
def test_what_is_no_id_is_refused_with_the_choices(bad):
    """A text that could leave its folder or break a page is no id, and the message shows it and what is allowed."""
    with pytest.raises(BadLearner, match=r"a-z 0-9") as caught:
        learner_id(bad)
    assert str(caught.value).isascii()


@given(NASTY)
def test_an_id_is_always_safe_in_a_path(text):
    """Whatever is accepted is one plain folder name, and stays what it is when it is read again."""
    try:
        found = learner_id(text)
    except BadLearner:
        return
    assert re.fullmatch(r"[a-z0-9][a-z0-9._-]*", found)
    assert found == learner_id(found)


# files


def test_a_write_that_fails_leaves_the_old_file(tmp_path, monkeypatch):
    """When the disk gives up before the end, the old content stands and no temporary file stays behind."""
    path = tmp_path / "sheet.json"
    saved(path, b"old")

    def full(_):
        raise OSError("no space left")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="no space"):
        saved(path, b"new")
    assert [path] == list(tmp_path.iterdir())
    assert b"old" == path.read_bytes()


def test_a_file_is_whole_before_it_has_its_name(tmp_path, monkeypatch):
    """The new content is on the disk under another name, and synced, before it takes the place of the old."""
    path, seen = tmp_path / "sheet.json", []
    replace, fsync = os.replace, os.fsync
    monkeypatch.setattr(os, "fsync", lambda handle: (seen.append("synced"), fsync(handle)))
    monkeypatch.setattr(os, "replace", lambda one, two: (seen.append((Path(one).read_bytes(), two)), replace(one, two)))
    saved(path, b"new")
    assert ["synced", (b"new", path), "synced"] == seen


def test_only_plain_files_of_a_fair_size_are_read(tmp_path):
    """A link, a pipe, a folder and a file that is too large are refused, and none of them blocks."""
    plain_file, link, pipe = tmp_path / "a", tmp_path / "b", tmp_path / "c"
    plain_file.write_bytes(b"12345")
    link.symlink_to(plain_file)
    os.mkfifo(pipe)
    assert b"12345" == contents(plain_file, 5)
    for path, why in ((link, "link"), (pipe, "regular"), (tmp_path, "regular"), (plain_file, "5 bytes")):
        with pytest.raises(Refused, match=why):
            contents(path, 4)


# words


@given(NASTY)
def test_words_of_others_stay_words_in_markdown(text):
    """Rendered as the feedback renders it, a learner's text adds no tag, and is shown as it was written."""
    shown = explanation_cell(_result(explanation=(("At the bench", text),)))
    page = Tags(markdown2html(shown))
    assert {("p",), ("p", "class"), ("strong",), ("pre", "style"), ("em",)} >= page.tags
    assert _visible(text) in page.text


@given(NASTY)
def test_words_of_others_stay_words_in_a_page(text):
    """A reason that quotes a learner adds no tag to its page."""
    page = Tags(mark_page(MarkLine("verdict", 0.0, 20, (text,)), 0.0, 20.0))
    assert {("div", "class", "style"), ("p",), ("b",), ("ul",), ("li",)} == page.tags
    assert plain(text) in page.text


@given(NASTY)
def test_words_of_others_cannot_steer_a_terminal(text):
    """One line, no control character, nothing that cannot be written as UTF-8."""
    line = plain(text)
    assert "\n" not in line
    assert "\x1b" not in line
    line.encode("utf-8")
    escaped(text).encode("utf-8")


# what was handed in


@pytest.mark.parametrize("kind", BAD_SHEETS)
def test_a_sheet_that_cannot_be_read_is_a_sentence(tmp_path, kind):
    """Each way in which a sheet can be broken gives one sentence and no exception."""
    data, words = BAD_SHEETS[kind]
    folder = tmp_path / "kim" / LAB
    folder.mkdir(parents=True)
    (folder / f"{LAB}.sheet.json").write_bytes(data)
    found = submission(folder, KEYS["job"])
    assert found.sheet is None
    assert words in f"{found.problem[:1].lower()}{found.problem[1:]}"
    assert "\n" not in found.problem
    assert found.problem.endswith(".")


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("learner", "ben", "was made by 'ben' and handed in as 'anna'"),
        ("learner", "", "was made by ''"),
        ("learner", SCRIPT, 'was made by "<script>'),
        ("learner", "\ud800", "was made by"),
        ("seed", f"{LAB}/ben", f"he sheet is of lab '{LAB}/ben'; this learner's is '{LAB}/anna'"),
        ("level", 2, "of heater-loops, level 2; this lab is of heater-loops, level 1"),
        ("chapter", "end-switches", "of end-switches, level 1"),
    ],
)
def test_a_sheet_of_somebody_or_something_else_is_a_sentence(tmp_path, field, value, words):
    """Another learner's sheet, a nameless one and one of another job are told apart from this learner's own."""
    body = json.loads(sheet_of(lucky, "anna"))
    (body if field == "learner" else body["job"])[field] = value
    folder = tmp_path / "anna" / LAB
    folder.mkdir(parents=True)
    (folder / f"{LAB}.sheet.json").write_text(json.dumps(body))
    result = _scored(folder)
    assert words in result.problem
    assert (0, True) == (result.points, result.review)
    result.problem.encode("utf-8")


def test_a_log_without_end_is_left_to_a_person(tmp_path):
    """A sheet that would take minutes to go through is not marked by machine."""
    body = json.loads(sheet_of(lucky, "anna"))
    body["log"] = body["log"] * (MOST_ACTS + 1)
    folder = tmp_path / "anna" / LAB
    folder.mkdir(parents=True)
    (folder / f"{LAB}.sheet.json").write_text(json.dumps(body))
    result = _scored(folder)
    assert f"more than {MOST_ACTS}" in result.problem
    assert result.review


def test_a_capital_in_the_folders_name_is_no_stranger(tmp_path):
    """A gradebook that writes ids with capitals gets the marks of the same learner."""
    folder = tmp_path / "Anna" / LAB
    folder.mkdir(parents=True)
    (folder / f"{LAB}.sheet.json").write_text(sheet_of(lucky, "anna"))
    result = _scored(folder)
    assert ("Anna", "") == (result.learner, result.problem)
    assert result.points > 0


@pytest.mark.parametrize("points", [float("nan"), float("inf"), -1.0, 21.0])
def test_points_that_a_gradebook_would_misread_are_never_given(tmp_path, monkeypatch, points):
    """Where marking went wrong the learner has 0 and a person is asked; nothing turns into full marks."""
    lines = tuple(MarkLine(one.name, points, one.out_of, ()) for one in criteria_of("job"))
    marks = SimpleNamespace(lines=lines, flags=(), points=sum(line.points for line in lines), objectives=(), feedback=())
    monkeypatch.setattr(scoring, "mark", lambda job, sheet, **more: marks)
    result = _scored(_handed_in_by_anna(tmp_path))
    assert (0, True) == (result.points, result.review)
    assert "needs a person" in result.problem


def test_an_error_while_marking_is_one_learners_affair(tmp_path, monkeypatch):
    """A sheet that breaks the marking scores 0 with a reason, and the next is marked."""

    def broken(job, sheet, **more):
        raise ZeroDivisionError("no zones")

    monkeypatch.setattr(scoring, "mark", broken)
    result = _scored(_handed_in_by_anna(tmp_path))
    assert "ZeroDivisionError" in result.problem
    assert {0.0} == {line.points for line in result.lines}


# cells


def test_a_lab_cell_says_only_whether_a_sheet_is_saved(tmp_path, monkeypatch, capsys):
    """A learner who runs a grade cell hears of the sheet, never of points, and the cell has no value."""
    shown = []
    monkeypatch.setattr("IPython.display.display", lambda data, raw: shown.append(data["text/plain"]))
    assert cell(LAB, folder=tmp_path) is None
    (tmp_path / f"{LAB}.sheet.json").write_text(sheet_of(lucky, "anna"))
    assert cell(LAB, folder=tmp_path) is None
    assert ("", "") == capsys.readouterr()
    assert ["No sheet is saved yet", "Your sheet is saved"] == [words.partition(".")[0] for words in shown]
    assert not [words for words in shown if re.search(r"\d", words)]


def test_a_lab_cell_never_pays_by_itself(monkeypatch):
    """Under stock grading without this course's settings the cell fails, since silence would be full marks."""
    monkeypatch.setenv("NBGRADER_EXECUTION", "autograde")
    with pytest.raises(RuntimeError, match="nbgrader_config"):
        cell(LAB)


def test_the_lab_holds_its_cells_and_no_answer(released):
    """Six machine cells with their points, one written answer, every other cell locked; ids are unique."""
    lab = nbformat.read(released / "release" / LAB / f"{LAB}.ipynb", as_version=4)
    marks = [one.metadata.nbgrader for one in lab.cells]
    points = {one["grade_id"]: one["points"] for one in marks if one["grade"]}
    assert {one.grade_id: one.out_of for one in criteria_of("job")} == points
    assert ["explanation"] == [one["grade_id"] for one in marks if one["solution"]]
    assert len(marks) == len({one["grade_id"] for one in marks})
    assert [one["grade_id"] for one in marks if not one["locked"]] == ["explanation"]
    assert "HL-" not in json.dumps(lab)


# marks in a notebook


def test_points_follow_a_cells_own_weight(released):
    """An instructor who makes a cell worth half as much gets half the points, never more than the cell holds."""
    lab = nbformat.read(released / "release" / LAB / f"{LAB}.ipynb", as_version=4)
    for one in lab.cells:
        if one.metadata.nbgrader.grade_id == "safety":
            one.metadata.nbgrader.points = 10
    marked = filled(lab, _result(points=0.5))
    shown = {one.metadata.nbgrader.grade_id: one.outputs[0].data["text/plain"] for one in marked.cells if one.get("outputs")}
    expected = {"safety": "5.0", "method": "10.0", "economy": "5.0", "verdict": "10.0", "good_parts": "5.0", "restored": "5.0"}
    assert expected == shown


def test_a_cell_that_nothing_is_marked_in_shows_no_full_marks(released):
    """A grade cell that an instructor added shows 0 and waits for a person."""
    lab = nbformat.read(released / "release" / LAB / f"{LAB}.ipynb", as_version=4)
    lab.cells[3].metadata.nbgrader.grade_id = "extra"
    output = filled(lab, _result(points=1)).cells[3].outputs[0]
    assert "0.0" == output.data["text/plain"]


def _result(explanation=(), points=0.0):
    lines = tuple(MarkLine(one.name, one.out_of * points, one.out_of, ("So it is.",)) for one in criteria_of("job"))
    return Result("anna", "job", lines, explanation)


def _handed_in_by_anna(tmp_path):
    folder = tmp_path / "anna" / LAB
    folder.mkdir(parents=True)
    (folder / f"{LAB}.sheet.json").write_text(sheet_of(lucky, "anna"))
    return folder


def _scored(folder):
    return scored(submission(folder, KEYS["job"]), KEYS["job"], folder)


def _visible(text):
    """What a reader of the page should see: the text, with a placeholder for what cannot be shown."""
    return html.unescape(escaped(text))
