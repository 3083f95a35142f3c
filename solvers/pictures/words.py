"""Plain names for parts, test points and conductors, and a ladder told in sentences from the same trace as its drawing."""

from __future__ import annotations

from collections.abc import Iterator

from ..plant.naming import home, part_words, point_words, short_words, way_words, wire_words
from ..plant.wiring import Installation
from .elements import DRIVES
from .trace import Chain, Step, Trace, traced

__all__ = ["ladder_words"]

PASSED = ("joint", "stat", "fuse", "breaker")  # told as "through ..."; everything else by its terminals
ONLY = ("boiler", "fuse", "transformer", "relay", "priority relay", "breaker")


def ladder_words(installation: Installation) -> str:
    """What the ladder shows, in sentences: every conductor with both its ends, every terminal with nothing on it.

    Two installations whose conductors land differently never read the same.
    """
    trace = traced(installation)
    told = _Told(installation, trace)
    lines = [f"Supply: {words}." for chain in trace.supplies if (words := told.chain(chain))]
    lines += [f"{name}: {told.chain(chain, zone)}." for name, zone, chain in _rungs(trace)]
    lines += [f"Apart from the rungs: {words}." for chain in trace.strays if (words := told.chain(chain))]
    if feeds := [words for chain in trace.feeds if (words := told.chain(chain))]:
        lines.append(f"T-T circuit: {'; '.join(feeds)}.")
    if extra := told.rest():
        lines.append(f"Also: {'; '.join(extra)}.")
    if trace.loose:
        lines.append(f"Not connected: {'; '.join(point_words(terminal) for terminal in trace.loose)}.")
    return " ".join(lines)


def _rungs(trace: Trace) -> Iterator[tuple[str, str, Chain]]:
    """Each rung with what it is called: by its zone, by what its thermostat serves, or by its number."""
    told: list[str] = []
    for number, (zone, chain) in enumerate(trace.rungs, 1):
        serves = [step.element.part.partition(".")[0] for step in chain.steps if step.element.part.endswith(".stat")]
        name = zone.replace("zone", "Zone ") if zone else serves[0].capitalize() if serves else f"Rung {number}"
        yield (f"{name} also" if name in told else name), zone, chain
        told.append(name)


class _Told:
    """The sentences of one trace; remembers which conductors are already in one."""

    def __init__(self, installation: Installation, trace: Trace) -> None:
        self.wires = {wire.name: wire for wire in installation.conductors}
        self.trace = trace
        self.left_to_tell = list(trace.apart)
        landed = {terminal: installation.landed(terminal) for bus in trace.buses for terminal in bus.ways}
        # A bus on which each way holds one conductor needs no word about its ways: they are all one joint.
        self.even = {bus.name for bus in trace.buses if all(len(landed[way]) == 1 for way in bus.ways)}

    def chain(self, chain: Chain, zone: str = "") -> str:
        """One chain from left to right, and what hangs on it; "" for a symbol that no conductor of its own ties in.

        Its own zone's joints go by their short names.
        """
        clauses: list[str] = []
        start, through = self._end(chain.left, chain.first), []
        clause = start
        for steps in chain.groups:
            if steps[0].element.kind in PASSED:
                through.append(_passed(steps, zone))
                continue
            clauses.append(_closed(clause, through, _of(steps[0].left)) + _inside(steps))
            clause, through = _of(steps[-1].right), []
        end = self._end(chain.right, chain.last)
        if end or through:
            clauses.append(_closed(clause, through, end))
        if len(chain.groups) == 1 and not (start or end or through):
            clauses = []
        return "; ".join((*clauses, *self._hanging(chain)))

    def rest(self) -> list[str]:
        """Conductors that no chain tells of."""
        return [
            f"{wire_words(name)} from {self._named(self.wires[name].a)} to {self._named(self.wires[name].b)}"
            for name in self.left_to_tell
        ]

    def _end(self, terminal: str, wire: str) -> str:
        """What a chain's end is tied to: a bus, or whatever the one conductor on it comes from."""
        if not wire:
            here = [name for name in self.left_to_tell if terminal in (self.wires[name].a, self.wires[name].b)]
            if len(here) != 1:
                return ""
            (wire,) = here
            self.left_to_tell.remove(wire)
        conductor = self.wires[wire]
        return self._named(conductor.b if conductor.a == terminal else conductor.a)

    def _named(self, terminal: str) -> str:
        bus = self.trace.bus_of(terminal)
        if bus is None:
            return point_words(terminal)
        way = "" if bus.name in self.even else f" ({way_words(terminal.removeprefix(bus.name + '.'))} way)"
        return f"{_named_part(bus.name)}{way}"

    def _hanging(self, chain: Chain) -> list[str]:
        """Conductors on the third lead of what has one in the chain."""
        parts = {step.element.part for step in chain.steps if step.element.kind in (*DRIVES, "switch", "stat", "contact")}
        ends = {end for steps in chain.groups for end in (steps[0].left, steps[-1].right)}
        found: list[str] = []
        for name in list(self.left_to_tell):
            wire = self.wires[name]
            for here, there in ((wire.a, wire.b), (wire.b, wire.a)):
                if here.rpartition(".")[0] in parts and here not in ends and self.trace.bus_of(there):
                    found.append(f"{_of(here)} to {self._named(there)}")
                    self.left_to_tell.remove(name)
                    break
        return found


def _closed(start: str, through: list[str], end: str) -> str:
    words = [start.removeprefix("the ")] if start else []
    if through:
        words.append(f"{'through ' if start else 'from '}{', '.join(through)}")
    if end:
        words.append(f"to {end}" if words else end)
    return " ".join(words)


def _passed(steps: tuple[Step, ...], zone: str) -> str:
    element, left, right = steps[0].element, steps[0].left, steps[-1].right
    name = _named_part(short_words(element.part) if home(element.part) == zone else part_words(element.part))
    # A fuse's supply side faces the transformer, which stands to its right.
    natural = element.b if element.kind in ("fuse", "breaker") else element.a
    name += f" ({element.mark})" if element.mark else ""
    return name if left == natural and len(steps) == 1 else f"{name} from {_mark(left)} to {_mark(right)}"


def _inside(steps: tuple[Step, ...]) -> str:
    """What lies between two terminals of a part, where it is not a plain heater or what the part is named for."""
    words = {"heater": "heater", "ptc": "PTC heater", "switch": "end switch", "electronics": "electronics"}
    kinds = [step.element.kind for step in steps]
    if set(kinds) <= {"heater", "winding", "boiler", "box"}:
        return ""
    return f", {' and '.join(dict.fromkeys(f'its {words.get(kind, kind)}' for kind in kinds))}"


def _mark(terminal: str) -> str:
    return terminal.rpartition(".")[2]


def _of(terminal: str) -> str:
    part, _, mark = terminal.rpartition(".")
    return f"{mark} of {_named_part(part_words(part))}"


def _named_part(words: str) -> str:
    """A part with its article, where it is the only one of its kind or a bus without a number."""
    return f"the {words}" if words in ONLY or words.endswith((" bus", " joint")) else words
