"""Two more text charts: a fan of the coming months, and the evenings of the past weeks as a strip.

Pure functions from numbers to lines, for the command line and the terminal UI; legible without colour.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple

from tracker.domain.answers import ForecastAnswer, Outlook
from tracker.report.charts import time_axis
from tracker.report.little_history import may_name_a_day
from tracker.report.plain import at_level, date_words, month_words, pad, wrapped

MONTHS_MOST = 18
FAN_HEAD = "Models not yet table-ready, in the coming months"
FAN_NOTE = "Band: from all units quick to all units slow, each 8 times in 10; together it is rarer."
STRIP_HEAD = "Evenings of the past weeks"
_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_FIRST_DAYS = {"monday": 0, "saturday": 5, "sunday": 6}
_STEPS_MINUTES = (30.0, 60.0, 120.0)
"""A day's sign grows at these minutes."""
STRIP_LEGEND = "▂ up to 30 min   ▄ to 1 h   ▆ to 2 h   █ more   o not said   · no evening"
STRIP_LEGEND_PLAIN = "- up to 30 min   = to 1 h   + to 2 h   # more   o not said   . no evening"


class FanPoint(NamedTuple):
    """What is left from a day on: in a quick, a middling and a slow future."""

    day: date
    quick: float
    middle: float
    slow: float


def models_left(outlooks: Sequence[Outlook], today: date) -> list[FanPoint]:
    """Models not yet table-ready from today on, by the 10, 50 and 90 % dates of every unit.

    A unit counts until its own date, so the edges hold unit by unit: that all are quick, or all slow,
    happens less than 1 time in 10. Units that are ready already do not count.
    """
    open_units = [one for one in outlooks if one.unit and one.models_ready < one.models]
    if not open_units:
        return []
    ends = {
        level: sorted(
            (day, one.models - one.models_ready)
            for one in open_units
            if (day := at_level(one.ready, level)) is not None
        )
        for level in (10, 50, 90)
    }
    whole = sum(one.models - one.models_ready for one in open_units)
    days = sorted({today, *(day for dated in ends.values() for day, _ in dated if day >= today)})
    return [FanPoint(day, *(whole - _gone(ends[level], day) for level in (10, 50, 90))) for day in days]


def _gone(dated: Sequence[tuple[date, int]], day: date) -> int:
    return sum(models for _, models in dated[: bisect_right(dated, (day, 10**9))])


def fan(points: Sequence[FanPoint], width: int = 80, height: int = 9, *, plain: bool = False) -> list[str]:
    """A quantity that falls, as a band from quick to slow with a line in the middle; empty without points.

    A point holds until the next one. The left margin names the highest value and zero.
    """
    if not points:
        return []
    first, last = points[0].day, last_day(points)
    top = max(point.slow for point in points)
    margin = max(len(f"{top:,.0f}"), 1) + 1
    room = max(width - margin - 1, 10)
    days = [first + timedelta(days=round((last - first).days * i / (room - 1))) for i in range(room)]
    columns = [_column(at_day(points, day), top, height, plain) for day in days]
    rows = []
    for level in range(height, -1, -1):
        name = f"{top:,.0f}" if level == height else "0" if level == 0 else ""
        rows.append(
            f"{pad(name, margin - 1, right=True)} {''.join(column[level] for column in columns)}".rstrip()
        )

    scale = (room - 1) / max((last - first).days, 1)
    return [*rows, *time_axis(first, last, scale, room, margin, start="today")]


def last_day(points: Sequence[FanPoint]) -> date:
    """Far enough for the whole fan, near enough for the coming months to be read."""
    first = points[0].day
    return min(
        max(points[-1].day, first + timedelta(days=28)), first + timedelta(days=round(30.44 * MONTHS_MOST))
    )


def at_day(points: Sequence[FanPoint], day: date) -> FanPoint:
    """What is left on a day: a point holds until the next one."""
    return points[max(bisect_right([point.day for point in points], day) - 1, 0)]


def _column(point: FanPoint, top: float, height: int, plain: bool) -> list[str]:
    """Signs from the bottom up; each level is a share of the highest value."""
    band, middle = (":", "o") if plain else ("░", "●")
    low, centre, high = (round(height * value / top) for value in (point.quick, point.middle, point.slow))
    out = [band if low <= level <= high else " " for level in range(height + 1)]
    out[centre] = middle
    return out


def calendar_strip(
    days: Sequence[tuple[date, float | None]],
    today: date,
    width: int = 80,
    *,
    plain: bool = False,
    week_start: str = "monday",
) -> list[str]:
    """The evenings of the past weeks: a row for every weekday, two columns a week, the newest right."""
    weeks = max(min((width - 5) // 2, 53), 1)
    first = _FIRST_DAYS.get(week_start, 0)
    start = today - timedelta(days=(today.weekday() - first) % 7) - timedelta(weeks=weeks - 1)
    minutes = dict(days)
    rows = [_months(start, weeks)]
    for weekday, name in enumerate(_DAYS[first:] + _DAYS[:first]):
        signs = []
        for week in range(weeks):
            day = start + timedelta(days=7 * week + weekday)
            signs.append(" " if day > today else _sign(day in minutes, minutes.get(day), plain))
        rows.append(f"{name}  {' '.join(signs)}".rstrip())
    return rows


def fan_text(answer: ForecastAnswer, width: int = 80, *, plain: bool = False) -> str:
    """The fan with its heading, its numbers month by month in words, and what its band means."""
    points = models_left(answer.units, answer.as_of)
    if not points:
        return "Nothing left to do: everything on the desk is table-ready."
    if not may_name_a_day(answer):
        return "Too few evenings are known for a picture of the coming months."
    out = [FAN_HEAD, *fan(points, width, plain=plain)]
    for day in month_ends(points):
        at = at_day(points, day)
        out.append(f"By {date_words(day)}: {at.middle:,.0f} left, {at.quick:,.0f} to {at.slow:,.0f}.")
    return "\n".join([*out, *wrapped(FAN_NOTE, width)])


def month_ends(points: Sequence[FanPoint]) -> list[date]:
    """The last days of the months that the fan spans."""
    day, last = points[0].day, last_day(points)
    out = []
    while (day := (day.replace(day=1) + timedelta(days=32)).replace(day=1)) <= last:
        out.append(day - timedelta(days=1))
    return out or [last]


def evenings_text(
    days: Sequence[tuple[date, float | None]], today: date, width: int = 80, *, plain: bool = False
) -> str:
    """The strip with its heading and legend."""
    if not days:
        return "No evening yet."
    legend = STRIP_LEGEND_PLAIN if plain else STRIP_LEGEND
    return "\n".join([STRIP_HEAD, *calendar_strip(days, today, width, plain=plain), *wrapped(legend, width)])


def _sign(was_there: bool, minutes: float | None, plain: bool) -> str:
    if not was_there:
        return "." if plain else "·"
    if minutes is None:
        return "o"
    return ("-=+#" if plain else "▂▄▆█")[bisect_right(_STEPS_MINUTES, minutes - 0.5)]


def _months(start: date, weeks: int) -> str:
    row = [" "] * (5 + 2 * weeks + 8)
    free = 5
    for week in range(weeks):
        day = start + timedelta(days=7 * week)
        place = 5 + 2 * week
        words = month_words(day).partition(" ")[0]
        if (day.day <= 7 or week == 0) and place >= free and place + len(words) <= 5 + 2 * weeks:
            row[place : place + len(words)] = words
            free = place + len(words) + 1
    return "".join(row).rstrip()
