"""The goals as a page: each can be chosen; and how a goal is said in one line."""

from __future__ import annotations

import re
from datetime import date
from typing import NamedTuple

from tracker.domain.answers_goals import CutsAnswer, GoalsAnswer
from tracker.domain.problems import Problem
from tracker.report.goal_words import NO_GOAL, cuts_text, goal_sentences
from tracker.report.little_history import may_name_a_day
from tracker.report.plain import wrapped
from tracker.report.screens.chrome import NOT_YET_READ
from tracker.report.screens.line import BLANK, PageLine, doubted, sentences

ASK_GOAL = 'Which goal? "2027-03-13 Spring game: Spears, Riders", or ": 40 models", or ": 1000 points"'
WORKING_OUT = "Looking for the least cut …"
_MEND = 'Write it like "2027-03-13 Spring game: Spears, Riders"'
_SAID = re.compile(r"\s*(?P<day>\d{4}-\d\d-\d\d)\s+(?P<name>[^:]*[^:\s])\s*(?::\s*(?P<what>.*))?", re.DOTALL)
_AMOUNT = re.compile(r"(?P<count>\d{1,7}(?:\.\d+)?)\s*(?P<what>models?|points?)", re.IGNORECASE)


class SaidGoal(NamedTuple):
    """A goal as it was typed."""

    name: str
    day: date
    units: tuple[str, ...] = ()
    models: int | None = None
    points: float | None = None


def read_goal_line(text: str) -> SaidGoal | Problem:
    """A day, a name, and behind a colon units, a number of models or of points; nothing = every unit."""
    said = _SAID.fullmatch(text)
    if said is None:
        return Problem("the goal", "its day and its name are needed", _MEND)
    try:
        day = date.fromisoformat(said["day"])
    except ValueError:
        return Problem("the goal", f"{said['day']} does not exist", _MEND)
    what = (said["what"] or "").strip()
    amount = _AMOUNT.fullmatch(what)
    if amount is None:
        units = tuple(name.strip() for name in what.split(",") if name.strip())
        return SaidGoal(said["name"], day, units)
    count = float(amount["count"])
    if amount["what"].lower().startswith("point"):
        return SaidGoal(said["name"], day, points=count)
    if not count.is_integer():
        return Problem("the goal", f"{amount['count']} models cannot be", _MEND)
    return SaidGoal(said["name"], day, models=int(count))


def goals_lines(answer: GoalsAnswer | None, cuts: CutsAnswer | None, width: int) -> list[PageLine]:
    """Every goal, how it stands; below it the least cut once that was asked for."""
    if answer is None:
        return [PageLine(NOT_YET_READ, "quiet")]
    if not answer.goals:
        return sentences(NO_GOAL.partition(" Set one")[0] + " n sets one.", width, "quiet")
    out: list[PageLine] = []
    named = may_name_a_day(answer)
    for standing in answer.goals:
        first, *more = goal_sentences(standing, answer.as_of, may_name=named)
        head, *rest = wrapped(first, width)
        out.append(PageLine(head, "row", standing.goal.name))
        out += [PageLine(f"  {line}") for line in rest]
        out += [PageLine(line) for words in more for line in wrapped(words, width, start="  ", more="  ")]
    if cuts is not None:
        out += [BLANK, *(PageLine(line) for line in cuts_text(cuts, width).split("\n"))]
    return [*out, BLANK, *doubted(answer.doubts, width)]
