"""What matching roles with many spares costs: python -m tests.benchmarks.matching.

Six open roles, on a log of 50 spares, on one of 5,000 with as many looks (40), and on one of 5,000 of which
hardly two are alike: the verb in one process, then the whole command. Round by round, so that a busy machine
slows all alike; medians of processor time. It prints figures and never passes or fails.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from random import Random
from statistics import median
from time import process_time

from tests.benchmarks.measuring import interleaved, tell
from tracker.domain.rows import RosterRow
from tracker.domain.rows_spares import SpareRow
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.matching import match_roles
from tracker.workbench.roles import RoleSaid, add_roles
from tracker.workbench.spares_sheet import import_spares

_BASES = ("20x20", "25x25", "25x50", "40x40", "")
_THINGS = ("spear", "shield", "bow", "banner", "drum", "horn")
_LOOKS = 40
_ROUNDS = 31
FEW = "50 spares"
_START = "from tracker.cli.main import main; main(prog_name='lastcoat')"


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as place:
        desks = {
            FEW: _desk(Path(place) / "few.db", 50, _LOOKS),
            "5,000 spares, as many looks": _desk(Path(place) / "many.db", 5000, _LOOKS),
            "5,000 spares, hardly two alike": _desk(Path(place) / "all.db", 5000, 5000),
        }
        tell(_verb_seconds(desks), FEW)
        tell(interleaved({f"lastcoat role match, {name}": _command(desk) for name, desk in desks.items()}),
             f"lastcoat role match, {FEW}")  # fmt: skip


def _verb_seconds(desks: Mapping[str, Desk]) -> dict[str, float]:
    taken: dict[str, list[float]] = {name: [] for name in desks}
    for number in range(_ROUNDS + 1):
        for name, desk in desks.items():
            began = process_time()
            match_roles(desk)
            if number:
                taken[name].append(process_time() - began)
    return {name: median(seconds) for name, seconds in taken.items()}


def _command(desk: Desk) -> Callable[[int], Sequence[str]]:
    return lambda _: [sys.executable, "-c", _START, "role", "match", "--db", desk.path]


def _desk(path: Path, spares: int, looks: int) -> Desk:
    desk, random = Desk(str(path)), Random(f"looks {looks}")
    add_unit(desk, RosterRow("Spears", 20))
    for number in range(6):
        tags = tuple(random.sample(_THINGS, 2))
        add_roles(desk, "Spears", f"role {number}", RoleSaid("infantry", _BASES[number % 4], 28.0, tags))
    kinds = [_look(random, number) for number in range(looks)]
    import_spares(desk, [kinds[number % looks]._replace(name=f"model {number}") for number in range(spares)])
    return desk


def _look(random: Random, number: int) -> SpareRow:
    """A look that hardly any other has."""
    base, tags = random.choice(_BASES), tuple(random.sample(_THINGS, random.randint(0, 3)))
    return SpareRow(base=base, height_mm=24 + number % 400 / 10, kind="infantry", tags=tags)


if __name__ == "__main__":
    main()
