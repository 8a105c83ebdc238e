"""A disk that is full: stored whole, or one clear line and nothing is lost."""

from __future__ import annotations

from tests.faults.full_disk import FEW
from tests.faults.telling import ran


def test_a_full_disk_loses_nothing_and_is_told_in_one_line() -> None:
    found = ran("full_disk")
    assert found.faults in (FEW, 2 * FEW)  # nobody may mount, or somebody may
    assert found.operations > 0
    assert found.is_clean
