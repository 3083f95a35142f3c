"""Plain names for parts, test points and conductors, and a ladder told in sentences from the same trace as its drawing."""

from __future__ import annotations

from ..plant.wiring import Installation
from .graph import home
from .trace import Chain, Step, Trace, traced

__all__ = ["ladder_words", "part_words", "point_words", "short_words", "wire_words"]

PASSED = ("joint", "stat", "fuse")  # told as "through ..."; everything else by its terminals
PLAIN = ("stat", "valve")  # numbered by their zone: "valve 2"


def part_words(part: str) -> str:
    """A part as a technician would say it: "valve 1" for "zone1.valve", "zone 1 W splice" for "zone1.W splice"."""
    tag = home(part)
    if not tag:
        return part
    number, rest = tag[4:], part.partition(".")[2]
    return f"{rest} {number}" if rest in PLAIN else f"zone {number} {rest}"


def short_words(part: str) -> str:
    """A part's name beside its own zone's rung: "W splice" for "zone1.W splice", but "valve 1" for "zone1.valve"."""
    rest = part.partition(".")[2] if home(part) else part
    return part_words(part) if rest in PLAIN else rest


def point_words(point: str) -> str:
    """A test point as a technician would say it: "stat 2 W", "zone 1 W splice, side 1", "lead lifted off valve 2 H"."""
    if point.endswith(" lead"):
        return f"lead lifted off {point_words(point.removesuffix(' lead'))}"
    part, _, mark = point.rpartition(".")
    if mark.isdigit():
        return f"{part_words(part)}, side {mark}"
    if part.endswith((" bus", " splice")):
        return f"{part_words(part)}, {_way_words(mark)} way"
    return f"{part_words(part)} {mark}"


def wire_words(name: str) -> str:
    """A conductor's name in words: "zone 1 W leg" for "zone1.W leg"."""
    return part_words(name)


def ladder_words(installation: Installation) -> str:
    """What the ladder shows, in sentences: every conductor with both its ends, every terminal with nothing on it.

    Two installations whose conductors land differently never read the same.
    """
    trace = traced(installation)
    told = _Told(installation, trace)
    lines = [f"Supply: {told.chain(chain)}." for chain in trace.supplies]
    for number, (zone, chain) in enumerate(trace.rungs, 1):
        lines.append(f"{zone.replace('zone', 'Zone ') or f'Rung {number}'}: {told.chain(chain, zone)}.")
    lines += [f"Apart from the rungs: {told.chain(chain)}." for chain in trace.strays]
    if trace.feeds:
        lines.append(f"T-T circuit: {'; '.join(told.chain(chain) for chain in trace.feeds)}.")
    if extra := told.rest():
        lines.append(f"Also: {'; '.join(extra)}.")
    if trace.loose:
        lines.append(f"Not connected: {'; '.join(point_words(terminal) for terminal in trace.loose)}.")
    return " ".join(lines)


def _way_words(mark: str) -> str:
    return part_words(f"{mark}.").strip() if home(f"{mark}.") else mark


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
        """One chain from left to right, and what hangs on it. Its own zone's joints go by their short names."""
        clauses: list[str] = []
        clause, through = (self._end(chain.left, chain.first) if chain.first else ""), []
        for steps in chain.groups:
            if steps[0].element.kind in PASSED:
                through.append(_passed(steps[0], zone))
                continue
            clauses.append(_closed(clause, through, _of(steps[0].left)) + _inside(steps))
            clause, through = _of(steps[-1].right), []
        end = self._end(chain.right, chain.last) if chain.last else ""
        if end or through:
            clauses.append(_closed(clause, through, end))
        return "; ".join((*clauses, *self._hanging(chain)))

    def rest(self) -> list[str]:
        """Conductors that no chain tells of."""
        return [
            f"{wire_words(name)} from {self._named(self.wires[name].a)} to {self._named(self.wires[name].b)}"
            for name in self.left_to_tell
        ]

    def _end(self, terminal: str, wire: str) -> str:
        conductor = self.wires[wire]
        return self._named(conductor.b if conductor.a == terminal else conductor.a)

    def _named(self, terminal: str) -> str:
        bus = self.trace.bus_of(terminal)
        if bus is None:
            return point_words(terminal)
        way = "" if bus.name in self.even else f" ({_way_words(terminal.removeprefix(bus.name + '.'))} way)"
        return f"the {bus.name}{way}"

    def _hanging(self, chain: Chain) -> list[str]:
        """Conductors on the third lead of three-wire valves in the chain."""
        parts = {step.element.part for step in chain.steps if step.element.kind in ("heater", "switch")}
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


def _passed(step: Step, zone: str) -> str:
    element = step.element
    name = _named_part(short_words(element.part) if home(element.part) == zone else part_words(element.part))
    # A fuse's supply side faces the transformer, which stands to its right.
    natural = element.b if element.kind == "fuse" else element.a
    return name if step.left == natural else f"{name} from {_mark(step.left)} to {_mark(step.right)}"


def _inside(steps: tuple[Step, ...]) -> str:
    """What lies between two terminals of a valve, where it is not the heater alone."""
    kinds = [step.element.kind for step in steps]
    if "switch" not in kinds:
        return ""
    return f", {' and '.join({'heater': 'its heater', 'switch': 'its end switch'}[kind] for kind in kinds)}"


def _mark(terminal: str) -> str:
    return terminal.rpartition(".")[2]


def _of(terminal: str) -> str:
    part, _, mark = terminal.rpartition(".")
    return f"{mark} of {_named_part(part_words(part))}"


def _named_part(words: str) -> str:
    """A part with its article, where it is the only one of its kind."""
    return f"the {words}" if words in ("boiler", "fuse", "transformer") else words
