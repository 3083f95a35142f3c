"""Who a learner is in file names, the public name of the lab that is theirs, and the secret seed it is drawn from."""

from __future__ import annotations

import hashlib
import hmac
import re

from .errors import BadLearner

__all__ = ["learner_id", "secret_seed", "seed_of", "wiring_draw"]

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
    """The public name of one learner's lab, in the place of a seed in files and sheets; nothing follows from it.

    >>> seed_of("03-heater-loops", "Anna")
    '03-heater-loops/anna'

    Raises BadLearner.
    """
    return f"{assignment.strip().lower()}/{learner_id(learner)}"


def secret_seed(secret: str, assignment: str, learner: str, label: str = "") -> str:
    """What one learner's lab is drawn from: 64 hexadecimal figures that only the course's secret gives.

    The secret is hexadecimal itself; `label` tells years or classes apart. Raises BadLearner.
    """
    name = f"{seed_of(assignment, learner)}/{label}"
    return hmac.new(bytes.fromhex(secret), name.encode("utf-8"), hashlib.sha256).hexdigest()


def wiring_draw(seed: str, attempt: int) -> str:
    """The seed of a wire-up's parts and leads, which its file shows; the secret seed does not follow from it.

    >>> len(wiring_draw("00" * 32, 0))
    24
    """
    return hmac.new(bytes.fromhex(seed), f"wire-up/{attempt}".encode(), hashlib.sha256).hexdigest()[:24]
