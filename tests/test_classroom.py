"""The classroom: ids and seeds, files, what may not be trusted, collecting, and marks that a person can stand by."""

import html
import json
import os
import re
import shutil
import sqlite3
from datetime import datetime
from html.parser import HTMLParser
from pathlib import Path

import nbformat
import pytest
from courses import LAB, feedback, handed_in, made, nbgrader, rows, sheet_of
from hypothesis import given
from hypothesis import strategies as st
from nbconvert.filters import markdown2html
from nbgrader.api import Gradebook
from players import lucky

from solvers.classroom import BadLearner, ClassroomError, job_for, learner_id, scoring, seed_of
from solvers.classroom import handed_in as cell
from solvers.classroom.collecting import collected, told
from solvers.classroom.errors import NoSuchAssignment, NotAFolder, NotReleased, Refused
from solvers.classroom.feedback import explanation_cell, mark_page
from solvers.classroom.files import contents, saved
from solvers.classroom.gradebook import Course, filled
from solvers.classroom.grading import grade
from solvers.classroom.labs import CRITERIA
from solvers.classroom.report import told as class_told
from solvers.classroom.scoring import Result, scored
from solvers.classroom.submissions import MOST_ACTS, submission
from solvers.classroom.words import escaped, plain
from solvers.jobs.marks import MarkLine
from solvers.screens.notebook import BenchWidget

BITS = (
    "<script>alert(1)</script>",
    "<b>",
    "</pre>",
    "</li>",
    "<img src=x onerror=y>",
    "<!--",
    "&lt;",
    "**b**",
    "`",
    "$$x$$",
    "\\(",
)
BITS += ("[a](javascript:b)", "\n\n", "\r", "    ", "# ", "> ", "\x1b[31m", "\u202e", "\ud800", "'", '"')
NASTY = st.lists(st.one_of(st.sampled_from(BITS), st.text(max_size=8)), max_size=8).map("".join)
SCRIPT = "<script>document.title='taken'</script><img src=x onerror=alert(1)> $$\\href{javascript:alert(1)}{x}$$ </pre>"


@pytest.fixture(scope="module")
def released(tmp_path_factory):
    """A course with the lab generated and nothing handed in."""
    return made(tmp_path_factory.mktemp("released"))


@pytest.fixture
def course(released, tmp_path):
    """A copy of that course."""
    return shutil.copytree(released, tmp_path / "course")


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


def test_two_learners_have_two_jobs():
    """Neighbours do not share a circuit, and a learner's job is the same each time it is drawn."""
    assert job_for(LAB, "anna") == job_for(LAB, "Anna ")
    assert job_for(LAB, "anna").design != job_for(LAB, "ben").design


def test_an_unknown_assignment_names_those_there_are():
    """A mistyped assignment is answered with the right names."""
    with pytest.raises(NoSuchAssignment, match=LAB):
        job_for("heater", "anna")


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


class _Tags(HTMLParser):
    """The tags of a page with their attributes, its text, and what its scripts hold."""

    def __init__(self, page):
        super().__init__(convert_charrefs=True)
        self.tags, self.text, self.scripts = set(), "", []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.tags.add((tag, *(name for name, _ in attrs)))

    def handle_data(self, data):
        self.text += data
        if self.cdata_elem == "script":
            self.scripts.append(data)


@given(NASTY)
def test_words_of_others_stay_words_in_markdown(text):
    """Rendered as the feedback renders it, a learner's text adds no tag, and is shown as it was written."""
    shown = explanation_cell(_result(explanation=(("At the bench", text),)))
    page = _Tags(markdown2html(shown))
    assert {("p",), ("p", "class"), ("strong",), ("pre", "style"), ("em",)} >= page.tags
    assert _visible(text) in page.text


@given(NASTY)
def test_words_of_others_stay_words_in_a_page(text):
    """A reason that quotes a learner adds no tag to its page."""
    page = _Tags(mark_page(MarkLine("verdict", 0.0, 20, (text,)), 0.0, 20.0))
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


