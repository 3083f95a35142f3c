"""Submissions that attack: by every grading path none of them runs, none stops the others, and each is named."""

import errno
import html
import json
import os
import shutil
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest
from courses import LAB, ROOT, feedback, handed_in, made, nbgrader, rows, sheet_of
from hostile_words import BAD_SHEETS, SCRIPT, Tags
from nbconvert.exporters import HTMLExporter
from nbgrader.server_extensions.formgrader import handlers
from players import lucky
from traitlets.config import Config

from solvers.classroom.collecting import collected
from solvers.classroom.collecting import told as collected_told
from solvers.classroom.errors import ClassroomError
from solvers.classroom.grading import grade
from solvers.classroom.marks_table import kept
from solvers.classroom.report import told

WORKERS = ("dev", "coder", "double", "retype", "points", "noise", "script", "linker")
"""Whose sheets are in order, whatever lies around them."""

SHADOWS = ("nbformat.py", "solvers.py", "sheet.py", "sitecustomize.py", "conftest.py", "evil.pth", "solvers/__init__.py")

CODE = """
import os, pathlib
pathlib.Path({marker!r}).write_text("run")
open({book!r}, "a").write("broken")
print(open({key!r}).read())
if os.fork() == 0:
    while True:
        pass
while True:
    pass
"""


@pytest.fixture(scope="module")
def released(tmp_path_factory):
    """A course with the lab generated and nothing handed in."""
    return made(tmp_path_factory.mktemp("released"))


@pytest.fixture
def course(released, tmp_path):
    """A copy of that course."""
    return shutil.copytree(released, tmp_path / "course")


def attacked(course, marker):
    """Hand in for a class in which everybody but one tries something; returns who should have which problem."""
    lab = (course / "release" / LAB / f"{LAB}.ipynb").read_text(encoding="utf-8")
    key = course / "keys" / f"{LAB}.key.json"
    run = CODE.format(marker=str(marker), book=str(course / "gradebook.db"), key=str(key))
    good = {name: json.loads(sheet_of(lucky, name)) for name in WORKERS}
    good["script"]["verdict"] |= {"explanation": SCRIPT, "customer": SCRIPT}
    labs = {name: json.loads(lab) for name in ("coder", "double", "retype", "points", "script")}
    for one in labs["coder"]["cells"]:
        one["cell_type"], one["source"] = "code", run
        one |= {"outputs": [], "execution_count": None}
    labs["coder"]["cells"].append({**labs["coder"]["cells"][1], "id": "own", "metadata": {}})
    labs["double"]["cells"] += labs["double"]["cells"]
    del labs["double"]["cells"][0]
    for one in labs["retype"]["cells"]:
        one["cell_type"] = "markdown" if one["cell_type"] == "code" else "raw"
    for one in labs["points"]["cells"]:
        one["metadata"]["nbgrader"] |= {"points": 1e6, "grade": True, "solution": True, "locked": False}
    labs["script"]["cells"][-1]["source"] = [SCRIPT]
    labs["script"]["metadata"]["title"] = SCRIPT
    for name, sheet in good.items():
        body = json.dumps(labs[name]).encode() if name in labs else None
        handed_in(course, name, json.dumps(sheet), b"\xff\xfe not a notebook" if name == "noise" else body)
    for name in SHADOWS:
        path = course / "submitted" / "coder" / LAB / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(f"import pathlib; pathlib.Path({str(marker)!r}).write_text('run')\n")
    sheet = course / "submitted" / "dev" / LAB / f"{LAB}.sheet.json"
    (course / "submitted" / "linker" / LAB / "notes.txt").symlink_to(course / "gradebook.db")
    (course / "submitted" / "linker" / LAB / "keys").symlink_to(course / "keys")
    (handed_in(course, "thief") / f"{LAB}.sheet.json").symlink_to(sheet)
    (handed_in(course, "carla") / f"{LAB}.sheet.json").symlink_to(course / "gradebook.db")
    handed_in(course, "copycat", json.dumps(good["dev"]))
    handed_in(course, "named", json.dumps(good["dev"] | {"learner": SCRIPT}))
    two = handed_in(course, "two")
    for name in ("one", "other"):
        (two / f"{name}.sheet.json").write_text(json.dumps(good["dev"]))
    (course / "submitted" / "shadow").symlink_to(course / "submitted" / "dev")
    handed_in(course, "stranger", json.dumps(good["dev"] | {"learner": "stranger"}))
    handed_in(course, "kim", json.dumps(_with(good["dev"], "kim", "value", -1e308)))
    handed_in(course, "lea", json.dumps(_with(good["dev"], "lea", "act", {"do": "wait", "seconds": 10**400})))
    handed_in(course, "mo", json.dumps(_with(good["dev"], "mo", "act", {"do": {"do": {"do": []}}})))
    problems = {
        "thief": "link",
        "carla": "link",
        "copycat": "handed in as 'copycat'",
        "named": "was made by",
        "two": "2 sheets",
        "shadow": "link",
        "stranger": "lab",
        "kim": "must be a number",
        "lea": "needs a person",
    }
    for kind, (data, words) in BAD_SHEETS.items():
        name = f"bad-{kind.replace(' ', '-')}"
        handed_in(course, name, data)
        problems[name] = words
    return problems


