"""Acts that change what is there: new parts and cables, conductors landed anew, settings, heads, cells and water."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import fields, replace

from ..faults.changes import Exchanged
from ..plant import facts
from ..plant.heads import under_head
from ..plant.parts import Breaker, Fuse, Part, Stat, Transformer
from ..plant.strays import Stray
from ..plant.wiring import Conductor, NoSuchPart
from .admitting import admitted, is_supply
from .job import JobError
from .misuses import LINE_WORK, OVERSIZED, wiring_misuse
from .rewiring import landed_at, relaid, remade, tightened, without_strays
from .world import Outcome, World, jumper_name, named_terminal, rebuilt, shows

__all__ = [
    "AS_DESIGNED",
    "bled",
    "cable_renewed",
    "cells_renewed",
    "exchanged",
    "fitted",
    "fitted_in_size",
    "head_off",
    "head_seated",
    "remade_at",
    "set_to",
    "sizes",
    "stem_freed",
    "taken_off",
    "wire_moved",
    "wire_run",
]

AS_DESIGNED = "as designed"
"""The value that puts a setting back to what the drawing says."""


def fitted(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """A new part in the old one's place, its own leads landed tight. The switch of a supply stays as it was set."""
    name = admitted(world, "fit", act["part"])
    return _renewed(world, world.design.part(name), "A new one is fitted.")


