"""The benchmarks run, and what they are a goal for is reached: by ratio within one run, never by the clock."""

from __future__ import annotations

import importlib.util
import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from benchmarks import readings, run
from benchmarks.timing import Row, side_by_side

PROGRAM = Path(__file__).parent / "benchmarks" / "run.py"


def measured(*arguments: str) -> list[dict | str]:
    """The rows of a run in a process of its own, with one BLAS thread and ngspice's library out of this one."""
    ended = subprocess.run(
        [sys.executable, str(PROGRAM), "--json", *arguments],
        capture_output=True,
        text=True,
        timeout=1200,
        check=False,
        env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
    )
    assert (0, "") == (ended.returncode, ended.stderr)
    return json.loads(ended.stdout)


@pytest.mark.slow
def test_every_benchmark_runs() -> None:
    """Each row is measured on small circuits and few calls, or a line says what is not installed; answers agree."""
    found = measured("--quick")
    rows = [row for row in found if not isinstance(row, str)]
    missing = ["scipy"] * (not importlib.util.find_spec("scipy"))
    assert all(any(name in line for line in found if isinstance(line, str)) for name in missing)
    beginnings = ["whole table, lean", "whole table, the plant", "the plant for", "one plain-Python solve", "W7 judged: "]
    beginnings += ["A job of 2 zones sealed", "An act on a sealed job"]
    beginnings += [f"One {kind} submission of " for kind in ("job", "wire-up", "questions")]
    beginnings += [] if missing else ["2 hours"]
    for beginning in beginnings:
        assert any(row["what"].startswith(beginning) for row in rows)
    for row in rows:
        assert row["seconds"] > 0
        assert row["ratio"] is None or row["ratio"] == row["other_seconds"] / row["seconds"]
        assert row["allowed"] is None or row["error"] <= row["allowed"]
        if row["unit"] == "V apart":
            assert row["error"] <= 0.05  # of the other way: nodal inverses and ngspice lose that much on leaky islands


@pytest.mark.slow
def test_what_is_fast_is_also_right() -> None:
    """Every row with a goal is quicker than the other way at all, and as exact as allowed; by how much, the table says."""
    rows = [row for row in measured() if not isinstance(row, str)]
    aimed = [row for row in rows if row["ratio_goal"]]
    assert len(aimed) >= 2
    assert [] == [row["what"] for row in aimed if row["ratio"] < 1]
    assert [] == [row["what"] for row in rows if row["allowed"] is not None and row["error"] > row["allowed"]]


def test_one_process_a_reading_is_measured_where_the_library_is_missing(
    needs_tool: Callable[[str], str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without ngspice's library the program stands in, one process a reading, and reads the same volts."""
    program = needs_tool("ngspice")
    monkeypatch.setattr(run, "Library", _missing)
    monkeypatch.setattr(run.shutil, "which", lambda name: program)
    (row,) = run._pairs({"repeat": 1}, (1,))
    assert "ngspice -b" in row.against
    assert row.ratio > 1
    assert row.error < 0.05


def test_what_is_not_installed_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without ngspice, and without scipy, a line says what is not measured."""
    monkeypatch.setattr(run, "Library", _missing)
    monkeypatch.setattr(run.shutil, "which", lambda name: None)
    assert ["neither library nor program is installed" in line for line in run._pairs({}, (1,))] == [True]
    monkeypatch.setattr(run.importlib.util, "find_spec", lambda name: None)
    monkeypatch.setattr(run, "_pairs", lambda few, zones: iter(()))
    for module in ("whole_tables", "plants"):
        for name in getattr(run, module).__all__:
            monkeypatch.setattr(getattr(run, module), name, lambda *given, **named: Row("skipped", 1.0))
    assert any(isinstance(row, str) and "scipy is not installed" in row for row in run.rows(quick=True))


def test_the_table_shows_goals_met_and_missed() -> None:
    """A row under its goal says NO, one that reaches ratio, time and accuracy says yes, one without a goal nothing."""
    table = run.markdown(
        [
            Row("slow", 1.0, "other", 2.0, ratio_goal=5.0),
            Row("wrong", 1.0, "other", 9.0, ratio_goal=5.0, error=2.0, allowed=1.0, unit="V"),
            Row("late", 1.0, seconds_goal=0.5),
            Row("good", 1e-3, "other", 9e-3, ratio_goal=5.0, seconds_goal=0.015, error=0.5, allowed=1.0, unit="V"),
            Row("watched", 2e-6),
            "not measured: there is no other way",
        ]
    )
    met = {cells[1]: cells[7] for line in table.splitlines() if len(cells := [cell.strip() for cell in line.split("|")]) > 8}
    assert {"slow": "NO", "wrong": "NO", "late": "NO", "good": "yes", "watched": ""} == {
        what: word for what, word in met.items() if what not in ("what", "---")
    }
    assert "- not measured: there is no other way" in table


def test_ways_are_called_in_turn() -> None:
    """Each way is called once unmeasured and then as often as asked, always after the other."""
    calls: list[str] = []
    spans = side_by_side(lambda: calls.append("ours"), lambda: calls.append("theirs"), repeat=3)
    assert ["ours", "theirs"] * 4 == calls
    assert [True, True] == [span >= 0 for span in spans]


def test_an_unknown_word_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    """A word that the program does not know ends it with status 2 and the words that it does."""
    assert 2 == run.main(["--fast"])
    assert "unknown ['--fast']; there are --quick and --json" in capsys.readouterr().err


def test_a_circuit_of_one_call_carries_it() -> None:
    """The circuit that is read all over has its first zone's heater on and its boiler called."""
    circuit = readings.one_call(2)
    assert {"zone1.valve.heater", "zone2.valve.heater"} <= {branch.name for branch in circuit}
    assert circuit.branch("zone1.stat.contact").z != circuit.branch("zone2.stat.contact").z
    assert circuit.branch("zone1.valve.switch").z != circuit.branch("zone2.valve.switch").z


def _missing() -> None:
    raise OSError("libngspice.so.0: cannot open shared object file")
