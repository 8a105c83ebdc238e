"""What a large forecast costs: python -m tests.benchmarks.forecast.

The floor is `python -c "import numpy"`. A forecast reads a kept pace of 8,000 lines and makes 4,000 paths
of two years over 100 units with all their steps, in a process of its own from the first import on; other
sizes tell how the cost grows in paths and in units. Never passes or fails.
"""

from __future__ import annotations

import os
import resource
import sys
import tempfile
from datetime import timedelta
from functools import partial
from pathlib import Path

from tests.benchmarks.measuring import interleaved, tell

SIZES = ((4000, 100), (1000, 100), (2000, 100), (8000, 100), (4000, 25), (4000, 50), (4000, 200))
"""(paths, units), the one that is promised first."""
ROUNDS = 5
EVENING_WEEKS = 104
LOG_LINES = 8_000


def keep_pace(path: Path) -> None:
    """Learn a pace and keep it as the program does."""
    from tests.benchmarks.pace import blocks
    from tracker.pace.fit import fit
    from tracker.pace.kept import to_bytes

    path.write_bytes(to_bytes(fit(blocks(LOG_LINES))))


def one(path: Path, paths: int, units: int) -> None:
    """Forecast once in this process and print its peak memory."""
    from tests.forecast.people import TUESDAY, regular_weeks, small_army
    from tracker.domain.routes import usual_route
    from tracker.forecast.outlook import forecast
    from tracker.pace.kept import from_bytes

    pace = from_bytes(path.read_bytes())
    assert pace is not None
    records = small_army([10] * units, regular_weeks(EVENING_WEEKS))
    route = usual_route("infantry", "table-top")
    records = records._replace(units=tuple(unit._replace(route=route) for unit in records.units))
    forecast(records, pace, TUESDAY + timedelta(weeks=EVENING_WEEKS), draws=paths)
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    sys.stdout.write(f"{paths:>6} paths x {units:>3} units of {len(route)} steps: at most {most:.0f} MB\n")


def _same(line: list[str], _: int) -> list[str]:
    """The same command in every round."""
    return line


def main(words: list[str]) -> None:
    """Print the ratios for all sizes, then the memory of each."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    if words:
        one(Path(words[0]), int(words[1]), int(words[2]))
        return
    with tempfile.TemporaryDirectory() as folder:
        kept = Path(folder) / "pace"
        keep_pace(kept)
        program = [sys.executable, "-m", "tests.benchmarks.forecast", str(kept)]
        floor = "python -c 'import numpy'"
        lines = {floor: [sys.executable, "-c", "import numpy"]}
        for paths, units in SIZES:
            lines[f"{paths} paths x {units} units"] = [*program, str(paths), str(units)]
        tell(interleaved({name: partial(_same, line) for name, line in lines.items()}, ROUNDS), floor)
        sys.stdout.flush()
        for paths, units in SIZES:
            os.spawnv(os.P_WAIT, sys.executable, [*program, str(paths), str(units)])  # noqa: S606 - this very program


if __name__ == "__main__":
    main(sys.argv[1:])
