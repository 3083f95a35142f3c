"""Making a class's labs: roster, secret, key, draws that are fair and differ, files whole or not at all, checks, commands."""

import base64
import gzip
import hashlib
import hmac
import json
import os
import re
import shutil
import zlib
from itertools import combinations, pairwise
from pathlib import Path

import nbformat
import pytest
from nbgrader import nbgraderformat

from solvers.__main__ import run
from solvers.chapters.drawing import proved
from solvers.classroom import class_set, making
from solvers.classroom.checking import labs_checked
from solvers.classroom.checking import told as checked_told
from solvers.classroom.class_set import ALIKE_WITHIN, CannotDraw, likeness, neighbours
from solvers.classroom.course_secret import course_secret
from solvers.classroom.demo import HABITS, demonstrated
from solvers.classroom.demo_learners import careful
from solvers.classroom.errors import ClassroomError, NoSuchAssignment, NotAFolder, NotEnrolled
from solvers.classroom.files import Staged
from solvers.classroom.foretelling import kept
from solvers.classroom.given_away import found_in, texts
from solvers.classroom.keys import BadKey, Held, Key, job_held, key_of, key_path, keys_of, parsed, questions_held, written
from solvers.classroom.lab_notebooks import lab_notebook
from solvers.classroom.labs import KINDS, criteria_of, lab_file, named, planned
from solvers.classroom.making import labs_made, next_steps, told
from solvers.classroom.roster import MOST_LEARNERS, Learner, roster
from solvers.classroom.seeds import secret_seed, seed_of
from solvers.classroom.terms import BadTerm, term
from solvers.jobs.foretold import foretold
from solvers.jobs.graded import NotSealable
from solvers.jobs.marking import mark
from solvers.jobs.question_set import asked_of
from solvers.jobs.sealed import SealedBench, opened
from solvers.jobs.sealed import named as by_id

EXERCISES = Path(__file__).resolve().parent.parent / "exercises"
CLASS = tuple(Learner(f"learner-{number:02}", f"Learner {number}") for number in range(1, 13))
JOB = planned("03-heater-loops", "job", "heater-loops", 1)
SET = planned("03-sums", "questions", "heater-loops", 1, questions=5)
TABLE = planned("04-table", "wire-up", "end-switches", 1, task="drawn:3", due="2027-01-15T18:00")


@pytest.fixture
def unsealed(monkeypatch):
    """Jobs go out with nothing in them but their names: what a sealed file holds is not what is tested."""

    def sealed(key, learner):
        return json.dumps({"name": seed_of(key.assignment, learner)}).encode() if key.kind == "job" else real(key, learner)

    real = class_set.sealed_lab
    monkeypatch.setattr(class_set, "sealed_lab", sealed)
    monkeypatch.setattr(making, "sealed_lab", sealed)


@pytest.fixture(scope="module")
def sealed_course(tmp_path_factory):
    """A course with one lab of each kind for two learners, the job really sealed."""
    course = tmp_path_factory.mktemp("sealed")
    labs_made(course, [JOB, SET, TABLE], CLASS[:2], workers=2)
    return course


@pytest.fixture
def course(sealed_course, tmp_path):
    """A copy of that course."""
    return shutil.copytree(sealed_course, tmp_path / "course")


def files(folder):
    """Every file of a folder with its bytes and its mode."""
    return {
        path.relative_to(folder).as_posix(): (path.read_bytes(), path.stat().st_mode)
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


# the roster


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_a_roster_is_read_in_its_order(tmp_path, mark):
    """Ids are written one way, blank lines are passed over, and so is the mark that spreadsheets put before UTF-8."""
    path = tmp_path / "roster.csv"
    path.write_bytes(mark + 'id,name,group\r\nZoe,Zoë Q,a\r\n\r\n ben ,"Orrin, Ben",\r\n'.encode())
    assert (Learner("zoe", "Zoë Q", "a"), Learner("ben", "Orrin, Ben", "")) == roster(path)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "names nobody"),
        (b"id,name,group\n", "names nobody"),
        (b"id;name;group\nanna;A;\n", r"line 1 is 'id;name;group'; it must be 'id,name,group'"),
        (b"name,id,group\n", "line 1 is 'name,id,group'"),
        (b"id,name,group\nanna,A\n", r"line 2 has 2 values, 'anna,A'; it must have 3"),
        (b"id,name,group\nanna,A,g,h\n", r"line 2 has 4 values"),
        (b"id,name,group\nanna,A,\nben,B,\nANNA,C,\n", r"line 4 gives the id 'anna', which line 2 has already"),
        (b"id,name,group\n../x,A,\n", r"line 2: '\.\./x' is no learner id"),
        (b"id,name,group\n,A,\n", r"line 2: '' is no learner id"),
        (b"id,name,group\nanna,,\n", "line 2 gives 'anna' no name"),
        (b"id,name,group\nanna,A\x07,\n", r"line 2: the name .* must be at most 80 printable"),
        (b"id,name,group\nanna," + b"A" * 81 + b",\n", "line 2: the name"),
        (b"id,name,group\nanna,J\xf6rg,\n", "line 2 holds the byte 0xf6, which is not UTF-8"),
        ("id,name,group\nanna,A,\n".encode("utf-16"), "line 1 holds the byte 0xff"),
        (b"id,name,group\nan\x00na,A,\n", "line 2 holds a zero byte"),
        (b'id,name,group\nanna,"A,\n', "is not CSV"),
        (b"id,name,group\n" + b"".join(b"l%d,L,\n" % n for n in range(MOST_LEARNERS + 1)), "line 502 is one too many"),
        (b"id,name,group\n" + b"x" * 300_000, "300014 bytes"),
    ],
)
def test_a_roster_that_is_wrong_says_where_and_what(tmp_path, data, words):
    """The message names the file, the line, what stands there and what should."""
    path = tmp_path / "roster.csv"
    path.write_bytes(data)
    with pytest.raises(ClassroomError, match=words) as caught:
        roster(path)
    assert str(caught.value).startswith("roster.csv")


