"""Answers in words, for a tired person at eleven in the evening: short, plain, kind."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date, timedelta
from itertools import zip_longest

from tracker.domain.answers import (
    BacklogAnswer,
    BacklogDay,
    Dates,
    EstimateAnswer,
    ForecastAnswer,
    Outlook,
    PaceAnswer,
)
from tracker.report.backlog_words import change_words, flow_lines, left_sentence
from tracker.report.charts import DateRange, course, range_bars
from tracker.report.little_history import TOO_EARLY_NOTE, ahead_words, may_name_a_day
from tracker.report.pace_words import guesses_lines
from tracker.report.plain import (
    COLUMNS,
    FAR_OFF,
    Column,
    at_level,
    chance_words,
    clip,
    date_words,
    doubt_lines,
    left_words,
    minutes_words,
    per_model_words,
    table,
    wrapped,
)

NOTHING_PLANNED = 'Nothing planned yet. Put a unit on the desk: lastcoat add --unit "Spears" --models 20'
_RANGE_NOTE = "From .. to holds 8 times in 10; as likely before as after the middle."


def forecast_text(answer: ForecastAnswer, width: int = COLUMNS, *, plain: bool = False) -> str:
    """When every unit and army is table-ready: a table, its picture, the goals, the doubts."""
    if not answer.units:
        return "\n".join([NOTHING_PLANNED, *doubt_lines(answer.doubts, width)])
    open_units = [unit for unit in answer.units if unit.models_ready < unit.models]
    out = [f"Table-ready, as of {date_words(answer.as_of)}", ""]
    if open_units:
        has_middle = may_name_a_day(answer)
        rows = [*open_units, *_open_armies(answer)]
        out += [
            *(_forecast_table(rows, width) if has_middle else _early_table(rows, answer.as_of, width)),
            "",
        ]
        bars = date_ranges(open_units, has_middle=has_middle)
        out += [*range_bars(bars, answer.as_of, width, plain=plain), ""]
        out += wrapped(_RANGE_NOTE if has_middle else TOO_EARLY_NOTE, width)
    out += _far_off_note(open_units, width)
    out += [line for unit in open_units for line in _goal_lines(unit, width)]
    out += _ready_lines(answer, width)
    return "\n".join([*out, *doubt_lines(answer.doubts, width)])


def _open_armies(answer: ForecastAnswer) -> list[Outlook]:
    """Armies with work in more than one unit: for the others the unit's row says it all."""
    open_units = Counter(unit.army for unit in answer.units if unit.models_ready < unit.models)
    return [army for army in answer.armies if open_units[army.army] > 1]


def _forecast_table(outlooks: Sequence[Outlook], width: int) -> list[str]:
    columns = (
        Column("Unit", gives=True),
        Column("Ready", right=True),
        Column("Work left", right=True),
        Column("From", right=True),
        Column("Middle", right=True),
        Column("To", right=True),
    )
    rows = [
        (*_first_cells(outlook), *(date_words(at_level(outlook.ready, level)) for level in (10, 50, 90)))
        for outlook in outlooks
    ]
    return table(columns, rows, width)


def _early_table(outlooks: Sequence[Outlook], today: date, width: int) -> list[str]:
    """The same while too little is known for a single date: each range in words."""
    columns = (
        Column("Unit", gives=True),
        Column("Ready", right=True),
        Column("Work left", right=True),
        Column("Table-ready"),
    )
    rows = [
        (*_first_cells(one), ahead_words(at_level(one.ready, 10), at_level(one.ready, 90), today))
        for one in outlooks
    ]
    return table(columns, rows, width)


def _first_cells(outlook: Outlook) -> tuple[str, str, str]:
    name = outlook.unit or f"All of {outlook.army}"
    return name, f"{outlook.models_ready} of {outlook.models}", left_words(outlook)


def date_ranges(outlooks: Sequence[Outlook], *, has_middle: bool = True) -> list[DateRange]:
    """The outlooks as bars of a chart; the dot in the middle only where a single date may be told."""
    bars = [DateRange(one.unit or one.army, _five(one.ready), one.goal_date) for one in outlooks]
    return bars if has_middle else [bar._replace(days=(*bar.days[:2], None, *bar.days[3:])) for bar in bars]


def _five(ready: Dates) -> tuple[date | None, date | None, date | None, date | None, date | None]:
    return (
        at_level(ready, 10),
        at_level(ready, 25),
        at_level(ready, 50),
        at_level(ready, 75),
        at_level(ready, 90),
    )


def _far_off_note(outlooks: Sequence[Outlook], width: int) -> list[str]:
    if any(at_level(outlook.ready, 90) is None for outlook in outlooks):
        return wrapped(f'"{FAR_OFF}" lies further ahead than the forecast looks.', width)
    return []


def _goal_lines(outlook: Outlook, width: int) -> list[str]:
    if outlook.goal_date is None or outlook.chance_by_goal is None:
        return []
    name, day = clip(outlook.unit, 40), date_words(outlook.goal_date)
    return wrapped(f"Goal: {name} by {day}: {chance_words(outlook.chance_by_goal)}.", width, more="      ")


