"""Many rows of numbers of sixteen bits, most of them alike: each kept as what it differs in from one before it."""

from __future__ import annotations

import base64
import zlib
from array import array
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from .job import JobError

__all__ = ["Rows", "packed", "squeezed", "unpacked", "unsqueezed"]

NEAR = 48  # rows before this one that it is held against
FAR = 96  # rows at the beginning that it is held against too
MOST_STEPS = 24  # from one row to the next that it differs from, so that a look takes no time

NONE = -1


@dataclass(frozen=True, slots=True)
class Rows:
    """Rows of one width; reading one number follows its row to those that it differs from."""

    width: int
    low: bytes
    high: bytes
    after: tuple[int, ...]  # by row: the one that it differs from, or NONE

    def __len__(self) -> int:
        return len(self.after)

    def at(self, row: int, place: int) -> int:
        """One number; raises IndexError."""
        if not 0 <= place < self.width:
            raise IndexError(f"place {place} of a row of {self.width}")
        low = high = 0
        while row != NONE:
            at = row * self.width + place
            low ^= self.low[at]
            high ^= self.high[at]
            row = self.after[row]
        return low | high << 8


def packed(rows: Sequence[array]) -> dict[str, object]:
    """Rows of equal width as data that JSON can hold."""
    width = len(rows[0]) if rows else 0
    whole = [int.from_bytes(_planes(row), "little") for row in rows]
    after, depth, differing = [], [], []
    for number, row in enumerate(whole):
        candidates = {*range(max(0, number - NEAR), number), *range(min(number, FAR))}
        near = [one for one in candidates if depth[one] < MOST_STEPS]
        found = min(near, key=lambda one: _bytes_apart(row ^ whole[one], width), default=NONE)
        after.append(found)
        depth.append(0 if found == NONE else depth[found] + 1)
        differing.append((row ^ (0 if found == NONE else whole[found])).to_bytes(2 * width, "little"))
    low = b"".join(one[:width] for one in differing)
    high = b"".join(one[width:] for one in differing)
    return {"width": width, "after": after, "low": squeezed(low), "high": squeezed(high)}


def unpacked(data: object, path: str, most: int, check: Callable[[object, str], None]) -> Rows:
    """Rows read from such data, at most so many bytes of them; `check` proves the fields, JobError says what is wrong."""
    check(data, path)
    width, after = data["width"], data["after"]
    if isinstance(width, bool) or not isinstance(width, int) or not 0 <= width <= most:
        raise JobError(f"{path}.width is {width!r}; it is a whole number up to {most}")
    if not isinstance(after, list) or not all(type(one) is int and NONE <= one < at for at, one in enumerate(after)):
        raise JobError(f"{path}.after must name, for each row, one before it or {NONE}")
    size = width * len(after)
    if size > most:
        raise JobError(f"{path} holds {size} numbers; at most {most} are read")
    planes = [_bytes(data[name], f"{path}.{name}", size) for name in ("low", "high")]
    return Rows(width, *planes, tuple(after))


def _planes(row: array) -> bytes:
    """All low bytes, then all high ones."""
    raw = row.tobytes() if row.itemsize == 2 else array("H", row).tobytes()
    return raw[0::2] + raw[1::2]


def _bytes_apart(difference: int, width: int) -> int:
    raw = difference.to_bytes(2 * width, "little")
    return len(raw) - raw.count(0)


def squeezed(raw: bytes) -> str:
    """Bytes as a short text that JSON can hold."""
    return base64.b85encode(zlib.compress(raw, 9)).decode("ascii")


def _bytes(text: object, path: str, size: int) -> bytes:
    """Exactly so many bytes, and not one more is ever unpacked."""
    raw = unsqueezed(text, path, size)
    if len(raw) != size:
        raise JobError(f"{path} unpacks to another size than its rows have")
    return raw


def unsqueezed(text: object, path: str, most: int) -> bytes:
    """What a packed text holds, at most so many bytes; raises JobError."""
    if not isinstance(text, str):
        raise JobError(f"{path} must be text")
    try:
        raw = zlib.decompressobj().decompress(base64.b85decode(text), most + 1)
    except (ValueError, zlib.error):
        raise JobError(f"{path} is damaged: it does not unpack") from None
    if len(raw) > most:
        raise JobError(f"{path} unpacks to more than {most} bytes")
    return raw
