"""The workbooks and their widgets: what each notebook holds, explorers that show what the course computes, self-checks."""

from __future__ import annotations

import json
import re
from html import escape
from pathlib import Path

import pytest

from solvers.chapters.explorer import Pick
from solvers.chapters.explorers import EXPLORERS
from solvers.chapters.quiz import KINDS, asked
from solvers.chapters.shelf import ENDLESS
from solvers.jobs.job import JobError
from solvers.jobs.wireups import wire_up
from solvers.screens.explorer_widget import ExplorerWidget
from solvers.screens.quiz_widget import QuizWidget

BOOK = Path(__file__).resolve().parents[1] / "book"
CHAPTERS = {f"{number:02}-{chapter}": chapter for number, chapter in enumerate(ENDLESS, 1)}
WIRE_UPS = "06-wire-ups"
WORKBOOKS = (*CHAPTERS, WIRE_UPS)
MACHINE = re.compile(r"(?<![\w.])/(?:home|root|tmp|usr|var|work|Users)/|[A-Za-z]:\\")
NAMED = re.compile(r'(\w+Widget)\((?:chapter=)?"([^"]+)"')


def notebook(slug):
    return json.loads((BOOK / "workbooks" / f"{slug}.ipynb").read_text(encoding="utf-8"))


def code(slug):
    return ["".join(cell["source"]) for cell in notebook(slug)["cells"] if cell["cell_type"] == "code"]


def widgets(slug):
    """Every widget that a workbook makes, and the name it is made with."""
    return [pair for source in code(slug) for pair in NAMED.findall(source)]


def test_there_is_one_workbook_a_chapter():
    """Each chapter that draws jobs has its workbook, the wire-ups have one, and there are no others."""
    assert sorted(WORKBOOKS) == sorted(path.stem for path in (BOOK / "workbooks").glob("*.ipynb"))


@pytest.mark.parametrize("slug", CHAPTERS)
def test_a_chapters_workbook_has_its_pieces(slug):
    """An explorer at least, the bench on this chapter and a self-check of this chapter, in that order."""
    made = widgets(slug)
    kinds = [kind for kind, _ in made]
    assert kinds == sorted(kinds, key=["ExplorerWidget", "BenchWidget", "QuizWidget"].index)
    assert {name for kind, name in made if kind == "ExplorerWidget"} <= set(EXPLORERS)
    assert kinds.count("ExplorerWidget") >= 1
    assert [("BenchWidget", CHAPTERS[slug]), ("QuizWidget", CHAPTERS[slug])] == [pair for pair in made if pair[1] in KINDS]


def test_the_wire_ups_have_their_pieces():
    """Wiring tables on tasks that there are, an explorer and a self-check."""
    made = widgets(WIRE_UPS)
    assert {"WiringWidget", "ExplorerWidget", "QuizWidget"} == {kind for kind, _ in made}
    for task in [name for kind, name in made if kind == "WiringWidget"]:
        assert task == wire_up(task).id


@pytest.mark.parametrize("slug", WORKBOOKS)
def test_a_workbook_is_kept_clean(slug):
    """No outputs, no numbers of runs, no path of a machine, and every cell with an id of its own."""
    cells = notebook(slug)["cells"]
    assert [] == [cell["id"] for cell in cells if cell.get("outputs") or cell.get("execution_count") is not None]
    assert len(cells) == len({cell["id"] for cell in cells})
    assert [] == [cell["id"] for cell in cells if MACHINE.search("".join(cell["source"]))]


def test_a_path_of_a_machine_would_be_seen():
    """The pattern finds paths of the usual systems and leaves a slash in prose alone."""
    assert all(MACHINE.search(text) for text in ('"/home/ann/x"', "in /tmp/x", r"C:\Users\ann"))
    assert not any(MACHINE.search(text) for text in ("volts/amps", "book/workbooks", "https://example.org/work/"))


@pytest.mark.parametrize("slug", WORKBOOKS)
def test_the_page_leads_to_every_workbook(slug):
    """The page offers each workbook in the browser and as a file."""
    page = (BOOK / "15-workbooks.md").read_text(encoding="utf-8")
    assert f'href="lite/notebooks/index.html?path={slug}.ipynb"' in page
    assert f"<workbooks/{slug}.ipynb>" in page


def texts(widget):
    """Everything that a widget shows as text or HTML."""
    own = [widget.value] if isinstance(getattr(widget, "value", None), str) else []
    return own + [text for child in getattr(widget, "children", ()) for text in texts(child)]