def _with(sheet, learner, field, value):
    """A sheet of somebody's own lab with one thing in its log changed."""
    body = json.loads(json.dumps(sheet)) | {"learner": learner}
    body["job"] |= {"seed": f"{LAB}/{learner}"}
    body["log"][0] |= {field: value}
    return body


def test_a_hostile_class_is_contained(course, tmp_path):
    """By either door: no learner's code runs, nobody's files leak, everybody has a row, honest work has its marks."""
    marker = tmp_path / "marker"
    problems = attacked(course, marker)
    stock = shutil.copytree(course, tmp_path / "stock", symlinks=True)
    (course / "submitted" / "<img src=x onerror=alert(1)>" / LAB).mkdir(parents=True)
    report = grade(course, LAB)
    nbgrader(stock, "autograde", LAB)
    assert rows(course) == rows(stock)
    for learner in WORKERS:
        assert ("", True) == (report.row(learner).result.problem, report.row(learner).score > 0), learner
    assert {100.0} == {row.out_of for row in report.rows}
    for learner, words in problems.items():
        row = report.row(learner)
        assert words.lower() in row.result.problem.lower(), (learner, row.result.problem)
        assert (0, True) == (row.score, row.waiting), learner
        assert f"{learner}: " in told(report)
    assert "<img" in report.strangers[0]
    assert _files(course / "autograded") == _files(stock / "autograded")
    assert {f"{LAB}.ipynb"} == {path.name for path in _files(course / "autograded")}
    _no_word_acts(course, [*problems, *WORKERS], report)
    kept(course)
    assert not marker.exists()
    assert "ok" == sqlite3.connect(course / "gradebook.db").execute("pragma integrity_check").fetchone()[0]


def _no_word_acts(course, learners, report):
    """Our feedback, stock feedback and formgrader's page hold nothing that acts beside what an honest sheet's pages hold."""
    shown = {learner: Tags(feedback(course, learner)) for learner in learners}
    assert {learner: [] for learner in learners} == {learner: page.acts for learner, page in shown.items()}
    assert SCRIPT in html.unescape(feedback(course, "script"))
    nbgrader(course, "generate_feedback", LAB, "--force")
    clean, form = Tags(feedback(course, "dev")), _formgraded(course, "dev")
    for learner in learners:
        for page, honest in ((Tags(feedback(course, learner)), clean), (_formgraded(course, learner), form)):
            assert page.scripts == honest.scripts, learner
            assert set(page.acts) <= set(honest.acts), learner
            assert page.tags <= honest.tags | {("pre", "style"), ("div",)}, learner  # the comment "No response." has a div
    assert SCRIPT in html.unescape(feedback(course, "script"))
    assert SCRIPT not in feedback(course, "script")


