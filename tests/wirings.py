"""Right and wrong wirings of every wire-up, built from lists of what belongs together. Known to the tests alone.

A circuit is a list of points, each a list of the terminals that are to be joined there. The same circuit can be made with
connectors, from screw to screw, or with many small connectors; a wrong one is a right one with a named mistake in it.
"""

from itertools import pairwise

from solvers.jobs.wiring_answer import Joint, Wire, Wiring

__all__ = [
    "RIGHT",
    "WRONG",
    "chained",
    "daisied",
    "exchanged",
    "heaters",
    "joined_also",
    "left_out",
    "moved",
    "spliced",
    "wired_for",
]


def spliced(points, most=6, feet=6.0):
    """Each point of three terminals or more in one connector, or in several that are linked; two are joined by a wire."""
    joints, wires = [], []

    def wire(a, b):
        wires.append(Wire(f"wire {len(wires) + 1}", a, b, feet=feet, label=f"label {len(wires) + 1}"))

    for point in points:
        if len(point) == 2:
            wire(*point)
        elif len(point) > 2:
            rest = list(point)
            link = None
            while rest:
                room = most - (link is not None)
                last = len(rest) <= room
                here, rest = (rest, []) if last else (rest[: room - 1], rest[room - 1 :])
                ends = ([link] if link else []) + here
                joint = Joint(f"splice {len(joints) + 1}", max(2, len(ends) + (not last)))
                joints.append(joint)
                for way, end in enumerate(ends, 1):
                    wire(end, f"{joint.name}.{way}")
                link = None if last else f"{joint.name}.{joint.ways}"
    return Wiring(tuple(joints), tuple(wires))


def chained(points):
    """The same with connectors of three ways only."""
    return spliced(points, most=3, feet=25.0)


def daisied(points):
    """The same from screw to screw, without any connector: two conductors under a screw at most."""
    pairs = [pair for point in points for pair in pairwise(point)]
    return Wiring((), tuple(Wire(f"w{n}", a, b, gauge=16, label="named") for n, (a, b) in enumerate(pairs)))


def wired_for(task):
    """A wiring for any drawn task: three-wire zones on the first transformer with the relay, the rest shared out by count."""
    valves = {part.name.split(".")[0]: part for part in task.parts if part.name.endswith(".valve")}
    stats = {part.name.split(".")[0]: part for part in task.parts if part.name.endswith(".stat")}
    tags = ["", " 2"] if any(part.name == "transformer 2" for part in task.parts) else [""]
    threes = [zone for zone, valve in valves.items() if valve.leads == 3]
    first = (threes + [zone for zone in valves if zone not in threes])[:3]
    points = []
    for tag, zones in zip(tags, (first, [zone for zone in valves if zone not in first]), strict=False):
        r, c = [f"fuse{tag}.out"], [f"transformer{tag}.C"]
        for zone in zones:
            lead, back = valves[zone].drive_pair
            r.append(f"{zone}.stat.R")
            c += [back, *(end for end in stats[zone].terminals if end.endswith(".C"))]
            points.append([f"{zone}.stat.W", lead])
        points += [[f"transformer{tag}.R", f"fuse{tag}.in"], r, c]
    calls = [["boiler.T1"], ["boiler.T2"]]
    for valve in valves.values():
        if valve.leads == 4:
            for point, end in zip(calls, valve.switch_pair, strict=True):
                point.append(end)
    if threes:
        next(point for point in points if "fuse.out" in point).append("relay.A1")
        points.append(["relay.A2", *(f"{zone}.valve.E" for zone in threes)])
        calls[0].append("relay.COM")
        calls[1].append("relay.NO")
    return spliced(points + calls)


def exchanged(points, *pairs):
    """The circuit with terminals exchanged in pairs."""
    swap = {a: b for pair in pairs for a, b in (pair, pair[::-1])}
    return [[swap.get(end, end) for end in point] for point in points]