def _ready_lines(answer: ForecastAnswer, width: int) -> list[str]:
    ready = [clip(unit.unit, 30) for unit in answer.units if unit.models and unit.models_ready >= unit.models]
    return wrapped("Table-ready already: " + ", ".join(ready) + ".", width, more="  ") if ready else []


def pace_text(answer: PaceAnswer, width: int = COLUMNS) -> str:
    """The learned minutes of every step, with their ranges."""
    if not answer.steps:
        return "\n".join(["No step is known yet.", *doubt_lines(answer.doubts, width)])
    columns = (
        Column("Step", gives=True),
        Column("From", right=True),
        Column("Middle", right=True),
        Column("To", right=True),
        Column("Lines", right=True),
        Column("Learned from"),
    )
    rows = [
        (
            step.step,
            *(per_model_words(at_level(step.minutes_per_model, level)) for level in (10, 50, 90)),
            f"{step.lines:,}",
            step.source,
        )
        for step in answer.steps
    ]
    out = [f"Your pace in minutes per model, as of {date_words(answer.as_of)}", ""]
    out += [*table(columns, rows, width), "", *wrapped(_RANGE_NOTE.replace(";", " for one line;"), width)]
    out += guesses_lines(answer.guesses, width)
    return "\n".join([*out, *doubt_lines(answer.doubts, width)])


def estimate_text(answer: EstimateAnswer, width: int = COLUMNS) -> str:
    """Minutes of planned lines and of all of them together."""
    columns: tuple[Column, ...] = (
        Column("Unit", gives=True),
        Column("Step", gives=True),
        Column("Models", right=True),
        Column("From", right=True),
        Column("Middle", right=True),
        Column("To", right=True),
    )
    rows = [[line.unit, line.step, f"{line.models:,}", *_three(line.minutes)] for line in answer.lines]
    if len(rows) != 1:
        rows.append(["All together", "", "", *_three(answer.total)])
    if any(line.guess_minutes for line in answer.lines):
        columns = (*columns, Column("Your guess", right=True))
        rows = [[*row, guess] for row, guess in zip_longest(rows, _guesses(answer), fillvalue="")]
    out = [*table(columns, rows, width), "", *wrapped(_RANGE_NOTE, width)]
    return "\n".join([*out, *doubt_lines(answer.doubts, width)])


def _guesses(answer: EstimateAnswer) -> list[str]:
    return [minutes_words(line.guess_minutes) if line.guess_minutes else "" for line in answer.lines]


def _three(minutes: Sequence[float]) -> tuple[str, str, str]:
    low, middle, high = (minutes_words(at_level(minutes, level)) for level in (10, 50, 90))
    return low, middle, high


def backlog_text(answer: BacklogAnswer, width: int = COLUMNS, *, plain: bool = False) -> str:
    """Where the backlog stands, how it got there, and when it ends."""
    if not answer.days:
        return "\n".join([NOTHING_PLANNED, *doubt_lines(answer.doubts, width)])
    out = [f"Backlog, as of {date_words(answer.as_of)}", ""]
    out += wrapped(left_sentence(answer), width)
    flows = flow_lines(answer, width)
    out += ["", *flows] if flows else wrapped(_year_words(answer), width)
    out += ["", "Hours left"]
    out += course([(day.date, day.minutes / 60) for day in answer.days], answer.as_of, width, plain=plain)
    out += ["", *wrapped(end_words(answer), width), *wrapped(change_words(answer), width)]
    return "\n".join([*out, *doubt_lines(answer.doubts, width)])


def moved_since(answer: BacklogAnswer, first: date) -> BacklogDay:
    """What moved from a day on, summed, with the backlog as it stands."""
    days = [day for day in answer.days if day.date >= first]
    return answer.days[-1]._replace(
        added=sum(day.added for day in days),
        finished=sum(day.finished for day in days),
        taken_away=sum(day.taken_away for day in days),
    )


def _year_words(answer: BacklogAnswer) -> str:
    moved = moved_since(answer, answer.as_of - timedelta(days=364))
    words = f"In the last year {moved.added:,} came in and {moved.finished:,} were finished"
    return words + (f", {moved.taken_away:,} went elsewhere." if moved.taken_away else ".")


def end_words(answer: BacklogAnswer) -> str:
    """When the backlog is empty, or why nobody can say."""
    if answer.days and answer.days[-1].models == 0:
        return "Nothing left to do: everything on the desk is table-ready."
    if answer.end is None:
        reason = answer.reason or "No end is in sight yet."
        return reason[:1].upper() + reason[1:] + ("" if reason.endswith((".", "!", "?")) else ".")
    low, middle, high = (at_level(answer.end, level) for level in (10, 50, 90))
    if low is None:
        return "Hardly empty within the time the forecast sees."
    if not may_name_a_day(answer):
        said = ahead_words(low, high, answer.as_of)
        return f"Until it is empty: {said}; no single date can be told from so few evenings."
    if middle is None:
        return f"Hardly empty before {date_words(low)}; it may well take longer than the forecast sees."
    words = f"Hardly empty before {date_words(low)}; as likely before as after {date_words(middle)}; "
    return words + (f"9 in 10 by {date_words(high)}." if high else "the late end lies beyond what it sees.")
