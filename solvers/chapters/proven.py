"""Practice jobs that have been shown to be solvable, so that a browser can open one without the proof."""

from __future__ import annotations

from .proven_list import PROVEN

__all__ = ["FIGURES", "known", "practice", "word"]

FIGURES = "0123456789abcdefghijklmnopqrstuvwxyz"
"""Each stands for the place of a suspect among those that an attempt offers."""


def practice(chapter: str, level: int) -> tuple[str, ...]:
    """The seeds of the practice jobs of a chapter and level; none where nothing has been proven."""
    words = PROVEN.get(chapter, {}).get(level, "").split()
    return tuple(f"practice/{number}" for number, word in enumerate(words, 1) if word != "-")


def known(chapter: str, level: int, seed: str) -> tuple[int, tuple[int, ...] | None] | None:
    """The attempt that holds for a seed, and the suspects it keeps (None for all); None for a seed that is not listed."""
    name, _, number = seed.partition("/")
    words = PROVEN.get(chapter, {}).get(level, "").split()
    if name != "practice" or not number.isascii() or not number.isdecimal() or number != str(int(number)):
        return None
    if not 1 <= int(number) <= len(words) or words[int(number) - 1] == "-":
        return None
    attempt, _, keeps = words[int(number) - 1].partition(":")
    return int(attempt), tuple(FIGURES.index(figure) for figure in keeps) or None


def word(attempt: int, kept: tuple[int, ...] | None) -> str:
    """How one seed stands in the list: "0" for the first attempt with all its suspects, "2:0134" for the third with some."""
    if attempt < 0:
        return "-"
    return f"{attempt}" + ("" if kept is None else ":" + "".join(FIGURES[number] for number in kept))
