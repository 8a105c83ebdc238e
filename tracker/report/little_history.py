"""Whether enough evenings are known for a single date to be named, and the words when they are not."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Protocol

from tracker.domain.answers import Doubt
from tracker.report.plain import FAR_OFF, count_words

TOO_EARLY_NOTE = "Each range holds 8 times in 10; no single date can be told from so few evenings."
_TOO_LITTLE = frozenset({"rhythm", "no-evenings"})
"""Doubts that say so: less than two weeks of history."""
_DAYS_A_MONTH = 30.44
_DAYS_MOST, _WEEKS_MOST = 13, 9
"""What is further off is told in weeks, then in months."""


class Doubtful(Protocol):
    """An answer with the reasons not to lean on it."""

    @property
    def doubts(self) -> Sequence[Doubt]:
        """The reasons."""


def may_name_a_day(answer: Doubtful) -> bool:
    """False below two weeks of history: then a range is told, and no middle."""
    return not _TOO_LITTLE & {doubt.code for doubt in answer.doubts}


def ahead_words(low: date | None, high: date | None, today: date) -> str:
    """A range of dates as far as it is known: "between 3 weeks and 7 months"; none = beyond the horizon."""
    if low is None:
        return FAR_OFF
    first = _span_words((low - today).days)
    if high is None:
        return f"in {first} or later" if first else "hard to say"
    last = _span_words((high - today).days)
    if not last:
        return "today"
    if not first:
        return f"within {last}"
    return f"in about {first}" if first == last else f"between {first} and {last}"


def _span_words(days: int) -> str:
    """Days, weeks or months; empty for today."""
    if days <= 0:
        return ""
    if days <= _DAYS_MOST:
        return count_words(days, "day")
    if (weeks := round(days / 7)) <= _WEEKS_MOST:
        return count_words(weeks, "week")
    return count_words(round(days / _DAYS_A_MONTH), "month")