# the secret, seeds and names


def test_the_secret_is_made_once_and_is_its_owner_s(tmp_path):
    """It has 32 bytes, nobody else can read it, it stays what it is, and two courses have two."""
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    first = course_secret(tmp_path / "a")
    assert 32 == len(bytes.fromhex(first))
    assert first == course_secret(tmp_path / "a") != course_secret(tmp_path / "b")
    path = tmp_path / "a" / "keys" / "course.secret"
    assert (0o600, 0o700) == (path.stat().st_mode & 0o777, path.parent.stat().st_mode & 0o777)


@pytest.mark.parametrize("inside", ["source", "release", "source/03-heater-loops"])
def test_no_secret_is_made_where_learners_look(tmp_path, inside):
    """A course that is itself in the source or release of another is refused, and nothing is written."""
    (tmp_path / "nbgrader_config.py").touch()
    (tmp_path / inside).mkdir(parents=True)
    with pytest.raises(ClassroomError, match="which learners get"):
        course_secret(tmp_path / inside)
    assert not list(tmp_path.rglob("course.secret"))


def test_no_secret_is_made_through_a_link_into_what_learners_get(tmp_path):
    """A `keys` that leads into `release` is refused."""
    (tmp_path / "release").mkdir()
    (tmp_path / "keys").symlink_to(tmp_path / "release", target_is_directory=True)
    with pytest.raises(ClassroomError, match="release/, which learners get"):
        course_secret(tmp_path)


@pytest.mark.parametrize("data", [b"", b"00", b"x" * 64, b"0" * 63, b"0" * 66])
def test_a_damaged_secret_is_not_replaced(tmp_path, data):
    """Another secret would draw other labs: the instructor is told to put the copy back."""
    (tmp_path / "keys").mkdir()
    (tmp_path / "keys" / "course.secret").write_bytes(data)
    with pytest.raises(ClassroomError, match="damaged"):
        course_secret(tmp_path)
    assert data == (tmp_path / "keys" / "course.secret").read_bytes()


def test_a_secret_seed_is_a_keyed_hash_of_all_that_tells_labs_apart():
    """It is HMAC-SHA-256 as RFC 2104 has it, over assignment, learner and label; none of them can be changed without it."""
    secret = "0f" * 32
    inner = hashlib.sha256(bytes(0x36 ^ 0x0F for _ in range(32)) + b"\x36" * 32 + b"03-heater-loops/anna/2027").digest()
    outer = hashlib.sha256(bytes(0x5C ^ 0x0F for _ in range(32)) + b"\x5c" * 32 + inner).hexdigest()
    assert outer == secret_seed(secret, "03-heater-loops", "Anna", "2027")
    others = [("03-heater-loops", "ben", "2027"), ("04-end-switches", "anna", "2027"), ("03-heater-loops", "anna", "2028")]
    assert 4 == len({outer, *(secret_seed(secret, *one) for one in others)})
    assert outer != hmac.new(b"\x0e" * 32, b"03-heater-loops/anna/2027", "sha256").hexdigest()


# plans and terms


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({"assignment": "../x"}, r"assignment is '\.\./x'"),
        ({"assignment": 3}, "assignment is 3"),
        ({"kind": "essay"}, "kind is 'essay'; there are job, wire-up, questions"),
        ({"chapter": "heater"}, "chapter is 'heater'; there are step-down-power, .*service-calls"),
        ({"level": 4}, "level is 4; heater-loops has 1, 2, 3"),
        ({"level": True}, "level is True"),
        ({"title": "x" * 121}, "title is"),
        ({"due": "soon"}, "due is 'soon'; give a day and a time, for instance 2027-01-15T18:00"),
        ({"due": 7}, "due is 7"),
        ({"task": "W7"}, "task is 'W7'; a lab of kind 'job' takes none"),
        ({"questions": 8}, "questions is 8; a lab of kind 'job' takes none"),
        ({"kind": "wire-up"}, "task: no wire-up None; there are W1, .* drawn:6"),
        ({"kind": "wire-up", "task": "W99"}, "task: no wire-up 'W99'"),
        ({"kind": "questions"}, "questions is None; give 1 to 40"),
        ({"kind": "questions", "questions": 0}, "questions is 0; give 1 to 40"),
        ({"kind": "questions", "questions": 41}, "questions is 41"),
    ],
)
def test_a_plan_that_cannot_be_names_the_field_and_the_choices(given, words):
    """Whatever an instructor mistypes is answered with what stands there and what could."""
    plan = {"assignment": "a", "kind": "job", "chapter": "heater-loops", "level": 1} | given
    with pytest.raises(ClassroomError, match=words):
        planned(**plan)


