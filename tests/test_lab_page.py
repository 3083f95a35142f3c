"""Graded labs at the desk behind every screen: each kind opened, worked, refused, handed in and gone on with."""

import json
import subprocess
import sys
from dataclasses import replace

import pytest
from lab_files import JOB, LEARNER, QUESTIONS, SET, TABLE, careful_acts, files, job, sealed_text

from solvers.chapters.heater_loops import CHAPTER
from solvers.jobs import question_set, wiring_task
from solvers.jobs.marking import mark
from solvers.jobs.sealed import named
from solvers.jobs.sheet import parsed
from solvers.jobs.wiring_answer import Wire, Wiring, written
from solvers.screens import labs, page
from solvers.screens.page import LAB_ASKS, Desk

KINDS = ("job", "wire-up", "questions")
NAMES = {"job": f"{JOB}/{LEARNER}", "wire-up": f"{TABLE}/{LEARNER}", "questions": f"{SET}/{LEARNER}"}
CALL = {"do": "call", "stat": "zone2.stat", "on": True}
READ = {"do": "measure", "function": "volts", "first": "transformer.R", "second": "transformer.C"}
ENDS = (("transformer.R", "fuse.in"), ("fuse.out", "zone1.stat.R"), ("zone1.stat.W", "zone1.valve.HA"))
WIRING = Wiring((), tuple(Wire(f"wire {number}", a, b, label=f"L{number}") for number, (a, b) in enumerate(ENDS, 1)))


class Screen:
    """The other end of a desk."""

    def __init__(self):
        self.desk = Desk()

    def ask(self, **request):
        return json.loads(self.desk.handle(json.dumps(request)))

    def open(self, kind):
        answer = self.ask(ask="lab", file=files()[kind])
        assert "error" not in answer
        return answer

    def act(self, number, act):
        return self.ask(ask="act", number=number, act=act)

    def resume(self, kind, sheet):
        return self.ask(ask="lab resume", file=files()[kind], sheet=sheet)

    def refusal(self, kind, sheet):
        return self.resume(kind, sheet)["error"]


@pytest.fixture
def screen():
    return Screen()


def _worked(screen, *acts):
    """The sheet of the sealed job after these acts."""
    number = screen.open("job")["number"]
    for act in acts:
        assert "error" not in screen.act(number, act)
    return screen.ask(ask="sheet", number=number, thinking_s=61)["sheet"]


def _wired(screen):
    """The number of the table with three wires on it."""
    number = screen.open("wire-up")["number"]
    assert "error" not in screen.ask(ask="table wiring", number=number, wiring=written(WIRING))
    return number


def _wired_sheet(screen, **more):
    return screen.ask(ask="table sheet", number=_wired(screen), file=files()["wire-up"], **more)["sheet"]


def _answered(screen, answers, **more):
    return screen.ask(ask="questions sheet", file=files()["questions"], answers=answers, **more)


def _right(question):
    return list(question.expected) if isinstance(question.expected, tuple) else question.expected


@pytest.mark.parametrize("kind", KINDS)
def test_a_lab_file_opens_as_its_kind(screen, kind):
    """Each kind of file is told apart by itself and says whose lab it is."""
    opened = screen.open(kind)
    told = [opened[field] for field in ("kind", "name", "assignment", "learner")]
    assert [kind, NAMES[kind], NAMES[kind].partition("/")[0], LEARNER] == told


def test_a_sealed_job_answers_as_an_open_job_does(screen):
    """A sealed job brings everything that an ordinary one brings, its list of repairs beside."""
    opened = screen.open("job")
    plain = screen.ask(ask="open", chapter=CHAPTER, seed="browser/1", level=1)
    assert set(plain) <= set(opened)
    assert set(plain["job"]) == set(opened["job"])
    assert plain["job"]["repairs"] is None
    assert opened["job"]["repairs"]
    assert [suspect.words for suspect in job().suspects] == [each["words"] for each in opened["job"]["suspects"]]


def test_what_a_graded_bench_enters_by_itself_is_in_the_log(screen):
    """Supplies go together, a line each; and where something still moves a wait comes before the next change."""
    number = screen.open("job")["number"]
    screen.act(number, CALL)
    log = screen.act(number, {"do": "switch", "part": "boiler", "on": False})["view"]["log"]
    kinds = [line["act"]["do"] for line in log]
    assert ["call", "wait", "switch", "switch"] == kinds
    assert {"transformer", "boiler"} == {line["act"]["part"] for line in log[2:]}


