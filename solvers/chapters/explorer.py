"""An explorer: a question, a few things to set, and what the package computes of them. All of it is data."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from ..jobs.job import JobError
from ..plant import facts

__all__ = ["Explorer", "Pick", "Plot", "Shown", "Slider", "Told", "both_air", "both_feet", "span_text"]

STEP_SLACK = 1e-6  # of a step; what rounding in a screen may put on a value


def both_air(degC: float) -> str:
    """A temperature in both units.

    >>> both_air(20)
    '20 °C (68 °F)'
    """
    return f"{degC:.0f} °C ({degC * 1.8 + 32:.0f} °F)"


def both_feet(feet: float) -> str:
    """A length in both units.

    >>> both_feet(120)
    '120 ft (36.6 m)'
    """
    return f"{feet:.0f} ft ({feet * facts.METRES_PER_FOOT.value:.1f} m)"


def span_text(seconds: float) -> str:
    """A time as a person says it.

    >>> span_text(89.03), span_text(365.2), span_text(math.inf)
    ('89 s', '6 min 05 s', 'never')
    """
    if math.isinf(seconds):
        return "never"
    whole = round(seconds)
    return f"{whole} s" if whole < 120 else f"{whole // 60} min {whole % 60:02d} s"


@dataclass(frozen=True, slots=True)
class Slider:
    """A number to set, in steps from `low` to `high`."""

    name: str
    label: str
    unit: str  # "V", "A", "degC", "ft", or "" for a count
    low: float
    high: float
    step: float
    default: float

    def taken(self, value: object) -> float:
        """The value put on its step; raises JobError for anything that the slider cannot stand at."""
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            raise JobError(f"{self.name} is {value!r}; give a number from {self.low:g} to {self.high:g}")
        if not self.low - self.step * STEP_SLACK <= value <= self.high + self.step * STEP_SLACK:
            raise JobError(f"{self.name} is {value!r}; it goes from {self.low:g} to {self.high:g}")
        steps = round((value - self.low) / self.step)
        exact = self.low + steps * self.step
        if abs(exact - value) > self.step * 1e-3:
            raise JobError(f"{self.name} is {value!r}; it goes in steps of {self.step:g} from {self.low:g}")
        return round(exact, 9)

    def text(self, value: float) -> str:
        """A value with its unit, lengths and temperatures in both."""
        if self.unit == "degC":
            return both_air(value)
        if self.unit == "ft":
            return both_feet(value)
        places = max(0, -math.floor(math.log10(self.step) + 1e-9))
        return f"{value:.{places}f} {self.unit}".strip()


@dataclass(frozen=True, slots=True)
class Pick:
    """One of several to choose."""

    name: str
    label: str
    choices: tuple[str, ...]
    default: str

    def taken(self, value: object) -> str:
        """The choice; raises JobError for what is none."""
        if not isinstance(value, str) or value not in self.choices:
            raise JobError(f"{self.name} is {value!r}; choose one of {list(self.choices)}")
        return value

    def text(self, value: str) -> str:
        """The choice as it stands."""
        return value


@dataclass(frozen=True, slots=True)
class Told:
    """One reading: what it is of, and its text with the unit."""

    label: str
    text: str


@dataclass(frozen=True, slots=True)
class Plot:
    """What a chart shows, as `pictures.chart` takes it. The first curve is the one that was set."""

    title: str
    across: str
    up: str
    curves: tuple[tuple[str, tuple[tuple[float, float | None], ...]], ...]
    here: tuple[float, float] | None = None
    here_words: str = ""
    levels: tuple[tuple[str, float], ...] = ()
    ticks: tuple[tuple[float, str], ...] = ()
    base: float = 0.0
    highest: float = math.inf


@dataclass(frozen=True, slots=True)
class Shown:
    """What an explorer shows for one setting."""

    readings: tuple[Told, ...]
    words: str  # what it means, in a sentence or three
    plot: Plot
    drawn: str  # the plot in words


@dataclass(frozen=True, slots=True)
class Explorer:
    """A question to think about first, what can be set, and what is then computed."""

    name: str
    title: str
    question: str
    inputs: tuple[Slider | Pick, ...]
    show: Callable[..., Shown]  # takes the inputs by their names

    @property
    def defaults(self) -> dict[str, float | str]:
        """Every input as it stands at first."""
        return {each.name: each.default for each in self.inputs}

    def taken(self, values: object) -> dict[str, float | str]:
        """Exactly the inputs, each proven; raises JobError that names what is wrong and what is possible."""
        names = [each.name for each in self.inputs]
        if not isinstance(values, Mapping):
            raise JobError(f"the values for {self.name!r} are {values!r}; give an object with {names}")
        extra, missing = [name for name in values if name not in names], [name for name in names if name not in values]
        if extra or missing:
            raise JobError(f"{self.name!r} takes {names}; unknown {extra[:5]}, missing {missing}")
        return {each.name: each.taken(values[each.name]) for each in self.inputs}

    def shown(self, values: object) -> Shown:
        """What this setting shows; raises JobError as `taken` does."""
        return self.show(**self.taken(values))
