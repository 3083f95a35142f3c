"""Small pieces of HTML that sheets and answers share."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape
from string import ascii_uppercase

from ..jobs.job import Job

__all__ = ["letter", "rows", "suspects"]


def letter(job: Job, suspect: str) -> str:
    """The letter that a suspect goes by on its job's sheet."""
    return ascii_uppercase[[one.id for one in job.suspects].index(suspect)]


def rows(lines: Iterable[Sequence[str]]) -> str:
    """Table rows of plain texts."""
    return "".join(f"<tr>{''.join(f'<td>{escape(cell)}</td>' for cell in line)}</tr>\n" for line in lines)


def suspects(job: Job) -> str:
    """The suspects of a job with a letter and a box to tick each."""
    return "".join(
        f"<li><b>{letter(job, one.id)}</b><i></i>{escape(one.words[:1].upper() + one.words[1:])}</li>\n" for one in job.suspects
    )