def test_a_refusal_is_said_in_words_and_changes_nothing(screen):
    """What the job does not admit is refused by names that people say, and the log stays as it was."""
    number = screen.open("job")["number"]
    before = screen.act(number, READ)["view"]["log"]
    told = screen.act(number, {"do": "lift", "terminal": "transformer.R"})["error"]
    assert "transformer R" in told
    assert set() == {".", "[", "'"} & set(told)
    assert before == screen.act(number, READ)["view"]["log"][:-1]


def test_a_sealed_job_gives_neither_marks_nor_a_look_inside(screen):
    """Marks come from the instructor, before the verdict and after it, and no valve is cut open."""
    number = screen.open("job")["number"]
    verdict = {"do": "verdict", "suspects": ["1"], "proof": [], "explanation": "so", "customer": "well"}
    for _ in range(2):
        assert "marks for graded work come from your instructor" == screen.ask(ask="marks", number=number)["error"]
        assert "graded work" in screen.ask(ask="inside", number=number)["error"]
        screen.act(number, verdict)


def test_a_whole_job_earns_full_marks():
    """The acts of a careful learner, done at the desk, give a sheet that the real job marks in full."""
    acts, _ = careful_acts()
    sheet = parsed(_worked(Screen(), *acts))
    marks = mark(job(), named(sheet, job()))
    assert 90 == marks.points
    assert marks.right
    assert "verdict" in [line.criterion for line in marks.lines if line.points == line.out_of]


@pytest.mark.parametrize("lines", [0, 1, 5, 21])
def test_a_job_is_gone_on_with_where_its_sheet_ends(screen, lines):
    """A sheet brings back the view that it was saved with, and the bench goes on from there."""
    acts, _ = careful_acts()
    begun = screen.open("job")["number"]
    view = {}
    for act in acts[:lines]:
        view = screen.act(begun, act)["view"]
    sheet = screen.ask(ask="sheet", number=begun)["sheet"]
    resumed = screen.resume("job", sheet)
    assert sheet == screen.ask(ask="sheet", number=resumed["number"])["sheet"]
    if view:
        unsaid = {"note"}  # what a good technician notices is said of the last reading only
        assert {name: value for name, value in view.items() if name not in unsaid} == {
            name: value for name, value in resumed["view"].items() if name not in unsaid
        }
    if not resumed["view"]["closed"]:
        assert screen.act(begun, READ)["view"]["shows"] == screen.act(resumed["number"], READ)["view"]["shows"]


def test_a_signed_verdict_comes_back(screen):
    """A sheet with a verdict opens as a closed job with that verdict."""
    _, sheet = careful_acts()
    resumed = screen.resume("job", sheet)
    assert resumed["view"]["closed"]
    again = screen.ask(ask="sheet", number=resumed["number"])["sheet"]
    assert replace(parsed(sheet), thinking_s=0) == replace(parsed(again), thinking_s=0)


def test_a_sheet_that_does_not_fit_names_its_first_line(screen):
    """A reading changed by hand is refused with the number of its line, what it says and what the lab shows."""
    body = json.loads(_worked(screen, CALL, READ, {"do": "wait", "seconds": 60}))
    shown = body["log"][1]["text"]
    body["log"][1] |= {"text": "3.1 V", "value": 3.1}
    told = screen.refusal("job", json.dumps(body))
    assert all(words in told for words in ("line 2", "3.1 V", shown))


def test_a_sheet_of_another_lab_or_learner_is_refused(screen):
    """Neither a neighbour's sheet nor one of another kind, level or chapter is gone on with; each refusal says why."""
    own = _worked(screen, READ)
    body = json.loads(own)
    for field, value in (("seed", f"{JOB}/ben"), ("level", 2), ("chapter", "service-calls")):
        told = screen.refusal("job", json.dumps(body | {"job": body["job"] | {field: value}}))
        assert repr(value).strip("'") in told
    assert "ben" in screen.refusal("job", json.dumps(body | {"learner": "ben"}))
    for kind in ("wire-up", "questions"):
        assert "sheet" in screen.refusal(kind, own)


