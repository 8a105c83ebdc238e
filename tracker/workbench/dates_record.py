"""The verb that holds past date forecasts against what came; kept with the log, as it takes a while."""

from __future__ import annotations

from datetime import date

from tracker.domain.answers_dates import DatesRecordAnswer
from tracker.workbench.answers import SEED
from tracker.workbench.desk import Desk
from tracker.workbench.kept_answers import asked_before, read_dates_record


def dates_record(desk: Desk, as_of: date | None = None, *, seed: int = SEED) -> DatesRecordAnswer:
    """What the dates of past month ends came to, as known on the evening of `as_of` (default: today)."""

    def work() -> DatesRecordAnswer:
        from tracker.forecast.dates_record import dates_record as ask

        return ask(desk.records(), day, seed)

    day = as_of or desk.evening_day()
    return asked_before(desk, "dates record", (day, seed), read_dates_record, work)
