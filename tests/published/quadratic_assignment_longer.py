"""Published quadratic assignment problems: python -m tests.published.quadratic_assignment_longer FOLDER.

Reads the files of QAPLIB (Burkard, Karisch and Rendl 1997, Journal of Global Optimization 10): NAME.dat has
the size and two square matrices, NAME.sln the size, the best known value and its permutation. The package
r-cran-qap of Debian holds them. For each instance with at most 16 places (or as many as a second number says)
it prints the known value, the best of ten runs and how many runs reached it. Exits 1 when an instance of at
most 16 places by Nugent (nug), Hadley (had) or Eschermann (esc) is missed, or when there was none to solve.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from tracker.ranking.puzzle import Link, Puzzle, value_of
from tracker.ranking.solve import solve

RUNS = 10
MUST_BE_REACHED = ("nug", "had", "esc")
PLACES_MOST = 16

Matrix = Sequence[Sequence[int]]


class Instance(NamedTuple):
    """A problem and the best value known: sum over i and j of near[i][j] * flow[p(i)][p(j)]."""

    name: str
    near: Matrix
    flow: Matrix
    known: int


def puzzle_of(near: Matrix, flow: Matrix) -> Puzzle:
    """Places as cells, what is placed as pieces, every pair of places a link weighted by its distance.

    Both diagonals must be nought: a link joins two cells.
    """
    places = range(len(near))
    links = tuple(Link(i, j, 0, near[i][j]) for i in places for j in places if i != j and near[i][j])
    table = tuple(map(tuple, flow))
    states = tuple((piece, 0) for piece in places)
    nothing = ((0,) * len(near),) * len(near)
    return Puzzle(states, len(near), links, (table,), (None,) * len(near), nothing)


def totals(instance: Instance, runs: int = RUNS) -> Iterator[int]:
    """The totals of so many runs, each with a seed of its own."""
    puzzle = puzzle_of(instance.near, instance.flow)
    for seed in range(runs):
        found = solve(puzzle, seed=seed, first="total")
        if found.value.total != value_of(puzzle, found.arrangement).total:
            raise ValueError(f"{instance.name}: the answer is not worth what it says")
        yield found.value.total


def read(path: Path) -> Instance:
    """One instance, NAME.dat with NAME.sln beside it."""
    size, *numbers = map(int, path.read_text(encoding="ascii").split())
    rows = [numbers[at : at + size] for at in range(0, 2 * size * size, size)]
    known = int(path.with_suffix(".sln").read_text(encoding="ascii").replace(",", " ").split()[1])
    return Instance(path.stem, rows[:size], rows[size:], known)


def has_diagonal(instance: Instance) -> bool:
    """Whether staying where it is costs something, which no link says."""
    return any(rows[at][at] for rows in (instance.near, instance.flow) for at in range(len(rows)))


def instances(folder: Path, places_most: int) -> Iterator[Instance]:
    """Those of the folder that are small enough and whose value is known, by name."""
    for path in sorted(folder.glob("*.dat")):
        size = int(path.read_text(encoding="ascii").split(maxsplit=1)[0])
        if size <= places_most and path.with_suffix(".sln").exists():
            yield read(path)


def main(arguments: Sequence[str]) -> int:
    """Solve the folder and print a line each; 1 when one that must be reached was missed."""
    places_most = int(arguments[1]) if len(arguments) > 1 else PLACES_MOST
    missed, looked_at = [], 0
    for instance in instances(Path(arguments[0]), places_most):
        if has_diagonal(instance):
            sys.stdout.write(f"{instance.name:<10} left out: its diagonal is not nought\n")
            continue
        reached = list(totals(instance))
        best, hits, looked_at = min(reached), reached.count(instance.known), looked_at + 1
        sys.stdout.write(f"{instance.name:<10}{instance.known:>10}{best:>10}{hits:>4} of {RUNS}\n")
        sys.stdout.flush()
        if not hits and instance.name.startswith(MUST_BE_REACHED) and len(instance.near) <= PLACES_MOST:
            missed.append(instance.name)
    sys.stdout.write(f"{looked_at} solved; missed: {', '.join(missed) or 'none'}\n")
    return 1 if missed or not looked_at else 0


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit("Give the folder that holds the .dat and .sln files.")
    sys.exit(main(sys.argv[1:]))
