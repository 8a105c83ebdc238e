"""Two and four writers at once: nothing is lost, and nobody hears that the log is locked."""

from __future__ import annotations

from tests.faults.telling import ran
from tests.faults.writers import FEW


def test_writers_at_once_lose_nothing_and_are_not_refused() -> None:
    found = ran("writers")
    # Half of them by two writers, half by four, as many by each.
    half = FEW // 2
    assert found.operations == half - half % 2 + half - half % 4
    assert found.is_clean
