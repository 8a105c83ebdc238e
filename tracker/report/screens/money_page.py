"""Points and money as a page: the list of each army, what units cost, the last months."""

from __future__ import annotations

import re

from tracker.domain.answers_points import PointsAnswer
from tracker.domain.answers_sources import CostsAnswer, MonthsAnswer
from tracker.domain.problems import Problem
from tracker.report.little_history import may_name_a_day
from tracker.report.plain import clip, wrapped
from tracker.report.points_words import point_sentences
from tracker.report.screens.chrome import NOT_YET_READ
from tracker.report.screens.line import BLANK, PageLine, doubted, head, sentences
from tracker.report.source_words import MONTHS_HEAD, cost_notes, cost_table, month_table, not_counted_words

ASK_TARGET = "How many points is the list of {army} meant to have? none = no target"
ASK_TARGET_OF_ONE = "How many points is the list meant to have? none = no target"
_POINTS = re.compile(r"[0-9]{1,7}(?:\.[0-9]+)?")
_NOTHING = "Nothing is on the desk yet. A unit comes first: n on the army's page, which is a."
_NO_MONEY = "No money is noted yet. n notes what came in or went out, and what it cost."


def money_lines(
    points: PointsAnswer | None, costs: CostsAnswer | None, months: MonthsAnswer | None, width: int
) -> list[PageLine]:
    """The page; each part as soon as it is read."""
    if points is not None and not points.armies:
        return sentences(_NOTHING, width, "quiet") + _money(costs, months, width)
    out = [head("Points"), *_points(points, width)]
    return out + _money(costs, months, width) + _doubts(points, width)


def _points(answer: PointsAnswer | None, width: int) -> list[PageLine]:
    if answer is None:
        return [PageLine(NOT_YET_READ, "quiet")]
    out: list[PageLine] = []
    named = may_name_a_day(answer)
    for one in answer.armies:
        first, *more = point_sentences(one, answer.as_of, may_name=named, key="t")
        begin, *rest = wrapped(first, width, more="  ")
        out.append(PageLine(begin, "row", one.army))
        out += [PageLine(line) for line in rest]
        out += [PageLine(line) for words in more for line in wrapped(words, width, start="  ", more="  ")]
    return out


def _money(costs: CostsAnswer | None, months: MonthsAnswer | None, width: int) -> list[PageLine]:
    if costs is None or months is None:
        return []
    if not any(row.paid or row.got for row in (*costs.units, costs.spares, costs.desk) if row):
        return [BLANK, head("Money"), *sentences(_NO_MONEY, width, "quiet"), *_not_counted(costs, width)]
    out = [BLANK, head("What it cost"), *(PageLine(clip(line, width)) for line in cost_table(costs, width))]
    out += sentences(" ".join(cost_notes(costs)), width, "quiet") + _not_counted(costs, width)
    table = month_table(months, width)
    return [*out, BLANK, head(MONTHS_HEAD), *(PageLine(clip(line, width)) for line in table)]


def _not_counted(costs: CostsAnswer, width: int) -> list[PageLine]:
    return [
        line for words in not_counted_words(costs.not_counted) for line in sentences(words, width, "quiet")
    ]


def _doubts(points: PointsAnswer | None, width: int) -> list[PageLine]:
    return [BLANK, *doubted(points.doubts, width)] if points and points.doubts else []


def read_target(text: str) -> float | Problem | None:
    """Points as they were typed; None = the list has no target any more."""
    said = text.strip().casefold().removesuffix("points").removesuffix("point").strip()
    if said in ("none", "no", "-"):
        return None
    if not _POINTS.fullmatch(said):
        return Problem("the target", f'"{clip(text, 20)}" is no number of points', 'Write it like "1000"')
    return float(said)
