"""Reading the files that people keep: JSON taken strictly, each refusal with the path of the field and what was expected."""

from __future__ import annotations

import json
from collections.abc import Collection

from .job import JobError

__all__ = ["fields", "listed", "shortened", "text_of", "whole_json"]


def whole_json(text: str | bytes, what: str, largest: int, error: type[JobError]) -> dict:
    """The one JSON object that a text holds; raises `error` where it is too large, damaged, or no UTF-8."""
    if len(text) > largest:
        raise error(f"the {what} is larger than {largest} bytes")

    def refused(token: str) -> float:
        raise error(f"the {what} holds {token}, which is no number")

    try:
        body = json.loads(text.decode("utf-8") if isinstance(text, bytes) else text, parse_constant=refused)
    except error:
        raise
    except UnicodeDecodeError:
        raise error(f"the {what} is not UTF-8 text") from None
    except (ValueError, RecursionError):
        raise error(f"the {what} is damaged: it is not whole JSON") from None
    if not isinstance(body, dict):
        raise error(f"the {what} must be one JSON object")
    return body


def fields(body: object, path: str, wanted: Collection[str], error: type[JobError]) -> None:
    """Prove that an object has exactly these fields."""
    if not isinstance(body, dict):
        raise error(f"{path} must be an object; got {shortened(body)}")
    extra, missing = sorted(set(body) - set(wanted)), sorted(set(wanted) - set(body))
    if extra or missing:
        raise error(f"{path} takes {sorted(wanted)}; unknown {extra[:5]}, missing {missing}")


def listed(value: object, path: str, most: int, error: type[JobError]) -> list:
    """A list of at most so many things."""
    if not isinstance(value, list) or len(value) > most:
        raise error(f"{path} must be a list of at most {most}; got {shortened(value)}")
    return value


def text_of(value: object, path: str, longest: int, error: type[JobError]) -> str:
    """A text of at most so many characters."""
    if not isinstance(value, str) or len(value) > longest:
        raise error(f"{path} must be text of at most {longest} characters; got {shortened(value)}")
    return value


def shortened(value: object) -> str:
    """A value as an error shows it: whole if it is short."""
    shown = repr(value)
    return shown if len(shown) <= 60 else shown[:57] + "..."