def test_the_wire_up_is_the_learners_own_and_is_not_judged(screen):
    """The table lies as the file says, it can be wired and run, and a hand-in gives no marks."""
    opened = screen.open("wire-up")
    assert "W2" == opened["task"]["id"]
    assert screen.ask(ask="table", task="W2", wiring=None, kept=_kept())["task"] == opened["task"]
    assert "error" not in screen.ask(ask="table wiring", number=opened["number"], wiring=written(WIRING))
    assert "error" not in screen.ask(ask="table act", number=opened["number"], act={"do": "power", "on": True})
    told = screen.ask(ask="table hand in", number=opened["number"], prediction=None)
    assert "marks for graded work come from your instructor" == told["error"]


def _kept():
    return {"seed": json.loads(files()["wire-up"])["draw"], "spent": 0, "stands": False, "answers": {}}


def test_the_last_question_is_about_the_wiring_and_judges_nothing(screen):
    """One fault is put into whatever is wired, and asked about; an empty table has nothing to ask about."""
    empty = screen.open("wire-up")["number"]
    assert "join the parts first" in screen.ask(ask="table question", number=empty)["error"]
    asked = screen.ask(ask="table question", number=_wired(screen))["last"]
    assert {"id", "words", "kind", "unit"} == set(asked)
    assert asked["words"].startswith("The conductor from ")


def test_a_wire_up_is_gone_on_with(screen):
    """Wiring, answers before power, what trials cost, prediction, explanation and time come back with the sheet."""
    number = _wired(screen)
    asked = screen.open("wire-up")["task"]["questions"]
    answers = {asked[0]["id"]: {}} if asked[0]["kind"] == "leads" else {asked[0]["id"]: 1.5}
    screen.ask(ask="table answers", number=number, answers=answers)
    screen.ask(ask="table act", number=number, act={"do": "power", "on": True})
    more = {"prediction": 24.0, "explanation": "R through the stat to the heater.", "thinking_s": 90}
    sheet = screen.ask(ask="table sheet", number=number, file=files()["wire-up"], **more)["sheet"]
    resumed = screen.resume("wire-up", sheet)
    assert more == {name: resumed[name] for name in more}
    assert resumed["last"]["words"] == screen.ask(ask="table question", number=number)["last"]["words"]
    assert (answers, True) == (resumed["view"]["answers"], resumed["view"]["stands"])
    assert json.loads(written(WIRING)) == json.loads(resumed["wiring"])
    again = screen.ask(ask="table sheet", number=resumed["number"], file=files()["wire-up"], **more)["sheet"]
    assert sheet == again
    done = wiring_task.sheet_parsed(sheet, wiring_task.opened(files()["wire-up"]).made)
    assert (LEARNER, NAMES["wire-up"], WIRING) == (done.learner, done.seed, done.wiring)


def test_a_wire_up_sheet_of_other_leads_is_refused(screen):
    """Answers about leads drawn for somebody else do not come in by a sheet, nor do wires that go nowhere."""
    body = json.loads(_wired_sheet(screen))
    assert "drawn from" in screen.refusal("wire-up", json.dumps(body | {"kept": body["kept"] | {"seed": "another"}}))
    stray = body["wiring"] | {"wires": [{**body["wiring"]["wires"][0], "b": "zone9.stat.R"}]}
    assert "zone9.stat.R" in screen.refusal("wire-up", json.dumps(body | {"wiring": stray}))
    assert NAMES["wire-up"] in screen.refusal("wire-up", json.dumps(body | {"seed": f"{TABLE}/ben"}))


def test_the_questions_come_without_answers(screen):
    """What a screen gets of a question is what is asked, and neither the answer nor the working nor a hint."""
    opened = screen.open("questions")
    assert [1, 2, 3, 4] == [each["number"] for each in opened["questions"]]
    assert {"number", "choice", "choices", "order"} == {each["form"] for each in opened["questions"]}
    text = json.dumps(opened)
    for question in QUESTIONS:
        assert json.dumps(question.why) not in text
        assert json.dumps(question.hint) not in text


