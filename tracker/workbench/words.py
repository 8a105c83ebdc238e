"""A change in words, as the log keeps it and as undo says it again. Nothing is rounded here."""

from __future__ import annotations

from datetime import date

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_words(day: date, today: date | None = None) -> str:
    """As in "Tue 3 Mar", with the year when it is not this one; the same in every locale."""
    words = f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}"
    return words if today is not None and day.year == today.year else f"{words} {day.year}"


def minutes_words(minutes: float) -> str:
    """Minutes as they were said: "50 min", "12.5 min"."""
    return f"{minutes:.12g} min"


def count_words(count: int, one: str, many: str = "") -> str:
    """As in "1 model" or "3 models"."""
    return f"{count} {one if count == 1 else many or one + 's'}"
