"""What is known of an assignment's jobs before they are marked, kept beside its key so that it is worked out only once."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from pathlib import Path

from ..jobs.foretold import BadForetold, Foretold, body_of, known_of
from ..jobs.strict import fields, whole_json
from .errors import Refused
from .files import contents, saved
from .keys import Key

__all__ = ["FORMAT", "kept", "kept_with"]

FORMAT = "call-for-heat foretold 2"
LARGEST = 100_000_000  # bytes


def kept(course: Path, key: Key) -> dict[str, Foretold]:
    """By learner, what was kept and still is of the job that the key holds; empty where there is no such file, or a bad one.

    Nothing is lost by that: it is worked out again.
    """
    try:
        body = whole_json(contents(_path(course, key), LARGEST), "file", LARGEST, BadForetold)
        fields(body, "file", ("format", "jobs"), BadForetold)
        jobs = body["jobs"] if body["format"] == FORMAT else {}
        return {learner: known_of(told) for learner, (mark, told) in jobs.items() if mark == _mark(key, learner)}
    except (BadForetold, Refused, OSError, ValueError, TypeError, AttributeError):
        return {}


def kept_with(course: Path, key: Key, found: Mapping[str, Foretold]) -> None:
    """Keep what was found beside what was kept before; raises OSError, and then the old file stands."""
    jobs = {learner: [_mark(key, learner), body_of(known)] for learner, known in {**kept(course, key), **found}.items()}
    text = json.dumps({"format": FORMAT, "jobs": jobs}, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    saved(_path(course, key), text.encode("utf-8"), mode=0o600)


def _path(course: Path, key: Key) -> Path:
    return Path(course) / "keys" / f"{key.assignment}.foretold.json"


def _mark(key: Key, learner: str) -> str:
    """What tells one job from another; not what it is drawn from."""
    held = key.held.get(learner)
    named = None if held is None else [key.chapter, key.level, held.seed, held.attempt, held.kept]
    return hashlib.sha256(json.dumps(named).encode()).hexdigest()
