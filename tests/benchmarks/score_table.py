"""Print the simulated players' score table as markdown: `python tests/benchmarks/score_table.py [seeds a chapter]`.

Every player works the same jobs, the levels of each chapter in turn. Marks are the machine's, of 90; means over all jobs.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from statistics import fmean

HERE = Path(__file__).resolve()
sys.path[:0] = [str(HERE.parents[1]), str(HERE.parents[2])]

from players import PLAYERS  # noqa: E402

from solvers.chapters.shelf import CHAPTERS  # noqa: E402
from solvers.faults import fault  # noqa: E402
from solvers.jobs.job import Job  # noqa: E402
from solvers.jobs.marking import mark  # noqa: E402
from solvers.jobs.marks import MACHINE_POINTS, Marks  # noqa: E402

__all__ = ["jobs", "main", "markdown", "scored"]


def jobs(seeds: int) -> Iterator[Job]:
    """So many jobs of every chapter that faults are filed under, its levels in turn."""
    for name in fault.CHAPTERS:
        chapter = CHAPTERS[name]
        for number in range(seeds):
            yield chapter.draw(f"players/{name}/{number}", chapter.LEVELS[number % len(chapter.LEVELS)])


def scored(seeds: int) -> dict[str, list[Marks]]:
    """Every player's marks on the same jobs, in order."""
    found: dict[str, list[Marks]] = {name: [] for name in PLAYERS}
    for job in jobs(seeds):
        for name, player in PLAYERS.items():
            found[name].append(mark(job, player(job, name, job.seed).sheet()))
    return found


def markdown(found: dict[str, list[Marks]]) -> str:
    """The table: mean marks by criterion and in all, readings for each reading of par, verdicts that are right and argued."""
    first = next(iter(found.values()))
    lines = [line for line in first[0].lines if line.points is not None]
    heads = [f"{line.criterion} ({line.out_of:g})" for line in lines]
    table = [
        f"{len(first)} jobs a player.",
        "",
        f"| player | {' | '.join(heads)} | in all ({MACHINE_POINTS}) | readings | par | right and argued |",
        f"|---|{'---|' * (len(heads) + 4)}",
    ]
    for name, every in found.items():
        means = [fmean(marks.lines[place].points for marks in every) for place in range(len(lines))]
        cells = [f"{mean:.1f}" for mean in means]
        cells.append(f"{fmean(marks.points for marks in every):.1f}")
        cells += [f"{fmean(marks.readings for marks in every):.2f}", f"{fmean(marks.par for marks in every):.2f}"]
        argued = sum(marks.right and marks.argued for marks in every)
        table.append(f"| {name} | {' | '.join(cells)} | {argued} of {len(every)} |")
    return "\n".join(table)


def main(arguments: list[str]) -> int:
    """Print the table for so many seeds a chapter, 6 unless told; says what there is for another word."""
    if len(arguments) > 1 or not all(word.isdecimal() and int(word) for word in arguments):
        sys.stderr.write(f"unknown {arguments}; give one whole number of seeds a chapter, 1 or more\n")
        return 2
    sys.stdout.write(markdown(scored(int(arguments[0]) if arguments else 6)) + "\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
