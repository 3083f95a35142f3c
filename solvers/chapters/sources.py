"""The published works that the course is held to, how far each was read, and where the course's own numbers come from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from ..plant import facts
from ..plant.facts import SOURCES, Fact
from .listings import table

__all__ = ["STATUSES", "WORKS", "Work", "fact_table", "facts_by_source", "statuses", "works"]

STATUSES: Mapping[str, str] = {
    "verified": "read in the source's own text or drawing",
    "second hand": "read in a copy, mirror or transcription, not in the issuing body's own file",
    "from memory": "not found in any text that was read; no test rests on it alone",
    "common practice": "what the trade does, with no source that could be named",
}
"""What each status means."""


@dataclass(frozen=True, slots=True)
class Work:
    """One published work: what it is used for, how far it was read, and the file of tests that holds the package to it."""

    title: str
    used_for: str
    status: str  # a key of STATUSES
    check: str = ""  # a file in tests/published; "" where no test rests on it


WORKS = (
    Work(
        "*Lessons In Electric Circuits*, volume I, DC, 5th edition (T. R. Kuphaldt; Design Science License)",
        "series and parallel circuits, faults in them, meters that load what they read",
        "verified",
        "test_lessons_in_electric_circuits_dc.py",
    ),
    Work(
        "*Lessons In Electric Circuits*, volume II, AC, 6th edition (T. R. Kuphaldt; Design Science License)",
        "phasors, transformers, regulation, relays",
        "verified",
        "test_lessons_in_electric_circuits_ac.py",
    ),
    Work(
        "*Lessons In Electric Circuits*, volume V, Reference, 4th edition (T. R. Kuphaldt; Design Science License)",
        "the names of symbols, a wire table",
        "verified",
        "test_wire_tables.py",
    ),
    Work(
        "*College Physics 2e* (OpenStax, CC BY-NC-SA 4.0 as read)",
        "series and parallel, meters, transformers, reactance",
        "verified",
        "test_openstax_college_physics.py",
    ),
    Work(
        "*University Physics*, volume 2 (OpenStax, CC BY-NC-SA 4.0 as read)",
        "Kirchhoff's rules, charging and decay, transformers, copper",
        "verified",
        "test_openstax_university_physics.py",
    ),
    Work(
        "*Calculus* and *College Algebra* (OpenStax, CC BY-NC-SA 4.0 as read)",
        "warming and cooling toward the air",
        "verified",
        "test_openstax_calculus_algebra.py",
    ),
    Work(
        "DOE Fundamentals Handbook *Electrical Science*, DOE-HDBK-1011-92 (US government work)",
        "direct and alternating current, transformers",
        "second hand",
        "test_doe_handbook.py",
    ),
    Work(
        "NFPA 70 (2017), chapter 9, tables 11(A) and 11(B); notes also from the 2005 edition",
        "the limits of class 2. Later editions have moved articles; the book in force where you work decides",
        "second hand",
        "test_class_2.py",
    ),
    Work("NFPA 70 (2017), chapter 9, table 8", "ohms of conductors, against our own", "second hand", "test_wire_tables.py"),
    Work("ASTM B258", "diameters of wire gauges", "second hand", "test_wire_tables.py"),
    Work("IEC 60028", "copper: its resistivity, and how its ohms go with temperature", "second hand", "test_wire_tables.py"),
    Work("IEC 60228", "the largest ohms of metric conductors", "second hand", "test_wire_tables.py"),
    Work("ANSI C84.1, range A", "line volts at the service", "second hand", "test_supply_voltage.py"),
    Work(
        "J. de Kleer and B. C. Williams, \u201cDiagnosing multiple faults\u201d, *Artificial Intelligence* 32 (1987)",
        "the most telling next reading; the examples are worked again by exhaustive search",
        "from memory",
        "test_diagnosing_multiple_faults.py",
    ),
    Work(
        "J. Kalagnanam and M. Henrion, arXiv 1304.2362",
        "the order of tests that each look at one cause",
        "second hand",
        "test_diagnosing_multiple_faults.py",
    ),
    Work("IEEE 315-1975; IEC 60617", "shapes and numbers of symbols", "from memory"),
)


def statuses() -> str:
    """What each status means, as a Markdown table."""
    return table(("Status", "Meaning"), STATUSES.items())


def works() -> str:
    """The published works, as a Markdown table."""
    rows = ((one.title, one.used_for, one.status, f"`{one.check}`" if one.check else "none") for one in WORKS)
    return table(("Source", "What it is used for", "Status", "Held to it by"), rows)


def facts_by_source() -> str:
    """Where the plant's numbers come from and how many of them, as a Markdown table."""
    counted: dict[str, int] = dict.fromkeys(SOURCES, 0)
    for _, fact in _facts():
        counted[fact.source] += 1
    return table(
        ("Key", "What it stands for", "Numbers"), ((key, words, str(counted[key] or "tables")) for key, words in SOURCES.items())
    )


def fact_table() -> str:
    """Every single number of the plant with its unit, range and key, as a Markdown table."""
    rows = (
        (name.replace("_", " ").lower(), _number(fact.value), _range(fact), fact.unit or "1", fact.source)
        for name, fact in _facts()
    )
    return table(("Number", "Value", "Range drawn from", "Unit", "Source"), rows)


def _facts() -> Iterator[tuple[str, Fact]]:
    for name in facts.__all__:
        value = getattr(facts, name)
        if isinstance(value, Fact):
            yield name, value


def _number(value: float) -> str:
    return f"{value:.6g}"


def _range(fact: Fact) -> str:
    return "fixed" if fact.low == fact.high else f"{_number(fact.low)} to {_number(fact.high)}"
