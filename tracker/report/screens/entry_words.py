"""The entry line in words: what was understood, before it is stored."""

from __future__ import annotations

import re
from datetime import date
from typing import Protocol

from tracker.domain.problems import Problem
from tracker.report.screens.chrome import problem_line
from tracker.report.screens.line import Look

_NO_MINUTES = re.compile(r"[\s,;]+min\s*$")
_MINUTES = re.compile(r"\d\s*min\s*$")


def usual_entry(step: str, models: int, unit: str) -> str:
    """The line that is offered, its minutes still to be typed: "shade 5 Spears,  min"."""
    return f"{step} {models} {unit},  min"


def tidy_entry(text: str) -> str:
    """What was typed, without the place for minutes that nobody filled."""
    return text.strip() if _MINUTES.search(text) else _NO_MINUTES.sub("", text).strip(" ,;")


class HeardLike(Protocol):
    """An evening as the workbench understood it."""

    @property
    def problem(self) -> Problem | None:
        """What must be mended before it can be stored."""

    def words(self) -> str:
        """What would be stored."""


def heard_words(heard: HeardLike) -> tuple[str, Look]:
    """What would be stored, or what is not clear yet."""
    known = heard.words()
    if heard.problem is None:
        return known, "text"
    mend = problem_line((heard.problem,))
    return (f"{known}; {mend}" if known else mend), "quiet"


def with_minutes(text: str, minutes: int, day: date, today: date) -> str:
    """A line with its minutes filled in, and its day when that is not today."""
    line = f"{tidy_entry(text)}, {minutes} min" if tidy_entry(text) else f"{minutes} min"
    line = text if _MINUTES.search(text) else line
    return line if day == today else f"{line} {day.isoformat()}"


ASK_MINUTES = "How many minutes do you have? Nothing shows the whole page again"
_TIME = re.compile(r"(?:(?P<hours>\d+(?:\.\d+)?)\s*h\w*)?\s*(?:(?P<minutes>\d+(?:\.\d+)?)\s*(?:m\w*)?)?")


def read_minutes(text: str) -> float | None:
    """Minutes from "45", "1 h" or "1 h 20"; 0 when it is no time, None when nothing is said."""
    said = _TIME.fullmatch(text.strip().casefold().replace(",", "."))
    if not text.strip():
        return None
    if not said:
        return 0.0
    return 60 * float(said["hours"] or 0) + float(said["minutes"] or 0)
