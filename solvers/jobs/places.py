"""Where the terminals of a wiring stand: on R, on C, on a W, on a switch line, or on nothing."""

from __future__ import annotations

from dataclasses import dataclass

from ..plant.electrics import electrics
from ..plant.parts import Boiler, Fuse, Part, Relay, Splice, Stat, Transformer, Valve
from ..plant.wiring import Installation
from .findings import Evidence
from .nets import Nets
from .steps import Settled

__all__ = ["Places", "places"]


@dataclass(frozen=True, slots=True)
class Places:
    """The points of a wiring by what stands on them. R is behind the fuse or ahead of it; W is what a stat or relay feeds."""

    installation: Installation
    nets: Nets
    r: tuple[str, ...]  # points
    c: tuple[str, ...]
    w: tuple[str, ...]

    def beside(self, terminal: str) -> tuple[str, ...]:
        """The other terminals of parts at a terminal's point."""
        return self.nets.beside(terminal)

    def same(self, first: str, second: str) -> bool:
        """Whether two terminals are one point."""
        return self.nets.same(first, second)

    def is_r(self, terminal: str) -> bool:
        """Whether a terminal stands on R of any source."""
        return self.nets.of[terminal] in self.r

    def is_c(self, terminal: str) -> bool:
        """Whether a terminal stands on C of any source."""
        return self.nets.of[terminal] in self.c

    def is_w(self, terminal: str) -> bool:
        """Whether a terminal stands on what a stat, or a relay's contact that has R, feeds."""
        return self.nets.of[terminal] in self.w

    def valves_at(self, terminal: str) -> tuple[str, ...]:
        """The valves with a heater or motor lead at a terminal's point."""
        drives = {end: part.name for part in self.installation.parts if isinstance(part, Valve) for end in part.drive_pair}
        return tuple(drives[other] for other in self.beside(terminal) if other in drives)

    def switches_at(self, terminal: str) -> tuple[str, ...]:
        """The valves with an end-switch lead, not a shared one, at a terminal's point."""
        ends = {
            end: part.name
            for part in self.installation.parts
            if isinstance(part, Valve)
            for end in part.switch_pair or ()
            if not end.endswith(".S")
        }
        return tuple(ends[other] for other in self.beside(terminal) if other in ends)

    def volts(self, seen: Settled, first: str, second: str) -> float:
        """Volts between two terminals in a state."""
        solved = electrics(self.installation, seen.state.parts, seen.state.lifted).solved.volts
        return abs(solved[first] - solved[second])

    def calls_boiler(self, relay: Relay) -> bool:
        """Whether a contact of a relay goes to T-T."""
        contacts = [terminal for number in range(1, relay.poles + 1) for terminal in relay.pole(number)]
        inputs = {end for part in self.installation.parts if isinstance(part, Boiler) for end in part.terminals[:2]}
        return any(inputs & {*self.beside(terminal)} for terminal in contacts)

    def homes(self, valve: Valve) -> tuple[str, str] | None:
        """The sources of a valve's R and of its return, where they are not one and the same."""
        sources = [part for part in self.installation.parts if isinstance(part, Transformer)]
        fuses = [part for part in self.installation.parts if isinstance(part, Fuse)]
        back = [source.name for source in sources for end in valve.drive_pair if self.same(end, source.secondary_pair[1])]
        out = []
        for stat in (part for part in self.installation.parts if isinstance(part, Stat)):
            if valve.name not in self.valves_at(f"{stat.name}.W"):
                continue
            fed = self._ahead(f"{stat.name}.R")
            behind = [fuse for fuse in fuses if any(self.nets.of[end] in fed for end in fuse.terminals)]
            ahead = [
                source.name
                for source in sources
                for fuse in behind
                if any(self.same(source.secondary_pair[0], end) for end in fuse.terminals)
            ]
            out += ahead
        if len(back) == 1 and len(out) == 1 and back != out:
            return out[0], back[0]
        return None

    def _ahead(self, terminal: str) -> set[str]:
        """A terminal's point, and those that relays at rest or pulled join it to from their COM."""
        found = {self.nets.of[terminal]}
        for relay in (part for part in self.installation.parts if isinstance(part, Relay)):
            for number in range(1, relay.poles + 1):
                common, *throws = relay.pole(number)
                found |= {self.nets.of[common]} if any(self.same(terminal, throw) for throw in throws) else set()
        return found

    def needed(self, part: Part) -> tuple[str, ...]:
        """The terminals of a part without which it can do nothing."""
        if isinstance(part, Splice):
            return ()
        if isinstance(part, Relay):
            return part.coil_pair
        if isinstance(part, Transformer):
            return part.secondary_pair
        if isinstance(part, Valve):
            return part.drive_pair
        if isinstance(part, Boiler):
            return part.terminals[:2]
        return part.terminals


def places(evidence: Evidence) -> Places:
    """The places of a wiring under judgement."""
    here, nets = evidence.installation, evidence.nets
    sources = [part for part in here.parts if isinstance(part, Transformer)]
    r = {nets.of[source.secondary_pair[0]] for source in sources}
    for fuse in (part for part in here.parts if isinstance(part, Fuse)):
        ends = {nets.of[end] for end in fuse.terminals}
        r |= ends if ends & r else set()
    c = {nets.of[source.secondary_pair[1]] for source in sources}
    for relay in (part for part in here.parts if isinstance(part, Relay)):
        for number in range(1, relay.poles + 1):
            common, _, normally_closed = relay.pole(number)
            # what a relay at rest lets through is R too, as with priority for hot water
            r |= {nets.of[normally_closed]} if nets.of[common] in r and nets.beside(normally_closed) else set()
    r -= c
    w = {nets.of[f"{part.name}.W"] for part in here.parts if isinstance(part, Stat)}
    for relay in (part for part in here.parts if isinstance(part, Relay)):
        for number in range(1, relay.poles + 1):
            common, normally_open, normally_closed = relay.pole(number)
            if nets.of[common] in r:
                w.add(nets.of[normally_open])
            if nets.of[normally_open] in r or nets.of[normally_closed] in r:
                w.add(nets.of[common])
    w -= r | c
    return Places(here, nets, tuple(sorted(r)), tuple(sorted(c)), tuple(sorted(w)))
