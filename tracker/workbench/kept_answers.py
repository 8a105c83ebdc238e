"""Answers kept with the log, so that asking again while nothing changed costs no simulation."""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from datetime import date
from typing import Any, TypeVar

from tracker.domain.answers import (
    BacklogAnswer,
    BacklogDay,
    Doubt,
    ForecastAnswer,
    Held,
    Outlook,
    Rival,
    TrackRecordAnswer,
)
from tracker.domain.answers_backlog import Change, Flow
from tracker.domain.answers_dates import DateRival, DatesRecordAnswer
from tracker.domain.problems import DataError
from tracker.store.fits import keep_fit, kept_fit
from tracker.workbench.desk import Desk

VERSION = "5"
"""Of the simulation and of this form; an answer kept by another version is worked out anew."""
Answer = TypeVar("Answer", ForecastAnswer, BacklogAnswer, TrackRecordAnswer, DatesRecordAnswer)


def asked_before(
    desk: Desk,
    name: str,
    question: tuple[object, ...],
    read: Callable[[Any], Answer],
    work: Callable[[], Answer],
) -> Answer:
    """The kept answer to this very question on this very log, else what `work` makes, kept in its place."""
    if not os.path.lexists(desk.path):
        return work()
    with desk.open() as store:
        state = f"{store.log_state()} {' '.join(map(str, question))}"
        blob = kept_fit(store, name, state, VERSION)
    if blob is not None:
        return read(json.loads(blob))
    answer = work()
    try:
        with desk.open() as store:
            keep_fit(store, name, state, VERSION, json.dumps(answer, default=date.isoformat).encode())
    except DataError:
        # A log that cannot be written can still be answered from; next time it is worked out anew.
        return answer
    return answer


def _day(text: str | None) -> date | None:
    return None if text is None else date.fromisoformat(text)


def _outlook(said: list[Any]) -> Outlook:
    army, unit, models, ready, minutes, dates, goal_date, chance = said
    return Outlook(
        army, unit, models, ready, tuple(minutes), tuple(map(_day, dates)), _day(goal_date), chance
    )


def read_forecast(said: list[Any]) -> ForecastAnswer:
    """A forecast from its kept form."""
    as_of, units, armies, doubts, seed, draws = said
    return ForecastAnswer(
        date.fromisoformat(as_of), tuple(map(_outlook, units)), tuple(map(_outlook, armies)),
        tuple(Doubt(*doubt) for doubt in doubts), seed, draws,
    )  # fmt: skip


def read_backlog(said: list[Any]) -> BacklogAnswer:
    """A backlog's course from its kept form."""
    as_of, days, end, reason, doubts, seed, minutes, points, flows, change = said
    return BacklogAnswer(
        date.fromisoformat(as_of),
        tuple(BacklogDay(date.fromisoformat(day), *rest) for day, *rest in days),
        None if end is None else tuple(map(_day, end)),
        reason, tuple(Doubt(*doubt) for doubt in doubts), seed, tuple(minutes), points,
        tuple(Flow(what, span, models, times, tuple(rate)) for what, span, models, times, rate in flows),
        tuple(Change(what, n, last, tuple(map(_day, dates))) for what, n, last, dates in change),
    )  # fmt: skip


def read_track_record(said: list[Any]) -> TrackRecordAnswer:
    """A track record from its kept form."""
    as_of, blocks, held, times, tenths, totals, totals_held, score, rivals, doubts, *luck = said
    return TrackRecordAnswer(
        date.fromisoformat(as_of), blocks, tuple(Held(*one) for one in held), times, tuple(tenths),
        totals, totals_held, score, tuple(Rival(*one) for one in rivals),
        tuple(Doubt(*doubt) for doubt in doubts), *((least, most) for least, most in luck),
    )  # fmt: skip


def read_dates_record(said: list[Any]) -> DatesRecordAnswer:
    """A track record of dates from its kept form."""
    answer = DatesRecordAnswer(*said)
    low, high = answer.later_luck
    return answer._replace(
        as_of=date.fromisoformat(said[0]), held=tuple(Held(*one) for one in answer.held),
        later_luck=(low, high), rivals=tuple(DateRival(*one) for one in answer.rivals),
        doubts=tuple(Doubt(*doubt) for doubt in answer.doubts),
    )  # fmt: skip