def _formgraded(course, learner):
    """The page on which an instructor grades one submission by hand, as formgrader renders it."""
    settings = Config()
    settings.HTMLExporter.template_name = "formgrade"
    settings.HTMLExporter.extra_template_basedirs = [handlers.template_path]
    at = {"base_url": "", "assignment_id": LAB, "notebook_id": LAB, "submission_id": "1", "index": 0, "total": 1}
    at |= {"student": "somebody", "last_name": None, "first_name": None, "notebook_path": "x"}
    path = course / "autograded" / learner / LAB / f"{LAB}.ipynb"
    return Tags(HTMLExporter(config=settings).from_filename(str(path), resources=at)[0])


def test_an_attack_by_mail_is_contained(course, tmp_path):
    """Collected first, the same bad files are damaged or left and named, nothing beside the sheets is taken, none runs."""
    marker, inbox = tmp_path / "marker", tmp_path / "inbox"
    other = shutil.copytree(course, tmp_path / "other")
    attacked(other, marker)
    shutil.move(other / "submitted", inbox)
    (inbox / "nowhere").symlink_to(tmp_path / "missing")
    report = collected(inbox, course)
    assert {"dev", "coder", "double"} <= {learner for _, learner in report.taken}
    submitted = [path for path in (course / "submitted").rglob("*") if not path.is_dir()]
    assert {f"{LAB}.sheet.json", f"{LAB}.ipynb", "timestamp.txt"} == {path.name for path in submitted}
    assert not [path for path in submitted if path.is_symlink()]
    words = collected_told(report)
    for name in ("thief", "carla", "copycat", "shadow", "stranger", *(f"bad-{kind.replace(' ', '-')}" for kind in BAD_SHEETS)):
        assert f"/{name}" in words, name
    assert grade(course, LAB).row("dev").score > 0
    assert not marker.exists()


def test_files_of_a_hundred_megabytes_are_refused_unread(course, tmp_path):
    """A huge sheet, notebook and zip file cost nobody anything but a sentence."""
    inbox = tmp_path / "inbox"
    inbox.mkdir()
    for name in (f"anna.{LAB}.sheet.json", f"anna.{LAB}.ipynb", "huge.zip"):
        with (inbox / name).open("wb") as file:
            file.truncate(300_000_000 if name == "huge.zip" else 100_000_000)
    folder = handed_in(course, "ben", sheet_of(lucky, "ben"))
    os.truncate(folder / f"{LAB}.ipynb", 100_000_000)
    report = collected(inbox, course)
    reasons = " ".join(one.reason for one in (*report.left, *report.damaged))
    assert "300000000 bytes" in reasons
    assert "100000000 bytes" in reasons
    graded = grade(course, LAB)
    assert graded.row("ben").score > 0
    assert graded.row("anna").score == 0


@pytest.mark.parametrize("dangling", ["notes.txt", f"{LAB}.sheet.json"])
def test_a_link_to_nowhere_stops_nobody(course, tmp_path, dangling):
    """A dangling link beside a sheet, or in its place, is named or passed over; the others have their marks by either door."""
    for learner in ("anna", "ben"):
        handed_in(course, learner, sheet_of(lucky, learner))
    path = course / "submitted" / "ben" / LAB / dangling
    path.unlink(missing_ok=True)
    path.symlink_to(tmp_path / "nowhere")
    stock = shutil.copytree(course, tmp_path / "stock", symlinks=True)
    report = grade(course, LAB)
    assert report.row("anna").score > 0
    assert ("link" in report.row("ben").result.problem) == (dangling != "notes.txt")
    nbgrader(stock, "autograde", LAB, fails=True)  # copying a dangling link is an error of stock nbgrader's own
    assert {row for (learner, _), row in rows(course).items() if learner == "anna"} == {
        row for (learner, _), row in rows(stock).items() if learner == "anna"
    }


