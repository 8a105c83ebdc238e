"""How long a large forecast takes, as a multiple of `python -c "import numpy"` in the same run.

Run it by hand: `python -m tests.benchmarks.forecast`. It measures processor time, prints figures and
never passes or fails. The work: 4,000 paths, 100 units of 12 steps, two years of days, from a kept pace.
"""

from __future__ import annotations

import resource
import statistics
import subprocess
import sys

_FORECAST = """
from datetime import timedelta
from tests.forecast.people import TUESDAY, FixedPace, regular_weeks, small_army
from tracker.domain.routes import usual_route
from tracker.forecast.outlook import forecast
records = small_army([10] * {units}, regular_weeks(104))
route = usual_route("infantry", "table-top")
records = records._replace(units=tuple(unit._replace(route=route) for unit in records.units))
forecast(records, FixedPace(0.4, 0.4), TUESDAY + timedelta(weeks=104), draws={paths})
"""


def cpu_seconds(code: str) -> float:
    """Processor time (user + system) of a fresh interpreter that runs the code, median of five."""
    runs = []
    for _ in range(5):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run([sys.executable, "-c", code], check=True, env={"OPENBLAS_NUM_THREADS": "1"})
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        runs.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return statistics.median(runs)


def main() -> None:
    """Print the ratios for a few sizes, and the most memory any of them took."""
    base = cpu_seconds("import numpy")
    print(f"import numpy: {base:.3f} s")  # noqa: T201
    for paths, units in ((4000, 100), (2000, 100), (4000, 50), (2000, 20)):
        ratio = cpu_seconds(_FORECAST.format(paths=paths, units=units)) / base
        print(f"{paths} paths x {units} units: {ratio:.1f} x import numpy")  # noqa: T201
    memory_mb = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    print(f"most memory: {memory_mb:.0f} MB")  # noqa: T201


if __name__ == "__main__":
    main()
