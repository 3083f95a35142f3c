"""Rows, faults and changes: what they refuse, and what a change does to an installation."""

import pytest
from reference_circuits import REF_A

from solvers.faults.changes import Exchanged, Joint, Landed, PartField, Recabled
from solvers.faults.fault import FaultError
from solvers.faults.heater_loops import HEATER_LOOP_ROWS
from solvers.plant.wiring import NoSuchPart, NoSuchTerminal, WiringError

ROWS = {row.id: row for row in HEATER_LOOP_ROWS}


def _fault(row, size=None):
    return ROWS[row].at("zone1", ROWS[row].places[0], size)


def test_a_size_is_asked_for_and_checked():
    """A row with a range refuses no size and a size outside it; a row without one refuses any."""
    with pytest.raises(FaultError, match="takes a size"):
        _fault("HL-09")
    with pytest.raises(FaultError, match=r"3\.0 to 20\.0; got 40"):
        _fault("HL-09", 40.0)
    with pytest.raises(FaultError, match="takes no size"):
        _fault("HL-01", 3.0)


@pytest.mark.parametrize(
    ("change", "error"),
    [
        (PartField("zone9.valve", "heater_ohms", 3.0), NoSuchPart),
        (PartField("zone1.valve", "colour", 3.0), WiringError),
        (Joint("zone1.valve", "1", 3.0), WiringError),
        (Landed("zone1.W leg", "b", "zone1.valve.Q"), NoSuchTerminal),
        (Exchanged("zone1.valve.Q", "zone1.valve.HA"), NoSuchTerminal),
        (Recabled("zone9 stat cable", 22, 50.0), WiringError),
        (Recabled("zone1 stat cable", 99, 50.0), ValueError),
    ],
)
def test_a_change_that_cannot_be_made_is_refused(change, error):
    """A change that names what is not there raises and shows what is."""
    with pytest.raises(error):
        change.made(REF_A)


def test_another_cable_changes_all_of_its_conductors_and_no_other():
    """50 ft of 22 AWG have 0.807 ohm a conductor; what lies outside the cable is what it was. Source: ASTM B258."""
    here = Recabled("zone1 stat cable", 22, 50.0).made(REF_A)
    for before, after in zip(REF_A.conductors, here.conductors, strict=True):
        if before.cable == "zone1 stat cable":
            assert (22, 50.0, pytest.approx(0.05 * 16.143, rel=1e-3)) == (after.gauge, after.feet, after.ohms)
        else:
            assert before == after
