"""The run between events against 40 digits and small steps; ties, guards already met, chatter and bad times."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import mpmath
import pytest
from hypothesis import given
from hypothesis import strategies as st
from oracles import exact_run, stepped_run

from solvers.circuit import Approach, Chatter, CircuitError, Event, Guard, Law, Ramp, run

DAY = 24 * 3600.0


# One variable


@given(st.floats(-50, 250), st.floats(-50, 250), st.floats(0.1, 1e5), st.floats(0, 1e6))
def test_approach_agrees_with_forty_digits(x: float, target: float, tau: float, t: float) -> None:
    """The value after t seconds is target + (x - target) exp(-t / tau)."""
    with mpmath.workdps(40):
        expected = target + (mpmath.mpf(x) - target) * mpmath.exp(-mpmath.mpf(t) / tau)
    assert float(expected) == pytest.approx(Approach(target, tau).at(x, t), abs=1e-12)


@given(st.floats(-50, 250), st.floats(-50, 250), st.floats(1, 1e5), st.floats(0.001, 0.999))
def test_approach_reaches_each_level_on_its_way(x: float, target: float, tau: float, share: float) -> None:
    """Waiting for the time to a level between start and target brings the variable there."""
    law, level = Approach(target, tau), x + share * (target - x)
    wait = law.time_to(x, level)
    if abs(target - x) > 1e-6:
        assert level == pytest.approx(law.at(x, wait), abs=1e-9)
        assert 0 <= wait < math.inf


@pytest.mark.parametrize(
    ("x", "level", "expected"),
    [(20, 20, 0.0), (20, 60, math.inf), (20, 70, math.inf), (20, 10, math.inf), (60, 60, math.inf), (60, 50, math.inf)],
)
def test_approach_never_reaches_its_target_or_what_lies_behind(x: float, level: float, expected: float) -> None:
    """The target itself, levels past it and levels behind are never reached; where it is takes no time."""
    assert expected == Approach(60, 300).time_to(x, level)


@pytest.mark.parametrize(
    ("rate", "level", "expected"),
    [(0.5, 9.0, 8.0), (-0.5, 3.0, 4.0), (0.5, 5.0, 0.0), (0.5, 4.0, math.inf), (-0.5, 6.0, math.inf), (0, 6, math.inf)],
)
def test_ramp_moves_at_its_rate(rate: float, level: float, expected: float) -> None:
    """A ramp from 5 gets to a level in distance / rate, never to what lies behind it, and stands still at rate 0."""
    law = Ramp(rate)
    assert expected == law.time_to(5.0, level)
    assert expected == math.inf or level == pytest.approx(law.at(5.0, expected))


# A thermostat, a heat motor and a room


@dataclass(frozen=True)
class Zone:
    """A thermostat that calls below 20 and stops above 20.6 degC; an end switch that follows its valve's wax."""

    calling: bool = True
    flowing: bool = False


def laws(zone: Zone) -> Mapping[str, Law]:
    return {
        "wax": Approach(95.0 if zone.calling else 30.0, 170.0 if zone.calling else 240.0),
        "room": Approach(31.0 if zone.flowing else 8.0, 9000.0 if zone.flowing else 14000.0),
    }


def guards(zone: Zone) -> tuple[Guard, ...]:
    return (
        Guard("stops", "room", 20.6, rising=True) if zone.calling else Guard("calls", "room", 20.0, rising=False),
        Guard("closes", "wax", 61.0, rising=False) if zone.flowing else Guard("opens", "wax", 68.0, rising=True),
    )


def fired(zone: Zone, guard: Guard) -> Zone:
    now = {"stops": {"calling": False}, "calls": {"calling": True}, "opens": {"flowing": True}}
    return replace(zone, **now.get(guard.name, {"flowing": False}))


START = {"wax": 30.0, "room": 18.0}


