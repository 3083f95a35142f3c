"""The secret of a course: what all its labs are drawn from. It is made once and never leaves `keys/`."""

from __future__ import annotations

import secrets
from pathlib import Path

from .errors import ClassroomError
from .files import alone, contents, saved

__all__ = ["FILE", "course_secret"]

FILE = "course.secret"
BYTES = 32
_OPEN = ("source", "release")  # what learners get


def course_secret(course: Path) -> str:
    """The secret of a course as hexadecimal text, made on first use in `keys/course.secret`, readable by its owner alone.

    Raises ClassroomError where `keys` lies in what learners get, and for a secret that is damaged: another one would draw
    other labs.
    """
    folder = Path(course) / "keys"
    _check_hidden(Path(course), folder)
    path = folder / FILE
    folder.mkdir(mode=0o700, exist_ok=True)
    with alone(folder):
        if not path.exists():
            saved(path, f"{secrets.token_hex(BYTES)}\n".encode(), mode=0o600)
    text = contents(path, 200).decode("ascii", "replace").strip()
    if len(text) != 2 * BYTES or set(text) - set("0123456789abcdef"):
        raise ClassroomError(f"{path.name} is damaged: it holds {2 * BYTES} hexadecimal figures; put back the copy you keep")
    return text


def _check_hidden(course: Path, folder: Path) -> None:
    """The keys must not lie under `source` or `release`, of this course or of one around it."""
    real = folder.resolve()
    for above in (real, *real.parents):
        given = above.name in _OPEN and (above.parent / "nbgrader_config.py").exists()
        if given or above in [(course / name).resolve() for name in _OPEN]:
            raise ClassroomError(f"keys would lie in {above.name}/, which learners get; name the folder of the course itself")
