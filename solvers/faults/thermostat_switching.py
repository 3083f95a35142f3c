"""What goes wrong in thermostat switching, as data: in the thermostats themselves, and in their wiring."""

from __future__ import annotations

from .stat_wiring import STAT_WIRING_ROWS
from .stats import STAT_ROWS

__all__ = ["THERMOSTAT_SWITCHING_ROWS"]

THERMOSTAT_SWITCHING_ROWS = (*STAT_ROWS, *STAT_WIRING_ROWS)