def test_a_lab_is_called_after_its_chapter_where_nobody_says_otherwise():
    """The chapter's number comes first, and the second of a sort has its own."""
    assert "01-step-down-power" == named("step-down-power")
    assert "05-service-calls-3" == named("service-calls", 3)
    assert ("mine", "mine-2") == (named("service-calls", 1, "mine"), named("service-calls", 2, "mine"))


TERM = 'title = "A"\nroster = "r.csv"\nseed = "2027"\n'
LAB = '[[labs]]\nassignment = "a"\nchapter = "heater-loops"\n'


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "labs must be 1 to 100 tables"),
        ("x = ", "is no TOML"),
        (TERM + LAB + "colour = 1\n", r"term.toml: labs\[0\] holds 'colour'; there are assignment, chapter"),
        ("teacher = 1\n" + LAB, "term.toml holds 'teacher'; there are labs, roster, seed, title"),
        ("title = 3\n" + LAB, "term.toml: title is 3"),
        (TERM + "[[labs]]\nchapter = 'heater-loops'\n", r"labs\[0\] has no assignment"),
        (TERM + LAB + LAB.replace("heater-loops", "heat"), r"labs\[1\].chapter is 'heat'; there are"),
        (TERM + LAB + LAB, r"labs\[1\].assignment is 'a', which labs\[0\] has already"),
        (TERM + LAB + "due = 2027-01-15\n", r"labs\[0\].due is '2027-01-15'"),
        (TERM + "labs = [1]\n", r"labs\[0\] is 1"),
        (TERM + "labs = 1\n", "labs must be"),
    ],
)
def test_a_term_that_is_wrong_says_where_and_what(tmp_path, text, words):
    """The message has the path of the field, what stands there and the choices."""
    path = tmp_path / "term.toml"
    path.write_text(text)
    with pytest.raises(ClassroomError, match=words):
        term(path)


def test_a_term_takes_what_toml_has(tmp_path):
    """A time of TOML's own is a due time; what is left out has its usual value."""
    (tmp_path / "term.toml").write_text(TERM + LAB + "due = 2027-01-15T18:00:00\n")
    found = term(tmp_path / "term.toml")
    assert ("A", tmp_path / "r.csv", "2027") == (found.title, found.roster, found.seed)
    assert (planned("a", "job", "heater-loops", 1, due="2027-01-15T18:00"),) == found.labs


def test_bytes_that_are_no_text_are_no_term(tmp_path):
    """A term in another encoding is refused as such."""
    (tmp_path / "term.toml").write_bytes(b"title = '\xff'\n")
    with pytest.raises(BadTerm, match="not UTF-8"):
        term(tmp_path / "term.toml")


# what is shipped


SHIPPED = term(EXERCISES / "term.toml").labs


def test_there_are_two_labs_of_every_chapter_and_more_than_one_kind():
    """At least ten labs, each chapter with a job and something of another kind; the first heater lab keeps its name."""
    assert len(SHIPPED) >= 10
    chapters = {plan.chapter for plan in SHIPPED}
    assert 5 == len(chapters)
    for chapter in chapters:
        kinds = [plan.kind for plan in SHIPPED if plan.chapter == chapter]
        assert "job" in kinds
        assert len(set(kinds)) > 1
    assert "03-heater-loops" in [plan.assignment for plan in SHIPPED]


@pytest.mark.parametrize("plan", SHIPPED, ids=lambda plan: plan.assignment)
def test_a_shipped_lab_has_its_notebook_and_its_notes(plan):
    """The notebook is the one that is written for its plan, and the notes say all that an instructor needs."""
    folder = EXERCISES / "source" / plan.assignment
    assert lab_notebook(plan) == (folder / f"{plan.assignment}.ipynb").read_bytes()
    notes = (EXERCISES / "notes" / f"{plan.assignment}.md").read_text(encoding="utf-8")
    heads = re.findall(r"^## (.*)$", notes, flags=re.MULTILINE)
    assert ["What it trains", "Time limit", "Common slips", "Marks", "To make it again"] == [h for h in heads if "One q" not in h]
    assert any(head.startswith("One question for each learner") for head in heads)
    assert set(re.findall(r"\d\.\d\b", notes))


def test_the_shipped_roster_names_twelve_invented_learners():
    """Everybody in it says that they are invented."""
    learners = roster(EXERCISES / "roster.csv")
    assert 12 == len(learners)
    assert all("(invented)" in one.name for one in learners)


@pytest.mark.parametrize("plan", [JOB, SET, TABLE], ids=lambda plan: plan.kind)
def test_a_notebook_is_one_that_nbgrader_takes(plan, tmp_path):
    """It is a notebook of its format, has one grade cell for each criterion with its points, and no cell twice."""
    path = tmp_path / "lab.ipynb"
    path.write_bytes(lab_notebook(plan))
    notebook = nbgraderformat.read(path, as_version=4)
    nbformat.validate(notebook)
    marks = [cell.metadata.nbgrader for cell in notebook.cells]
    assert len(marks) == len({one.grade_id for one in marks})
    graded = {one.grade_id: one.points for one in marks if one.grade}
    assert {one.grade_id: one.out_of for one in criteria_of(plan.kind)} == graded
    assert all(one.locked != one.solution for one in marks)


# drawing a class