def left_out(points, *terminals):
    """The circuit with terminals joined to nothing."""
    return [[end for end in point if end not in terminals] for point in points]


def moved(points, terminal, beside):
    """The circuit with one terminal joined to where another stands."""
    bare = left_out(points, terminal)
    return [[*point, terminal] if beside in point else point for point in bare]


def joined_also(points, first, second):
    """The circuit with two of its points made one."""
    one = [point for point in points if first in point or second in point]
    return [*(point for point in points if point not in one), [end for point in one for end in point]]


def _s(zone, lead):
    return f"zone{zone}.stat.{lead}"


def _v(zone, lead):
    return f"zone{zone}.valve.{lead}"


def _feed(n=""):
    return [f"transformer{n}.R", f"fuse{n}.in"]


def heaters(zones, n="", leads=("HA", "HB"), c_stats=()):
    """A source, its fuse, and the heaters of some zones, each behind its stat."""
    zones = list(zones)
    first = {zone: leads[0] if not isinstance(leads, dict) else leads[zone][0] for zone in zones}
    second = {zone: leads[1] if not isinstance(leads, dict) else leads[zone][1] for zone in zones}
    return [
        _feed(n),
        [f"fuse{n}.out", *(_s(zone, "R") for zone in zones)],
        *([_s(zone, "W"), _v(zone, first[zone])] for zone in zones),
        [f"transformer{n}.C", *(_v(zone, second[zone]) for zone in zones), *(_s(zone, "C") for zone in c_stats)],
    ]


def dry(zones):
    """End switches in parallel to T-T."""
    return [["boiler.T1", *(_v(zone, "EA") for zone in zones)], ["boiler.T2", *(_v(zone, "EB") for zone in zones)]]


def shared(zones, n=""):
    """Three-wire valves with an isolation relay."""
    return [
        *heaters(zones, n, ("H", "S"))[:1],
        [f"fuse{n}.out", *(_s(zone, "R") for zone in zones), "relay.A1"],
        *heaters(zones, n, ("H", "S"))[2:],
        ["relay.A2", *(_v(zone, "E") for zone in zones)],
        ["relay.COM", "boiler.T1"],
        ["relay.NO", "boiler.T2"],
    ]


