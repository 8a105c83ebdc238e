"""Kill -9 while things are stored: what was acknowledged is there, and nothing is half there."""

from __future__ import annotations

from tests.faults.kills import FEW
from tests.faults.telling import ran


def test_kills_at_random_moments_lose_nothing() -> None:
    found = ran("kills")
    assert found.faults == FEW
    assert found.operations > FEW
    assert found.is_clean
