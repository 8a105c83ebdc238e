"""The verb that asks what would be if: two plans under the same luck, and nothing of it is stored."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from tracker.domain.answers_whatif import WhatIfAnswer
from tracker.domain.problems import DataError, Problem
from tracker.domain.wishes import Wish
from tracker.sheets.wishes import read_wishes
from tracker.workbench.answers import DRAWS, SEED, learn_pace
from tracker.workbench.desk import Desk


def whatif(
    desk: Desk, wishes: Sequence[Wish], as_of: date | None = None, *, seed: int = SEED, draws: int = DRAWS
) -> WhatIfAnswer:
    """What these wishes would do to every unit's dates; `DataError` for a wish that cannot come true."""
    from tracker.forecast.whatif import what_if
    from tracker.pace.doubts import MOVES_DATES, pace_doubts

    day = as_of or desk.evening_day()
    known = desk.records().as_of(day)
    pace = learn_pace(desk, known)
    answer = what_if(known, pace, day, wishes, seed=seed, draws=draws)
    about_minutes = tuple(doubt for doubt in pace_doubts(known, pace) if doubt.code in MOVES_DATES)
    return answer._replace(doubts=about_minutes + answer.doubts)


def whatif_said(desk: Desk, text: str) -> WhatIfAnswer:
    """As `whatif`, from a sentence: "one more evening a week; without Riders"."""
    return whatif(desk, understood(desk, text))


def understood(desk: Desk, text: str) -> tuple[Wish, ...]:
    """The wishes that a sentence means; `DataError` for what is not understood."""
    known = desk.records()
    armies = {army.id: army.name for army in known.armies}
    there = {model.unit_id for model in known.models if model.left_on is None}
    units = [(unit.name, armies[unit.army_id]) for unit in known.units if unit.id in there]
    wishes = read_wishes(text, units, desk.evening_day())
    if isinstance(wishes, Problem):
        raise DataError(wishes)
    return wishes