def test_a_day_of_a_zone_agrees_with_forty_digits() -> None:
    """Over 24 hours every event of thermostat and valve comes within 1e-6 s of 40-digit arithmetic."""
    expected = exact_run(START, Zone(), stop=DAY, laws=laws, guards=guards, fired=fired)
    actual = run(START, Zone(), start=0, stop=DAY, laws=laws, guards=guards, fired=fired).events
    assert [name for _, name in expected] == [event.name for event in actual]
    assert len(actual) > 50
    assert [float(when) for when, _ in expected] == pytest.approx([event.time for event in actual], rel=0, abs=1e-6)


def test_a_day_of_a_two_level_thermostat_has_the_period_of_its_formula() -> None:
    """Heating tau ln(..) and cooling tau ln(..) in 40 digits add up to each event of the day within 1e-6 s."""

    def level(heating: bool) -> tuple[Guard, ...]:
        return (Guard("off", "room", 21.0, rising=True) if heating else Guard("on", "room", 20.0, rising=False),)

    actual = run(
        {"room": 20.0},
        True,
        start=0,
        stop=DAY,
        laws=lambda heating: {"room": Approach(35.0 if heating else 5.0, 3600.0)},
        guards=level,
        fired=lambda heating, guard: not heating,
    ).events
    with mpmath.workdps(40):
        spans = itertools.cycle([(3600 * mpmath.log(mpmath.mpf(15) / 14), "off"), (3600 * mpmath.log(mpmath.mpf(16) / 15), "on")])
        expected, when = [], mpmath.mpf(0)
        for span, name in spans:
            when += span
            if when > DAY:
                break
            expected.append((when, name))
    assert len(expected) > 300
    assert [name for _, name in expected] == [event.name for event in actual]
    assert [float(when) for when, _ in expected] == pytest.approx([event.time for event in actual], rel=0, abs=1e-6)


def test_small_steps_find_the_same_events() -> None:
    """Euler's rule at 0.1 s finds the same events in the same order, late by what its steps explain."""
    step, stop = 0.1, 3 * 3600.0
    expected = stepped_run(START, Zone(), stop=stop, step=step, laws=laws, guards=guards, fired=fired)
    actual = run(START, Zone(), start=0, stop=stop, laws=laws, guards=guards, fired=fired).events
    assert [event.name for event in expected] == [event.name for event in actual]
    assert len(actual) > 5
    for place, (late, event) in enumerate(zip(expected, actual, strict=True), 1):
        # each event is found up to a step late, and a step's own error stretches time by step / (2 tau)
        assert late.time == pytest.approx(event.time, rel=0, abs=place * step + event.time * step / (2 * 170.0))


@given(st.floats(1, DAY - 1))
def test_a_run_may_be_cut_anywhere(cut: float) -> None:
    """Two runs end to end give the events and the values of one, to rounding."""
    whole = run(START, Zone(), start=0, stop=DAY, laws=laws, guards=guards, fired=fired)
    first = run(START, Zone(), start=0, stop=cut, laws=laws, guards=guards, fired=fired)
    second = run(first.values, first.state, start=cut, stop=DAY, laws=laws, guards=guards, fired=fired)
    joined = first.events + second.events
    assert [event.name for event in whole.events] == [event.name for event in joined]
    assert [event.time for event in whole.events] == pytest.approx([event.time for event in joined], rel=0, abs=1e-6)
    assert whole.values == pytest.approx(second.values, abs=1e-9)
    assert (whole.state, DAY) == (second.state, second.time)


def test_a_run_leaves_its_input_alone() -> None:
    """The values given in are not written to."""
    given_in = dict(START)
    ended = run(given_in, Zone(), start=0, stop=DAY, laws=laws, guards=guards, fired=fired)
    assert START == given_in
    assert START != ended.values


# Guards


def ladder(*names: str, laws: Mapping[str, Law], values: Mapping[str, float], levels: Mapping[str, Guard], stop: float):
    """A run whose state is the names still to fire."""
    return run(
        values,
        names,
        start=0,
        stop=stop,
        laws=lambda left: laws,
        guards=lambda left: tuple(levels[name] for name in left),
        fired=lambda left, guard: tuple(name for name in left if name != guard.name),
    )


