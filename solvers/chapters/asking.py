"""The forms of question that every chapter uses: a number, a choice, several, an order; right and wrong ones are handed in.

Whoever asks computes every value on a drawn circuit; nothing here knows a number of its own but the tolerance.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from ..jobs.acts import Outcome
from ..jobs.differences import readings_apart
from ..jobs.job import JobError
from ..jobs.questions import Question
from .chance import Chance
from .misconceptions import MISCONCEPTIONS
from .visits import Visit

__all__ = [
    "LEVELS",
    "VOLTS_WITHIN",
    "Draw",
    "Misreading",
    "chosen",
    "numbered",
    "ordered",
    "predicted_reading",
    "questions_of",
    "refuted",
    "several",
    "steps_in_order",
    "told_apart",
]

LEVELS = (1, 2, 3)
VOLTS_WITHIN = 0.5  # V, of a predicted reading
Given = Sequence[tuple[str, str]]


@dataclass(frozen=True, slots=True)
class Draw:
    """One draw of a kind of question: where it belongs, and its chance. Raises JobError for a seed or level there is not."""

    chapter: str
    kind: str
    seed: str
    level: int = 1

    def __post_init__(self) -> None:
        if not isinstance(self.seed, str) or not self.seed.strip():
            raise JobError(f"seed {self.seed!r}; give some text, for instance 'autumn/anna/3'")
        if isinstance(self.level, bool) or self.level not in LEVELS:
            raise JobError(f"level {self.level!r}; there are {list(LEVELS)}")

    @property
    def chance(self) -> Chance:
        """The chance of this draw, and of no other."""
        return Chance(f"{self.chapter}/{self.kind}/{self.level}/{self.seed}")

    def again(self, attempt: int) -> Chance:
        """The chance of another attempt at the same draw, where the first gives nothing to ask about."""
        return Chance(f"{self.chapter}/{self.kind}/{self.level}/{self.seed}/{attempt}")


@dataclass(frozen=True, slots=True)
class Misreading:
    """A wrong answer that a known slip leads to, and the hint that meets the slip without giving the answer."""

    value: float | str
    hint: str


def questions_of(chapter: str, asked: Mapping[str, Callable[[Draw], Question]]) -> Mapping[str, Callable[[str, int], Question]]:
    """A chapter's kinds of question by name, each from a seed and a level."""

    def of(kind: str, ask: Callable[[Draw], Question]) -> Callable[[str, int], Question]:
        return lambda seed, level=1: ask(Draw(chapter, kind, seed, level))

    return {kind: of(kind, ask) for kind, ask in asked.items()}


def numbered(
    draw: Draw,
    objective: str,
    words: str,
    value: float,
    unit: str,
    within: float,
    *,
    why: str,
    hint: str,
    misreadings: Sequence[Misreading] = (),
    given: Given = (),
    misconception: int = 0,
) -> Question:
    """A number, to be met within a tolerance that the words state. Misreadings that come too near are left out."""
    traps: dict[float, str] = {}
    for one in misreadings:
        if all(abs(one.value - taken) > 1.001 * within for taken in (value, *traps)):
            traps[one.value] = one.hint
    return Question(
        kind=draw.kind,
        chapter=draw.chapter,
        seed=draw.seed,
        form="number",
        words=f"{words} Within {within:.2g} {unit} counts." if unit else f"{words} Within {within:.2g} counts.",
        expected=value,
        why=why,
        hint=hint,
        objective=objective,
        unit=unit,
        tolerance=within,
        traps=traps,
        misconception=misconception,
        given=tuple(given),
    )


def predicted_reading(
    draw: Draw,
    objective: str,
    words: str,
    visit: Visit,
    first: str,
    second: str,
    *,
    why: str,
    hint: str,
    misreadings: Sequence[Misreading] = (),
    given: Given = (),
    function: str = "volts",
    within: float = VOLTS_WITHIN,
    misconception: int = 0,
) -> Question:
    """What the meter will show between two points of a visit. `why` may hold {value}, the reading as displayed."""
    act = {"do": "measure", "function": function, "first": first, "second": second}
    shown = visit.shown(act)
    unit = "ohms" if function == "ohms" else "V"
    return numbered(
        draw,
        objective,
        words,
        shown.reading.value,
        unit,
        within,
        why=why.replace("{value}", shown.text),
        hint=hint,
        misreadings=misreadings,
        given=given,
        misconception=misconception,
    )


def chosen(
    draw: Draw,
    objective: str,
    words: str,
    right: str,
    wrong: Mapping[str, str],
    *,
    why: str,
    hint: str,
    given: Given = (),
    misconception: int = 0,
) -> Question:
    """One of several, in a drawn order. `wrong` holds each wrong choice with the hint that meets it."""
    choices = [right, *(one for one in wrong if one != right)]
    return Question(
        kind=draw.kind,
        chapter=draw.chapter,
        seed=draw.seed,
        form="choice",
        words=words,
        expected=right,
        why=why,
        hint=hint,
        objective=objective,
        choices=tuple(draw.chance.some("order of choices", choices, len(choices))),
        traps={one: told for one, told in wrong.items() if one != right},
        misconception=misconception,
        given=tuple(given),
    )


