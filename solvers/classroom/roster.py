"""The roster: who is in the class, as a small CSV file that a spreadsheet can write. Read strictly."""

from __future__ import annotations

import codecs
import csv
import io
from dataclasses import dataclass
from pathlib import Path

from .errors import BadLearner, ClassroomError
from .files import contents
from .seeds import learner_id
from .words import short

__all__ = ["COLUMNS", "MOST_LEARNERS", "BadRoster", "Learner", "roster"]

COLUMNS = ("id", "name", "group")
MOST_LEARNERS = 500
LARGEST = 200_000  # bytes
LONGEST = 80  # characters of a name or group


class BadRoster(ClassroomError):
    """A roster that cannot be taken; the message says which line and what stands there."""


@dataclass(frozen=True, slots=True)
class Learner:
    """One line of the roster."""

    id: str
    name: str
    group: str = ""


def roster(path: Path) -> tuple[Learner, ...]:
    """The learners of a roster in its order, which is taken for how they sit: neighbours get jobs that differ more.

    The first line is `id,name,group`; a group may be left empty, and lines may be blank. Raises BadRoster with the line and
    the value for text that is not UTF-8, a missing or doubled id, too many or too few columns or rows, and where there
    is no such file. The byte-order mark that spreadsheets put in front of UTF-8 is passed over; any other is no UTF-8.
    """
    path = Path(path)
    if not path.is_file():
        raise BadRoster(f"no roster {str(path)!r}; it is a CSV file that begins {','.join(COLUMNS)}")
    data = contents(path, LARGEST).removeprefix(codecs.BOM_UTF8)
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as problem:
        line = data.count(b"\n", 0, problem.start) + 1
        shown = f"0x{data[problem.start]:02x}"
        raise BadRoster(f"{path.name}, line {line} holds the byte {shown}, which is not UTF-8; save it as CSV in UTF-8") from None
    return _learners(text, path.name)


def _learners(text: str, file: str) -> tuple[Learner, ...]:
    if "\0" in text:
        line = text.count("\n", 0, text.index("\0")) + 1
        raise BadRoster(f"{file}, line {line} holds a zero byte; save it as CSV in UTF-8")
    lines = csv.reader(io.StringIO(text, newline=""), strict=True)
    found: dict[str, Learner] = {}
    at: dict[str, int] = {}
    head = None
    try:
        for row in lines:
            here = f"{file}, line {lines.line_num}"
            if not any(cell.strip() for cell in row):
                continue
            if head is None:
                head = [cell.strip().lower() for cell in row]
                if tuple(head) != COLUMNS:
                    raise BadRoster(f"{here} is {short(','.join(row))!r}; it must be {','.join(COLUMNS)!r}")
                continue
            one = _learner(row, here)
            if one.id in found:
                raise BadRoster(f"{here} gives the id {one.id!r}, which line {at[one.id]} has already")
            if len(found) == MOST_LEARNERS:
                raise BadRoster(f"{here} is one too many; a roster has at most {MOST_LEARNERS} learners")
            found[one.id], at[one.id] = one, lines.line_num
    except csv.Error as problem:
        raise BadRoster(f"{file}, line {lines.line_num} is not CSV: {problem}") from None
    if not found:
        raise BadRoster(f"{file} names nobody; below {','.join(COLUMNS)} it has a line for each learner")
    return tuple(found.values())


def _learner(row: list[str], here: str) -> Learner:
    if len(row) != len(COLUMNS):
        raise BadRoster(
            f"{here} has {len(row)} values, {short(','.join(row))!r}; it must have {len(COLUMNS)}: {','.join(COLUMNS)}"
        )
    try:
        id = learner_id(row[0])
    except BadLearner as problem:
        raise BadRoster(f"{here}: {problem}") from None
    name, group = row[1].strip(), row[2].strip()
    if not name:
        raise BadRoster(f"{here} gives {id!r} no name")
    for what, words in (("name", name), ("group", group)):
        if len(words) > LONGEST or not words.isprintable():
            raise BadRoster(f"{here}: the {what} {short(words)!r} must be at most {LONGEST} printable characters")
    return Learner(id, name, group)
