"""Two and four writers at once: nothing is lost, and nobody hears that the log is locked."""

from __future__ import annotations

from tests.faults.telling import ran
from tests.faults.writers import FEW


def test_writers_at_once_lose_nothing_and_are_not_refused() -> None:
    found = ran("writers")
    assert found.operations == FEW - FEW % 4
    assert found.is_clean
