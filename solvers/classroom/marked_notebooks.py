"""A released notebook with a learner's marks in it, and what such a notebook tells of the work."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import nbformat
from nbformat import NotebookNode, from_dict
from nbgrader.utils import is_grade, is_solution

from ..jobs.marks import MarkLine
from .feedback import explanation_cell, mark_page
from .labs import EXPLANATION
from .scoring import Result

__all__ = ["NOTED", "blank_of", "filled", "noted", "points_of"]

NOTED = "call_for_heat"
"""Under which name a marked notebook's metadata tells what its work is about, what it shows, and what to talk over."""


def filled(notebook: NotebookNode, result: Result) -> NotebookNode:
    """A released notebook with marks and reasons in it, as though a kernel had shown them."""
    notebook.metadata[NOTED] = {"tried": list(result.tried), "shown": list(result.shown), "talk": list(result.flags)}
    for cell in notebook.cells:
        if cell.cell_type == "code":
            cell.outputs, cell.execution_count = [], None
        if not is_grade(cell):
            continue
        line, out_of = result.line(cell.metadata.nbgrader.grade_id), float(cell.metadata.nbgrader.points)
        if is_solution(cell) and line is not None and cell.metadata.nbgrader.grade_id == EXPLANATION:
            cell.source = explanation_cell(result)
        elif cell.cell_type == "code":
            cell.outputs, cell.execution_count = [_output(line, out_of)], 1
    return notebook


def _output(line: MarkLine | None, out_of: float) -> NotebookNode:
    # Where nbgrader finds no number it gives full marks, so a cell that nobody marks says 0.
    points = points_of(line, out_of) if line else None
    shown = mark_page(line, points, out_of) if line and points is not None else "<p>A person marks this.</p>"
    data = {"text/plain": repr(points or 0.0), "text/html": shown}
    return from_dict({"output_type": "execute_result", "data": data, "metadata": {}, "execution_count": 1})


def points_of(line: MarkLine, out_of: float) -> float | None:
    """The line's points, in the measure of a cell that an instructor may have given another weight."""
    return None if line.points is None else min(out_of, float(line.points) * out_of / line.out_of)


def noted(folder: Path) -> tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
    """What a learner's marked notebooks tell: objectives tried, those shown, and sentences for a talk."""
    found: dict[str, dict[str, None]] = {"tried": {}, "shown": {}, "talk": {}}
    for path in sorted(folder.glob("*.ipynb")):
        told = nbformat.read(path, as_version=4).metadata.get(NOTED, {})
        for name, kept in found.items():
            kept |= dict.fromkeys(told.get(name, ()))
    return tuple(found["tried"]), tuple(found["shown"]), tuple(found["talk"])


def blank_of(notebooks: Sequence[NotebookNode]) -> str:
    """What the explanation cell holds before a learner writes in it."""
    cells = [cell for notebook in notebooks for cell in notebook.cells if is_grade(cell) and is_solution(cell)]
    return next((cell.source for cell in cells if cell.metadata.nbgrader.grade_id == EXPLANATION), "")