BAD_SHEETS = {
    "empty": (b"", "not whole JSON"),
    "cut short": (b'{"format": "call-for-heat sheet 2", "lear', "not whole JSON"),
    "nan": (b'{"format": NaN}', "no number"),
    "infinity": (b'{"thinking_s": -Infinity}', "no number"),
    "deep": (b"[" * 100_000, "not whole JSON"),
    "a list": (b"[]", "one JSON object"),
    "utf-16": ('{"format": "x"}'.encode("utf-16"), "not UTF-8"),
    "huge": (b" " * 500_000, "500000 bytes"),
    "other fields": (b'{"points": 100}', "unknown"),
}


@pytest.mark.parametrize("kind", BAD_SHEETS)
def test_a_sheet_that_cannot_be_read_is_a_sentence(tmp_path, kind):
    """Each way in which a sheet can be broken gives one sentence and no exception."""
    data, words = BAD_SHEETS[kind]
    folder = tmp_path / "kim" / LAB
    folder.mkdir(parents=True)
    (folder / f"{LAB}.sheet.json").write_bytes(data)
    found = submission(folder, LAB)
    assert found.sheet is None
    assert words in found.problem
    assert "\n" not in found.problem
    assert found.problem.endswith(".")


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("learner", "ben", "was made by 'ben' and handed in as 'anna'"),
        ("learner", "", "was made by ''"),
        ("learner", SCRIPT, 'was made by "<script>'),
        ("learner", "\ud800", "was made by"),
        ("seed", f"{LAB}/ben", f"this learner's job is 'heater-loops/1/{LAB}/anna'"),
        ("level", 2, "is of job 'heater-loops/2/"),
        ("chapter", "end-switches", "is of job 'end-switches/1/"),
    ],
)
def test_a_sheet_of_somebody_or_something_else_is_a_sentence(tmp_path, field, value, words):
    """Another learner's sheet, a nameless one and one of another job are told apart from this learner's own."""
    body = json.loads(sheet_of(lucky, "anna"))
    (body if field == "learner" else body["job"])[field] = value
    folder = tmp_path / "anna" / LAB
    folder.mkdir(parents=True)
    (folder / f"{LAB}.sheet.json").write_text(json.dumps(body))
    result = scored(submission(folder, LAB), LAB)
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
    result = scored(submission(folder, LAB), LAB)
    assert f"more than {MOST_ACTS}" in result.problem
    assert result.review


def test_a_capital_in_the_folders_name_is_no_stranger(tmp_path):
    """A gradebook that writes ids with capitals gets the marks of the same learner."""
    folder = tmp_path / "Anna" / LAB
    folder.mkdir(parents=True)
    (folder / f"{LAB}.sheet.json").write_text(sheet_of(lucky, "anna"))
    result = scored(submission(folder, LAB), LAB)
    assert ("Anna", "") == (result.learner, result.problem)
    assert result.points > 0


@pytest.mark.parametrize("points", [float("nan"), float("inf"), -1.0, 21.0])
def test_points_that_a_gradebook_would_misread_are_never_given(tmp_path, monkeypatch, points):
    """Where marking went wrong the learner has 0 and a person is asked; nothing turns into full marks."""
    marks = type("Marks", (), {"lines": tuple(MarkLine(one.name, points, one.out_of, ()) for one in CRITERIA), "flags": ()})
    monkeypatch.setattr(scoring, "mark", lambda job, sheet: marks)
    result = scored(_handed_in_by_anna(tmp_path), LAB)
    assert (0, True) == (result.points, result.review)
    assert "needs a person" in result.problem


def test_an_error_while_marking_is_one_learners_affair(tmp_path, monkeypatch):
    """A sheet that breaks the marking scores 0 with a reason, and the next is marked."""

    def broken(job, sheet):
        raise ZeroDivisionError("no zones")

    monkeypatch.setattr(scoring, "mark", broken)
    result = scored(_handed_in_by_anna(tmp_path), LAB)
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
    assert {one.grade_id: one.out_of for one in CRITERIA} == points
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


# a class


