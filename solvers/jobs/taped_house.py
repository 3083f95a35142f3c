"""A house that is only a tape: it does the declared acts, lets time pass, and shows what the real one would have shown."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import replace

from ..circuit import (
    Meter,
    beeped,
    displayed_amps,
    displayed_millivolts,
    displayed_ohms,
    displayed_volts,
    displayed_volts_dc,
    wound,
)
from ..circuit.codes import NO_CODE, amps_of, ohms_of, volts_of
from ..plant.electrics import lead
from ..plant.parts import Boiler, Stat, Transformer, Valve
from ..plant.running import PlantState, at_rest
from ..plant.wiring import Installation
from .acts import check_stopped, checked
from .admitting import admitted
from .covers import covers_on, uncovered
from .declared import Declared, Standing, admitted_in, key_of
from .handling import later, referred, turned_words, wait_checked
from .house import Done, Stands
from .job import JobError
from .metering import LINE_READINGS, MISSING, probes_on
from .tape import Edge, Moment, Tape, slots_of, wires_of
from .world import Outcome, World, first_few

__all__ = ["TapedHouse"]


class TapedHouse:
    """Where a learner stands on a tape: the state that the house came from or rests in, and the time since the last act."""

    def __init__(self, design: Installation, rules: Declared, tape: Tape, meter: Meter = Meter()) -> None:
        self.design, self.rules, self.tape, self.meter = design, rules, tape, meter
        self.drawn = World(design, design, at_rest(design))  # checks names, and holds covers, stop and handing over
        self.standing = Standing()
        self.clock = 0.0
        self._node = 0
        self._edge: Edge | None = None
        self._since = 0.0  # s since the last act
        self._lifted: tuple[str, ...] = ()
        self._jumpers: tuple[tuple[str, str], ...] = ()
        self._engaged: dict[str, bool] = {}
        self._acts = {key_of(act): number for number, act in enumerate(tape.acts)}
        self._slots = {slot: number for number, slot in enumerate(slots_of(design))}
        self._wires = {wire: number for number, wire in enumerate(wires_of(design))}
        self._places = {point: number for number, point in enumerate(tape.points)}

    def done(self, act: object) -> tuple[Done, ...]:
        """Do one act, after a wait if something is still on its way; raises JobError for what the job does not admit."""
        act = checked(act)
        if self.drawn.stopped:
            check_stopped(act)
        self._check_names(act)
        match admitted_in(self.rules, self.standing, act):
            case "read" | "line reading":
                outcome = self._read(act)
                self.drawn = uncovered(self.drawn, act)
                return (self._did(act, outcome),)
            case "wait":
                return (self._waited(wait_checked(act["seconds"])),)
            case "covers":
                self.drawn, outcome = covers_on(self.drawn, act)
                return (self._did(act, outcome),)
            case "stop":
                self.drawn = replace(self.drawn, stopped=True)
                return (self._did(act, self.tape.nodes[self._node].stop),)
            case "refer":
                self.drawn, outcome = referred(self.drawn, act)
                return (self._did(act, outcome),)
        return self._changed(act)

    def stands(self) -> Stands:
        """What is seen now."""
        node, design = self.tape.nodes[self._node], self.design
        stats = [part.name for part in design.parts if isinstance(part, Stat)]
        supplies = [part.name for part in design.parts if isinstance(part, Transformer | Boiler)]
        on = dict(zip(supplies, node.supplies, strict=True)) if not self.drawn.stopped else dict.fromkeys(supplies, False)
        calls = dict(zip(stats, node.calls, strict=True))
        return Stands(
            clock=self.clock,
            points=self._points(),
            lifted=self._lifted,
            jumpers=self._jumpers,
            strays=node.strays,
            uncovered=self.drawn.uncovered,
            stopped=self.drawn.stopped,
            referred=self.drawn.referred,
            calls=calls,
            supplies=on,
            outside=self._outside(calls, on),
        )

    def _points(self) -> tuple[str, ...]:
        return (*self.tape.points, *map(lead, self._lifted))

    def _outside(self, calls: Mapping[str, bool], on: Mapping[str, bool]) -> PlantState:
        parts = {part.name: part.initial() for part in self.design.parts}
        for part in self.design.parts:
            if part.name in calls:
                parts[part.name] = replace(parts[part.name], calling=calls[part.name])
            elif part.name in on:
                parts[part.name] = replace(parts[part.name], on=on[part.name])
            elif isinstance(part, Valve):
                parts[part.name] = replace(parts[part.name], engaged=self._engaged.get(part.name, False))
        return PlantState(time=0.0, parts=parts, values={}, lifted=self._lifted)

    def _check_names(self, act: Mapping[str, object]) -> None:
        """Raise JobError, or what the plant says, for a part that is not drawn or does not admit this act."""
        for slot in ("part", "stat", "valve", "loop"):
            if slot in act:
                admitted(self.drawn, act["do"], act[slot])

    def _did(self, act: Mapping[str, object], outcome: Outcome) -> Done:
        return Done(dict(act), outcome, self.clock)

    def _moment(self) -> Moment:
        """What is there now."""
        if self._edge is None:
            node = self.tape.nodes[self._node]
            return Moment(0.0, node.circuit, node.senses)
        moments = self._edge.moments
        return moments[bisect_right(moments, self._since, key=lambda moment: moment.after) - 1]

    def _read(self, act: Mapping[str, object]) -> Outcome:
        match act["do"]:
            case "measure":
                return self._measured(act)
            case "clamp":
                return self._clamped(act["wire"], act["turns"])
            case "line reading":
                return self._line_reading(act)
            case "head off":
                slot = self._slots["head off", act["valve"]]
            case how:
                slot = self._slots[how, act["part"]]
        text, signal = self.tape.senses[self.tape.sense_rows.at(self._moment().senses, slot)]
        return Outcome(text, signal=signal)

    def _measured(self, act: Mapping[str, object]) -> Outcome:
        function, first, second = probes_on(act, self._points())
        ac, low, ohms = (self._code(number, first, second) for number in range(3))
        live = volts_of(low) > self.meter.live_above
        match function:
            case "volts":
                reading = displayed_volts(volts_of(ac), meter=self.meter)
            case "millivolts":
                reading = displayed_millivolts(volts_of(ac), meter=self.meter)
            case "volts low-Z":
                reading = displayed_volts(volts_of(low), low_z=True, meter=self.meter)
            case "volts DC":
                reading = displayed_volts_dc(0.0, meter=self.meter)
            case _:
                reading = displayed_ohms(ohms_of(ohms), live=live, meter=self.meter)
                reading = beeped(reading, meter=self.meter) if function == "beeper" else reading
        return Outcome(reading.text, reading, misuse=reading.misuse)

    def _clamped(self, wire: str, turns: int) -> Outcome:
        if wire not in self._wires:
            self.design.conductor(wire)  # raises with the names there are
        wound(turns)
        row, _, _ = self.tape.circuits[self._moment().circuit]
        rows = self.tape.rows
        code = rows.at(row, rows.width - len(self._wires) + self._wires[wire])
        if code == NO_CODE:
            return MISSING
        reading = displayed_amps(amps_of(code), turns=turns, meter=self.meter)
        return Outcome(reading.text, reading, misuse=reading.misuse)

    def _line_reading(self, act: Mapping[str, object]) -> Outcome:
        if act["what"] not in LINE_READINGS:
            raise JobError(f"no line reading {act['what']!r}; there are {list(LINE_READINGS)}")
        boxes = [part.name for part in self.design.parts if isinstance(part, Transformer)]
        place = boxes.index(act["part"]) * len(LINE_READINGS) + LINE_READINGS.index(act["what"])
        return self.tape.nodes[self._node].line[place]

    def _code(self, function: int, first: str, second: str) -> int:
        """What the rows hold for one function and two points."""
        row, _, lead_row = self.tape.circuits[self._moment().circuit]
        always, leads = self._places, [lead(terminal) for terminal in sorted(self._lifted)]
        count = len(always)
        if first in always and second in always:
            one, other = sorted((always[first], always[second]))
            pairs = count * (count - 1) // 2
            return self.tape.rows.at(row, function * pairs + one * (2 * count - one - 1) // 2 + other - one - 1)
        places = {**always, **{name: count + place for place, name in enumerate(leads)}}
        other, one = sorted((places[first], places[second]))
        before = sum(count + place for place in range(one - count))
        pairs = sum(count + place for place in range(len(leads)))
        return self.tape.lead_rows[len(leads)].at(lead_row, function * pairs + before + other)

    def _waited(self, seconds: float) -> Done:
        begun, until = self._since, self._since + seconds
        heard = [] if self._edge is None else [one for one in self._edge.heard if begun < one[0] <= until]
        text = later(seconds, [(at - begun, words) for at, words, _ in heard])
        events = first_few((self.clock + at - begun, words) for at, words, telling in heard if telling)
        self.clock, self._since = self.clock + seconds, until
        return Done({"do": "wait", "seconds": seconds}, Outcome(text, events=events), self.clock)

    def _changed(self, act: Mapping[str, object]) -> tuple[Done, ...]:
        acts = self.rules.acts_of(act)
        number = self._acts.get(key_of(acts[0]))
        edge = None if number is None else self.tape.edges[self._node].get(number)
        if edge is None and act["do"] not in ("call", "switch"):
            raise JobError(f"in a graded job {key_of(act)} is not admitted now; admitted are {self.rules.listed()}")
        if isinstance(edge, str):
            raise JobError(edge)
        done: list[Done] = []
        if self._edge is not None and (left := round(self._edge.rests - self._since, 3)) > 0:
            done.append(self._waited(max(1.0, left)))
        if edge is None:  # turned so already
            self._edge = None
            self.standing = self.standing.after(act, self.rules.kind(act))
            return (*done, *(self._did(one, Outcome(turned_words(one))) for one in acts))
        self.clock += edge.lasts
        done += [self._did(one, outcome) for one, outcome in zip(acts, edge.outcomes, strict=True)]
        self._note(act, edge)
        self.drawn = uncovered(self.drawn, act)
        return tuple(done)

    def _note(self, act: Mapping[str, object], edge: Edge) -> None:
        """Where the learner stands after an act."""
        kind = self.rules.kind(act)
        self._edge, self._since = edge, 0.0
        self._node = edge.node
        repaired = frozenset(self.tape.nodes[edge.node].repaired)
        self.standing = replace(self.standing.after(act, kind), repaired=repaired)
        match kind:
            case "lift":
                self._lifted += (act["terminal"],)
            case "land":
                self._lifted = tuple(terminal for terminal in self._lifted if terminal != act["terminal"])
            case "jumper":
                self._jumpers = ((act["first"], act["second"]),) if act["on"] else ()
            case "opener":
                self._engaged[act["valve"]] = act["engaged"]
