"""The list that `python -m solvers prove --keep` writes: for each chapter and level a word a seed; see `proven.word`."""

from __future__ import annotations

from collections.abc import Mapping

__all__ = ["PROVEN"]

PROVEN: Mapping[str, Mapping[int, str]] = {}
