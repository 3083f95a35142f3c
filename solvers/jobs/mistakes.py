"""Mistakes in a wiring, known by what is joined to what and by what that does, and named as the trade names them."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from ..plant.lamps import Lamp
from ..plant.parts import Boiler, Fuse, Relay, Stat, Transformer, Valve
from .criteria import IDLE_VOLTS
from .findings import Evidence, listed, said
from .mistake import MISTAKES, Mistake
from .nets import LOOP, meeting
from .places import Places, places
from .relay_mistakes import at_relays, priority_and_pump
from .steps import Settled

__all__ = ["mistakes"]


def mistakes(evidence: Evidence) -> tuple[Mistake, ...]:
    """The mistakes that a wiring shows, gravest first; a wiring that works may show one that does no harm in it."""
    at = places(evidence)
    found: list[Mistake] = []
    for look in (
        _fuses,
        _stats,
        _sources,
        _three_wire,
        _four_wire,
        _heaters,
        _lamps,
        _zones,
        _boiler_fed,
        at_relays,
        priority_and_pump,
        _switches,
        _left_out,
    ):
        found += look(evidence, at)
    rank = {name: number for number, name in enumerate(MISTAKES)}
    return tuple(sorted(found, key=lambda mistake: rank[mistake.name]))


def _of(evidence: Evidence, kind: type) -> list:
    return [part for part in evidence.installation.parts if isinstance(part, kind)]


def _fuses(evidence: Evidence, at: Places) -> Iterator[Mistake]:
    fuses = _of(evidence, Fuse)
    for source in _of(evidence, Transformer):
        r, c = source.secondary_pair
        if all(terminal.rpartition(".")[0] in {fuse.name for fuse in fuses} for terminal in at.beside(r)) and at.beside(r):
            bridged = [fuse.name for fuse in fuses if at.same(*fuse.terminals)]
            for name in bridged:
                yield Mistake("fuse bypassed", f"A conductor joins both sides of the {name}: it guards nothing.", (name,))
            continue
        in_c = [fuse.name for fuse in fuses if {*fuse.terminals} & {*at.beside(c)} and at.beside(r)]
        if in_c and len(at.beside(c)) == 1:
            words = f"The {in_c[0]} stands in C: with it blown every zone is dead and still has R on it. It belongs in R."
            yield Mistake("fuse in C", words, (in_c[0], source.name))
        elif at.beside(r):
            first = listed(said(terminal) for terminal in at.beside(r))
            yield Mistake(
                "fuse bypassed", f"R of the {source.name} goes to {first}: what hangs there has no fuse.", (source.name,)
            )


def _stats(evidence: Evidence, at: Places) -> Iterator[Mistake]:
    for stat in _of(evidence, Stat):
        r, w = stat.terminals[0], stat.terminals[1]
        c = f"{stat.name}.C" if f"{stat.name}.C" in stat.terminals else ""
        if c and at.is_c(w) and at.valves_at(c) and not (at.is_r(c) or at.is_c(c)):
            volts = at.volts(evidence.posed(()), r, c)
            yield Mistake(
                "C and W exchanged",
                f"C and W are exchanged at {said(stat.name)}: its screen lives through the heater ({volts:.1f} V) "
                "until the first call, which puts R on C.",
                (stat.name, *at.valves_at(c)),
            )
        elif (at.is_r(r) and at.is_c(w)) or (at.is_c(r) and at.is_r(w)):
            words = f"{said(stat.name)} stands across R and C: open it does nothing, closed it is a short."
            yield Mistake("stat across R and C", words, (stat.name,))


def _sources(evidence: Evidence, at: Places) -> Iterator[Mistake]:
    sources = _of(evidence, Transformer)
    seen = evidence.posed(evidence.stats)
    for one, other in combinations(sources, 2):
        names = (one.name, other.name)
        how = meeting(evidence.nets, evidence.conducting(seen), f"{one.name}.winding", f"{other.name}.winding")
        if at.same(*(source.secondary_pair[1] for source in (one, other))) and how != LOOP:
            yield Mistake("commons tied", f"C of the {one.name} and C of the {other.name} are one conductor.", names)
        elif how == LOOP:
            amps = evidence.posed(()).amps[f"{other.name}.winding"]
            if amps > 3:
                words = f"The two secondaries stand against each other: {amps:.0f} A before anybody calls."
                yield Mistake("secondaries tied, opposed", words, names)
            else:
                words = f"The {one.name} and the {other.name} feed one network: each keeps the other's dead primary alive."
                yield Mistake("secondaries tied", words, names)
    for valve in _of(evidence, Valve):
        if len(sources) == 2 and (homes := at.homes(valve)):
            words = f"{said(valve.name)} has its R from the {homes[0]} and its return on the {homes[1]}: no loop closes."
            yield Mistake("return on the other source", words, (valve.name,))


def _three_wire(evidence: Evidence, at: Places) -> Iterator[Mistake]:
    for valve in _of(evidence, Valve):
        if valve.leads != 3:
            continue
        h, s, e = (f"{valve.name}.{lead}" for lead in "HSE")
        name, seen = said(valve.name), evidence.posed(())
        if at.is_w(e) and at.is_c(s) and not at.is_w(h) and not at.is_c(h):
            words = (
                f"H and E are exchanged at {name}: its heater hangs between the switch line and C, {seen.volts[valve.name]:.1f} V"
            )
            yield Mistake(
                "H and E exchanged", f"{words} with nobody calling, and its end switch would put W on C.", (valve.name,)
            )
        elif at.is_w(h) and at.is_c(e) and not at.is_c(s):
            words = (
                f"S and E are exchanged at {name}: its heater finds C only through an end switch, so the zone waits for another."
            )
            yield Mistake("S and E exchanged", words, (valve.name,))
        elif at.is_w(s) and at.is_c(h) and not at.is_c(e):
            words = f"H and S are exchanged at {name}: it opens, but its end switch puts W on the switch line instead of C"
            yield Mistake(
                "H and S exchanged", f"{words}; with another zone open that is a short through two switches.", (valve.name,)
            )


def _four_wire(evidence: Evidence, at: Places) -> Iterator[Mistake]:
    for valve in _of(evidence, Valve):
        if valve.leads != 4:
            continue
        own = [(at.is_w(terminal), at.is_c(terminal)) for terminal in valve.switch_pair]
        if sum(w for w, _ in own) == 1 and sum(c for _, c in own) == 1 and not any(at.is_w(end) for end in valve.drive_pair):
            words = f"At {said(valve.name)} the pairs are exchanged: W goes to the end switch, and the heater lies across T-T."
            yield Mistake("pairs exchanged", words, (valve.name,))


def _heaters(evidence: Evidence, at: Places) -> Iterator[Mistake]:
    alone = {stat: evidence.posed((stat,)) for stat in evidence.stats}
    for valve in _of(evidence, Valve):
        first, second = valve.drive_pair
        name = said(valve.name)
        if at.same(first, second):
            words = f"Both heater leads of {name} are on one conductor: full volts to common on either, none across."
            yield Mistake("heater on one side", words, (valve.name,))
            continue
        if (at.is_r(first) and at.is_c(second)) or (at.is_c(first) and at.is_r(second)):
            words = f"{name} has R without a stat in between: it is open for good."
            yield Mistake("stat bypassed", words, (valve.name,))
        fed = [lead for lead in (first, second) if at.is_w(lead)]
        back = [lead for lead in (first, second) if at.is_c(lead)]
        if not fed or back:
            continue
        cold = max((seen.volts[valve.name] for seen in alone.values()), default=0.0)
        open_all = evidence.posed(evidence.stats, evidence.switched_valves).volts[valve.name]
        if valve.leads == 3 and cold < IDLE_VOLTS < open_all and not at.is_c(f"{valve.name}.E"):
            words = f"{name} has lost its common: nothing until end switches are made, then {open_all:.1f} V through two of them."
            yield Mistake("common lost, sneak path", words, (valve.name,))
        elif not at.is_w(second) or not at.is_w(first):
            lead = next(lead for lead in (first, second) if lead not in fed) if len(fed) == 1 else second
            yield Mistake("return missing", f"{said(lead)} has no way back to C.", (valve.name,))


def _lamps(evidence: Evidence, at: Places) -> Iterator[Mistake]:
    for lamp in _of(evidence, Lamp):
        first, second = lamp.terminals
        if (at.is_r(first) and at.is_c(second)) or (at.is_c(first) and at.is_r(second)):
            yield Mistake("stat bypassed", f"The {lamp.name} has R without a stat in between: it burns for good.", (lamp.name,))


def _zones(evidence: Evidence, at: Places) -> Iterator[Mistake]:
    opened = {stat: {v for v, volts in evidence.posed((stat,)).volts.items() if volts > IDLE_VOLTS} for stat in evidence.stats}
    for one, other in combinations(evidence.stats, 2):
        mine, yours = (f"{stat.removesuffix('.stat')}.valve" for stat in (one, other))
        if at.same(f"{one}.W", f"{other}.W"):
            words = f"W of {said(one)} and W of {said(other)} are one conductor: either stat opens both valves."
            yield Mistake("Ws tied", words, (one, other, mine, yours))
        elif yours in opened[one] and mine not in opened[one] and mine in opened[other]:
            words = f"{said(one)} opens {said(yours)} and {said(other)} opens {said(mine)}: the Ws or the stats are crossed."
            yield Mistake("stats crossed", words, (one, other, mine, yours))


def _boiler_fed(evidence: Evidence, at: Places) -> Iterator[Mistake]:
    for boiler in _of(evidence, Boiler):
        branch = "source" if boiler.input == "own supply" else "input"
        for source in _of(evidence, Transformer):
            loops = [seen for seen in evidence.corners if _in_loop(evidence, seen, source.name, f"{boiler.name}.{branch}")]
            if not loops:
                continue
            most = max(seen.amps[f"{boiler.name}.input"] * boiler.input_ohms for seen in loops)
            least = min(seen.amps[f"{boiler.name}.input"] * boiler.input_ohms for seen in loops)
            if most > 1.3 * boiler.emf:
                words = (
                    f"T-T is fed from the {source.name}, against the boiler's own supply: {most:.0f} V on its input, which burns."
                )
                yield Mistake("T-T fed, opposed", words, (boiler.name, source.name))
            else:
                words = f"T-T is fed from the {source.name}: two supplies face each other, {least:.1f} V is left for the input."
                yield Mistake("T-T fed, in phase", words, (boiler.name, source.name))
        inputs = (f"{boiler.name}.T1", f"{boiler.name}.T2")
        tied = [valve for end in inputs for valve in at.switches_at(end) if evidence.installation.part(valve).leads == 3]
        if tied and evidence.named(Relay):
            valves = listed(said(valve) for valve in tied)
            words = f"The switch line of {valves} is joined to T-T: the relay is there to keep the two apart."
            yield Mistake("switch line on T-T", words, (boiler.name, *tied))
        if at.same(*inputs):
            yield Mistake("T-T jumpered", "A conductor closes T-T: the boiler is called for good.", (boiler.name,))


def _in_loop(evidence: Evidence, seen: Settled, source: str, branch: str) -> bool:
    return meeting(evidence.nets, evidence.conducting(seen), f"{source}.winding", branch) == LOOP


def _switches(evidence: Evidence, at: Places) -> Iterator[Mistake]:
    valves = evidence.switched_valves
    for boiler in _of(evidence, Boiler):
        fired = {made: boiler.name in evidence.posed((), made).fired for made in ((), valves, *((valve,) for valve in valves))}
        if len(valves) > 1 and fired[valves] and not fired[()] and not any(fired[(valve,)] for valve in valves):
            words = "The end switches stand in series: the boiler waits until every valve is open."
            yield Mistake("switches in series", words, (boiler.name, *valves))
    for valve in _of(evidence, Valve):
        loose = [terminal for terminal in valve.switch_pair or () if not at.beside(terminal) and not terminal.endswith(".S")]
        if loose:
            words = f"{listed(said(terminal) for terminal in loose)} is joined to nothing: the boiler never hears of that valve."
            yield Mistake("end switch not landed", words, (valve.name, *evidence.named(Relay), *evidence.named(Boiler)))


def _left_out(evidence: Evidence, at: Places) -> Iterator[Mistake]:
    for part in evidence.installation.parts:
        if isinstance(part, Transformer) and part.line_side and (part.feed_open or part.tap != _nearest_tap(part)):
            lead = "no lead of the primary" if part.feed_open else f"the {part.tap:g} V lead"
            words = (
                f"The line of {part.line_volts:g} V is on {lead}: {0.0 if part.feed_open else part.open_volts:.1f} V from R to C."
            )
            yield Mistake("wrong primary lead", words, (part.name,))
        if isinstance(part, Transformer) and len(evidence.named(Transformer)) > 1:
            amps = evidence.posed(evidence.stats).amps[f"{part.name}.winding"]
            if amps > part.rated_amps:
                words = (
                    f"The {part.name} carries {amps:.2f} A with all calling, of {part.rated_amps:.2f} A: share the valves out."
                )
                yield Mistake("source overloaded", words, (part.name,))
        needed = at.needed(part)
        loose = [terminal for terminal in needed if not at.beside(terminal)]
        if loose:
            words = f"{listed(said(terminal) for terminal in loose)} {'is' if len(loose) == 1 else 'are'} joined to nothing."
            yield Mistake("part left out", words, (part.name,))


def _nearest_tap(part: Transformer) -> float:
    return min(part.taps, key=lambda tap: abs(tap - part.line_volts))
