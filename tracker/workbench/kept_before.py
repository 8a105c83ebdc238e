"""Answers as they were kept last, to be shown at once while the fresh ones are worked out."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from typing import Any, NamedTuple

from tracker.domain.answers import BacklogAnswer, ForecastAnswer
from tracker.domain.answers_dates import DatesRecordAnswer
from tracker.store.fits import last_fit
from tracker.workbench.answers import DRAWS, SEED
from tracker.workbench.desk import Desk
from tracker.workbench.kept_answers import VERSION, Answer, read_backlog, read_dates_record, read_forecast


class Before(NamedTuple):
    """The answers that were kept last; None = none was, or it cannot be read any more."""

    forecast: ForecastAnswer | None = None
    forecast_is_fresh: bool = False
    """Whether it is of this very log and day."""
    backlog: BacklogAnswer | None = None
    dates_record: DatesRecordAnswer | None = None


def kept_before(desk: Desk) -> Before:
    """What was kept last, however old; nothing is worked out and nothing heavy is loaded."""
    if not os.path.lexists(desk.path):
        return Before()
    with desk.open() as store:
        now = f"{store.log_state()} {desk.evening_day()} {SEED} {DRAWS}"
        forecast = last_fit(store, "forecast", VERSION)
        backlog = last_fit(store, "backlog", VERSION)
        record = last_fit(store, "dates record", VERSION)
    return Before(
        _read(forecast, read_forecast),
        forecast is not None and forecast[0] == now,
        _read(backlog, read_backlog),
        _read(record, read_dates_record),
    )


def _read(kept: tuple[str, bytes] | None, read: Callable[[Any], Answer]) -> Answer | None:
    try:
        return None if kept is None else read(json.loads(kept[1]))
    except (ValueError, TypeError, LookupError):
        return None
