"""The live parts in a notebook: moved as the kernel moves them, they show what the package computes."""

import ipywidgets as widgets
import pytest

from solvers.chapters.explorers import EXPLORERS
from solvers.chapters.quiz import asked
from solvers.chapters.section_clock import moment, story
from solvers.jobs import mastery, returning
from solvers.jobs.job import JobError
from solvers.screens import notebook_live
from solvers.screens.notebook_live import clock_box, explorer_box, kept_files, self_check_box

NOW = 1.7e9


def inside(box, kind):
    """Every widget of a kind in a box, at any depth."""
    found = [box] if isinstance(box, kind) else []
    for child in getattr(box, "children", ()):
        found += inside(child, kind)
    return found


def said(box):
    return " ".join(each.value for each in inside(box, widgets.HTML))


@pytest.mark.parametrize("name", EXPLORERS)
def test_every_explorer_opens_with_the_packages_readings(name):
    """Readings and drawing of the first setting."""
    box = explorer_box(name)
    shown = EXPLORERS[name].shown(EXPLORERS[name].defaults)
    assert all(f"<b>{reading.text}</b>" in said(box) for reading in shown.readings)
    assert "<svg" in said(box)


def test_a_moved_slider_shows_the_new_setting():
    """Volts down to 20: every reading follows."""
    box = explorer_box("warm-up")
    volts = next(each for each in inside(box, widgets.FloatSlider) if each.description == "volts across the heater")
    volts.value = 20.0
    for reading in EXPLORERS["warm-up"].shown({"volts": 20.0, "air": 20}).readings:
        assert f"<b>{reading.text}</b>" in said(box)


def test_the_clock_runs_a_call():
    """Called at the start and set to 120 s, the valve stands as the package says."""
    box = clock_box()
    (call,) = inside(box, widgets.ToggleButton)
    at = next(each for each in inside(box, widgets.IntSlider) if each.description == "seconds")
    call.value = True
    at.value = 120
    expected = moment(story({"kind": "heat motor", "volts": 24.0, "air": 20}, [[0, True]]), 120)
    assert all(f"<b>{reading.text}</b>" in said(box) for reading in expected.readings)
    assert "end switch makes" in said(box)
    (kind,) = inside(box, widgets.Dropdown)
    kind.value = "motor with spring return"
    assert (at.value, call.value) == (0, False)
    assert "end switch makes" not in said(box)


def press(box, words):
    next(each for each in inside(box, widgets.Button) if each.description == words).click()


@pytest.fixture
def drawn(monkeypatch):
    """The questions that boxes have drawn since."""
    seen = []
    plain = notebook_live._asked

    def asked_too(**request):
        answer = plain(**request)
        seen.extend(answer.get("questions", []))
        return answer

    monkeypatch.setattr(notebook_live, "_asked", asked_too)
    return seen


def test_a_self_check_keeps_what_was_missed_and_shown(tmp_path, drawn):
    """Wrong, then right: the hint, then the working; the kind is to return, and the objective was tried."""
    box = self_check_box("heater-loops", 11, tmp_path, now=lambda: NOW)
    while drawn[0]["form"] != "number":
        drawn.pop(0)
        press(box, "Next question")
    question = asked("heater-loops", drawn[0]["kind"], drawn[0]["seed"])
    (field,) = inside(box, widgets.Text)
    field.value = "soon"
    press(box, "Check")
    assert "is no number" in said(box)
    field.value = str(question.expected + 10 * question.tolerance)
    press(box, "Check")
    assert "Not yet." in said(box)
    field.value = f"{question.expected:.6f}".replace(".", ",")
    press(box, "Check")
    assert "Right." in said(box)
    files = kept_files(tmp_path)
    assert list(returning.parsed(files["returning"].read_bytes()).missed) == [f"heater-loops/{question.kind}"]
    assert mastery.state_of(mastery.parsed(files["mastery"].read_bytes()), question.objective) == "tried"


def test_a_file_that_cannot_be_read_is_put_aside(tmp_path, drawn):
    """The old file lies there under another name, unchanged, and the learner is told."""
    files = kept_files(tmp_path)
    files["returning"].write_text("garbage", encoding="utf-8")
    box = self_check_box("heater-loops", 1, tmp_path, now=lambda: NOW)
    assert "cannot be read" in said(box)
    (aside,) = tmp_path.glob("*.kept-1.json")
    assert aside.read_text(encoding="utf-8") == "garbage"


def test_what_there_is_not_is_refused(tmp_path):
    """Explorers and chapters by their names."""
    with pytest.raises(JobError, match="continuity"):
        explorer_box("none")
    with pytest.raises(JobError, match="heater-loops"):
        self_check_box("none", 5, tmp_path)