def _hostile(course, marker):
    """A class in which one learner works and everybody else tries something; returns who should have which problem."""
    lab = (course / "release" / LAB / f"{LAB}.ipynb").read_text(encoding="utf-8")
    run = f"open({str(marker)!r}, 'a').write('run')"
    good = {name: json.loads(sheet_of(lucky, name)) for name in ("dev", "coder", "double", "noise", "script", "linker")}
    good["script"]["verdict"] |= {"explanation": SCRIPT, "customer": SCRIPT}
    coder, double, script = json.loads(lab), json.loads(lab), json.loads(lab)
    for one in coder["cells"]:
        if one["cell_type"] == "code":
            one["source"] = run
    double["cells"] += double["cells"]
    script["cells"][-1]["source"] = [SCRIPT]
    handed_in(course, "dev", json.dumps(good["dev"]))
    handed_in(course, "coder", json.dumps(good["coder"]), json.dumps(coder).encode())
    for name in ("nbformat.py", "solvers.py", "sitecustomize.py", "conftest.py"):
        (course / "submitted" / "coder" / LAB / name).write_text(run)
    handed_in(course, "double", json.dumps(good["double"]), json.dumps(double).encode())
    handed_in(course, "noise", json.dumps(good["noise"]), b"\xff\xfe not a notebook")
    handed_in(course, "script", json.dumps(good["script"]), json.dumps(script).encode())
    secret = course / "submitted" / "dev" / LAB / f"{LAB}.sheet.json"
    linker = handed_in(course, "linker", json.dumps(good["linker"]))
    (linker / "notes.txt").symlink_to(course / "gradebook.db")
    (handed_in(course, "thief") / f"{LAB}.sheet.json").symlink_to(secret)
    handed_in(course, "copycat", json.dumps(good["dev"]))
    handed_in(course, "named", json.dumps(good["dev"] | {"learner": SCRIPT}))
    two = handed_in(course, "two")
    for name in ("one", "other"):
        (two / f"{name}.sheet.json").write_text(json.dumps(good["dev"]))
    for kind, (data, _) in BAD_SHEETS.items():
        handed_in(course, kind.replace(" ", "-"), data)
    (course / "submitted" / "shadow").symlink_to(course / "submitted" / "dev")
    return {"thief": "link", "copycat": "handed in as 'copycat'", "named": "was made by", "two": "2 sheets", "shadow": "link"} | {
        kind.replace(" ", "-"): words for kind, (_, words) in BAD_SHEETS.items()
    }


def test_a_hostile_class_is_contained(course, tmp_path):
    """By either door: no learner's code runs, nobody's files leak, everybody has a row, honest work has its marks."""
    marker = tmp_path / "marker"
    problems = _hostile(course, marker)
    stock = shutil.copytree(course, tmp_path / "stock", symlinks=True)
    (course / "submitted" / "<img src=x onerror=alert(1)>" / LAB).mkdir(parents=True)
    report = grade(course, LAB)
    nbgrader(stock, "autograde", LAB)
    assert not marker.exists()
    assert rows(course) == rows(stock)
    for learner in ("dev", "coder", "double", "noise", "script", "linker"):
        assert ("", True) == (report.row(learner).result.problem, report.row(learner).score > 0)
    for learner, words in problems.items():
        row = report.row(learner)
        assert words in row.result.problem
        assert (0, True) == (row.score, row.waiting)
        assert f"{learner}: " in class_told(report)
    assert 1 == len(report.strangers)
    assert _autograded(course) == _autograded(stock)
    assert {f"{LAB}.ipynb"} == {path.name for path in _autograded(course)}
    nbgrader(course, "generate_feedback", LAB)
    clean = _Tags(feedback(course, "dev"))
    for learner in [*problems, "script", "coder", "double"]:
        page = _Tags(feedback(course, learner))
        assert page.tags <= clean.tags | {("pre", "style"), ("div",)}  # the comment "No response." has a div
        assert page.scripts == clean.scripts
    assert SCRIPT in html.unescape(feedback(course, "script"))
    assert SCRIPT not in feedback(course, "script")