@pytest.fixture(scope="module")
def twelve(tmp_path_factory):
    """The key of a class of twelve, and how many draws it took; drawn without sealing."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(class_set, "sealed_lab", lambda key, learner: seed_of(key.assignment, learner).encode())
        course = tmp_path_factory.mktemp("twelve")
        (made,) = labs_made(course, [JOB], CLASS, workers=2)
        return key_of(course, JOB.assignment), made


def test_everybody_has_a_job_as_hard_as_the_others(twelve):
    """All of a class lie within half a point to either side of its middle, and the index is that of the proven job."""
    key, _ = twelve
    assert [one.id for one in CLASS] == list(key.held)
    found = [held.difficulty for held in key.held.values()]
    assert max(found) - min(found) <= 2 * ALIKE_WITHIN
    for learner in list(key.held)[:3]:
        job = job_held(key, learner)
        assert job.difficulty == proved(job).difficulty
        assert [one.id for one in job.suspects] == list(key.held[learner].kept)


def test_what_marking_asks_of_a_job_is_kept_when_it_is_made(tmp_path, unsealed):
    """Beside the key lies, for its owner alone, what is foretold of every job; nothing of a set of questions."""
    labs_made(tmp_path, [JOB, SET], CLASS[:2])
    key = key_of(tmp_path, JOB.assignment)
    assert {learner: foretold(job_held(key, learner)) for learner in key.held} == kept(tmp_path, key)
    path = tmp_path / "keys" / f"{JOB.assignment}.foretold.json"
    assert 0o600 == path.stat().st_mode & 0o777
    assert not (tmp_path / "keys" / f"{SET.assignment}.foretold.json").exists()


def test_no_two_have_the_same_job_and_neighbours_differ_more(twelve):
    """Twelve faults that differ in row, zone or branch, in twelve houses; beside each other they differ in two of the three."""
    key, _ = twelve
    like = {learner: likeness(key, learner) for learner in key.held}
    assert all(like[one].apart(like[other]) >= 1 for one, other in combinations(like, 2))
    assert all(like[one].apart(like[other]) >= 2 for one, other in pairwise(like))
    assert all(like[one].built != like[other].built for one, other in combinations(like, 2))


def test_every_job_has_one_fault_and_its_public_name(twelve):
    """What a learner's sheet calls the job tells nothing: the secret seed is nowhere in it."""
    key, made = twelve
    assert made.tries >= len(CLASS)
    for learner, held in key.held.items():
        job = job_held(key, learner)
        assert (1, seed_of(key.assignment, learner)) == (len(job.faults), job.seed)
        assert held.seed not in repr(job)


def test_a_draw_that_cannot_be_sealed_gives_way_to_the_next(tmp_path, monkeypatch):
    """What sealing refuses is not handed out: the learner gets a later draw."""
    refused = []

    def picky(key, learner):
        if len(refused) < 2:
            refused.append(key.held[learner].attempt)
            raise NotSealable("not this one")
        return b"{}"

    monkeypatch.setattr(class_set, "sealed_lab", picky)
    (made,) = labs_made(tmp_path, [JOB], CLASS[:1])
    held = key_of(tmp_path, JOB.assignment).held[CLASS[0].id]
    assert held.attempt > refused[1] > refused[0]
    assert made.tries >= 3


def test_a_class_that_nothing_fits_is_told_so_and_nothing_is_written(tmp_path, monkeypatch):
    """Where no draw will do, the message names the learner and what to try, and no lab is left behind."""

    def never(key, learner):
        raise NotSealable("none")

    monkeypatch.setattr(class_set, "sealed_lab", never)
    monkeypatch.setattr(class_set, "MOST_TRIES", 3)
    with pytest.raises(CannotDraw, match=r"no lab for learner-01 in 3 draws .* another level, seed or a smaller class"):
        labs_made(tmp_path, [JOB], CLASS[:1])
    assert [tmp_path / "keys" / "course.secret"] == [path for path in tmp_path.rglob("*") if path.is_file()]


def test_who_sits_beside_whom_is_the_roster_s_order():
    """The first and the last have one neighbour, the others two, and a stranger none."""
    order = ["a", "b", "c"]
    assert [("b",), ("a", "c"), ("b",), ()] == [neighbours(order, one) for one in ("a", "b", "c", "x")]


@pytest.mark.parametrize("plan", [SET, TABLE], ids=lambda plan: plan.kind)
def test_any_number_of_processes_makes_the_same_labs(tmp_path, plan):
    """Two courses of one secret have the same files, whether one process drew them or two."""
    found = []
    for workers in (1, 2):
        course = tmp_path / str(workers)
        (course / "keys").mkdir(parents=True)
        (course / "keys" / "course.secret").write_text("ab" * 32)
        labs_made(course, [plan], CLASS[:5], workers=workers)
        found.append(files(course))
    assert found[0] == found[1]


def test_another_label_or_secret_draws_another_class(tmp_path):
    """A new year gets new questions from the same secret."""
    found = []
    for course, label in ((tmp_path / "a", "2027"), (tmp_path / "b", "2028")):
        (course / "keys").mkdir(parents=True)
        (course / "keys" / "course.secret").write_text("ab" * 32)
        labs_made(course, [SET], CLASS[:1], label=label)
        found.append(questions_held(key_of(course, SET.assignment), CLASS[0].id))
    assert found[0] != found[1]


