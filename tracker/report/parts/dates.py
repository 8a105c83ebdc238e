"""The page's dates: the coming months, every unit's range, the goals."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.answers import ForecastAnswer, Outlook
from tracker.report.drawings.dates import fan_figure, goals_figure, ready_figure
from tracker.report.fan import FAN_NOTE, at_day, models_left, month_ends
from tracker.report.goal_rows import GoalRow
from tracker.report.parts.part import RANGES, Part, Row, shown
from tracker.report.plain import at_level, chance_words, date_words, left_words


def fan_part(answer: ForecastAnswer) -> Part | None:
    """How the models that are still to do get fewer; nothing where nothing is left."""
    points = models_left(answer.units, answer.as_of)
    if not points:
        return None
    rows = []
    for day in [answer.as_of, *month_ends(points)]:
        at = at_day(points, day)
        rows.append(Row([date_words(day), *(f"{count:,.0f}" for count in (at.quick, at.middle, at.slow))]))
    note = FAN_NOTE.replace("Band:", "The line is the middle; the band reaches")
    heads = ("By", "All quick", "Middle", "All slow")
    return Part("fan", "The coming months", [note], fan_figure(points), heads, rows, folded=True)


def ready_part(answer: ForecastAnswer) -> Part:
    """Every unit's and army's range of ready dates."""
    title = "When things are table-ready"
    open_units = [unit for unit in answer.units if unit.models_ready < unit.models]
    if not answer.units:
        return Part("ready", title, ["Nothing is planned yet."])
    if not open_units:
        return Part("ready", title, ["Everything on the desk is table-ready."])
    rows = [Row(_ready_cells(unit)) for unit in open_units]
    rows += [Row(_ready_cells(army), whole=True) for army in answer.armies if army.models_ready < army.models]
    return Part(
        "ready",
        title,
        [RANGES + " A diamond is a goal; the dotted line is today.", *_done_words(answer.units)],
        ready_figure(open_units, answer.as_of),
        ("Unit", "Ready", "Work left", "From", "Middle", "To"),
        rows,
    )


def _ready_cells(outlook: Outlook) -> list[str]:
    name = outlook.unit or f"All of {outlook.army}"
    count = f"{outlook.models_ready:,} of {outlook.models:,}"
    dates = [date_words(at_level(outlook.ready, level)) for level in (10, 50, 90)]
    return [shown(name), count, left_words(outlook), *dates]


def _done_words(outlooks: Sequence[Outlook]) -> list[str]:
    done = [shown(unit.unit, 40) for unit in outlooks if unit.models and unit.models_ready >= unit.models]
    return [f"Table-ready already: {', '.join(done)}."] if done else []


def goals_part(goals: Sequence[GoalRow]) -> Part | None:
    """Every goal with its chance; nothing where there is no goal."""
    if not goals:
        return None
    known = any(goal.chance is not None for goal in goals)
    rows = [
        Row([shown(goal.name), date_words(goal.date), shown(goal.what),
             "" if goal.chance is None else chance_words(goal.chance)])
        for goal in goals
    ]  # fmt: skip
    note = "The chance counts the futures in which all of it is table-ready on the day or before."
    return Part(
        "goals", "Goals and their chances", [note], goals_figure(goals) if known else None,
        ("Goal", "By", "What is to be ready", "Chance"), rows, word_columns=(2,), folded=known,
    )  # fmt: skip
