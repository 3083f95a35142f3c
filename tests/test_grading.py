"""Grading a class: the gradebook, a person's points, lateness, whole or not at all, and two doors that agree."""

import csv
import errno
import json
import os
import shutil
import sqlite3
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from types import SimpleNamespace

import pytest
from courses import KEYS, LAB, SET, TABLE, feedback, handed_in, job_of, key_for, made, nbgrader, rows, sheet_of
from hostile_words import SCRIPT, Tags
from nbgrader.api import Gradebook
from players import careful, lucky
from wirings import RIGHT

from solvers.classroom import copying, foretelling, pool, report_pages, scoring, seed_of
from solvers.classroom.copying import alike, pattern
from solvers.classroom.errors import ClassroomError, NoSuchAssignment, NotAFolder, NotReleased
from solvers.classroom.gradebook import Course
from solvers.classroom.grading import grade, waiting
from solvers.classroom.keys import draw_held, key_path, questions_held, task_held
from solvers.classroom.keys import written as key_written
from solvers.classroom.labs import criteria_of
from solvers.classroom.marks_table import grid, kept
from solvers.classroom.report import Standing, told
from solvers.classroom.scoring import scored
from solvers.classroom.submissions import Submission
from solvers.classroom.words import plain, span
from solvers.jobs import wiring_marks
from solvers.jobs.bench import Bench
from solvers.jobs.foretold import body_of, foretold, known_of
from solvers.jobs.marking import mark
from solvers.jobs.marks import MarkLine
from solvers.jobs.objectives import OBJECTIVES
from solvers.jobs.question_set import QuestionSheet, sheet_written
from solvers.jobs.sheet import parsed
from solvers.jobs.wiring_task import WireUpSheet
from solvers.jobs.wiring_task import sheet_written as wire_written


@pytest.fixture(scope="module")
def released(tmp_path_factory):
    """A course with a lab of each kind generated and nothing handed in."""
    return made(tmp_path_factory.mktemp("released"), *KEYS.values())


@pytest.fixture
def course(released, tmp_path):
    """A copy of that course."""
    return shutil.copytree(released, tmp_path / "course")


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


@pytest.mark.parametrize(
    ("due", "utc"),
    [
        ("2026-10-01T12:00", datetime(2026, 10, 1, 12)),
        ("2026-10-01T12:00+02:00", datetime(2026, 10, 1, 10)),
    ],
)
def test_the_gradebook_is_told_when_a_lab_is_due(released, tmp_path, due, utc):
    """Either door sets the key's due time as nbgrader's own command does; who is late is named with by how much."""
    course = shutil.copytree(released, tmp_path / "course")
    key_path(course, LAB).write_text(key_written(replace(KEYS["job"], due=due)))
    for learner, late in (
        ("anna", timedelta(0)),
        ("ben", timedelta(days=2, hours=3, minutes=4)),
        ("carla", timedelta(seconds=61)),
    ):
        folder = handed_in(course, learner, sheet_of(lucky, learner))
        (folder / "timestamp.txt").write_text(f"{utc + late} UTC")
    stock = shutil.copytree(course, tmp_path / "stock")
    theirs = shutil.copytree(course, tmp_path / "theirs")
    report = grade(course, LAB)
    nbgrader(stock, "autograde", LAB)
    nbgrader(theirs, "db", "assignment", "add", LAB, f"--duedate={due.replace('T', ' ')}")
    assert utc == _due(theirs) == _due(course) == _due(stock)
    assert [0.0, 183840.0, 61.0] == [row.late for row in report.rows]
    text, page = told(report), report_pages.class_page(Course.opened(course).standing(), {})
    for shown in (text, Tags(page).text):
        assert "late by 2 days 3 h" in shown
        assert "late by 1 min 1 s" in shown
        assert 2 == shown.count("late by")


def test_a_due_time_that_a_key_does_not_give_stays(course):
    """Where a key names no due time, the gradebook keeps the one that it has."""
    with Gradebook(f"sqlite:///{course}/gradebook.db", "call-for-heat") as book:
        book.update_or_create_assignment(LAB, duedate="2026-10-01 12:00")
    handed_in(course, "anna", sheet_of(lucky, "anna"))
    grade(course, LAB)
    assert datetime(2026, 10, 1, 12) == _due(course)