def test_a_set_asks_everybody_the_same_kinds_with_other_numbers(tmp_path):
    """A class's questions are of one sort, and no learner's are another's."""
    labs_made(tmp_path, [SET], CLASS)
    key = key_of(tmp_path, SET.assignment)
    sets = {learner: questions_held(key, learner) for learner in key.held}
    assert 1 == len({tuple(one.kind for one in questions) for questions in sets.values()})
    assert len(CLASS) == len({tuple(map(asked_of, questions)) for questions in sets.values()})


# files, whole or not at all


def test_who_joins_late_gets_a_lab_and_nothing_else_changes(tmp_path, unsealed):
    """Files and held seeds of those who were there stay byte for byte; a second run changes nothing at all."""
    labs_made(tmp_path, [JOB, SET, TABLE], CLASS[:4])
    before, keys = files(tmp_path), {name: key_of(tmp_path, name) for name in keys_of(tmp_path)}
    made = labs_made(tmp_path, [JOB, SET, TABLE], (CLASS[4], *CLASS[:4]))
    after = files(tmp_path)
    assert [(CLASS[4].id,)] * 3 == [one.new for one in made]
    assert {name for name in after if name not in before} == {
        lab_file(tmp_path, name, key.kind, CLASS[4].id).relative_to(tmp_path).as_posix() for name, key in keys.items()
    }
    assert {name for name in before if before[name] != after[name]} == {
        *(f"keys/{name}.key.json" for name in keys),
        f"keys/{JOB.assignment}.foretold.json",
    }
    for name, key in keys.items():
        now = key_of(tmp_path, name)
        assert key.held == {learner: now.held[learner] for learner in key.held}
    labs_made(tmp_path, [JOB, SET, TABLE], CLASS[:5])
    assert after == files(tmp_path)


def test_a_lost_file_is_put_back_as_it_was(course):
    """What was handed out can be made again from the key, to the byte, the sealed job too."""
    before = files(course)
    for name in keys_of(course):
        lab_file(course, name, key_of(course, name).kind, CLASS[0].id).unlink()
    made = labs_made(course, [JOB, SET, TABLE], CLASS[:2])
    assert [(CLASS[0].id,)] * 3 == [one.restored for one in made]
    assert before == files(course)


def test_a_lost_file_that_cannot_be_made_again_is_told(course):
    """Where the key's digest is another, the instructor is told to put the copy back, and nothing is written."""
    path = key_path(course, SET.assignment)
    path.write_text(path.read_text().replace(key_of(course, SET.assignment).held[CLASS[0].id].digest, "0" * 64))
    lab_file(course, SET.assignment, SET.kind, CLASS[0].id).unlink()
    before = files(course)
    with pytest.raises(ClassroomError, match="cannot be made again as it was"):
        labs_made(course, [SET], CLASS)
    assert before == files(course)


@pytest.mark.parametrize("at", ["drawing", "writing"])
def test_an_interrupted_run_leaves_the_course_as_it_was(tmp_path, monkeypatch, unsealed, at):
    """Neither a stop while labs are drawn nor a full disk while they are written leaves a file, and the next run makes all."""
    labs_made(tmp_path, [SET], CLASS[:2])
    before, written_files = files(tmp_path), []

    def stop(*given):
        if at == "drawing":
            raise KeyboardInterrupt

    def full(self, path, data, **more):
        written_files.append(path)
        if len(written_files) == 3:
            raise OSError(28, "No space left on device")
        return add(self, path, data, **more)

    add = Staged.add
    monkeypatch.setattr(Staged, "add", full)
    with pytest.raises(KeyboardInterrupt if at == "drawing" else OSError):
        labs_made(tmp_path, [SET], CLASS[:5], progress=stop)
    monkeypatch.undo()
    assert before == files(tmp_path)
    (made,) = labs_made(tmp_path, [SET], CLASS[:5])
    assert tuple(one.id for one in CLASS[2:5]) == made.new


def test_a_plan_at_odds_with_what_is_there_is_refused_before_anything_is_drawn(tmp_path):
    """The message says what differs; the other labs of the plan are not made either."""
    labs_made(tmp_path, [SET], CLASS[:1])
    before = files(tmp_path)
    other = planned("03-sums", "questions", "heater-loops", 2, questions=5)
    with pytest.raises(ClassroomError, match="03-sums is there with level 1, not 2; give another --assignment"):
        labs_made(tmp_path, [TABLE, other], CLASS)
    assert before == files(tmp_path)


def test_labs_without_their_key_are_not_drawn_over(tmp_path):
    """A lost key is told, for with another one the files of learners would be worthless."""
    labs_made(tmp_path, [SET], CLASS[:1])
    key_path(tmp_path, SET.assignment).unlink()
    (tmp_path / "keys" / "course.secret").unlink()
    before = files(tmp_path)
    with pytest.raises(ClassroomError, match=r"has labs but no key: put back keys/03-sums\.key\.json"):
        labs_made(tmp_path, [SET], CLASS[:1])
    assert before == files(tmp_path)  # and no other secret is made


def test_a_due_time_can_be_moved_and_a_notebook_is_not_overwritten(tmp_path):
    """A later run may say another due time; what an instructor wrote into the notebook stays."""
    labs_made(tmp_path, [TABLE], CLASS[:1])
    notebook = tmp_path / "source" / TABLE.assignment / f"{TABLE.assignment}.ipynb"
    notebook.write_text("my own")
    later = planned("04-table", "wire-up", "end-switches", 1, task="drawn:3", due="2027-02-01T12:00")
    made = labs_made(tmp_path, [later], CLASS[:1])
    assert ("my own", "2027-02-01T12:00") == (notebook.read_text(), key_of(tmp_path, TABLE.assignment).due)
    assert ("Labs:\n  04-table  nothing new, 1 there already: ", "") == (
        told(made).partition("Wire")[0],
        next_steps(made),
    )


