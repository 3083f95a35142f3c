"""Files that people keep, written whole or not at all; and files that people send, read with care."""

from __future__ import annotations

import os
import stat
import tempfile
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager, suppress
from pathlib import Path

from .errors import Refused

__all__ = ["Staged", "alone", "contents", "saved"]


class Staged:
    """Several files written beside their places first, and put in place together once all are on the disk.

    Used as a context: what has not been put in place by its end is taken away again, with the folders made for it. What
    needs room on the disk is done before the first of the old files is replaced.
    """

    def __init__(self) -> None:
        self._files: list[tuple[str, Path]] = []  # (written under, belongs at)
        self._folders: list[Path] = []  # made for them
        self._written: list[str] = []  # but perhaps not yet on the disk

    def __enter__(self) -> Staged:
        return self

    def __exit__(self, *raised: object) -> None:
        for name, _ in self._files:
            os.unlink(name)
        for folder in reversed(self._folders):
            with suppress(OSError):  # somebody else has put something there
                folder.rmdir()

    def folder(self, path: Path) -> None:
        """Make a folder with those above it where they are missing."""
        missing = [one for one in (path, *path.parents) if not one.exists()]
        for one in reversed(missing):
            one.mkdir()
            self._folders.append(one)

    def add(self, path: Path, data: bytes, *, mode: int = 0o644) -> None:
        """Write a file's new content beside its place; raises what the system raises."""
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=".", suffix=".tmp")
        self._files.append((name, path))
        self._written.append(name)
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        os.chmod(name, mode)

    def sync(self) -> None:
        """Have all that was added on the disk; raises what the system raises. Many at once, since each only waits."""
        _each(_synced, self._written)
        self._written.clear()

    def settle(self) -> None:
        """Put every file in its place, once all of them are on the disk."""
        self.sync()
        self._folders.clear()
        places = dict.fromkeys(path.parent for _, path in self._files)
        while self._files:
            os.replace(*self._files[0])
            del self._files[0]
        _each(_synced, [] if os.name == "nt" else places)  # Windows has no such call for a folder and needs none


@contextmanager
def alone(folder: Path) -> Iterator[None]:
    """Let one process at a time work on a folder; another waits its turn. Windows has no such lock here and does not wait."""
    if os.name == "nt":
        yield
        return
    import fcntl

    handle = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)  # which gives the lock back


def saved(path: Path, data: bytes, *, mode: int = 0o644) -> None:
    """Write a file so that a reader, or a loss of power, meets the old content or the new, never a part.

    Raises what the system raises (disk full, no permission); then the old file stands and no temporary file is left.
    """
    with Staged() as stage:
        stage.add(path, data, mode=mode)
        stage.settle()


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


def _each(work: Callable[[str | Path], None], things: Iterable[str | Path]) -> None:
    """Do it to every one, several at a time; raises what the first of them raises that fails."""
    several = list(things)
    if len(several) < 2:
        for one in several:
            work(one)
        return
    with ThreadPoolExecutor(min(16, len(several))) as pool:
        for _ in pool.map(work, several):
            pass


def _synced(path: str | Path) -> None:
    """Have a file's content, or a folder's names, on the disk."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