def test_a_persons_points_survive_grading_again(course):
    """Points and words that a person gave stay through both doors; the machine's are brought up to date beside them."""
    handed_in(course, "anna", sheet_of(lucky, "anna"))
    grade(course, LAB)
    with Gradebook(f"sqlite:///{course}/gradebook.db", "call-for-heat") as book:
        book.find_grade("explanation", LAB, LAB, "anna").manual_score = 7
        book.find_grade("verdict", LAB, LAB, "anna").manual_score = 12
        book.find_comment("explanation", LAB, LAB, "anna").manual_comment = "Well told."
        book.db.commit()
    before = rows(course)
    row = grade(course, LAB).row("anna")
    nbgrader(course, "autograde", LAB, "--force")
    assert (None, 7, True) == before["anna", "explanation"]
    assert before | {("anna", "verdict"): (0.0, 12, True)} == rows(course)
    assert row.result.points + 7 + 12 == row.score
    with Gradebook(f"sqlite:///{course}/gradebook.db", "call-for-heat") as book:
        assert "Well told." == book.find_comment("explanation", LAB, LAB, "anna").comment


def test_a_better_sheet_takes_the_place_of_the_first(course):
    """A learner who hands in again is graded on what is there now, and no longer waits for a person."""
    folder = handed_in(course, "anna", b"")
    assert 0 == grade(course, LAB).row("anna").score
    (folder / f"{LAB}.sheet.json").write_text(sheet_of(lucky, "anna"))
    row = grade(course, LAB).row("anna")
    assert row.score == row.result.points > 0
    assert (20.0, None, False) == rows(course)["anna", "safety"]


@pytest.mark.parametrize("rule", ["none", "zero"])
def test_lateness_is_handled_as_nbgrader_does(course, tmp_path, rule):
    """A late sheet loses what the course's own rule says, by either door; one in time loses nothing."""
    with (course / "nbgrader_config.py").open("a") as settings:
        settings.write(f"c.LateSubmissionPlugin.penalty_method = {rule!r}\n")
    with Gradebook(f"sqlite:///{course}/gradebook.db", "call-for-heat") as book:
        book.find_assignment(LAB).duedate = datetime(2026, 10, 1, 12)
        book.db.commit()
    for learner, when in (("anna", "2026-10-01 11:59:59 UTC"), ("ben", "2026-10-01 12:00:01 UTC")):
        folder = handed_in(course, learner, sheet_of(lucky, learner))
        (folder / "timestamp.txt").write_text(when)
    stock = shutil.copytree(course, tmp_path / "stock")
    report = grade(course, LAB)
    nbgrader(stock, "autograde", LAB)
    assert _penalties(stock) == _penalties(course)
    assert report.row("anna").score == report.row("anna").result.points
    assert report.row("ben").score == (0 if rule == "zero" else report.row("ben").result.points)
    assert report.row("ben").penalty == (report.row("ben").result.points if rule == "zero" else 0)


def test_a_class_is_recorded_whole_or_not_at_all(course, monkeypatch):
    """When recording breaks in the middle, no row of the gradebook has changed."""
    for learner in ("anna", "ben"):
        handed_in(course, learner, sheet_of(lucky, learner))
    record = Course._record_one

    def breaks(self, gradebook, assignment, masters, result):
        if result.learner == "ben":
            raise OSError("the disk is full")
        return record(self, gradebook, assignment, masters, result)

    monkeypatch.setattr(Course, "_record_one", breaks)
    with pytest.raises(OSError, match="disk is full"):
        grade(course, LAB)
    assert {} == rows(course)
    monkeypatch.undo()
    grade(course, LAB)
    assert {"anna", "ben"} == {learner for learner, _ in rows(course)}


def test_a_gradebook_in_use_is_a_sentence(course):
    """A gradebook that another program holds is named in a sentence, and stays as it was."""
    handed_in(course, "anna", sheet_of(lucky, "anna"))
    holder = sqlite3.connect(course / "gradebook.db", isolation_level=None)
    holder.execute("begin immediate")
    with pytest.raises(ClassroomError, match=r"as it was.*locked"):
        grade(course, LAB, db_url=f"sqlite:///{course}/gradebook.db?timeout=0.2")
    holder.rollback()
    holder.close()
    assert {} == rows(course)