def _due(course):
    with Gradebook(f"sqlite:///{course}/gradebook.db", "call-for-heat") as book:
        return book.find_assignment(LAB).duedate


@pytest.mark.parametrize(
    ("seconds", "words"),
    [(0.4, "0 s"), (59.9, "59 s"), (60, "1 min 0 s"), (3600, "1 h 0 min"), (86_400, "1 day 0 h"), (180_000, "2 days 2 h")],
)
def test_a_span_is_told_by_its_two_largest_units(seconds, words):
    """What is cut off is never rounded up: nobody is called later than they were."""
    assert words == span(seconds)


def test_a_class_is_recorded_whole_or_not_at_all(course, monkeypatch):
    """When recording breaks in the middle, no row of the gradebook has changed."""
    for learner in ("anna", "ben"):
        handed_in(course, learner, sheet_of(lucky, learner))
    record = Course._record_one

    def breaks(self, gradebook, assignment, masters, result, stage):
        if result.learner == "ben":
            raise OSError("the disk is full")
        return record(self, gradebook, assignment, masters, result, stage)

    monkeypatch.setattr(Course, "_record_one", breaks)
    with pytest.raises(OSError, match="disk is full"):
        grade(course, LAB)
    assert {} == rows(course)
    assert [] == [path for path in (course / "autograded").rglob("*") if path.is_file()]
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


def _penalties(course):
    with Gradebook(f"sqlite:///{course}/gradebook.db", "call-for-heat") as book:
        return {one.student.id: one.late_submission_penalty or 0.0 for one in book.assignment_submissions(LAB)}


# the other kinds of lab


def test_a_set_of_questions_is_marked_by_either_door(course, tmp_path):
    """Points are the share of 90, reasons name each question and no value, the explanation waits for a person."""
    asked = questions_held(KEYS["questions"], "anna")
    right = {
        number: one.expected if one.form in ("number", "choice") else list(one.expected) for number, one in enumerate(asked, 1)
    }
    sheets = {
        "anna": QuestionSheet("anna", seed_of(SET, "anna"), right, explanation="Because."),
        "ben": QuestionSheet("ben", seed_of(SET, "ben"), {1: "no such choice", 40: 3.0}),
        "carla": QuestionSheet("ben", seed_of(SET, "ben"), {}),
    }
    for learner, sheet in sheets.items():
        handed_in(course, learner, sheet_written(sheet), assignment=SET)
    stock = shutil.copytree(course, tmp_path / "stock")
    report = grade(course, SET)
    nbgrader(stock, "autograde", SET)
    assert rows(stock, assignment=SET) == rows(course, assignment=SET)
    assert (90.0, None, False) == rows(course, assignment=SET)["anna", "answers"]
    assert (None, None, True) == rows(course, assignment=SET)["anna", "explanation"]
    assert (0.0, None, False) == rows(course, assignment=SET)["ben", "answers"]
    reasons = " ".join(report.row("ben").result.line("answers").reasons)
    assert "no answer" in reasons
    assert "made by 'ben'" in report.row("carla").result.problem
    objectives = {one.objective for one in asked}
    assert objectives == set(report.row("anna").result.shown) == set(report.row("anna").result.tried)


def test_a_wire_up_is_marked_by_either_door(course, tmp_path):
    """A wiring earns the lines of its own marks, by both doors alike; one that cannot be built is left to a person."""
    task = task_held(KEYS["wire-up"], "anna")
    good = WireUpSheet("anna", seed_of(TABLE, "anna"), RIGHT["W1"]["in connectors"], explanation="As drawn.")
    body = json.loads(wire_written(good))
    strange = json.loads(json.dumps(body).replace('"anna"', '"ben"').replace(f"{TABLE}/anna", f"{TABLE}/ben"))
    strange["wiring"]["wires"][0]["a"] = "nowhere.X"
    handed_in(course, "anna", json.dumps(body), assignment=TABLE)
    handed_in(course, "ben", json.dumps(strange), assignment=TABLE)
    handed_in(course, "carla", sheet_of(lucky, "carla"), assignment=TABLE)
    stock = shutil.copytree(course, tmp_path / "stock")
    report = grade(course, TABLE)
    nbgrader(stock, "autograde", TABLE)
    assert rows(stock, assignment=TABLE) == rows(course, assignment=TABLE)
    expected = wiring_marks.marked(task, RIGHT["W1"]["in connectors"], {}, seed=draw_held(KEYS["wire-up"], "anna")).lines
    assert [line.points for line in expected] == [line.points for line in report.row("anna").result.lines[:-1]]
    assert report.row("anna").result.points > 50
    assert "nowhere.X" in report.row("ben").result.problem
    assert f"{LAB}/carla" in report.row("carla").result.problem