def test_a_course_that_is_not_there_is_told(tmp_path):
    """No folder is made for a mistyped name."""
    with pytest.raises(NotAFolder, match="no folder"):
        labs_made(tmp_path / "typo", [SET], CLASS)
    assert [] == list(tmp_path.iterdir())


# keys


def test_a_key_is_read_as_it_was_written():
    """All that it holds survives the way through its file."""
    key = Key("a", "job", "heater-loops", 1, "A lab", held={"anna": Held("0f" * 32, 3, ("x", "y"), 4.67, "ab" * 32)})
    assert key == parsed(written(key))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda body: body.update(format="x"), "format is 'x'"),
        (lambda body: body.update(kind="x"), "kind is 'x'; there are job"),
        (lambda body: body.update(chapter="x"), "chapter is 'x'"),
        (lambda body: body.update(level=9), "level is 9"),
        (lambda body: body.update(more=1), "unknown \\['more'\\]"),
        (lambda body: body.update(held=[]), "held must be an object"),
        (lambda body: body["held"].update({"../x": {}}), "no learner id"),
        (lambda body: body["held"]["anna"].update(seed="short"), r"held\['anna'\].seed is no seed"),
        (lambda body: body["held"]["anna"].update(attempt=-1), r"held\['anna'\].attempt"),
        (lambda body: body["held"]["anna"].update(difficulty=True), r"held\['anna'\].difficulty"),
        (lambda body: body["held"]["anna"].update(kept="x"), r"held\['anna'\].kept"),
    ],
)
def test_a_damaged_key_says_where(change, words):
    """The message has the path of the field; a key is never half believed."""
    body = json.loads(written(Key("a", "job", "heater-loops", 1, "", held={"anna": Held("0f" * 32)})))
    change(body)
    with pytest.raises(ClassroomError, match=words):
        parsed(json.dumps(body))


def test_who_has_no_lab_is_told_who_has(course):
    """A stranger, a mistyped assignment and a key under another name are each answered with what there is."""
    key = key_of(course, JOB.assignment)
    with pytest.raises(NotEnrolled, match="'zoe' has no lab in 03-heater-loops; those who have one: learner-01, learner-02"):
        job_held(key, "zoe")
    with pytest.raises(NoSuchAssignment, match="03-heater-loops, 03-sums, 04-table"):
        key_of(course, "03-heater")
    with pytest.raises(ClassroomError, match="is of kind 'job', not 'questions'"):
        questions_held(key, CLASS[0].id)
    os.replace(key_path(course, SET.assignment), key_path(course, "99-other"))
    with pytest.raises(BadKey, match="is the key of '03-sums'"):
        key_of(course, "99-other")


def test_a_key_whose_job_is_drawn_no_more_is_not_graded_by(course):
    """A package that draws another job than the key knows says so, and marks nothing."""
    key = key_of(course, JOB.assignment)
    held = key.held[CLASS[0].id]
    other = Key(key.assignment, "job", key.chapter, 1, "", held={CLASS[0].id: Held(held.seed, held.attempt, ("no such row",))})
    with pytest.raises(BadKey, match="grade with the version that made it"):
        job_held(other, CLASS[0].id)


def test_keys_are_their_owner_s(course):
    """Nobody else on the machine can read them."""
    assert all(0o600 == path.stat().st_mode & 0o777 for path in (course / "keys").iterdir())


# checking, with really sealed jobs


def test_what_was_made_is_sound(course):
    """Every lab of every kind passes its check, a sealed one goes through mail, and the table names everybody."""
    for name in keys_of(course):
        report = labs_checked(course, name)
        assert report.sound, checked_told(report)
        assert all(lab.learner in checked_told(report) and lab.size <= 500_000 for lab in report.labs)


def test_a_sealed_job_can_be_worked_to_full_points(course):
    """Who works the file with care gets all of the machine's points on the job that the key holds."""
    key, learner = key_of(course, JOB.assignment), CLASS[0].id
    job = job_held(key, learner)
    bench = SealedBench(opened(lab_file(course, JOB.assignment, "job", learner).read_bytes()), learner)
    assert 90 == mark(job, by_id(careful(bench, job).sheet(), job)).points


def test_a_changed_or_missing_file_is_told(course):
    """A lab file that is not the one that was made, and one that is gone, make the assignment unsound."""
    first, second = (lab_file(course, SET.assignment, "questions", one.id) for one in CLASS[:2])
    whole = first.read_bytes()
    first.write_bytes(b"")
    assert "is not the file that was made" in labs_checked(course, SET.assignment).labs[0].problems[0]
    first.write_bytes(whole.replace(b"heater", b"HEATER", 1))
    second.unlink()
    report = labs_checked(course, SET.assignment)
    assert not report.sound
    assert "is not the file that was made" in report.labs[0].problems[0]
    assert (f"{second.name} is not there; labs new puts it back",) == report.labs[1].problems
    assert "Not to be released" in checked_told(report)


