"""Files that people keep, written whole or not at all; and files that people send, read with care."""

from __future__ import annotations

import os
import stat
import tempfile
from pathlib import Path

from .errors import Refused

__all__ = ["contents", "saved"]


def saved(path: Path, data: bytes, *, mode: int = 0o644) -> None:
    """Write a file so that a reader, or a loss of power, meets the old content or the new, never a part.

    Raises what the system raises (disk full, no permission); then the old file stands and no temporary file is left.
    """
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=".", suffix=".tmp")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(name, mode)
        os.replace(name, path)
    except BaseException:
        os.unlink(name)
        raise
    _settle(path.parent)


def contents(path: Path, most: int) -> bytes:
    """The bytes of a file that somebody else wrote, at most so many.

    Raises Refused for a symbolic link, anything that is no regular file, and a file that is larger; OSError if unreadable.
    """
    if path.is_symlink():
        raise Refused(f"{path.name} is a link to another file; hand in the file itself")
    # Not following, not blocking: the path may become a link or a pipe before it is open.
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    try:
        found = os.fstat(handle)
        if not stat.S_ISREG(found.st_mode):
            raise Refused(f"{path.name} is not a regular file")
        if found.st_size > most:
            raise Refused(f"{path.name} has {found.st_size} bytes; at most {most} are read")
        with os.fdopen(handle, "rb", closefd=False) as file:
            return file.read(most)
    finally:
        os.close(handle)


def _settle(folder: Path) -> None:
    """Make the new name itself last; Windows has no such call and needs none."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
