"""What the cells of a lab do on a learner's machine: they say whether the sheet is saved, and never more."""

from __future__ import annotations

import os
from pathlib import Path

__all__ = ["handed_in"]


def handed_in(assignment: str, *, folder: str | Path = ".") -> None:
    """Show whether a sheet of the assignment is saved in a folder. Tells no points; gives nothing back.

    Raises RuntimeError where nbgrader runs it to grade: a quiet cell would count as full marks there, and this course is
    marked from the sheets.
    """
    if os.environ.get("NBGRADER_EXECUTION") == "autograde":
        raise RuntimeError("this course is marked from the sheets: use the nbgrader_config.py that came with it")
    path = Path(folder) / f"{assignment}.sheet.json"
    there = path.is_file() and path.stat().st_size > 0
    _show("Your sheet is saved. Hand it in with this notebook." if there else "No sheet is saved yet. Work the job at the bench.")


def _show(words: str) -> None:
    from IPython.display import display  # only where a notebook runs

    display({"text/plain": words}, raw=True)