@pytest.mark.parametrize("name", EXPLORERS)
def test_an_explorer_shows_what_the_course_computes(name):
    """With each input moved in turn, readings, words, chart and the values in words are those of the explorer itself."""
    one, widget = EXPLORERS[name], ExplorerWidget(name)
    assert set(widget.controls) == {each.name for each in one.inputs}
    values = dict(one.defaults)
    for each in one.inputs:
        values[each.name] = each.choices[-1] if isinstance(each, Pick) else each.high
        widget.controls[each.name].value = values[each.name]
        expected, shown = one.shown(values), "\n".join(texts(widget))
        for told in expected.readings:
            assert f"<dt>{escape(told.label)}</dt><dd>{escape(told.text)}</dd>" in shown
        assert escape(expected.words) in shown
        assert "<svg" in shown
        assert each.text(values[each.name]) in texts(widget) or isinstance(each, Pick)


def test_an_explorer_that_is_not_there_is_named():
    """The message shows the name and the explorers that there are."""
    with pytest.raises(JobError, match=r"'sagg'.*'sag'"):
        ExplorerWidget("sagg")


def answer(quiz, question, value):
    """Set a question's fields to a value."""
    if question.form == "number":
        quiz.form.fields[0].value = f"{value:.9f}".replace(".", ",")
    elif question.form == "choice":
        quiz.form.fields[0].value = value
    elif question.form == "choices":
        for field in quiz.form.fields:
            field.value = field.description in value
    else:
        for field, step in zip(quiz.form.fields, question.choices, strict=True):
            field.value = value.index(step) + 1


def wrong(question):
    """Some answer that earns nothing."""
    if question.form == "number":
        return question.expected + 3 * question.tolerance + 1000
    if question.form == "choice":
        return next(each for each in question.choices if each != question.expected)
    if question.form == "choices":
        return tuple(each for each in question.choices if each not in question.expected)
    return question.expected[::-1]


def buttons(quiz):
    """The buttons that are shown."""
    return [each.description for each in (quiz.check, quiz.working, quiz.next) if each.layout.display is None]


@pytest.mark.parametrize("chapter", KINDS)
def test_right_answers_are_right_in_every_form(chapter):
    """Each kind of question of a chapter takes its expected answer by its fields, and the end counts them all."""
    quiz = QuizWidget(chapter, count=len(KINDS[chapter]), seed="a set")
    for put in quiz.questions:
        question = asked(chapter, put["kind"], put["seed"])
        assert buttons(quiz) == ["Check"]
        answer(quiz, question, question.expected)
        quiz.check.click()
        assert quiz.results[-1]
        assert buttons(quiz) == [quiz.next.description]
        quiz.next.click()
    count = len(KINDS[chapter])
    assert f"{count} of {count} right at the first answer" in "\n".join(texts(quiz))


@pytest.mark.parametrize("kind", ["predict the amperes", "slow, never or normal", "which heads to replace"])
def test_the_first_answer_counts(kind):
    """A wrong answer gets the question's hint and another try; a right one after it does not undo the miss."""
    quiz = QuizWidget("heater-loops", count=1, kinds=[kind], seed="another set")
    question = asked("heater-loops", kind, quiz.questions[0]["seed"])
    answer(quiz, question, wrong(question))
    quiz.check.click()
    assert "Not yet." in "\n".join(texts(quiz))
    assert buttons(quiz) == ["Check", "Show the working", "To the end"]
    answer(quiz, question, question.expected)
    quiz.check.click()
    assert quiz.results == [False]
    quiz.next.click()
    assert kind in "\n".join(texts(quiz))
    assert buttons(quiz) == ["Others, please"]


def test_an_order_wants_each_place_once():
    """Steps without a place, or two on one place, are no answer: nothing is counted and the learner is told what is missing."""
    quiz = QuizWidget("service-calls", count=1, kinds=["close the job"], seed="s")
    for value in (0, 1):
        for field in quiz.form.fields:
            field.value = value
        quiz.check.click()
        assert "a place of its own" in "\n".join(texts(quiz))
        assert quiz.results == []


@pytest.mark.parametrize("text", ["", "twelve", "nan"])
def test_what_is_no_number_is_not_counted(text):
    """An empty field and a word are no answers."""
    quiz = QuizWidget("heater-loops", count=1, kinds=["predict the amperes"], seed="s")
    quiz.form.fields[0].value = text
    quiz.check.click()
    assert "give a number" in "\n".join(texts(quiz))
    assert quiz.results == []


def test_the_working_ends_a_question():
    """After the working is shown there is nothing left to check."""
    quiz = QuizWidget("heater-loops", count=2, kinds=["predict the amperes", "time a warm-up"], seed="s")
    question = asked("heater-loops", quiz.questions[0]["kind"], quiz.questions[0]["seed"])
    answer(quiz, question, wrong(question))
    quiz.check.click()
    quiz.working.click()
    assert escape(question.why) in "\n".join(texts(quiz))
    assert buttons(quiz) == ["Next question"]


def test_a_chapter_that_is_not_there_is_named():
    """The message shows the name and the chapters that there are."""
    with pytest.raises(JobError, match=r"'boilers'.*'heater-loops'"):
        QuizWidget("boilers")
