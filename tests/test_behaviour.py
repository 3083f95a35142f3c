"""What a wiring does: against the trade's printed readings, and against the plain run without any shortcut."""

from dataclasses import replace
from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reference_circuits import REF_A, REF_C, REF_D, REF_E
from wirings import RIGHT, WRONG, heaters, spliced

from solvers.circuit import Branch, currents
from solvers.faults.changes import Exchanged
from solvers.jobs.behaviour import behaved, combinations_of, condensed, every_pose, judged_as, poses, source_amps
from solvers.jobs.criteria import Heats
from solvers.jobs.findings import Evidence
from solvers.jobs.hurried import hurries
from solvers.jobs.nets import APART, LOOP, ONE_POINT, Nets, current_path, meeting, nets
from solvers.jobs.wireup import WireUp, fed, heat_motor, seventy_five
from solvers.jobs.wireups import IDS, wire_up
from solvers.plant.parts import Fuse, Relay, Splice, Stat
from solvers.plant.running import EARTH, at_rest, called, network, waited

HERE = {"A": REF_A, "C": REF_C, "D": REF_D, "E": REF_E}


@pytest.mark.parametrize(("kind", "zones"), [("A", 1), ("C", 3), ("D", 4), ("E", 2)])
def test_every_combination_and_every_way_to_it(kind, zones):
    """Each combination of calls is met and settles in one way only; every stat is turned in every settled state."""
    seen = behaved(HERE[kind])
    stats = [f"zone{zone}.stat" for zone in range(1, zones + 1)]
    assert sorted(combinations_of(stats)) == sorted(state.calls for state in seen.settled)
    turned = {(step.before.calls, step.after.calls) for step in seen.steps}
    for calls in combinations_of(stats):
        for stat in stats:
            after = tuple(each for each in stats if (each in calls) != (each == stat))
            assert (calls, after) in turned


def test_every_sequence_of_two_calls_with_few_stats():
    """With three stats any combination is also reached from any other in one move."""
    seen = behaved(REF_C)
    assert 8 * 7 == len({(step.before.calls, step.after.calls) for step in seen.steps})


@pytest.mark.parametrize("kind", "AC")
def test_what_is_seen_is_what_a_plain_run_gives(kind):
    """Valves, switches, relay, boiler and heater volts after each combination are those of the untouched installation."""
    here = HERE[kind]
    for state in behaved(here).settled:
        plain = at_rest(here)
        for stat in state.calls:
            plain = called(here, plain, stat, True)
        plain, _ = waited(here, plain, 7200)
        for zone in here.zones:
            valve = plain.of(f"{zone}.valve")
            assert (valve.opening > 0.9, valve.made) == (f"{zone}.valve" in state.opened, f"{zone}.valve" in state.made)
            amps = abs(currents(network(here, plain), EARTH)[f"{zone}.valve.heater"])
            assert 30.0 * amps == pytest.approx(state.volts[f"{zone}.valve"], abs=1e-6)
        assert plain.of("boiler").called == ("boiler" in state.fired)


@pytest.mark.parametrize(
    ("swap", "made", "amps"),
    [
        (("H", "E"), ("zone2.valve",), 15.4),
        (("H", "S"), ("zone1.valve", "zone2.valve"), 14.8),
        (("S", "E"), ("zone1.valve", "zone2.valve"), None),
    ],
)
def test_switches_that_cannot_make_by_themselves(swap, made, amps):
    """Posed with their switches made, exchanged leads give the trade's printed short-circuit amperes, or none."""
    here = judged_as(Exchanged(*(f"zone2.valve.{lead}" for lead in swap)).made(REF_C))
    calls = ("zone1.stat", "zone2.stat") if len(made) == 2 else ("zone2.stat",)
    found = source_amps(poses(here, calls, made), here)["transformer"]
    if amps is None:
        assert found < 2
    else:
        assert amps == pytest.approx(found, abs=0.3)


def test_a_pose_with_leads_off_and_sources_off():
    """A lifted lead takes its own zone, a source switched off takes its own two."""
    here = judged_as(REF_D)
    stats = [f"{zone}.stat" for zone in here.zones]
    whole = poses(here, stats)
    assert all(volts > 22 for volts in whole.volts.values())
    without = poses(here, stats, off_leads=("zone1.valve.HA",))
    assert ["zone1.valve"] == [valve for valve, volts in without.volts.items() if volts < 1]
    dark = poses(here, stats, off=("transformer 2",))
    assert ["zone3.valve", "zone4.valve"] == [valve for valve, volts in dark.volts.items() if volts < 1]


