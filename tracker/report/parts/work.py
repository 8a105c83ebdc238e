"""The page's work: what every unit still needs, the backlog's course, the evenings."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from tracker.domain.answers import BacklogAnswer
from tracker.domain.steps_left import StepMinutes, StepsLeftAnswer
from tracker.report.drawings.course import backlog_figure
from tracker.report.drawings.evenings import evenings_figure
from tracker.report.drawings.steps import steps_figure
from tracker.report.parts.part import Part, Row, shown
from tracker.report.plain import at_level, date_words, minutes_words, month_words, span_words
from tracker.report.sitting import Sitting
from tracker.report.words import end_words

_CELLS = (
    "A square fills up as models get the step behind them; the number is how many still need it. The times"
    " in the table hold 8 times in 10, each for itself."
)
_SQUARES = (
    "The last year (on a phone the last half year): a column is a week, Monday on top. The larger the"
    " square, the longer the evening: up to half an hour, an hour, two, more. A ring is an evening whose"
    " length was not noted."
)

_PLANNED_MOST = 20


def steps_part(answer: StepsLeftAnswer) -> Part | None:
    """Units by steps with models and hours left; nothing where nothing is left."""
    units = [unit for unit in answer.units if unit.models_ready < unit.models]
    if not units:
        return None
    rows = [
        Row([shown(f"{unit.unit}: {step.step}"), f"{step.models:,} of {unit.models:,}", _span(step)])
        for unit in units
        for step in unit.steps
        if step.models
    ]
    heads = ("Unit and step", "Models to go", "Work left")
    return Part("steps", "Units and their steps", [_CELLS], steps_figure(units), heads, rows, folded=True)


def _span(step: StepMinutes) -> str:
    if step.minutes is None:
        return ""
    return span_words(at_level(step.minutes, 10), at_level(step.minutes, 90))


def backlog_part(answer: BacklogAnswer) -> Part:
    """The backlog's course and its end."""
    title = "The backlog's course"
    if not answer.days:
        return Part("backlog", title, ["There is no backlog yet."])
    months: dict[str, list[str]] = {}
    moved: dict[str, list[int]] = {}
    for day in answer.days:
        month = month_words(day.date)
        sums = moved.setdefault(month, [0, 0, 0])
        for i, count in enumerate((day.added, day.finished, day.taken_away)):
            sums[i] += count
        months[month] = [
            month,
            f"{day.models:,}",
            minutes_words(day.minutes),
            *(f"{count:,}" for count in sums),
        ]
    return Part(
        "backlog",
        title,
        [
            _sentence(end_words(answer)),
            "A triangle up: models came in. A triangle down: they went elsewhere.",
        ],
        backlog_figure(answer),
        ("Month", "Models to go", "Work left", "Came in", "Finished", "Went elsewhere"),
        [Row(cells) for cells in months.values()],
        folded=True,
    )


def _sentence(words: str) -> str:
    """Begun with a capital and closed with a full stop."""
    return f"{words[:1].upper()}{words[1:].rstrip('.')}."


def evenings_part(sittings: Sequence[Sitting], as_of: date, planned: Sequence[date] = ()) -> Part:
    """The calendar of evenings."""
    title = "Evenings at the desk"
    if not sittings and not planned:
        return Part("evenings", title, ["No evening is logged yet."])
    months: dict[str, list[float]] = {}
    for sitting in sorted(sittings, key=lambda one: one.date):
        months.setdefault(month_words(sitting.date), []).append(sitting.minutes or 0.0)
    notes = [_SQUARES]
    if planned:
        days = ", ".join(map(date_words, planned[:_PLANNED_MOST]))
        more = " and more" if len(planned) > _PLANNED_MOST else ""
        notes.append(f"A bold ring is an evening that is planned: {days}{more}.")
    return Part(
        "evenings",
        title,
        notes,
        evenings_figure(sittings, as_of, planned),
        ("Month", "Evenings", "Time at the desk"),
        [Row([month, f"{len(all_):,}", minutes_words(sum(all_))]) for month, all_ in months.items()],
        folded=True,
    )
