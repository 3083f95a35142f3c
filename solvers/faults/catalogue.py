"""The whole catalogue: every row of every chapter, by id."""

from __future__ import annotations

from collections.abc import Mapping

from .end_switches import END_SWITCH_ROWS
from .fault import FaultError, Row
from .heater_loops import HEATER_LOOP_ROWS
from .service_calls import SERVICE_CALL_ROWS
from .step_down_power import STEP_DOWN_POWER_ROWS
from .thermostat_switching import THERMOSTAT_SWITCHING_ROWS

__all__ = ["CATALOGUE", "rows"]

CATALOGUE: Mapping[str, Row] = {
    row.id: row
    for row in (
        *STEP_DOWN_POWER_ROWS,
        *THERMOSTAT_SWITCHING_ROWS,
        *HEATER_LOOP_ROWS,
        *END_SWITCH_ROWS,
        *SERVICE_CALL_ROWS,
    )
}
"""Rows by id."""


def rows(*ids: str) -> tuple[Row, ...]:
    """The rows of these ids; raises FaultError with those there are."""
    for id in ids:
        if id not in CATALOGUE:
            raise FaultError(f"no row {id!r}; there are {list(CATALOGUE)}")
    return tuple(CATALOGUE[id] for id in ids)
