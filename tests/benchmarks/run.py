"""Measure the goals of speed and print them as one dated table: `python tests/benchmarks/run.py [--quick] [--json]`.

Every row measures ours and the other way in turn in one run. CPU seconds, one BLAS thread, medians. Needs the package,
numpy and the tests' own tools; scipy and ngspice's library where they are found, with a line where they are not.
"""

from __future__ import annotations

import dataclasses
import datetime
import importlib.util
import json
import os
import platform
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # before numpy is imported
HERE = Path(__file__).resolve()
sys.path[:0] = [str(HERE.parents[1]), str(HERE.parents[2])]

import numpy as np  # noqa: E402
from benchmarks import grading, jobs, judgements, pages, plants, readings, sealing, starting, whole_tables  # noqa: E402
from benchmarks.ngspice_library import Library  # noqa: E402
from benchmarks.timing import Row  # noqa: E402

__all__ = ["main", "markdown", "rows"]

ZONES = (1, 2, 4, 8, 16)


def rows(quick: bool = False) -> Iterator[Row | str]:
    """Every measurement in turn, or a line that says why one is missing; `quick` calls each way once or twice only."""
    few = {"repeat": 1} if quick else {}
    yield whole_tables.lean_table(**few)
    yield whole_tables.plant_table(2 if quick else 4, **few)
    yield from _pairs(few, (1, 2) if quick else (1, 4, 8, 16))
    if importlib.util.find_spec("scipy"):
        from benchmarks import days

        hours = {"hours": 2.0} if quick else {}
        yield days.kernel_day(**few, **hours)
        yield days.kernel_day(method="DOP853", **few, **hours)
    else:
        yield "A day of the event kernel is not measured: scipy is not installed (pip install scipy)."
    yield plants.plant_day(**few, **({"hours": 1.0} if quick else {}))
    yield from (plants.plain_solve(zones, **few) for zones in (ZONES[:2] if quick else ZONES))
    yield from pages.browser_acts((4,) if quick else (4, 16))
    yield from starting.first_readings(**few)
    yield from judgements.judgements(("W7",) if quick else ("W7", "W14"), **few)
    yield from jobs.jobs(zones=(2,) if quick else (2, 4), **few)
    yield from sealing.sealings(*(((2,), 1) if quick else ()))
    yield from grading.graded(*((4, 2) if quick else (60, 4)))


def _pairs(few: dict[str, int], zones: tuple[int, ...]) -> Iterator[Row | str]:
    try:
        library = Library()
    except OSError:
        program = shutil.which("ngspice")
        if program:
            yield from (readings.every_pair_by_process(program, count, **few) for count in zones)
        else:
            yield "All loaded pairs of one circuit are not measured against ngspice: neither library nor program is installed."
        return
    sample = {"sample": 4} if few else {}
    yield from (readings.every_pair(library, count, **few, **sample) for count in zones)


def markdown(found: list[Row | str]) -> str:
    """The table with its date and machine, and below it the notes and what could not be measured."""
    lines = [
        f"Measured {datetime.date.today().isoformat()} on {os.cpu_count()} cores ({platform.machine()}), Python "
        f"{platform.python_version()}, numpy {np.__version__}, one BLAS thread, CPU time.",
        "",
        "| what | ours | against | theirs | ratio | goal | met | largest error |",
        "|---|---|---|---|---|---|---|---|",
    ]
    notes = []
    for row in found:
        if isinstance(row, str):
            notes.append(row)
            continue
        goals = [f"{row.ratio_goal:g}x"] if row.ratio_goal else []
        goals += [_span(row.seconds_goal)] if row.seconds_goal else []
        error = (
            "" if row.error is None else f"{row.error:.1e} {row.unit}" + (f" (at most {row.allowed:g})" if row.allowed else "")
        )
        if row.note:
            notes.append(f"{row.what}: {row.note}.")
        lines.append(
            f"| {row.what} | {_span(row.seconds)} | {row.against} | {_span(row.other_seconds)} | "
            f"{'' if row.ratio is None else f'{row.ratio:.3g}'} | {', '.join(goals)} | {_met(row)} | {error} |"
        )
    return "\n".join([*lines, "", *(f"- {note}" for note in notes)])


def _met(row: Row) -> str:
    kept = [row.ratio >= row.ratio_goal] if row.ratio_goal else []
    kept += [row.seconds <= row.seconds_goal] if row.seconds_goal else []
    kept += [row.error <= row.allowed] if row.allowed else []
    return "" if not kept else "yes" if all(kept) else "NO"


def _span(seconds: float | None) -> str:
    if seconds is None:
        return ""
    return f"{seconds:.3g} s" if seconds >= 1 else f"{seconds * 1e3:.3g} ms" if seconds >= 1e-3 else f"{seconds * 1e6:.3g} us"


def main(arguments: list[str]) -> int:
    """Print the table, or with --json its rows; raises nothing for an unknown word but says what there is."""
    unknown = sorted(set(arguments) - {"--quick", "--json"})
    if unknown:
        sys.stderr.write(f"unknown {unknown}; there are --quick and --json\n")
        return 2
    found = list(rows("--quick" in arguments))
    if "--json" in arguments:
        whole = [row if isinstance(row, str) else {**dataclasses.asdict(row), "ratio": row.ratio} for row in found]
        sys.stdout.write(json.dumps(whole, indent=1) + "\n")
    else:
        sys.stdout.write(markdown(found) + "\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