@pytest.mark.parametrize("id", IDS)
def test_a_condensed_wiring_carries_the_same_amperes(id):
    """With every connector as one point each part and each wire carries what it carried before."""
    whole = judged_as(wire_up(id).made(RIGHT[id]["small connectors"]))
    small = condensed(whole)
    stats = [part.name for part in whole.parts if hasattr(part, "contact")]
    valves = [part.name for part in whole.parts if getattr(part, "switch_pair", None)]
    one, other = (poses(here, stats, valves) for here in (whole, small))
    ways = {terminal for part in whole.parts if isinstance(part, Splice) for terminal in part.terminals}
    for branch in other.amps:
        if not branch.startswith("leak"):
            assert one.amps[branch] == pytest.approx(other.amps[branch], abs=1e-5), branch
    assert not ways & set(small.terminals)


def _shares_a_node(one, other):
    return bool({one.a, one.b} & {other.a, other.b})


@pytest.mark.parametrize(("kind", "branch"), [("A", "zone1.valve.heater"), ("C", "relay.coil"), ("E", "boiler.input")])
def test_a_lit_path_is_a_closed_loop(kind, branch):
    """The branches of a path follow on one another and close: from the part through the source and back."""
    here = judged_as(HERE[kind])
    seen = poses(here, ("zone1.stat",), ("zone1.valve",))
    path = current_path(here, seen.state, branch)
    found = network(here, seen.state)
    branches = [found.branch(name) for name in path]
    assert path[0] == branch
    assert len(path) == len(set(path))
    assert all(_shares_a_node(one, other) for one, other in pairwise([*branches, branches[0]]))
    assert any(each.emf for each in branches)


def test_no_current_no_path():
    """A part that carries nothing has no path."""
    here = judged_as(REF_A)
    assert () == current_path(here, poses(here, ()).state, "zone1.valve.heater")


@pytest.mark.parametrize(("kind", "how"), [("A", APART), ("C", APART), ("D", APART), ("E", ONE_POINT)])
def test_how_the_reference_circuits_meet_their_boiler(kind, how):
    """Dry contacts keep valve transformer and boiler apart; T-T fed directly ties them at one point."""
    here = judged_as(HERE[kind])
    stats, valves = ([f"{zone}.{part}" for zone in here.zones] for part in ("stat", "valve"))
    branches = [
        branch for branch in network(here, poses(here, stats, valves).state) if not branch.name.startswith(("leak", "stray"))
    ]
    assert how == meeting(nets(here), branches, "transformer.winding", "boiler.source")


@settings(max_examples=60)
@given(edges=st.lists(st.tuples(st.integers(0, 5), st.integers(0, 5)).filter(lambda e: e[0] != e[1]), min_size=2, max_size=9))
def test_two_sources_in_one_loop(edges):
    """LOOP is what a plain search says: a closed way, through no node twice, that takes both branches."""
    branches = [Branch(f"b{number}", str(a), str(b), 1.0) for number, (a, b) in enumerate(edges)]
    points = Nets({}, {})
    for first, second in combinations(range(len(edges)), 2):
        found = meeting(points, branches, f"b{first}", f"b{second}")
        assert (found == LOOP) == _on_a_cycle(edges, first, second)
        assert (found == APART) == (not _connected(edges, first, second))


def _on_a_cycle(edges, first, second):
    """Whether a simple cycle holds both edges: walked from one end of the first until it closes."""
    start, goal = edges[first]

    def walk(here, used, nodes):
        if here == start:
            return second in used
        return any(
            walk(other, {*used, number}, {*nodes, other})
            for number, (a, b) in enumerate(edges)
            if number not in used and here in (a, b) and (other := b if here == a else a) not in nodes - {start}
        )

    return walk(goal, {first}, {goal})


def _connected(edges, first, second):
    reached = {edges[first][0]}
    for _ in edges:
        reached |= {end for edge in edges if reached & set(edge) for end in edge}
    return edges[second][0] in reached


def test_every_pose_counts():
    """Eight combinations of stats by eight of switches are sixty-four poses, fewest closed first."""
    found = list(every_pose("abc", "xyz"))
    assert 64 == len(set(found))
    assert ((), ()) == found[0]
    assert (tuple("abc"), tuple("xyz")) == found[-1]


@pytest.mark.parametrize("wiring", ["right", "wrong"])
@pytest.mark.parametrize("id", ["W7", "W12"])
def test_progress_is_told(id, wiring):
    """A long run says after each turn how far it has come, never goes back, and ends at its total, early where less is to run."""
    cases = RIGHT[id].values() if wiring == "right" else [case for case, _ in WRONG[id].values()]
    for case in list(cases)[:2]:
        told = []
        behaved(wire_up(id).made(case), lambda done, total, told=told: told.append((done, total)))
        done, totals = zip(*told, strict=True)
        (total,) = {*totals}
        assert list(done) == sorted(set(done))
        assert total == done[-1]
        if wiring == "right":
            assert list(done) == list(range(1, total + 1))