def test_a_release_that_is_not_up_to_date_is_told(course):
    """Once an assignment has been generated, who joined later has to be in it too."""
    labs = course / "source" / SET.assignment / "labs"
    shutil.copytree(labs, course / "release" / SET.assignment / "labs")
    assert labs_checked(course, SET.assignment).sound
    (course / "release" / SET.assignment / "labs" / f"{CLASS[1].id}.questions.json").unlink()
    report = labs_checked(course, SET.assignment)
    assert report.sound
    assert "release has no file for learner-02; run nbgrader generate_assignment --force 03-sums" == report.labs[1].stale
    assert report.labs[1].stale in checked_told(report)


def test_two_learners_with_one_lab_are_told(course):
    """One lab under two names is found, and so is a class of which one has it easier."""
    key = key_of(course, TABLE.assignment)
    one, two = (key.held[learner.id] for learner in CLASS[:2])
    same = {CLASS[0].id: one, CLASS[1].id: Held(one.seed, one.attempt, (), two.difficulty + 2, two.digest)}
    text = written(Key(key.assignment, key.kind, key.chapter, key.level, key.title, key.due, key.task, held=same))
    key_path(course, TABLE.assignment).write_text(text)
    lab = lab_file(course, TABLE.assignment, "wire-up", CLASS[1].id)
    other = lab_file(course, TABLE.assignment, "wire-up", CLASS[0].id)
    lab.write_bytes(other.read_bytes())
    key_path(course, TABLE.assignment).write_text(text.replace(two.digest, one.digest))
    report = labs_checked(course, TABLE.assignment)
    assert "learner-01 and learner-02 have the same lab" in report.problems
    assert any(problem.startswith("not equally hard: ") for problem in report.problems)


def packed(data):
    """Bytes as they can be hidden: plain, in JSON, and packed once or twice."""
    zipped = base64.b64encode(zlib.compress(data))
    return {
        "plain": data,
        "json": json.dumps({"cell": [data.decode("latin-1")]}).encode(),
        "base64": b"x = '" + base64.b64encode(b"... " + data) + b"'",
        "zlib": b'{"blob": "' + zipped + b'"}',
        "gzip in urlsafe base64": base64.urlsafe_b64encode(gzip.compress(data)),
        "base85": json.dumps({"blob": base64.b85encode(zlib.compress(data)).decode()}).encode(),
        "twice": base64.b64encode(gzip.compress(b'["' + zipped + b'"]')),
    }


@pytest.mark.parametrize("how", packed(b"x"))
def test_a_secret_is_found_however_it_is_packed(course, how):
    """Wherever in source or release the secret or a seed stands, plain or packed, the check says whose it is and where."""
    for needle, what in (
        (course_secret(course), "the course's secret"),
        (key_of(course, JOB.assignment).held[CLASS[1].id].seed, "the secret seed of learner-02 in 03-heater-loops"),
    ):
        for stage in ("source", "release"):
            path = course / stage / SET.assignment / "helpful.bin"
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(packed(needle.encode())[how])
            problems = labs_checked(course, SET.assignment).problems
            path.unlink()
            assert [f"{stage}/{SET.assignment}/helpful.bin holds {what}"] == list(problems)


def test_a_sealed_job_is_searched_to_its_tape(course):
    """What is packed in a lab file is seen by the search: the words of its tape, which the file itself does not show."""
    data = lab_file(course, JOB.assignment, "job", CLASS[0].id).read_bytes()
    needle = {b'"transformer.R"': "the tape's points"}
    assert ([], ["the tape's points"]) == (found_in([data.partition(b'"tape"')[2]], needle), found_in(texts(data), needle))


def test_a_secret_as_bytes_is_found_too(course):
    """The 32 bytes themselves are as good as their figures."""
    (course / "source" / "notes.bin").write_bytes(b"abc" + bytes.fromhex(course_secret(course)))
    assert ("source/notes.bin holds the course's secret",) == labs_checked(course, SET.assignment).problems


def test_an_answer_in_a_notebook_is_found(course):
    """The right suspect of anybody, and the working of a question, may stand in no notebook."""
    key = key_of(course, JOB.assignment)
    answer = job_held(key, CLASS[1].id).answers[0]
    for name, text in (
        (JOB.assignment, answer),
        (SET.assignment, questions_held(key_of(course, SET.assignment), CLASS[0].id)[0].why),
    ):
        path = course / "source" / name / f"{name}.ipynb"
        notebook = nbformat.read(path, 4)
        notebook.cells[0].source += f"\n{text}"
        nbformat.write(notebook, path)
    (problem,) = {one.partition(" holds ")[2] for one in labs_checked(course, JOB.assignment).problems}
    assert problem in {f"the answer of {one.id} in {JOB.assignment}" for one in CLASS[:2]}
    assert any("working of question 1 of learner-01" in one for one in labs_checked(course, SET.assignment).problems)


def test_what_is_packed_without_end_is_searched_to_an_end():
    """A file that unpacks into far more than it holds is read to a limit, and many layers are no more than a few."""
    bomb = zlib.compress(b"\0" * 100_000_000)
    assert sum(map(len, texts(bomb))) < 100_000_000
    deep = b"a needle and all the hay that lies about it"
    for _ in range(4):
        deep = base64.b64encode(zlib.compress(deep))
    assert ["it"] == found_in(texts(deep), {b"needle": "it", b"other": "not it"})


# the command line


