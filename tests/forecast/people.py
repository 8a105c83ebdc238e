"""A short vocabulary for the tests of this room: evenings, units, a pace that is known."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from tracker.domain.answers import PlannedLine
from tracker.domain.records import Army, Line, Model, Records, Session, Unit
from tracker.forecast.evenings import EveningMinutes

TUESDAY = date(2024, 1, 2)
ROUTE = ("cleaning", "assembly", "base texture", "priming", "base colours", "varnish")


class FixedPace:
    """Every model takes the same minutes at every step, with some spread when asked for."""

    def __init__(self, minutes: float = 10.0, spread: float = 0.0) -> None:
        self.minutes, self.spread, self.calls = minutes, spread, 0

    def draw(self, lines: Sequence[PlannedLine], rng: np.random.Generator, n: int) -> NDArray[np.float64]:
        self.calls += 1
        usual = np.array([line.models * self.minutes for line in lines])
        return np.asarray(usual * np.exp(self.spread * rng.standard_normal((n, len(lines)))))


def regular_weeks(weeks: int, first: date = TUESDAY) -> list[EveningMinutes]:
    """An hour every Tuesday and Thursday."""
    return [
        EveningMinutes(first + timedelta(days=7 * week + day), 60.0)
        for week in range(weeks)
        for day in (0, 2)
    ]


def small_army(models: Sequence[int], evenings: Sequence[EveningMinutes] = ()) -> Records:
    """Units "unit 1", "unit 2" … of so many models each, and evenings that moved nothing on."""
    units = tuple(
        Unit(i, 1, f"unit {i}", added_on=TUESDAY, order=i, route=ROUTE) for i in range(1, len(models) + 1)
    )
    everyone = [(unit, n) for unit, count in zip(units, models, strict=True) for n in range(1, count + 1)]
    return Records(
        armies=(Army(1, "host"),),
        units=units,
        models=tuple(Model(i, unit.id, n, added_on=TUESDAY) for i, (unit, n) in enumerate(everyone, start=1)),
        sessions=tuple(Session(i, e.date, minutes=e.minutes) for i, e in enumerate(evenings, start=1)),
    )


def worked(records: Records, unit_id: int, step: str, model_ids: Sequence[int], session_id: int) -> Records:
    """The records with one more finished line."""
    line = Line(len(records.lines) + 1, session_id, unit_id, step, len(model_ids), model_ids=tuple(model_ids))
    return records._replace(lines=(*records.lines, line))