# a class side by side


def test_a_safety_gate_caps_what_the_gradebook_adds_up(monkeypatch):
    """Past a gate the lines sum to no more than the cap, and each says so."""
    lines = tuple(MarkLine(one.name, one.out_of, one.out_of, ()) for one in criteria_of("job")[:-1])
    found = scoring._capped(SimpleNamespace(lines=lines, points=40, cap=40))
    assert 39 <= sum(line.points for line in found) <= 40
    assert all("40 points in all" in line.reasons[0] for line in found)
    assert lines == scoring._capped(SimpleNamespace(lines=lines, points=90, cap=90))


def test_the_same_acts_and_pauses_are_for_a_talk(course):
    """Two logs of the same acts and waits are named side by side, whatever they read; the marks are those of each alone."""
    log = parsed(sheet_of(careful, "dev"))
    assert len(log.log) >= 6
    key = key_for(("anna", "ben", "dev"))
    sheets = {name: replace(log, learner=name, seed=seed_of(LAB, name)) for name in ("anna", "ben")}
    sheets["dev"] = replace(log, log=log.log[:5])
    (found,) = alike(key, course, sheets, sheets)
    assert ("anna", "ben") == found.learners
    assert "same order" in found.words
    alone = Submission("anna", sheets["anna"])
    assert scored(alone, key, course).lines == scored(alone, key, course).lines
    assert pattern(sheets["anna"]).startswith(f"{len(log.log)} lines: ")


def test_readings_of_a_neighbours_lab_are_for_a_talk(course, monkeypatch):
    """A log that its own lab file does not show and a neighbour's does is named with that neighbour."""
    bench = Bench(job_of("dev"), "dev")
    for terminal in ("transformer.C", "zone1.stat.W", "zone1.stat.R"):
        bench.step({"do": "measure", "function": "volts", "first": "transformer.R", "second": terminal})
    log = bench.sheet()
    sheets = {"anna": replace(log, learner="anna"), "dev": log}
    monkeypatch.setattr(copying, "handed_out", lambda course, key, learner: learner.encode())
    monkeypatch.setattr(copying, "opened", lambda data: data.decode())
    monkeypatch.setattr(copying, "unlike", lambda lab, log: () if lab == "dev" else ("Line 1 is not so.",))
    monkeypatch.setattr(copying, "FEWEST_ACTS", 1000)
    (found,) = alike(key_for(("anna", "ben", "dev")), course, sheets, ["anna"])
    assert ("anna", "dev") == found.learners
    assert "fit the lab of dev" in found.words


def test_answers_to_a_neighbours_questions_are_for_a_talk(course):
    """Answers that are wrong for their own questions and right for another's are named; one's own are not."""
    key = KEYS["questions"]
    answers = {}
    for learner in ("anna", "ben"):
        asked = enumerate(questions_held(key, learner), 1)
        answers[learner] = {at: one.expected if one.form in ("number", "choice") else list(one.expected) for at, one in asked}
    sheets = {"anna": QuestionSheet("anna", "", answers["ben"]), "ben": QuestionSheet("ben", "", answers["ben"])}
    (found,) = alike(key, course, sheets, sheets)
    assert ("anna", "ben") == found.learners


def test_processes_change_nothing(course):
    """Two processes give, in the same order, what one gives."""
    for learner in ("anna", "ben", "carla"):
        handed_in(course, learner, sheet_of(lucky, learner))
    handed_in(course, "dev", b"{")
    folders = Course.opened(course).folders(LAB)
    held = pool.Held(KEYS["job"], course)
    one = list(pool.marked(folders, held, 1))
    assert one == list(pool.marked(folders, held, 2))


