"""The dates in the background: the kept ones at once, fresh ones as soon as they are worked out.

One forecast is worked out at a time. If the log changes meanwhile, one more follows it.
"""

from __future__ import annotations

from typing import Literal

from textual.message import Message

from tracker.domain.answers import ForecastAnswer
from tracker.domain.answers_dates import DatesRecordAnswer
from tracker.domain.problems import LastcoatError, Problem
from tracker.workbench.answers import forecast
from tracker.workbench.desk import Desk
from tracker.workbench.kept_before import Before, kept_before


class Fresh(Message):
    """An answer arrived: the kept one, or a fresh one."""

    def __init__(self, before: Before) -> None:
        super().__init__()
        self.before = before


class Failed(Message):
    """The forecast could not be worked out."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__()
        self.problems = problems


class Answers:
    """What is known of the dates, and whether it is of this very log."""

    def __init__(self) -> None:
        self.forecast: ForecastAnswer | None = None
        self.record: DatesRecordAnswer | None = None
        """What past dates came to, where that was kept; it is not worked out here."""
        self.fresh = False
        self.working: Literal["no", "yes", "again"] = "no"

    def wanted(self) -> bool:
        """Whether a worker should begin now; if one is at work, another round will follow."""
        self.fresh = False
        if self.working == "no":
            self.working = "yes"
            return True
        self.working = "again"
        return False

    def take(self, before: Before) -> bool:
        """Take what arrived; whether the worker should go round once more."""
        self.forecast = before.forecast or self.forecast
        self.record = before.dates_record or self.record
        again, self.working = self.working == "again", "no"
        self.fresh = before.forecast_is_fresh and not again
        return again


def work_out(desk: Desk) -> Message:
    """The forecast of this very log, in a worker."""
    try:
        return Fresh(Before(forecast(desk), True))
    except LastcoatError as refusal:
        return Failed(refusal.problems)


def read_kept(desk: Desk) -> Message:
    """The forecast that was kept last."""
    try:
        return Fresh(kept_before(desk))
    except LastcoatError as refusal:
        return Failed(refusal.problems)
