"""What a forecast from ten years costs: python -m tests.benchmarks.decade.

The floor is `python -c "import numpy"`. "Anew" is a forecast after a line was logged, so that the pace is
learned again; in "again" nothing changed since the forecast before. It never passes or fails.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

from tests.benchmarks.measuring import cpu_seconds, interleaved, tell
from tests.benchmarks.ten_years import ten_years
from tracker.workbench.desk import Desk
from tracker.workbench.evenings_in import import_evenings
from tracker.workbench.roster_in import import_roster

ROUNDS = 5
_START = "from tracker.cli.main import main; main(prog_name='lastcoat')"


def main() -> None:
    """Build ten years, measure and print."""
    with tempfile.TemporaryDirectory() as place:
        path = str(Path(place) / "log.db")
        program = [sys.executable, "-c", _START, "--db", path]
        began = time.process_time()
        decade = ten_years()
        import_roster(Desk(path), decade.roster)
        import_evenings(Desk(path), decade.evenings)
        sys.stdout.write(f"ten years read in {time.process_time() - began:.1f} s\n")
        asked = ["forecast", "--as-of", decade.last_day.isoformat()]

        def changed(number: int) -> list[str]:
            cpu_seconds([*program, "add", "--unit", f"New {number}", "--models", "1"])
            return [*program, "forecast"]

        seconds = interleaved(
            {
                "python -c 'import numpy'": lambda _: [sys.executable, "-c", "import numpy"],
                "lastcoat ready": lambda _: [*program, "ready"],
                "lastcoat forecast, anew": changed,
                "lastcoat forecast, again": lambda _: [*program, "forecast"],
                "lastcoat forecast of a day of the past": lambda _: [*program, *asked],
            },
            ROUNDS,
        )
        tell(seconds, "python -c 'import numpy'")


if __name__ == "__main__":
    main()
