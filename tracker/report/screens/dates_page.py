"""The dates in words and pictures: a range to every unit, the fan of the coming months."""

from __future__ import annotations

from datetime import date

from tracker.domain.answers import ForecastAnswer, Outlook
from tracker.domain.answers_dates import DatesRecordAnswer
from tracker.report.charts import range_bars
from tracker.report.dates_record_words import dates_record_sentence
from tracker.report.fan import FAN_HEAD, FAN_NOTE, fan, models_left
from tracker.report.little_history import TOO_EARLY_NOTE, ahead_words, may_name_a_day
from tracker.report.plain import at_level, chance_words, clip, date_words, left_words, pad
from tracker.report.screens.line import BLANK, PageLine, charted, doubted, head, sentences
from tracker.report.screens.tonight_page import line_key, open_outlooks
from tracker.report.words import date_ranges

STILL_WORKING = "Working out the dates …"
WAS_KEPT = "These are the dates as they were last; fresh ones are being worked out."
_NOTE = "From .. to holds 8 times in 10; as likely before as after the middle."
_NAME_MOST = 26


def dates_lines(
    answer: ForecastAnswer | None,
    width: int,
    *,
    fresh: bool = True,
    plain: bool = False,
    record: DatesRecordAnswer | None = None,
) -> list[PageLine]:
    """When every unit is table-ready, and in a sentence what past dates came to, where that is known."""
    if answer is None:
        return [PageLine(STILL_WORKING, "quiet")]
    said = f"Table-ready, as of {date_words(answer.as_of)}" if fresh else WAS_KEPT
    out = [PageLine(clip(said, width), "text" if fresh else "quiet"), BLANK]
    units = open_outlooks(answer)
    if not units:
        out += sentences("Nothing left to do: everything on the desk is table-ready.", width, "good")
        return [*out, *doubted(answer.doubts, width)]
    names = min(max(len(clip(unit.unit, _NAME_MOST)) for unit in units), _NAME_MOST)
    has_middle = may_name_a_day(answer)
    dates = f"{'From':>11}  {'Middle':>11}  {'To':>11}" if has_middle else "Table-ready"
    out.append(PageLine(clip(f"{pad('Unit', names)}  {'Left':>9}  {dates}", width), "quiet"))
    for unit in units:
        text = f"{pad(clip(unit.unit, names), names)}  {left_words(unit):>9}  "
        text += _when(unit, answer.as_of, has_middle=has_middle)
        if unit.chance_by_goal is not None and unit.goal_date is not None:
            goal = f"goal {date_words(unit.goal_date)}: {chance_words(unit.chance_by_goal)}"
            text += f"  {goal}" if len(text) + len(goal) + 2 <= width else "  ◇"
        out.append(PageLine(clip(text, width), "row", line_key(unit.army, unit.unit)))
    bars = date_ranges(units, has_middle=has_middle)
    out += [BLANK, *charted(range_bars(bars, answer.as_of, width, plain=plain)), BLANK]
    out += [line for unit in units for line in _goal(unit.unit, unit.goal_date, unit.chance_by_goal, width)]
    out += sentences(_NOTE if has_middle else TOO_EARLY_NOTE, width, "quiet")
    held = dates_record_sentence(record)
    out += sentences(held, width, "quiet") if held else []
    if has_middle:
        out += [BLANK, head(FAN_HEAD)]
        out += charted(fan(models_left(units, answer.as_of), width, plain=plain))
        out += sentences(FAN_NOTE, width, "quiet")
    return [*out, BLANK, *doubted(answer.doubts, width)]


def _when(unit: Outlook, today: date, *, has_middle: bool) -> str:
    low, middle, high = (at_level(unit.ready, level) for level in (10, 50, 90))
    if not has_middle:
        return ahead_words(low, high, today)
    return "  ".join(f"{date_words(day):>11}" for day in (low, middle, high))


def _goal(unit: str, day: date | None, chance: float | None, width: int) -> list[PageLine]:
    if day is None or chance is None:
        return []
    return sentences(f"Goal ◇ {clip(unit, 40)} by {date_words(day)}: {chance_words(chance)}.", width)


def bought_words(before: ForecastAnswer | None, after: ForecastAnswer | None, army: str, unit: str) -> str:
    """What an evening bought: by how much the middle of a unit's dates moved; empty when it did not."""
    then, now = (_middle(one, army, unit) for one in (before, after))
    if then is None or now is None or then == now:
        return ""
    days = (then - now).days
    moved = f"{abs(days)} day{'s' if abs(days) != 1 else ''} {'earlier' if days > 0 else 'later'}"
    return f"{clip(unit, 30)}: table-ready {date_words(now)} in the middle, {moved}."


def _middle(answer: ForecastAnswer | None, army: str, unit: str) -> date | None:
    for one in answer.units if answer else ():
        if (one.army, one.unit) == (army, unit):
            return at_level(one.ready, 50)
    return None