W1 = heaters([1])
W2 = heaters([1]) + dry([1])
W3 = heaters([1], c_stats=[1]) + dry([1])
W4 = heaters([1, 2]) + dry([1, 2])
W5 = heaters([1, 2, 3], c_stats=[2, 3])
W6 = shared([1])
W7 = shared([1, 2, 3])
W8 = W4
W9 = [
    _feed(),
    ["fuse.out", _s(1, "R"), "relay.COM"],
    [_s(1, "W"), "relay.A1"],
    ["relay.NO", _v(1, "HA"), _v(2, "HA")],
    ["transformer.C", _v(1, "HB"), _v(2, "HB"), "relay.A2"],
    *dry([1, 2]),
]
W9_SERIES = W9[:-2] + [["boiler.T1", _v(1, "EA")], [_v(1, "EB"), _v(2, "EA")], [_v(2, "EB"), "boiler.T2"]]
W10 = [
    _feed(),
    ["fuse.out", _s(1, "R"), _s(2, "R"), "zone1.relay.COM1", "zone2.relay.COM1"],
    [_s(1, "W"), "zone1.relay.A1"],
    [_s(2, "W"), "zone2.relay.A1"],
    ["zone1.relay.NO1", _v(1, "HA")],
    ["zone2.relay.NO1", _v(2, "HA")],
    ["transformer.C", "zone1.relay.A2", "zone2.relay.A2", _v(1, "HB"), _v(2, "HB")],
    ["zone1.relay.COM2", "zone2.relay.COM2", "boiler.T1"],
    ["zone1.relay.NO2", "zone2.relay.NO2", "boiler.T2"],
]
W11 = [*heaters([1, 2, 3]), ["transformer.L", "transformer.P208"]]
W12 = heaters([1, 2]) + heaters([3, 4], " 2") + dry([1, 2, 3, 4])
_PRIORITY = [
    ["fuse.out", "tank.stat.R", "priority relay.COM1", _v(1, "EA"), _v(2, "EA"), _v(3, "EA"), _v(4, "EA")],
    ["priority relay.NC1", _s(1, "R"), _s(2, "R")],
    ["fuse 2.out", "priority relay.COM2"],
    ["priority relay.NC2", _s(3, "R"), _s(4, "R")],
    ["tank.stat.W", "priority relay.A1"],
    ["call relay.A1", "circulator relay.A1", _v(1, "EB"), _v(2, "EB"), _v(3, "EB"), _v(4, "EB")],
    ["transformer.C", _v(1, "HB"), _v(2, "HB"), "priority relay.A2", "call relay.A2", "circulator relay.A2"],
    ["transformer 2.C", _v(3, "HB"), _v(4, "HB")],
    ["call relay.COM1", "boiler.T1"],
    ["call relay.NO1", "boiler.T2"],
    ["line.L", "circulator relay.COM"],
    ["circulator relay.NO", "circulator.L"],
    ["line.N", "circulator.N"],
]
W13 = [_feed(), _feed(" 2"), *([_s(zone, "W"), _v(zone, "HA")] for zone in (1, 2, 3, 4)), *_PRIORITY]
W14 = [
    _feed(),
    ["fuse.out", _s(3, "R"), _s(4, "R"), "relay.A1", _s(5, "R")],
    [_s(3, "W"), _v(3, "H")],
    [_s(4, "W"), _v(4, "H")],
    [_s(5, "W"), _v(5, "HA")],
    ["transformer.C", _v(3, "S"), _v(4, "S"), _v(5, "HB")],
    ["relay.A2", _v(3, "E"), _v(4, "E")],
    *heaters([1, 2, 6], " 2"),
    ["boiler.T1", "relay.COM", *(_v(zone, "EA") for zone in (1, 2, 5, 6))],
    ["boiler.T2", "relay.NO", *(_v(zone, "EB") for zone in (1, 2, 5, 6))],
]
W15 = [_feed(), ["fuse.out", _s(1, "R")], [_s(1, "W"), "lamp.A"], ["lamp.B", "transformer.C"]]
W16 = [
    _feed(),
    ["fuse.out", _s(1, "R"), _s(2, "R")],
    [_s(1, "W"), _v(1, "H")],
    [_s(2, "W"), _v(2, "H")],
    ["transformer.C", _v(1, "S"), _v(2, "S"), "boiler.T2"],
    ["boiler.T1", _v(1, "E"), _v(2, "E")],
]


def _turned(points, zones, switch=True):
    """Heater leads and switch leads of these four- or two-wire valves exchanged among themselves, which is harmless."""
    pairs = [(_v(zone, "HA"), _v(zone, "HB")) for zone in zones]
    if switch:
        pairs += [(_v(zone, "EA"), _v(zone, "EB")) for zone in zones]
    return exchanged(points, *pairs)


def _three(points, *more):
    return {
        "in connectors": spliced(points),
        "small connectors": chained(points),
        "screw to screw": daisied(points),
        **dict(more),
    }


def _capped(wiring):
    """The unused primary leads each in a connector of its own."""
    wires = tuple(Wire(f"cap {tap}", f"transformer.P{tap}", f"cap {tap} end.1", label="spare") for tap in (120, 240))
    return Wiring((*wiring.splices, Joint("cap 120 end", 2), Joint("cap 240 end", 2)), (*wiring.wires, *wires))