def test_a_gradebook_may_lie_elsewhere(course, tmp_path):
    """The database URL decides which gradebook is written."""
    handed_in(course, "anna", sheet_of(lucky, "anna"))
    shutil.copy(course / "gradebook.db", tmp_path / "other.db")
    url = f"sqlite:///{tmp_path}/other.db"
    grade(course, LAB, db_url=url)
    assert {} == rows(course)
    assert {"anna"} == {learner for learner, _ in rows(course, url)}


def test_progress_is_told_as_it_happens(course):
    """Whoever waits hears how many are done, of how many, and whose."""
    for learner in ("anna", "ben"):
        handed_in(course, learner, b"")
    heard = []
    grade(course, LAB, progress=lambda *news: heard.append(news))
    assert [(1, 2, "anna"), (2, 2, "ben")] == heard


def test_a_course_that_is_not_ready_says_what_to_do(course, tmp_path):
    """No folder, no such assignment, no release, no gradebook, broken settings: each is a sentence with the next step."""
    with pytest.raises(NotAFolder, match="nowhere"):
        grade(tmp_path / "nowhere", LAB)
    with pytest.raises(NoSuchAssignment, match=LAB):
        grade(course, "04")
    (course / "gradebook.db").rename(course / "elsewhere")
    with pytest.raises(NotReleased, match="nbgrader generate_assignment"):
        grade(course, LAB)
    shutil.rmtree(course / "release")
    with pytest.raises(NotReleased, match="nbgrader generate_assignment"):
        grade(course, LAB)
    (course / "nbgrader_config.py").write_text("c = get_config(")
    with pytest.raises(ClassroomError, match="settings"):
        grade(course, LAB)


# collecting


def test_collecting_finds_each_learners_own_notebook(course, tmp_path):
    """In a folder a learner the notebook beside the sheet is theirs; in one folder for all it must carry the sheet's name."""
    inbox = tmp_path / "inbox"
    for learner in ("anna", "ben"):
        (inbox / learner).mkdir(parents=True)
        (inbox / learner / f"{LAB}.sheet.json").write_text(sheet_of(lucky, learner))
        (inbox / learner / f"{LAB}.ipynb").write_text(learner)
    (inbox / f"carla.{LAB}.sheet.json").write_text(sheet_of(lucky, "carla"))
    (inbox / f"carla.{LAB}.ipynb").write_text("carla")
    (inbox / f"dev.{LAB}.sheet (1).json").write_text(sheet_of(lucky, "dev"))
    (inbox / f"{LAB}.ipynb").write_text("nobody's")
    report = collected(inbox, course, LAB)
    lab = (course / "release" / LAB / f"{LAB}.ipynb").read_text()
    found = {one: (course / "submitted" / one / LAB / f"{LAB}.ipynb").read_text() for one in report.learners}
    assert {"anna": "anna", "ben": "ben", "carla": "carla", "dev": lab} == found


def test_what_the_widget_keeps_is_what_is_graded(course, tmp_path):
    """The sheet that a lab's bench saves beside the notebook goes all the way to the learner's marks."""
    bench = BenchWidget(assignment=LAB, folder=tmp_path)
    begun = bench.answer({"ask": "begin", "learner": " Anna "})
    assert ("anna", seed_of(LAB, "anna")) == (begun["learner"], begun["seed"])
    assert {"kept": f"{LAB}.sheet.json"} == bench.answer({"ask": "keep", "sheet": sheet_of(lucky, "anna")})
    assert ("anna",) == collected(tmp_path, course, LAB).learners
    assert ("", ()) == ((result := grade(course, LAB).row("anna").result).problem, result.flags)