@pytest.mark.parametrize("order", [("one", "two", "three"), ("three", "one", "two"), ("two", "three", "one")])
def test_ties_fire_in_written_order(order: tuple[str, ...]) -> None:
    """Guards due at the same time fire as they are written, however the last digits of their times fall."""
    # 0.3 / 0.1 is 2.9999999999999996 in double precision, 3 / 1 is 3
    ended = ladder(
        *order,
        laws={"a": Ramp(0.1), "b": Ramp(1.0), "c": Approach(10.0, 3 / math.log(2))},
        values={"a": 0.0, "b": 0.0, "c": 0.0},
        levels={
            "one": Guard("one", "a", 0.3, rising=True),
            "two": Guard("two", "b", 3.0, rising=True),
            "three": Guard("three", "c", 5.0, rising=True),
        },
        stop=10.0,
    )
    assert order == tuple(event.name for event in ended.events)
    assert [3.0] * 3 == pytest.approx([event.time for event in ended.events], rel=0, abs=1e-8)


@given(st.floats(100, 500), st.floats(16, 40))
def test_a_tie_is_not_lost_when_its_first_event_turns_the_heat_off(tau: float, limit: float) -> None:
    """Two equal rooms reach the limit together: both say so, though the first of them ends the heating."""

    def watched(state: tuple[bool, tuple[str, ...]]) -> list[Guard]:
        return [Guard(f"{room} warm", room, limit, rising=True) for room in ("east", "west") if room not in state[1]]

    ended = run(
        {"east": 15.3, "west": 15.3},
        (True, ()),
        start=0,
        stop=2000,
        laws=lambda state: dict.fromkeys(("east", "west"), Approach(60.0 if state[0] else 0.0, tau)),
        guards=watched,
        fired=lambda state, guard: (False, (*state[1], guard.variable)),
    )
    assert ("east warm", "west warm") == tuple(event.name for event in ended.events)
    assert ended.events[0].time == pytest.approx(ended.events[1].time, rel=0, abs=1e-8)


@pytest.mark.parametrize(("x", "rising"), [(20.0, True), (25.0, True), (20.0, False), (15.0, False)])
def test_a_guard_already_met_fires_at_once(x: float, rising: bool) -> None:
    """A guard whose level is met or passed at the start fires at the start time, and the variable keeps its value."""
    ended = run(
        {"room": x},
        "waiting",
        start=100.0,
        stop=100.0,
        laws=lambda state: {"room": Approach(20.0, 50.0)},
        guards=lambda state: [Guard("met", "room", 20.0, rising)] if state == "waiting" else [],
        fired=lambda state, guard: "done",
    )
    assert ((Event(100.0, "met"),), "done", {"room": x}) == (ended.events, ended.state, ended.values)


@pytest.mark.parametrize(
    ("law", "rising"), [(Approach(10.0, 50.0), True), (Approach(30.0, 50.0), False), (Ramp(-1.0), True), (None, True)]
)
def test_a_guard_on_the_wrong_side_or_without_a_law_waits(law: Law | None, rising: bool) -> None:
    """A variable that moves away from the level, or that no law moves, never fires the guard."""
    x = 15.0 if rising else 25.0
    ended = run(
        {"room": x},
        None,
        start=0,
        stop=1e6,
        laws=lambda state: {"room": law} if law else {},
        guards=lambda state: [Guard("never", "room", 20.0, rising)],
        fired=lambda state, guard: None,
    )
    assert () == ended.events
    assert (law.at(x, 1e6) if law else x) == ended.values["room"]


def test_a_guard_due_exactly_at_the_end_fires() -> None:
    """An event at the stop time belongs to the run; one just after it does not."""
    levels = {"due": Guard("due", "a", 3.0, rising=True)}
    for stop, expected in ((3.0, ("due",)), (2.999999, ())):
        ended = ladder("due", laws={"a": Ramp(1.0)}, values={"a": 0.0}, levels=levels, stop=stop)
        assert (expected, stop) == (tuple(event.name for event in ended.events), ended.time)