def test_a_sheet_that_ends_its_process_stops_nobody(course, monkeypatch):
    """Where marking kills its process the learner is left to a person, and everybody else has their marks."""
    for learner in ("anna", "ben", "carla"):
        handed_in(course, learner, sheet_of(lucky, learner))
    whole, held = pool._one, pool.Held(KEYS["job"], course)

    def killing(folder, told):
        if folder.parent.name == "ben":
            os._exit(1)
        return whole(folder, told)

    monkeypatch.setattr(pool, "_one", killing)  # what a forked process inherits
    found = {one.handed_in.learner: one.result for one in pool.marked(Course.opened(course).folders(LAB), held, 2)}
    assert ["anna", "ben", "carla"] == list(found)
    assert "ended the process" in found["ben"].problem
    assert found["ben"].review
    assert found["anna"].points > 0
    assert found["carla"].points > 0


def test_what_is_known_of_a_job_is_kept_and_changes_nothing(course):
    """The second grading finds kept what the first worked out, and gives the same marks; a damaged file is worked out again."""
    handed_in(course, "dev", sheet_of(careful, "dev"))
    first = grade(course, LAB)
    known = foretelling.kept(course, KEYS["job"])
    assert {"dev": foretold(job_of("dev"))} == known
    (one,) = pool.marked(Course.opened(course).folders(LAB), pool.Held(KEYS["job"], course, "Write here.", known))
    assert one.fresh is None
    assert first.rows[0].result == one.result == grade(course, LAB).rows[0].result
    path = course / "keys" / f"{LAB}.foretold.json"
    assert 0o600 == path.stat().st_mode & 0o777
    for damage in (b"", b"{}", path.read_bytes().replace(b'"nearest"', b'"nearer"'), path.read_bytes()[:500]):
        path.write_bytes(damage)
        assert {} == foretelling.kept(course, KEYS["job"])
        assert first.rows[0].result == grade(course, LAB).rows[0].result
    odd = json.loads(json.dumps(body_of(known["dev"])).replace('"zone1.', '"nowhere.'))
    strange = known_of(odd)
    assert strange.slots[0].arrivals != known["dev"].slots[0].arrivals
    assert mark(job_of("dev"), parsed(sheet_of(careful, "dev")), known=strange).lines == first.rows[0].result.lines
    other = replace(KEYS["job"], held={"dev": replace(KEYS["job"].held["dev"], attempt=7)})
    assert {} == foretelling.kept(course, other), "what was kept of another job is not of this one"


# tables


def test_marks_and_objectives_are_tables(course):
    """marks.csv has a line a learner and assignment with a person's points in it; the grid says what was tried and shown."""
    (course / "roster.csv").write_text("id,name,group\nanna,=Anna+1,one\n")
    handed_in(course, "anna", sheet_of(careful, "anna"))
    handed_in(course, "ben", b"")
    report = grade(course, LAB)
    kept(course)
    lines = list(csv.DictReader((course / "marks.csv").open(newline="", encoding="utf-8")))
    assert ["anna", "ben"] == [line["learner"] for line in lines]
    assert (f"{report.row('anna').score:g}", "'=Anna+1", "one") == (lines[0]["score"], lines[0]["name"], lines[0]["group"])
    (anna, ben) = csv.DictReader((course / "objectives.csv").open(newline="", encoding="utf-8"))
    result = report.row("anna").result
    assert set(result.tried) == {name for name, state in anna.items() if name[0].isdigit() and state != "not tried"}
    assert set(result.shown) == {name for name, state in anna.items() if state == "shown once"}
    assert not [name for name, state in ben.items() if name[0].isdigit() and state != "not tried"]
    assert (LAB,) == waiting(course)


