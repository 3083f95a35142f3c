"""Searching what learners get (source/ and release/) for what they must not: the secret, seeds, answers; packed or plain."""

from __future__ import annotations

import base64
import json
import re
import zlib
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from pathlib import Path

from .course_secret import course_secret
from .errors import ClassroomError
from .keys import Key, job_held, key_of, keys_of, questions_held

__all__ = ["found_in", "given_away", "texts"]

DEEPEST = 10  # layers of packing that are undone
LARGEST = 32_000_000  # bytes that one file is unpacked to
LONG = 40  # characters from which a sentence cannot stand in a file by chance
_BASE64 = re.compile(rb"[A-Za-z0-9+/_-]{24,}={0,2}")
_BASE85 = re.compile(rb"[0-9A-Za-z!#$%&()*+;<=>?@^_`{|}~-]{24,}")


def given_away(course: Path, key: Key) -> list[str]:
    """Sentences about files of `source` and `release` that hold what only the instructor may know; empty if there are none.

    Nowhere may stand: the course's secret, any learner's secret seed, the id of what is really at fault in anybody's job, the
    working or the hint of a question. What is packed by base64, base85, zlib or gzip, or stands as JSON in a string, is
    unpacked first.
    """
    course = Path(course)
    never, problems = _never(course), []
    for path in _files(course, key.assignment):
        name = path.relative_to(course).as_posix()
        problems += [f"{name} holds {what}" for what in found_in(texts(path.read_bytes()), never)]
    return problems


def texts(data: bytes) -> Iterator[bytes]:
    """What a file holds: its own bytes, and all that is packed in them, layer by layer.

    >>> list(texts(base64.b64encode(zlib.compress(b"a secret, packed"))))[-1]
    b'a secret, packed'
    """
    waiting, seen, left = [(data, 0)], {data}, LARGEST
    while waiting:
        layer, depth = waiting.pop()
        yield layer
        if depth == DEEPEST:
            continue
        for inner in _inner(layer):
            if inner and inner not in seen and len(inner) <= left:
                seen.add(inner)
                left -= len(inner)
                waiting.append((inner, depth + 1))


def found_in(layers: Iterable[bytes], needles: Mapping[bytes, str]) -> list[str]:
    """What is found of the needles, told by their descriptions, each once."""
    whole = b"\0".join(layers)
    return list(dict.fromkeys(what for needle, what in needles.items() if needle in whole))


def _inner(layer: bytes) -> Iterator[bytes]:
    for unpacked in (_inflated(layer, zlib.MAX_WBITS | 32), _inflated(layer, -zlib.MAX_WBITS)):
        if unpacked:
            yield unpacked
    if layer[:1] in b'{["':
        with suppress(ValueError, RecursionError):
            yield "\n".join(_strings(json.loads(layer))).encode("utf-8", "replace")
    for blob in _BASE64.findall(layer):
        plain = blob.rstrip(b"=")
        with suppress(ValueError):
            yield base64.urlsafe_b64decode(plain.replace(b"+", b"-").replace(b"/", b"_") + b"=" * (-len(plain) % 4))
    for blob in _BASE85.findall(layer):
        with suppress(ValueError):
            yield base64.b85decode(blob)


def _inflated(layer: bytes, bits: int) -> bytes:
    """What a zlib, gzip or raw deflate stream holds; nothing where it is none."""
    if bits > 0 and layer[:1] not in (b"\x78", b"\x1f"):
        return b""
    unpack = zlib.decompressobj(bits)
    try:
        return unpack.decompress(layer, LARGEST)
    except zlib.error:
        return b""


def _strings(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        for name, inner in value.items():
            yield str(name)
            yield from _strings(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _strings(inner)


def _never(course: Path) -> dict[bytes, str]:
    """What may stand in no file at all, with its description."""
    needles = _figures(course_secret(course), "the course's secret")
    for assignment in keys_of(course):
        key = key_of(course, assignment)
        for learner, held in key.held.items():
            needles |= _figures(held.seed, f"the secret seed of {learner} in {assignment}")
            needles |= _workings(key, learner) if key.kind == "questions" else {}
            needles |= _answers(key, learner) if key.kind == "job" else {}
    return needles


def _figures(hexadecimal: str, what: str) -> dict[bytes, str]:
    """A number as it can be written down: in figures, small or large, and as bytes."""
    plain = hexadecimal.encode()
    return dict.fromkeys((plain, plain.upper(), bytes.fromhex(hexadecimal)), what)


def _workings(key: Key, learner: str) -> dict[bytes, str]:
    """The working and the hint of each question, where it is long enough and does not stand in the question itself."""
    found = {}
    for number, one in enumerate(questions_held(key, learner), 1):
        for what, text in (("working", one.why), ("hint", one.hint)):
            if len(text) >= LONG and text not in one.words:
                found[text.encode()] = f"the {what} of question {number} of {learner} in {key.assignment}"
    return found


def _answers(key: Key, learner: str) -> dict[bytes, str]:
    """The ids of what is really at fault in a learner's job."""
    with suppress(ClassroomError):  # the check of that learner's lab tells why there is no job
        return {answer.encode(): f"the answer of {learner} in {key.assignment}" for answer in job_held(key, learner).answers}
    return {}


def _files(course: Path, assignment: str) -> list[Path]:
    """All that learners get with this assignment, and with none: what belongs to another is searched with that."""
    others = {name for name in keys_of(course) if name != assignment}
    found = []
    for stage in (course / "source", course / "release"):
        every = [path for path in stage.rglob("*") if path.is_file()] if stage.is_dir() else []
        found += [path for path in every if path.relative_to(stage).parts[0] not in others]
    return sorted(found)
