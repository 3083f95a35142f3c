"""Everything that goes wrong in valve heater loops, as data; here the wires, and where nothing is wrong.

Ranges and weights: typical, from memory; common practice, no source.
"""

from __future__ import annotations

from ..circuit import OPEN
from .changes import Exchanged, Joint, Landed, PartField, Recabled, Removed
from .fault import SIZE, Place, Row
from .heads import HEAD_ROWS
from .heaters import HEATER_ROWS

__all__ = ["HEATER_LOOP_ROWS"]

_JOINTS = (
    Place("R splice", {"splice": "{zone}.R splice", "way": "2"}),
    Place("W splice", {"splice": "{zone}.W splice", "way": "2"}),
    Place("C splice", {"splice": "{zone}.C splice", "way": "2"}),
    Place("landing on the C bus", {"splice": "C bus", "way": "{zone}"}, needs=("three-wire",)),
)

_REMADE = (({"do": "remake", "terminal": "{splice}.{way}"},), ({"do": "fit", "part": "{splice}"},))

_NOTHING = "Nothing is wrong with {zone}."

_WIRING_ROWS = (
    Row(
        id="HL-09",
        chapter="heater-loops",
        kind="resistance",
        symptom="slow",
        claim="There is a high-resistance joint in {zone}: {place}.",
        changes=(Joint("{splice}", "{way}", SIZE),),
        sizes=(3.0, 20.0),
        places=_JOINTS,
        complaint="The {room} warms up late, and on the coldest days not at all.",
        noticed="The head warms slowly; the bad joint is warm to the back of a finger.",
        repair="Cut back and remake the joint, then read the drop across it under load.",
        misdiagnosis="A weak transformer, or a tired valve.",
        severity=3,
        prevalence=6,
        objectives=("3.4", "3.3"),
        needs=("heat motor",),
        bars=("relay panel",),
        repairs=_REMADE,
    ),
    Row(
        id="HL-10",
        chapter="heater-loops",
        kind="wiring",
        symptom="cold",
        claim="There is an open joint in {zone}: {place}.",
        changes=(Joint("{splice}", "{way}", OPEN),),
        places=_JOINTS,
        complaint="The {room} went cold from one day to the next.",
        noticed="The head stays cold; a tug may move a conductor in its connector.",
        repair="Remake the joint and tug-test every conductor in it.",
        misdiagnosis="An open heater.",
        severity=2,
        prevalence=5,
        objectives=("3.2",),
        repairs=_REMADE,
        parallel=True,
    ),
    Row(
        id="HL-12",
        chapter="heater-loops",
        kind="wiring",
        symptom="cold",
        claim="Both heater leads of {valve} are landed on the {place}.",
        changes=(Landed("{wire}", "{end}", "{terminal}"),),
        places=(
            Place(
                "W side",
                {"wire": "{zone}.HB lead", "end": "b", "terminal": "{zone}.W splice.2", "home": "{zone}.C splice.1"},
            ),
            Place(
                "C side",
                {"wire": "{zone}.HA lead", "end": "a", "terminal": "{zone}.C splice.1", "home": "{zone}.W splice.2"},
            ),
        ),
        complaint="The {room} has not worked since somebody changed its valve.",
        noticed="The head stays cold on a call.",
        repair="Land one heater lead on W and the other on C.",
        misdiagnosis="An open heater, because a lead reads full volts to the other side and no current flows.",
        severity=1,
        prevalence=3,
        objectives=("3.2",),
        needs=("heated valve",),
        bars=("three-wire", "relay panel"),
        repairs=(
            ({"do": "move wire", "wire": "{wire}", "end": "{end}", "terminal": "{home}"},),
            ({"do": "remake", "terminal": "{home}"},),
        ),
    ),
    Row(
        id="HL-13",
        chapter="heater-loops",
        kind="wiring",
        symptom="boiler runs",
        claim="The heater pair and the end-switch pair of {valve} are exchanged.",
        changes=(Exchanged("{zone}.valve.HA", "{zone}.valve.EA"), Exchanged("{zone}.valve.HB", "{zone}.valve.EB")),
        complaint="Since the valve for the {room} was changed the boiler never rests, and that room is cold.",
        noticed="The boiler runs with nobody calling; the head of that valve is barely warm.",
        repair="Identify the pairs by ohms with power off and exchange them.",
        misdiagnosis="A welded end switch.",
        severity=3,
        prevalence=3,
        objectives=("3.2", "4.4"),
        needs=("four-wire", "heat motor", "dry T-T", "own supply"),
        bars=("relay panel",),
        repairs=(
            (
                {"do": "exchange", "first": "{zone}.valve.HA", "second": "{zone}.valve.EA"},
                {"do": "exchange", "first": "{zone}.valve.HB", "second": "{zone}.valve.EB"},
            ),
        ),
        parallel=True,
    ),
    Row(
        id="HL-17",
        chapter="heater-loops",
        kind="resistance",
        symptom="slow",
        claim="The cable to {stat} is too long for its thin wire.",
        changes=(Recabled("{zone} stat cable", 22, SIZE),),
        sizes=(100.0, 150.0),  # feet
        complaint="The {room}, at the far end of the house, has always been the last to get warm.",
        noticed="The head warms slowly, and no joint is warm.",
        repair="Pull a thicker cable, or move the transformer nearer.",
        misdiagnosis="A weak transformer.",
        severity=1,
        prevalence=3,
        objectives=("3.3", "3.4"),
        needs=("heat motor",),
        bars=("relay panel",),
        repairs=(({"do": "new cable", "cable": "{zone} stat cable"},),),
    ),
    Row(
        id="HL-26",
        chapter="heater-loops",
        kind="wiring",
        symptom="cold",
        claim="The heaters of the two valves on {stat} are in series.",
        changes=(Landed("{zone}.HB lead", "b", "{zone}b.valve.HA"), Removed("{zone}b.HA lead")),
        complaint="Since the {room} got its second valve, neither half of it is warm.",
        noticed="Both heads get warm, neither gets hot, and no click comes.",
        repair="Put the two heaters side by side: each from W to C.",
        misdiagnosis="A weak transformer.",
        severity=1,
        prevalence=3,
        objectives=("3.1", "3.2"),
        needs=("heat motor", "one stat"),
        repairs=(
            (
                {"do": "move wire", "wire": "{zone}.HB lead", "end": "b", "terminal": "{zone}.C splice.1"},
                {"do": "run wire", "wire": "{zone}b.HA lead"},
            ),
        ),
    ),
)