def several(
    draw: Draw,
    objective: str,
    words: str,
    right: Sequence[str],
    wrong: Mapping[str, str],
    *,
    why: str,
    hint: str,
    given: Given = (),
    misconception: int = 0,
) -> Question:
    """Every right one of several, in a drawn order. `wrong` holds each wrong one with the hint that meets it."""
    choices = [*right, *wrong]
    return Question(
        kind=draw.kind,
        chapter=draw.chapter,
        seed=draw.seed,
        form="choices",
        words=words,
        expected=tuple(right),
        why=why,
        hint=hint,
        objective=objective,
        choices=tuple(draw.chance.some("order of choices", choices, len(choices))),
        traps=dict(wrong),
        misconception=misconception,
        given=tuple(given),
    )


def ordered(
    draw: Draw,
    objective: str,
    words: str,
    steps: Sequence[str],
    reasons: Sequence[str],
    *,
    why: str,
    hint: str,
    given: Given = (),
) -> Question:
    """Steps to be put in order. `reasons` says of each step but the last why it comes before the next, as a hint.

    Raises JobError where the reasons do not go with the steps.
    """
    if len(reasons) != len(steps) - 1:
        raise JobError(f"{draw.kind}: {len(reasons)} reasons for {len(steps)} steps; give one for each pair of neighbours")
    mixed = tuple(draw.chance.some("order of steps", list(steps), len(steps)))
    return Question(
        kind=draw.kind,
        chapter=draw.chapter,
        seed=draw.seed,
        form="order",
        words=words,
        expected=tuple(steps),
        why=why,
        hint=hint,
        objective=objective,
        choices=mixed if mixed != tuple(steps) else tuple(reversed(steps)),
        traps={(steps[place + 1], steps[place]): reason for place, reason in enumerate(reasons)},
        given=tuple(given),
    )


def steps_in_order(draw: Draw, objective: str, steps: Sequence[tuple[str, str]], words: str, why: str) -> Question:
    """Some of the steps in their order, more of them from level to level; each comes with why it stands before later ones."""
    count = min(len(steps), 4 + draw.level)
    kept = draw.chance.some("steps", list(range(len(steps))), count)
    taken = [steps[number] for number in sorted(kept)]
    return ordered(
        draw,
        objective,
        words,
        [step for step, _ in taken],
        [reason for _, reason in taken[:-1]],
        why=f"{why} {' '.join(reason for _, reason in taken[:-1])}",
        hint="For each step ask: what must already be true for it to be safe, or to prove something?",
    )


def told_apart(
    draw: Draw,
    objective: str,
    words: str,
    right: str,
    shown: Mapping[str, Mapping[str, Outcome | str]],
    *,
    hint: str,
    also: Given = (),
) -> Question:
    """Which of several conditions gives these readings; `shown` holds, by condition, what each reading by name would be.

    A condition that would show the same as the right one is not offered beside it.
    """
    real, wrong = shown[right], {}
    for other, readings in shown.items():
        apart = [name for name, reading in real.items() if _differ(reading, readings[name])]
        if other != right and apart:
            wrong[other] = f"Then one line at least would be another: think of \u201c{apart[0]}\u201d."
    given = [(name, _display(reading)) for name, reading in real.items()]
    told = "; ".join(f"{name}: {text}" for name, text in given)
    return chosen(draw, objective, words, right, wrong, why=f"{told}. {right}", hint=hint, given=[*also, *given])


def _differ(one: Outcome | str, other: Outcome | str) -> bool:
    if isinstance(one, str) or isinstance(other, str):
        return one != other
    return readings_apart(one.reading, other.reading)


def _display(reading: Outcome | str) -> str:
    return reading if isinstance(reading, str) else reading.text.removeprefix("Read by somebody licensed: ")


def refuted(
    draw: Draw, number: int, right: str, wrong: Mapping[str, str], *, why: str, given: Given = (), words: str = ""
) -> Question:
    """A misconception by its number, and readings of which one cannot be squared with it.

    `right` is that reading, solved; `wrong` holds readings that fit the belief as well as the truth, each with its hint.
    """
    belief = MISCONCEPTIONS[number]
    return chosen(
        draw,
        belief.objective,
        f"{words} Somebody says: \u201c{belief.belief}\u201d Which of these readings, all true, proves them wrong?".strip(),
        right,
        wrong,
        why=why,
        hint="Ask of each reading what it would be if the belief were true. Only one cannot be.",
        given=given,
        misconception=number,
    )