def test_collecting_again_changes_nothing(course, tmp_path):
    """The same files a second time are unchanged, and so are their times; a new sheet counts from when it was written."""
    path = tmp_path / f"anna.{LAB}.sheet.json"
    path.write_text(sheet_of(lucky, "anna"))
    os.utime(path, (1_790_000_000, 1_790_000_000))
    collected(tmp_path, course, LAB)
    stamp = course / "submitted" / "anna" / LAB / "timestamp.txt"
    assert "2026-09-21 14:13:20 UTC" == stamp.read_text().strip()
    os.utime(path, (1_800_000_000, 1_800_000_000))
    again = collected(tmp_path, course, LAB)
    assert ((), ("anna",)) == (again.learners, again.unchanged)
    assert "2026-09-21 14:13:20 UTC" == stamp.read_text().strip()


def test_collecting_never_guesses(course, tmp_path):
    """Two different sheets of one learner, a stranger's damaged file, a link and another lab's sheet are left and named."""
    inbox, body = tmp_path / "inbox", json.loads(sheet_of(lucky, "anna"))
    inbox.mkdir()
    for name, sheet in {
        "first.sheet.json": body,
        "second.sheet.json": body | {"thinking_s": 9},
        f"ben.{LAB}.sheet.json": body | {"learner": "../../ben"},
        "nameless.sheet.json": body | {"learner": SCRIPT},
    }.items():
        (inbox / name).write_text(json.dumps(sheet))
    (inbox / "broken.sheet.json").write_text("{")
    (inbox / "linked.sheet.json").symlink_to(inbox / "first.sheet.json")
    report = collected(inbox, course, LAB)
    left = {one.path.name: one.reason for one in report.left}
    assert ("ben",) == report.learners, "the file's name says whose the unreadable sheet is"
    assert ["ben"] == sorted(path.name for path in (course / "submitted").iterdir())
    assert {"first.sheet.json", "second.sheet.json", "nameless.sheet.json", "broken.sheet.json", "linked.sheet.json"} == set(left)
    assert "keep one" in left["first.sheet.json"]
    assert "link" in left["linked.sheet.json"]
    assert all(one in told(report) for one in left)


def test_a_damaged_file_never_replaces_a_good_sheet(course, tmp_path):
    """What a learner handed in before stays when a broken file of theirs comes after it."""
    path = tmp_path / f"anna.{LAB}.sheet.json"
    path.write_text(sheet_of(lucky, "anna"))
    collected(tmp_path, course, LAB)
    good = (course / "submitted" / "anna" / LAB / f"{LAB}.sheet.json").read_text()
    path.write_text(good[:100])
    report = collected(tmp_path, course, LAB)
    assert good == (course / "submitted" / "anna" / LAB / f"{LAB}.sheet.json").read_text()
    assert "stays" in report.left[0].reason


def test_collecting_needs_two_folders_and_a_lab(course, tmp_path):
    """A folder that is not there, and an assignment that is not, are named before anything is copied."""
    with pytest.raises(NotAFolder, match="nowhere"):
        collected(tmp_path / "nowhere", course, LAB)
    with pytest.raises(NotAFolder, match="nowhere"):
        collected(tmp_path, tmp_path / "nowhere", LAB)
    with pytest.raises(NoSuchAssignment):
        collected(tmp_path, course, "04")


def _result(explanation=(), points=0.0):
    lines = tuple(MarkLine(one.name, one.out_of * points, one.out_of, ("So it is.",)) for one in CRITERIA)
    return Result("anna", lines, explanation)


def _handed_in_by_anna(tmp_path):
    folder = tmp_path / "anna" / LAB
    folder.mkdir(parents=True)
    (folder / f"{LAB}.sheet.json").write_text(sheet_of(lucky, "anna"))
    return submission(folder, LAB)


def _visible(text):
    """What a reader of the page should see: the text, with a placeholder for what cannot be shown."""
    return html.unescape(escaped(text))


def _penalties(course):
    with Gradebook(f"sqlite:///{course}/gradebook.db", "call-for-heat") as book:
        return {one.student.id: one.late_submission_penalty or 0.0 for one in book.assignment_submissions(LAB)}


def _autograded(course):
    """Every file of the autograded folder with its content."""
    step = course / "autograded"
    return {path.relative_to(step): path.read_bytes() for path in step.rglob("*") if path.is_file()}