RIGHT = {
    "W1": _three(W1, ("heater leads exchanged", spliced(_turned(W1, [1], False)))),
    "W2": _three(W2, ("leads exchanged in pairs", spliced(_turned(W2, [1])))),
    "W3": _three(W3, ("leads exchanged in pairs", daisied(_turned(W3, [1])))),
    "W4": _three(
        W4,
        ("leads exchanged in pairs", chained(_turned(W4, [1]))),
        ("T1 and T2", spliced(exchanged(W4, ("boiler.T1", "boiler.T2")))),
    ),
    "W5": _three(W5, ("heater leads exchanged", spliced(_turned(W5, [1, 3], False)))),
    "W6": _three(
        W6,
        ("coil turned", spliced(exchanged(W6, ("relay.A1", "relay.A2")))),
        ("contact turned", spliced(exchanged(W6, ("relay.COM", "relay.NO")))),
    ),
    "W7": _three(W7, ("coil turned", spliced(exchanged(W7, ("relay.A1", "relay.A2"))))),
    "W8": _three(W8, ("leads exchanged in pairs", spliced(_turned(W8, [1, 2])))),
    "W9": _three(W9, ("all must open", spliced(W9_SERIES)), ("leads exchanged in pairs", spliced(_turned(W9, [1])))),
    "W10": _three(W10, ("coil turned", spliced(exchanged(W10, ("zone1.relay.A1", "zone1.relay.A2"))))),
    "W11": {name: _capped(wiring) for name, wiring in _three(W11).items()},
    "W12": _three(W12, ("other halves", spliced(heaters([1, 3]) + heaters([2, 4], " 2") + dry([1, 2, 3, 4])))),
    "W13": _three(
        W13,
        ("leads exchanged in pairs", spliced(_turned(W13, [1, 3]))),
        ("neutral through the relay", spliced(exchanged(W13, ("line.L", "line.N"), ("circulator.L", "circulator.N")))),
    ),
    "W14": _three(W14, ("leads exchanged in pairs", spliced(_turned(W14, [1, 2, 5, 6])))),
    "W15": _three(W15, ("lamp turned", spliced(exchanged(W15, ("lamp.A", "lamp.B"))))),
    "W16": _three(W16, ("T1 and T2", spliced(exchanged(W16, ("boiler.T1", "boiler.T2"))))),
}


def _fuse_wrong(points):
    """Two ways to get the fuse wrong."""
    ahead = joined_also(points, "fuse.in", "fuse.out")
    in_c = exchanged(points, ("transformer.R", "transformer.C"))
    return {"both sides of the fuse joined": (ahead, "fuse bypassed"), "fuse in the common": (in_c, "fuse in C")}


def _no_fuse(points):
    """R straight to where the fuse should feed, the fuse left over."""
    return joined_also(left_out(points, "fuse.in", "fuse.out"), "transformer.R", _s(1, "R"))


def _common_wrong(points, zone=1, leads=("HA", "HB")):
    """Mistakes at one zone's stat and heater."""
    h, back = (_v(zone, lead) for lead in leads)
    r, w = _s(zone, "R"), _s(zone, "W")
    return {
        **_fuse_wrong(points),
        "no fuse": (_no_fuse(points), "fuse bypassed"),
        "no way back": (left_out(points, back), "return missing"),
        "both leads on W": (moved(points, back, w), "heater on one side"),
        "stat across R and C": (moved(moved(points, w, "transformer.C"), h, "fuse.out"), "stat across R and C"),
        "heater straight on R": (joined_also(points, r, w), "stat bypassed"),
        "W not landed": (left_out(points, w), "part left out"),
        "R not landed": (left_out(points, r), "part left out"),
    }