def test_a_variable_stands_exactly_at_the_level_that_fired() -> None:
    """At its event a variable has the level itself, not the level give or take rounding."""
    seen = []
    run(
        {"room": 15.3},
        True,
        start=0,
        stop=1e4,
        laws=lambda on: {"room": Approach(60.0, 777.7)},
        guards=lambda on: [Guard("warm", "room", 23.456, rising=True)] if on else [],
        fired=lambda on, guard: False,
        followed=lambda on, values: seen.append(values["room"]) or on,
    )
    assert [15.3, 23.456] == seen[:2]


def test_what_follows_the_variables_is_brought_up_to_date() -> None:
    """`followed` sees the variables at the start, at each event and at the end."""
    seen = []
    ended = run(
        {"a": 0.0},
        ("one", "two"),
        start=0,
        stop=5.0,
        laws=lambda left: {"a": Ramp(1.0)},
        guards=lambda left: [Guard(name, "a", {"one": 1.0, "two": 2.0}[name], rising=True) for name in left],
        fired=lambda left, guard: left[1:],
        followed=lambda left, values: seen.append((left, values["a"])) or left,
    )
    assert [(("one", "two"), 0.0), (("two",), 1.0), ((), 2.0), ((), 5.0)] == seen
    assert ({"a": 5.0}, 5.0) == (ended.values, ended.time)


# Chatter and bad times


def test_a_contact_that_opens_itself_is_named_as_chatter() -> None:
    """A relay whose contact feeds its own coil flips without time passing: the message names it and the time."""
    with pytest.raises(Chatter, match=r"'(picks up|drops out)' keeps happening at 4\.000 s"):
        run(
            {"pull": 0.0},
            False,
            start=0,
            stop=60.0,
            laws=lambda picked: {"pull": Ramp(0.0 if picked else 0.25)},
            guards=lambda picked: [
                Guard("drops out", "pull", 1.0, rising=False) if picked else Guard("picks up", "pull", 1.0, rising=True)
            ],
            fired=lambda picked, guard: not picked,
        )


def test_a_contact_that_opens_itself_faster_and_faster_is_chatter_too() -> None:
    """More events than the run may hold are chatter, even where a little time passes between them."""
    with pytest.raises(Chatter, match=r"'(on|off)' keeps happening at"):
        run(
            {"pull": 0.0},
            True,
            start=0,
            stop=60.0,
            laws=lambda on: {"pull": Ramp(1.0 if on else -1.0)},
            guards=lambda on: [Guard("off", "pull", 1e-3, rising=True) if on else Guard("on", "pull", 0.0, rising=False)],
            fired=lambda on, guard: not on,
            most_events=500,
        )


def test_many_guards_already_met_are_no_chatter() -> None:
    """A hundred different things that are due at once all happen, at once, in written order."""
    names = tuple(f"zone{number}" for number in range(100))
    ended = ladder(
        *names,
        laws={},
        values={"a": 1.0},
        levels={name: Guard(name, "a", 0.0, rising=True) for name in names},
        stop=1.0,
    )
    assert tuple(Event(0.0, name) for name in names) == ended.events


def test_a_run_cannot_end_before_it_starts() -> None:
    """A stop before the start is refused with both times."""
    with pytest.raises(CircuitError, match=r"cannot run from 60\.0 s back to 59\.0 s"):
        run(START, Zone(), start=60.0, stop=59.0, laws=laws, guards=guards, fired=fired)


def test_a_run_of_no_time_changes_nothing() -> None:
    """Start equal to stop gives the values back, with no event where no guard is met."""
    ended = run(START, Zone(), start=7.0, stop=7.0, laws=laws, guards=guards, fired=fired)
    assert (START, Zone(), (), 7.0) == (ended.values, ended.state, ended.events, ended.time)
