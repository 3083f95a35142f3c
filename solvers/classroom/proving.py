"""Proving jobs in bulk: which seeds of a chapter and level give a solvable job, at which attempt, with which suspects."""

from __future__ import annotations

import textwrap
import time
from collections.abc import Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from ..chapters import proven_list
from ..chapters.drawing import BANDS, MOST_ATTEMPTS, candidate, proved
from ..chapters.proven import word
from ..chapters.proven_list import PROVEN
from ..chapters.shelf import ENDLESS
from ..jobs.reference import par
from .errors import ClassroomError
from .files import saved

__all__ = ["Proof", "kept", "proofs", "told"]


@dataclass(frozen=True, slots=True)
class Proof:
    """One seed proven: the attempt that holds, the suspects kept of those it offers, and what a teacher wants to know."""

    chapter: str
    level: int
    seed: str
    attempt: int  # -1 for none
    kept: tuple[int, ...] | None  # None for every suspect
    rows: tuple[str, ...]
    difficulty: float
    par: float
    seconds: float

    @property
    def in_band(self) -> bool:
        """Whether its difficulty is what its level promises."""
        low, high = BANDS[self.level]
        return low <= self.difficulty <= high


def proofs(chapter: str, level: int, seeds: Iterable[str], workers: int = 1) -> Iterator[Proof]:
    """Draw and prove a job for each seed, in order. Raises ClassroomError with the choices for what does not exist."""
    if chapter not in ENDLESS:
        raise ClassroomError(f"no chapter {chapter!r}; there are {', '.join(ENDLESS)}")
    if level not in ENDLESS[chapter].LEVELS:
        raise ClassroomError(f"no level {level} of {chapter}; there are {', '.join(map(str, ENDLESS[chapter].LEVELS))}")
    asked = [(chapter, level, seed) for seed in seeds]
    if workers <= 1:
        yield from map(_proof, asked)
        return
    with ProcessPoolExecutor(workers) as pool:
        yield from pool.map(_proof, asked, chunksize=4)


def _proof(asked: tuple[str, int, str]) -> Proof:
    chapter, level, seed = asked
    plan, begun = ENDLESS[chapter].PLAN, time.process_time()
    for attempt in range(MOST_ATTEMPTS):
        job = candidate(plan, seed, level, attempt)
        found = job and proved(job)
        if not found:
            continue
        names = [suspect.id for suspect in job.suspects]
        keeps = tuple(names.index(suspect.id) for suspect in found.suspects)
        return Proof(
            chapter,
            level,
            seed,
            attempt,
            None if len(keeps) == len(names) else keeps,
            tuple(fault.row for fault in found.faults),
            found.difficulty,
            par(found),
            time.process_time() - begun,
        )
    return Proof(chapter, level, seed, -1, None, (), 0.0, 0.0, time.process_time() - begun)


def told(found: Iterable[Proof]) -> str:
    """A table of proofs: one line a chapter and level."""
    lines = [f"{'chapter':22} level  jobs  unsolvable  out of band  second try  rows  par (mean)  s/job"]
    groups: dict[tuple[str, int], list[Proof]] = {}
    for one in found:
        groups.setdefault((one.chapter, one.level), []).append(one)
    for (chapter, level), several in groups.items():
        good = [one for one in several if one.attempt >= 0]
        outside = sum(not one.in_band for one in good)
        again = sum(one.attempt > 0 for one in good)
        rows = len({row for one in good for row in one.rows})
        mean = sum(one.par for one in good) / len(good) if good else 0.0
        spent = sum(one.seconds for one in several) / len(several)
        bad = len(several) - len(good)
        lines.append(
            f"{chapter:22} {level:5} {len(several):5} {bad:11} {outside:12} {again:11} {rows:5} {mean:11.1f} {spent:6.2f}"
        )
    return "\n".join(lines) + "\n"


def kept(found: Iterable[Proof]) -> Path:
    """Write the practice jobs among these proofs into the package's list, beside those of other chapters and levels."""
    listed = {chapter: dict(levels) for chapter, levels in PROVEN.items()}
    words: dict[tuple[str, int], list[str]] = {}
    for one in found:
        words.setdefault((one.chapter, one.level), []).append(word(one.attempt, one.kept))
    for (chapter, level), several in words.items():
        listed.setdefault(chapter, {})[level] = " ".join(several)
    path = Path(proven_list.__file__)
    head, begins, _ = path.read_text(encoding="utf-8").partition("PROVEN: Mapping")
    lines = [f"{begins}[str, Mapping[int, str]] = {{"]
    for chapter, levels in listed.items():
        lines.append(f'    "{chapter}": {{')
        for level, several in sorted(levels.items()):
            lines.append(f"        {level}: (")
            lines += [f'            "{line} "' for line in textwrap.wrap(several, 110)]
            lines.append("        ),")
        lines.append("    },")
    saved(path, (head + "\n".join([*lines, "}"]) + "\n").encode())
    return path