def _switch_wrong(zone=1):
    e, f = _v(zone, "EA"), _v(zone, "EB")
    h, g = _v(zone, "HA"), _v(zone, "HB")

    def made(points):
        return {
            "pairs exchanged": (exchanged(points, (h, e), (g, f)), "pairs exchanged"),
            "switch lead not landed": (left_out(points, e), "end switch not landed"),
            "T-T jumpered": (joined_also(points, "boiler.T1", "boiler.T2"), "T-T jumpered"),
            "T-T on the valve's supply": (_fed(points), "T-T fed, in phase"),
            "T-T on the valve's supply, turned": (exchanged(_fed(points), ("boiler.T1", "boiler.T2")), "T-T fed, opposed"),
        }

    return made


def _fed(points):
    """T-T on R by way of the end switches, and on C."""
    t1 = next(point for point in points if "boiler.T1" in point)
    t2 = next(point for point in points if "boiler.T2" in point)
    fed = joined_also(points, next(end for end in t1 if not end.startswith("boiler")), "fuse.out")
    fed = [[end for end in point if end not in ("boiler.T1", "boiler.T2")] for point in fed]
    fed = [[*point, "boiler.T1"] if {*t2} & {*point} - {"boiler.T2"} else point for point in fed]
    return [[*point, "boiler.T2"] if "transformer.C" in point else point for point in fed]


def _pair_wrong(points, one=1, other=2):
    """Mistakes between two zones."""
    return {
        "Ws crossed": (exchanged(points, (_s(one, "W"), _s(other, "W"))), "stats crossed"),
        "Ws tied": (joined_also(points, _s(one, "W"), _s(other, "W")), "Ws tied"),
    }


def _series(points, one=1, other=2):
    rest = [point for point in points if "boiler.T1" not in point and "boiler.T2" not in point]
    return [*rest, ["boiler.T1", _v(one, "EA")], [_v(one, "EB"), _v(other, "EA")], [_v(other, "EB"), "boiler.T2"]]


def _swaps(points, zone):
    return {
        f"{a} and {b} exchanged at {zone}": (exchanged(points, (_v(zone, a), _v(zone, b))), f"{a} and {b} exchanged")
        for a, b in (("H", "E"), ("S", "E"), ("H", "S"))
    }


def _relay_wrong(points):
    return {
        "relay on NC": ([["relay.NC" if end == "relay.NO" else end for end in point] for point in points], "relay on NC"),
        "coil across S and E": (moved(points, "relay.A1", "transformer.C"), "coil across the switch"),
        "coil across R and C": (moved(points, "relay.A2", "transformer.C"), "coil across R and C"),
        "coil on the stat": (
            moved(moved(points, "relay.A1", _s(1, "W")), "relay.A2", "transformer.C"),
            "relay pulled by the stat",
        ),
        "T-T on the switch line": (
            joined_also(joined_also(points, "boiler.T1", "relay.A2"), "boiler.T2", "transformer.C"),
            "T-T fed, in phase",
        ),
        "E not landed": (left_out(points, _v(1, "E")), "end switch not landed"),
        "T-T jumpered": (joined_also(points, "boiler.T1", "boiler.T2"), "T-T jumpered"),
    }


_THREE = ("H", "S")
_LOST = left_out(W7, _v(2, "S"))