def test_questions_are_gone_on_with(screen):
    """Answers, explanation and time come back; a right sheet is worth all its points, and the screen does not say so."""
    answers = {str(number): _right(question) for number, question in enumerate(QUESTIONS, 1)}
    told = _answered(screen, answers, explanation="First the loop.", thinking_s=12)
    assert {"sheet"} == set(told)
    sheet = question_set.sheet_parsed(told["sheet"])
    assert question_set.OUT_OF == question_set.marked(QUESTIONS, sheet.answers).points
    resumed = screen.resume("questions", told["sheet"])
    assert (answers, "First the loop.", 12) == (resumed["answers"], resumed["explanation"], resumed["thinking_s"])


@pytest.mark.parametrize("answers", [{"1": "much"}, {"2": "nonsense"}, {"9": 1.0}, {"one": 1.0}, {"3": [7]}, [1, 2], None])
def test_an_answer_of_no_form_is_refused(screen, answers):
    """What is no answer of its question's form comes back as a sentence that names the question or the numbers there are."""
    told = _answered(screen, answers)["error"]
    assert any(words in told for words in ("question ", "asks 1 to 4", "'1' to '4'"))


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{",
        "[]",
        "null",
        "{}",
        '{"format": "call-for-heat sealed job 9"}',
        '{"format": ["x"]}',
        "[" * 100_000,
        " " * 600_000,
        7,
        None,
    ],
)
def test_what_is_no_lab_is_refused_with_the_choices(screen, text):
    """Damaged, empty, foreign and huge files get a sentence, never a traceback."""
    told = screen.ask(ask="lab", file=text)["error"]
    assert "unexpected" not in told
    assert any(words in told for words in ("lab file", "call-for-heat sealed job 1"))


@pytest.mark.parametrize("kind", KINDS)
def test_a_lab_file_with_a_field_too_few_or_too_many_is_refused(screen, kind):
    """A file that was changed by hand is refused with the name of the field."""
    body = json.loads(files()[kind])
    for made in (body | {"answer": 1}, {name: value for name, value in body.items() if name != "learner"}):
        told = screen.ask(ask="lab", file=json.dumps(made))["error"]
        assert "answer" in told or "learner" in told


def test_a_sheet_in_the_place_of_a_lab_is_told_so(screen):
    """Whoever opens the sheet first is told to open the lab file."""
    for sheet in (_worked(screen), _wired_sheet(screen), _answered(screen, {})["sheet"]):
        assert "open the lab file first" in screen.ask(ask="lab", file=sheet)["error"]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("sheet", ["", "{", "[]", '{"format": 1}', "[" * 100_000, 7, None])
def test_a_damaged_sheet_is_refused(screen, kind, sheet):
    """What is no sheet gets a sentence, and a lab that is open stays open."""
    number = screen.open("job")["number"]
    told = screen.refusal(kind, sheet)
    assert "sheet" in told
    assert "unexpected" not in told
    assert "view" in screen.act(number, READ)


def test_a_lab_of_another_learner_opens_with_their_name(screen):
    """The file says whose lab it is, and its sheet bears that name whatever the screen says before."""
    opened = screen.ask(ask="lab", file=sealed_text(f"{JOB}/ben", "ben"))
    assert ("ben", f"{JOB}/ben") == (opened["learner"], opened["name"])
    assert "ben" == parsed(screen.ask(ask="sheet", number=opened["number"])["sheet"]).learner


def test_a_first_start_does_without_labs():
    """Importing the desk imports nothing of labs: neither the tape nor a set of questions to hand out."""
    wanted = "import sys, solvers.screens.page; print([name for name in sys.modules if name.startswith('solvers.')])"
    loaded = subprocess.run([sys.executable, "-c", wanted], capture_output=True, text=True, check=True).stdout
    late = ("screens.labs", "jobs.sealed", "jobs.tape", "jobs.taped_house", "jobs.question_set", "jobs.wiring_task")
    assert [] == [name for name in late if f"'solvers.{name}'" in loaded]
    assert "'solvers.screens.table'" in loaded


def test_the_desk_names_what_labs_answer():
    """What the desk leaves to the labs is what the labs answer."""
    assert sorted(LAB_ASKS) == sorted(labs.ASKS)
    assert page.LAB_ASKS is LAB_ASKS
