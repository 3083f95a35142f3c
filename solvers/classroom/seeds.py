"""Who a learner is in file names and seeds, and the seed of the job that is theirs."""

from __future__ import annotations

import re

from .errors import BadLearner

__all__ = ["learner_id", "seed_of"]

_ID = re.compile(r"[a-z0-9][a-z0-9._-]{0,63}")


def learner_id(text: str) -> str:
    """A learner's id as the course writes it: no spaces around it, small letters.

    >>> learner_id(" Anna.K ")
    'anna.k'

    Raises BadLearner for anything that is not 1 to 64 of a-z 0-9 . _ - or does not begin with a letter or figure.
    """
    plain = text.strip().lower() if isinstance(text, str) else text
    if not isinstance(plain, str) or not _ID.fullmatch(plain):
        shown = ascii(text)
        shown = shown if len(shown) <= 60 else shown[:57] + "..."
        raise BadLearner(f"{shown} is no learner id; use 1 to 64 of a-z 0-9 . _ - and begin with a letter or a figure")
    return plain


def seed_of(assignment: str, learner: str) -> str:
    """The seed of one learner's job in one assignment; raises BadLearner.

    >>> seed_of("03-heater-loops", "Anna")
    '03-heater-loops/anna'
    """
    return f"{assignment.strip().lower()}/{learner_id(learner)}"
