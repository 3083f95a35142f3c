"""Twenty-four hours: the event kernel against a general integrator, and the whole plant at work."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
from benchmarks.timing import Row, side_by_side
from oracles import exact_run
from scipy.integrate import solve_ivp

from solvers.circuit import Approach, Event, Guard, Law, run

__all__ = ["kernel_day"]

DAY = 24 * 3600.0


@dataclass(frozen=True, slots=True)
class Zone:
    """A thermostat with its room, a valve with its wax: every law and guard laid out by (calling, open)."""

    start: Mapping[str, float]  # degC
    laws: Mapping[tuple[bool, bool], Mapping[str, Law]]
    guards: Mapping[tuple[bool, bool], tuple[Guard, ...]]

    def fired(self, state: tuple[bool, bool], guard: Guard) -> tuple[bool, bool]:
        """Warm enough stops the call, cold starts it; the wax opens the valve, and closes it."""
        return (not guard.rising, state[1]) if guard.variable == "room" else (state[0], guard.rising)


def zone(number: int) -> Zone:
    """One of four zones, each a little different; invented, in the range of heat-motor valves and light houses."""
    states = [(calling, opened) for calling in (False, True) for opened in (False, True)]
    return Zone(
        {"wax": 20.0, "room": 19.0 + 0.2 * number},
        {
            (calling, opened): {
                "wax": Approach(104.0 + number if calling else 20.0, 110.0 + 3.0 * number),
                "room": Approach(34.0 + 0.5 * number if opened else 6.0 - number, 17_000.0 + 1000.0 * number),
            }
            for calling, opened in states
        },
        {
            (calling, opened): (
                Guard("warm enough", "room", 20.5, True) if calling else Guard("calls", "room", 20.0, False),
                Guard("shuts", "wax", 80.0, False) if opened else Guard("opens", "wax", 90.0, True),
            )
            for calling, opened in states
        },
    )


def kernel_day(zones: int = 4, *, method: str = "RK45", repeat: int = 5, hours: float = 24.0) -> Row:
    """A day of each zone, thermostat and wax, by `circuit.run` and by scipy's `solve_ivp` at rtol 1e-8, zone by zone.

    RK45 is what solve_ivp takes unless told otherwise, and the goal is set against it.
    """
    every, stop = [zone(number) for number in range(zones)], hours * 3600.0
    ours, theirs = side_by_side(
        lambda: [_ran(one, stop) for one in every], lambda: [_integrated(one, stop, method) for one in every], repeat=repeat
    )
    found = [_ran(one, stop) for one in every]
    exact = [
        exact_run(one.start, (True, False), stop=stop, laws=one.laws.get, guards=one.guards.get, fired=one.fired) for one in every
    ]
    other = [_integrated(one, stop, method) for one in every]
    return Row(
        f"{hours:g} hours, {zones} zones of thermostat and wax, {sum(map(len, found))} events",
        ours,
        f"scipy solve_ivp, {method}, rtol 1e-8",
        theirs,
        ratio_goal=200.0 if method == "RK45" else None,
        error=_apart(exact, found),
        allowed=1e-6,
        unit="s off 40 digits",
        note=f"scipy is {_apart(exact, other):.0e} s off",
    )


def _apart(exact: list[list[tuple]], found: list) -> float:
    """The largest difference in an event's time; raises ValueError where the events are not the same."""
    most = 0.0
    for one, other in zip(exact, found, strict=True):
        if [name for _, name in one] != [event.name for event in other]:
            raise ValueError(f"{len(one)} exact events and {len(other)} found are not the same")
        most = max(most, *(abs(float(when - event.time)) for (when, _), event in zip(one, other, strict=True)))
    return most


def _ran(one: Zone, stop: float) -> tuple[Event, ...]:
    ended = run(
        one.start,
        (True, False),
        start=0.0,
        stop=stop,
        laws=one.laws.__getitem__,
        guards=one.guards.__getitem__,
        fired=one.fired,
    )
    return ended.events


def _integrated(one: Zone, stop: float, method: str) -> list[Event]:
    """The same day by solve_ivp from event to event, the variable that made an event put on its level."""
    names = list(one.start)
    slopes = {state: _slope([one.laws[state][name] for name in names]) for state in one.laws}
    crossings = {state: [_crossing(names.index(guard.variable), guard) for guard in one.guards[state]] for state in one.guards}
    now, state, values, events = 0.0, (True, False), np.array(list(one.start.values())), []
    while now < stop:
        ended = solve_ivp(slopes[state], (now, stop), values, method=method, rtol=1e-8, atol=1e-8, events=crossings[state])
        if ended.status != 1:
            break
        hit = next(place for place, times in enumerate(ended.t_events) if len(times))
        guard = one.guards[state][hit]
        now, values = float(ended.t_events[hit][0]), ended.y_events[hit][0].copy()
        values[names.index(guard.variable)] = guard.level
        state = one.fired(state, guard)
        events.append(Event(now, guard.name))
    return events


def _slope(laws: list[Approach]) -> Callable[[float, np.ndarray], np.ndarray]:
    targets, rates = np.array([law.target for law in laws]), np.array([1 / law.tau for law in laws])
    return lambda t, x: (targets - x) * rates


def _crossing(place: int, guard: Guard) -> Callable[[float, np.ndarray], float]:
    def crossing(t: float, x: np.ndarray) -> float:
        return x[place] - guard.level

    crossing.terminal = True
    crossing.direction = 1.0 if guard.rising else -1.0
    return crossing
