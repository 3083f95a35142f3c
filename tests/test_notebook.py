"""The bench in a notebook: messages, the sheet on disk, and what a graded bench refuses. No browser needed."""

from __future__ import annotations

import json
import subprocess

import pytest

from solvers.jobs.sheet import parsed
from solvers.screens import notebook
from solvers.screens.notebook import BenchWidget, script

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
        return self.ask(ask="open", chapter="heater-loops", level=1, seed=begun["seed"], learner=begun["learner"])

    def act(self, number: int, act: dict) -> dict:
        return self.ask(ask="act", number=number, act=act)

    def keep(self, number: int) -> dict:
        return self.ask(ask="keep", sheet=self.ask(ask="sheet", number=number)["sheet"])


@pytest.fixture
def graded(tmp_path):
    """A screen with anna's graded bench, begun; and the path of her sheet."""

    def made(learner: str = "anna") -> tuple[Screen, dict]:
        screen = Screen(BenchWidget(assignment="03-lab", learner=learner, folder=tmp_path))
        return screen, screen.ask(ask="begin", learner=learner)

    made.path = tmp_path / "03-lab.sheet.json"
    return made


def worked(screen: Screen, begun: dict, *acts: dict) -> int:
    """Open the job, do the acts and keep the sheet after each; return the job's number."""
    number = screen.open(begun)["number"]
    for act in acts:
        assert "error" not in screen.act(number, act)
        assert screen.keep(number) == {"kept": "03-lab.sheet.json"}
    return number


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


def test_practice_keeps_no_file(tmp_path):
    """A practice bench refuses to keep a sheet in a file and writes none."""
    screen = Screen(BenchWidget(folder=tmp_path))
    assert "practice" in screen.ask(ask="keep", sheet="{}")["error"]
    assert list(tmp_path.iterdir()) == []


def test_the_sheet_is_saved_after_every_act(graded):
    """After each act the file holds the whole log so far, and nothing else is left in the folder."""
    screen, begun = graded()
    number = screen.open(begun)["number"]
    for lines, act in enumerate((CALL, READ, READ), start=1):
        screen.act(number, act)
        screen.keep(number)
        assert len(parsed(graded.path.read_bytes()).log) == lines
    assert list(graded.path.parent.iterdir()) == [graded.path]


def test_the_sheet_is_resumed(graded):
    """A new widget for the same learner finds the sheet and stands where it ended; an unfinished one has no verdict."""
    screen, begun = graded()
    worked(screen, begun, CALL, READ)
    again, found = graded(" Anna ")
    assert (found["sheet"], found["notice"]) == (graded.path.read_text(encoding="utf-8"), "")
    resumed = again.ask(ask="resume", sheet=found["sheet"])
    assert [line["act"] for line in resumed["view"]["log"]] == [CALL, READ]
    assert resumed["view"]["calls"]["zone1.stat"] is True
    assert not resumed["view"]["closed"]


def test_the_verdict_is_saved_and_stays(graded):
    """A signed verdict is in the file, and a later sheet without it is refused."""
    screen, begun = graded()
    number = worked(screen, begun, READ)
    unsigned = graded.path.read_text(encoding="utf-8")
    suspect = screen.ask(ask="resume", sheet=unsigned)["job"]["suspects"][0]["id"]
    screen.act(number, {"do": "verdict", "suspects": [suspect], "proof": [0], "explanation": "so", "customer": "well"})
    screen.keep(number)
    assert parsed(graded.path.read_bytes()).verdict.suspects == (suspect,)
    assert "gone on elsewhere" in screen.ask(ask="keep", sheet=unsigned)["error"]
    assert parsed(graded.path.read_bytes()).verdict.suspects == (suspect,)


def test_lines_on_disk_are_not_lost_to_a_second_window(graded):
    """A bench that has fallen behind the file may not overwrite it."""
    one, begun = graded()
    number = worked(one, begun, READ)
    other, found = graded()
    ahead = other.ask(ask="resume", sheet=found["sheet"])["number"]
    other.act(ahead, CALL)
    other.keep(ahead)
    assert "2 lines" in one.keep(number)["error"]
    assert len(parsed(graded.path.read_bytes()).log) == 2


@pytest.mark.parametrize("damage", [b"", b"{", b"\xff\xfe", b'{"format": "other"}', b"[" * 5000, b"[]", b" " * 400_001])
def test_a_damaged_sheet_is_kept_aside(graded, damage):
    """A file that cannot be read is renamed with its content whole, the learner is told its new name, work begins anew."""
    graded.path.write_bytes(damage)
    screen, begun = graded()
    kept = graded.path.with_name("03-lab.sheet.kept-1.json")
    assert begun["sheet"] is None
    assert kept.name in begun["notice"]
    assert kept.read_bytes() == damage
    worked(screen, begun, READ)
    assert kept.read_bytes() == damage
    assert len(parsed(graded.path.read_bytes()).log) == 1


def test_no_file_kept_aside_replaces_another(graded):
    """Two damaged files in turn are both still there."""
    for content in (b"first", b"second"):
        graded.path.write_bytes(content)
        graded()
    found = sorted(path.read_bytes() for path in graded.path.parent.iterdir())
    assert found == [b"first", b"second"]


