"""The bench and a lab in a notebook: messages, the lab file, the sheet on disk, and what is refused. No browser needed."""

from __future__ import annotations

import json
import subprocess

import pytest
from lab_files import JOB, SET, TABLE, careful_acts, files, sealed_text

from solvers.jobs import question_set
from solvers.jobs.sheet import parsed
from solvers.screens.notebook import BenchWidget, LabWidget
from solvers.screens.notebook_lab import LAB_MODULES
from solvers.screens.notebook_parts import MODULES, script

CALL = {"do": "call", "stat": "zone1.stat", "on": True}
READ = {"do": "measure", "function": "volts", "first": "transformer.R", "second": "transformer.C"}


class Screen:
    """The other end of the widget: sends a request as the page does and returns the one response."""

    def __init__(self, widget: BenchWidget) -> None:
        self.widget, self.sent, self.count = widget, [], 0
        widget.send = lambda content, buffers=None: self.sent.append(content)

    def ask(self, **request: object) -> dict:
        self.count += 1
        self.sent.clear()
        self.widget._handle_custom_msg({"id": self.count, "request": request}, [])
        (answer,) = self.sent
        assert answer["id"] == self.count
        return json.loads(json.dumps(answer["response"]))

    def open(self, begun: dict) -> dict:
        if begun["sheet"]:
            return self.ask(ask="lab resume", file=begun["file"], sheet=begun["sheet"])
        return self.ask(ask="lab", file=begun["file"])

    def act(self, number: int, act: dict) -> dict:
        return self.ask(ask="act", number=number, act=act)

    def keep(self, number: int) -> dict:
        return self.ask(ask="keep", sheet=self.ask(ask="sheet", number=number)["sheet"])


@pytest.fixture
def lab(tmp_path):
    """A screen with a learner's lab, begun, from a folder with labs of two; and the path of the sheet."""
    (tmp_path / "labs").mkdir()
    for learner in ("anna", "ben"):
        (tmp_path / "labs" / f"{learner}.job.json").write_text(sealed_text(f"{JOB}/{learner}", learner), encoding="utf-8")

    def made(learner: str = "anna") -> tuple[Screen, dict]:
        screen = Screen(LabWidget(JOB, learner=learner, folder=tmp_path))
        return screen, screen.ask(ask="begin", learner=learner)

    made.path = tmp_path / f"{JOB}.sheet.json"
    return made


def worked(screen: Screen, begun: dict, *acts: dict) -> int:
    """Open the lab, do the acts and keep the sheet after each; return the job's number."""
    number = screen.open(begun)["number"]
    for act in acts:
        assert "error" not in screen.act(number, act)
        assert screen.keep(number) == {"kept": f"{JOB}.sheet.json"}
    return number


def beside(path):
    """What is in the folder beside the labs, by name."""
    return {each.name: each.read_bytes() for each in path.parent.iterdir() if each.name != "labs"}


def test_practice_answers_what_the_page_answers():
    """A practice bench answers a custom message with what the desk says, under the same id."""
    screen = Screen(BenchWidget())
    opened = screen.ask(ask="open", chapter="heater-loops", level=1, seed="a job", learner="")
    assert opened["job"]["id"] == "heater-loops/1/a job"
    read = screen.act(opened["number"], READ)
    assert read["view"]["shows"]["text"].endswith(" V")
    assert set(screen.ask(ask="inside", number=opened["number"])["valves"][0]) == {"part", "svg", "words"}


def test_what_is_no_message_is_not_answered():
    """Content without an id is left alone, and a request that is no object gets a sentence."""
    screen = Screen(BenchWidget())
    screen.widget._handle_custom_msg("hello", [])
    screen.widget._handle_custom_msg({"request": {}}, [])
    assert screen.sent == []
    screen.widget._handle_custom_msg({"id": 1, "request": 7}, [])
    assert "no request 7" in screen.sent[0]["response"]["error"]


def test_practice_keeps_no_file():
    """A practice bench has nothing to keep a sheet with."""
    assert "no request" in Screen(BenchWidget()).ask(ask="keep", sheet="{}")["error"]


def test_the_sheet_is_saved_after_every_act(lab):
    """After each act the file holds the whole log so far, and nothing else is left in the folder."""
    screen, begun = lab()
    number = screen.open(begun)["number"]
    for lines, act in enumerate((CALL, READ, READ), start=1):
        screen.act(number, act)
        screen.keep(number)
        assert len(parsed(lab.path.read_bytes()).log) == lines
    assert list(beside(lab.path)) == [lab.path.name]


def test_many_saves_keep_the_lab_open(lab):
    """However often a sheet is kept, the bench that it comes from stays open."""
    screen, begun = lab()
    worked(screen, begun, *[READ] * 6)
    assert len(parsed(lab.path.read_bytes()).log) == 6


