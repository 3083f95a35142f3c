"""Words to show, on a terminal and in a page that also reads Markdown and formulas: others' made safe, and spans of time."""

from __future__ import annotations

import unicodedata

__all__ = ["escaped", "plain", "short", "span"]

_FLIPS = frozenset(map(chr, (*range(0x202A, 0x202F), *range(0x2066, 0x206A), 0x200E, 0x200F, 0x061C)))
"""Characters that turn the direction of the text around them."""

_MARKS = {mark: f"&#{ord(mark)};" for mark in "&<>\"'\\`*_[]()#$~|!"}
"""Characters that mean something to HTML, Markdown or a formula."""


def plain(text: str) -> str:
    """The text on one line, with a placeholder for whatever a terminal or a file could not take as text."""
    return " ".join(_cleaned(text).split())


def short(text: str, most: int = 60) -> str:
    """The text on one line, cut to a length."""
    line = plain(text)
    return line if len(line) <= most else line[: most - 3] + "..."


def escaped(text: str) -> str:
    """The text for a page: no tag, no Markdown, no formula in it can take effect; line ends stay."""
    return "".join(_MARKS.get(character, character) for character in _cleaned(text))


def span(seconds: float) -> str:
    """A span of time by its two largest units: "3 days 2 h", "1 h 0 min", "59 s"."""
    minutes, rest = divmod(int(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    days, hours = divmod(hours, 24)
    if days:
        return f"{days} {'day' if days == 1 else 'days'} {hours} h"
    if hours:
        return f"{hours} h {minutes} min"
    return f"{minutes} min {rest} s" if minutes else f"{rest} s"


def _cleaned(text: str) -> str:
    return "".join(_shown(character) for character in text.replace("\r\n", "\n").replace("\r", "\n"))


def _shown(character: str) -> str:
    if character in "\n\t":
        return character
    if character in _FLIPS or unicodedata.category(character) in ("Cc", "Cs", "Co", "Cn"):
        return "\ufffd"
    return character
