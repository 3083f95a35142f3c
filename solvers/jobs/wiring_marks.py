"""From a wiring to findings, marks and feedback: what it does is judged, never how it was drawn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ..plant.parts import Relay
from .behaviour import Progress
from .findings import Criterion, Evidence, Finding, listed, said
from .injected import Injected, injected
from .marking import MarkLine
from .mistake import Mistake
from .mistakes import mistakes
from .wireup import WireUp
from .wiring_answer import Wiring, line_terminals

__all__ = ["Judgement", "WiringMarks", "judged", "marked"]

BEHAVIOUR, SAFETY, LEADS, LABELS, PREDICTION = 50, 20, 10, 10, 10
"""Points out of 100, as the trade's tasks are marked."""

FUSE_COST = 5  # of the points for safety, each
UNTIDY_COST = 2  # of the points for labels, each thing untidy

MOST_NAMED = 12
_RANK = {"danger": 0, "wrong": 1, "untidy": 2}


@dataclass(frozen=True, slots=True)
class Judgement:
    """What a wiring does, held against what was asked."""

    right: tuple[Criterion, ...]
    findings: tuple[Finding, ...]  # first combination of calls first
    untidy: tuple[Finding, ...]  # workmanship, apart
    mistakes: tuple[Mistake, ...]  # that explain the findings

    @property
    def accepted(self) -> bool:
        """Whether it does everything that was asked; untidy work is accepted and costs points."""
        return not self.findings


@dataclass(frozen=True, slots=True)
class WiringMarks:
    """A marked wire-up."""

    lines: tuple[MarkLine, ...]
    feedback: tuple[str, ...]  # what is right, then the first combination that misbehaves, then the rest
    judgement: Judgement

    @property
    def points(self) -> float:
        """Points of 100."""
        return sum(line.points or 0.0 for line in self.lines)


def judged(task: WireUp, wiring: Wiring, progress: Progress | None = None) -> Judgement:
    """Run a wiring and hold it against a task's criteria; raises BadWiring for what cannot be built.

    Each finding is the first combination of calls in which one criterion fails, with the mistake that explains it where
    one is known. `progress` is told how far the run has come.
    """
    evidence = Evidence(task.made(wiring), progress)
    if joined := _line_joined(evidence):
        return Judgement((), (joined,), _untidy(evidence, wiring), ())
    outcome = [(criterion, criterion.fails(evidence)) for criterion in task.criteria]
    failed = [finding for _, finding in outcome if finding is not None]
    known = mistakes(evidence) if failed else ()
    right = tuple(criterion for criterion, finding in outcome if finding is None)
    return Judgement(right, _explained(sorted(failed, key=_order), known), _untidy(evidence, wiring), known)


def marked(
    task: WireUp,
    wiring: Wiring,
    answers: Mapping[str, object] | None = None,
    *,
    seed: str = "",
    fuses_lost: int = 0,
    progress: Progress | None = None,
) -> WiringMarks:
    """Mark a wiring: 50 behaviour, 20 safety, 10 answers before power, 10 labels, 10 prediction of one injected fault.

    `answers` holds an answer for each question's id and one for "prediction". A wrong answer is marks, never an error.
    """
    answers = answers or {}
    judgement = judged(task, wiring, progress)
    lines = (
        _behaviour(task, judgement, wiring),
        _safety(task, judgement, wiring, fuses_lost),
        _before(task, wiring, answers, seed),
        _labels(judgement, wiring),
        _prediction(injected(task, wiring, seed) if judgement.accepted else None, answers),
    )
    return WiringMarks(lines, _feedback(judgement), judgement)


def _line_joined(evidence: Evidence) -> Finding | None:
    """Line voltage on a class 2 conductor: such a wiring is never powered, so it is not run either."""
    live = line_terminals(evidence.whole.parts)
    # The contacts of a relay may carry either; what they join is found by running it.
    relays = [part for part in evidence.whole.parts if isinstance(part, Relay)]
    either = {end for relay in relays for number in range(1, relay.poles + 1) for end in relay.pole(number)}
    for terminal in sorted(live):
        beside = [other for other in evidence.nets.beside(terminal) if other not in live | either]
        shorted = [other for other in evidence.nets.beside(terminal) if other in live and not _may_join(terminal, other)]
        if beside or shorted:
            words = f"{said(terminal)} is joined to {said((beside or shorted)[0])}: line voltage. This is never powered."
            return Finding("Separate", words, severity="danger", mistake="line on class 2")
    return None


def _may_join(first: str, second: str) -> bool:
    """Whether two line terminals may be one point: line to one lead of a primary, and the same pole of different parts."""
    (one, a), (other, b) = first.rsplit(".", 1), second.rsplit(".", 1)
    if one != other:
        return a == b
    return "L" in (a, b) and "P0" not in (a, b) and "N" not in (a, b)


def _order(finding: Finding) -> tuple[bool, int, int]:
    """What calls alone bring about comes first, fewest calls first."""
    return finding.posed, len(finding.calls), _RANK[finding.severity]


def _explained(findings: Sequence[Finding], known: Sequence[Mistake]) -> tuple[Finding, ...]:
    """The findings, each with the mistake that explains it; the first that a mistake explains says so in words."""
    told: list[Mistake] = []
    found = []
    for finding in findings:
        best = _explaining(finding, known)
        words = finding.words
        if best and best not in told:
            told.append(best)
            words = f"{words} {best.words[:1].upper()}{best.words[1:]}"
        found.append(replace(finding, words=words, mistake=best.name if best else ""))
    return tuple(found)


