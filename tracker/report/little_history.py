"""Whether enough evenings are known for a single date to be named."""

from __future__ import annotations

from tracker.domain.answers import ForecastAnswer

_TOO_LITTLE = frozenset({"rhythm", "no-evenings"})
"""Doubts that say so: less than two weeks of history."""


def may_name_a_day(answer: ForecastAnswer) -> bool:
    """False below two weeks of history: then a range is told, and no middle."""
    return not _TOO_LITTLE & {doubt.code for doubt in answer.doubts}