def test_an_objective_counts_when_shown_twice_a_day_apart():
    """The grid follows the rule of mastery, with the assignments as seeds and the times at which they were handed in."""
    one = Standing("anna", "a", 1, 1, 0, False, datetime(2026, 10, 1, tzinfo=UTC), ("3.1", "3.2"), ("3.1",))
    again = replace(one, assignment="b", at=datetime(2026, 10, 1, 6, tzinfo=UTC))
    later = replace(one, assignment="b", at=datetime(2026, 10, 3, tzinfo=UTC))
    assert ("shown once", "tried") == tuple(grid([one])["anna"][name] for name in ("3.1", "3.2"))
    assert "shown twice" == grid([one, again])["anna"]["3.1"]
    assert "counts" == grid([one, later])["anna"]["3.1"]
    assert "not tried" == grid([one])["anna"]["1.1"]


def test_reports_are_pages_that_run_nothing(course):
    """The class page and each learner's hold points and objectives, escape whatever a name holds, and run and load nothing."""
    (course / "roster.csv").write_text('id,name,group\nanna,"<script>alert(1)</script>",one\n')
    handed_in(course, "anna", sheet_of(careful, "anna"))
    handed_in(course, "ben", b"")
    row = grade(course, LAB).row("anna")
    folder = report_pages.kept(course)
    assert {"class.html", "anna.html", "ben.html"} == {path.name for path in folder.iterdir()}
    for path in folder.iterdir():
        page = Tags(path.read_text(encoding="utf-8"))
        assert [] == page.acts
        assert not page.links
        assert ("script",) not in page.tags
    whole, anna = (Tags((folder / name).read_text(encoding="utf-8")).text for name in ("class.html", "anna.html"))
    assert f"{row.score:g} of 100" in whole
    assert "<script>alert(1)</script> (anna)" in whole
    for name in row.result.tried:
        assert OBJECTIVES[name] in anna


def test_the_class_page_says_what_to_talk_over(course):
    """A log that does not replay is named with its learner and lab, in words that cannot act; who has none is not there."""
    body = json.loads(sheet_of(lucky, "anna"))
    body["log"][0] |= {"text": SCRIPT, "value": 3.5}
    handed_in(course, "anna", json.dumps(body))
    handed_in(course, "ben", sheet_of(lucky, "ben"))
    (flag,) = grade(course, LAB).row("anna").result.flags
    page = Tags((report_pages.kept(course) / "class.html").read_text(encoding="utf-8"))
    assert [] == page.acts
    assert SCRIPT.split()[0] in flag
    assert plain(flag) in page.text
    talk = page.text.partition("For a talk, no marks")[2].partition("Objectives")[0]
    assert "anna" in talk
    assert "ben" not in talk


def test_a_table_that_cannot_be_written_leaves_the_old_one(course, monkeypatch):
    """When the disk is full both tables stay as they were."""
    handed_in(course, "anna", b"")
    grade(course, LAB)
    kept(course)
    before = (course / "marks.csv").read_bytes()
    handed_in(course, "ben", b"")
    grade(course, LAB)
    monkeypatch.setattr(os, "fsync", _full)
    with pytest.raises(OSError, match="No space"):
        kept(course)
    assert before == (course / "marks.csv").read_bytes()
    assert [] == [path.name for path in course.iterdir() if path.suffix == ".tmp"]


def test_our_feedback_says_what_stock_feedback_says(course):
    """Every reason, a person's comment and points, and the learner's words stand in both pages, and none of them acts."""
    body = json.loads(sheet_of(lucky, "anna"))
    body["verdict"] |= {"explanation": SCRIPT}
    handed_in(course, "anna", json.dumps(body))
    grade(course, LAB)
    with Gradebook(f"sqlite:///{course}/gradebook.db", "call-for-heat") as book:
        book.find_grade("explanation", LAB, LAB, "anna").manual_score = 7
        book.find_comment("explanation", LAB, LAB, "anna").manual_comment = f"Well told. {SCRIPT}"
        book.db.commit()
    row = grade(course, LAB).row("anna")
    ours = Tags(feedback(course, "anna"))
    nbgrader(course, "generate_feedback", LAB, "--force")
    theirs = Tags(feedback(course, "anna"))
    assert [] == ours.acts
    for page in (ours, theirs):
        assert "Well told." in page.text
        assert "document.title='taken'" in page.text
        for line in row.result.lines:
            assert all(reason in page.text for reason in line.reasons)
    assert f"{row.score:g} of 100 points" in ours.text


def _full(_):
    raise OSError(errno.ENOSPC, "No space left on device")