def _explaining(finding: Finding, known: Sequence[Mistake]) -> Mistake | None:
    """The gravest mistake that touches the same parts, or else the gravest there is."""
    touched = {name.rpartition(".")[0] or name for name in finding.path}
    near = [
        mistake for mistake in known if touched & set(mistake.parts) or any(said(part) in finding.words for part in mistake.parts)
    ]
    return next(iter((*near, *known)), None)


def _untidy(evidence: Evidence, wiring: Wiring) -> tuple[Finding, ...]:
    found = [
        Finding("Room", f"{count} conductors at {said(terminal)}, which holds {takes}.", severity="untidy")
        for terminal, count, takes in evidence.whole.crowded()
    ]
    for name in wiring.idle_splices():
        found.append(Finding("Splices", f"{name} holds no wire: put it back into the bag.", severity="untidy"))
    held = [end for wire in wiring.wires for end in (wire.a, wire.b)]
    for joint in wiring.splices:
        if sum(end in joint.terminals for end in held) == 1:
            found.append(
                Finding("Splices", f"{joint.name} holds one wire only: a cap, if the lead is a spare.", severity="untidy")
            )
    if bare := wiring.unlabelled():
        more = f" and {len(bare) - MOST_NAMED} more" if len(bare) > MOST_NAMED else ""
        found.append(Finding("Labels", f"No label on {listed(bare[:MOST_NAMED])}{more}.", severity="untidy"))
    return tuple(found)


def _behaviour(task: WireUp, judgement: Judgement, wiring: Wiring) -> MarkLine:
    return _share(
        "behaviour", BEHAVIOUR, task, judgement, wiring, "It does everything that was asked, in every combination of calls."
    )


def _safety(task: WireUp, judgement: Judgement, wiring: Wiring, fuses_lost: int) -> MarkLine:
    line = _share("safety", SAFETY, task, judgement, wiring, "No short in any position, sources as they should be, fuse first.")
    if not fuses_lost:
        return line
    points = max(0.0, line.points - FUSE_COST * fuses_lost)
    return replace(line, points=points, reasons=(*line.reasons, f"It cost {fuses_lost} fuse{'s' if fuses_lost > 1 else ''}."))


def _share(part: str, out_of: int, task: WireUp, judgement: Judgement, wiring: Wiring, praise: str) -> MarkLine:
    asked = [criterion for criterion in task.criteria if criterion.part == part]
    if not wiring.wires:
        return MarkLine(part, 0, out_of, ("Nothing was joined.",))
    right = [criterion for criterion in judgement.right if criterion.part == part]
    kinds = {criterion.kind for criterion in asked}
    reasons = tuple(finding.words for finding in judgement.findings if finding.criterion in kinds) or (praise,)
    return MarkLine(part, round(out_of * len(right) / len(asked), 1), out_of, reasons)


def _before(task: WireUp, wiring: Wiring, answers: Mapping[str, object], seed: str) -> MarkLine:
    if _line_joined(Evidence(task.made(wiring))):
        return MarkLine(
            "before power", 0, LEADS, ("Line voltage stands on conductors where it must not: nothing is measured here.",)
        )
    if not task.questions:
        return MarkLine("before power", LEADS, LEADS, ("This task asks nothing before power.",))
    installation = task.made(wiring)
    shares = [(question, question.share(installation, answers.get(question.id), seed)) for question in task.questions]
    reasons = tuple(
        f"{question.id}: {'right' if share == 1 else 'partly right' if share else 'not right'}." for question, share in shares
    )
    return MarkLine("before power", round(LEADS * sum(share for _, share in shares) / len(shares), 1), LEADS, reasons)


def _labels(judgement: Judgement, wiring: Wiring) -> MarkLine:
    if not wiring.wires:
        return MarkLine("labels", 0, LABELS, ("Nothing was joined.",))
    share = 1 - len(wiring.unlabelled()) / len(wiring.wires)
    untidy = [finding for finding in judgement.untidy if finding.criterion != "Labels" and "a cap" not in finding.words]
    points = max(0.0, round(LABELS * share - UNTIDY_COST * len(untidy), 1))
    reasons = tuple(finding.words for finding in judgement.untidy) or ("Every conductor labelled, every joint as it should be.",)
    return MarkLine("labels", points, LABELS, reasons)


def _prediction(fault: Injected | None, answers: Mapping[str, object]) -> MarkLine:
    if fault is None:
        return MarkLine("prediction", 0, PREDICTION, ("A fault is predicted once the wiring does what was asked.",))
    share = fault.share(answers.get("prediction"))
    told = "Right." if share == 1 else f"Solved: {fault.told}."
    return MarkLine("prediction", round(PREDICTION * share, 1), PREDICTION, (f"{fault.words} {told}",))


def _feedback(judgement: Judgement) -> tuple[str, ...]:
    """What is right first, then the first combination that misbehaves; what only follows from the same mistake is left out."""
    right = [criterion.asks() for criterion in judgement.right]
    lines = [f"This holds: {asks}" for asks in right]
    told: list[str] = []
    for finding in judgement.findings:
        if not finding.mistake or finding.mistake not in told:
            lines.append(finding.words)
            told.append(finding.mistake)
    return tuple(lines) + tuple(finding.words for finding in judgement.untidy)