def fitted_in_size(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """A new fuse or breaker of so many amperes, or a new transformer of so many VA. Raises JobError for another size."""
    name, size = admitted(world, "fit size", act["part"]), act["size"]
    drawn = world.design.part(name)
    known = sizes(drawn)
    if not any(math.isclose(size, one) for one in known):
        raise JobError(f"no {name} of {size!r}; there are {list(known)}")
    if isinstance(drawn, Transformer):
        times = drawn.va / size  # a bigger core has thicker wire
        losses = {"dc_ohms": drawn.dc_ohms * times, "no_load_watts": drawn.no_load_watts / times}
        new = replace(drawn, va=float(size), ohms=drawn.ohms * times, **losses)
        return _renewed(world, new, f"A new one of {size:g} VA is fitted.")
    over = size > drawn.amps and not math.isclose(size, drawn.amps)
    return _renewed(world, replace(drawn, amps=float(size)), f"A new one of {size:g} A is fitted.", OVERSIZED if over else "")


def sizes(part: Part) -> tuple[float, ...]:
    """The sizes in which a part can be had: VA of a transformer, amperes of a fuse or breaker; none of others."""
    if isinstance(part, Transformer):
        return tuple(sorted({*facts.TRANSFORMER_SIZES, part.va}))
    return tuple(sorted({*facts.FUSE_BOX, part.amps})) if isinstance(part, Fuse | Breaker) else ()


def cable_renewed(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """A new cable, each conductor landed as drawn; what had damaged the old one stays in the wall without it."""
    cable = act["cable"]
    drawn = [wire for wire in world.design.conductors if wire.cable == cable]
    if not cable or not drawn:
        there = sorted({wire.cable for wire in world.design.conductors if wire.cable})
        raise NoSuchPart(f"no cable {cable!r}; there are {there}")
    names = {wire.name for wire in drawn}
    here = relaid(world.installation, world.design, names)
    after = rebuilt(world, without_strays(here, lambda stray: stray.belongs == cable))
    return _worked(world, replace(after, fitted=(*after.fitted, cable)), "A new cable is run and landed as drawn.")


def wire_run(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """A conductor that is drawn and missing is run."""
    name = world.design.conductor(act["wire"]).name
    if any(wire.name == name for wire in world.installation.conductors):
        return world, Outcome("That wire is there already.", signal="wire: there")
    after = rebuilt(world, relaid(world.installation, world.design, {name}))
    return _worked(world, replace(after, moved=(*after.moved, name)), "Run and landed as drawn.", "wire: missing")


def wire_moved(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """One end of a conductor landed on another terminal, tight. Raises JobError."""
    name, end, terminal = world.design.conductor(act["wire"]).name, act["end"], named_terminal(world, act["terminal"])
    if end not in ("a", "b"):
        raise JobError(f"wire {name!r} has no end {end!r}; there are ['a', 'b']")
    wire = next((one for one in world.installation.conductors if one.name == name), None)
    if wire is None:
        return world, Outcome("That wire is not there.", signal="wire: missing")
    here = world.installation.with_conductor(name, **{end: terminal}) if _other(wire, end) != terminal else None
    if here is None:
        raise JobError(f"the other end of {name!r} is on {terminal!r} already; land this one on another terminal")
    after = rebuilt(world, tightened(here, ()))
    return _worked(world, replace(after, moved=(*after.moved, name)), "Landed there and tugged.")


def exchanged(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """Whatever is landed on two terminals is exchanged, and landed tight."""
    ends = tuple(named_terminal(world, act[slot]) for slot in ("first", "second"))
    if ends[0] == ends[1]:
        raise JobError(f"both are {ends[0]!r}; name the other terminal")
    moving = tuple(wire.name for end in ends for wire in landed_at(world.installation, end))
    if not moving:
        raise JobError(f"nothing is landed on {ends[0]!r} or {ends[1]!r}")
    here = Exchanged(*ends).made(tightened(world.installation, ends))
    after = rebuilt(_all_landed(world, ends), here)
    return _worked(world, replace(after, moved=(*after.moved, *moving)), "Exchanged, landed and tugged.")


def remade_at(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """A termination made anew: cut back, landed as drawn, tight."""
    terminal = named_terminal(world, act["terminal"])
    after = rebuilt(_all_landed(world, (terminal,)), remade(world.installation, world.design, terminal))
    moved = tuple(wire.name for wire in world.design.landed(terminal))
    return _worked(world, replace(after, moved=(*after.moved, *moved)), "Cut back, made anew and tugged.")


def taken_off(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """Something that a look has shown and that belongs to nothing is taken off. Raises JobError where it is not."""
    what = act["what"]
    own = {jumper_name(*ends) for ends in world.jumpers}
    found = [part for part in world.installation.parts if isinstance(part, Stray) and part.name == what]
    if not found or found[0].belongs or what in own:
        raise JobError(f"nothing like {what!r} can be taken off here; take off what a look has shown")
    after = rebuilt(world, without_strays(world.installation, lambda stray: stray.name == what))
    return shows(world, after, "Taken off.", misuse=LINE_WORK if hasattr(found[0], "line_terminals") else "")


def set_to(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """A setting of a part put to a value it can have. Raises JobError with the settings or the values there are."""
    name, what, value = admitted(world, "set", act["part"]), act["what"], act["value"]
    part = world.installation.part(name)
    known = part.settings()
    if what not in known:
        raise JobError(f"{name!r} has no setting {what!r}; there are {list(known)}")
    if value == AS_DESIGNED:
        after = _as_designed(part, world.design.part(name), what)
    else:
        chosen = next((one for one in known[what] if _same(one, value)), None)
        if chosen is None:
            raise JobError(f"{what} of {name!r} cannot be {value!r}; there are {[AS_DESIGNED, *known[what]]}")
        after = part.with_setting(what, chosen)
    made = rebuilt(world, world.installation.with_part(after))
    return shows(world, replace(made, adjusted=(*made.adjusted, (name, what))), f"Set: {what}.", name)


def cells_renewed(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """New cells in a thermostat."""
    name = admitted(world, "cells", act["stat"])
    after = rebuilt(world, world.installation.with_part(world.installation.part(name).with_new_cells()))
    return shows(world, after, "Two new cells are in.", name)


def head_off(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """A look under the head of a valve, and the head back on."""
    name = admitted(world, "head off", act["valve"])
    found = under_head(world.installation.part(name), world.state.of(name))
    return world, Outcome(found.text, signal=found.signal)


def head_seated(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """The head of a valve pressed on until it latches."""
    return _mended(world, admitted(world, "seat head", act["valve"]), lambda part: part.seated(), "The head sits firm.")


def stem_freed(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """The head off, dry; the stem worked free and the seat flushed clean; the head back on."""
    name = admitted(world, "free stem", act["valve"])
    return _mended(world, name, lambda part: part.reseated(), "The stem moves freely, and the head is back on.")


def bled(world: World, act: Mapping[str, object]) -> tuple[World, Outcome]:
    """A loop bled until only water comes."""
    name = admitted(world, "bleed", act["loop"])
    air = world.installation.part(name).air_bound
    text, found = ("Air spits, then water comes.", "air") if air else ("Water comes at once.", "water")
    after = rebuilt(world, world.installation.with_part(replace(world.installation.part(name), air_bound=False)))
    return shows(world, after, text, signal=f"bleeder: {found}")


def _renewed(world: World, new: Part, text: str, misuse: str = "") -> tuple[World, Outcome]:
    old, state = world.installation.part(new.name), world.state.of(new.name)
    if is_supply(old) and state.on:
        raise JobError(f"the {old.name} is switched on; switch it off before you fit a new one")
    part = old.refitted(new)
    fresh = replace(part.initial(), on=state.on) if is_supply(part) else part.initial()
    here = tightened(world.installation.with_part(part), part.terminals)
    after = rebuilt(world, without_strays(here, lambda stray: stray.belongs == part.name), {part.name: fresh})
    after = replace(after, fitted=(*after.fitted, part.name))
    return shows(world, after, text, part.name if isinstance(part, Stat) else "", misuse=misuse)


def _mended(world: World, name: str, mended: Callable[[Part], Part], text: str) -> tuple[World, Outcome]:
    return shows(world, rebuilt(world, world.installation.with_part(mended(world.installation.part(name)))), text)


def _worked(before: World, after: World, text: str, signal: str = "") -> tuple[World, Outcome]:
    return shows(before, after, text, signal=signal, misuse=wiring_misuse(before, after))


def _all_landed(world: World, terminals: tuple[str, ...]) -> World:
    """The world before work that ends with these leads landed."""
    lifted = tuple(end for end in world.state.lifted if end not in terminals)
    return world if lifted == world.state.lifted else replace(world, state=replace(world.state, lifted=lifted))


def _other(wire: Conductor, end: str) -> str:
    return wire.b if end == "a" else wire.a


def _as_designed(part: Part, drawn: Part, what: str) -> Part:
    """The part with the fields that a setting writes as the drawing has them."""
    written = {
        slot.name
        for base in (part, drawn)
        for value in base.settings()[what]
        for slot in fields(base)
        if getattr(base.with_setting(what, value), slot.name) != getattr(base, slot.name)
    }
    return replace(part, **{name: getattr(drawn, name) for name in sorted(written)})


def _same(one: object, value: object) -> bool:
    numbers = all(isinstance(x, int | float) and not isinstance(x, bool) for x in (one, value))
    return math.isclose(one, value) if numbers else type(one) is type(value) and one == value
