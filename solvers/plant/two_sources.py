"""The field topologies with two transformers: separate commons, or one return conductor for both."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from .drafting import ZERO, Draft, Zone, common, heater_side, return_side, supply, tagged
from .parts import Boiler, Fuse, Transformer
from .topologies import dry_call, switch_legs, switches
from .wiring import Installation

__all__ = ["separate_commons", "shared_return"]


def separate_commons(
    name: str,
    first: Sequence[Zone],
    second: Sequence[Zone],
    *,
    transformers: tuple[Transformer, Transformer] = (Transformer("transformer"), Transformer("transformer")),
    fuses: tuple[Fuse, Fuse] = (Fuse("fuse"), Fuse("fuse")),
    boiler: Boiler = Boiler("boiler"),
    trunk_ohms: float = ZERO,
    tt_ohms: float = ZERO,
) -> Installation:
    """Two transformers with commons of their own (TP5): zones split by VA, end switches paralleled to one dry T-T.

    The first source keeps the plain names; the second's end in " 2". Raises WiringError as the builders do.
    """
    draft = Draft()
    groups = _groups(first, second)
    every = [(tag, zone) for tags, zones, _ in groups for tag, zone in zip(tags, zones, strict=True)]
    switches(draft, [tag for tag, _ in every], [zone for _, zone in every])
    for (tags, zones, mark), transformer, fuse in zip(groups, transformers, fuses, strict=True):
        supply(draft, tags, transformer, fuse, mark)
        common(draft, (*tags, "trunk"), trunk_ohms, mark)
        for tag, zone in zip(tags, zones, strict=True):
            heater_side(draft, tag, zone, f"R bus{mark}", f"C bus{mark}")
            return_side(draft, tag, zone, f"C bus{mark}")
            switch_legs(draft, tag, zone)
    dry_call(draft, boiler, tt_ohms)
    return draft.done(name)


def shared_return(
    name: str,
    first: Sequence[Zone],
    second: Sequence[Zone],
    *,
    transformers: tuple[Transformer, Transformer] = (Transformer("transformer"), Transformer("transformer")),
    fuses: tuple[Fuse, Fuse] = (Fuse("fuse"), Fuse("fuse")),
    boiler: Boiler = Boiler("boiler"),
    opposed: bool = False,
    trunk_ohms: float = ZERO,
    tt_ohms: float = ZERO,
) -> Installation:
    """Two transformers whose zones share one return conductor (TP6).

    In phase the return carries the sum of both currents, opposed it carries the difference, and a lost return then puts
    two zones in series across both sources. Raises WiringError as the builders do.
    """
    draft = Draft()
    groups = _groups(first, second)
    every = [(tag, zone) for tags, zones, _ in groups for tag, zone in zip(tags, zones, strict=True)]
    switches(draft, [tag for tag, _ in every], [zone for _, zone in every])
    draft.bus("C bus", (*(tag for tag, _ in every), "trunk"))
    draft.bus("C joint", ("trunk", "transformer", "transformer 2"))
    draft.wire("C trunk", "C bus.trunk", "C joint.trunk", trunk_ohms, others=ZERO)
    for (tags, zones, mark), transformer, fuse in zip(groups, transformers, fuses, strict=True):
        source = replace(transformer, opposed=opposed) if mark else transformer
        supply(draft, tags, source, fuse, mark)
        draft.wire(f"C{mark} tail", f"transformer{mark}.C", f"C joint.transformer{mark}")
        for tag, zone in zip(tags, zones, strict=True):
            heater_side(draft, tag, zone, f"R bus{mark}")
            return_side(draft, tag, zone)
            switch_legs(draft, tag, zone)
    dry_call(draft, boiler, tt_ohms)
    return draft.done(name)


def _groups(first: Sequence[Zone], second: Sequence[Zone]) -> list[tuple[list[str], Sequence[Zone], str]]:
    tags = tagged([*first, *second], (4, 2))
    return [(tags[: len(first)], first, ""), (tags[len(first) :], second, " 2")]