def test_the_sheet_is_resumed(lab):
    """A new widget for the same learner finds the sheet and stands where it ended; an unfinished one has no verdict."""
    screen, begun = lab()
    worked(screen, begun, CALL, READ)
    again, found = lab(" Anna ")
    assert (found["sheet"], found["notice"]) == (lab.path.read_text(encoding="utf-8"), "")
    resumed = again.open(found)
    assert [line["act"] for line in resumed["view"]["log"]] == [CALL, READ]
    assert resumed["view"]["calls"]["zone1.stat"] is True
    assert not resumed["view"]["closed"]


def test_the_whole_way_to_a_signed_sheet(lab):
    """The acts of a careful learner end in a file that holds their log and verdict."""
    acts, sheet = careful_acts()
    screen, begun = lab()
    worked(screen, begun, *acts)
    made, wanted = parsed(lab.path.read_bytes()), parsed(sheet)
    assert (wanted.log, wanted.verdict, "anna") == (made.log, made.verdict, made.learner)


def test_lines_on_disk_are_not_lost_to_a_second_window(lab):
    """A bench that has fallen behind the file may not overwrite it."""
    one, begun = lab()
    number = worked(one, begun, READ)
    other, found = lab()
    ahead = other.open(found)["number"]
    other.act(ahead, CALL)
    other.keep(ahead)
    assert "changed outside" in one.keep(number)["error"]
    assert len(parsed(lab.path.read_bytes()).log) == 2


@pytest.mark.parametrize("damage", [b"", b"{", b"\xff\xfe", b'{"format": "other"}', b"[" * 5000, b"[]", b" " * 600_001])
def test_a_damaged_sheet_is_kept_aside(lab, damage):
    """A file that cannot be read is renamed with its content whole, the learner is told its new name, work begins anew."""
    lab.path.write_bytes(damage)
    screen, begun = lab()
    kept = lab.path.with_name(f"{JOB}.sheet.kept-1.json")
    assert begun["sheet"] is None
    assert kept.name in begun["notice"]
    assert kept.read_bytes() == damage
    worked(screen, begun, READ)
    assert kept.read_bytes() == damage
    assert len(parsed(lab.path.read_bytes()).log) == 1


def test_no_file_kept_aside_replaces_another(lab):
    """Two damaged files in turn are both still there."""
    for content in (b"first", b"second"):
        lab.path.write_bytes(content)
        lab()
    assert sorted(beside(lab.path).values()) == [b"first", b"second"]


def test_a_sheet_damaged_while_the_bench_is_open_is_not_overwritten(lab):
    """When the file stops being a sheet under an open bench, saving is refused and the file stays as it is."""
    screen, begun = lab()
    number = worked(screen, begun, READ)
    lab.path.write_bytes(b"oops")
    screen.act(number, CALL)
    assert "changed outside" in screen.keep(number)["error"]
    assert lab.path.read_bytes() == b"oops"


def test_another_learners_sheet_is_kept_aside(lab):
    """On a shared machine the next learner gets a new sheet, and the first one's is kept whole."""
    screen, begun = lab()
    worked(screen, begun, READ)
    before = lab.path.read_bytes()
    _, found = lab("ben")
    assert found["sheet"] is None
    assert "anna" in found["notice"]
    assert lab.path.with_name(f"{JOB}.sheet.kept-1.json").read_bytes() == before


def test_a_sheet_with_a_changed_reading_is_kept_aside(lab):
    """What does not replay is put aside with the line named, and is neither gone on with nor lost."""
    screen, begun = lab()
    worked(screen, begun, CALL, READ)
    body = json.loads(lab.path.read_bytes())
    body["log"][1]["value"] = 1.0
    lab.path.write_text(json.dumps(body), encoding="utf-8")
    _, found = lab()
    assert found["sheet"] is None
    assert "line 2" in found["notice"]
    assert json.loads(lab.path.with_name(f"{JOB}.sheet.kept-1.json").read_bytes()) == body


def test_a_failed_save_is_told_and_leaves_the_old_sheet(lab, monkeypatch):
    """When the disk refuses, the screen gets a sentence and the file of the act before still stands."""
    screen, begun = lab()
    number = worked(screen, begun, READ)
    before = lab.path.read_bytes()
    screen.act(number, CALL)
    monkeypatch.setattr("os.replace", lambda *_: (_ for _ in ()).throw(OSError(28, "No space left on device")))
    assert "No space left" in screen.keep(number)["error"]
    assert list(beside(lab.path).values()) == [before]


