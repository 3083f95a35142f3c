"""The files in a folder, in its folders, and in zip files at any depth that is fair: read in memory, never unpacked."""

from __future__ import annotations

import io
import os
import stat
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from .errors import Refused
from .files import contents
from .words import plain

__all__ = ["Left", "Piece", "pieces"]

LARGEST_ZIP = 200_000_000  # bytes, on the disk
MOST_ENTRIES = 5_000  # of one zip file, those inside it included
MOST_TOTAL = 400_000_000  # bytes that one zip file on the disk may become
MOST_TIMES = 120  # how much larger than packed an entry may become; text packs 4 to 20 times
SMALL = 1_000_000  # bytes that an entry may become whatever it was packed to
DEEPEST = 3  # zip files within zip files
_ENTRY = b"PK\x01\x02"


@dataclass(frozen=True, slots=True)
class Left:
    """A file that was not taken as it should be, and why."""

    path: str  # as a person would find it: folder/all.zip/anna/lab.sheet.json
    reason: str  # one sentence


@dataclass(frozen=True, slots=True)
class Piece:
    """One file that was found, wherever it lay."""

    path: str  # as in Left
    name: str
    above: tuple[str, ...]  # the folders and zip files that it lies in, outermost first
    when: datetime
    read: Callable[[int], bytes] = field(compare=False, repr=False)  # at most so many bytes; raises Refused or OSError


@dataclass(slots=True)
class _Budget:
    """What is left of what one zip file on the disk may cost."""

    total: int = MOST_TOTAL
    entries: int = MOST_ENTRIES


def pieces(folder: Path, wanted: Callable[[str], bool], *, passing: Path | None = None) -> Iterator[Piece | Left]:
    """Every file whose name is wanted, in order of its path, and what had to be left.

    Links are not followed; hidden folders, and the folder `passing`, are passed by.
    """
    for at, folders, names in os.walk(folder, followlinks=False):
        here = Path(at)
        folders[:] = sorted(name for name in folders if not name.startswith(".") and not _same(here / name, passing))
        above = here.relative_to(folder).parts
        for name in sorted(one for one in (*folders, *names) if (here / one).is_symlink()):
            yield Left(str(here / name), "It is a link; hand in the files themselves.")
        for name in sorted(name for name in names if not name.startswith(".") and not (here / name).is_symlink()):
            path = here / name
            if name.lower().endswith(".zip"):
                yield from _zipped(path, (*above, name), wanted)
            elif wanted(name):
                yield Piece(str(path), name, above, _when(path), lambda most, path=path: contents(path, most))


def _same(one: Path, other: Path | None) -> bool:
    try:
        return other is not None and one.samefile(other)
    except OSError:
        return False


def _zipped(path: Path, above: tuple[str, ...], wanted: Callable[[str], bool]) -> Iterator[Piece | Left]:
    try:
        data = contents(path, LARGEST_ZIP)
    except (Refused, OSError) as problem:
        yield Left(str(path), f"{(problem.strerror if isinstance(problem, OSError) else problem) or 'It cannot be read'}.")
        return
    yield from _opened(data, str(path), above, _when(path), wanted, _Budget(), 1)


def _opened(
    data: bytes,
    path: str,
    above: tuple[str, ...],
    when: datetime,
    wanted: Callable[[str], bool],
    budget: _Budget,
    depth: int,
) -> Iterator[Piece | Left]:
    if depth > DEEPEST:
        yield Left(path, f"Zip files lie more than {DEEPEST} deep in one another.")
        return
    # Counted before anything is read, since reading the list of entries is work already.
    if data.count(_ENTRY) > budget.entries:
        yield Left(path, f"It holds more than {MOST_ENTRIES} entries.")
        return
    try:
        archive = zipfile.ZipFile(io.BytesIO(data))
        entries = archive.infolist()
    except Exception:  # a damaged list of entries raises whatever it likes
        yield Left(path, "It is not a whole zip file.")
        return
    budget.entries -= len(entries)
    with archive:
        for entry in entries:
            yield from _entry(archive, entry, path, above, when, wanted, budget, depth)


def _entry(
    archive: zipfile.ZipFile,
    entry: zipfile.ZipInfo,
    path: str,
    above: tuple[str, ...],
    when: datetime,
    wanted: Callable[[str], bool],
    budget: _Budget,
    depth: int,
) -> Iterator[Piece | Left]:
    parts = entry.filename.replace("\\", "/").split("/")
    shown = f"{path}/{plain(entry.filename)}"
    if reason := _refusal(entry, parts):
        yield Left(shown, reason)
        return
    name = parts[-1]
    inner = name.lower().endswith(".zip")
    hidden = any(part.startswith(".") or part == "__MACOSX" for part in parts)
    if entry.is_dir() or hidden or not (inner or wanted(name)):
        return
    try:
        data = _unpacked(archive, entry, budget)
    except Refused as problem:
        yield Left(shown, f"{problem}.")
        return
    packed = _packed_at(entry, when)
    if inner:
        yield from _opened(data, shown, (*above, *parts), packed, wanted, budget, depth + 1)
    else:
        yield Piece(shown, name, (*above, *parts[:-1]), packed, lambda most: _at_most(data, most, name))


def _refusal(entry: zipfile.ZipInfo, parts: list[str]) -> str:
    """Why an entry is not even looked at; empty where nothing speaks against it."""
    if entry.filename.startswith(("/", "\\")) or ":" in parts[0]:
        return "Its path begins at the root of a disk."
    if ".." in parts:
        return "Its path leads out of the zip file."
    if stat.S_ISLNK(entry.external_attr >> 16):
        return "It is a link to another file; hand in the file itself."
    if entry.flag_bits & 0x1:
        return "It is encrypted; hand it in without a password."
    return ""


def _unpacked(archive: zipfile.ZipFile, entry: zipfile.ZipInfo, budget: _Budget) -> bytes:
    """An entry's bytes; raises Refused where they are more than is fair, whatever the entry says of itself."""
    most = min(budget.total, max(SMALL, MOST_TIMES * entry.compress_size))
    try:
        with archive.open(entry) as file:
            data = file.read(most + 1)
    except Exception:  # a damaged or unknown packing raises whatever it likes
        raise Refused("It is damaged or packed in an unknown way") from None
    if len(data) > most:
        raise Refused(f"It unpacks to more than {most} bytes, far more than such a file holds")
    budget.total -= len(data)
    return data


def _at_most(data: bytes, most: int, name: str) -> bytes:
    if len(data) > most:
        raise Refused(f"{name} has {len(data)} bytes; at most {most} are read")
    return data


def _packed_at(entry: zipfile.ZipInfo, latest: datetime) -> datetime:
    """When an entry says it was written, by this machine's clock; no later than the zip file itself."""
    try:
        return min(datetime(*entry.date_time).astimezone(UTC), latest)
    except (ValueError, OverflowError, OSError):
        return latest


def _when(path: Path) -> datetime:
    """When a file was last written; now, where its time is none that a calendar has."""
    try:
        return datetime.fromtimestamp(path.lstat().st_mtime, UTC)
    except (OverflowError, ValueError, OSError):
        return datetime.now(UTC)
