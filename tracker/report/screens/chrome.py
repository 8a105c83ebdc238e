"""The frame of every screen in words: the lamp's line, the page's name and day, a problem, no room."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from typing import Protocol

from tracker.domain.problems import Problem
from tracker.report.plain import clip, minutes_words
from tracker.report.screens.line import PageLine

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
NOT_YET_READ = "Reading the log …"


class LampLike(Protocol):
    """How the lamp stands, as the workbench tells it."""

    @property
    def state(self) -> str:
        """Either "off", "on" or "paused"."""

    @property
    def began(self) -> datetime | None:
        """When it was lit."""

    @property
    def now(self) -> datetime:
        """When this was asked."""

    @property
    def minutes(self) -> float:
        """Minutes so far."""

    @property
    def forgotten(self) -> bool:
        """It was probably left on."""

    @property
    def ahead(self) -> bool:
        """It knows of a time that is still to come."""


def short_day(day: date, today: date | None = None) -> str:
    """As in "Tue 3 Mar", with the year when it is not this one."""
    words = f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}"
    return words if today is None or day.year == today.year else f"{words} {day.year}"


def clock_words(moment: datetime, now: datetime) -> str:
    """As in "21:30" or "21:30 on Tue 3 Mar"."""
    hour = f"{moment:%H:%M}"
    return hour if moment.date() == now.date() else f"{hour} on {short_day(moment.date(), now.date())}"


def lamp_line(lamp: LampLike, now: datetime) -> str:
    """The lamp in a few words, told by its sign as well: filled, half, empty."""
    if lamp.state == "off" or lamp.began is None:
        return "○ The lamp is off"
    since = clock_words(lamp.began, now)
    if lamp.ahead:
        return f"● Lit {since}, still to come: is the clock right?"
    if lamp.forgotten:
        return f"● Lit since {since}: when did you stop?"
    minutes = lamp.minutes
    if lamp.state == "on":
        aware = now if now.tzinfo else now.astimezone()
        minutes += max((aware - lamp.now).total_seconds() / 60.0, 0.0)
    if lamp.state == "paused":
        return f"◐ The lamp rests, {minutes_words(minutes)} so far"
    return f"● The lamp is on since {since}, {minutes_words(minutes)}"


def page_line(page: str, day: date) -> str:
    """The page and the evening it is."""
    return f"{page} · {short_day(day)} {day.year}"


def problem_line(problems: Iterable[Problem]) -> str:
    """What is wrong and how to mend it; where it is said goes without saying on a screen."""
    return " ".join(f"{_capital(problem.what)}. {problem.mend}." for problem in problems).replace("?.", "?")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def too_small(width: int, height: int) -> list[PageLine]:
    """A clear word where a page has no room."""
    return [PageLine(clip(f"Too small: {width}x{height}.", max(width - 3, 4))),
            PageLine(clip("Needs 60x16, best 80x24.", max(width - 3, 4))),
            PageLine(clip("Nothing is lost.", max(width - 3, 4)))]  # fmt: skip