_WRONG = {
    "W1": _common_wrong(W1),
    "W2": {**_common_wrong(W2), **_switch_wrong()(W2)},
    "W3": {
        **_common_wrong(W3),
        **_switch_wrong()(W3),
        "C and W exchanged": (exchanged(W3, (_s(1, "C"), _s(1, "W"))), "C and W exchanged"),
        "C not landed": (left_out(W3, _s(1, "C")), "part left out"),
    },
    "W4": {**_common_wrong(W4, 2), **_switch_wrong(2)(W4), **_pair_wrong(W4), "in series": (_series(W4), "switches in series")},
    "W5": {
        **_common_wrong(W5, 3),
        **_pair_wrong(W5, 1, 2),
        "C and W exchanged": (exchanged(W5, (_s(2, "C"), _s(2, "W"))), "C and W exchanged"),
        "C not landed": (left_out(W5, _s(3, "C")), "part left out"),
    },
    "W6": {**_swaps(W6, 1), **_relay_wrong(W6), **_common_wrong(W6, 1, _THREE)},
    "W7": {
        **_swaps(W7, 2),
        **_relay_wrong(W7),
        **_pair_wrong(W7, 1, 3),
        **_common_wrong(W7, 3, _THREE),
        "no way back": (_LOST, "common lost, sneak path"),
    },
    "W8": {**_common_wrong(W8, 2), **_switch_wrong(2)(W8), **_pair_wrong(W8), "in series": (_series(W8), "switches in series")},
    "W9": {
        **_fuse_wrong(W9),
        "no fuse": (_no_fuse(W9), "fuse bypassed"),
        "stat carries the valves": (
            joined_also(left_out(W9, "relay.COM", "relay.NO"), _s(1, "W"), _v(1, "HA")),
            "stat carries the valves",
        ),
        "no way back": (left_out(W9, _v(2, "HB")), "return missing"),
        "pairs exchanged": (exchanged(W9, (_v(1, "HA"), _v(1, "EA")), (_v(1, "HB"), _v(1, "EB"))), "pairs exchanged"),
        "coil across R and C": (moved(W9, "relay.A1", "fuse.out"), "coil across R and C"),
        "both leads on one side": (moved(W9, _v(1, "HB"), "relay.NO"), "heater on one side"),
        "T-T fed": (_fed(W9), "T-T fed, in phase"),
        "T-T jumpered": (joined_also(W9, "boiler.T1", "boiler.T2"), "T-T jumpered"),
    },
    "W10": {
        **_fuse_wrong(W10),
        "no fuse": (_no_fuse(W10), "fuse bypassed"),
        **_pair_wrong(W10),
        "no way back": (left_out(W10, _v(2, "HB")), "return missing"),
        "coil across R and C": (moved(W10, "zone1.relay.A1", "fuse.out"), "coil across R and C"),
        "relay on NC": (
            [["zone1.relay.NC2" if end == "zone1.relay.NO2" else end for end in point] for point in W10],
            "relay on NC",
        ),
        "T-T jumpered": (joined_also(W10, "boiler.T1", "boiler.T2"), "T-T jumpered"),
        "T-T fed": (_fed(W10), "T-T fed, in phase"),
    },
    "W11": {
        **_common_wrong(W11, 2),
        **_pair_wrong(W11, 1, 3),
        "line on the 240 V lead": (exchanged(W11, ("transformer.P208", "transformer.P240")), "wrong primary lead"),
        "line on the 120 V lead": (exchanged(W11, ("transformer.P208", "transformer.P120")), "wrong primary lead"),
        "no line": (left_out(W11, "transformer.L", "transformer.P208"), "wrong primary lead"),
    },
    "W12": {
        **_common_wrong(W12, 2),
        **_switch_wrong(2)(W12),
        "commons tied": (joined_also(W12, "transformer.C", "transformer 2.C"), "commons tied"),
        "in parallel": (
            joined_also(joined_also(W12, "transformer.C", "transformer 2.C"), "fuse.out", "fuse 2.out"),
            "secondaries tied",
        ),
        "in parallel, opposed": (
            joined_also(joined_also(W12, "transformer.C", "fuse 2.out"), "fuse.out", "transformer 2.C"),
            "secondaries tied, opposed",
        ),
        "returns crossed": (exchanged(W12, (_v(2, "HB"), _v(3, "HB"))), "return on the other source"),
        "three and one": (heaters([1, 2, 3]) + heaters([4], " 2") + dry([1, 2, 3, 4]), "source overloaded"),
    },
    "W13": {
        **_fuse_wrong(W13),
        "commons tied": (joined_also(W13, "transformer.C", "transformer 2.C"), "commons tied"),
        "returns crossed": (exchanged(W13, (_v(2, "HB"), _v(3, "HB"))), "return on the other source"),
        "on NO": (
            [[end.replace("priority relay.NC", "priority relay.NO") for end in point] for point in W13],
            "priority on NO",
        ),
        "second source past the relay": (joined_also(W13, "fuse 2.out", _s(3, "R")), "priority passed by"),
        "circulator on the stat": (moved(W13, "circulator relay.A1", _s(1, "W")), "circulator on the stat"),
        "line in the valve box": (
            [
                [
                    end.replace("circulator relay.COM", "call relay.COM2").replace("circulator relay.NO", "call relay.NO2")
                    for end in point
                ]
                for point in W13
            ],
            "line in the class 2 box",
        ),
        "T-T jumpered": (joined_also(W13, "boiler.T1", "boiler.T2"), "T-T jumpered"),
        "no way back": (left_out(W13, _v(4, "HB")), "return missing"),
        "pairs exchanged": (exchanged(W13, (_v(2, "HA"), _v(2, "EA")), (_v(2, "HB"), _v(2, "EB"))), "pairs exchanged"),
    },
    "W14": {
        **_swaps(W14, 4),
        "relay on NC": (_relay_wrong(W14)["relay on NC"][0], "relay on NC"),
        "coil across S and E": (_relay_wrong(W14)["coil across S and E"][0], "coil across the switch"),
        "commons tied": (joined_also(W14, "transformer.C", "transformer 2.C"), "commons tied"),
        "E on the dry side": (joined_also(W14, "relay.A2", "boiler.T1"), "switch line on T-T"),
        "Ws crossed": (exchanged(W14, (_s(1, "W"), _s(5, "W"))), "return on the other source"),
        "switch not landed": (left_out(W14, _v(6, "EB")), "end switch not landed"),
        "pairs exchanged": (exchanged(W14, (_v(2, "HA"), _v(2, "EA")), (_v(2, "HB"), _v(2, "EB"))), "pairs exchanged"),
        "no fuse": (joined_also(W14, "fuse.in", "fuse.out"), "fuse bypassed"),
    },
    "W15": {
        **_fuse_wrong(W15),
        "no fuse": (_no_fuse(W15), "fuse bypassed"),
        "stat across R and C": (
            [_feed(), ["fuse.out", _s(1, "R"), "lamp.A"], [_s(1, "W"), "lamp.B", "transformer.C"]],
            "stat across R and C",
        ),
        "stat passed by": (joined_also(W15, _s(1, "R"), _s(1, "W")), "stat bypassed"),
        "no way back": (left_out(W15, "lamp.B"), "part left out"),
        "W not landed": (left_out(W15, _s(1, "W")), "part left out"),
        "R not landed": (left_out(W15, _s(1, "R")), "part left out"),
        "lamp on one side": (joined_also(left_out(W15, "lamp.B"), "lamp.A", "lamp.B"), "part left out"),
    },
    "W16": {
        **_swaps(W16, 2),
        **_common_wrong(W16, 1, _THREE),
        **_pair_wrong(W16),
        "E not landed": (left_out(W16, _v(2, "E")), "end switch not landed"),
        "T-T jumpered": (joined_also(W16, "boiler.T1", "boiler.T2"), "T-T jumpered"),
        "no way back": (left_out(W16, _v(2, "S")), "common lost, sneak path"),
        "T-T on R": (moved(W16, "boiler.T2", "fuse.out"), "T-T fed, opposed"),
        "T-T on R, turned": (moved(exchanged(W16, ("boiler.T1", "boiler.T2")), "boiler.T1", "fuse.out"), "T-T fed, in phase"),
    },
}

WRONG = {task: {name: (spliced(points), mistake) for name, (points, mistake) in cases.items()} for task, cases in _WRONG.items()}
WRONG["W11"] = {
    name: (_capped(wiring) if "V lead" not in name else wiring, mistake) for name, (wiring, mistake) in WRONG["W11"].items()
}