# In a hurry


def _held():
    """Four zones; while stat 2 calls and valve 2 is not open yet, two relays and end switch 1 hold valve 1 open."""
    zones = (1, 2, 3, 4)
    parts = (
        seventy_five(),
        Fuse("fuse"),
        *(Stat(f"zone{zone}.stat") for zone in zones),
        *(heat_motor(zone, 4 if zone < 3 else 2) for zone in zones),
        Relay("relay"),
        Relay("relay 2"),
    )
    more = {
        "fuse.out": ["relay.COM", "zone2.valve.EA"],
        "zone1.stat.W": ["zone1.valve.EB"],
        "zone2.stat.W": ["relay.A1"],
        "transformer.C": ["relay.A2", "relay 2.A2"],
    }
    points = [[*point, *(end for key, ends in more.items() if key in point for end in ends)] for point in heaters(zones)]
    points += [["relay.NO", "relay 2.COM"], ["relay 2.NC", "zone1.valve.EA"], ["zone2.valve.EB", "relay 2.A1"]]
    return WireUp("held", "held", "", parts, (Heats(fed(zones)),), 10), spliced(points)


def test_what_only_haste_brings_about_is_found():
    """A valve that is held open only when stats are turned 1 s apart passes every settled step, and a hurried one finds it."""
    task, wiring = _held()
    evidence = Evidence(task.made(wiring))
    (heats,) = task.criteria
    found = heats.fails(evidence)
    assert found.calls == ("zone2.stat",)
    assert found.words.startswith("With stat 2 alone calling, stat 2 turned up 1 s after stat 1 was turned down, valve 1 gets 24")
    evidence.__dict__["behaviour"] = replace(evidence.behaviour, hurried=())
    assert heats.fails(evidence) is None


@pytest.mark.parametrize("id", [id for id in IDS if id not in ("W12", "W13", "W14")])
def test_haste_leads_a_right_wiring_nowhere_else(id):
    """However quickly stats are turned, a right wiring comes to the state that it also comes to at leisure."""
    for wiring in RIGHT[id].values():
        seen = behaved(condensed(wire_up(id).made(wiring)))
        calm = {state.looks for state in seen.settled if state.haste is None}
        assert calm >= {step.after.looks for step in seen.hurried}


@pytest.mark.parametrize("kind", "CE")
def test_a_hurried_step_is_what_a_plain_run_gives(kind):
    """The moment of the second turn, what happens then and where it ends are those of a plain run without any shortcut."""
    here = judged_as(HERE[kind])
    hurried = [step for step in behaved(here).hurried if not step.before.made and len(step.after.calls) == 2]
    assert {step.at_once.haste.seconds == 1.0 for step in hurried} == {True, False}
    for step in hurried[::3]:
        haste = step.at_once.haste
        plain = at_rest(here)
        for stat in {*step.before.calls} - {haste.first}:
            plain, _ = waited(here, called(here, plain, stat, True), 7200)
        plain = called(here, plain, haste.first, haste.first in step.before.calls)
        plain, _ = waited(here, plain, haste.seconds)
        plain = called(here, plain, haste.second, haste.second in step.after.calls)
        turn = plain.time
        plain, events = waited(here, plain, 7200)
        told = [(event.name, pytest.approx(event.time - turn, abs=0.01)) for event in events]
        assert told == [(event.name, event.time) for event in step.events]
        for zone in here.zones:
            assert (f"{zone}.valve" in step.after.opened) == (plain.of(f"{zone}.valve").opening > 0.9)
        assert ("boiler" in step.after.fired) == plain.of("boiler").called


@pytest.mark.parametrize(("kind", "zones", "count"), [("C", 3, 8 * 3 * 3 * 2), ("D", 4, 4 * 3 * 8 * 2 + 4 * 4 * 2)])
def test_how_much_is_done_in_haste(kind, zones, count):
    """With three stats every state, turn, moment and second turn is run; with four, every two while the others are all alike."""
    seen = behaved(HERE[kind])
    stats = {f"zone{zone}.stat" for zone in range(1, zones + 1)}
    assert count == hurries(sorted(stats)) == len(seen.hurried)
    for step in seen.hurried:
        haste = step.at_once.haste
        others = stats - {haste.first, haste.second}
        assert zones == 3 or not others & {*step.before.calls} or others <= {*step.before.calls}


def test_a_blown_fuse_is_not_followed():
    """Where a call blows the fuse the state says so, and nothing is tried from there."""
    here = REF_A.with_conductor("zone1.HB lead", b="zone1.W splice.2")
    here = here.with_conductor("zone1.return", a="zone1.W splice.2")
    seen = behaved(here)
    assert "fuse" in seen.step("zone1.stat").after.gone
    assert all(not step.before.gone for step in seen.steps)