def test_only_the_labs_own_sheet_is_kept(lab):
    """Neither a practice job's sheet nor a neighbour's can be saved as this lab's, nor anything before a learner has begun."""
    screen, _ = lab()
    practice = screen.ask(ask="open", chapter="heater-loops", level=1, seed="elsewhere")["number"]
    assert "elsewhere" in screen.keep(practice)["error"]
    other = screen.ask(ask="lab", file=sealed_text(f"{JOB}/ben", "ben"))["number"]
    assert f"{JOB}/ben" in screen.keep(other)["error"]
    assert "sheet" in screen.ask(ask="keep", sheet=7)["error"]
    fresh = Screen(LabWidget(JOB, folder=lab.path.parent))
    assert "begin" in fresh.ask(ask="keep", sheet="{}")["error"]
    assert beside(lab.path) == {}


def test_a_name_that_is_none_is_refused(lab):
    """A learner's name that no file could carry gets a sentence, and one without a lab is told for whom there are labs."""
    screen, _ = lab()
    for name in ("", "../up", "a/b", None, 7):
        assert "learner id" in screen.ask(ask="begin", learner=name)["error"]
    told = screen.ask(ask="begin", learner="zoe")["error"]
    assert all(name in told for name in ("zoe", "anna", "ben"))


def test_a_lab_in_the_wrong_place_is_refused(lab):
    """A file under somebody else's name, and one that is no lab, are named in a sentence."""
    labs = lab.path.parent / "labs"
    (labs / "cleo.job.json").write_text(sealed_text(), encoding="utf-8")
    (labs / "dora.job.json").write_bytes(b"\xff")
    (labs / "emil.questions.json").write_text("{}", encoding="utf-8")
    screen, _ = lab()
    assert f"{JOB}/anna" in screen.ask(ask="begin", learner="cleo")["error"]
    assert "dora.job.json" in screen.ask(ask="begin", learner="dora")["error"]
    assert "format" in screen.ask(ask="begin", learner="emil")["error"]


def test_a_folder_without_labs_says_so(tmp_path):
    """Where the folder labs is missing, the learner is told what is missing."""
    assert "labs" in Screen(LabWidget(JOB, folder=tmp_path)).ask(ask="begin", learner="anna")["error"]


@pytest.mark.parametrize(("assignment", "kind", "ending"), [(TABLE, "wire-up", "task"), (SET, "questions", "questions")])
def test_the_other_kinds_are_kept_and_resumed(tmp_path, assignment, kind, ending):
    """A wire-up and a set of questions find their file, keep their sheet beside the notebook, and go on with it."""
    (tmp_path / "labs").mkdir()
    (tmp_path / "labs" / f"anna.{ending}.json").write_text(files()[kind], encoding="utf-8")
    screen = Screen(LabWidget(assignment, folder=tmp_path))
    begun = screen.ask(ask="begin", learner="anna")
    opened = screen.open(begun)
    assert kind == opened["kind"]
    told = {"file": begun["file"], "explanation": "Because."}
    if kind == "wire-up":
        sheet = screen.ask(ask="table sheet", number=opened["number"], **told)["sheet"]
    else:
        sheet = screen.ask(ask="questions sheet", answers={"1": 0.5}, **told)["sheet"]
        assert {1: 0.5} == question_set.sheet_parsed(sheet).answers
    assert screen.ask(ask="keep", sheet=sheet) == {"kept": f"{assignment}.sheet.json"}
    again = Screen(LabWidget(assignment, folder=tmp_path))
    found = again.ask(ask="begin", learner="anna")
    assert (sheet, "") == (found["sheet"], found["notice"])
    assert "Because." == again.open(found)["explanation"]


@pytest.mark.parametrize("assignment", ["", "../up", "a b", "a/b", 3, None])
def test_an_assignment_must_be_a_file_name(assignment):
    """A name that would leave the folder is refused with the value shown."""
    with pytest.raises(ValueError, match="assignment"):
        LabWidget(assignment)


@pytest.mark.parametrize("modules", [MODULES, LAB_MODULES], ids=["bench", "lab"])
def test_the_script_is_one_module(modules):
    """The modules are joined whole: no import is left, one default export, and every module's own names are there."""
    joined = script(modules)
    lines = joined.splitlines()
    assert [line for line in lines if line.startswith("import ")] == []
    assert [line for line in lines if line.startswith("export ")] == ["export default { render };"]
    for name in ("function mount(", "class Drawing ", "class Meter ", "class Acts ", "class Log ", "class Verdict "):
        assert joined.count(name) == 1


@pytest.mark.parametrize("modules", [MODULES, LAB_MODULES], ids=["bench", "lab"])
def test_the_script_is_sound(needs_tool, tmp_path, modules):
    """A JavaScript engine takes the joined script as a module: no name is declared twice and nothing is half cut."""
    path = tmp_path / "bench.mjs"
    path.write_text(script(modules), encoding="utf-8")
    done = subprocess.run([needs_tool("node"), "--check", str(path)], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")


def test_a_module_left_out_is_noticed():
    """A module that is imported but not joined is an error at once, not a broken page."""
    with pytest.raises(ImportError, match=r"bench-elements\.mjs"):
        script(("bench-meter.mjs",))