@pytest.mark.parametrize(
    ("words", "told_words"),
    [
        ("labs new", "give either --term with a file, or --chapter; chapters are step-down-power"),
        ("labs new --chapter heat --roster {r}", "chapter is 'heat'; there are step-down-power"),
        ("labs new --chapter heater-loops --level 9 --roster {r}", "level is 9; heater-loops has 1, 2, 3"),
        ("labs new --chapter heater-loops --kind essay --roster {r}", "kind is 'essay'; there are job, wire-up, questions"),
        ("labs new --chapter heater-loops --roster nobody.csv", "no roster 'nobody.csv'"),
        ("labs new --chapter heater-loops", "roster.csv'; it is a CSV file that begins id,name,group"),
        ("labs new --chapter heater-loops --roster {r} --due soon", "due is 'soon'"),
        ("labs new --chapter heater-loops --roster {r} --assignment ../x", "assignment is '../x'"),
        ("labs new --term nowhere.toml", "no term 'nowhere.toml'"),
        ("labs new --term x.toml --level 2 --count 3", "--level, --count: x.toml says that of each lab; leave it out"),
        ("labs check", "yet; make one with labs new"),
        ("labs", "Usage"),
        ("labs old", "no command 'old'; there are check, new"),
    ],
)
def test_wrong_words_get_one_sentence_and_exit_status_2(tmp_path, monkeypatch, capsys, words, told_words):
    """No traceback, the choices, and nothing in the course."""
    path = tmp_path / "r.csv"
    path.write_text("id,name,group\nanna,Anna,\n")
    course = tmp_path / "course"
    course.mkdir()
    more = [] if words in ("labs", "labs old") else ["--course", str(course)]
    monkeypatch.setattr("sys.argv", ["solvers", *words.format(r=path).split(), *more])
    assert 2 == run()
    shown = capsys.readouterr()
    assert told_words in shown.out + shown.err
    assert words == "labs" or 1 == len((shown.out + shown.err).strip().splitlines())
    assert [] == list(course.iterdir())


def test_the_commands_make_check_and_find_fault(tmp_path, monkeypatch, capsys):
    """Labs are made and pass; one byte changed in a lab file, and the check fails with its name and exit status 2."""
    (tmp_path / "roster.csv").write_text("id,name,group\nanna,Anna,\nben,Ben,\n")
    asked = ["--chapter", "heater-loops", "--kind", "questions", "--questions", "3", "--count", "2", "--assignment", "q"]
    more = ["--workers", "1", "--due", "2027-01-15T18:00", "--course", str(tmp_path)]
    monkeypatch.setattr("sys.argv", ["solvers", "labs", "new", *asked, *more])
    assert 0 == run()
    shown = capsys.readouterr()
    assert "nbgrader generate_assignment --force q-2" in shown.out
    assert "2027-01-15T18:00" == key_of(tmp_path, "q-2").due
    assert "Drawing q: 2 of 2" in shown.err
    monkeypatch.setattr("sys.argv", ["solvers", "labs", "check", "--course", str(tmp_path), "--workers", "1"])
    assert 0 == run()
    assert 2 == capsys.readouterr().out.count("All sound.")
    lab = lab_file(tmp_path, "q-2", "questions", "ben")
    lab.write_bytes(lab.read_bytes() + b" ")
    assert 2 == run()
    shown = capsys.readouterr()
    assert "not to be released: q-2\n" in shown.err
    assert "ben: ben.questions.json is not the file that was made" in shown.out


# the demonstration


def test_a_demonstration_wants_an_empty_folder(tmp_path, monkeypatch, capsys):
    """A folder that holds something is named with what it holds, and stays as it is."""
    (tmp_path / "mine.txt").write_text("mine")
    monkeypatch.setattr("sys.argv", ["solvers", "demo", str(tmp_path)])
    assert 2 == run()
    assert f"{tmp_path} is not empty (it holds mine.txt); name an empty folder, or a new one\n" == capsys.readouterr().err
    assert ["mine.txt"] == [path.name for path in tmp_path.iterdir()]


@pytest.mark.slow
def test_the_demonstration_grades_a_class_of_all_kinds(tmp_path, monkeypatch):
    """Everybody's habit shows in the report: full points with care, few for guesses, a reason where nothing could be marked."""
    said = []
    monkeypatch.chdir(tmp_path)
    demonstrated(Path("demo"), EXERCISES, labs=len(KINDS), workers=2, say=said.append)
    assert ["demo"] == [path.name for path in tmp_path.iterdir()]
    assert not (tmp_path / "demo" / "demo").exists()
    reports = [words for words in said if re.match(r"\S+: \d+ submissions", words)]
    assert 3 == len(reports)
    learners = [one.id for one in roster(Path("demo") / "roster.csv")]
    who = dict(zip(HABITS, learners, strict=True))
    for words in reports:
        points = dict(re.findall(r"^  (\S+) +([\d.]+) of", words, flags=re.MULTILINE))
        assert float(points[who["works with care"]]) >= 90
        assert float(points[who["guesses"]]) < float(points[who["works with care"]]) - 30
        assert who["sends nothing"] not in points
        for habit in ("sends a file cut short", "sends an empty file", "sends the sheet of another lab"):
            assert "0.0" == points[who[habit]]
            assert f"  {who[habit]}: " in words
    assert f"  {who['edits the sheet afterwards']}: " in reports[0]
    assert f"  {who['copies a neighbour']}: " in reports[0]
