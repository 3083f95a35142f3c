"""The command line as a person meets it: help that reads well, one sentence and status 2 for wrong input."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


def _run(*words, cwd=ROOT):
    return subprocess.run([sys.executable, "-m", "solvers", *words], capture_output=True, text=True, cwd=cwd, timeout=120)


def test_help_names_every_command():
    """The help lists the commands, each with its purpose in a line that is not cut off."""
    told = _run("--help")
    assert told.returncode == 0
    assert not [line for line in told.stdout.splitlines()[1:] if line.endswith("...")]
    for command in ("build", "serve", "labs", "collect", "grade", "report", "demo", "paper", "prove"):
        assert f"  {command} " in told.stdout
        assert _run(command, "--help").returncode == 0


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (["frobnicate"], "no command 'frobnicate'; there are build, collect, demo, grade, labs, paper, prove, report, serve"),
        (["build", "--book", "tests"], "is not the book: it has no _config.yml"),
        (["serve", "--port", "lots"], "'lots' is not a valid integer"),
        (["collect", "no-such-folder"], "no-such-folder' does not exist"),
        (["collect"], "Missing argument 'FOLDER'"),
        (["collect", "tests", "--assignment", "99-attic"], "no assignment '99-attic'; there are"),
        (["grade", "--assignment", "99-attic"], "no assignment '99-attic'; there are"),
        (["grade", "--course", "tests"], "no gradebook yet in "),
        (["grade", "--nonsense"], "No such option"),
        (["paper"], "Missing argument 'FILE'"),
        (["paper", "x.html", "--chapter", "attic"], "no chapter 'attic'; there are step-down-power"),
        (["paper", "x.html", "--level", "9"], "no level 9 of heater-loops; there are 1, 2, 3"),
        (["paper", "x.html", "--answers", "x.html"], "x.html is the file of the sheets; name another"),
        (["paper", "no-such-folder/x.html"], "no-such-folder"),
        (["prove", "--chapter", "attic"], "no chapter 'attic'; there are step-down-power"),
        (["prove", "--chapter", "heater-loops", "--level", "9"], "no level 9 of heater-loops; there are 1, 2, 3"),
        (["prove", "--count", "0"], "0 is not in the range"),
        (["prove", "--keep", "--seed", "autumn"], "--keep takes the seeds practice/1"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_wrong_input_gets_one_sentence(words, message):
    """Wrong input: the sentence shows the value and the choices, status 2, no traceback, nothing on standard output."""
    told = _run(*words)
    assert told.returncode == 2
    assert message in told.stderr
    assert "Traceback" not in told.stderr
    assert told.stdout == ""
