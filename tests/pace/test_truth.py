"""The demo's truth: ranges of people whose true minutes are known hold as often as they say."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from demo_db.builder import build
from demo_db.records import to_records
from tracker.domain.work import work_left
from tracker.forecast.outlook import to_planned
from tracker.pace import learn


def _levels_of_truth(seeds: range) -> list[float]:
    """At which level of its range each unfinished unit's true total fell, over all seeds."""
    levels = []
    for seed in seeds:
        demo = build(seed)
        records = to_records(demo)
        pace = learn(records)
        for unit in work_left(records):
            lines = to_planned(unit, records)
            true_minutes = demo.truth[unit.unit.name].realised_minutes
            if lines and true_minutes > 0:
                totals = pace.draw(lines, np.random.default_rng(seed), 1000).sum(axis=1)
                levels.append(float(np.mean(totals < true_minutes)))
    return levels


@pytest.mark.slow
def test_unit_totals_hold_as_often_as_they_say(record_property: Callable[[str, object], None]) -> None:
    """Over 200 histories the 80 % ranges of unit totals hold between 75 and 85 %."""
    levels = np.array(_levels_of_truth(range(200)))
    assert levels.size > 400
    held = float(np.mean((levels >= 0.1) & (levels <= 0.9)))
    record_property("80 % ranges held", f"{held:.1%} of {levels.size}")
    assert 0.75 <= held <= 0.85
    assert 0.40 <= np.mean((levels >= 0.25) & (levels <= 0.75)) <= 0.60