_NOTHING_WRONG_ROWS = (
    Row(
        id="HL-16",
        chapter="heater-loops",
        kind="nothing wrong",
        symptom="slow",
        claim="Nothing is wrong with {zone}: its valve stands in the cold and takes its time.",
        changes=(PartField("{zone}.valve", "ambient_degC", SIZE),),
        sizes=(0.0, 5.0),
        complaint="In winter the {room} answers minutes later than the other rooms.",
        noticed="The air beside the valve is cold.",
        repair="None needed. Warm or insulate the space if it matters, mind the volts, and explain.",
        misdiagnosis="A bad head.",
        severity=1,
        prevalence=4,
        objectives=("3.3", "5.6"),
        needs=("heated valve",),
    ),
    Row(
        id="HL-22",
        chapter="heater-loops",
        kind="nothing wrong",
        symptom="odd",
        claim="Nothing is wrong with {zone}: its heater leads are exchanged, and a heater does not mind.",
        changes=(Exchanged("{zone}.valve.HA", "{zone}.valve.HB"),),
        complaint="A friend looked at the valve for the {room} and says that it is wired wrongly.",
        noticed="The zone opens in its time and heats as it should.",
        repair="None. Leave it, or tidy it; on a three-wire valve it would matter.",
        misdiagnosis="The cause of whatever else seems wrong.",
        severity=0,
        prevalence=3,
        objectives=("3.2", "5.6"),
        needs=("heated valve",),
        bars=("three-wire",),
    ),
    Row(
        id="HL-23",
        chapter="heater-loops",
        kind="nothing wrong",
        symptom="cold",
        claim="Nothing is wrong with {zone}: the valve simply had not been given its time.",
        changes=(),
        complaint="I turned the {room} up, waited half a minute, and nothing happened.",
        noticed="On a call the head warms. Give it some minutes, and the pipe beyond it follows.",
        repair="None. Wait by the clock, prove the zone, and say so.",
        misdiagnosis="A dead valve.",
        severity=0,
        prevalence=8,
        objectives=("3.3", "5.6"),
        needs=("heated valve",),
        as_one=_NOTHING,
    ),
    Row(
        id="HL-29",
        chapter="heater-loops",
        kind="nothing wrong",
        symptom="too warm",
        claim="Nothing is wrong with {zone}: its valve stands in a hot closet and is slow to close.",
        changes=(PartField("{zone}.valve", "ambient_degC", SIZE),),
        sizes=(40.0, 50.0),
        complaint="The {room} keeps getting heat for minutes after we turn it down.",
        noticed="The air beside the valve is hot.",
        repair="None. Ventilate the closet if it bothers anybody, and explain.",
        misdiagnosis="A valve that is stuck open.",
        severity=0,
        prevalence=2,
        objectives=("3.3", "5.6"),
        needs=("heated valve",),
    ),
    Row(
        id="NF-05",
        chapter="heater-loops",
        kind="nothing wrong",
        symptom="odd",
        claim="Nothing is wrong with {zone}: the limit contact inside its head comes and goes at full stroke.",
        changes=(),
        complaint="Somebody clamped the wire to the {room} and says that its current comes and goes.",
        noticed="Once it is open, the current goes away and comes back every half minute, and the end switch stays made.",
        repair="None. Watch the end switch through two rounds of it, and say so.",
        misdiagnosis="A heater lead that lets go when it is hot; that one lets the end switch go too.",
        severity=0,
        prevalence=4,
        objectives=("3.3", "5.6"),
        needs=("internal limit", "end switch"),
        as_one=_NOTHING,
    ),
)

HEATER_LOOP_ROWS: tuple[Row, ...] = tuple(
    sorted((*HEATER_ROWS, *HEAD_ROWS, *_WIRING_ROWS, *_NOTHING_WRONG_ROWS), key=lambda row: row.id)
)
