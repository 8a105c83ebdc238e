"""The verbs that answer: pace, estimate, forecast, backlog, what is ready tonight.

Each takes everything known as of a day, learns the pace from it and asks the room that knows. Seeds
default to 1, so that asking twice gives the same answer. What costs time to import waits until a
verb needs it: what is ready tonight comes without.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from tracker.domain.answers import (
    BacklogAnswer,
    EstimateAnswer,
    ForecastAnswer,
    PaceAnswer,
    PlannedLine,
    TrackRecordAnswer,
    WhyAnswer,
)
from tracker.domain.problems import DataError, Problem
from tracker.domain.ready import ReadyAnswer, ready_lines
from tracker.domain.records import Records
from tracker.workbench.desk import Desk

if TYPE_CHECKING:
    from tracker.pace.pace import Pace

SEED = 1
DRAWS = 2000


def learn_pace(desk: Desk, known: Records) -> Pace:
    """The pace that `known` teaches: the kept one while nothing changed, else learned and kept.

    Only the pace of everything is kept; one of the past is learned each time it is asked for.
    """
    from tracker.workbench.learning import learned

    return learned(desk, known)


def tonight_list(desk: Desk) -> ReadyAnswer:
    """What is ready to work on at this moment, and what is drying."""
    return ready_lines(desk.records(), desk.now())


def forecast(
    desk: Desk, as_of: date | None = None, *, seed: int = SEED, draws: int = DRAWS
) -> ForecastAnswer:
    """When every unit and army is table-ready, as known on the evening of `as_of` (default: today)."""
    from tracker.workbench.kept_answers import asked_before, read_forecast

    def work() -> ForecastAnswer:
        known = desk.records().as_of(day)
        return forecast_of(known, learn_pace(desk, known), day, seed, draws)

    day = as_of or desk.evening_day()
    return asked_before(desk, "forecast", (day, seed, draws), read_forecast, work)


def forecast_of(known: Records, pace: Pace, day: date, seed: int, draws: int) -> ForecastAnswer:
    """The forecast with what is to be doubted about the minutes that it rests on."""
    from tracker.forecast.outlook import forecast as ask
    from tracker.pace.doubts import MOVES_DATES, pace_doubts

    answer = ask(known, pace, day, seed, draws)
    if not any(sum(outlook.minutes_left) for outlook in answer.units):
        return answer
    about_minutes = tuple(doubt for doubt in pace_doubts(known, pace) if doubt.code in MOVES_DATES)
    return answer._replace(doubts=about_minutes + answer.doubts)


def backlog(desk: Desk, as_of: date | None = None, *, seed: int = SEED, draws: int = DRAWS) -> BacklogAnswer:
    """The backlog's course and its projected end, as known on the evening of `as_of`."""
    from tracker.workbench.kept_answers import asked_before, read_backlog

    def work() -> BacklogAnswer:
        from tracker.forecast.backlog import backlog as ask

        known = desk.records().as_of(day)
        return ask(known, learn_pace(desk, known), day, seed, draws)

    day = as_of or desk.evening_day()
    return asked_before(desk, "backlog", (day, seed, draws), read_backlog, work)


def pace_answer(desk: Desk, as_of: date | None = None, *, seed: int = SEED) -> PaceAnswer:
    """The learned minutes per model of every step that is on a route or in the log."""
    from tracker.pace.answer import pace_answer as ask

    day, known = _known(desk, as_of)
    return ask(known, learn_pace(desk, known), day, seed)


def why(
    desk: Desk,
    unit: str,
    step: str,
    as_of: date | None = None,
    *,
    army: str | None = None,
    seed: int = SEED,
) -> WhyAnswer:
    """Why a step takes a unit as long as it does; `DataError` when either is not known."""
    from tracker.pace.why import why as ask
    from tracker.workbench.answers_why import asked_line

    day, known = _known(desk, as_of)
    pace = learn_pace(desk, known)
    return ask(asked_line(known, unit, step, army, pace), pace, day, seed)


def track_record(desk: Desk, as_of: date | None = None, *, seed: int = SEED) -> TrackRecordAnswer:
    """What past estimates came to, each made with only what was known then."""
    from tracker.workbench.kept_answers import asked_before, read_track_record

    def work() -> TrackRecordAnswer:
        from tracker.pace.blocks import blocks_of
        from tracker.pace.track_record import track_record as ask

        return ask(blocks_of(desk.records().as_of(day)), day, seed)

    day = as_of or desk.evening_day()
    return asked_before(desk, "track record", (day, seed), read_track_record, work)


def estimate(
    desk: Desk,
    lines: Sequence[PlannedLine],
    as_of: date | None = None,
    *,
    said: Sequence[str] = (),
    seed: int = SEED,
) -> EstimateAnswer:
    """Minutes of planned lines and of all of them together.

    Units that are known lend their kind, material, standard and practice, except in what was `said`
    (columns of the planned sheet); others are taken as they are described.
    """
    from tracker.pace.answer import estimate_answer
    from tracker.workbench.answers_estimate import as_known

    day, known = _known(desk, as_of)
    return estimate_answer(known, as_known(known, lines, said), learn_pace(desk, known), day, seed)


def read_planned_sheet(path: str) -> tuple[tuple[PlannedLine, ...], tuple[str, ...]]:
    """The lines of a planned sheet and the columns it has; `DataError` with every problem of it."""
    from tracker.sheets.files import read_text
    from tracker.sheets.planned import read_planned

    text = read_text(path)
    if isinstance(text, Problem):
        raise DataError(text)
    read = read_planned(text)
    if read.problems:
        raise DataError(read.problems)
    return read.rows, read.columns


def _known(desk: Desk, as_of: date | None) -> tuple[date, Records]:
    day = as_of or desk.evening_day()
    return day, desk.records().as_of(day)
