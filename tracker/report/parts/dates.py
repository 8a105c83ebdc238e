"""The page's dates: the coming months, every unit's range, the goals."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.answers import ForecastAnswer, Outlook
from tracker.report.drawings.dates import fan_figure, goals_figure, ready_figure
from tracker.report.fan import FAN_NOTE, at_day, models_left, month_ends
from tracker.report.goal_rows import GoalRow
from tracker.report.little_history import may_name_a_day
from tracker.report.parts.part import RANGES, RANGES_WITHOUT_MIDDLE, Part, Row, shown
from tracker.report.plain import at_level, chance_words, count_words, date_words, left_words


def fan_part(answer: ForecastAnswer) -> Part | None:
    """How the models that are still to do get fewer; nothing where nothing is left or little is known."""
    points = models_left(answer.units, answer.as_of)
    if not points or not may_name_a_day(answer):
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
    levels = (10, 50, 90) if may_name_a_day(answer) else (10, 90)
    rows = [Row(_ready_cells(unit, levels)) for unit in open_units]
    rows += [Row(_ready_cells(army, levels), whole=True) for army in _open_armies(answer)]
    ranges = RANGES if may_name_a_day(answer) else RANGES_WITHOUT_MIDDLE
    return Part(
        "ready",
        title,
        [ranges + " A diamond is a goal; the dotted line is today.", *_done_words(answer.units)],
        ready_figure(open_units, answer.as_of, has_middle=may_name_a_day(answer)),
        ("Unit", "Ready", "Work left", "From", *["Middle"][: len(levels) - 2], "To"),
        rows,
    )


def lead_words(answer: ForecastAnswer) -> list[str]:
    """Each army in a sentence: what is ready, what is left of it and when."""
    out = []
    for army in answer.armies:
        models = count_words(army.models, "model")
        said = f"{shown(army.army, 60)}: {army.models_ready:,} of {models} table-ready"
        if army.models_ready < army.models:
            said += f"; {left_words(army)} of work to go, {_when(army, has_middle=may_name_a_day(answer))}"
        out.append(f"{said}.")
    return out


def _when(army: Outlook, *, has_middle: bool) -> str:
    low, middle, high = (at_level(army.ready, level) for level in (10, 50, 90))
    if low is None:
        return "done later than the forecast looks"
    if has_middle and middle is not None:
        return f"as likely done before {date_words(middle)} as after"
    if high is None:
        return f"hardly done before {date_words(low)}"
    return f"8 times in 10 done between {date_words(low)} and {date_words(high)}"


def _open_armies(answer: ForecastAnswer) -> list[Outlook]:
    return [army for army in answer.armies if army.models_ready < army.models]


def _ready_cells(outlook: Outlook, levels: Sequence[int]) -> list[str]:
    name = outlook.unit or f"All of {outlook.army}"
    count = f"{outlook.models_ready:,} of {outlook.models:,}"
    dates = [date_words(at_level(outlook.ready, level)) for level in levels]
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
    note = "In how many of 100 simulated futures all of it is table-ready by that day."
    return Part(
        "goals", "Goals and their chances", [note], goals_figure(goals) if known else None,
        ("Goal", "By", "What is to be ready", "Chance"), rows, word_columns=(2,), folded=known,
    )  # fmt: skip
