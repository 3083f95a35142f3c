"""What every widget of a notebook is made of: its modules as one script, and a learner's file that cannot be gone on with."""

from __future__ import annotations

import re
from importlib.resources import files
from pathlib import Path

from ..jobs.job import JobError

__all__ = ["MODULES", "TABLE_MODULES", "check_assignment", "kept", "put_aside", "script", "source"]

MODULES = (
    "bench-elements.mjs",
    "bench-gestures.mjs",
    "bench-head.mjs",
    "bench-keeping.mjs",
    "bench-keys.mjs",
    "bench-drawing.mjs",
    "bench-meter.mjs",
    "bench-acts.mjs",
    "bench-parts.mjs",
    "bench-repairs.mjs",
    "bench-wires.mjs",
    "bench-finish.mjs",
    "bench-kits.mjs",
    "bench-log.mjs",
    "bench-sound.mjs",
    "bench-verdict.mjs",
    "bench-marks.mjs",
    "bench-inside.mjs",
    "bench-offer.mjs",
    "bench.mjs",
    "notebook-asking.mjs",
    "notebook.mjs",
)
"""The bench's modules, each after those it imports."""

TABLE_MODULES = (
    "bench-elements.mjs",
    "bench-gestures.mjs",
    "bench-keeping.mjs",
    "bench-keys.mjs",
    "bench-drawing.mjs",
    "bench-meter.mjs",
    "bench-acts.mjs",
    "wiring-edits.mjs",
    "wiring-hands.mjs",
    "wiring-join.mjs",
    "wiring-keeping.mjs",
    "wiring-keys.mjs",
    "wiring-list.mjs",
    "wiring-questions.mjs",
    "wiring-lab.mjs",
    "wiring-marks.mjs",
    "wiring-power.mjs",
    "wiring.mjs",
    "notebook-asking.mjs",
    "wiring-notebook.mjs",
)
"""The wiring table's modules, each after those it imports."""

_IMPORT = re.compile(r'^import [^;]* from "\./([^"]+)";\n', re.MULTILINE)
_EXPORT = re.compile(r"^export (?:default (?=function))?(?=(?:async function|function|class|const) (\w+))", re.MULTILINE)
_ASSIGNMENT = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,63}")


def script(names: tuple[str, ...] = MODULES) -> str:
    """A screen's modules as one, which is what a notebook's page can load; the bench's unless others are named.

    Each keeps its own names and hands on what it exports; the default export of the last renders the widget. Raises
    ImportError for a module that imports one not named before it.
    """
    parts = []
    for name in names:
        text = source(name)
        wanted = set(_IMPORT.findall(text)) - set(names[: names.index(name)])
        if wanted:
            raise ImportError(f"{name} imports {sorted(wanted)}, which is not named before it")
        exported, text = ", ".join(_EXPORT.findall(text)), _EXPORT.sub("", _IMPORT.sub("", text))
        parts.append(f"const {{ {exported} }} = (() => {{\n{text}\nreturn {{ {exported} }};\n}})();" if exported else text)
    return "\n".join(parts)


def source(name: str) -> str:
    """The text of one of the screens' own files."""
    return files(__package__).joinpath(name).read_text(encoding="utf-8")


def check_assignment(assignment: object, like: str) -> None:
    """Raise ValueError for an assignment's name that cannot be a file's; None is no assignment."""
    if assignment is not None and not (isinstance(assignment, str) and _ASSIGNMENT.fullmatch(assignment)):
        raise ValueError(f"assignment {assignment!r}; use 1 to 64 letters, figures, '.', '_' and '-', as {like!r}")


def kept(path: Path, text: str, known: bytes | None, most: int, where: str) -> bytes:
    """Write a learner's file and return its content; raises JobError when it is not as this screen left it."""
    from ..classroom.files import contents, saved

    found = contents(path, most) if path.exists() else None
    if found != known:
        raise JobError(f"{path.name} has been changed outside this {where}; run the cell again")
    data = text.encode("utf-8")
    saved(path, data)
    return data


def put_aside(path: Path, why: str, what: str) -> str:
    """Rename a file that cannot be gone on with; return the sentence that says so."""
    number = 1
    while (kept := path.with_suffix(f".kept-{number}.json")).exists():
        number += 1
    path.rename(kept)
    return f"{path.name} {why}. It is kept as {kept.name}, and a new {what} is begun. Show it to your instructor."
