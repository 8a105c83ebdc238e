"""Ten years of evenings are read in and answered."""

from __future__ import annotations

from datetime import date, datetime, time
from pathlib import Path

import pytest

from tests.benchmarks.ten_years import EVENINGS, LINES, MODELS, UNITS, ten_years
from tracker.workbench.answers import forecast
from tracker.workbench.desk import Desk
from tracker.workbench.evenings_in import import_evenings
from tracker.workbench.roster_in import import_roster


def test_ten_years_are_as_large_as_they_say_and_the_same_every_time() -> None:
    decade = ten_years()
    assert (len(decade.roster), len(decade.evenings)) == (UNITS, LINES) == (150, 8000)
    assert len({row.date for row in decade.evenings}) == EVENINGS == 2500
    assert {row.models for row in decade.roster} == {MODELS}
    assert decade == ten_years()
    assert decade.evenings != ten_years(seed=2).evenings


@pytest.mark.slow
def test_ten_years_are_read_in_and_get_their_dates(tmp_path: Path) -> None:
    decade = ten_years()
    desk = Desk(str(tmp_path / "log.db"), now=lambda: datetime.combine(decade.last_day, time(22, 0)))
    import_roster(desk, decade.roster)
    import_evenings(desk, decade.evenings)
    assert len(desk.records().lines) == LINES
    answer = forecast(desk)
    (army,) = answer.armies
    assert army.models == UNITS * MODELS
    done = sum(row.models for row in decade.evenings if row.step == "tufts")
    assert army.models_ready == done > 1000
    nearest = min(unit.ready[9] or date.max for unit in answer.units if unit.models_ready < unit.models)
    assert decade.last_day < nearest < date.max
