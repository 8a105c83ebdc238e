"""Migrations broken off: the old file whole or the new one whole, and one clear line or Ctrl-C."""

from __future__ import annotations

from tests.faults.telling import ran


def test_a_migration_that_is_broken_off_leaves_the_old_log_or_the_new_one() -> None:
    found = ran("moments")
    assert found.faults > 150
    assert found.is_clean