def test_two_graders_at_once_lose_nothing(course):
    """Two processes that grade one course at the same time both end well, with every mark there and a sound database."""
    learners = ("anna", "ben", "carla", "dev", "kim", "lea")
    for learner in learners:
        handed_in(course, learner, sheet_of(lucky, learner))
    command = [sys.executable, "-m", "solvers", "grade", "--course", str(course), "--assignment", LAB, "--workers", "1"]
    path = os.pathsep.join([str(ROOT), *filter(None, [os.environ.get("PYTHONPATH")])])
    both = [
        subprocess.Popen(command, env=os.environ | {"PYTHONPATH": path}, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        for _ in range(2)
    ]
    ended = [(*one.communicate(timeout=300), one.returncode) for one in both]
    assert [0, 0] == [code for _, _, code in ended], ended
    assert "ok" == sqlite3.connect(course / "gradebook.db").execute("pragma integrity_check").fetchone()[0]
    expected = rows(course)
    assert set(learners) == {learner for learner, _ in expected}
    assert 7 * len(learners) == len(expected)
    grade(course, LAB)
    assert expected == rows(course)
    assert [] == list(course.rglob("*.tmp"))


@pytest.fixture
def small_disk(tmp_path):
    """A file system in memory of 4 MB; skips where this user may not mount one, and the next test stands in for it."""
    place = tmp_path / "disk"
    place.mkdir()
    tool = shutil.which("mount")
    if (
        tool is None
        or subprocess.run([tool, "-t", "tmpfs", "-o", "size=4m", "tmpfs", str(place)], capture_output=True).returncode
    ):
        pytest.skip("no file system can be mounted here")
    yield place
    subprocess.run(["umount", str(place)], check=True)


@pytest.mark.parametrize("left", [0, 8_000, 40_000, 90_000, 200_000])
def test_a_full_disk_leaves_the_course_as_it_was_or_as_after(course, small_disk, left):
    """Whatever little room is left, grading ends whole, or with a sentence and everything as before."""
    here = shutil.copytree(course, small_disk / "course")
    handed_in(here, "anna", b"{")
    grade(here, LAB)
    for learner in ("anna", "ben", "carla"):
        shutil.rmtree(here / "submitted" / learner, ignore_errors=True)
        handed_in(here, learner, sheet_of(lucky, learner))
    before = _state(here)
    room = shutil.disk_usage(small_disk).free - left
    (small_disk / "filler").write_bytes(b"\0" * max(0, room))
    failure = ""
    try:
        grade(here, LAB, workers=1)
    except (ClassroomError, OSError) as problem:
        failure = str(problem)
    (small_disk / "filler").unlink()
    if failure:
        assert any(word in failure for word in ("No space", "full", "disk I/O")), failure
        assert before == _state(here)
    else:
        assert {"anna", "ben", "carla"} == {learner for learner, _ in rows(here)}
    assert left < 200_000 or before != _state(here), "with room enough it is graded"
    report = grade(here, LAB)
    assert all(row.score > 0 for row in report.rows)


def test_a_disk_that_fills_at_any_write_leaves_the_course_as_it_was(course, monkeypatch):
    """Wherever among its writes grading fails for want of room, rows and files are those of before, to the last byte."""
    handed_in(course, "anna", b"{")
    grade(course, LAB)
    shutil.rmtree(course / "submitted" / "anna")
    for learner in ("anna", "ben"):
        handed_in(course, learner, sheet_of(lucky, learner))
    before, fsync, failed = _state(course), os.fsync, 0
    for fatal in range(40):
        calls = iter(range(1000))

        def full(handle, calls=calls, fatal=fatal):
            if next(calls) == fatal and os.path.isfile(f"/proc/self/fd/{handle}"):
                raise OSError(errno.ENOSPC, "No space left on device")
            return fsync(handle)

        monkeypatch.setattr(os, "fsync", full)
        try:
            grade(course, LAB, workers=1)
        except OSError:
            failed += 1
            assert before == _state(course)
        else:
            break
    assert failed >= 4  # two notebooks, two pages
    assert before != _state(course)


def _files(folder):
    """Every file of a folder with its content, by its path in it."""
    return {path.relative_to(folder): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def _state(course):
    """What grading may change: the gradebook's rows, and every file and folder beside it."""
    everything = {path.relative_to(course) for path in course.rglob("*")} - {Path("gradebook.db-journal")}
    return rows(course), everything, {path: data for path, data in _files(course).items() if path.name != "gradebook.db"}