def test_a_sheet_damaged_while_the_bench_is_open_is_not_overwritten(graded):
    """When the file stops being a sheet under an open bench, saving is refused and the file stays as it is."""
    screen, begun = graded()
    number = worked(screen, begun, READ)
    graded.path.write_bytes(b"oops")
    screen.act(number, CALL)
    assert "changed outside" in screen.keep(number)["error"]
    assert graded.path.read_bytes() == b"oops"


def test_another_learners_sheet_is_kept_aside(graded):
    """On a shared machine the next learner gets a new sheet, and the first one's is kept whole."""
    screen, begun = graded()
    worked(screen, begun, READ)
    before = graded.path.read_bytes()
    _, found = graded("ben")
    assert found["sheet"] is None
    assert "'anna'" in found["notice"]
    assert graded.path.with_name("03-lab.sheet.kept-1.json").read_bytes() == before


def test_a_failed_save_is_told_and_leaves_the_old_sheet(graded, monkeypatch):
    """When the disk refuses, the screen gets a sentence and the file of the act before still stands."""
    screen, begun = graded()
    number = worked(screen, begun, READ)
    before = graded.path.read_bytes()
    screen.act(number, CALL)
    monkeypatch.setattr("os.replace", lambda *_: (_ for _ in ()).throw(OSError(28, "No space left on device")))
    assert "No space left" in screen.keep(number)["error"]
    assert [path.read_bytes() for path in graded.path.parent.iterdir()] == [before]


def test_a_graded_bench_shows_no_answers(graded):
    """A graded bench refuses marks and valves from inside, before and after the verdict."""
    screen, begun = graded()
    number = worked(screen, begun, READ)
    for _ in range(2):
        assert "graded" in screen.ask(ask="inside", number=number)["error"]
        assert "instructor" in screen.ask(ask="marks", number=number)["error"]
        suspect = screen.ask(ask="resume", sheet=graded.path.read_text(encoding="utf-8"))["job"]["suspects"][0]["id"]
        screen.act(number, {"do": "verdict", "suspects": [suspect], "proof": [0], "explanation": "", "customer": ""})


def test_a_graded_bench_opens_only_its_own_job(graded):
    """Neither another seed nor another job's sheet can be opened or saved, nor anything before a learner has begun."""
    screen, begun = graded()
    other = Screen(BenchWidget())
    number = other.ask(ask="open", chapter="heater-loops", level=1, seed="elsewhere")["number"]
    foreign = other.ask(ask="sheet", number=number)["sheet"]
    assert "no other job" in screen.open(begun | {"seed": "elsewhere"})["error"]
    assert "no other job" in screen.ask(ask="resume", sheet=foreign)["error"]
    assert "not opened" in screen.ask(ask="keep", sheet=foreign)["error"]
    assert "damaged" in screen.ask(ask="resume", sheet=7)["error"]
    assert not graded.path.exists()
    fresh = Screen(BenchWidget(assignment="03-lab", folder=graded.path.parent))
    assert "no other job" in fresh.open({"seed": None, "learner": ""})["error"]


def test_two_learners_have_different_seeds(graded):
    """The seed follows from assignment and learner, and not from how the name was typed."""
    seeds = [graded(name)[1]["seed"] for name in ("anna", " ANNA ", "ben")]
    assert seeds[0] == seeds[1] != seeds[2]


def test_a_name_that_is_none_is_refused(graded):
    """A learner's name that no file could carry gets a sentence, and no job is opened."""
    screen, _ = graded()
    for name in ("", "../up", "a/b", None, 7):
        assert "learner id" in screen.ask(ask="begin", learner=name)["error"]


@pytest.mark.parametrize("assignment", ["", "../up", "a b", "a/b", 3])
def test_an_assignment_must_be_a_file_name(assignment):
    """A name that would leave the folder is refused with the value shown."""
    with pytest.raises(ValueError, match="assignment"):
        BenchWidget(assignment=assignment)


def test_the_script_is_one_module():
    """The modules are joined whole: no import is left, one default export, and every module's own names are there."""
    joined = script()
    lines = joined.splitlines()
    assert [line for line in lines if line.startswith("import ")] == []
    assert [line for line in lines if line.startswith("export ")] == ["export default { render };"]
    for name in ("function mount(", "class Drawing ", "class Meter ", "class Acts ", "class Log ", "class Verdict "):
        assert joined.count(name) == 1


def test_the_script_is_sound(needs_tool, tmp_path):
    """A JavaScript engine takes the joined script as a module: no name is declared twice and nothing is half cut."""
    path = tmp_path / "bench.mjs"
    path.write_text(script(), encoding="utf-8")
    done = subprocess.run([needs_tool("node"), "--check", str(path)], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")


def test_a_module_left_out_is_noticed(monkeypatch):
    """A module that is imported but not joined is an error at once, not a broken page."""
    monkeypatch.setattr(notebook, "MODULES", ("bench-meter.mjs",))
    with pytest.raises(ImportError, match=r"bench-elements\.mjs"):
        script()
